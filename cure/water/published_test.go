package water

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"salthand/cure"
	"salthand/cure/published"
)

// line is a row of a published table.
type line struct {
	t    *testing.T
	name string
	cell map[string]string
}

// linesOf reads a table of testdata/published.
func linesOf(t *testing.T, name string) (lines []line) {
	t.Helper()
	for _, row := range published.Rows(t, name) {
		lines = append(lines, line{t: t, name: name, cell: row})
	}
	return lines
}

func (l line) number(column string) float64 {
	l.t.Helper()
	x, err := strconv.ParseFloat(l.cell[column], 64)
	if err != nil {
		l.t.Fatalf("%s %v: %v", l.name, l.cell, err)
	}
	return x
}

func (l line) share(column string) cure.Fraction { return cure.Fraction(l.number(column) / 100) }

// digit is half the last digit of a cell.
func (l line) digit(column string) float64 {
	_, after, _ := strings.Cut(l.cell[column], ".")
	return 0.5 * math.Pow(10, -float64(len(after)))
}

func (l line) near(got, want, tolerance float64) {
	l.t.Helper()
	if !(math.Abs(got-want) <= tolerance*1.0001+1e-15) {
		l.t.Errorf("%s %v: got %.9g, want %.9g ± %g", l.name, l.cell, got, want, tolerance)
	}
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
	for _, l := range linesOf(t, "water_molality.csv") {
		m := Molality(l.number("molality"))
		l.near(100*float64(m.Share()), l.number("salt_pct"), l.digit("salt_pct"))
		l.near(100*float64(m.PerWater()), l.number("g_100g_water"), l.digit("g_100g_water"))
		l.near(may.activity(float64(m), slope25), l.number("aw_25"), l.digit("aw_25"))
		l.near(float64(must(m.Activity(25))(t)), l.number("aw_25"), l.digit("aw_25")+besideMay(float64(m)))
	}
	for _, l := range linesOf(t, "water_robinson.csv") {
		m := Molality(l.number("molality"))
		tolerance := 0.0003
		if m > 5 {
			tolerance = 0.0009
		}
		l.near(float64(must(m.Activity(25))(t)), l.number("aw"), tolerance)
		l.near(saltAt(25).osmotic(float64(m), slope(25)), l.number("osmotic"), 0.004)
		l.near(math.Exp(-waterMol*2*float64(m)*l.number("osmotic")), l.number("aw"), l.digit("aw")+waterMol*2*float64(m)*l.number("tolerance"))
	}
}

