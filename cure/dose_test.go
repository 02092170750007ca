package cure

import (
	"slices"
	"testing"
	"time"
)

func (d Dose) weighs(item Item) float64 {
	for _, a := range d.Add {
		if a.Item == item {
			return float64(a.Weigh)
		}
	}
	return 0
}

func (d Dose) verdict(id string) Verdict {
	for _, c := range d.Limits {
		if c.Limit.ID == id {
			return c.Verdict
		}
	}
	return 0
}

func (d Dose) level(code string) Level {
	for _, c := range d.Cautions {
		if c.Code == code {
			return c.Level
		}
	}
	return 0
}

// TestBelly is the plainest dose: 0.25 % of a 6.25 % no. 1 and 2.5 % salt in all.
func TestBelly(t *testing.T) {
	r := belly(3200)
	r.Days = Typed(7 * day)
	d := compute(t, r)
	closeTo(t, "cure", d.weighs(CureItem), 8.0, 1e-9)
	closeTo(t, "salt to weigh", d.weighs(SaltItem), 72.5, 1e-9)
	closeTo(t, "salt in all", float64(d.SaltTotal), 80, 1e-9)
	closeTo(t, "salt in the cure", float64(d.SaltInCure), 7.5, 1e-9)
	closeTo(t, "nitrite", float64(d.Nitrite), 156.25, 1e-9)
	if d.Class != "bacon" || d.Basis != GreenMeat || d.verdict("us-bacon-dry-nitrite") != Under || d.Limits[0].Limit.Value != 200 {
		t.Errorf("%s on %v: %+v", d.Class, d.Basis, d.Limits)
	}
	if d.Time.PlanFor != 7*day || d.level(CodeCoreBehind) != 0 {
		t.Errorf("plan for %v", d.Time.PlanFor)
	}
	if r := d.Request; r.Agent.Origin != FromRule || r.Strength != FromRule || r.Salt.Origin != FromRule || r.Thickness.Origin != FromCut || r.Method.Origin != FromCut {
		t.Errorf("origins: %+v", r)
	}
}

// TestVerdicts: over is judged on the digit that the law prints; at is within one division.
func TestVerdicts(t *testing.T) {
	whole := Limit{Kind: "ingoing max", Value: 120}
	ion := Limit{Kind: "ingoing max", Value: 80, As: "NO2 ion"}
	required := Limit{Kind: "ingoing required", Value: 120}
	least := Limit{Kind: "ingoing min", Value: 120}
	for _, one := range []struct {
		limit    Limit
		got, div PPM
		want     Verdict
	}{
		{whole, 120.8, 0.1, Over}, {whole, 120.4, 0.1, At}, {whole, 119.95, 0.1, At}, {whole, 118, 0.1, Under}, {whole, 118, 2, At},
		{ion, 80.015, 0.1, At}, {ion, 80.6, 5, Over},
		{required, 120, 0.1, At}, {required, 121, 0.1, Over}, {required, 110, 1, BelowMin},
		{least, 156.25, 1, Met}, {least, 119, 1, At}, {least, 110, 1, BelowMin},
		{Limit{Kind: "residual max", Value: 200}, 0, 1, NotCheckable},
	} {
		if got := one.limit.verdict(one.got, one.div); got != one.want {
			t.Errorf("%s %v, got %v with a division of %v: %v, want %v", one.limit.Kind, one.limit.Value, one.got, one.div, got, one.want)
		}
	}
}

// TestRoundedDown: 1,234 g take 3.085 g of cure at the limit; 3.1 g would be 157 ppm.
func TestRoundedDown(t *testing.T) {
	d := compute(t, Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{1234}})
	closeTo(t, "weigh", d.weighs(CureItem), 3.0, 1e-9)
	if d.verdict("us-ground-nitrite") != At {
		t.Errorf("%+v", d.Limits)
	}
}

func TestSkinOn(t *testing.T) {
	r := belly(4000)
	r.SkinOn = Typed(true)
	d := compute(t, r) // 156.25 on the weight as it lies is 173.6 on 0.9 of it
	if d.Basis != GreenMeat || d.verdict("us-bacon-dry-nitrite") != Under {
		t.Errorf("%v: %+v", d.Basis, d.Limits)
	}
	closeTo(t, "cure", d.exact(CureItem), 10, 1e-9)
	closeTo(t, "less skin", float64(d.AsWeighed), 173.611, 0.0005)
	r.Method = Typed(Injection) // the legal figure itself: 120 on 0.9 of the weight
	d = compute(t, r)
	if d.Basis != GreenMeatLessSkin || d.verdict("us-bacon-pumped-nitrite") != At {
		t.Errorf("%v: %+v", d.Basis, d.Limits)
	}
	closeTo(t, "cure", d.exact(CureItem), 120e-6*3600/0.0625, 1e-9)
	closeTo(t, "as it lies", float64(d.AsWeighed), 108, 1e-9)
	closeTo(t, "ascorbate", d.exact(AscorbateItem), 550e-6*3600, 1e-9)
	r.Nitrite = Typed(PPM(115)) // not the legal figure: on the weight as it lies, 127.8 less skin
	if stop := stopped(t, r); stop.Limit.ID != "us-bacon-pumped-nitrite" {
		t.Errorf("%+v", stop)
	}
}

