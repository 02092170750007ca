package ferment

import (
	"math"
	"math/big"
	"testing"
	"time"

	"salthand/cure"

	"pgregory.net/rapid"
)

// exact is a second way to the hours of the us set: rationals of whole thousandths of °F.
func exact(milliFahrenheit int64) *big.Rat {
	limit := int64(1200)
	switch {
	case milliFahrenheit > 100_000:
		limit = 900
	case milliFahrenheit >= 90_000:
		limit = 1000
	}
	return big.NewRat(limit*1000, milliFahrenheit-60_000)
}

func TestHoursAreTheRationalsOfTheRule(t *testing.T) {
	us := setOf(t, "us")
	for mF := int64(60_100); mF <= 120_000; mF += 50 {
		got, ok := us.Allowed(fahrenheit(float64(mF) / 1000))
		if !ok {
			t.Fatalf("%d m°F: no limit", mF)
		}
		ms := new(big.Rat).Mul(exact(mF), big.NewRat(msPerHour, 1))
		if want := new(big.Int).Div(ms.Num(), ms.Denom()).Int64(); got.Milliseconds() != want {
			t.Errorf("%d m°F: %d ms, want %d", mF, got.Milliseconds(), want)
		}
	}
}

// area is a second way to Log.area: rationals, ramp by ramp.
func area(l Log, base cure.Celsius) *big.Rat {
	sum := new(big.Rat)
	for i := 1; i < len(l); i++ {
		a, b := grains(l[i-1].Air)-grains(base), grains(l[i].Air)-grains(base)
		dt := big.NewRat(l[i].After.Milliseconds()-l[i-1].After.Milliseconds(), 1)
		switch {
		case a < 0 && b < 0:
			continue
		case a < 0:
			dt.Mul(dt, big.NewRat(b, b-a))
			a = 0
		case b < 0:
			dt.Mul(dt, big.NewRat(a, a-b))
			b = 0
		}
		sum.Add(sum, dt.Mul(dt, big.NewRat(a+b, 1)))
	}
	return sum
}

// anyLog draws a log in whole seconds and thousandths of a degree.
func anyLog(t *rapid.T) (l Log) {
	at := time.Duration(0)
	for range rapid.IntRange(2, 30).Draw(t, "readings") {
		l = append(l, Reading{at, cure.Celsius(rapid.IntRange(-5000, 45000).Draw(t, "air")) / 1000})
		at += time.Duration(rapid.IntRange(0, 20*3600).Draw(t, "gap")) * time.Second
	}
	return l
}

func TestSumIsTheIntegral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLog(t)
		for _, s := range Sets() {
			got, want := new(big.Rat).SetInt64(l.area(s.Base)), area(l, s.Base)
			over := new(big.Rat).Sub(got, want)
			if over.Sign() < 0 || over.Cmp(big.NewRat(int64(len(l)), 1)) > 0 {
				t.Fatalf("%s: %v, want %v", s.ID, got, want.FloatString(3))
			}
			// And by a fine midpoint rule, which knows nothing of grains.
			sum, end := 0.0, l[len(l)-1].After
			const cells = 20000
			k := 0
			for i := range cells {
				at := time.Duration((float64(i) + 0.5) / cells * float64(end))
				for k < len(l)-2 && l[k+1].After <= at {
					k++
				}
				a, b := l[k], l[k+1]
				air := float64(b.Air)
				if b.After > a.After {
					air = float64(a.Air) + float64(b.Air-a.Air)*float64(at-a.After)/float64(b.After-a.After)
				}
				sum += max(0, air-float64(s.Base)) * end.Hours() / cells
			}
			per := 1.0
			if s.Unit == FahrenheitHour {
				per = 1.8
			}
			r, err := s.Judge(l, nil)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(r.Sum)/per-sum) > 1+2e-3*sum {
				t.Fatalf("%s: %v, by cells %v", s.ID, float64(r.Sum)/per, sum)
			}
		}
	})
}

func TestJudgeHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLog(t)
		for _, s := range Sets() {
			all, err := s.Judge(l, nil)
			if err != nil {
				t.Fatal(err)
			}
			cut := time.Duration(rapid.Float64Range(0, 1).Draw(t, "cut") * float64(l[len(l)-1].After))
			part, err := s.Judge(l.Until(cut), nil)
			if err != nil {
				t.Fatal(err)
			}
			if part.Sum > all.Sum+1e-3 || part.State == Hold && all.State != Hold {
				t.Fatalf("longer is less: %+v, then %+v", part, all)
			}
			// A sour reading afterwards doesn't lift a hold.
			sour, err := s.Judge(l, []Acidity{{l[len(l)-1].After, 5.3}})
			if err != nil || (sour.State == Hold) != (all.State == Hold) || sour.State == Running {
				t.Fatalf("%+v, then sour: %+v, %v", all, sour, err)
			}
			if all.State != Running || all.Endless {
				continue
			}
			// The limit is reached when Left is over, and not a millisecond before.
			end := l[len(l)-1].After
			before, err := s.Judge(l.Until(end+all.Left-time.Millisecond), nil)
			if end+all.Left > year {
				continue
			}
			if err == nil && all.Left > 0 && before.State == Hold {
				t.Fatalf("hold %v early: %+v", time.Millisecond, before)
			}
			after, err := s.Judge(l.Until(end+all.Left+time.Millisecond), nil)
			if err != nil || after.State != Hold {
				t.Fatalf("no hold after %v: %+v", all.Left, after)
			}
		}
	})
}

// A chamber that is warmer everywhere never gets more time.
func TestWarmerIsNeverAllowedLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cool := cure.Celsius(rapid.Float64Range(15.7, 60).Draw(t, "cool"))
		warm := cool + cure.Celsius(rapid.Float64Range(0, 20).Draw(t, "warmer"))
		for _, s := range Sets() {
			a, _ := s.Allowed(cool)
			b, _ := s.Allowed(warm)
			if b > a {
				t.Fatalf("%s: %v at %v, %v at %v", s.ID, a, cool, b, warm)
			}
		}
		us, _ := SetOf("us")
		allowed, _ := us.Allowed(cool)
		if row, ok := Printed(cool); ok && row.Within > allowed {
			t.Fatalf("the sheet gives %v at %v, the rule %v", row.Within, cool, allowed)
		}
	})
}

func TestBandsAtTheirEdges(t *testing.T) {
	for _, row := range []struct {
		set   string
		at    cure.Celsius
		limit DegreeHour
	}{ // Source: the hours that the log sheet prints for 90 and 100 °F; CFIA ch. 4
		{"us", fahrenheit(89.999), 1200}, {"us", fahrenheit(90), 1000}, {"us", fahrenheit(100), 1000}, {"us", fahrenheit(100.001), 900},
		{"ca", 32.999, 665}, {"ca", 33, 555}, {"ca", 37, 555}, {"ca", 37.001, 500},
	} {
		if got := setOf(t, row.set).Band(row.at).Limit; got != row.limit {
			t.Errorf("%+v: %v", row, got)
		}
	}
}

func TestBetweenTwoRowsOfTheSheetTheWarmerHolds(t *testing.T) {
	for _, row := range []struct {
		fahrenheit float64
		within     time.Duration
	}{{60, 80 * time.Hour}, {75.1, 60 * time.Hour}, {82, 48 * time.Hour}, {89, 33 * time.Hour}, {109, 18 * time.Hour}} {
		if got, ok := Printed(fahrenheit(row.fahrenheit)); !ok || got.Within != row.within {
			t.Errorf("%v: %v", row, got)
		}
	}
	if got, ok := Printed(fahrenheit(110.1)); ok {
		t.Errorf("110.1 °F is not on the sheet, got %v", got)
	}
	for long, want := range map[time.Duration]time.Duration{40 * time.Hour: 8 * time.Hour, 48 * time.Hour: 0, 50 * time.Hour: 0} {
		if left, ok, err := PrintedLeft(Stays(Stay{long, fahrenheit(82)})); left != want || !ok || err != nil {
			t.Errorf("%v at 82 °F: %v, %v, %v", long, left, ok, err)
		}
	}
}

