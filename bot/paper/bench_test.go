package paper

import (
	"testing"

	"salthand/bot"
)

func BenchmarkLabel(b *testing.B) {
	l := labels()["held"]
	for b.Loop() {
		if _, err := (Pen{}).Draw(bot.Paper{Name: "label", At: noon, Label: &l}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSheet(b *testing.B) {
	s := sheets()["short"]
	for b.Loop() {
		if _, err := (Pen{}).Draw(bot.Paper{Name: "sheet", At: noon, Sheet: &s}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChart(b *testing.B) {
	c := charts()["core"]
	for b.Loop() {
		if _, err := (Pen{}).Draw(bot.Paper{Name: "chart", At: noon, Chart: &c}); err != nil {
			b.Fatal(err)
		}
	}
}
