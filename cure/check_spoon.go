package cure

// Teaspoon is a number of level teaspoons, of about 4.93 ml.
type Teaspoon float64

// Tablespoon is three teaspoons.
const Tablespoon Teaspoon = 3

// SpoonSource says where the weights of Teaspoon.Cure are from.
const SpoonSource = "people's weighings of a level teaspoon of no. 1: 5.0, 5.6, 6.08, 6.67 and 7.1 g, secondary"

// What a level teaspoon of no. 1 weighs, g; SpoonSource. Likely: their mean, rounded.
const (
	lightSpoon  = 5.0
	likelySpoon = 6.0
	heavySpoon  = 7.1
)

// Cure is what so many spoons of a granular curing mix weigh, lightest to heaviest. It is a
// range for looking at what was done, and nothing to dose by. It doesn't hold for undiluted
// nitrite or nitrate.
func (t Teaspoon) Cure() Range[Gram] {
	return Range[Gram]{Gram(t * lightSpoon), Gram(t * likelySpoon), Gram(t * heavySpoon)}
}
