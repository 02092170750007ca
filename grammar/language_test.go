package grammar

import (
	"slices"
	"testing"
)

// Every canonical cut, method, step and verb can be said in every language.
func TestWordLists(t *testing.T) {
	groups := func(l wordList) map[string][]said {
		return map[string][]said{"cut": l.cuts, "method": l.methods, "step": l.steps, "verb": l.verbs}
	}
	// Settings of a kitchen and readings of an instrument are typed in English.
	englishOnly := setOf("chef", "weighing", "own approval", "own mixes", "cure scale", "zone", "dry", "ferment", "cook log", "cold log", "cooling", "freeze", "aw", "date order")
	for _, l := range wordLists()[1:] {
		own := groups(l)
		for what, all := range groups(english) {
			for _, s := range all {
				has := slices.ContainsFunc(own[what], func(o said) bool { return o.value == s.value && len(o.ways) > 0 })
				if !has && !englishOnly[s.value] && !(l.language == "fr" && s.value == "pork butt") { // the French cut no butt apart
					t.Errorf("%s has no word for the %s %q", l.language, what, s.value)
				}
			}
		}
	}
}

// A word that two languages use for two things is known here, with the reason why the first
// stands.
func TestAmbiguousWords(t *testing.T) {
	known := map[string]string{}
	for _, w := range ambiguous {
		if known[w] == "" {
			t.Errorf("%q means two things: ask about it, or name the reason here", w)
		}
	}
}

func TestLanguage(t *testing.T) {
	for text, want := range map[string]string{
		"3.2 kg belly, dry rub, 7 days":      "en",
		"3,2 kg panceta, en seco, 7 días":    "es",
		"3,2 kg de poitrine, à sec, 7 jours": "fr",
		"voltear":                            "es",
		"retourné":                           "fr",
		"puse 1 cda de sal de cura en vez de 1 cdta, 6 lb, ¿sirve?":        "es",
		"doublé la dose de sel de cura n°1 sur 20 lb, déjà cuit, on sert?": "fr",
		"did 6lb of sausage last nite used 1 TBSP cure #1 not tsp":         "en",
		"120 ppm": "",
	} {
		p, _ := Parse(text, Setting{}) // whatever it means
		if p.Language != want {
			t.Errorf("%q is in %q, want %q", text, p.Language, want)
		}
	}
}
