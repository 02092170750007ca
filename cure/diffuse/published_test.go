package diffuse

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"salthand/cure/published"
)

var shapes = map[string]Shape{"slab": Slab, "cylinder": Cylinder, "sphere": Sphere}

func limitedOf(t *testing.T, s Shape, alpha float64) *Model {
	t.Helper()
	m, err := Limited(s, Ratio(alpha))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func cappedOf(t *testing.T, s Shape, fill float64) *Model {
	t.Helper()
	m, err := Capped(s, Ratio(fill))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// modelOf is the model that a row names by its boundary, alpha and fill.
func modelOf(t *testing.T, s Shape, row map[string]string) *Model {
	t.Helper()
	switch row["boundary"] {
	case "constant":
		return Constant(s)
	case "bath":
		return limitedOf(t, s, published.Number(t, row["alpha"]))
	case "capped":
		return cappedOf(t, s, published.Number(t, row["fill"]))
	case "source":
		return cappedOf(t, s, 0)
	}
	t.Fatalf("no boundary %q", row["boundary"])
	return nil
}

func timeTo(t *testing.T, m *Model, share float64) Tau {
	t.Helper()
	tau, err := m.TimeTo(Ratio(share))
	if err != nil {
		t.Fatal(err)
	}
	return tau
}

// TestChecks compares every row of diffusion_checks.json: mpmath with 25 to 40 digits.
func TestChecks(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "published", "diffusion_checks.json"))
	if err != nil {
		t.Fatal(err)
	}
	var checks struct {
		Roots   map[string]map[string][]float64
		Limited []struct {
			Geom                       string
			Alpha, Tau, Uptake, Centre float64
		} `json:"limited_volume"`
		Constant []struct {
			Tau                    float64
			Slab, Cylinder, Sphere [2]float64
		} `json:"constant_surface"`
	}
	if err := json.Unmarshal(text, &checks); err != nil {
		t.Fatal(err)
	}
	if len(checks.Roots) != 3 || len(checks.Limited) != 150 || len(checks.Constant) != 9 {
		t.Fatal("rows are missing")
	}
	for shape, byAlpha := range checks.Roots {
		for alpha, roots := range byAlpha {
			for i, want := range roots {
				// alpha itself is printed with 12 digits.
				published.Near(t, []any{shape, alpha, i + 1}, shapes[shape].bath(i+1, published.Number(t, alpha)), want, 1e-10*want)
			}
		}
	}
	const digit = 6e-10 // half of the last digit, and that of alpha
	for _, row := range checks.Limited {
		m := limitedOf(t, shapes[row.Geom], row.Alpha)
		published.Near(t, row, m.Uptake(Tau(row.Tau)), row.Uptake, digit)
		published.Near(t, row, m.Centre(Tau(row.Tau)), row.Centre, digit)
	}
	for _, row := range checks.Constant {
		for s, want := range [][2]float64{row.Slab, row.Cylinder, row.Sphere} {
			m := Constant(Shape(s))
			published.Near(t, row, m.Uptake(Tau(row.Tau)), want[0], digit)
			published.Near(t, row, m.Centre(Tau(row.Tau)), want[1], digit)
		}
	}
}

func TestUptakeAndCentre(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_constant.csv") {
		m, tau, tol := Constant(shapes[row["shape"]]), Tau(published.Number(t, row["tau"])), published.Number(t, row["tolerance"])
		published.Near(t, row, m.Uptake(tau), published.Number(t, row["uptake"]), tol)
		published.Near(t, row, m.Centre(tau), published.Number(t, row["centre"]), tol)
	}
	for _, row := range published.Rows(t, "diffusion_bath.csv") {
		m := limitedOf(t, shapes[row["shape"]], published.Number(t, row["alpha"]))
		tau, tol := Tau(published.Number(t, row["tau"])), published.Number(t, row["tolerance"])
		published.Near(t, row, m.Uptake(tau), published.Number(t, row["uptake"]), tol)
		published.Near(t, row, m.Centre(tau), published.Number(t, row["centre"]), tol)
	}
	for _, row := range published.Rows(t, "diffusion_source.csv") {
		m := cappedOf(t, shapes[row["shape"]], published.Number(t, row["fill"]))
		published.Near(t, row, m.Centre(Tau(published.Number(t, row["tau"]))), published.Number(t, row["centre"]), published.Number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "diffusion_slab_days.csv") {
		tau := Diffusivity(2.2e-10).Tau(time.Duration(published.Number(t, row["days"])*24*float64(time.Hour)), 0.025)
		published.Near(t, row, Constant(Slab).Centre(tau), published.Number(t, row["centre"]), published.Number(t, row["tolerance"]))
		published.Near(t, row, Constant(Slab).Uptake(tau), published.Number(t, row["uptake"]), published.Number(t, row["tolerance"]))
	}
}

