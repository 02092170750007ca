package paper

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// canvas is a page as a picture.
type canvas struct{ img *image.RGBA }

// asPNG writes a page as a picture on white.
func asPNG(p *page) ([]byte, error) {
	c := canvas{image.NewRGBA(image.Rect(0, 0, int(math.Round(float64(p.wide/dot))), int(math.Round(float64(p.high/dot)))))}
	draw.Draw(c.img, c.img.Bounds(), image.NewUniform(white), image.Point{}, draw.Src)
	for _, s := range p.surfaces {
		c.surface(s)
	}
	for _, t := range p.texts {
		c.text(t)
	}
	var out bytes.Buffer
	var img image.Image = c.img
	if p.colourless() {
		grey := image.NewGray(c.img.Bounds())
		draw.Draw(grey, grey.Bounds(), c.img, image.Point{}, draw.Src)
		img = grey
	}
	err := png.Encode(&out, img)
	return out.Bytes(), err
}

// colourless reports whether all of a page is black, white and grey.
func (p *page) colourless() bool {
	for _, s := range p.surfaces {
		if s.ink.R != s.ink.G || s.ink.G != s.ink.B {
			return false
		}
	}
	return true
}

// surface fills an outline.
func (c canvas) surface(s surface) {
	var x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, at := range s.outline {
		x, y := float64(at.x/dot), float64(at.y/dot)
		x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
	}
	brush := newBrush(x0, y0, x1, y1)
	for i, at := range s.outline {
		brush.to(i == 0, at.x/dot, at.y/dot)
	}
	brush.paint(c, s.ink)
}

// text draws the letters of a text by their outlines.
func (c canvas) text(t text) {
	e := t.extent()
	margin := float64(t.size.high() / dot) // a letter may reach beyond its advance
	brush := newBrush(float64(e.x/dot)-margin, float64(e.y/dot)-margin, float64((e.x+e.wide)/dot)+margin, float64((e.y+e.high)/dot)+margin)
	var buf sfnt.Buffer
	f := t.face().font
	size := fixed.Int26_6(math.Round(float64(t.size.high()/dot) * 64))
	x, y := t.x/dot, t.y/dot
	for _, r := range t.said {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		shape, err := f.LoadGlyph(&buf, g, size, nil)
		if err != nil {
			continue
		}
		for _, s := range shape {
			at := func(i int) (mm, mm) { return x + mm(s.Args[i].X)/64, y + mm(s.Args[i].Y)/64 }
			ax, ay := at(0)
			switch s.Op {
			case sfnt.SegmentOpMoveTo, sfnt.SegmentOpLineTo:
				brush.to(s.Op == sfnt.SegmentOpMoveTo, ax, ay)
			case sfnt.SegmentOpQuadTo:
				bx, by := at(1)
				brush.QuadTo(brush.x(ax), brush.y(ay), brush.x(bx), brush.y(by))
			case sfnt.SegmentOpCubeTo:
				bx, by := at(1)
				cx, cy := at(2)
				brush.CubeTo(brush.x(ax), brush.y(ay), brush.x(bx), brush.y(by), brush.x(cx), brush.y(cy))
			}
		}
		x += t.width(string(r)) / dot
	}
	brush.paint(c, t.ink)
}

// brush fills outlines within a part of a picture, in dots.
type brush struct {
	*vector.Rasterizer
	left, top int
}

func newBrush(x0, y0, x1, y1 float64) brush {
	left, top := int(math.Floor(x0)), int(math.Floor(y0))
	return brush{vector.NewRasterizer(int(math.Ceil(x1))-left+1, int(math.Ceil(y1))-top+1), left, top}
}

func (b brush) x(at mm) float32 { return float32(float64(at) - float64(b.left)) }
func (b brush) y(at mm) float32 { return float32(float64(at) - float64(b.top)) }

// to goes on to a place, or begins there.
func (b brush) to(begin bool, x, y mm) {
	if begin {
		b.ClosePath()
		b.MoveTo(b.x(x), b.y(y))
		return
	}
	b.LineTo(b.x(x), b.y(y))
}

func (b brush) paint(c canvas, ink color.NRGBA) {
	b.ClosePath()
	size := b.Size()
	whole := image.Rect(b.left, b.top, b.left+size.X, b.top+size.Y)
	if whole.In(c.img.Bounds()) {
		b.Draw(c.img, whole, image.NewUniform(ink), image.Point{})
		return
	}
	mask := image.NewAlpha(image.Rect(0, 0, size.X, size.Y)) // it reaches over the edge of the picture
	b.Draw(mask, mask.Bounds(), image.Opaque, image.Point{})
	draw.DrawMask(c.img, whole, image.NewUniform(ink), image.Point{}, mask, image.Point{}, draw.Over)
}