func TestSaltByPercent(t *testing.T) {
	for _, l := range linesOf(t, "water_percent.csv") {
		x := l.share("salt_pct")
		m := Salt(x)
		l.near(100*float64(m.PerWater()), l.number("g_100g_water"), l.digit("g_100g_water"))
		l.near(may.activity(float64(m), slope25), l.number("aw_25"), l.digit("aw_25"))
		l.near(float64(must(Solution{x, 25}.Activity())(t)), l.number("aw_25"), l.digit("aw_25")+besideMay(float64(m)))
		l.near(float64(must(Solution{x, 5}.Activity())(t)), l.number("aw_5"), l.digit("aw_5"))
	}
	for _, l := range linesOf(t, "water_cubic.csv") {
		m := l.number("g_100g_water") * 10 / saltMass
		l.near(may.activity(m, slope25), l.number("aw"), l.number("tolerance"))
		l.near(float64(must(Molality(m).Activity(25))(t)), l.number("aw"), l.number("tolerance")+besideMay(m))
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
	for _, l := range linesOf(t, "water_slope.csv") {
		l.near(slope(l.number("celsius")), l.number("slope"), l.number("tolerance"))
	}
}

// Freezing points of brines, a third way: ice and brine have the same activity there. The
// parameters are read at 0 °C, so only brines are taken that freeze near it.
func TestSaltByFreezing(t *testing.T) {
	for _, l := range linesOf(t, "brine_freezing.csv") {
		from := cure.Celsius(l.number("celsius"))
		if from < -5 {
			continue
		}
		ice := must(Frozen(from))(t)
		l.near(float64(must(Solution{l.share("salt_pct"), 0}.Activity())(t)), float64(ice), 0.001)
	}
	for _, l := range linesOf(t, "water_frozen.csv") {
		l.near(float64(must(Frozen(cure.Celsius(l.number("celsius"))))(t)), l.number("aw"), l.number("tolerance"))
	}
}

var standardNames = map[string]Standard{"NaCl": TableSalt, "KCl": PotassiumChloride, "NaNO3": SodiumNitrate}

func TestStandard(t *testing.T) {
	for _, l := range linesOf(t, "water_standard.csv") {
		s, ok := standardNames[l.cell["salt"]]
		if !ok {
			t.Fatal(l.cell)
		}
		l.near(float64(must(s.Activity(cure.Celsius(l.number("celsius"))))(t)), l.number("aw"), l.number("tolerance"))
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
	for _, l := range linesOf(t, "water_norrish.csv") {
		seen++
		l.near(sweet[soluteNames[l.cell["solute"]]].k, l.number("k"), l.number("tolerance"))
	}
	if seen != int(solutes) {
		t.Errorf("%d of %d solutes", seen, solutes)
	}
	for _, l := range linesOf(t, "water_sugar.csv") {
		s := soluteNames[l.cell["solute"]]
		l.near(float64(must(s.Activity(Molality(l.number("molality"))))(t)), l.number("aw"), l.number("tolerance"))
	}
	for _, l := range linesOf(t, "water_mixed.csv") {
		s, water := soluteNames[l.cell["solute"]], 70.0
		salt := l.number("salt_g") / water * inKilo / saltMass
		sugar := l.number("sugar_g") / (l.number("sugar_g") + water)
		got := Ross(Activity(may.activity(salt, slope25)), must(s.Activity(s.Molality(cure.Fraction(sugar))))(t))
		l.near(float64(got), l.number("aw"), l.number("tolerance"))
		m := Meat{Salt: cure.Fraction(l.number("salt_g") / 100), Water: 0.7, Sugar: cure.Fraction(l.number("sugar_g") / 100), Sweet: s, At: 25}
		l.near(float64(must(m.Activity())(t).High), l.number("aw"), l.number("tolerance")+besideMay(salt))
	}
}

// Nitrite at the strength of a cure does nothing to water activity, so that nothing here asks
// for it.
func TestNitriteDoesNothing(t *testing.T) {
	nitrite := electrolyte{0.05978, 0.144, -0.00422}
	for _, l := range linesOf(t, "water_nitrite.csv") {
		m := l.number("mg_kg") / 1000 / 0.7 / 68.995
		l.near(nitrite.activity(m, slope25), l.number("factor"), l.number("tolerance"))
	}
}

func TestPhase(t *testing.T) {
	for _, l := range linesOf(t, "water_phase.csv") {
		m := Meat{Salt: l.share("salt_pct"), Water: l.share("water_pct")}
		l.near(100*float64(must(m.Phase())(t)), l.number("phase_pct"), l.digit("phase_pct"))
		l.near(100*float64(must(m.PerWater())(t)), l.number("g_100g_water"), l.digit("g_100g_water"))
	}
}

func TestMeat(t *testing.T) {
	for _, l := range linesOf(t, "water_meat.csv") {
		m := must(Raw{Water: 0.70, Protein: 0.20, Salt: l.share("salt_pct"), Loss: l.share("loss_pct"), At: 25}.Dried())(t)
		pick := func(b Band) float64 {
			if l.cell["bound"] == "high" {
				return float64(b.High)
			}
			return float64(b.Likely)
		}
		l.near(pick(m.by(may, slope25)), l.number("aw"), l.number("tolerance"))
		l.near(pick(must(m.Activity())(t)), l.number("aw"), 0.0004)
	}
	const sodium = 2.5421 // g of NaCl to a g of sodium; Salt Institute: 39.337 %
	for _, l := range linesOf(t, "water_product.csv") {
		m := Meat{Salt: cure.Fraction(l.number("sodium_mg") * sodium / 1e5), Water: l.share("water_pct"), Protein: l.share("protein_pct"), At: 25}
		b := m.by(may, slope25)
		l.near(float64(b.High), l.number("high"), l.number("tolerance"))
		l.near(float64(b.Likely), l.number("likely"), l.number("tolerance"))
		if l.cell["reported_low"] == "" {
			continue
		}
		if float64(b.High) < l.number("reported_low") || float64(b.Low) > l.number("reported_high") {
			t.Errorf("%v: the band %v misses what is reported", l.cell, b)
		}
		if float64(b.Likely) < l.number("reported_low") || float64(b.Likely) > l.number("reported_high") {
			t.Errorf("%v: %v lies outside what is reported", l.cell, b.Likely)
		}
	}
}
