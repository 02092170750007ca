package ferment

import (
	"math"
	"math/big"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
)

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
