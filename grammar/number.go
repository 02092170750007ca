package grammar

import (
	"strconv"
	"strings"
)

// number is a number as it was typed, read but not yet in a unit.
type number struct {
	digits string  // decimal digits with a point, "" for a fraction
	value  float64 // of a fraction
	other  string  // "1.250" may be 1250: the digits of the other reading; "" where there is none
}

// times is the number times factor, without the crumbs of binary arithmetic: 1.5 in is
// 38.1 mm. For a power of ten it is the nearest float64.
func (n number) times(factor float64) float64 {
	if n.digits == "" {
		return clean(n.value * factor)
	}
	exponent := ""
	switch factor {
	case 1:
	case 1000:
		exponent = "e3"
	case 10:
		exponent = "e1"
	case 0.01:
		exponent = "e-2"
	case 0.001:
		exponent = "e-3"
	default:
		v, err := strconv.ParseFloat(n.digits, 64)
		if err != nil {
			return tooBig
		}
		return clean(v * factor)
	}
	v, err := strconv.ParseFloat(n.digits+exponent, 64)
	if err != nil {
		return tooBig
	}
	return v
}

// clean rounds to 15 significant digits, which a float64 always holds.
func clean(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// tooBig stands for a number beyond any kitchen.
const tooBig = 1e30

// readNumber reads "3.2", "3,2", ".25", "1,250.5", "3/4", "4 1/2", "4½". It reports false
// for what is no number: "3.2.1", "1/0".
func readNumber(s string) (number, bool) {
	if i := strings.IndexAny(s, vulgars); i >= 0 {
		f := strings.Index(vulgars, s[i:])
		if f < 0 {
			return number{}, false
		}
		v := vulgarValues[len([]rune(vulgars[:f]))]
		return mixed(strings.TrimSpace(s[:i]), v[0], v[1])
	}
	if i := strings.IndexAny(s, "/⁄"); i >= 0 {
		whole, top := "", s[:i]
		if j := strings.LastIndexAny(top, " \t\u00a0-"); j >= 0 {
			whole, top = strings.TrimRight(top[:j], " \t\u00a0-"), top[j+1:]
		}
		t, err1 := strconv.ParseUint(strings.TrimSpace(top), 10, 16)
		b, err2 := strconv.ParseUint(strings.TrimLeft(s[i:], "/⁄ "), 10, 16)
		if err1 != nil || err2 != nil || t >= b { // 4/1 is a date, or nothing
			return number{}, false
		}
		return mixed(strings.Trim(whole, " \t\u00a0\n-"), float64(t), float64(b))
	}
	return decimal(s)
}

const vulgars = "¼½¾⅓⅔⅛⅜⅝⅞"

var vulgarValues = [...][2]float64{{1, 4}, {1, 2}, {3, 4}, {1, 3}, {2, 3}, {1, 8}, {3, 8}, {5, 8}, {7, 8}}

func mixed(whole string, top, bottom float64) (number, bool) {
	w := 0.0
	if whole != "" {
		n, err := strconv.ParseUint(whole, 10, 32)
		if err != nil {
			return number{}, false
		}
		w = float64(n)
	}
	return number{value: (w*bottom + top) / bottom}, true
}

// decimal reads digits with marks. A lone point or comma is the decimal mark.
func decimal(s string) (number, bool) {
	mark := strings.IndexAny(s, ".,'’")
	switch {
	case mark < 0:
		return number{digits: s}, isDigits(s)
	case mark != strings.LastIndexAny(s, ".,'’") || s[mark] != '.' && s[mark] != ',':
		return grouped(s)
	}
	n := number{digits: s[:mark] + "." + s[mark+1:]}
	if len(s)-mark-1 == 3 && mark >= 1 && mark <= 3 && s[0] != '0' {
		n.other = s[:mark] + s[mark+1:]
	}
	return n, true
}

// grouped reads a number with thousands marks: "1,250.5", "1.250,5", "1,250,000", "1'250".
func grouped(s string) (number, bool) {
	s = strings.ReplaceAll(s, "’", "'")
	group := s[strings.IndexAny(s, ".,'")]
	whole, rest := s, ""
	if i := strings.LastIndexAny(s, ".,'"); s[i] != group {
		if s[i] == '\'' {
			return number{}, false
		}
		whole, rest = s[:i], s[i:]
	}
	parts := strings.Split(whole, string(group))
	for i, p := range parts {
		if i == 0 && (len(p) < 1 || len(p) > 3) || i > 0 && len(p) != 3 || strings.ContainsAny(p, ".,'") {
			return number{}, false
		}
	}
	n := number{digits: strings.Join(parts, "")}
	if rest != "" {
		n.digits += "." + rest[1:]
	}
	return n, true
}
