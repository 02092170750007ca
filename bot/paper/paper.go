// Package paper draws what cards carry as plain data: labels and sheets as PDF, labels and
// charts as PNG, tables as CSV. It lays out and knows nothing of curing. The same paper gives
// the same bytes; the only date in them is the paper's own.
//
// A layout puts texts, lines, surfaces and codes on a page (page.go), in millimetres; two
// files write a page as PDF (pdf.go) and as PNG (png.go), with the same letters.
package paper

import (
	"errors"
	"fmt"

	"salthand/bot"
)

// Pen is a bot.Drawer.
type Pen struct{}

// errEmpty is the error of a paper with no part.
var errEmpty = errors.New("paper: nothing to draw")

// Draw makes the files of a paper: two of a label, one of anything else.
func (Pen) Draw(p bot.Paper) (files []bot.File, err error) {
	defer func() {
		if r := recover(); r != nil { // a fault in a library must cost one paper, not the kitchen's bot
			files, err = nil, fmt.Errorf("paper: drawing %s: %v", p.Name, r)
		}
	}()
	add := func(ending, media string, b []byte, err error) error {
		if err != nil {
			return fmt.Errorf("paper: %s.%s: %w", p.Name, ending, err)
		}
		files = append(files, bot.File{Name: p.Name + "." + ending, Media: media, Bytes: b})
		return nil
	}
	pdf := func(title string, pages []*page) error {
		b, err := asPDF(p, title, pages)
		return add("pdf", "application/pdf", b, err)
	}
	png := func(one *page) error {
		b, err := asPNG(one)
		return add("png", "image/png", b, err)
	}
	switch {
	case p.Label != nil:
		one, err := label(*p.Label)
		if err == nil {
			err = errors.Join(pdf(p.Label.Title, []*page{one}), png(one))
		}
		return files, err
	case p.Sheet != nil:
		pages, err := sheet(*p.Sheet)
		if err == nil {
			err = pdf(p.Sheet.Title, pages)
		}
		return files, err
	case p.Chart != nil:
		err := png(chart(*p.Chart))
		return files, err
	case p.Table != nil:
		b, err := table(*p.Table)
		err = add("csv", "text/csv; charset=utf-8", b, err)
		return files, err
	}
	return nil, errEmpty
}
