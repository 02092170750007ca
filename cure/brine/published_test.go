package brine

import (
	"errors"
	"math"
	"testing"

	"salthand/cure"
	"salthand/cure/published"
)

// must is a value that has to be there.
func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// on is a reading of a brine of w %.
func on(t *testing.T, s Scale, w float64) float64 {
	t.Helper()
	return must(On(s, cure.Fraction(w/100)))(t).Number
}

// beyondFit is what a measured density may lie beside the fit, kg/m³: the largest residual of
// the 1974 table where that is fitted; its agreement with other measurements elsewhere.
func beyondFit(l published.Line) float64 {
	switch {
	case l.Cell["seen"] == "computed":
		return 0
	case l.Cell["seen"] == "text":
		return 0.06
	}
	return 0.2
}

func TestDensity(t *testing.T) {
	for _, l := range published.Lines(t, "brine_density.csv") {
		rho := must(DensityOf(cure.Fraction(l.Number("salt_pct")/100), cure.Celsius(l.Number("celsius"))))(t)
		l.Near(float64(rho), l.Number("density"), l.Number("tolerance")+beyondFit(l))
	}
	const molarMass = 58.454 // g/mol, of the atomic weights in use before 1961, which the table fits (from memory)
	for _, l := range published.Lines(t, "brine_molarity.csv") {
		w := l.Number("salt_pct")
		rho := must(DensityOf(cure.Fraction(w/100), 20))(t)
		l.Near(float64(rho)*w/100/molarMass, l.Number("molarity"), l.Number("tolerance")+0.06*w/100/molarMass)
	}
}

// The second way: specific volumes, another measurement, at temperatures of the fits and, by a
// parabola through three of them, half-way between.
func TestDensityBySpecificVolume(t *testing.T) {
	const molarMass = 58.4428
	volume := map[float64]map[float64]float64{}
	for _, l := range published.Lines(t, "brine_volume.csv") {
		m, celsius, v := l.Number("molality"), l.Number("celsius"), l.Number("volume")
		if volume[m] == nil {
			volume[m] = map[float64]float64{}
		}
		volume[m][celsius] = v
		share := m * molarMass / (1000 + m*molarMass)
		rho := must(DensityOf(cure.Fraction(share), cure.Celsius(celsius)))(t)
		l.Near(float64(rho), 1000/v, 0.22) // the worst is 5 mol/kg at 10 °C, the table of 1974 beside this one
	}
	for m, v := range volume {
		share := m * molarMass / (1000 + m*molarMass)
		for at, parabola := range map[float64]float64{
			5:  (3*v[0] + 6*v[10] - v[20]) / 8,
			15: (-v[0] + 6*v[10] + 3*v[20]) / 8,
		} {
			rho := must(DensityOf(cure.Fraction(share), cure.Celsius(at)))(t)
			if d := float64(rho) - 1000/parabola; math.Abs(d) > 0.2 {
				t.Errorf("%g mol/kg at %g °C: %g kg/m³ beside the parabola", m, at, d)
			}
		}
	}
}

func TestScales(t *testing.T) {
	columns := map[string]Scale{
		"gravity": Gravity, "baume": Baume, "g_l_brine": GramsPerLitreOfBrine, "g_l_water": GramsPerLitreOfWater,
		"lb_usgal_water": PoundsPerUSGallonOfWater, "lb_usgal_brine": PoundsPerUSGallonOfBrine,
		"lb_impgal_water": PoundsPerImpGallonOfWater, "salt_pct": PercentOfBrine, "salometer": Salometer,
	}
	for _, l := range published.Lines(t, "brine_scales.csv") {
		x := must(Reading{l.Number("salometer"), Salometer}.Salt())(t)
		for column, scale := range columns {
			r := must(On(scale, x))(t)
			l.Near(r.Number, l.Number(column), l.Digit(column))
			back := must(r.Salt())(t)
			l.Near(float64(back), float64(x), 1e-12)
		}
		l.Near(float64(must(Swell(x))(t)), l.Number("swell"), l.Digit("swell"))
	}
	for _, l := range published.Lines(t, "brine_points.csv") {
		x := must(Reading{l.Number("salometer"), Salometer}.Salt())(t)
		l.Near(must(On(columns[l.Cell["scale"]], x))(t).Number, l.Number("value"), l.Number("tolerance"))
	}
}