// TestOnePickle: injection and cover with the same pickle. The pumped meat holds target ×
// (1 + pump) on its green weight.
func TestOnePickle(t *testing.T) {
	r := belly(4000)
	r.Cover = Typed(Gram(4000))
	d := compute(t, r)
	closeTo(t, "target", float64(d.Nitrite), 120/1.1, 1e-9)
	closeTo(t, "basis", float64(d.BasisMass), 8400, 1e-9)
	if d.verdict("us-bacon-pumped-nitrite") != At || d.verdict("us-bacon-immersed-nitrite") != Under {
		t.Errorf("%+v", d.Limits)
	}
	total := 0.0
	for _, a := range d.PerKilo {
		total += float64(a.Exact)
	}
	closeTo(t, "a kilo of pickle", total, 1000, 1e-6)
}

// TestKiloRoundedDown: 200 ppm at a 15.5 % pump are 20.645 g of a 6.25 % cure in a kilogram
// of pickle. On a scale of 0.5 g the nearest, 20.5, is under; at 15.3 %, 20.915 g go to 21.0,
// which is 200.8 ppm, over, and so to 20.5.
func TestKiloRoundedDown(t *testing.T) {
	r := Request{Region: in("us"), Cut: "boneless ham", Pieces: []Gram{6000}, Nitrite: Typed(PPM(200)), CureScale: Typed(Gram(0.5))}
	for pump, want := range map[Fraction]float64{0.155: 20.5, 0.153: 20.5} {
		r.Pump = Typed(pump)
		closeTo(t, "cure in a kilo of pickle", float64(compute(t, r).PerKilo[0].Weigh), want, 1e-9)
	}
}

func TestSaltFloats(t *testing.T) {
	r := Request{Region: in("us"), Cut: "beef brisket", Pieces: []Gram{2600}, Method: Typed(DryRub), Agent: agentOf(0.6)}
	d := compute(t, r)
	closeTo(t, "salt %", 100*float64(d.Salt), 2.59, 0.005)
	if d.weighs(SaltItem) != 0 || d.level(CodeFloated) != Note || d.Request.Salt.Value != d.Salt {
		t.Errorf("%+v %+v", d.Add, d.Cautions)
	}
	r.Agent = agentOf(0.5) // 31.25 g a kilo: 3.11 %, above the 3 % to which a rule's salt floats
	if stop := stopped(t, r); stop.Rule != StopCoupled {
		t.Errorf("%+v", stop)
	}
	// A pickle can't hold 2.5 % of the pumped weight at a 10 % pump: 27.5 g in 100 g.
	d = compute(t, Request{Region: in("us"), Cut: "boneless ham", Pieces: []Gram{6000}})
	if d.level(CodeSaltLowered) != Note || d.level(CodeStrongBrine) != 0 || d.weighs(WaterItem) <= 0 {
		t.Errorf("%+v %+v", d.Add, d.Cautions)
	}
}

