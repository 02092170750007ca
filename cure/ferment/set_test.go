package ferment

import (
	"math/big"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
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

func BenchmarkAllowed(b *testing.B) {
	s, _ := SetOf("us")
	for b.Loop() {
		s.Allowed(26.5)
	}
}
