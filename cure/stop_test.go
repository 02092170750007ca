package cure

import (
	"errors"
	"math"
	"testing"
	"time"
)

func stopped(t *testing.T, r Request) *Stop {
	t.Helper()
	d, err := Compute(r)
	var stop *Stop
	if !errors.As(err, &stop) {
		t.Fatalf("%+v: no stop but %v, %+v", r, err, d.Add)
	}
	return stop
}

func belly(grams Gram) Request {
	return Request{Region: in("us"), Cut: "pork belly", Pieces: []Gram{grams}}
}

func closeTo(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.9g, want %.9g", what, got, want)
	}
}

func TestMissing(t *testing.T) {
	full := belly(3200)
	for _, one := range []struct {
		what   string
		change func(*Request)
	}{
		{"region", func(r *Request) { r.Region = Given[Region]{} }},
		{"region", func(r *Request) { r.Region = in("atlantis") }},
		{"cut", func(r *Request) { r.Cut = "pork chop" }},
		{"pieces", func(r *Request) { r.Pieces = nil }},
		{"method", func(r *Request) { r.Method = Typed(Method(99)) }},
		{"water", func(r *Request) { r.Method = Typed(CoverBrine) }},
		{"cover", func(r *Request) { r.Method = Typed(InjectionCover) }},
		{"strength", func(r *Request) { r.Region = in("eu") }}, // no. 1 has no usual strength there
		{"strength", func(r *Request) { r.Agent = Typed(Agent{Kind: NitritedSalt}) }},
		{"strength", func(r *Request) { r.Agent = Typed(Agent{Kind: No2, Nitrite: 0.0567}) }},
		{"strength", func(r *Request) { r.Agent = Typed(Agent{Kind: AgentKind(77), Nitrite: 0.06}) }},
	} {
		r := full
		one.change(&r)
		_, err := Compute(r)
		var missing *Missing
		if !errors.As(err, &missing) || missing.What != one.what {
			t.Errorf("want a question for %s: %v", one.what, err)
		}
	}
}

// TestImplausible gives every value in turn as NaN, infinite, negative and absurd.
func TestImplausible(t *testing.T) {
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e15}
	zero := append(bad, 0)
	brine, pump, cover := belly(3200), belly(3200), belly(3200)
	brine.Water, pump.Pump, cover.Cover = Typed(Gram(3000)), Typed(Fraction(0.1)), Typed(Gram(3000))
	for what, one := range map[string]struct {
		r   Request
		bad []float64
		set func(*Request, float64)
	}{
		"pieces":    {belly(3200), zero, func(r *Request, x float64) { r.Pieces = []Gram{2000, Gram(x)} }},
		"nitrite":   {belly(3200), zero, func(r *Request, x float64) { r.Nitrite = Typed(PPM(x)) }},
		"rate":      {belly(3200), zero, func(r *Request, x float64) { r.Rate = Typed(Fraction(x)) }},
		"salt":      {belly(3200), zero, func(r *Request, x float64) { r.Salt = Typed(Fraction(x)) }},
		"sugar":     {belly(3200), bad, func(r *Request, x float64) { r.Sugar = Typed(Fraction(x)) }},
		"ascorbate": {belly(3200), zero, func(r *Request, x float64) { r.Ascorbate = Typed(PPM(x)) }},
		"thickness": {belly(3200), zero, func(r *Request, x float64) { r.Thickness = Typed(Millimetre(x)) }},
		"sides":     {belly(3200), bad, func(r *Request, x float64) { r.Sides = [2]Millimetre{300, Millimetre(x)} }},
		"scale":     {belly(3200), zero, func(r *Request, x float64) { r.CureScale = Typed(Gram(x)) }},
		"water":     {brine, zero, func(r *Request, x float64) { r.Water.Value = Gram(x) }},
		"pump":      {pump, zero, func(r *Request, x float64) { r.Pump.Value = Fraction(x) }},
		"cover":     {cover, zero, func(r *Request, x float64) { r.Cover.Value = Gram(x) }},
		"days":      {belly(3200), []float64{-1, 0, 1e8}, func(r *Request, x float64) { r.Days = Typed(time.Duration(x * float64(time.Second))) }},
	} {
		compute(t, one.r)
		for _, x := range one.bad {
			r := one.r
			one.set(&r, x)
			if stop := stopped(t, r); stop.Rule != StopImplausible || stop.What != what || stop.Got-stop.Got != 0 {
				t.Errorf("%s of %v: %+v", what, x, stop)
			}
		}
	}
	for _, x := range bad {
		r := belly(3200)
		r.Temperature = Typed(Celsius(x))
		if stop := stopped(t, r); stop.Rule != StopCold {
			t.Errorf("%v °C: %v", x, stop)
		}
	}
}

func TestStrength(t *testing.T) {
	for _, a := range []Agent{
		{No1, 0.625, 0}, {No1, 0.002, 0}, {No1, 6.25, 0}, {No1, -0.0625, 0}, {No1, 0.0625, 0.04},
		{No2, 0.0625, 0.4}, {No2, 0.0625, 0.0004}, {NitritedSalt, 0.06, 0}, {NitritedSalt, 0.0006, 0},
		{No1, Fraction(math.NaN()), 0}, {No1, Fraction(math.Inf(1)), 0},
	} {
		r := belly(3200)
		r.Agent = Typed(a)
		if stop := stopped(t, r); stop.Rule != StopStrength {
			t.Errorf("%+v: %v", a, stop)
		}
	}
}

