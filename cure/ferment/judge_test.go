package ferment

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
)

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

// What the chamber is set to when pH 5.3 has been read doesn't count any more.
func TestHeatAfterThePH(t *testing.T) {
	// Source: 24 °C for 72 h, 604.8 of 665 °C·h (computed); the limit goes by the highest temperature before pH 5.3 (CFIA, secondary).
	log := Stays(Stay{72 * time.Hour, 24}, Stay{10 * time.Hour, 40})
	r, err := setOf(t, "ca").Judge(log, []Acidity{{72 * time.Hour, 5.3}})
	if err != nil || r.State != Soured || r.Limit != 665 || r.Highest != 24 {
		t.Errorf("%+v, %v", r, err)
	}
	if r, err = setOf(t, "ca").Judge(log, []Acidity{{72*time.Hour + time.Minute, 5.3}}); err != nil || r.State != Hold || r.Limit != 500 {
		t.Errorf("a minute later: %+v, %v", r, err)
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
