package cure

// Gram is a mass in grams.
type Gram float64

// PPM is a mass ratio in milligrams per kilogram. On its own it says neither of what
// nor on which basis: the field that holds it does.
type PPM float64

// Fraction is a ratio from 0 to 1; 2.5 % is 0.025. Per cent exists only where a number
// is typed or shown.
type Fraction float64

// Millimetre is a length in millimetres.
type Millimetre float64

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Origin says where a value in a Request came from, so that a card can name what was
// assumed.
type Origin uint8

// The origins, from "nobody said" to "the rules of the work say so".
const (
	Unset       Origin = iota // not known; the value is meaningless
	Asked                     // typed by the person who asks
	FromRecipe                // the kitchen's recipe
	FromJar                   // read off the jar of curing salt
	FromKitchen               // a setting of the kitchen
	FromCut                   // the cut's usual value (cuts.csv)
	FromRule                  // a rule of the trade or of the region
)

// Given is a value together with where it came from. The zero Given is "not said".
type Given[T any] struct {
	Value  T
	Origin Origin
}

// Typed is a value as the asker typed it.
func Typed[T any](v T) Given[T] { return Given[T]{v, Asked} }

// Set reports whether anybody or anything gave the value.
func (g Given[T]) Set() bool { return g.Origin != Unset }

// Or returns g where it is set, else v with origin o.
func (g Given[T]) Or(v T, o Origin) Given[T] {
	if g.Set() {
		return g
	}
	return Given[T]{v, o}
}
