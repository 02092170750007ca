package paper

import (
	"bytes"

	"codeberg.org/go-pdf/fpdf"

	"salthand/bot"
)

// family is what the fonts are called inside a PDF.
const family = "go"

// asPDF writes pages as a PDF with the letters in it.
func asPDF(p bot.Paper, title string, pages []*page) ([]byte, error) {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: float64(pages[0].wide), Ht: float64(pages[0].high)}})
	f.SetCatalogSort(true)
	f.SetCreationDate(p.At.UTC())
	f.SetModificationDate(p.At.UTC())
	f.SetTitle(legible(title), true)
	f.SetLang(p.Language)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.AddUTF8FontFromBytes(family, "", typefaces()[0].ttf)
	f.AddUTF8FontFromBytes(family, "B", typefaces()[1].ttf)
	for _, one := range pages {
		f.AddPageFormat("", fpdf.SizeType{Wd: float64(one.wide), Ht: float64(one.high)})
		for _, s := range one.surfaces {
			f.SetFillColor(int(s.ink.R), int(s.ink.G), int(s.ink.B))
			f.Polygon(outline(s), "F")
		}
		for _, t := range one.texts {
			bold := ""
			if t.bold {
				bold = "B"
			}
			f.SetFont(family, bold, float64(t.size))
			f.SetTextColor(int(t.ink.R), int(t.ink.G), int(t.ink.B))
			f.Text(float64(t.x), float64(t.y), t.said)
		}
	}
	var out bytes.Buffer
	err := f.Output(&out)
	return out.Bytes(), err
}

func outline(s surface) []fpdf.PointType {
	points := make([]fpdf.PointType, len(s.outline))
	for i, at := range s.outline {
		points[i] = fpdf.PointType{X: float64(at.x), Y: float64(at.y)}
	}
	return points
}
