package cure

import (
	"math"
	"slices"
	"testing"
	"time"

	"salthand/cure/published"
)

// onTray is a boned piece, skin off, on both faces in salt at 3 °C.
func onTray(cut string, thick float64) Request {
	return Request{Region: in("us"), Cut: cut, Pieces: []Gram{5000}, Method: Typed(SaltBox), SkinOn: Typed(false),
		Thickness: Typed(Millimetre(thick)), Agent: agentOf(6.25)}
}

// TestSaltBox: days, mean and equalising against published shares of uptake, and both ways:
// the days that a target takes, and what the days bring.
func TestSaltBox(t *testing.T) {
	for _, l := range published.Lines(t, "salt_box.csv") {
		r := onTray(l.Cell["cut"], l.Number("thickness_mm"))
		salt := Fraction(0.358 * l.Number("water_pct") / 100 * l.Number("share"))
		r.Salt = Typed(salt)
		r.Days = Typed(time.Duration(l.Number("days") * float64(day)))
		d := compute(t, r)
		tol := l.Number("tolerance")
		l.Near(float64(d.Time.Mean.Likely/salt)*l.Number("share"), l.Number("share"), tol)
		if at := r.Days.Value.Hours() / d.Time.To.Likely.Hours(); at < 1-6*tol || at > 1+6*tol {
			t.Errorf("%v: %v to the target, asked %v", l.Cell, d.Time.To.Likely, r.Days.Value)
		}
		if l.Cell["equalise_days"] != "" {
			l.Near(d.Time.Equalise.Likely.Hours()/24, l.Number("equalise_days"), l.Number("equalise_tolerance"))
		}
	}
}

// TestSaltBoxBlock: a block with salt on all its faces is sooner there than a slab. Under
// saturated salt the uptake is 2·√(D·t/π) times the face over the volume while it is small
// (Crank 1975, eq. 3.15, from memory), so that twice the faces take a quarter of the time; the
// overlap at the edges makes it longer. A block of which the other sides are long is a slab.
func TestSaltBoxBlock(t *testing.T) {
	of := func(sides ...Millimetre) Timing {
		r := onTray("pork loin", 120)
		r.Salt = Typed(Fraction(0.01)) // little, so that the law of short times holds
		copy(r.Sides[:], sides)
		return compute(t, r).Time
	}
	slab, long, block := of(), of(2000, 2000), of(300, 200) // faces: 2/120, and 2/120 + 2/200 + 2/300, a mm
	closeTo(t, "long", long.To.Likely.Hours()/slab.To.Likely.Hours(), math.Pow((2./120)/(2./120+4./2000), 2), 0.02)
	closeTo(t, "block", block.To.Likely.Hours()/slab.To.Likely.Hours(), 0.25, 0.02)
	if !(block.To.Slow > block.To.Likely && block.To.Likely > block.To.Fast && block.To.Fast > 0) {
		t.Errorf("%+v", block.To)
	}

	r := onTray("pork loin", 120)
	r.Sides, r.Days = [2]Millimetre{300, 200}, Typed(block.To.Likely)
	r.Salt = Typed(Fraction(0.01))
	closeTo(t, "mean", float64(compute(t, r).Time.Mean.Likely), 0.01, 1e-6)
	r.SkinOn = Typed(true) // one face of the thin side closed
	if d := compute(t, r); d.Time.Mean.Likely >= 0.01 || d.Time.Mean.Likely < 0.007 {
		t.Errorf("skin on: %v", d.Time.Mean)
	}
	r.Sides[1] = 100 // less than the thickness
	if stop := stopped(t, r); stop.Rule != StopImplausible || stop.What != "sides" {
		t.Errorf("%+v", stop)
	}
}

