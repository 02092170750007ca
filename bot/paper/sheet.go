package paper

import (
	"fmt"

	"salthand/bot"
)

// The measures of a sheet.
const (
	sheetEdge mm = 12
	footEdge  mm = 8 // below the foot
	footHigh  mm = 6
	partAbove mm = 2  // free above each part
	fieldName mm = 30 // beside it stands the value
	sheetCode mm = 20
	cellEdge  mm = 0.7
)

var (
	titleStyle   = style{size: 17, bold: true}
	underStyle   = style{size: 10}
	headingStyle = style{size: 9.5, bold: true}
	nameStyle    = style{size: 8}
	bodyStyle    = style{size: 8.5}
	cellStyle    = style{size: 8}
	headStyle    = style{size: 8, bold: true}
)

// writer fills pages from the top, from x on as wide as wide.
type writer struct {
	bot.Sheet
	pages   []*page
	x, wide mm
	y       mm
}

// sheet lays a sheet out on as many pages as it takes.
func sheet(s bot.Sheet) ([]*page, error) {
	w := &writer{Sheet: s, x: sheetEdge}
	w.next()
	p := w.page()
	if s.Banner != "" {
		w.y = p.banner(s.Banner, s.Why, 0, p.wide, sheetEdge, 26) + 4
	}
	top := w.y
	room := w.wide
	if s.Code != "" {
		room -= sheetCode + gap
		if err := p.code(s.Code, box{p.wide - sheetEdge - sheetCode, top - 2, sheetCode, sheetCode}); err != nil {
			return nil, err
		}
	}
	w.y = p.write(box{sheetEdge, w.y, room, 0}, titleStyle, black, s.Title) + 0.5
	w.y = p.write(box{sheetEdge, w.y, room, 0}, underStyle, black, s.Under)
	if s.Code != "" {
		w.y = max(w.y, top+sheetCode-3)
	}
	for i := 0; i < len(s.Parts); i++ {
		if i+1 < len(s.Parts) && w.beside(s.Parts[i], s.Parts[i+1]) {
			i++
			continue
		}
		w.part(s.Parts[i])
	}
	for i, p := range w.pages {
		w.foot(p, i+1)
	}
	return w.pages, nil
}

// page is the one that is being filled.
func (w *writer) page() *page { return w.pages[len(w.pages)-1] }

// left is the height that is left on the page.
func (w *writer) left() mm { return w.page().high - footEdge - footHigh - w.y }

// next begins a page. A held batch is held on each of its pages.
func (w *writer) next() {
	p := &page{wide: 210, high: 297} // A4: ISO 216
	if w.Letter {
		p.wide, p.high = 8.5*inch, 11*inch
	}
	w.wide = p.wide - 2*sheetEdge
	again := len(w.pages) > 0
	w.pages, w.y = append(w.pages, p), sheetEdge
	if again && w.Banner != "" {
		w.y = p.banner(w.Banner, w.Title, 0, p.wide, sheetEdge, 16) + 4
	} else if again {
		w.y = p.write(box{sheetEdge, w.y, w.wide, 0}, headingStyle, black, w.Title) + 2
	}
}

// need begins a page where less than this is left.
func (w *writer) need(height mm) {
	if w.left() < height {
		w.next()
	}
}

// beside writes two parts of half a width next to each other, where both are such and what is
// left of the page holds them; else it writes nothing and is false.
func (w *writer) beside(a, b bot.SheetPart) bool {
	column := (w.wide - 2*gap) / 2
	if !a.Half || !b.Half {
		return false
	}
	// What begins asks for a few lines, whether it has them or not: neither may begin a page.
	if max(w.height(a, column), w.height(b, column))+3*bodyStyle.size.line() > w.left() {
		return false
	}
	left, right := *w, *w
	left.wide, right.wide = column, column
	right.x += column + 2*gap
	left.part(a)
	right.part(b)
	w.y = max(left.y, right.y)
	return true
}

// height is what a part takes on a page that has room for it.
func (w *writer) height(part bot.SheetPart, wide mm) mm {
	trial := &writer{Sheet: w.Sheet, pages: []*page{{high: 1e6}}, wide: wide}
	trial.part(part)
	return trial.y
}

// part writes a heading and what stands under it.
func (w *writer) part(part bot.SheetPart) {
	w.y += partAbove
	w.need(headingStyle.size.line() + 3*bodyStyle.size.line())
	if part.Heading != "" {
		w.y = w.page().write(box{w.x, w.y, w.wide, 0}, headingStyle, black, part.Heading) + 0.3
		w.page().rule(w.x, w.y, w.wide, 0.35, black)
		w.y += 0.8
	}
	w.fields(part.Fields)
	for _, l := range part.Lines {
		for _, line := range bodyStyle.wrap(l, w.wide) {
			w.need(bodyStyle.size.line())
			w.y = w.page().lines(box{w.x, w.y, w.wide, 0}, bodyStyle, black, line)
		}
	}
	if part.Grid != nil {
		if len(part.Fields)+len(part.Lines) > 0 {
			w.y += 1.2
		}
		w.grid(*part.Grid)
	}
}

