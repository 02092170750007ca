package paper

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// mm is a length on paper, and point is the size of a letter: 72 to an inch.
type (
	mm    float64
	point float64
)

// inch is an inch in millimetres, exact.
const inch mm = 25.4

// high is a size of a letter as a length.
func (p point) high() mm { return mm(p) / 72 * inch }

// The shares of a letter's size that stand above and below the line that it stands on, and from
// one line to the next. Go Regular and Go Bold: 0.944 and 0.211 by their hhea table.
const (
	above = 0.944
	below = 0.211
	lead  = 1.22
)

// line is the distance between two lines of text.
func (p point) line() mm { return p.high() * lead }

// typeface is one of the two fonts. Both tell 1, l and I apart, and 0 and O.
type typeface struct {
	ttf     []byte
	font    *sfnt.Font
	advance []fixed.Int26_6 // by rune, at unitsPerEm; 0: no such letter
}

// lastRune is the last one that the fonts have: U+266B.
const lastRune = 0x266b

var typefaces = sync.OnceValue(func() (both [2]typeface) {
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic(err) // cannot happen: the font is linked in
		}
		both[i] = typeface{ttf, f, make([]fixed.Int26_6, lastRune+1)}
		var buf sfnt.Buffer
		for r := range rune(lastRune + 1) {
			if g, err := f.GlyphIndex(&buf, r); err == nil && g != 0 {
				both[i].advance[r], _ = f.GlyphAdvance(&buf, g, fixed.I(unitsPerEm), font.HintingNone) // 0: not to be printed
			}
		}
	}
	return both
})

// style is a size, whether it is bold, and whether it is struck through.
type style struct {
	size   point
	bold   bool
	struck bool
}

func (s style) face() typeface {
	if s.bold {
		return typefaces()[1]
	}
	return typefaces()[0]
}

// unitsPerEm is the size at which letters are measured.
const unitsPerEm = 2048

// width is how wide a text is.
func (s style) width(text string) mm {
	advance := s.face().advance
	sum := fixed.Int26_6(0)
	for _, r := range text {
		if r <= lastRune {
			sum += advance[r]
		}
	}
	return mm(sum) / 64 / unitsPerEm * s.size.high()
}

// has reports whether both fonts have a letter for a rune.
func has(r rune) bool {
	both := typefaces()
	return r <= lastRune && both[0].advance[r] > 0 && both[1].advance[r] > 0
}

// legible is a text as it can be printed: without what turns the direction or has no width, one
// space for any, and a box for a letter that the fonts lack.
func legible(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || unicode.IsControl(r) || r == 0x202f:
			return ' '
		case unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Mn, r) && !has(r) || r == 0xfe0f:
			return -1
		case !has(r):
			return '□'
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// wrap breaks a text into lines no wider than room: between words, and within a word that is
// wider than a line. Nothing is left out.
func (s style) wrap(text string, room mm) (lines []string) {
	line, long, space := "", mm(0), s.width(" ")
	for _, word := range unbroken(strings.Fields(legible(text))) {
		wide := s.width(word)
		for word != "" && wide > room { // a room can have no width at all
			if line != "" {
				lines, line = append(lines, line), ""
			}
			head := s.head(word, room)
			lines, word = append(lines, head), word[len(head):]
			wide = s.width(word)
		}
		switch {
		case word == "":
		case line == "":
			line, long = word, wide
		case long+space+wide <= room:
			line, long = line+" "+word, long+space+wide
		default:
			lines, line, long = append(lines, line), word, wide
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// unbroken joins what no line breaks between: a number and its unit, and a word and the sign
// that French sets apart from it.
func unbroken(words []string) (out []string) {
	for _, w := range words {
		if n := len(out); n > 0 && (signs[w] || units[strings.TrimRight(w, ",.;:)")] && endsInDigit(out[n-1])) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

var (
	signs = map[string]bool{":": true, ";": true, "?": true, "!": true, "»": true, "→": true, "=": true}
	units = map[string]bool{"g": true, "kg": true, "mg": true, "%": true, "ppm": true, "°C": true, "°F": true, "h": true, "min": true, "cm": true, "mm": true, "l": true, "ml": true, "lb": true, "oz": true}
)

func endsInDigit(s string) bool { return s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// head is as much of a word as fits, at least one letter.
func (s style) head(word string, room mm) string {
	for i := range word {
		if i > 0 && s.width(word[:i+runeLen(word[i:])]) > room {
			return word[:i]
		}
	}
	return word
}

func runeLen(s string) int {
	for i := range s {
		if i > 0 {
			return i
		}
	}
	return len(s)
}

// fit is the largest of the sizes at which a text takes no more than lines in a room; the last
// one where it takes more at each.
func fit(text string, room mm, lines int, bold bool, sizes ...point) (s style, wrapped []string) {
	for _, size := range sizes {
		s = style{size: size, bold: bold}
		if wrapped = s.wrap(text, room); len(wrapped) <= lines {
			break
		}
	}
	return s, wrapped
}
