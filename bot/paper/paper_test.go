package paper

import (
	"bytes"
	"image/png"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"salthand/bot"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// long are texts as they come in a kitchen with long names, in another language, with letters
// that no font here has, and in one word without an end.
const (
	longName  = "Maximiliano-Fernández-de-la-Montaña y García-Ibáñez"
	longTitle = "Jambon désossé de porc noir façon montagne, salé à la main, poivre et genièvre"
	endless   = "Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüsselanhänger"
	foreign   = "肉 🥓 ŁÓDŹ Ωmega \u202eevil\u202c tab\tline\nend"
)

func field(name, value string) bot.PaperField { return bot.PaperField{Name: name, Value: value} }
func wide(name, value string) bot.PaperField {
	return bot.PaperField{Name: name, Value: value, Wide: true}
}

// labels are a short one and long ones.
func labels() map[string]bot.Label {
	short := bot.Label{Title: "pork belly", Batch: "batch 7", Weight: "3,200 g", State: "RAW, not ready to eat", Code: "batch 7, kitchen Kitchen", Foot: "Kitchen, printed",
		Fields: []bot.PaperField{wide("cure", "8.0 g of no. 1 cure, 6.25 % sodium nitrite, lot not noted"), field("method", "dry rub"), field("in the cure since", "Wed 25 Nov 09:00"),
			field("next", "turn Thu 26 Nov 09:00"), field("use by", ""), wide("allergens", "not confirmed"), field("made by", "ana"), field("approved by", "ben")}}
	held := short
	held.Banner, held.Why = "HOLD", "bag leaks"
	long := short
	long.Title, long.Batch, long.Weight, long.State = longTitle, "lot 123456789", "12,345,678.5 g", "CUIT à 71.5 °C, pas terminé, cœur non noté"
	long.Banner, long.Why = "BLOQUÉ", strings.Repeat("la chambre froide était à 9 °C depuis 3:00 ; ", 8)
	long.Code = "batch 123456789, kitchen " + "La Très Longue Cuisine Première du Marché"
	long.Fields = []bot.PaperField{wide("sel", strings.Repeat("sel nitrité, 0.6 % de nitrite de sodium, ", 3)), field(longName, longName), field("méthode", "injection + saumure de couverture"),
		wide("allergènes", strings.Repeat("moutarde, céleri, ", 9)), field("fait par", longName), field("approuvé par", endless), field("à utiliser avant", ""), wide("reste", foreign)}
	strange := short
	strange.Title, strange.Banner, strange.Why = endless+endless, endless, foreign
	bare := bot.Label{Code: "batch 1, kitchen x"}
	return map[string]bot.Label{"short": short, "held": held, "long": long, "strange": strange, "bare": bare}
}

// sheets are an empty one, a short one and one that goes on to further pages.
func sheets() map[string]bot.Sheet {
	short := bot.Sheet{Title: "Batch 7: pork belly", Under: "3.2 kg pork belly, dry rub", Code: "batch 7, kitchen Kitchen", Foot: "printed", Page: "page %d of %d",
		Parts: []bot.SheetPart{{Heading: "batch", Fields: []bot.PaperField{field("green weight", "3,200 g"), field("state", "curing"), field("made by", ""), wide("cure", "no. 1")}},
			{Heading: "steps", Grid: &bot.Grid{Widths: []float64{1, 2, 3}, Head: []string{"step", "due", "done"}, Rows: [][]string{{"turn", "Thu", "Thu"}}, Empty: 2}},
			{Heading: "left", Half: true, Lines: []string{"none"}}, {Heading: "right", Half: true, Grid: &bot.Grid{Widths: []float64{1, 1}, Head: []string{"was", "is"}, Rows: [][]string{{"3 kg", "4 kg"}}, Old: 1}}}}
	long := short
	long.Letter, long.Banner, long.Why, long.Title = true, "HOLD", longTitle+longTitle, longTitle
	long.Parts = nil
	for range 3 {
		g := &bot.Grid{Widths: []float64{1, 2, 5}, Head: []string{longName, "due", "done"}, Empty: 12}
		for i := range 60 {
			g.Rows = append(g.Rows, []string{strings.Repeat("when ", i%5), longName, strings.Repeat(longTitle+" "+foreign+" ", i%4)})
		}
		g.Rows = append(g.Rows, []string{"higher than a page", "", strings.Repeat(longTitle+" ", 200)})
		long.Parts = append(long.Parts, bot.SheetPart{Heading: longTitle, Half: true, Lines: []string{endless, longTitle, strings.Repeat(longTitle+" ", 60)}, Grid: g,
			Fields: []bot.PaperField{field(longName, longTitle+longTitle), field(endless, endless), wide("w", longTitle+longTitle), field("by hand", "")}})
	}
	return map[string]bot.Sheet{"short": short, "long": long, "bare": {Page: "%d/%d"}}
}

func charts() map[string]bot.Chart {
	core := bot.Chart{Title: "Batch 7: salt at the core", Under: "3.2 kg pork belly", X: bot.Axis{Name: "days in the cure", To: 14}, Y: bot.Axis{Name: "%", To: 100}, Named: "slow to fast",
		Lines: []bot.ChartLine{{Name: "likely"}}, Marks: []bot.ChartMark{{Name: "95 %", At: 95}, {Name: "planned", Upright: true, At: 7}}, Foot: "an estimate"}
	for x := range 15 {
		y := float64(x) * 7
		core.Band = append(core.Band, bot.ChartRange{X: float64(x), Low: y / 2, High: min(100, y*1.5)})
		core.Lines[0].Points = append(core.Lines[0].Points, bot.ChartPoint{X: float64(x), Y: y})
	}
	loss := bot.Chart{Title: longTitle, Under: longTitle + endless, X: bot.Axis{Name: longTitle, To: 0.37}, Y: bot.Axis{Name: "g", From: 123456, To: 234567}, Named: longTitle,
		Lines: []bot.ChartLine{{Name: longName, Dots: true, Points: []bot.ChartPoint{{X: 0, Y: 234567}, {X: 0.3, Y: 200000}}}},
		Marks: []bot.ChartMark{{Name: longTitle, At: 150000}, {Name: endless, Upright: true, At: 0.1, Until: 0.9, Y: 150000}}, Foot: foreign}
	return map[string]bot.Chart{"core": core, "loss": loss}
}

// pages are all pages that the tests lay out, by name.
func pages(t *testing.T) map[string]*page {
	t.Helper()
	all := map[string]*page{}
	for name, l := range labels() {
		p, err := label(l)
		if err != nil {
			t.Fatal(err)
		}
		all["label "+name] = p
	}
	for name, s := range sheets() {
		ps, err := sheet(s)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range ps {
			all["sheet "+name+" "+string(rune('a'+i))] = p
		}
	}
	for name, c := range charts() {
		all["chart "+name] = chart(c)
	}
	return all
}

// Every text keeps to its room and to the page, and none lies on another.
func TestTextsKeepApart(t *testing.T) {
	const hair mm = 0.02
	for name, p := range pages(t) {
		for i, a := range p.texts {
			e := a.extent()
			if e.x < 0 || e.y < 0 || e.x+e.wide > p.wide+hair || e.y+e.high > p.high+hair {
				t.Errorf("%s: %q reaches over the edge of the page: %+v of %v × %v", name, a.said, e, p.wide, p.high)
			}
			if e.x < a.room.x-hair || e.x+e.wide > a.room.x+a.room.wide+hair {
				t.Errorf("%s: %q is %.1f mm wide in a room of %.1f", name, a.said, e.wide, a.room.wide)
			}
			for _, b := range p.texts[i+1:] {
				f := b.extent()
				if e.x+hair < f.x+f.wide && f.x+hair < e.x+e.wide && e.y+hair < f.y+f.high && f.y+hair < e.y+e.high {
					t.Errorf("%s: %q lies on %q", name, a.said, b.said)
				}
			}
		}
	}
}

// Nothing that a paper says is left out or cut: its words stand on the pages in order.
func TestNothingIsCut(t *testing.T) {
	text := func(ps ...*page) string {
		var b strings.Builder
		for _, p := range ps {
			for _, x := range p.texts {
				b.WriteString(strings.ReplaceAll(x.said, " ", ""))
			}
		}
		return b.String()
	}
	has := func(what, page, said string) {
		t.Helper()
		if want := strings.ReplaceAll(legible(said), " ", ""); !strings.Contains(page, want) {
			t.Errorf("%s: %q is not on it", what, said)
		}
	}
	for name, l := range labels() {
		p, err := label(l)
		if err != nil {
			t.Fatal(err)
		}
		for _, said := range []string{l.Banner, l.Why, l.Title, l.Batch, l.Weight, l.State, l.Code, l.Foot} {
			has("label "+name, text(p), said)
		}
		for _, f := range l.Fields {
			has("label "+name, text(p), f.Name+f.Value)
		}
	}
	for name, s := range sheets() {
		ps, err := sheet(s)
		if err != nil {
			t.Fatal(err)
		}
		has("sheet "+name, text(ps...), s.Title)
		has("sheet "+name, text(ps...), s.Why)
		for _, part := range s.Parts {
			for _, f := range part.Fields {
				has("sheet "+name, text(ps...), f.Value)
			}
			if name != "long" && part.Grid != nil { // a row that goes on to the next page is in two places
				for _, r := range part.Grid.Rows {
					has("sheet "+name, text(ps...), strings.Join(r, ""))
				}
			}
		}
	}
	long, err := sheet(sheets()["long"])
	if err != nil {
		t.Fatal(err)
	}
	all := text(long...)
	count := 0
	for _, part := range sheets()["long"].Parts {
		for _, r := range part.Grid.Rows {
			count += strings.Count(r[2], "genièvre")
		}
		count += strings.Count(strings.Join(part.Lines, ""), "genièvre")
	}
	if got := strings.Count(all, "genièvre"); got < count {
		t.Errorf("%d of %d words of the long rows are on the pages", got, count)
	}
	if len(long) < 5 {
		t.Errorf("%d pages, want it to go on", len(long))
	}
	for i, p := range long {
		if !strings.Contains(text(p), "HOLD") {
			t.Errorf("page %d of a held batch does not say so", i+1)
		}
	}
}

// Two parts of half a width stand beside each other where both fit, on a line; old values are
// struck through, and no other text is.
func TestPartsBeside(t *testing.T) {
	ps, err := sheet(sheets()["short"])
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]text{}
	for _, x := range ps[0].texts {
		at[x.said] = x
		if x.struck != (x.said == "3 kg") {
			t.Errorf("%q is struck through: %v", x.said, x.struck)
		}
	}
	if l, r := at["left"], at["right"]; l.y != r.y || r.x <= l.x {
		t.Errorf("left stands at %v, right at %v", l.spot, r.spot)
	}
	struck := at["3 kg"].extent()
	through := func(s surface) bool {
		return len(s.outline) == 4 && s.outline[0].x == struck.x && s.outline[1].x == struck.x+struck.wide && s.outline[0].y > struck.y && s.outline[2].y < struck.y+struck.high
	}
	if !slices.ContainsFunc(ps[0].surfaces, through) {
		t.Error("no line goes through the old value")
	}
	tall := sheets()["short"]
	for i := range tall.Parts {
		if tall.Parts[i].Half {
			tall.Parts[i].Lines = slices.Repeat([]string{"one line of many"}, 100)
		}
	}
	if ps, err = sheet(tall); err != nil || len(ps) < 3 {
		t.Errorf("%d pages (%v), want what doesn't fit beside to go on", len(ps), err)
	}
}

