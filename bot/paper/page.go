package paper

import (
	"image/color"

	"rsc.io/qr"
)

// page is a sheet with things on it, placed from its top left corner.
type page struct {
	wide, high mm
	surfaces   []surface
	texts      []text
}

// spot is a place on a page.
type spot struct{ x, y mm }

// box is a part of a page.
type box struct{ x, y, wide, high mm }

// surface is an area filled with one ink. Those that come later lie on top.
type surface struct {
	outline []spot
	ink     color.NRGBA
}

// text is a line of text with its place: the left end of the line that its letters stand on.
type text struct {
	spot
	style
	said string
	ink  color.NRGBA
	room box // that it must keep to
}

// The inks. Those of charts are told apart by people with any colour vision: Okabe and Ito,
// Color Universal Design, 2008 (from memory).
var (
	black     = color.NRGBA{0, 0, 0, 255}
	white     = color.NRGBA{255, 255, 255, 255}
	grey      = color.NRGBA{85, 85, 85, 255}
	pale      = color.NRGBA{232, 232, 232, 255}
	blue      = color.NRGBA{0, 114, 178, 255}
	paleBlue  = color.NRGBA{178, 214, 236, 255}
	vermilion = color.NRGBA{213, 94, 0, 255}
)

// fill fills a box.
func (p *page) fill(b box, ink color.NRGBA) {
	p.surfaces = append(p.surfaces, surface{[]spot{{b.x, b.y}, {b.x + b.wide, b.y}, {b.x + b.wide, b.y + b.high}, {b.x, b.y + b.high}}, ink})
}

// frame draws the edge of a box, on its inside.
func (p *page) frame(b box, thick mm, ink color.NRGBA) {
	p.fill(box{b.x, b.y, b.wide, thick}, ink)
	p.fill(box{b.x, b.y + b.high - thick, b.wide, thick}, ink)
	p.fill(box{b.x, b.y, thick, b.high}, ink)
	p.fill(box{b.x + b.wide - thick, b.y, thick, b.high}, ink)
}

// rule draws a line from left to right.
func (p *page) rule(x, y, wide, thick mm, ink color.NRGBA) {
	p.fill(box{x, y - thick/2, wide, thick}, ink)
}

// lines puts lines of text into a box, from its top, and returns where the next would begin.
func (p *page) lines(b box, s style, ink color.NRGBA, lines ...string) mm {
	y := b.y
	for _, l := range lines {
		if l != "" {
			foot := y + s.size.high()*above
			p.texts = append(p.texts, text{spot{b.x, foot}, s, l, ink, box{b.x, y, b.wide, s.size.line()}})
			if s.struck {
				p.rule(b.x, foot-s.size.high()*struckAt, s.width(l), 0.25, ink)
			}
		}
		y += s.size.line()
	}
	return y
}

// struckAt is the share of a letter's size at which a line goes through it, above the line that
// it stands on: half the height of an x of the Go fonts.
const struckAt = 0.26

// write wraps a text into a box, from its top, and returns where the next would begin.
func (p *page) write(b box, s style, ink color.NRGBA, said string) mm {
	return p.lines(b, s, ink, s.wrap(said, b.wide)...)
}

// extent is the box that a text takes up.
func (t text) extent() box {
	h := t.size.high()
	return box{t.x, t.y - h*above, t.width(t.said), h * (above + below)}
}

// dot is the length of a picture's dot. A code's squares are a whole number of them.
const dot = inch / dots

// dots is how many of a picture's dots make an inch.
const dots = 300

// quiet is the white edge of a code, in its squares: ISO/IEC 18004 asks for 4.
const quiet = 4

// code draws a QR code with its white edge into a square, as large as it may be.
func (p *page) code(said string, b box) error {
	c, err := qr.Encode(said, qr.M)
	if err != nil {
		return err
	}
	p.fill(b, white)
	n := c.Size + 2*quiet
	square := mm(int(b.wide/dot)/n) * dot
	left := snapped(b.x + (b.wide-square*mm(c.Size))/2)
	top := snapped(b.y + (b.high-square*mm(c.Size))/2)
	for y := range c.Size {
		for x := 0; x < c.Size; x++ {
			from := x
			for x < c.Size && c.Black(x, y) {
				x++
			}
			if x > from {
				p.fill(box{left + square*mm(from), top + square*mm(y), square * mm(x-from), square}, black)
			}
		}
	}
	return nil
}

// snapped is a place on the nearest dot.
func snapped(x mm) mm { return mm(int(x/dot+0.5)) * dot }
