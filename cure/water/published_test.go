package water

import (
	"math"
	"testing"

	"salthand/cure"
	"salthand/cure/published"
)

func share(l published.Line, column string) cure.Fraction {
	return cure.Fraction(l.Number(column) / 100)
}

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

// may is NaCl at 25 °C by another fit, the second way for the set that runs with temperature.
// Source: May et al., J. Chem. Eng. Data 2011 (10.1021/je2009329).
var may = electrolyte{0.07831, 0.2677, 0.000864}

// slope25 is the slope at 25 °C as the rows were worked out with; slope comes to 0.39145.
const slope25 = 0.3914

// besideMay is how far the two sets lie apart at 25 °C in water activity: below 5 mol/kg, and
// up to the end of the range.
func besideMay(m float64) float64 {
	if m <= 5 {
		return 0.00026
	}
	return 0.0009
}

func TestSaltByMolality(t *testing.T) {
	for _, l := range published.Lines(t, "water_molality.csv") {
		m := Molality(l.Number("molality"))
		l.Near(100*float64(m.Share()), l.Number("salt_pct"), l.Digit("salt_pct"))
		l.Near(100*float64(m.PerWater()), l.Number("g_100g_water"), l.Digit("g_100g_water"))
		l.Near(may.activity(float64(m), slope25), l.Number("aw_25"), l.Digit("aw_25"))
		l.Near(float64(must(m.Activity(25))(t)), l.Number("aw_25"), l.Digit("aw_25")+besideMay(float64(m)))
	}
	for _, l := range published.Lines(t, "water_robinson.csv") {
		m := Molality(l.Number("molality"))
		tolerance := 0.0003
		if m > 5 {
			tolerance = 0.0009
		}
		l.Near(float64(must(m.Activity(25))(t)), l.Number("aw"), tolerance)
		l.Near(saltAt(25).osmotic(float64(m), slope(25)), l.Number("osmotic"), 0.004)
		l.Near(math.Exp(-waterMol*2*float64(m)*l.Number("osmotic")), l.Number("aw"), l.Digit("aw")+waterMol*2*float64(m)*l.Number("tolerance"))
	}
}

func TestSaltByPercent(t *testing.T) {
	for _, l := range published.Lines(t, "water_percent.csv") {
		x := share(l, "salt_pct")
		m := Salt(x)
		l.Near(100*float64(m.PerWater()), l.Number("g_100g_water"), l.Digit("g_100g_water"))
		l.Near(may.activity(float64(m), slope25), l.Number("aw_25"), l.Digit("aw_25"))
		l.Near(float64(must(Solution{x, 25}.Activity())(t)), l.Number("aw_25"), l.Digit("aw_25")+besideMay(float64(m)))
		l.Near(float64(must(Solution{x, 5}.Activity())(t)), l.Number("aw_5"), l.Digit("aw_5"))
	}
	for _, l := range published.Lines(t, "water_cubic.csv") {
		m := l.Number("g_100g_water") * 10 / saltMass
		l.Near(may.activity(m, slope25), l.Number("aw"), l.Number("tolerance"))
		l.Near(float64(must(Molality(m).Activity(25))(t)), l.Number("aw"), l.Number("tolerance")+besideMay(m))
	}
	// A simple cubic is a second way over all of the range.
	for s := 0.0; s <= 35.9; s += 0.1 {
		cubic := 1 - 5.418130e-3*s - 3.866352e-5*s*s - 6.267307e-8*s*s*s
		m := s * 10 / saltMass
		if aw := may.activity(m, slope25); math.Abs(aw-cubic) > 0.00041 {
			t.Errorf("%g g to 100 g: %g, by the cubic %g", s, aw, cubic)
		}
	}
}

func TestSlope(t *testing.T) {
	for _, l := range published.Lines(t, "water_slope.csv") {
		l.Near(slope(l.Number("celsius")), l.Number("slope"), l.Number("tolerance"))
	}
}

// Freezing points of brines, a third way: ice and brine have the same activity there. The
// parameters are read at 0 °C, so only brines are taken that freeze near it.
func TestSaltByFreezing(t *testing.T) {
	for _, l := range published.Lines(t, "brine_freezing.csv") {
		from := cure.Celsius(l.Number("celsius"))
		if from < -5 {
			continue
		}
		ice := must(Frozen(from))(t)
		l.Near(float64(must(Solution{share(l, "salt_pct"), 0}.Activity())(t)), float64(ice), 0.001)
	}
	for _, l := range published.Lines(t, "water_frozen.csv") {
		l.Near(float64(must(Frozen(cure.Celsius(l.Number("celsius"))))(t)), l.Number("aw"), l.Number("tolerance"))
	}
}

var standardNames = map[string]Standard{"NaCl": TableSalt, "KCl": PotassiumChloride, "NaNO3": SodiumNitrate}