// What a cook reads from an arm's length away is large enough.
func TestLabelIsReadable(t *testing.T) {
	for name, l := range labels() {
		p, err := label(l)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range p.texts {
			least := point(7)
			switch {
			case strings.Contains(l.Title+l.Batch+l.Weight+l.State, x.said) && len(x.said) > 4:
				least = 13
			case x.bold:
				least = 10
			}
			if x.size < least {
				t.Errorf("%s: %q has %v points, want %v", name, x.said, x.size, least)
			}
		}
		if p.wide != 100 || p.high < 70 || p.high > 200 && name != "long" {
			t.Errorf("%s: %v × %v mm", name, p.wide, p.high)
		}
	}
}

// The code on a label is read by a decoder of another project, at the size that it is drawn.
func TestCodeIsRead(t *testing.T) {
	for name, l := range labels() {
		l.Code = legible(l.Code)
		files, err := Pen{}.Draw(bot.Paper{Name: "label", At: noon, Label: &l})
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(files[1].Bytes))
		if err != nil {
			t.Fatal(err)
		}
		bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
		if err != nil {
			t.Fatal(err)
		}
		got, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
		if err != nil || got.GetText() != l.Code {
			t.Errorf("%s: the code says %v (%v), want %q", name, got, err, l.Code)
		}
	}
}