// The trade's table, within its own agreement of 0.3 %.
func TestTraining(t *testing.T) {
	for _, l := range published.Lines(t, "brine_training.csv") {
		x := must(Reading{l.Number("salometer"), Salometer}.Salt())(t)
		w, share := 100*float64(x), l.Number("tolerance")
		rho := must(DensityOf(x, 20))(t)
		for column, got := range map[string]float64{
			"salt_pct": w, "g_l_water": on(t, GramsPerLitreOfWater, w), "g_l_brine": on(t, GramsPerLitreOfBrine, w),
			"density": float64(rho),
		} {
			l.Near(got, l.Number(column), share*l.Number(column))
		}
		l.Near(float64(must(Swell(x))(t)), l.Number("swell"), 0.01) // printed cut off, not rounded
	}
}

func TestHydrometer(t *testing.T) {
	for _, l := range published.Lines(t, "brine_hydrometer.csv") {
		x := must(Reading{l.Number("salometer"), Salometer}.Salt())(t)
		reads := func(column string) float64 {
			return float64(must(Usual.Reads(x, cure.Celsius((l.Number(column)-32)/1.8)))(t))
		}
		l.Near(reads("fahrenheit")-reads("from_f"), l.Number("rise"), l.Number("tolerance"))
	}
}

func TestSaturation(t *testing.T) {
	for _, l := range published.Lines(t, "brine_saturation.csv") {
		x := 100 * float64(must(Saturated(cure.Celsius(l.Number("celsius"))))(t))
		if l.Cell["unit"] == "g_100g_water" {
			x = 100 * x / (100 - x)
		}
		l.Near(x, l.Number("value"), l.Number("tolerance"))
	}
	// The second way: a cubic through the rows from 0.1 to 100 °C, largest residual 0.046.
	for c := 0.1; c <= 100; c += 0.7 {
		cubic := 26.3165 + 0.00156091*c + 2.39013e-4*c*c - 7.48546e-7*c*c*c
		if x := 100 * float64(must(Saturated(cure.Celsius(c)))(t)); math.Abs(x-cubic) > 0.06 {
			t.Errorf("%g °C: %g %%, by the cubic %g %%", c, x, cubic)
		}
	}
}

func TestFreezing(t *testing.T) {
	for _, l := range published.Lines(t, "brine_freezing.csv") {
		x := cure.Fraction(l.Number("salt_pct") / 100)
		l.Near(float64(must(Freezing(x))(t)), l.Number("celsius"), l.Number("tolerance"))
	}
}

func TestBalance(t *testing.T) {
	for _, l := range published.Lines(t, "brine_balance.csv") {
		tub := Tub{
			Meat: cure.Gram(l.Number("meat_g")), Wet: cure.Fraction(l.Number("wet")),
			Water: cure.Gram(l.Number("water_g")), Solute: cure.Gram(l.Number("salt_g")),
		}
		b := must(tub.Balance())(t)
		l.Near(100*float64(b.MeatAndWater), 2, 1e-12)
		l.Near(100*float64(b.InWater), l.Number("in_water_g_100g"), l.Digit("in_water_g_100g"))
		l.Near(100*float64(b.ByWater), l.Number("by_water_pct"), l.Digit("by_water_pct"))
		tub.Solute = must(tub.Needs(150e-6, ByMeatAndWater))(t)
		l.Near(1e6*float64(must(tub.Balance())(t).ByWater), l.Number("ppm"), l.Digit("ppm"))
	}
	rules := map[string]Rule{"by water": ByTheWater, "method two": ByMethodTwo}
	for _, l := range published.Lines(t, "brine_needs.csv") {
		tub := Tub{
			Meat: cure.Gram(l.Number("meat_g")), Wet: cure.Fraction(l.Number("wet")),
			Water: cure.Gram(l.Or0("water_g")), Pickle: cure.Gram(l.Or0("pickle_g")),
		}
		rule, ok := rules[l.Cell["rule"]]
		if !ok {
			t.Fatal(l.Cell)
		}
		got := must(tub.Needs(cure.Fraction(l.Number("target")), rule))(t)
		l.Near(float64(got), l.Number("solute_g"), l.Number("tolerance"))
	}
	for _, l := range published.Lines(t, "brine_methods.csv") {
		pickle := cure.Gram(l.Number("pickle_g"))
		b := must(Tub{
			Meat: cure.Gram(l.Number("meat_g")), Wet: 0.7, Water: pickle / 2, Pickle: pickle,
			Solute: cure.Gram(l.Number("nitrite_g")), PickUp: cure.Fraction(l.Or0("pick_up")),
		}.Balance())(t)
		got := b.MethodTwo
		if l.Cell["method"] == "method one" {
			got = b.MethodOne
		}
		l.Near(1e6*float64(got), l.Number("ppm"), l.Number("tolerance"))
	}
}

func outOfRange(t *testing.T, what What, err error) {
	t.Helper()
	var e *OutOfRange
	if !errors.As(err, &e) || e.What != what {
		t.Errorf("not out of range for its %s: %v", what, err)
	}
}
