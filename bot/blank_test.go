package bot

import (
	"slices"
	"strings"
	"testing"
)

// A blank sheet has the kitchen's own jars, with grams for a kilogram, and none for a jar that
// nothing may be taken from. 156.25 ppm on a kilogram are 156.25 mg of nitrite: 2.5 g of 6.25 %,
// 3.125 g of 5 %, cut to 3.12; 2.5 % salt are 25 g, less 2.5 × 93.75 % or 3.125 × 95 % of salt in
// the cure: 22.656 and 22.031 (reckoned by hand).
func TestBlankSheetHasTheJars(t *testing.T) {
	k := openKitchen(t)
	for _, line := range []string{
		"jar A7 is no 1, 6.25% nitrite, dyed, lot 2291",
		"jar B2 is no 1, 6.25% nitrite, undyed, lot 77",
		"jar D4 is no 1, 6.25% nitrite, lot 3000",
		"jar D4 withdrawn: torn bag",
		"jar E1 is no 1",
		"jar H1 is house cure, 5% nitrite, undyed",
		"jar J2 is no 1, 6.25% nitrite, dyed, lot 9",
		"own mixes on",
		"jar P1 is sodium nitrite, 99% nitrite, lot 5",
	} {
		k.say("ana", line, "")
	}
	thread := k.say("mira", "3.2 kg belly, dry rub, 7 days, jar J2", "").Place.Thread
	k.say("ben", "approve", thread)
	k.say("ana", "start", thread)
	k.say("ana", "hold jar J2: recalled by the maker", "")
	k.say("ana", "recipe house bacon: pork belly, dry rub, 7 days, 2.5% salt, 1% sugar, no 1", "")
	k.say("ben", "approve recipe house bacon", "")
	k.say("mira", "blank sheet", "")
	papers := k.table.last().Papers
	if len(papers) != 1 || papers[0].Sheet == nil {
		t.Fatalf("no sheet: %+v", k.table.last())
	}
	find := func(heading string) SheetPart {
		i := slices.IndexFunc(papers[0].Sheet.Parts, func(p SheetPart) bool { return p.Heading == heading })
		if i < 0 {
			t.Fatalf("no part %q", heading)
		}
		return papers[0].Sheet.Parts[i]
	}
	jars := map[string][]string{}
	for _, row := range find("jars of this kitchen").Grid.Rows {
		jars[row[0]] = row
	}
	const no = "DO NOT USE"
	for _, c := range []struct{ jar, belly, mind string }{
		{"A7", "2.50 g curing salt + 22.65 g salt", ""},
		{"B2", "2.50 g curing salt + 22.65 g salt", "UNDYED"},
		{"H1", "3.12 g curing salt + 22.03 g salt", "UNDYED"},
		{"D4", no, "DO NOT USE: withdrawn: torn bag"},
		{"E1", no, "DO NOT USE: label not read"},
		{"J2", no, "DO NOT USE: HOLD: jar J2: recalled by the maker"},
		{"P1", no, "UNDILUTED"},
	} {
		row := jars[c.jar]
		if len(row) != 7 || row[3] != c.belly || !strings.Contains(row[6], c.mind) {
			t.Errorf("jar %s: %q, want %q and %q", c.jar, row, c.belly, c.mind)
		}
	}
	if got := find("recipes of this kitchen, approved versions").Grid.Rows; len(got) != 1 || got[0][3] != "2.50 g no. 1 cure (6.25 % sodium nitrite), 22.65 g salt, 10.00 g sugar" {
		t.Errorf("recipes %q", got)
	}
	for _, p := range papers[0].Sheet.Parts {
		for _, barred := range []string{"D4", "E1", "J2", "P1"} {
			if strings.HasPrefix(p.Heading, "grams for usual weights") && strings.Contains(p.Heading, barred) {
				t.Errorf("%q: nothing may be taken from %s", p.Heading, barred)
			}
		}
	}
	find("grams for usual weights: jar A7, B2")
}
