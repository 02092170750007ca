package paper

import (
	"image/color"
	"math"
	"strconv"

	"salthand/bot"
)

// A chart is as wide as a phone in the hand shows it without zooming: 90 mm, letters of 9 points
// and more. It has a ground of its own, so that it reads the same in a dark and a light chat.
const (
	chartWide mm = 90
	plotHigh  mm = 52
	chartEdge mm = 3
	lineThick mm = 0.55
)

var (
	chartTitle = style{size: 12, bold: true}
	chartText  = style{size: 9}
	chartBold  = style{size: 9, bold: true}
)

// plot is the part of a chart that figures stand in.
type plot struct {
	*page
	box
	bot.Chart
}

// at is the place of a pair of figures.
func (p plot) at(x, y float64) spot {
	return spot{p.x + p.box.wide*mm((x-p.X.From)/(p.X.To-p.X.From)), p.y + p.box.high*mm(1-(y-p.Y.From)/(p.Y.To-p.Y.From))}
}

// chart lays a chart out.
func chart(c bot.Chart) *page {
	p := &page{wide: chartWide}
	inside := chartWide - 2*chartEdge
	y := p.write(box{chartEdge, chartEdge, inside, 0}, chartTitle, black, c.Title)
	y = p.write(box{chartEdge, y, inside, 0}, chartText, black, c.Under) + 1
	y = p.write(box{chartEdge, y, inside, 0}, chartBold, black, c.Y.Name) + 2
	gutter := mm(0) // for the figures beside the upright axis
	for _, v := range ticks(c.Y.From, c.Y.To, 6) {
		gutter = max(gutter, chartText.width(figure(v)))
	}
	gutter += chartEdge + 1.5
	in := plot{p, box{gutter, y, chartWide - chartEdge - 2 - gutter, plotHigh}, c}
	in.grid()
	in.band()
	for _, l := range c.Lines {
		if l.Dots {
			in.dots(l)
		} else {
			in.line(l)
		}
	}
	for i, m := range c.Marks {
		in.mark(m, i)
	}
	in.axes()
	y += plotHigh + chartText.size.line() + 1.5
	s := chartBold
	wide := s.width(legible(c.X.Name))
	if wide < in.box.wide {
		p.lines(box{in.x + in.box.wide - wide, y, wide + 0.01, 0}, s, black, legible(c.X.Name))
		y += s.size.line()
	} else {
		y = p.write(box{chartEdge, y, inside, 0}, s, black, c.X.Name)
	}
	y = in.legend(y + 1)
	if c.Foot != "" {
		y = p.write(box{chartEdge, y + 0.8, inside, 0}, chartText, black, c.Foot)
	}
	p.high = y + chartEdge
	return p
}

// grid draws a pale line at each tick, and its figure.
func (p plot) grid() {
	for _, v := range ticks(p.Y.From, p.Y.To, 6) {
		at := p.at(p.X.From, v)
		p.rule(at.x, at.y, p.box.wide, 0.2, pale)
		said := figure(v)
		wide := chartText.width(said)
		p.lines(box{at.x - 1 - wide, at.y - chartText.size.line()/2, wide + 0.01, 0}, chartText, black, said)
	}
	end := mm(-1)
	for _, v := range ticks(p.X.From, p.X.To, 7) {
		at := p.at(v, p.Y.From)
		p.fill(box{at.x - 0.1, p.y, 0.2, p.box.high}, pale)
		said := figure(v)
		wide := chartText.width(said)
		if x := min(at.x-wide/2, chartWide-chartEdge-wide); x > end {
			p.lines(box{x, at.y + 1, wide + 0.01, 0}, chartText, black, said)
			end = x + wide + 1
		}
	}
}

// band fills what lies between the low and the high figures.
func (p plot) band() {
	if len(p.Band) < 2 {
		return
	}
	var edge []spot
	for _, r := range p.Band {
		edge = append(edge, p.at(r.X, r.High))
	}
	for i := len(p.Band) - 1; i >= 0; i-- {
		edge = append(edge, p.at(p.Band[i].X, p.Band[i].Low))
	}
	p.surfaces = append(p.surfaces, surface{edge, paleBlue})
}

// line draws a line through points.
func (p plot) line(l bot.ChartLine) {
	for i := 1; i < len(l.Points); i++ {
		p.stroke(p.at(l.Points[i-1].X, l.Points[i-1].Y), p.at(l.Points[i].X, l.Points[i].Y), lineThick, blue)
	}
}

