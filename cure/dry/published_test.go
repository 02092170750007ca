package dry

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"salthand/cure"
	"salthand/cure/published"
)

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func near[T ~float64](t *testing.T, row any, got T, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= tolerance+1e-12) {
		t.Errorf("%v: got %v, want %v ± %v", row, got, want, tolerance)
	}
}

// must is for values that have an error when they are out of range.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func at(d float64) time.Duration { return time.Duration(math.Round(d * float64(day))) }

func share(t *testing.T, pct string) cure.Fraction { return cure.Fraction(number(t, pct) / 100) }

func TestAsymptote(t *testing.T) {
	for _, row := range published.Rows(t, "dry_asymptote.csv") {
		step := at(number(t, row["step_days"]))
		s := Series{{0, cure.Gram(number(t, row["w0"]))}, {step, cure.Gram(number(t, row["w1"]))}, {2 * step, cure.Gram(number(t, row["w2"]))}}
		closed := must[Curve](t)(Fit(s))
		for _, c := range []Curve{closed, s.squares()} { // the second one is another way
			switch row["quantity"] {
			case "limit":
				limit, _ := c.Limit()
				near(t, row, limit, number(t, row["value"]), number(t, row["tolerance"]))
			case "fade":
				near(t, row, c.Fade, number(t, row["value"]), number(t, row["tolerance"]))
			case "finish":
				w := c.Reach(cure.Gram(number(t, row["target"])))
				if never := row["value"] == "never"; never || w.Never {
					if never != w.Never {
						t.Errorf("%v: %+v", row, w)
					}
					continue
				}
				near(t, row, days(w.After), number(t, row["value"]), number(t, row["tolerance"]))
			}
		}
	}
}

func TestOtherCurves(t *testing.T) {
	for _, row := range published.Rows(t, "dry_curves.csv") {
		var points []Moisture
		for p := range strings.FieldsSeq(row["points"]) {
			ratio, d, _ := strings.Cut(p, "@")
			points = append(points, Moisture{at(number(t, d)), Ratio(number(t, ratio))})
		}
		value, tolerance := number(t, row["value"]), number(t, row["tolerance"])
		if row["curve"] == "root time" {
			law := must[RootTime](t)(FitRootTime(Lost{points[0].After, points[0].Ratio}))
			reach := law.Reach(Ratio(number(t, row["of"])))
			near(t, row, days(reach.After), value, tolerance)
			near(t, row, law.At(reach.After), number(t, row["of"]), 1e-9)
			continue
		}
		page := must[Page](t)(FitPage(points))
		switch row["quantity"] {
		case "n":
			near(t, row, page.N, value, tolerance)
		case "k":
			near(t, row, page.K, value, tolerance)
		case "at":
			near(t, row, page.At(at(number(t, row["of"]))), value, tolerance)
		case "reach":
			near(t, row, days(page.Reach(Ratio(number(t, row["of"]))).After), value, tolerance)
		}
	}
}

func TestAir(t *testing.T) {
	for _, row := range published.Rows(t, "dry_air.csv") {
		air := cure.Celsius(number(t, row["celsius"]))
		got := must[Pascal](t)(Saturation(air))
		if row["quantity"] == "driving" {
			got = must[Pascal](t)(Room{air, cure.Fraction(number(t, row["humidity"]))}.Driving(cure.Fraction(number(t, row["activity"]))))
		}
		near(t, row, got, number(t, row["pascal"]), number(t, row["tolerance"]))
	}
	// A fridge at 5 °C dries at 0.58 of a chamber at 13 °C with the same humidity (computed).
	near(t, "5 beside 13 °C", must[Ratio](t)(Room{5, 0.75}.Beside(Room{13, 0.75}, 0.97)), 0.58, 0.005)
}

