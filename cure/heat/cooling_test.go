package heat

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
)

// More readings of the same line never turn Met into anything else, nor Over into anything.
func TestCoolingWithMoreReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Log{{0, 60}}
		for l[len(l)-1].Probe > 2 {
			last := l[len(l)-1]
			l = append(l, Reading{last.After + time.Duration(rapid.IntRange(5, 120).Draw(t, "gap"))*time.Minute, last.Probe - cure.Celsius(rapid.IntRange(-10, 200).Draw(t, "drop"))/10})
			if len(l) > 60 {
				return
			}
		}
		for _, c := range Coolings() {
			coarse, _, err := c.Judge(l)
			if err != nil {
				t.Fatal(err)
			}
			fine, _, err := c.Judge(dense(l))
			if err != nil {
				t.Fatal(err)
			}
			for i := range coarse {
				a, b := coarse[i].Took, fine[i].Took
				close := (a.Likely - c.Legs[i].Within).Abs() <= 2*time.Second
				was, is := coarse[i].State, fine[i].State
				if was == Met && is != Met || was == Over && is != Over && !close {
					t.Fatalf("%s: %v, then %v", c.ID, coarse[i], fine[i])
				}
				if a.Least > a.Likely || a.Likely > a.Most || b.Most > a.Most || b.Least < a.Least {
					t.Fatalf("%s: %+v, then %+v", c.ID, a, b)
				}
				if off := (a.Likely - b.Likely).Abs(); off > 2*time.Second {
					t.Fatalf("%s: by a line %v, then %v", c.ID, a.Likely, b.Likely)
				}
			}
		}
	})
}

func TestCoolingStates(t *testing.T) {
	us, _ := CoolingOf("us")
	f := func(readings ...[2]float64) (l Log) {
		for _, r := range readings {
			l = append(l, Reading{hours(r[0]), fahrenheit(r[1])})
		}
		return l
	}
	for name, row := range map[string]struct {
		log    Log
		states [2]State
		left   time.Duration // of the first leg
	}{
		"still hot":                {f([2]float64{0, 160}, [2]float64{0.5, 140}), [2]State{Waiting, Waiting}, 0},
		"on its way":               {f([2]float64{0, 130}, [2]float64{0.5, 120}, [2]float64{1, 100}), [2]State{Running, Waiting}, 30 * time.Minute},
		"too slow already":         {f([2]float64{0, 130}, [2]float64{0.1, 129}, [2]float64{2, 100}), [2]State{Over, Waiting}, 0},
		"the beginning not seen":   {f([2]float64{0, 110}, [2]float64{0.5, 80}, [2]float64{2, 40}), [2]State{Unsure, Met}, 0},
		"readings far apart":       {f([2]float64{0, 140}, [2]float64{1.6, 70}, [2]float64{3, 40}), [2]State{Unsure, Met}, 0},
		"warm again":               {f([2]float64{0, 130}, [2]float64{1, 80}, [2]float64{4, 90}, [2]float64{5, 40}), [2]State{Over, Met}, 0},
		"heated up before cooling": {f([2]float64{0, 40}, [2]float64{9, 130}, [2]float64{10, 80}, [2]float64{12, 40}), [2]State{Met, Met}, 0},
	} {
		stages, worst, err := us.Judge(row.log)
		if err != nil {
			t.Fatal(err)
		}
		if stages[0].State != row.states[0] || stages[1].State != row.states[1] || stages[0].Left != row.left || worst != max(row.states[0], row.states[1]) {
			t.Errorf("%s: %+v", name, stages)
		}
	}
}

func BenchmarkCooling(b *testing.B) {
	c, _ := CoolingOf("us cured")
	l := Log{}
	for i := range 180 { // a reading each 5 min for 15 h
		l = append(l, Reading{time.Duration(i) * 5 * time.Minute, 72 - cure.Celsius(i)*0.4})
	}
	for b.Loop() {
		if _, _, err := c.Judge(l); err != nil {
			b.Fatal(err)
		}
	}
}