// A paper is the same bytes drawn twice, and carries no other date than its own.
func TestDrawnTwice(t *testing.T) {
	var papers []bot.Paper
	for _, l := range labels() {
		papers = append(papers, bot.Paper{Name: "label", Language: "en", At: noon, Label: &l})
	}
	for _, s := range sheets() {
		papers = append(papers, bot.Paper{Name: "sheet", Language: "es", At: noon, Sheet: &s})
	}
	for _, c := range charts() {
		papers = append(papers, bot.Paper{Name: "chart", Language: "fr", At: noon, Chart: &c})
	}
	papers = append(papers, bot.Paper{Name: "table", At: noon, Table: &bot.Table{Head: []string{"a"}, Rows: [][]string{{"b"}}}})
	want := map[string]string{".pdf": "%PDF-", ".png": "\x89PNG\r\n\x1a\n", ".csv": mark}
	for _, p := range papers {
		first, err := Pen{}.Draw(p)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Pen{}.Draw(p)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range first {
			if !bytes.Equal(f.Bytes, again[i].Bytes) {
				t.Errorf("%s is not the same twice", f.Name)
			}
			ending := f.Name[strings.LastIndexByte(f.Name, '.'):]
			if !bytes.HasPrefix(f.Bytes, []byte(want[ending])) || want[ending] == "" {
				t.Errorf("%s begins with %q", f.Name, f.Bytes[:min(8, len(f.Bytes))])
			}
			if ending == ".pdf" && bytes.Count(f.Bytes, []byte("(D:20261125120000")) != 2 {
				t.Errorf("%s doesn't carry its own date twice, as made and as changed", f.Name)
			}
		}
	}
	if _, err := (Pen{}).Draw(bot.Paper{Name: "nothing"}); err == nil {
		t.Error("a paper without a part is drawn")
	}
}

// A text as it can be printed hides nothing and turns nothing around.
func TestLegible(t *testing.T) {
	for in, want := range map[string]string{
		"épaule ½ → 3 °C":      "épaule ½ → 3 °C",
		"a\u202eb\u200bc\td\n": "abc d",
		"肉 🥓":                  "□ □",
		"  spaced   out  ":     "spaced out",
		"1\u202f250 g":         "1 250 g",
	} {
		if got := legible(in); got != want {
			t.Errorf("%q is printed as %q, want %q", in, got, want)
		}
	}
}