func TestRatios(t *testing.T) {
	for _, row := range published.Rows(t, "dry_ratio.csv") {
		m := Meat{Water: share(t, row["water"]), Protein: share(t, row["protein"])}
		near(t, row, must[Ratio](t)(m.PerProtein(share(t, row["loss_pct"]))), number(t, row["ratio"]), number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "dry_loss_to_ratio.csv") {
		m := Meat{Water: share(t, row["water"]), Protein: share(t, row["protein"])}
		loss := must[cure.Fraction](t)(m.LossTo(Ratio(number(t, row["ratio"]))))
		near(t, row, 100*loss, number(t, row["loss_pct"]), number(t, row["tolerance"]))
		near(t, row, must[Ratio](t)(m.PerProtein(loss)), number(t, row["ratio"]), 1e-9)
	}
	loin := Meat{Water: 0.7223, Protein: 0.2143}
	for _, row := range published.Rows(t, "dry_removed.csv") {
		near(t, row, must[cure.Fraction](t)(loin.Removed(share(t, row["loss_pct"]))), number(t, row["removed"]), number(t, row["tolerance"]))
	}
}

func TestLossesAndTargets(t *testing.T) {
	for _, row := range published.Rows(t, "dry_loss.csv") {
		s := Series{{0, cure.Gram(number(t, row["hung"]))}, {35 * day, cure.Gram(number(t, row["now"]))}}
		near(t, row, 100*must[Ratio](t)(s.Loss()), number(t, row["loss_pct"]), number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "dry_targets.csv") {
		s := Series{{0, cure.Gram(number(t, row["hung"]))}}
		want := number(t, row["weight"])
		near(t, row, must[Target](t)(s.Target(share(t, row["loss_pct"]))).Weight, want, number(t, row["tolerance"]))
		found := false
		for _, target := range must[[3]Target](t)(s.Targets()) {
			found = found || math.Abs(float64(target.Weight)-want) < 1e-9
		}
		if !found {
			t.Errorf("%v: not among the targets", row)
		}
	}
}

func TestStandardsAndHabits(t *testing.T) {
	rows := published.Rows(t, "dry_standards.csv")
	if len(rows) != len(Standards()) {
		t.Errorf("%d standards, want %d", len(Standards()), len(rows))
	}
	for i, s := range Standards() {
		if row := rows[i]; s.Name != row["name"] || s.Source != row["source"] || s.Seen != row["seen"] {
			t.Errorf("%+v, want %v", s, row)
		}
		near(t, s, s.Most, number(t, rows[i]["ratio"]), 0)
	}
	rows = published.Rows(t, "dry_habits.csv")
	if len(rows) != len(Habits()) {
		t.Errorf("%d habits, want %d", len(Habits()), len(rows))
	}
	for i, h := range Habits() {
		if h.Name != rows[i]["name"] {
			t.Errorf("%+v, want %v", h, rows[i])
		}
		near(t, h, 100*h.From, number(t, rows[i]["from_pct"]), 1e-9)
		near(t, h, 100*h.To, number(t, rows[i]["to_pct"]), 1e-9)
	}
}

// needs are the names that the table has for them.
var needs = map[string]Need{
	"water activity": Activity, "ph": Acidity, "moisture:protein": PerProtein, "degree-hours": DegreeHours, "salt": SaltShare, "nitrite": NitriteIn,
}

func TestDemands(t *testing.T) {
	kinds := map[string]Kind{"whole": Whole, "dry": Dry, "semi-dry": SemiDry}
	count := 0
	for _, row := range published.Rows(t, "dry_demands.csv") {
		sets := Demands(kinds[row["kind"]], row["region"])
		set := int(number(t, row["set"])) - 1
		if set >= len(sets) {
			t.Errorf("%v: only %d sets", row, len(sets))
			continue
		}
		need, ok := needs[row["need"]]
		found := false
		for _, c := range sets[set] {
			if c.Need == need {
				found = true
				near(t, row, c.Figure, number(t, row["figure"]), number(t, row["tolerance"]))
				if c.Source != row["source"] || !strings.HasPrefix(c.Seen, row["seen"]) {
					t.Errorf("%v: %+v", row, c)
				}
			}
		}
		if !ok || !found {
			t.Errorf("%v: not asked for", row)
		}
		count++
	}
	for _, kind := range kinds {
		for _, region := range []string{"us", "ca"} {
			for _, set := range Demands(kind, region) {
				count -= len(set)
			}
		}
	}
	if count != 0 {
		t.Errorf("%d conditions more in the table than here", count)
	}
}
