package cure

import "math"

// Blending is a house cure to be made of a stronger one and plain salt.
type Blending struct {
	Amount    Gram       // of the mix to make
	Nitrite   Fraction   // NaNO2 wanted, of the mix
	From      Agent      // undiluted sodium nitrite, or a stronger mix
	Jar       string     // where From comes from; for the label
	Scale     Gram       // division of the scale that weighs From; 0: 0.1 g
	SaltScale Gram       // division of the scale that weighs the salt; 0: Scale
	Use       Use        // what the mix is for: for the band of a dose; zero: not said
	Grain     Millimetre // edge of a grain of From; 0: 0.3 mm, table salt's order, from memory
}

// Use is how much of a mix goes on how much meat.
type Use struct {
	Meat   Gram
	Target PPM // NaNO2 on the meat
}

// Blended is a house cure: what to weigh, how to mix it, and how far off it may be.
type Blended struct {
	Agent       Agent // Kind HouseCure
	From        Amount
	Salt        Amount // plain salt
	Mixing      []Doubling
	Strength    Range[Fraction] // NaNO2 of the mix from the weighing alone, k = 2
	Smallest    Gram            // of the mix: the smallest size that From is weighed for to 0.10 %
	Class       Fraction        // the error of weighing From, k = 2, of its amount
	Sound       bool            // Class is 0.10 % or better; else a hold
	Dose        Gram            // of the mix, for Use; else 0
	DoseNitrite Range[PPM]      // NaNO2 in Dose on Use.Meat, k = 2: weighing of the mix and its grains
	Grains      Grains          // of From, in Dose
	Label       Label
}

// Doubling is one step of geometric dilution: as much plain salt as there is, then mixed.
type Doubling struct{ Before, Add, After Gram }

// Label is what has to stand on the jar.
type Label struct {
	NotForSeasoning  bool // always
	Dyed             bool // false: a mix with plain salt looks like salt
	Nitrite, Nitrate Fraction
	From             Agent
	Jar              string
}

// WeighingClass is the standard that Smallest and Sound are reckoned by: 2 s / m at most
// 0.10 %, with s at least 0.41 of a division, hence 820 divisions.
// Source: United States Pharmacopeia, general chapter 41, Balances.
const WeighingClass Fraction = 0.001

// The figures of WeighingClass, and below which an undiluted salt is not weighed at all.
const (
	soundDivisions  = 820 // 2 × 0.41 / 0.001; USP general chapter 41
	fewestDivisions = 82  // 1 %, the same form; computed
)

// The plausible ranges of a mix. Common practice, no source.
var (
	amountSpan = span{"amount", 10, 1e6, "g"}
	blendSpan  = span{"nitrite", 0.05, 10, "%"}
	grainSpan  = span{"grain", 0.01, 3, "mm"}
)

// Blend is how a house cure is made. The error is a *Stop: a strength that From can't give or
// that no mix should have, or an amount of an undiluted salt below 82 divisions of the scale
// (1 %); between 82 and 820 it is answered, and not Sound.
//
// From is weighed, then diluted geometrically: each time as much plain salt as there is, which
// takes the whole part of log2(Amount / From), rounded up, steps.
func Blend(b Blending) (Blended, error) {
	if err := b.fill(); err != nil {
		return Blended{}, err
	}
	parts := b.From.parts()
	from := b.Amount * Gram(b.Nitrite/parts.nitrite)
	if from < fewestDivisions*b.Scale*(1-1e-9) && b.From.undiluted() {
		return Blended{}, b.scaleStop(from)
	}
	d := Blended{
		Agent:    Agent{HouseCure, b.Nitrite, b.Nitrite * parts.nitrate / parts.nitrite},
		From:     Amount{CureItem, from, nearest(from, b.Scale)},
		Salt:     Amount{SaltItem, b.Amount - from, nearest(b.Amount-from, b.SaltScale)},
		Mixing:   doublings(from, b.Amount),
		Smallest: soundDivisions * b.Scale * Gram(parts.nitrite/b.Nitrite),
		Class:    Fraction(2 * float64(twoReadings*b.Scale/from)),
		Sound:    from >= soundDivisions*b.Scale*(1-1e-9),
	}
	d.Label = Label{NotForSeasoning: true, Nitrite: d.Agent.Nitrite, Nitrate: d.Agent.Nitrate, From: b.From, Jar: b.Jar}
	u := b.spread(from)
	d.Strength = Range[Fraction]{b.Nitrite * Fraction(max(0, 1-2*u)), b.Nitrite, b.Nitrite * Fraction(1+2*u)}
	if b.Use != (Use{}) {
		d.Dose = b.Use.Meat * Gram(float64(b.Use.Target)*1e-6/float64(b.Nitrite))
		d.Grains = grains(d.Dose*Gram(from/b.Amount), float64(from/b.Amount), b.Grain)
		both := 2 * math.Hypot(u, float64(d.Grains.CV))
		t := b.Use.Target
		d.DoseNitrite = Range[PPM]{t * PPM(max(0, 1-both)), t, t * PPM(1+both)}
	}
	return d, nil
}