// fields writes names with their values beside them, two to a row.
func (w *writer) fields(fields []bot.PaperField) {
	for len(fields) > 0 {
		n := 2
		if fields[0].Wide || len(fields) == 1 || fields[1].Wide {
			n = 1
		}
		column := (w.wide - 2*gap) / 2
		var names, values [2][]string
		rows := 1
		room := [2]mm{column - fieldName, column - fieldName}
		if fields[0].Wide {
			room[0] = w.wide - fieldName
		}
		for i, f := range fields[:n] {
			names[i], values[i] = nameStyle.wrap(f.Name, fieldName-1), bodyStyle.wrap(f.Value, room[i])
			rows = max(rows, len(names[i]), len(values[i]))
		}
		height := mm(rows)*bodyStyle.size.line() + 0.5
		blank := fields[0].Value == ""
		if blank {
			height = max(height, 6.4) // room for a hand
		}
		w.need(height)
		for i, f := range fields[:n] {
			x := w.x + mm(i)*(column+2*gap)
			y := w.y
			if blank {
				y += 1.6
			}
			w.page().lines(box{x, y + 0.35, fieldName - 1, 0}, nameStyle, grey, names[i]...)
			w.page().lines(box{x + fieldName, y, room[i], 0}, bodyStyle, black, values[i]...)
			if f.Value == "" {
				w.page().rule(x+fieldName, w.y+5.6, room[i], 0.2, grey)
			}
		}
		w.y += height
		fields = fields[n:]
	}
}

// grid writes a table; its head stands on each page that it goes on to.
func (w *writer) grid(g bot.Grid) {
	widths := make([]mm, len(g.Widths))
	sum := 0.0
	for _, x := range g.Widths {
		sum += x
	}
	for i, x := range g.Widths {
		widths[i] = mm(x/sum) * w.wide
	}
	head := func() { w.row(g.Head, widths, headStyle, true) }
	w.need(3 * bodyStyle.size.line())
	head()
	for _, r := range g.Rows {
		w.cells(r, widths, g.Old, head)
	}
	for range g.Empty {
		const hand = 7.5 // room for a hand
		if w.left() < hand {
			w.next()
			head()
		}
		w.edges(widths, hand)
		w.y += hand
	}
}

// cells writes a row; what doesn't fit on the page goes on under a head on the next.
func (w *writer) cells(row []string, widths []mm, old int, head func()) {
	lines := make([][]string, len(widths))
	rows := 1
	for i := range widths {
		if i < len(row) {
			lines[i] = cellStyle.wrap(row[i], widths[i]-2*cellEdge)
		}
		rows = max(rows, len(lines[i]))
	}
	for first := 0; first < rows; {
		fits := int((w.left() - cellEdge) / cellStyle.size.line())
		if fits < min(rows-first, 3) {
			w.next()
			head()
			continue
		}
		n := min(fits, rows-first)
		part := make([][]string, len(widths))
		for i := range lines {
			part[i] = lines[i][min(first, len(lines[i])):min(first+n, len(lines[i]))]
		}
		w.place(part, n, widths, old, cellStyle, false)
		first += n
	}
}

// row writes one row of texts that fit.
func (w *writer) row(row []string, widths []mm, s style, shaded bool) {
	lines, n := make([][]string, len(widths)), 1
	for i := range widths {
		if i < len(row) {
			lines[i] = s.wrap(row[i], widths[i]-2*cellEdge)
		}
		n = max(n, len(lines[i]))
	}
	w.place(lines, n, widths, 0, s, shaded)
}

// place writes the lines of one row, n at most in a cell; those of the column of old values are
// struck through.
func (w *writer) place(lines [][]string, n int, widths []mm, old int, s style, shaded bool) {
	height := mm(n)*s.size.line() + cellEdge
	if shaded {
		w.page().fill(box{w.x, w.y, w.wide, height}, pale)
	}
	w.edges(widths, height)
	x := w.x
	for i, wide := range widths {
		s.struck = i+1 == old
		w.page().lines(box{x + cellEdge, w.y + cellEdge/2, wide - 2*cellEdge, 0}, s, black, lines[i]...)
		x += wide
	}
	w.y += height
}

// edges draws the lines around the cells of a row.
func (w *writer) edges(widths []mm, height mm) {
	const thin = 0.2
	x := w.x
	for _, wide := range widths {
		w.page().fill(box{x - thin/2, w.y, thin, height}, grey)
		x += wide
	}
	w.page().fill(box{x - thin/2, w.y, thin, height}, grey)
	w.page().rule(w.x, w.y, w.wide, thin, grey)
	w.page().rule(w.x, w.y+height, w.wide, thin, grey)
}

// foot writes what stands at the foot of every page.
func (w *writer) foot(p *page, n int) {
	y := p.high - footEdge - footHigh + 2.5
	number := fmt.Sprintf(w.Page, n, len(w.pages))
	wide := nameStyle.width(number) + 1
	p.rule(sheetEdge, y-1, p.wide-2*sheetEdge, 0.2, grey)
	p.write(box{p.wide - sheetEdge - wide, y, wide, 0}, nameStyle, black, number)
	p.write(box{sheetEdge, y, p.wide - 2*sheetEdge - wide - gap, 0}, nameStyle, black, w.Foot)
}
