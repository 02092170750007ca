package dry

// Need is what has to be measured before a dried product may count as keeping without cold.
// A loss of weight is none of them.
type Need uint8

// The needs.
const (
	Activity    Need = iota // water activity, with a meter; at most
	Acidity                 // pH, with a calibrated meter; at most
	PerProtein              // moisture:protein ratio, of an analysis; at most
	DegreeHours             // until pH 5.3, under the limit that package ferment has
	SaltShare               // salt, of the mix; at least
	NitriteIn               // nitrite or nitrate added, as a share of the mix; at least
)

// Condition is one need and its figure, in the terms of the need; DegreeHours have theirs in
// package ferment.
type Condition struct {
	Need   Need
	Figure Ratio
	Source string
	Seen   string // "text", "secondary", "memory, sure", "memory, fairly sure"
}

// Kind is what a dried product is, as far as keeping goes.
type Kind uint8

// The kinds.
const (
	Whole   Kind = iota // whole muscle, dried
	Dry                 // ground and fermented, dry
	SemiDry             // ground and fermented, semi-dry
)

// Demands are the sets of conditions by which a region, "us" or "ca", lets a kind count as
// keeping without cold: all of one set, whichever it is. Where it has none, or is another
// region, there are none, and the product is kept cold. A set is what has to be shown to
// whoever approves; it is no licence, and no weight takes a condition away.
//
// Source: each condition has its own.
func Demands(k Kind, region string) (sets [][]Condition) {
	const (
		fairly = "memory, fairly sure"
		cfr    = "9 CFR 317.17(c)"
		ami    = "AMI good manufacturing practices 1997"
		ratios = "text on dried meats and their ratios, a copy"
		cfia   = "CFIA Meat Hygiene Manual of Procedures ch. 4"
	)
	hours := Condition{DegreeHours, 0, ami, "secondary"}
	switch {
	case region == "us" && k == Whole:
		return [][]Condition{{{Activity, 0.92, cfr, fairly}}, {{Acidity, 4.6, cfr, fairly}}}
	case region == "us" && k == Dry:
		return [][]Condition{
			{hours, {Activity, 0.92, cfr, fairly}}, {hours, {Acidity, 4.6, cfr, fairly}},
			{hours, {Acidity, 5.3, ami, "secondary"}, {PerProtein, 1.9, ratios, "secondary"}},
		}
	case region == "us":
		return [][]Condition{
			{hours, {Activity, 0.92, cfr, fairly}}, {hours, {Acidity, 4.6, cfr, fairly}},
			{hours, {Acidity, 5.0, ratios, "secondary"}, {PerProtein, 3.1, ratios, "secondary"}},
		}
	case region == "ca" && k != Whole:
		base := []Condition{{DegreeHours, 0, cfia, "secondary"}, {SaltShare, 0.025, cfia, "secondary"}, {NitriteIn, 100e-6, cfia, "secondary"}}
		with := func(more ...Condition) []Condition { return append(append([]Condition(nil), base...), more...) }
		return [][]Condition{
			with(Condition{Acidity, 4.6, cfia, fairly}),
			with(Condition{Activity, 0.85, cfia, fairly}),
			with(Condition{Acidity, 5.3, cfia, fairly}, Condition{Activity, 0.90, cfia, fairly}),
		}
	}
	return nil
}
