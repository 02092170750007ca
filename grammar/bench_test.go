package grammar

import (
	"strings"
	"testing"
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
