package grammar

import (
	"strings"
	"testing"
	"time"
)

const usual = "3.2 kg belly, dry rub, 7 days"

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(usual, Setting{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTongues is the usual phrase as a Spanish and a French kitchen type it.
func BenchmarkTongues(b *testing.B) {
	for _, x := range []struct{ name, text string }{
		{"es", "3,2 kg de panceta, 2,5% sal, 7 días"},
		{"fr", "3,2 kg de poitrine, 2,5% sel, 7 jours"},
	} {
		b.Run(x.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(x.text, Setting{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkTable reads the whole phrase table, and reports the phrase that takes longest: the
// fastest of its readings, so that it is the phrase that is slow and not the machine.
func BenchmarkTable(b *testing.B) {
	all := rows(b)
	fastest := make([]time.Duration, len(all))
	for b.Loop() {
		for i, r := range all {
			start := time.Now()
			_, _ = Parse(r.phrase, Setting{}) // whatever it says
			if d := time.Since(start); fastest[i] == 0 || d < fastest[i] {
				fastest[i] = d
			}
		}
	}
	worst := 0
	for i, d := range fastest {
		if d > fastest[worst] {
			worst = i
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/phrase")
	b.ReportMetric(float64(fastest[worst].Nanoseconds()), "ns/worst")
	b.Logf("%d phrases; the worst is %q", len(all), all[worst].phrase)
}

// BenchmarkScan is the floor of BenchmarkParse: a hand scanner that can read this one
// phrase and nothing else.
func BenchmarkScan(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if g, cut, method, days := handScan(usual); g != 3200 || cut != "belly" || method != "dry rub" || days != 7 {
			b.Fatal(g, cut, method, days)
		}
	}
}

func handScan(s string) (g float64, cut, method string, days int) {
	for s != "" {
		var c string
		c, s, _ = strings.Cut(s, ",")
		c = strings.TrimSpace(c)
		i, v, scale := 0, 0.0, 0.0
		for ; i < len(c) && (c[i] >= '0' && c[i] <= '9' || c[i] == '.'); i++ {
			if c[i] == '.' {
				scale = 1
				continue
			}
			v, scale = v*10+float64(c[i]-'0'), scale*10
		}
		if i == 0 {
			method = c
			continue
		}
		if scale > 0 {
			v /= scale
		}
		unit, rest, _ := strings.Cut(strings.TrimSpace(c[i:]), " ")
		switch unit {
		case "kg":
			g, cut = v*1000, rest
		case "days":
			days = int(v)
		}
	}
	return g, cut, method, days
}

// BenchmarkHostile is 512 bytes that make as much work as possible.
func BenchmarkHostile(b *testing.B) {
	for _, h := range []struct{ name, text string }{
		{"words", strings.Repeat("3 kg zelly ", 60)[:maxText]},
		{"clauses", strings.Repeat("3 kg a,", 100)[:maxText]},
		{"marks", strings.Repeat("#1+", 200)[:maxText]},
		{"check", "check " + strings.Repeat("3 g zalt + ", 60)[:maxText-6]},
		{"chatter", strings.Repeat("can you bring me the big pot from the walk-in ", 20)[:maxText]},
	} {
		b.Run(h.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = Parse(h.text, Setting{}) // whatever it says
			}
		})
	}
}

func BenchmarkFigure(b *testing.B) {
	for _, text := range []string{examples["check"], examples["swap"], examples["brine"], examples["cooling"]} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(text, Setting{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