func TestCautions(t *testing.T) {
	for _, one := range []struct {
		name  string
		r     Request
		code  string
		level Level
	}{
		{"strength", belly(3200), CodeStrength, Note},
		{"low", Request{Salt: Typed(Fraction(0.01))}, CodeSaltLow, Warn},
		{"high", Request{Salt: Typed(Fraction(0.05))}, CodeSaltHigh, Warn},
		{"band", belly(200), CodeScaleBand, Warn}, // 0.5 g on a 0.1 g scale
		{"below", Request{Nitrite: Typed(PPM(80))}, CodeBelowMin, Hold},
		{"at", Request{Nitrite: Typed(PPM(200))}, CodeAtLimit, Note},
		{"warm", Request{Temperature: Typed(Celsius(4.6))}, CodeWarm, Warn},
		{"bare", Request{Agent: Typed(Agent{Kind: NoCure})}, CodeNoCure, Warn},
		{"bare and raw", Request{Agent: Typed(Agent{Kind: NoCure}), Heated: Typed(false)}, CodeNoCure, Hold},
		{"behind", Request{Days: Typed(2 * day)}, CodeCoreBehind, Warn},
		{"behind and raw", Request{Days: Typed(2 * day), Heated: Typed(false)}, CodeCoreBehind, Hold},
		{"long", Request{Days: Typed(40 * day)}, CodeLongHanging, Note},
		{"poultry", Request{Cut: "duck breast"}, CodePoultry, Note},
		{"game", Request{Cut: "ground venison"}, CodeGame, Warn},
		{"needles", Request{Method: Typed(Injection)}, CodeNeedles, Note},
		{"residual", Request{Cut: "beef brisket", Method: Typed(DryRub)}, CodeResidual, Note},
		{"accelerator", Request{Cut: "ground pork", Ascorbate: Typed(PPM(600))}, CodeUnverified, Hold},
		{"little ascorbate", Request{Cut: "ground pork", Ascorbate: Typed(PPM(100))}, CodeAscorbate, Warn},
	} {
		r := one.r
		r.Region = in("us")
		if r.Cut == "" {
			r.Cut = "pork belly"
		}
		if r.Pieces == nil {
			r.Pieces = []Gram{3200}
		}
		if d := compute(t, r); d.level(one.code) != one.level {
			t.Errorf("%s: want %q at %v: %+v", one.name, one.code, one.level, d.Cautions)
		}
	}
}

func TestPlan(t *testing.T) {
	r := belly(3200)
	r.Days, r.SkinOn = Typed(7*day), Typed(true)
	d := compute(t, r)
	if d.Time.PlanFor <= 7*day || d.Time.PlanFor%day != 0 || d.Time.PlanFor < d.Time.To.Likely || !d.Time.RuleUnsafe {
		t.Errorf("skin on, 7 days: %+v", d.Time)
	}
	off := compute(t, belly(3200))
	// One face: four times as long, to a rounding of nanoseconds.
	closeTo(t, "skin on", d.Time.To.Likely.Hours(), 4*off.Time.To.Likely.Hours(), 1e-6)
	warm := belly(3200)
	warm.Temperature = Typed(Celsius(5))
	if compute(t, warm).Time.To.Likely >= off.Time.To.Likely {
		t.Error("warmer is not faster")
	}
	if g := compute(t, Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{1000}}); g.Time.Criterion || g.Time.PlanFor <= 0 {
		t.Errorf("ground: %+v", g.Time)
	}
}

func TestSteps(t *testing.T) {
	kinds := func(d Dose) (all []string) {
		last := time.Duration(0)
		for _, s := range Steps(d) {
			if s.After < last {
				t.Errorf("%s comes before what it follows", s.Kind)
			}
			last = s.After
			all = append(all, s.Kind)
		}
		return all
	}
	// The order after the cure, rest, pellicle, smoke: common practice, no source. Two checks of
	// the cooling and the date: FDA Food Code 3-501.14 and 3-501.17, from memory.
	cooled := []string{"chill check", "chill", "use by"}
	smoked := append([]string{"take out", "rinse", "rest", "pellicle", "smoke"}, cooled...)
	r := belly(3200)
	r.Days = Typed(7 * day)
	if got := kinds(compute(t, r)); !slices.Equal(got, append([]string{"turn", "turn", "turn", "turn", "turn", "turn"}, smoked...)) {
		t.Errorf("dry rub: %v", got)
	}
	r.Days = Typed(21 * day) // every third day, the last on day 18
	if got := kinds(compute(t, r)); len(got) != 6+len(smoked) || got[5] != "turn" || got[6] != "take out" {
		t.Errorf("a long dry rub: %v", got)
	}
	r.Method, r.Days = Typed(Injection), Given[time.Duration]{}
	if got := kinds(compute(t, r)); !slices.Equal(got, smoked) {
		t.Errorf("injection: %v", got)
	}
	if got := kinds(compute(t, Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{1000}})); !slices.Equal(got, append([]string{"rest", "cook"}, cooled...)) {
		t.Errorf("ground: %v", got)
	}
}

func BenchmarkCompute(b *testing.B) {
	week := belly(3200)
	week.Days = Typed(7 * day)
	brine := Request{Region: in("us"), Cut: "beef brisket", Pieces: []Gram{2000}, Water: Typed(Gram(3000)), Days: Typed(10 * day)}
	for _, one := range []struct {
		name string
		r    Request
	}{
		{"belly, dry rub", week},
		{"coppa, dry rub", Request{Region: in("us"), Cut: "coppa", Pieces: []Gram{2000}}},
		{"brisket, cover brine", brine},
	} {
		b.Run(one.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Compute(one.r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
