package cure

import "time"

// Region names the rule set that applies: "us", "eu", …; see Regions.
type Region string

// Method is how the cure gets into the meat.
type Method uint8

// The methods.
const (
	NoMethod       Method = iota
	DryRub                // weighed rub, in a bag or on a tray
	CoverBrine            // meat under a brine of weighed water
	Injection             // pickle pumped into the meat
	InjectionCover        // pickle pumped in, and the same pickle as cover
	Ground                // mixed into ground meat
	SaltBox               // buried in an excess of salt; the cure is rubbed on by weight first
	Confit                // salted for taste, then cooked in fat
)

// Request is a dose as it is asked for. What nobody said is left unset; Compute fills it
// from the cut and from the rules, and leaves the origin beside each value.
type Request struct {
	Region      Given[Region]
	On          time.Time // the day whose law applies
	Cut         string    // Cut.Name
	Pieces      []Gram    // green weight of each piece, as it lies on the scale
	Method      Given[Method]
	Days        Given[time.Duration] // time in the cure, elapsed
	Agent       Given[Agent]         // strength 0 with kind No1, No2, NitritedSalt: the region's usual mix
	Strength    Origin               // where Agent's strength came from, filled in by Compute where it was not said
	Nitrite     Given[PPM]           // target, NaNO2 on the basis of the method
	Nitrate     Given[PPM]           // target of a nitrate alone (PureNitrate, Saltpetre), as NaNO3 on the basis of the method; there is no usual one
	Rate        Given[Fraction]      // cure by weight of the basis of the method, 0.0025 for "2.5 g a kg"; instead of Nitrite or Nitrate
	Salt        Given[Fraction]      // target, all NaCl on the salt basis of the method; salt box: of the meat when it comes out
	SaltOnTop   bool                 // Salt is weighed on top of what the cure brings
	Sugar       Given[Fraction]      // of the salt basis
	Ascorbate   Given[PPM]           // sodium ascorbate or erythorbate on the basis of the method
	Thickness   Given[Millimetre]    // at the thickest point, full thickness
	Sides       [2]Millimetre        // of a piece cut square, beside its Thickness, which is the least; zero: not said. Only a salt box is reckoned by them
	Thicknesses []Millimetre         // of each of the Pieces, in their order, where they differ; the thickest leads and is Thickness
	SkinOn      Given[bool]
	Heated      Given[bool]     // cooked or hot smoked afterwards
	Temperature Given[Celsius]  // while it cures
	Water       Given[Gram]     // cover brine: weight of the water
	Pump        Given[Fraction] // injection: pickle pumped, of the green weight
	Cover       Given[Gram]     // injection + cover: weight of the cover pickle
	CureScale   Given[Gram]     // division of the scale that weighs the cure
}
