package paper

import (
	"salthand/bot"
)

// A label for the bag: 100 mm wide, 70 mm high, or higher where it has more to say. Nothing on
// it is cut. What a cook reads from an arm's length away is 13 points or more, the rest 10; only
// the names of the fields are smaller.
const (
	labelWide mm = 100
	labelHigh mm = 70
	labelEdge mm = 3.5
	codeWide  mm = 28
	gap       mm = 2.5
)

var (
	captionStyle = style{size: 7}
	valueStyle   = style{size: 10.5, bold: true}
)

// label lays a label out.
func label(l bot.Label) (*page, error) {
	p := &page{wide: labelWide, high: labelHigh}
	inside := labelWide - 2*labelEdge
	y := labelEdge
	if l.Banner != "" {
		y = p.banner(l.Banner, l.Why, 0, labelWide, labelEdge, 30) + gap
	}
	left := inside - codeWide - gap
	if err := p.code(l.Code, box{labelWide - labelEdge - codeWide + 1, y - 1, codeWide, codeWide}); err != nil {
		return nil, err
	}
	codeEnd := p.write(box{labelWide - labelEdge - codeWide + 3, y - 2 + codeWide, codeWide - 4, 0}, captionStyle, black, l.Code)

	s, lines := fit(l.Title, left, 2, true, 23, 20, 17, 15, 13)
	y = p.lines(box{labelEdge, y, left, 0}, s, black, lines...) + 0.6
	y = p.pair(labelEdge, y, left, l.Batch, l.Weight)
	y = max(p.framed(labelEdge, y, left, l.State), codeEnd) + 1
	p.rule(labelEdge, y, inside, 0.4, black)
	y = p.fields(box{labelEdge, y + 1, inside, 0}, l.Fields)
	foot := captionStyle.wrap(l.Foot, inside)
	p.high = max(labelHigh, y+mm(len(foot))*captionStyle.size.line()+labelEdge)
	p.lines(box{labelEdge, p.high - labelEdge + 1 - mm(len(foot))*captionStyle.size.line(), inside, 0}, captionStyle, black, foot...)
	return p, nil
}

// banner writes a word large in white on black, with the reason beside it, from edge to edge of
// the paper, and returns where it ends.
func (p *page) banner(word, why string, y, wide, edge mm, size point) mm {
	const air = 1.5
	inside := wide - 2*edge
	s, _ := fit(word, inside, 1, true, size, size*3/4, size/2)
	said := s.wrap(word, inside)
	taken := s.width(said[0]) + 2*gap
	reason := style{size: max(size*2/5, 10), bold: true}
	room, x := inside-taken, edge+taken
	height := mm(len(said)) * s.size.line()
	if room < inside/3 || len(reason.wrap(why, room)) > 4 { // no place beside it
		room, x, taken = inside, edge, 0
	}
	lines := reason.wrap(why, room)
	text := mm(len(lines)) * reason.size.line()
	if taken > 0 {
		height = max(height, text)
	} else if why != "" {
		height += text
	}
	p.fill(box{0, y, wide, height + 2*air}, black)
	p.lines(box{edge, y + air, inside, 0}, s, white, said...)
	top := y + air + (height-text)/2
	if taken == 0 {
		top = y + air + height - text
	}
	p.lines(box{x, top, room, 0}, reason, white, lines...)
	return y + height + 2*air
}

// pair writes two large figures beside each other, or one under the other where they are too wide.
func (p *page) pair(x, y, room mm, a, b string) mm {
	s := style{size: 17, bold: true}
	if both := s.width(legible(a)) + s.width(legible(b)) + 2*gap; both > room {
		y = p.write(box{x, y, room, 0}, s, black, a)
		return p.write(box{x, y, room, 0}, s, black, b) + 0.6
	}
	wide := s.width(legible(b))
	p.write(box{x, y, room - wide - gap, 0}, s, black, a)
	return p.write(box{x + room - wide, y, wide + 0.01, 0}, s, black, b) + 0.6
}

// framed writes a text in a frame.
func (p *page) framed(x, y, room mm, said string) mm {
	s, lines := fit(said, room-2*gap, 1, true, 15, 13)
	height := mm(len(lines))*s.size.line() + 1
	p.frame(box{x, y, room, height}, 0.6, black)
	p.lines(box{x + gap, y + 0.6, room - 2*gap, 0}, s, black, lines...)
	return y + height
}

// fields writes names and values in two columns; a wide one takes a line of its own.
func (p *page) fields(b box, fields []bot.PaperField) mm {
	column := (b.wide - gap) / 2
	y, second := b.y, mm(0) // second: where the left one of a pair ends
	for _, f := range fields {
		room := box{b.x, y, column, 0}
		switch {
		case f.Wide && second > 0:
			y, second = second, 0
			room = box{b.x, y, b.wide, 0}
		case f.Wide:
			room.wide = b.wide
		case second > 0:
			room.x += column + gap
		}
		end := p.field(room, f)
		switch {
		case !f.Wide && second == 0:
			second = end
		default:
			y, second = max(end, second), 0
		}
	}
	return max(y, second)
}

// field writes a small name and its value under it; a line to write on where there is none.
func (p *page) field(b box, f bot.PaperField) mm {
	y := p.write(b, captionStyle, grey, f.Name)
	if f.Value == "" {
		y += valueStyle.size.line()
		p.rule(b.x, y-0.6, b.wide, 0.25, grey)
		return y + 0.7
	}
	return p.write(box{b.x, y, b.wide, 0}, valueStyle, black, f.Value) + 0.7
}
