package dry

import "salthand/cure"

// Meat is what a piece is made of when it is hung. Water and Protein are shares of the raw
// meat, Salt is what was taken up, by weight of the raw meat; what is hung weighs 1 + Salt.
// Losses are shares of what is hung, and all of a loss is water.
type Meat struct{ Water, Protein, Salt cure.Fraction }

func (m Meat) check(loss cure.Fraction) error {
	switch {
	case !(m.Water > 0 && m.Water < 1), !(m.Protein > 0 && m.Protein < 1), m.Water+m.Protein > 1:
		return ErrRange
	case !(m.Salt >= 0 && m.Salt < 0.5), !(loss >= 0 && loss < m.Water/(1+m.Salt)):
		return ErrRange
	}
	return nil
}

// Moisture is the water in a piece at a loss, as a share of its weight then. The error is
// ErrRange for shares that can't be, and for a loss of all the water or more.
func (m Meat) Moisture(loss cure.Fraction) (cure.Fraction, error) {
	if err := m.check(loss); err != nil {
		return 0, err
	}
	return (m.Water/(1+m.Salt) - loss) / (1 - loss), nil
}

// Removed is the share of its water that a piece has lost. Errors as of Moisture.
func (m Meat) Removed(loss cure.Fraction) (cure.Fraction, error) {
	if err := m.check(loss); err != nil {
		return 0, err
	}
	return loss * (1 + m.Salt) / m.Water, nil
}

// PerProtein is the moisture:protein ratio at a loss. It is a measure of identity, for
// labels: water activity is what keeps. Compositions of a cut vary from piece to piece, and
// the ratio with them, by 15 % or more. Errors as of Moisture.
func (m Meat) PerProtein(loss cure.Fraction) (Ratio, error) {
	if err := m.check(loss); err != nil {
		return 0, err
	}
	return Ratio((m.Water - loss*(1+m.Salt)) / m.Protein), nil
}

// LossTo is the loss at which the moisture:protein ratio comes to r: 0 where it is there
// from the start. Errors as of Moisture, and ErrRange for a ratio that is not above nothing.
func (m Meat) LossTo(r Ratio) (cure.Fraction, error) {
	if err := m.check(0); err != nil {
		return 0, err
	}
	if !(r > 0) {
		return 0, ErrRange
	}
	return max(0, (m.Water-cure.Fraction(r)*m.Protein)/(1+m.Salt)), nil
}

// Standard is the highest moisture:protein ratio of a named product.
type Standard struct {
	Name   string
	Most   Ratio
	Source string
	Seen   string // "text", "secondary", "memory, sure", "memory, fairly sure"
}

// Standards are what the ratio may be at most, by name of product, in the us.
//
// Source: Ohio State University meat science, temperature regulations, 1999 (text); a copy
// of a text on dried meats (secondary).
func Standards() []Standard {
	const (
		osu  = "Ohio State University meat science, temperature regulations, 1999"
		text = "text on dried meats and their ratios, a copy"
	)
	return []Standard{
		{"jerky", 0.7, osu, "text"}, // 0.75 elsewhere (secondary)
		{"pepperoni", 1.6, osu, "text"},
		{"hard salami", 1.9, osu, "text"},
		{"dried beef", 2.04, osu, "text"},
		{"genoa salami", 2.1, osu, "text"}, // 2.3 in the FSIS standard (from memory)
		{"summer sausage", 3.1, osu, "text"},
		{"thuringer", 3.7, text, "secondary"},
		{"dry sausage", 1.9, text, "secondary"},
		{"semi-dry sausage", 3.1, text, "secondary"},
	}
}

// Habit is the loss at which a product is usually taken down.
type Habit struct {
	Name     string
	From, To cure.Fraction // of the weight hung
}

// Habits are usual losses. Common practice, from memory.
func Habits() []Habit {
	return []Habit{
		{"ham", 0.27, 0.32}, {"coppa", 0.30, 0.40}, {"lonza", 0.30, 0.40}, {"bresaola", 0.30, 0.40},
		{"salami", 0.30, 0.40}, {"rolled pancetta", 0.20, 0.30}, {"guanciale", 0.25, 0.30}, {"duck breast", 0.25, 0.30},
	}
}
