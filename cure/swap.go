package cure

// Swapping is a cure to be put in the place of another.
type Swapping struct {
	From   Agent       // strengths are said, or those of the region: see Swap
	Grams  Gram        // of From
	Salt   Given[Gram] // plain salt of the recipe; unset: not known, and all salt can't be kept
	To     Agent
	Mass   Gram       // what the ppm is reckoned on: the meat, or meat and water
	Target Given[PPM] // NaNO2 on Mass, where From has no nitrite; unset: the usual 156.25
	Region Region     // for usual strengths of a no. 1 and a no. 2; "" for none
	Scale  Gram       // division of the scale that weighs the cure; 0: 0.1 g
}

// Swapped is what takes the place of a cure, with nitrite and all salt kept.
type Swapped struct {
	From, To            Agent    // with their strengths
	Cure                Amount   // of To; Exact 0 where there is no such amount
	Salt                Amount   // plain salt to weigh beside it, instead of Swapping.Salt
	SaltChange          Gram     // plain salt to add to the recipe's; below 0 to take away
	Nitrite, Was        PPM      // NaNO2 with To, and with From
	Nitrate, WasNitrate PPM      // as NaNO3
	NitrateChange       PPM      // below 0: lost
	SaltTotal           Fraction // all NaCl over Mass, with To; 0 where Salt is not known
	SaltWas             Fraction // with From; 0 where Salt is not known
	SameGrams           PPM      // NaNO2 if To went in by From's weight: why it isn't swapped so
	Cautions            []Caution
	Impossible          []Impossible
}

// Impossible is what a swap can't do.
type Impossible struct {
	Code       string
	Got, Bound float64 // see the code
	PPM        PPM     // NaNO2 that could be had; 0 where that is not the point
}

// The codes of an Impossible.
const (
	CantSalt    = "too much salt comes with it"  // Got: g of salt too many, Bound: g of all salt; PPM: what the salt allows
	CantNitrite = "nitrate can't become nitrite" // To has no nitrite: there is no amount. Got: NaNO2 wanted, ppm
	CantWeak    = "too weak"                     // Got: g of To, Bound: g, 10 % of Mass, 5 % of a cure that brings no salt; PPM: what that gives
	CantWeigh   = "too little to weigh"          // Got: g of To, Bound: g, 82 divisions of undiluted nitrite, 2 of anything else
)

// The codes of a swap's cautions, beside those of a dose.
const (
	CodeNitrateLost   = "nitrate lost"        // warn; Got: ppm as NaNO3
	CodeNitrateGained = "nitrate gained"      // warn; Got: ppm as NaNO3
	CodeByDose        = "dosed on the meat"   // warn; From has no nitrite: To is dosed for a target, not for From's weight. Got: ppm
	CodeUndiluted     = "undiluted"           // hold; To is an undiluted salt
	CodeAllergen      = "vegetable allergen"  // warn; celery and the like have to be declared
	CodeLotStrength   = "strength of the lot" // hold; a vegetable powder is as strong as its certificate says
)

const (
	mostPowder Fraction = 0.05 // of Mass, of a cure that brings no salt; common practice, no source
	mostMix    Fraction = 0.10 // of Mass; common practice, no source
)

// Swap is how much of one cure does the work of another: the same nitrite on the meat, all
// salt kept. A cure without nitrite works by bacteria over weeks, and no factor turns its
// weight into nitrite: then To is dosed on the meat. What can't be is in Impossible; Cure
// beside it keeps the nitrite, or is 0 where no amount does, or where undiluted nitrite is
// too little to weigh. The error is a *Missing for a strength, a *Stop for what is not
// plausible.
func Swap(s Swapping) (Swapped, error) {
	if err := s.fill(); err != nil {
		return Swapped{}, err
	}
	from, to := s.From.parts(), s.To.parts()
	d := Swapped{
		From: s.From, To: s.To,
		Was: ratio(s.Grams*Gram(from.nitrite), s.Mass), WasNitrate: ratio(s.Grams*Gram(from.nitrate), s.Mass),
		SameGrams: ratio(s.Grams*Gram(to.nitrite), s.Mass),
	}
	cure := s.amount(&d, from, to)
	d.Cure = Amount{CureItem, cure, nearest(cure, s.Scale)}
	s.keepSalt(&d, s.Grams*Gram(from.salt), cure*Gram(to.salt), to)
	d.Nitrite, d.Nitrate = ratio(cure*Gram(to.nitrite), s.Mass), ratio(cure*Gram(to.nitrate), s.Mass)
	d.NitrateChange = d.Nitrate - d.WasNitrate
	s.warn(&d)
	return d, nil
}