func TestStandard(t *testing.T) {
	for _, l := range published.Lines(t, "water_standard.csv") {
		s, ok := standardNames[l.Cell["salt"]]
		if !ok {
			t.Fatal(l.Cell)
		}
		l.Near(float64(must(s.Activity(cure.Celsius(l.Number("celsius"))))(t)), l.Number("aw"), l.Number("tolerance"))
	}
	// Pitzer's equation at saturation is the second way.
	full := float64(must(MostSalt.Activity(25))(t))
	if s := float64(must(TableSalt.Activity(25))(t)); math.Abs(s-full) > 0.003 {
		t.Errorf("saturated: %g, by Pitzer %g", s, full)
	}
}

var soluteNames = map[string]Solute{
	"sucrose": Sucrose, "dextrose": Dextrose, "fructose": Fructose, "lactose": Lactose, "maltose": Maltose,
	"glycerol": Glycerol, "erythritol": Erythritol, "xylitol": Xylitol, "sorbitol": Sorbitol, "mannitol": Mannitol,
}

func TestSugar(t *testing.T) {
	seen := 0
	for _, l := range published.Lines(t, "water_norrish.csv") {
		seen++
		l.Near(sweet[soluteNames[l.Cell["solute"]]].k, l.Number("k"), l.Number("tolerance"))
	}
	if seen != int(solutes) {
		t.Errorf("%d of %d solutes", seen, solutes)
	}
	for _, l := range published.Lines(t, "water_sugar.csv") {
		s := soluteNames[l.Cell["solute"]]
		l.Near(float64(must(s.Activity(Molality(l.Number("molality"))))(t)), l.Number("aw"), l.Number("tolerance"))
	}
	for _, l := range published.Lines(t, "water_mixed.csv") {
		s, water := soluteNames[l.Cell["solute"]], 70.0
		salt := l.Number("salt_g") / water * inKilo / saltMass
		sugar := l.Number("sugar_g") / (l.Number("sugar_g") + water)
		got := Ross(Activity(may.activity(salt, slope25)), must(s.Activity(s.Molality(cure.Fraction(sugar))))(t))
		l.Near(float64(got), l.Number("aw"), l.Number("tolerance"))
		m := Meat{Salt: cure.Fraction(l.Number("salt_g") / 100), Water: 0.7, Sugar: cure.Fraction(l.Number("sugar_g") / 100), Sweet: s, At: 25}
		l.Near(float64(must(m.Activity())(t).High), l.Number("aw"), l.Number("tolerance")+besideMay(salt))
	}
}

// Nitrite at the strength of a cure does nothing to water activity, so that nothing here asks
// for it.
func TestNitriteDoesNothing(t *testing.T) {
	nitrite := electrolyte{0.05978, 0.144, -0.00422}
	for _, l := range published.Lines(t, "water_nitrite.csv") {
		m := l.Number("mg_kg") / 1000 / 0.7 / 68.995
		l.Near(nitrite.activity(m, slope25), l.Number("factor"), l.Number("tolerance"))
	}
}

func TestPhase(t *testing.T) {
	for _, l := range published.Lines(t, "water_phase.csv") {
		m := Meat{Salt: share(l, "salt_pct"), Water: share(l, "water_pct")}
		l.Near(100*float64(must(m.Phase())(t)), l.Number("phase_pct"), l.Digit("phase_pct"))
		l.Near(100*float64(must(m.PerWater())(t)), l.Number("g_100g_water"), l.Digit("g_100g_water"))
	}
}

func TestMeat(t *testing.T) {
	for _, l := range published.Lines(t, "water_meat.csv") {
		m := must(Raw{Water: 0.70, Protein: 0.20, Salt: share(l, "salt_pct"), Loss: share(l, "loss_pct"), At: 25}.Dried())(t)
		pick := func(b Band) float64 {
			if l.Cell["bound"] == "high" {
				return float64(b.High)
			}
			return float64(b.Likely)
		}
		l.Near(pick(m.by(may, slope25)), l.Number("aw"), l.Number("tolerance"))
		l.Near(pick(must(m.Activity())(t)), l.Number("aw"), 0.0004)
	}
	const sodium = 2.5421 // g of NaCl to a g of sodium; Salt Institute: 39.337 %
	for _, l := range published.Lines(t, "water_product.csv") {
		m := Meat{Salt: cure.Fraction(l.Number("sodium_mg") * sodium / 1e5), Water: share(l, "water_pct"), Protein: share(l, "protein_pct"), At: 25}
		b := m.by(may, slope25)
		l.Near(float64(b.High), l.Number("high"), l.Number("tolerance"))
		l.Near(float64(b.Likely), l.Number("likely"), l.Number("tolerance"))
		if l.Cell["reported_low"] == "" {
			continue
		}
		if float64(b.High) < l.Number("reported_low") || float64(b.Low) > l.Number("reported_high") {
			t.Errorf("%v: the band %v misses what is reported", l.Cell, b)
		}
		if float64(b.Likely) < l.Number("reported_low") || float64(b.Likely) > l.Number("reported_high") {
			t.Errorf("%v: %v lies outside what is reported", l.Cell, b.Likely)
		}
	}
}