// The sheet never leaves more than the rule.
func TestPrintedLeftIsTheShorter(t *testing.T) {
	us := setOf(t, "us")
	rapid.Check(t, func(t *rapid.T) {
		l := anyLog(t)
		r, err := us.Judge(l, nil)
		if err != nil {
			t.Fatal(err)
		}
		left, ok, err := PrintedLeft(l)
		if err != nil || ok && left > 0 && (r.State != Running || !r.Endless && left > r.Left) {
			t.Fatalf("the sheet leaves %v, the rule %+v, %v", left, r, err)
		}
	})
}

// At 32.9 °C the us set is the stricter one, at 37.1 °C the Canadian one.
func TestStricter(t *testing.T) {
	for at, want := range map[cure.Celsius]string{32.9: "us", 37.1: "ca", 24: "us"} {
		log := Stays(Stay{10 * time.Hour, at})
		var both []Result
		for _, s := range Sets() {
			r, err := s.Judge(log, nil)
			if err != nil {
				t.Fatal(err)
			}
			both = append(both, r)
		}
		if a, b := Stricter(both[0], both[1]), Stricter(both[1], both[0]); a.Set != want || b.Set != want {
			t.Errorf("%v °C: %s and %s, want %s", at, a.Set, b.Set, want)
		}
	}
	held := Result{Set: "held", State: Hold, Limit: 1}
	for _, r := range []Result{{State: Running, Limit: 1}, {State: Soured, Limit: 1}} {
		if Stricter(held, r).Set != "held" || Stricter(r, held).Set != "held" {
			t.Error("a hold has to win")
		}
	}
}

func TestBelowTheBaseThereIsNoLimit(t *testing.T) {
	for _, s := range Sets() {
		if d, ok := s.Allowed(s.Base); ok {
			t.Errorf("%s: %v at its base", s.ID, d)
		}
		r, err := s.Judge(Stays(Stay{10 * time.Hour, 24}, Stay{100 * time.Hour, 12}), nil)
		if err != nil || !r.Endless || r.State != Running || r.Sum <= 0 {
			t.Errorf("%s: %+v, %v", s.ID, r, err)
		}
	}
}

func TestBadLogs(t *testing.T) {
	nan := cure.Celsius(math.NaN())
	for _, l := range []Log{nil, {{0, nan}}, {{0, cure.Celsius(math.Inf(1))}}, {{0, 101}}, {{0, -21}}, {{-1, 20}},
		{{time.Hour, 20}, {0, 20}}, {{0, 20}, {366 * 24 * time.Hour, 20}}} {
		if r, err := setOf(t, "us").Judge(l, nil); err != ErrLog {
			t.Errorf("%v: %+v, %v", l, r, err)
		}
	}
	good := Stays(Stay{time.Hour, 24})
	for _, a := range [][]Acidity{{{0, PH(math.NaN())}}, {{0, 0}}, {{0, 53}}, {{-1, 5}}, {{2, 5}, {1, 5}}} {
		if r, err := setOf(t, "us").Judge(good, a); err != ErrPH {
			t.Errorf("%v: %+v, %v", a, r, err)
		}
	}
	if _, err := setOf(t, "us").Judge(Log{{time.Hour, 24}}, []Acidity{{0, 5}}); err != ErrLog {
		t.Errorf("a pH from before the log: %v", err)
	}
	if _, ok := setOf(t, "us").Allowed(nan); ok {
		t.Error("NaN has a limit")
	}
	if _, _, err := PrintedLeft(nil); err != ErrLog {
		t.Errorf("no log: %v", err)
	}
	if _, ok := Printed(nan); ok {
		t.Error("NaN is on the sheet")
	}
	if s, ok := SetOf("eu"); ok {
		t.Errorf("eu has %v", s)
	}
}

func BenchmarkJudge(b *testing.B) {
	var l Log
	for i := range 300 { // a reading each 15 min for three days
		l = append(l, Reading{time.Duration(i) * 15 * time.Minute, 24 + cure.Celsius(i%5)})
	}
	s, _ := SetOf("ca")
	for b.Loop() {
		if _, err := s.Judge(l, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAllowed(b *testing.B) {
	s, _ := SetOf("us")
	for b.Loop() {
		s.Allowed(26.5)
	}
}
