package grammar

import "testing"

// The kitchen's own names are found anywhere, letter for letter, and nothing else is.
func TestRecipeNames(t *testing.T) {
	set := Setting{Recipes: "house bacon\nhouse bacon smoked\nB\nBerry\nJamón de la casa\nChristmas ham"}
	for _, c := range []struct{ phrase, want string }{
		{"3.2 kg house bacon", "3.2 kg recipe house bacon"},
		{"house bacon 3.2 kg", "3.2 kg recipe house bacon"},
		{"3.2 kg of House  Bacon, 2% salt", "3.2 kg recipe house bacon, 2% salt"},
		{"3.2 kg house bacon v2", "3.2 kg recipe house bacon v2"},
		{"3.2 kg house bacon smoked", "3.2 kg recipe house bacon smoked"},
		{"3.2 kg recipe b", "3.2 kg recipe B"},
		{"3.2 kg berry", "3.2 kg recipe Berry"}, // and no misspelt belly
		{"4 kg jamon de la casa", "4 kg recipe Jamón de la casa"},
		{"4 kg christmas ham", "4 kg recipe Christmas ham"},
		{"4 kg ham, dry rub", "4 kg boneless ham, dry rub"},
		{"how much for 2 kg house bacon", "how much for 2 kg recipe house bacon"},
		{"3.2 kg loin, house bacon", "3.2 kg pork loin, recipe house bacon"},
		{"3.2 kg house bacon, house bacon smoked", "error: twice"},
		{"recipe jamon de la casa", "recipe Jamón de la casa"},
		{"recipe HOUSE BACON: loin, dry rub, 2% salt", "recipe house bacon: pork loin, dry rub, 2% salt"},
		{"approve recipe christmas ham", "approve recipe Christmas ham"},
		{"withdraw recipe b v2: too much", "withdraw recipe B v2: too much"},
		{"check 8 g no 1 on 3.2 kg house bacon", "error: unknown word"},
		{"house bacon came in today", "chatter"},
		{"3.2 kg b, dry rub", "error: unknown cut"}, // one letter is no name without the word
		{"3.2 kg hause bacon, dry rub", "error: unknown cut"},
		{"3.2 kg house baconn, dry rub", "error: unknown cut"},
	} {
		p, err := Parse(c.phrase, set)
		if got := meaning(p, err); got != c.want {
			t.Errorf("%q: %q, want %q (%v)", c.phrase, got, c.want, err)
		}
		if again, err2 := Parse(Canonical(p.Command), set); err == nil && p.Command != (Chatter{}) && meaning(again, err2) != c.want {
			t.Errorf("%q: read again as %q", c.phrase, meaning(again, err2))
		}
	}
}