func TestRoots(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_roots.csv") {
		s, n, alpha := shapes[row["shape"]], int(published.Number(t, row["n"])), published.Number(t, row["alpha"])
		got := s.sealed(n)
		if alpha > 0 {
			got = s.bath(n, alpha)
		}
		published.Near(t, row, got, published.Number(t, row["root"]), published.Number(t, row["tolerance"]))
	}
	for n := 1; n <= 300; n++ {
		published.Near(t, n, math.J0(Cylinder.open(n)), 0, 1e-13)
		published.Near(t, n, math.J1(Cylinder.sealed(n)), 0, 1e-13)
		if gap := Cylinder.open(n+1) - Cylinder.open(n); math.Abs(gap-math.Pi) > 0.03 {
			t.Errorf("a zero of J0 is missed after %d: gap %g", n, gap)
		}
		if gap := Cylinder.sealed(n+1) - Cylinder.sealed(n); math.Abs(gap-math.Pi) > 0.05 {
			t.Errorf("a zero of J1 is missed after %d: gap %g", n, gap)
		}
	}
}

func TestTimes(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_centre_times.csv") {
		m := modelOf(t, shapes[row["shape"]], row)
		published.Near(t, row, timeTo(t, m, published.Number(t, row["share"])), published.Number(t, row["tau"]), published.Number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "diffusion_capped_times.csv") {
		m := cappedOf(t, shapes[row["shape"]], published.Number(t, row["fill"]))
		published.Near(t, row, timeTo(t, m, published.Number(t, row["share"])), published.Number(t, row["tau"]), published.Number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "diffusion_uptake_times.csv") {
		m, at, tol := Constant(shapes[row["shape"]]), published.Number(t, row["tau"]), published.Number(t, row["tolerance"])
		share := Ratio(published.Number(t, row["share"]))
		got, err := m.TimeToUptake(share)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, row, got, at, tol)
		if m.Uptake(Tau(at-1.001*tol)) > share || m.Uptake(Tau(at+1.001*tol)) < share {
			t.Errorf("%v: uptake there is %g", row, float64(m.Uptake(Tau(at))))
		}
	}
}

var speeds = map[string]Speed{"slow": Slow, "likely": Likely, "fast": Fast}

func rateAt(t *testing.T, s Speed, celsius Celsius) Diffusivity {
	t.Helper()
	d, err := s.At(celsius)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestDays(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_days.csv") {
		tau := timeTo(t, modelOf(t, Slab, row), published.Number(t, row["share"]))
		half := Metre(published.Number(t, row["thickness_cm"]) / 200)
		days := rateAt(t, speeds[row["speed"]], 3).Time(tau, half).Hours() / 24
		tol := published.Number(t, row["tolerance"])
		if want := published.Number(t, row["days"]); want >= 100 {
			tol = 0.5 // printed without a digit after the point
		}
		published.Near(t, row, days, published.Number(t, row["days"]), tol)
	}
}

// rules are rules of thumb: days by thickness in inches.
var rules = map[string]func(inches float64) float64{
	"7 an inch":       func(x float64) float64 { return 7 * x },
	"4 an inch and 2": func(x float64) float64 { return 4*x + 2 },
	"2 an inch":       func(x float64) float64 { return 2 * x },
	"1 an inch":       func(x float64) float64 { return x },
}

func TestRulesOfThumb(t *testing.T) {
	m := cappedOf(t, Slab, 0.1)
	after := func(days float64) time.Duration { return time.Duration(days * 24 * float64(time.Hour)) }
	for _, row := range published.Rows(t, "diffusion_rules.csv") {
		cm := published.Number(t, row["thickness_cm"])
		days := rules[row["rule"]](cm / 2.54)
		published.Near(t, row, days, published.Number(t, row["days"]), published.Number(t, row["days_tolerance"]))
		tau := rateAt(t, Likely, 3).Tau(after(days), Metre(cm/200))
		published.Near(t, row, m.Centre(tau), published.Number(t, row["centre"]), published.Number(t, row["centre_tolerance"]))
	}
	tau := timeTo(t, m, 0.95)
	for _, row := range published.Rows(t, "diffusion_rule_bounds.csv") {
		rate := rateAt(t, speeds[row["speed"]], 3)
		long := func(inches float64) bool {
			return after(rules[row["rule"]](inches)) >= rate.Time(tau, Metre(inches*0.0254/2))
		}
		at, tol := published.Number(t, row["inches"]), 1.02*published.Number(t, row["tolerance"])
		if !long(at-tol) || long(at+tol) {
			t.Errorf("%v: the bound is not there", row)
		}
	}
}

func TestDiffusivity(t *testing.T) {
	for _, row := range published.Rows(t, "diffusivity.csv") {
		published.Near(t, row, rateAt(t, Likely, Celsius(published.Number(t, row["celsius"])))*1e10, published.Number(t, row["d_1e10"]), published.Number(t, row["tolerance"]))
	}
	for _, bad := range []Celsius{-1.01, 20.01, Celsius(math.NaN()), Celsius(math.Inf(1))} {
		if _, err := Likely.At(bad); err == nil {
			t.Errorf("%v °C: no error", bad)
		}
	}
}
