package water

import (
	"math"

	"salthand/cure"
)

// Meat is a cured or dried meat as it is now, in g in a g of any one mass: of the piece as it
// is, or of what it weighed raw.
type Meat struct {
	Salt  cure.Fraction
	Water cure.Fraction // above 0
	// Protein holds some of the water, which then dissolves nothing. 0: not known.
	Protein cure.Fraction
	// Fresh is the water that was there when the meat was raw: what was dissolved in it still
	// is. 0: not known; then 3.5 times the protein, or the water as it is now.
	Fresh cure.Fraction
	Sugar cure.Fraction // of the kind that Sweet says
	Sweet Solute
	At    cure.Celsius // 0 to 50; a meter is read at 25
}

// Raw is raw meat and what is put on it, in g in a g of it.
type Raw struct {
	Water, Protein cure.Fraction
	Salt, Sugar    cure.Fraction // that stay in the meat
	Sweet          Solute
	Loss           cure.Fraction // of the raw weight, all of it water
	At             cure.Celsius
}

// Dried is the meat after its loss. The error is an *OutOfRange.
func (r Raw) Dried() (Meat, error) {
	if err := within(Loss, float64(r.Loss), 0, math.Nextafter(float64(r.Water), 0)); err != nil {
		return Meat{}, err
	}
	m := Meat{
		Salt: r.Salt, Water: r.Water - r.Loss, Protein: r.Protein, Fresh: r.Water,
		Sugar: r.Sugar, Sweet: r.Sweet, At: r.At,
	}
	return m, m.check()
}

// Phase is the water-phase salt, the "brine strength" of rules: salt over salt and water. The
// error is an *OutOfRange.
//
// Source: FSIS training text on shelf-stable meat (secondary).
func (m Meat) Phase() (cure.Fraction, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	return m.Salt / (m.Salt + m.Water), nil
}

// PerWater is how many g of salt there are to a g of water. The error is an *OutOfRange.
func (m Meat) PerWater() (Ratio, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	return Ratio(m.Salt / m.Water), nil
}

// Band is a water activity between its bounds.
type Band struct{ Low, Likely, High Activity }

// guess is what is taken for the meat itself.
type guess struct {
	bound float64 // g of water that a g of protein holds
	fresh float64 // water activity of the meat when raw
}

// Source: 0.3 g/g and 0.993 are common in food engineering (from memory); 0.5 g/g and 0.989,
// a freezing point of −1.1 °C, are their far ends (from memory). No salt that was read.
var (
	likely = guess{0.30, 0.993}
	low    = guess{0.50, 0.989}
)

// wetness is the water of raw lean meat over its protein; the cuts lie within 15 % of it.
// Source: USDA SR28: 3.14 (eye of round) to 4.04 (duck).
const wetness = 3.5

// driest is the water over protein below which nothing is said; jerky has it.
// Source: USDA SR28, 19002 jerky, 0.7036.
const driest = 0.7

// Activity is an estimate of the water activity of the meat. High counts the salt and the
// sugar in all of the water and nothing else. Likely leaves out the water that protein holds
// (0.30 g a g) and counts what raw meat has dissolved (0.993), which drying makes stronger.
// Low takes the far ends of both, and where the protein is not known takes all that is not
// salt, water or sugar for protein, if that is wet enough.
//
// Nothing that was read says how good Likely is: dry sausages are reported from 0.85 to 0.93,
// and it puts three of them at 0.86 to 0.88. It is a warning and no proof. Salt beyond what the water dissolves is not counted. The
// error is an *OutOfRange; also of Protein where there are less than 0.7 g of water to a g.
func (m Meat) Activity() (Band, error) {
	if err := m.check(); err != nil {
		return Band{}, err
	}
	if err := within(Temperature, float64(m.At), coldest, warmest); err != nil {
		return Band{}, err
	}
	return m.by(saltAt(float64(m.At)), slope(float64(m.At))), nil
}

// by is the estimate with one set of parameters for the salt.
func (m Meat) by(salt electrolyte, debye float64) Band {
	of := func(m Meat, g guess) Activity {
		bound := g.bound * float64(m.Protein)
		free := float64(m.Water) - bound
		strong := min(float64(MostSalt), inKilo*float64(m.Salt)/free/saltMass)
		sugar := min(mostSweet, inKilo*float64(m.Sugar)/free/sweet[m.Sweet].mass)
		juices := math.Log(g.fresh) * (float64(m.fresh()) - bound) / free
		return Activity(salt.activity(strong, debye) * m.Sweet.activity(sugar) * math.Exp(juices))
	}
	band := Band{Likely: of(m, likely), High: of(Meat{Salt: m.Salt, Water: m.Water, Sugar: m.Sugar, Sweet: m.Sweet}, guess{fresh: 1})}
	lean := m
	if lean.Protein == 0 {
		rest := max(0, 1-m.Salt-m.Water-m.Sugar)
		lean.Protein = min(rest, m.Water/driest)
		lean.Fresh = max(m.Fresh, m.Water, wetness*lean.Protein)
	}
	band.Low = min(of(lean, low), band.Likely)
	return band
}

// fresh is the water that the meat's own juices were in.
func (m Meat) fresh() cure.Fraction {
	if m.Fresh == 0 {
		return max(m.Water, wetness*m.Protein)
	}
	return m.Fresh
}

func (m Meat) check() error {
	if err := within(WaterShare, float64(m.Water), 0.01, 1); err != nil {
		return err
	}
	for _, part := range []struct {
		what  What
		share cure.Fraction
	}{{SaltShare, m.Salt}, {Protein, m.Protein}, {Sugar, m.Sugar}} {
		if err := within(part.what, float64(part.share), 0, 1); err != nil {
			return err
		}
	}
	if err := within(Whole, float64(m.Salt+m.Water+m.Protein+m.Sugar), 0, wholeMost); err != nil {
		return err
	}
	if err := within(Whole, float64(m.Salt+m.Water), 0, 1+rounding); err != nil {
		return err
	}
	if m.Fresh != 0 {
		if err := within(WaterShare, float64(m.Fresh), float64(m.Water), freshMost); err != nil {
			return err
		}
	}
	if m.Sweet >= solutes {
		return &OutOfRange{What: Kind, Got: float64(m.Sweet), High: float64(solutes) - 1}
	}
	return within(Protein, float64(m.Protein), 0, float64(m.Water)/driest)
}

// The bounds of sums, g in a g. Salt on raw meat comes on top of its whole; a dried piece was
// wetter than its own weight.
const (
	wholeMost = 1.1
	rounding  = 1e-9
	freshMost = 10
)