// stroke draws a straight line with ends that reach into the next.
func (p plot) stroke(a, b spot, thick mm, ink color.NRGBA) {
	dx, dy := b.x-a.x, b.y-a.y
	n := mm(math.Hypot(float64(dx), float64(dy)))
	if n == 0 {
		return
	}
	ux, uy := dx/n*thick/2, dy/n*thick/2
	p.surfaces = append(p.surfaces, surface{[]spot{
		{a.x - ux - uy, a.y - uy + ux}, {a.x - ux + uy, a.y - uy - ux}, {b.x + ux + uy, b.y + uy - ux}, {b.x + ux - uy, b.y + uy + ux},
	}, ink})
}

// disc is a round spot.
func (p *page) disc(at spot, radius mm, ink color.NRGBA) {
	const corners = 24
	edge := make([]spot, corners)
	for i := range edge {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		edge[i] = spot{at.x + radius*mm(cos), at.y + radius*mm(sin)}
	}
	p.surfaces = append(p.surfaces, surface{edge, ink})
}

// dots draws readings: black with a white rim.
func (p plot) dots(l bot.ChartLine) {
	for _, at := range l.Points {
		p.disc(p.at(at.X, at.Y), 1.25, white)
		p.disc(p.at(at.X, at.Y), 0.95, black)
	}
}

// mark draws a dashed line at a value, or a bar from one to another. Its letter stands in the
// legend.
func (p plot) mark(m bot.ChartMark, n int) {
	switch {
	case m.Until > m.At:
		a, b := p.at(max(m.At, p.X.From), m.Y), p.at(min(m.Until, p.X.To), m.Y)
		p.stroke(a, b, 1.6, vermilion)
	case m.Upright:
		a := p.at(m.At, p.Y.To)
		p.dashed(a, spot{a.x, p.y + p.box.high}, markDash[n%len(markDash)], vermilion)
	default:
		a := p.at(p.X.From, m.At)
		p.dashed(a, spot{p.x + p.box.wide, a.y}, markDash[n%len(markDash)], vermilion)
	}
}

// markDash are the lengths of the dashes of the marks of a chart, to tell them apart.
var markDash = []mm{2.4, 0.9, 4.5}

// dashed draws a dashed line.
func (p plot) dashed(a, b spot, dash mm, ink color.NRGBA) {
	length := mm(math.Hypot(float64(b.x-a.x), float64(b.y-a.y)))
	for from := mm(0); from < length; from += dash * 1.7 {
		to := min(from+dash, length)
		p.stroke(spot{a.x + (b.x-a.x)*from/length, a.y + (b.y-a.y)*from/length}, spot{a.x + (b.x-a.x)*to/length, a.y + (b.y-a.y)*to/length}, 0.4, ink)
	}
}

// axes draws the two axes over what stands in the plot.
func (p plot) axes() {
	p.fill(box{p.x - 0.2, p.y, 0.4, p.box.high}, black)
	p.rule(p.x, p.y+p.box.high, p.box.wide, 0.4, black)
}

// legend names what is drawn, with its look beside it.
func (p plot) legend(y mm) mm {
	const look = 8
	entry := func(name string, draw func(at box)) {
		b := box{chartEdge + look + 1.5, y, chartWide - 2*chartEdge - look - 1.5, 0}
		draw(box{chartEdge, y, look, chartText.size.line()})
		y = p.write(b, chartText, black, name) + 0.3
	}
	for _, l := range p.Lines {
		entry(l.Name, func(b box) {
			mid := b.y + b.high/2
			if l.Dots {
				p.disc(spot{b.x + b.wide/2, mid}, 0.95, black)
			} else {
				p.rule(b.x, mid, b.wide, lineThick, blue)
			}
		})
	}
	if p.Named != "" {
		entry(p.Named, func(b box) { p.fill(box{b.x, b.y + 0.6, b.wide, b.high - 1.2}, paleBlue) })
	}
	for i, m := range p.Marks {
		entry(m.Name, func(b box) {
			mid := b.y + b.high/2
			if m.Until > m.At {
				p.rule(b.x, mid, b.wide, 1.6, vermilion)
			} else {
				p.dashed(spot{b.x, mid}, spot{b.x + b.wide, mid}, markDash[i%len(markDash)], vermilion)
			}
		})
	}
	return y
}

// ticks are round figures from one end of an axis to the other, at most most of them.
func ticks(from, to float64, most int) (all []float64) {
	step := math.Pow(10, math.Floor(math.Log10((to-from)/float64(most))))
	for _, by := range []float64{1, 2, 5, 10, 20} {
		if (to-from)/(step*by) <= float64(most) {
			step *= by
			break
		}
	}
	for i := math.Ceil(from/step - 1e-9); i*step <= to+step*1e-9; i++ {
		all = append(all, i*step+0) // no −0
	}
	return all
}

// figure prints a tick's figure, with a comma between thousands as cards have it.
func figure(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
	if math.Abs(v) >= 1000 && math.Abs(v) < 1e6 && v == math.Trunc(v) {
		s = s[:len(s)-3] + "," + s[len(s)-3:]
	}
	return s
}
