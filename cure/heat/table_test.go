package heat

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
	"salthand/cure/published"
)

// Between two rows the weaker one counts, and outside of a table nothing.
func TestHoldNeverInterpolates(t *testing.T) {
	pork, err := Heating(Pork)
	if err != nil {
		t.Fatal(err)
	}
	thin, err := Freezing(Pork, 150)
	if err != nil {
		t.Fatal(err)
	}
	core, err := FreezingInside(Pork)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		table Table
		at    cure.Celsius
		want  time.Duration
		ok    bool
	}{ // Source: the tables; "round down", "between rows use the warmer row", "no credit warmer"
		{Salmonella(), fahrenheit(129.9), 0, false},
		{Salmonella(), fahrenheit(130.9), 112 * time.Minute, true},
		{Salmonella(), fahrenheit(144.999), 5 * time.Minute, true},
		{Salmonella(), fahrenheit(157.9), 14 * time.Second, true},
		{Salmonella(), fahrenheit(200), 0, true},
		{Salmonella7(), fahrenheit(149.9), 4 * time.Minute, true},
		{pork, fahrenheit(119.9), 0, false},
		{pork, fahrenheit(137), 3 * time.Minute, true},
		{thin, -14.9, 0, false},
		{thin, -18, 20 * day, true},
		{thin, -23.2, 20 * day, true},
		{thin, -40, 6 * day, true},
		{core, -17.7, 0, false},
		{core, -20, 106 * time.Hour, true},
		{core, cure.Celsius(math.NaN()), 0, false},
		{Salmonella(), cure.Celsius(math.Inf(1)), 0, false},
	} {
		if got, ok := row.table.Hold(row.at); got != row.want || ok != row.ok {
			t.Errorf("%s at %v: %v, %v", row.table.Against, row.at, got, ok)
		}
	}
}

func TestSpecies(t *testing.T) {
	for _, s := range []Species{Unknown, Boar, Bear, Walrus, Horse, Game} {
		_, err1 := Freezing(s, 50)
		_, err2 := FreezingInside(s)
		_, err3 := Heating(s)
		if err1 != ErrSpecies || err2 != ErrSpecies || err3 != ErrSpecies {
			t.Errorf("species %d: %v, %v, %v", s, err1, err2, err3)
		}
	}
	for _, mm := range []float64{0, -1, 686, math.NaN(), math.Inf(1)} {
		if _, err := Freezing(Pork, cure.Millimetre(mm)); !errors.Is(err, ErrThick) {
			t.Errorf("%v mm: %v", mm, err)
		}
	}
	thick, err := Freezing(Pork, 151)
	if hold, ok := thick.Hold(-15); err != nil || !ok || hold != 30*day {
		t.Errorf("151 mm: %v, %v", hold, err)
	}
	if law := TrichinaeLaw(); law.Until.Year() != 2018 || law.Source == "" {
		t.Errorf("%+v", law)
	}
}

// The rows of the table lie about a straight line of log time: a slip of a digit would not.
func TestRowsLieOnTheFit(t *testing.T) {
	for _, row := range Salmonella().Rows {
		if row.Hold == 0 {
			continue
		}
		// Source: fit to the table, log10 t(min) = 15.04501 − 0.099887·F, at most 9 % off (computed).
		fit := math.Pow(10, 15.04501-0.099887*(float64(row.At)*1.8+32))
		published.Near(t, row, fit/row.Hold.Minutes(), 1, 0.095)
	}
}

// Credit of heat against counting seconds at the cooler end of each reading.
func TestCreditAgainstCounting(t *testing.T) {
	table := Salmonella()
	rapid.Check(t, func(t *rapid.T) {
		l := anyLog(t, 50, 68)
		got, err := table.Credit(l)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		for i := 1; i < len(l); i++ {
			for at := l[i-1].After; at < l[i].After; at += time.Minute {
				if hold, ok := table.Hold(min(l[i-1].Probe, l[i].Probe)); ok {
					want += 1 / hold.Minutes()
				}
			}
		}
		if math.Abs(float64(got)-want) > 1e-9*(1+want) {
			t.Fatalf("%v, counted %v", got, want)
		}
		// Warmer everywhere is never less.
		warmer := append(Log(nil), l...)
		for i := range warmer {
			warmer[i].Probe += cure.Celsius(rapid.Float64Range(0, 0.5).Draw(t, "warmer"))
		}
		if more, err := table.Credit(warmer); err != nil || more < got && more < 1 {
			t.Fatalf("warmer is less: %v, then %v, %v", got, more, err)
		}
	})
}

func TestCredit(t *testing.T) {
	f := func(readings ...[2]float64) (l Log) { // minutes, °F
		for _, r := range readings {
			l = append(l, Reading{time.Duration(r[0] * float64(time.Minute)), fahrenheit(r[1])})
		}
		return l
	}
	frozen, err := Freezing(Pork, 100)
	if err != nil {
		t.Fatal(err)
	}
	d := func(readings ...[2]float64) (l Log) { // days, °C
		for _, r := range readings {
			l = append(l, Reading{time.Duration(r[0] * float64(day)), cure.Celsius(r[1])})
		}
		return l
	}
	for name, row := range map[string]struct {
		table Table
		log   Log
		want  float64
	}{
		"12 min at 140 °F":              {Salmonella(), f([2]float64{0, 140}, [2]float64{12, 140}), 1},
		"6 min at 140 °F":               {Salmonella(), f([2]float64{0, 140}, [2]float64{6, 140}), 0.5},
		"two rows":                      {Salmonella(), f([2]float64{0, 140}, [2]float64{6, 140}, [2]float64{6, 145}, [2]float64{8, 145}), 1},
		"a ramp counts as its cold end": {Salmonella(), f([2]float64{0, 130}, [2]float64{11.2, 157}), 0.1},
		"158 °F at once":                {Salmonella(), f([2]float64{0, 158}), 1},
		"below the table":               {Salmonella(), f([2]float64{0, 129.9}, [2]float64{1000, 129.9}), 0},
		"20 days at −15":                {frozen, d([2]float64{0, -15}, [2]float64{20, -15}), 1},
		"one night at −14":              {frozen, d([2]float64{0, -15}, [2]float64{10, -15}, [2]float64{10.5, -14}, [2]float64{11, -15}, [2]float64{20, -15}), 0.5},
		"cold does not add up":          {frozen, d([2]float64{0, -15}, [2]float64{10, -15}, [2]float64{10, -24}, [2]float64{15, -24}), 0.75},
		"cold enough at the end":        {frozen, d([2]float64{0, -15}, [2]float64{5, -29}, [2]float64{11, -29}), 1},
	} {
		got, err := row.table.Credit(row.log)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, name, float64(got), row.want, 1e-12)
	}
}

func BenchmarkCredit(b *testing.B) {
	table := Salmonella()
	l := Log{}
	for i := range 120 { // a reading a minute for two hours
		l = append(l, Reading{time.Duration(i) * time.Minute, 50 + cure.Celsius(i)*0.1})
	}
	for b.Loop() {
		if _, err := table.Credit(l); err != nil {
			b.Fatal(err)
		}
	}
}
