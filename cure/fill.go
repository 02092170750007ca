package cure

import (
	"math"
	"time"
)

// The rules of the work, where nobody said otherwise.
const (
	usualSalt      Fraction = 0.025  // all salt, common practice, no source
	floatingSalt   Fraction = 0.03   // as far as a rule's salt may float up with the cure, common practice
	usualPump      Fraction = 0.10   // of the green weight; the pump that 9 CFR 424.21(c) reckons with
	usualCold      Celsius  = 3      // while it cures, common practice
	usualScale     Gram     = 0.1    // division of the scale for the cure, common practice
	warmFrom       Celsius  = 4.4    // 40 °F; USDA AWI-108, 1944: cure at 36 to 40 °F
	warmest        Celsius  = 5      // 41 °F; cold holding, FDA Food Code (from memory)
	coldest        Celsius  = 0      // below it meat begins to freeze and the cure stops moving
	lessSkin                = 0.9    // 9 CFR 424.22(b): rind on, the base is 10 % less (secondary)
	saturated      Fraction = 0.2629 // NaCl by weight of brine at 0 °C; Salt Institute solubility table
	workableBrine           = 0.9    // of saturation: as strong as the rules make a brine; common practice, no source
	restAfterMixed          = 12 * time.Hour
	tasteTime               = 24 * time.Hour // confit and fish; common practice, no source
)

// fill gives every value of a request that nobody gave, and refuses what can't be. The
// error is a *Missing or a *Stop.
func fill(r *Request) (Cut, class, error) {
	if !r.Region.Set() || !r.Region.Value.known() {
		return Cut{}, class{}, &Missing{What: "region", Request: *r}
	}
	cut, ok := FindCut(r.Cut)
	if !ok {
		return Cut{}, class{}, &Missing{What: "cut", Request: *r}
	}
	for _, step := range []func(*Request, Cut) error{fillPieces, fillMethod, fillCure, fillTargets, fillPiece} {
		if err := step(r, cut); err != nil {
			return cut, class{}, err
		}
	}
	c, ok := findClass(r.Region.Value, cut.Group, r.Method.Value, r.Heated.Value)
	if !ok {
		return cut, class{}, &Missing{What: "method", Request: *r}
	}
	if r.Agent.Value.Kind.nitrateOnly() {
		if !bounded(c.inForce(r.On), "nitrate") {
			return cut, class{}, &Stop{Rule: StopNoNitrate, Request: *r}
		}
		return cut, c, nil
	}
	if r.Agent.Value.Kind != NoCure && !r.Rate.Set() && (!r.Nitrite.Set() || r.Nitrite.Origin == FromRule) && !bounded(c.inForce(r.On), "nitrite") {
		return cut, class{}, &Missing{What: "ppm", Request: *r}
	}
	return cut, c, nil
}

func fillPieces(r *Request, _ Cut) error {
	if len(r.Pieces) == 0 {
		return &Missing{What: "pieces", Request: *r}
	}
	for _, p := range r.Pieces {
		if err := pieceSpan.check(float64(p), *r); err != nil {
			return err
		}
	}
	return meatSpan.check(float64(r.meat()), *r)
}

// meat is the green weight of all pieces.
func (r Request) meat() (sum Gram) {
	for _, p := range r.Pieces {
		sum += p
	}
	return sum
}

// fillMethod settles the method, and refuses a typed value that has no place in it.
func fillMethod(r *Request, cut Cut) error {
	if r.Method.Value == NoMethod {
		r.Method = impliedMethod(*r, cut)
	}
	m := r.Method.Value
	if m > Confit {
		return &Missing{What: "method", Request: *r}
	}
	if cut.Method == Ground && m != Ground {
		return &Stop{Rule: StopNotCut, What: m.String(), Request: *r}
	}
	pumped := m == Injection || m == InjectionCover
	for _, one := range []struct {
		what  string
		asked bool
		fits  bool
	}{
		{"thickness", len(r.Thicknesses) > 0, m != Ground},
		{"sides", r.Sides != [2]Millimetre{}, m != Ground},
		{"salt on top", r.SaltOnTop, m != SaltBox},
		{"water", r.Water.Origin == Asked, m == CoverBrine},
		{"pump", r.Pump.Origin == Asked, pumped},
		{"cover", r.Cover.Origin == Asked, m == InjectionCover},
		{"skin", r.SkinOn.Origin == Asked && r.SkinOn.Value, m != Ground},
	} {
		if one.asked && !one.fits {
			return &Stop{Rule: StopNotMethod, What: one.what, Request: *r}
		}
	}
	return fillLiquid(r, m, pumped)
}

// impliedMethod is the method that the other values speak of, else the cut's usual one.
func impliedMethod(r Request, cut Cut) Given[Method] {
	switch {
	case cut.Method == Ground:
		return Given[Method]{Ground, FromCut}
	case r.Cover.Set():
		return Given[Method]{InjectionCover, r.Cover.Origin}
	case r.Pump.Origin == Asked:
		return Given[Method]{Injection, r.Pump.Origin}
	case r.Water.Set():
		return Given[Method]{CoverBrine, r.Water.Origin}
	}
	return Given[Method]{cut.Method, FromCut}
}

