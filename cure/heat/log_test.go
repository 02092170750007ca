package heat

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
)

// anyLog draws a log of whole minutes within a range of temperature.
func anyLog(t *rapid.T, low, high int) (l Log) {
	at := time.Duration(0)
	for range rapid.IntRange(1, 25).Draw(t, "readings") {
		l = append(l, Reading{at, cure.Celsius(rapid.IntRange(low*10, high*10).Draw(t, "probe")) / 10})
		at += time.Duration(rapid.IntRange(1, 90).Draw(t, "gap")) * time.Minute
	}
	return l
}

// dense is the same line, read every minute.
func dense(l Log) (d Log) {
	for i := 1; i < len(l); i++ {
		a, b := l[i-1], l[i]
		for at := a.After; at < b.After; at += time.Minute {
			share := cure.Celsius(at-a.After) / cure.Celsius(b.After-a.After)
			d = append(d, Reading{at, a.Probe + share*(b.Probe-a.Probe)})
		}
	}
	return append(d, l[len(l)-1])
}

// Warm against counting minutes.
func TestAboveAgainstCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLog(t, -2, 15)
		limit := rapid.SampledFrom([]cure.Celsius{WarnAbove, StopAbove}).Draw(t, "limit")
		w, err := l.Above(limit)
		if err != nil {
			t.Fatal(err)
		}
		if w.Total.Least > w.Total.Likely || w.Total.Likely > w.Total.Most || w.Longest.Likely > w.Total.Likely || w.Longest.Most > w.Total.Most {
			t.Fatalf("%+v", w)
		}
		count, run, longest := 0, 0, 0
		d := dense(l)
		for _, r := range d[:len(d)-1] {
			if r.Probe > limit {
				count++
				run++
			} else {
				run = 0
			}
			longest = max(longest, run)
		}
		slack := float64(len(l)) + 1
		if math.Abs(w.Total.Likely.Minutes()-float64(count)) > slack || math.Abs(w.Longest.Likely.Minutes()-float64(longest)) > slack {
			t.Fatalf("%+v, counted %d and %d min", w, count, longest)
		}
		if closer, err := d.Above(limit); err != nil || closer.Total.Most > w.Total.Most || closer.Total.Least < w.Total.Least {
			t.Fatalf("more readings widen the span: %+v, then %+v, %v", w, closer, err)
		}
	})
}

func TestBadLogs(t *testing.T) {
	nan := cure.Celsius(math.NaN())
	us, _ := CoolingOf("us")
	for _, l := range []Log{nil, {{0, nan}}, {{0, cure.Celsius(math.Inf(-1))}}, {{0, 301}}, {{0, -81}}, {{-1, 4}}, {{time.Hour, 4}, {0, 4}}, {{731 * day, 4}}} {
		_, err1 := l.Above(5)
		_, _, err2 := us.Judge(l)
		_, err3 := Salmonella().Credit(l)
		if err1 != ErrLog || err2 != ErrLog || err3 != ErrLog {
			t.Errorf("%v: %v, %v, %v", l, err1, err2, err3)
		}
	}
	if _, err := (Log{{0, 4}}).Above(nan); err != ErrLog {
		t.Errorf("above NaN: %v", err)
	}
	if c, ok := CoolingOf("moon"); ok {
		t.Errorf("%+v", c)
	}
}

// week is a place's log: a reading each 15 min for a week.
func week() (l Log) {
	for i := range 7 * 96 {
		l = append(l, Reading{time.Duration(i) * 15 * time.Minute, 3 + cure.Celsius(i%7)/2})
	}
	return l
}

func BenchmarkAbove(b *testing.B) {
	l := week()
	for b.Loop() {
		if _, err := l.Above(StopAbove); err != nil {
			b.Fatal(err)
		}
	}
}
