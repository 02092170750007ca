package dry

import (
	"math"
	"strings"
	"testing"
	"time"

	"salthand/cure"
	"salthand/cure/published"
)

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

func share(t *testing.T, pct string) cure.Fraction {
	return cure.Fraction(published.Number(t, pct) / 100)
}

func TestAsymptote(t *testing.T) {
	for _, row := range published.Rows(t, "dry_asymptote.csv") {
		step := at(published.Number(t, row["step_days"]))
		s := Series{{0, cure.Gram(published.Number(t, row["w0"]))}, {step, cure.Gram(published.Number(t, row["w1"]))}, {2 * step, cure.Gram(published.Number(t, row["w2"]))}}
		closed := must[Curve](t)(Fit(s))
		for _, c := range []Curve{closed, s.squares()} { // the second one is another way
			switch row["quantity"] {
			case "limit":
				limit, _ := c.Limit()
				published.Near(t, row, limit, published.Number(t, row["value"]), published.Number(t, row["tolerance"]))
			case "fade":
				published.Near(t, row, c.Fade, published.Number(t, row["value"]), published.Number(t, row["tolerance"]))
			case "finish":
				w := c.Reach(cure.Gram(published.Number(t, row["target"])))
				if never := row["value"] == "never"; never || w.Never {
					if never != w.Never {
						t.Errorf("%v: %+v", row, w)
					}
					continue
				}
				published.Near(t, row, days(w.After), published.Number(t, row["value"]), published.Number(t, row["tolerance"]))
			}
		}
	}
}

func TestOtherCurves(t *testing.T) {
	for _, row := range published.Rows(t, "dry_curves.csv") {
		var points []Moisture
		for p := range strings.FieldsSeq(row["points"]) {
			ratio, d, _ := strings.Cut(p, "@")
			points = append(points, Moisture{at(published.Number(t, d)), Ratio(published.Number(t, ratio))})
		}
		value, tolerance := published.Number(t, row["value"]), published.Number(t, row["tolerance"])
		if row["curve"] == "root time" {
			law := must[RootTime](t)(FitRootTime(Lost{points[0].After, points[0].Ratio}))
			reach := law.Reach(Ratio(published.Number(t, row["of"])))
			published.Near(t, row, days(reach.After), value, tolerance)
			published.Near(t, row, law.At(reach.After), published.Number(t, row["of"]), 1e-9)
			continue
		}
		page := must[Page](t)(FitPage(points))
		switch row["quantity"] {
		case "n":
			published.Near(t, row, page.N, value, tolerance)
		case "k":
			published.Near(t, row, page.K, value, tolerance)
		case "at":
			published.Near(t, row, page.At(at(published.Number(t, row["of"]))), value, tolerance)
		case "reach":
			published.Near(t, row, days(page.Reach(Ratio(published.Number(t, row["of"]))).After), value, tolerance)
		}
	}
}

func TestAir(t *testing.T) {
	for _, row := range published.Rows(t, "dry_air.csv") {
		air := cure.Celsius(published.Number(t, row["celsius"]))
		got := must[Pascal](t)(Saturation(air))
		if row["quantity"] == "driving" {
			got = must[Pascal](t)(Room{air, cure.Fraction(published.Number(t, row["humidity"]))}.Driving(cure.Fraction(published.Number(t, row["activity"]))))
		}
		published.Near(t, row, got, published.Number(t, row["pascal"]), published.Number(t, row["tolerance"]))
	}
	// A fridge at 5 °C dries at 0.58 of a chamber at 13 °C with the same humidity (computed).
	published.Near(t, "5 beside 13 °C", must[Ratio](t)(Room{5, 0.75}.Beside(Room{13, 0.75}, 0.97)), 0.58, 0.005)
}

func TestRatios(t *testing.T) {
	for _, row := range published.Rows(t, "dry_ratio.csv") {
		m := Meat{Water: share(t, row["water"]), Protein: share(t, row["protein"])}
		published.Near(t, row, must[Ratio](t)(m.PerProtein(share(t, row["loss_pct"]))), published.Number(t, row["ratio"]), published.Number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "dry_loss_to_ratio.csv") {
		m := Meat{Water: share(t, row["water"]), Protein: share(t, row["protein"])}
		loss := must[cure.Fraction](t)(m.LossTo(Ratio(published.Number(t, row["ratio"]))))
		published.Near(t, row, 100*loss, published.Number(t, row["loss_pct"]), published.Number(t, row["tolerance"]))
		published.Near(t, row, must[Ratio](t)(m.PerProtein(loss)), published.Number(t, row["ratio"]), 1e-9)
	}
	loin := Meat{Water: 0.7223, Protein: 0.2143}
	for _, row := range published.Rows(t, "dry_removed.csv") {
		published.Near(t, row, must[cure.Fraction](t)(loin.Removed(share(t, row["loss_pct"]))), published.Number(t, row["removed"]), published.Number(t, row["tolerance"]))
	}
}

func TestLossesAndTargets(t *testing.T) {
	for _, row := range published.Rows(t, "dry_loss.csv") {
		s := Series{{0, cure.Gram(published.Number(t, row["hung"]))}, {35 * day, cure.Gram(published.Number(t, row["now"]))}}
		published.Near(t, row, 100*must[Ratio](t)(s.Loss()), published.Number(t, row["loss_pct"]), published.Number(t, row["tolerance"]))
	}
	for _, row := range published.Rows(t, "dry_targets.csv") {
		s := Series{{0, cure.Gram(published.Number(t, row["hung"]))}}
		want := published.Number(t, row["weight"])
		published.Near(t, row, must[Target](t)(s.Target(share(t, row["loss_pct"]))).Weight, want, published.Number(t, row["tolerance"]))
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
		published.Near(t, s, s.Most, published.Number(t, rows[i]["ratio"]), 0)
	}
	rows = published.Rows(t, "dry_habits.csv")
	if len(rows) != len(Habits()) {
		t.Errorf("%d habits, want %d", len(Habits()), len(rows))
	}
	for i, h := range Habits() {
		if h.Name != rows[i]["name"] {
			t.Errorf("%+v, want %v", h, rows[i])
		}
		published.Near(t, h, 100*h.From, published.Number(t, rows[i]["from_pct"]), 1e-9)
		published.Near(t, h, 100*h.To, published.Number(t, rows[i]["to_pct"]), 1e-9)
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
		set := int(published.Number(t, row["set"])) - 1
		if set >= len(sets) {
			t.Errorf("%v: only %d sets", row, len(sets))
			continue
		}
		need, ok := needs[row["need"]]
		found := false
		for _, c := range sets[set] {
			if c.Need == need {
				found = true
				published.Near(t, row, c.Figure, published.Number(t, row["figure"]), published.Number(t, row["tolerance"]))
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