func fillLiquid(r *Request, m Method, pumped bool) error {
	if m == CoverBrine {
		if !r.Water.Set() {
			return &Missing{What: "water", Request: *r}
		}
		if err := waterSpan.check(float64(r.Water.Value), *r); err != nil {
			return err
		}
	} else {
		r.Water = Given[Gram]{}
	}
	if m == InjectionCover {
		if !r.Cover.Set() {
			return &Missing{What: "cover", Request: *r}
		}
		if err := coverSpan.check(float64(r.Cover.Value), *r); err != nil {
			return err
		}
	} else {
		r.Cover = Given[Gram]{}
	}
	if !pumped {
		r.Pump = Given[Fraction]{}
		return nil
	}
	r.Pump = r.Pump.Or(usualPump, FromRule)
	return pumpSpan.check(100*float64(r.Pump.Value), *r)
}

// fillCure settles the cure, and refuses what can't go without one.
func fillCure(r *Request, cut Cut) error {
	propose(r, cut)
	if err := fillAgent(r); err != nil {
		return err
	}
	bare := r.Agent.Value.Kind == NoCure
	switch {
	case r.Agent.Value.Kind.nitrateOnly():
		return fillNitrateTarget(*r)
	case r.Nitrate.Set():
		return &Stop{Rule: StopTwoTargets, Request: *r}
	case bare && r.Ascorbate.Set():
		return &Stop{Rule: StopAscorbate, What: "ascorbate", Request: *r}
	case bare && r.Nitrite.Set(), bare && r.Rate.Set(), r.Nitrite.Set() && r.Rate.Set():
		return &Stop{Rule: StopTwoTargets, Request: *r}
	}
	return nil
}

// fillNitrateTarget wants a dose of nitrate, as nitrate.
func fillNitrateTarget(r Request) error {
	switch {
	case r.Ascorbate.Set():
		return &Stop{Rule: StopAscorbate, What: "ascorbate", Request: r}
	case r.Nitrite.Set():
		return &Stop{Rule: StopNotNitrite, Request: r}
	case r.Nitrate.Set() && r.Rate.Set():
		return &Stop{Rule: StopTwoTargets, Request: r}
	case !r.Nitrate.Set() && !r.Rate.Set():
		return &Missing{What: "nitrate", Request: r}
	}
	return nil
}

func fillTargets(r *Request, _ Cut) error {
	rule := usualSalt
	if r.Method.Value == SaltBox {
		rule = boxSalt
	}
	r.Salt = r.Salt.Or(rule, FromRule)
	r.CureScale = r.CureScale.Or(usualScale, FromRule)
	r.Temperature = r.Temperature.Or(usualCold, FromRule)
	for _, one := range []struct {
		set  bool
		span span
		x    float64
	}{
		{r.Nitrite.Set(), targetSpan, float64(r.Nitrite.Value)},
		{r.Nitrate.Set(), nitrateSpan, float64(r.Nitrate.Value)},
		{r.Rate.Set(), rateSpan, 100 * float64(r.Rate.Value)},
		{true, saltSpan, 100 * float64(r.Salt.Value)},
		{r.Sugar.Set(), sugarSpan, 100 * float64(r.Sugar.Value)},
		{r.Ascorbate.Set(), ascorbateSpan, float64(r.Ascorbate.Value)},
		{r.Days.Set(), daysSpan, r.Days.Value.Hours() / 24},
		{true, scaleSpan, float64(r.CureScale.Value)},
	} {
		if one.set {
			if err := one.span.check(one.x, *r); err != nil {
				return err
			}
		}
	}
	if t := r.Temperature.Value; !(t >= coldest && t <= warmest) {
		stop := &Stop{Rule: StopCold, Got: float64(t), Max: float64(warmest), Unit: "°C", Request: *r,
			Source: "cold holding 0 to 5 °C (41 °F); curing at 2.2 to 4.4 °C, USDA AWI-108, 1944"}
		if t < coldest {
			stop.Max, stop.Min = 0, float64(coldest)
		}
		if math.IsNaN(stop.Got) || math.IsInf(stop.Got, 0) {
			stop.Got = 0
		}
		return stop
	}
	return nil
}

// fillPiece settles what is known of the piece itself.
func fillPiece(r *Request, cut Cut) error {
	if r.Method.Value == Confit {
		r.Heated = r.Heated.Or(true, FromRule)
	}
	if cut.Skin && r.Method.Value != Ground {
		r.SkinOn = r.SkinOn.Or(true, FromCut)
	}
	r.SkinOn = r.SkinOn.Or(false, FromRule)
	if r.Agent.Value.Nitrate > 0 {
		r.Heated = r.Heated.Or(false, FromRule)
	}
	r.Heated = r.Heated.Or(cut.Heated, FromCut)
	if r.Method.Value == Ground {
		r.Thickness, r.Thicknesses = Given[Millimetre]{}, nil
		return nil
	}
	if err := fillThicknesses(r); err != nil {
		return err
	}
	r.Thickness = r.Thickness.Or(cut.Thickness, FromCut)
	if err := thickSpan.check(float64(r.Thickness.Value), *r); err != nil {
		return err
	}
	return checkSides(*r)
}