// fill gives what was not said, and refuses what can't be.
func (b *Blending) fill() error {
	if b.Scale == 0 {
		b.Scale = usualScale
	}
	if b.SaltScale == 0 {
		b.SaltScale = b.Scale
	}
	if b.Grain == 0 {
		b.Grain = usualGrain
	}
	parts := b.From.parts()
	if parts.none() {
		return &Missing{What: "strength"}
	}
	if err := b.From.plausible(Request{}); err != nil {
		return err
	}
	for _, one := range []struct {
		set  bool
		span span
		x    float64
	}{
		{true, amountSpan, float64(b.Amount)},
		{true, blendSpan, 100 * float64(b.Nitrite)},
		{true, scaleSpan, float64(b.Scale)},
		{true, scaleSpan, float64(b.SaltScale)},
		{true, grainSpan, float64(b.Grain)},
		{b.Use != (Use{}), meatSpan, float64(b.Use.Meat)},
		{b.Use != (Use{}), targetSpan, float64(b.Use.Target)},
	} {
		if one.set {
			if err := one.span.check(one.x, Request{}); err != nil {
				return err
			}
		}
	}
	if b.Nitrite > parts.nitrite*(1-1e-9) { // as strong as the jar is no mix
		return &Stop{Rule: StopStrength, What: "nitrite", Got: 100 * float64(b.Nitrite), Max: 100 * float64(parts.nitrite), Unit: "%"}
	}
	return nil
}

// undiluted reports whether it is a salt of one agent with nothing to thin it.
func (a Agent) undiluted() bool {
	return a.Kind == PureNitrite || a.Kind == PureNitrate || a.Kind == Saltpetre
}

// scaleStop says how much would have to be made on this scale, and on which scale it can be:
// its Meat is grams of the mix.
func (b Blending) scaleStop(from Gram) *Stop {
	stop := &Stop{Rule: StopScale, What: b.From.Kind.String(), Got: float64(from), Min: float64(fewestDivisions * b.Scale), Unit: "g",
		Source: "general form of United States Pharmacopeia, chapter 41: 82 divisions for 1 %", Allowed: 0}
	stop.Meat = b.Amount * soundDivisions * b.Scale / from
	for _, one := range divisions {
		if from >= soundDivisions*one {
			stop.Scale = one
			break
		}
	}
	return stop
}

// spread is the relative standard uncertainty of a mix's strength from its two weighings.
func (b Blending) spread(from Gram) float64 {
	salt := b.Amount - from
	return float64(salt/b.Amount) * math.Hypot(float64(twoReadings*b.Scale/from), float64(twoReadings*b.SaltScale/salt))
}

// doublings are the steps from the first amount to the whole; the last adds what is left.
func doublings(first, whole Gram) (steps []Doubling) {
	for have := first; have < whole*(1-1e-12); {
		next := min(2*have, whole)
		if next > whole*(1-1e-9) {
			next = whole
		}
		steps = append(steps, Doubling{have, next - have, next})
		have = next
	}
	return steps
}