func TestStops(t *testing.T) {
	over := belly(3200)
	over.Nitrite = Typed(PPM(250))
	stop := stopped(t, over)
	if stop.Rule != StopOver || stop.Limit.ID != "us-bacon-dry-nitrite" || stop.Max != 200 || stop.Unit != "ppm" || stop.Source == "" {
		t.Errorf("over: %+v", stop)
	}
	closeTo(t, "allowed", float64(stop.Allowed), 10.2, 1e-9) // 200 ppm of 3.2 kg at 6.25 % is 10.24 g

	two := belly(3200)
	two.Agent = Typed(Agent{Kind: No2})
	if stop := stopped(t, two); stop.Rule != StopNitrate || stop.Allowed != 0 {
		t.Errorf("no. 2 on bacon: %+v", stop)
	}
	heated := Request{Region: in("eu"), Cut: "boneless ham", Pieces: []Gram{5000}, Heated: Typed(true),
		Agent: Typed(Agent{Kind: No2, Nitrite: 0.0567, Nitrate: 0.0363})}
	if stop := stopped(t, heated); stop.Rule != StopNitrate {
		t.Errorf("nitrate in what is heated: %+v", stop)
	}

	salty := belly(1000)
	salty.Agent, salty.Salt = agentOf(0.5), Typed(Fraction(0.02))
	stop = stopped(t, salty)
	if stop.Rule != StopCoupled {
		t.Fatalf("salt and nitrite: %+v", stop)
	}
	closeTo(t, "salt at the target", stop.Got, 3.109, 0.0005) // 31.25 g at 99.5 %
	closeTo(t, "asked", stop.Max, 2, 1e-9)
	closeTo(t, "ppm at 2 %", float64(stop.PPM), 100.5, 0.05) // 20 g of salt at 99.5 % with 0.5 % nitrite

	for _, one := range []struct {
		rule   string
		change func(*Request)
	}{
		{StopAscorbate, func(r *Request) { r.Agent, r.Ascorbate = Typed(Agent{Kind: NoCure}), Typed(PPM(500)) }},
		{StopTwoTargets, func(r *Request) { r.Nitrite, r.Rate = Typed(PPM(120)), Typed(Fraction(0.0025)) }},
		{StopTwoTargets, func(r *Request) { r.Agent, r.Nitrite = Typed(Agent{Kind: NoCure}), Typed(PPM(120)) }},
		{StopNotMethod, func(r *Request) { r.Method, r.Water = Typed(DryRub), Typed(Gram(3000)) }},
		{StopNotMethod, func(r *Request) { r.Method, r.Pump = Typed(DryRub), Typed(Fraction(0.1)) }},
		{StopNotCut, func(r *Request) { r.Cut, r.Method = "ground pork", Typed(DryRub) }},
		{StopBrine, func(r *Request) { r.Method, r.Salt = Typed(Injection), Typed(Fraction(0.03)) }},
		{StopCold, func(r *Request) { r.Temperature = Typed(Celsius(5.1)) }},
		{StopCold, func(r *Request) { r.Temperature = Typed(Celsius(-0.1)) }},
	} {
		r := belly(3200)
		one.change(&r)
		if stop := stopped(t, r); stop.Rule != one.rule {
			t.Errorf("want %s: %+v", one.rule, stop)
		}
	}
}

// TestScaleStop: 60 g of meat take 0.15 g of a 6.25 % cure for 156.25 ppm. On a 0.1 g scale
// that is 156 ± 85 ppm and held, on a 1 g scale ± 850 and no dose. (By hand: 2 × 0.408 of a
// division of 6.25 % nitrite on 60 g.)
func TestScaleStop(t *testing.T) {
	d := compute(t, belly(60))
	if math.Abs(float64(d.Band)-85) > 0.5 || d.level(CodeScaleBand) != Hold {
		t.Errorf("60 g on 0.1 g: ± %v ppm, %v", d.Band, d.Cautions)
	}
	closeTo(t, "0.1 g of it", float64(d.OnScale), 0.1*0.0625/60*1e6, 1e-9)
	blind := belly(60)
	blind.CureScale = Typed(Gram(1))
	stop := stopped(t, blind)
	if stop.Rule != StopScale || stop.Meat != 800 || stop.Scale != 0.05 {
		t.Errorf("60 g on 1 g: %+v", stop)
	}
	if d := compute(t, belly(80)); d.level(CodeScaleBand) != Warn {
		t.Errorf("80 g on 0.1 g: %v", d.Cautions)
	}
	fine := belly(60)
	fine.CureScale = Typed(Gram(0.01))
	if d := compute(t, fine); d.level(CodeScaleBand) != 0 {
		t.Errorf("60 g on 0.01 g: %v", d.Cautions)
	}
	// 100 g of pumped bacon on a 0.05 g scale: 0.192 g of cure can be seen, 0.055 g of ascorbate can't.
	pumped := belly(100)
	pumped.Method, pumped.CureScale = Typed(Injection), Typed(Gram(0.05))
	if stop := stopped(t, pumped); stop.Rule != StopScale || stop.What != "ascorbate" || stop.Scale != 0.02 {
		t.Errorf("100 g pumped: %+v", stop)
	}
}