// keepSalt weighs the plain salt that keeps all of it, from what the two cures bring.
func (s Swapping) keepSalt(d *Swapped, was, brings Gram, to parts) {
	d.SaltChange = was - brings
	if !s.Salt.Set() {
		return
	}
	total := s.Salt.Value + was
	salt := total - brings
	if salt < -1e-9*total || salt < 0 && total == 0 {
		d.cant(Impossible{CantSalt, float64(-salt), float64(total), ratio(total/Gram(to.salt)*Gram(to.nitrite), s.Mass)})
	}
	salt = max(0, salt)
	d.Salt, d.SaltChange = Amount{SaltItem, salt, nearest(salt, s.Scale)}, salt-s.Salt.Value
	d.SaltTotal, d.SaltWas = Fraction((salt+brings)/s.Mass), Fraction(total/s.Mass)
}

// amount is how much of To there has to be, 0 where no amount will do.
func (s Swapping) amount(d *Swapped, from, to parts) (cure Gram) {
	want := s.Grams * Gram(from.nitrite)
	switch {
	case from.nitrite == 0 && to.nitrite == 0: // one nitrate for another: by what they hold of it
		cure = s.Grams * Gram(from.nitrate/to.nitrate)
	case to.nitrite == 0:
		d.cant(Impossible{Code: CantNitrite, Got: float64(d.Was)})
		return 0
	case from.nitrite == 0:
		want = Gram(s.Target.Value) * 1e-6 * s.Mass
		d.warn(CodeByDose, Warn, float64(s.Target.Value))
		fallthrough
	default:
		cure = want / Gram(to.nitrite)
	}
	few := 2 * s.Scale // half a division is a quarter
	if s.To.Kind == PureNitrite {
		few = fewestDivisions * s.Scale
	}
	most := mostMix * Fraction(s.Mass)
	if to.salt == 0 {
		most = mostPowder * Fraction(s.Mass)
	}
	switch {
	case cure < few*(1-1e-9):
		d.cant(Impossible{Code: CantWeigh, Got: float64(cure), Bound: float64(few)})
		if s.To.Kind == PureNitrite {
			return 0
		}
	case Fraction(cure) > most*(1+1e-9):
		d.cant(Impossible{CantWeak, float64(cure), float64(most), ratio(Gram(most)*Gram(to.nitrite), s.Mass)})
	}
	return cure
}

func (s *Swapping) fill() error {
	s.From, s.To = s.From.inRegion(s.Region), s.To.inRegion(s.Region)
	for _, a := range []Agent{s.From, s.To} {
		if a.parts().none() {
			return &Missing{What: "strength"}
		}
		if err := a.plausible(Request{}); err != nil {
			return err
		}
	}
	if s.Scale == 0 {
		s.Scale = usualScale
	}
	s.Target = s.Target.Or(usualNitrite, FromRule)
	for _, one := range []struct {
		span span
		x    float64
	}{
		{putSpan, float64(s.Grams)}, {addedSpan, float64(s.Salt.Value)}, {meatSpan, float64(s.Mass)},
		{targetSpan, float64(s.Target.Value)}, {scaleSpan, float64(s.Scale)},
	} {
		if err := one.span.check(one.x, Request{}); err != nil {
			return err
		}
	}
	return nil
}

// warn adds what a swap that can be done has to say.
func (s Swapping) warn(d *Swapped) {
	const trifle = 0.05 // ppm
	switch {
	case d.NitrateChange < -trifle:
		d.warn(CodeNitrateLost, Warn, -float64(d.NitrateChange))
	case d.NitrateChange > trifle:
		d.warn(CodeNitrateGained, Warn, float64(d.NitrateChange))
	}
	if s.To.undiluted() {
		d.warn(CodeUndiluted, Hold, 0)
	}
	if s.To.Kind == VegetablePowder {
		d.warn(CodeLotStrength, Hold, 100*float64(s.To.Nitrite))
		d.warn(CodeAllergen, Warn, 0)
	}
	if p := 100 * float64(d.SaltTotal); p > 4*(1+1e-9) {
		d.Cautions = append(d.Cautions, Caution{CodeSaltHigh, Warn, p, 4})
	}
}

func (d *Swapped) warn(code string, level Level, got float64) {
	d.Cautions = append(d.Cautions, Caution{Code: code, Level: level, Got: got})
}

func (d *Swapped) cant(i Impossible) { d.Impossible = append(d.Impossible, i) }
