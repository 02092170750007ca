package dry

// Need is what has to be measured before a dried product may count as keeping without cold.
type Need uint8

// The needs. A loss of weight is none of them.
const (
	Activity    Need = iota // water activity, with a meter
	Acidity                 // pH, with a calibrated meter
	DegreeHours             // degree-hours until pH 5.3, under their limit
	PerProtein              // moisture:protein ratio, of an analysis
)

// Kind is what a dried product is, as far as keeping goes.
type Kind uint8

// The kinds.
const (
	Whole   Kind = iota // whole muscle, dried
	Dry                 // ground and fermented, dry
	SemiDry             // ground and fermented, semi-dry
)

// Condition is one need. Most is the figure it has to stay at or under, in the terms of the
// need; DegreeHours have theirs in package ferment.
type Condition struct {
	Need   Need
	Most   Ratio // 0: none here
	Source string
	Seen   string // "text", "secondary", "memory, sure", "memory, fairly sure"
}

// Conditions are what has to be measured of a kind. They are not a licence: which of them
// count is for the site's plan and the authority. Weight loss never takes one away.
func Conditions(k Kind) []Condition {
	const fairly = "memory, fairly sure"
	activity := Condition{Activity, 0.92, "9 CFR 317.17(c): water activity at or below 0.92", fairly}
	hours := Condition{DegreeHours, 0, "AMI good manufacturing practices 1997", "secondary"}
	switch k {
	case Dry:
		return []Condition{activity, {Acidity, 5.3, "AMI good manufacturing practices 1997", "secondary"}, hours,
			{PerProtein, 1.9, "text on dried meats and their ratios, a copy", "secondary"}}
	case SemiDry:
		return []Condition{activity, {Acidity, 5.0, "text on dried meats and their ratios, a copy", "secondary"}, hours,
			{PerProtein, 3.1, "text on dried meats and their ratios, a copy", "secondary"}}
	}
	return []Condition{activity}
}