func TestSaltBoxDose(t *testing.T) {
	d := compute(t, onTray("boneless ham", 120))
	closeTo(t, "cure", d.weighs(CureItem), 12.5, 1e-9) // 0.25 % of 5 kg, rubbed on
	closeTo(t, "box salt", d.weighs(BoxSaltItem), 5000, 1e-9)
	closeTo(t, "target", float64(d.Salt), 0.05, 1e-12)
	if d.weighs(SaltItem) != 0 || d.level(CodeBoxCure) != Warn || d.level(CodeSaltHigh) != 0 || d.Class != "dry cured" {
		t.Errorf("%s: %+v %+v", d.Class, d.Add, d.Cautions)
	}
	if e := d.Time.Equalise; !(e.Slow >= e.Likely && e.Likely >= e.Fast && e.Fast > 0) || d.Time.Rule != 0 {
		t.Errorf("%+v", d.Time)
	}
	var kinds []string
	for _, s := range Steps(d) {
		kinds = append(kinds, s.Kind)
	}
	// The rest evens the salt out; what is cooked is chilled in two checks and dated: FDA Food
	// Code 3-501.14 and 3-501.17, from memory. The order: common practice, no source.
	if !slices.Equal(kinds, []string{"overhaul", "take out", "rinse", "rest", "pellicle", "smoke", "chill check", "chill", "use by"}) {
		t.Errorf("%v", kinds)
	}

	short, long := onTray("boneless ham", 120), onTray("boneless ham", 120)
	short.Days, long.Days = Typed(2*day), Typed(60*day)
	if d := compute(t, short); d.level(CodeBoxShort) != Warn || d.Time.PlanFor <= 2*day {
		t.Errorf("2 days: %+v", d.Time)
	}
	if d := compute(t, long); d.level(CodeBoxLong) != Warn || d.Time.PlanFor != 60*day {
		t.Errorf("60 days: %+v", d.Time)
	}
	short.Heated = Typed(false)
	if d := compute(t, short); d.level(CodeBoxShort) != Hold {
		t.Error("raw and too short is no hold")
	}

	salty := onTray("pork belly", 40) // its water holds 0.358 × 36.74 % = 13.2 %
	salty.Salt = Typed(Fraction(0.14))
	if stop := stopped(t, salty); stop.Rule != StopSaturated || stop.Salt >= 0.1316 || stop.Salt < 0.12 {
		t.Errorf("%+v", stop)
	}
	top := onTray("boneless ham", 120)
	top.Salt, top.SaltOnTop = Typed(Fraction(0.05)), true
	if stop := stopped(t, top); stop.Rule != StopNotMethod {
		t.Errorf("%+v", stop)
	}
}

// TestConfit: salted for taste, no cure unless one is asked for.
func TestConfit(t *testing.T) {
	r := Request{Region: in("us"), Cut: "duck breast", Pieces: []Gram{1400}, Method: Typed(Confit)}
	d := compute(t, r)
	if d.Request.Agent.Value.Kind != NoCure || d.Nitrite != 0 || d.Time.Criterion || d.Time.PlanFor != 24*time.Hour || !d.Request.Heated.Value {
		t.Errorf("%+v %+v", d.Request.Agent, d.Time)
	}
	if d.level(CodeTaste) != Note || d.level(CodeConfit) != Warn || d.level(CodeNoCure) != Warn || d.level(CodeSilent) != 0 {
		t.Errorf("%+v", d.Cautions)
	}
	closeTo(t, "salt", d.weighs(SaltItem), 35, 1e-9)
	r.Agent, r.Days = agentOf(6.25), Typed(36*time.Hour)
	d = compute(t, r)
	closeTo(t, "asked cure", float64(d.Nitrite), 156.25, 1e-9)
	if d.Time.Criterion || d.Time.PlanFor != 36*time.Hour || d.level(CodeConfit) != Warn {
		t.Errorf("%+v", d.Time)
	}
	r.Heated = Typed(false)
	if d := compute(t, r); d.level(CodeConfit) != Hold {
		t.Error("a confit that isn't cooked is no hold")
	}
}
