package cure

import "time"

// Limit is one row of limits.csv: what the law of a region says of one agent.
type Limit struct {
	ID       string // "us-bacon-dry-nitrite"
	Region   Region
	Agent    string // "nitrite", "nitrate", "nitrite+nitrate" (in total), "ascorbate"
	Kind     string // "ingoing max", "ingoing min", "ingoing required", "residual max"
	Value    PPM
	Digits   int    // digits after the point that the law prints
	Basis    string // as the law puts it: "green meat less skin", "amount added", …
	As       string // "NaNO2", "NO2 ion", "NaNO3", "NO3 ion", "sodium salt", "weight of salts"
	Source   string
	Seen     string    // "text", "secondary", "memory, sure", "memory, fairly sure"
	Enforced bool      // passing it is a stop; otherwise it caps what the bot proposes, and passing it is a hold
	From     time.Time // first day in force; zero: long since
	Until    time.Time // last day in force; zero: no end known
}

// Cut is one row of cuts.csv: a piece of meat and its usual values.
type Cut struct {
	Name                string     // "pork belly": canonical
	Group               string     // "belly", "whole pork", "ham", "whole beef", "whole lamb", "whole game", "poultry", "fish", "ground", "game" (ground)
	Method              Method     // the usual one
	Shape               string     // "slab" or "cylinder": for the diffusion
	Thickness           Millimetre // usual, at the thickest point
	Heated              bool       // usually cooked or hot smoked afterwards
	Skin                bool       // usually left on: one face takes salt
	Bone                bool       // usually left in
	Water, Protein, Fat Fraction
	Table               string // where water, protein and fat are from: the row of composition.csv
	Source              string // where the other values are from
}

// Regions are the regions that there are rules for.
func Regions() []Region {
	return []Region{"us", "eu", "gb", "ca", "au-nz", "jp", "cn", "codex"}
}
