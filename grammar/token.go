package grammar

import (
	"io"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// The kinds of token that the clause grammars are written in. A token is one word of the
// trade, however many words were typed for it: "eye of round" is one Cut.
const (
	eof lexer.TokenType = -1 - iota
	wordKind
	oddKind
	sepKind
	numberKind
	clockKind
	massKind
	volumeKind
	lengthKind
	spanKind
	degreeKind
	percentKind
	levelKind
	ppmKind
	spoonKind
	cutKind
	methodKind
	brineKind
	injectKind
	coverKind
	agentKind
	vagueKind
	stuffKind // salt, sugar, erythorbate
	ionKind   // nitrite, nitrate
	waterKind
	onTopKind
	flagKind
	thickKind
	atKind
	inKind
	plusKind
	timesKind
	jarKind
	nameKind
	stepKind
	verbKind
	dayKind
	weekdayKind
	monthKind
	periodKind
	agoKind
	saltyKind   // °sal, °Bé, g/L
	productKind // bacon, salami: only in a phrase that asks which cure
	markKind    // "to", "day 7", "ph": only in a phrase that asks for figures
	perKind     // "per", "/": between an amount and what it is for
	pieceKind   // "pieces"
	sinceKind
	untilKind
	datedKind  // "2026-11-02", "4/1/26"
	lapseKind  // "last week", in one word of another language
	formerKind // "last", behind the day
	partKind   // "this morning": no hour
	yearKind   // "2026" behind a date
	eachKind   // "each", "in all"
	recipeKind // "house bacon", with its version
	fillerKind // dropped before any grammar sees it
)

// kinds is the participle definition of the tokens above: names for the struct tags. The
// text is never lexed through it, see scan.
type kinds struct{}

func (kinds) Symbols() map[string]lexer.TokenType {
	return map[string]lexer.TokenType{
		"EOF": eof, "Word": wordKind, "Odd": oddKind, "Number": numberKind, "Clock": clockKind,
		"Mass": massKind, "Volume": volumeKind, "Length": lengthKind, "Span": spanKind, "Degree": degreeKind,
		"Percent": percentKind, "Level": levelKind, "PPM": ppmKind, "Spoon": spoonKind, "Cut": cutKind,
		"Method": methodKind, "Brine": brineKind, "Inject": injectKind, "Cover": coverKind, "Agent": agentKind,
		"Vague": vagueKind, "Stuff": stuffKind, "Ion": ionKind,
		"Water": waterKind, "OnTop": onTopKind, "Flag": flagKind,
		"Thick": thickKind, "At": atKind, "In": inKind, "Plus": plusKind, "Times": timesKind, "Jar": jarKind,
		"Name": nameKind, "Step": stepKind, "Verb": verbKind, "Day": dayKind, "Weekday": weekdayKind,
		"Month": monthKind, "Period": periodKind, "Ago": agoKind, "Salty": saltyKind, "Product": productKind, "Mark": markKind,
		"Per": perKind, "Piece": pieceKind, "Each": eachKind, "Recipe": recipeKind,
		"Since": sinceKind, "Until": untilKind, "Dated": datedKind, "Year": yearKind, "Part": partKind, "Lapse": lapseKind, "Former": formerKind,
	}
}

func (kinds) Lex(string, io.Reader) (lexer.Lexer, error) { return &replay{}, nil }

// token is one word of the trade and its place in the text.
type token struct {
	kind       lexer.TokenType
	value      string // canonical: "lb", "pork belly"; as typed for a number or an unknown word
	start, end int    // bytes
}

// replay hands tokens that were read before to participle.
type replay struct {
	toks []token
	end  int // where the text of the clause ends, in bytes
}

func (r *replay) Next() (lexer.Token, error) {
	if len(r.toks) == 0 {
		return lexer.Token{Type: eof, Pos: lexer.Position{Offset: r.end}}, nil
	}
	t := r.toks[0]
	r.toks = r.toks[1:]
	return lexer.Token{Type: t.kind, Value: t.value, Pos: lexer.Position{Offset: t.start}}, nil
}

// letters cuts the text. The first rule that fits wins, the commonest stand first, and the
// last catches whatever is left, so that it never fails.
var letters = lexer.MustSimple([]lexer.SimpleRule{
	{Name: "Letters", Pattern: `[\p{L}\p{M}]+(?:['’]\p{L}+)*`},
	{Name: "Space", Pattern: `[\s\p{Z}]+`},
	{Name: "Clock", Pattern: `[0-9]{1,2}:[0-9]{2}`},
	{Name: "Fraction", Pattern: `[0-9]+[/⁄][0-9]+`},
	{Name: "Number", Pattern: `[0-9]+(?:[.,'’][0-9]+)*|\.[0-9]+`},
	{Name: "Vulgar", Pattern: `[¼½¾⅓⅔⅛⅜⅝⅞]`},
	{Name: "Other", Pattern: `(?s:.)`},
})

var (
	clockRaw    = letters.Symbols()["Clock"]
	fractionRaw = letters.Symbols()["Fraction"]
	numberRaw   = letters.Symbols()["Number"]
	vulgarRaw   = letters.Symbols()["Vulgar"]
	lettersRaw  = letters.Symbols()["Letters"]
	spaceRaw    = letters.Symbols()["Space"]
)

// piece is a run of letters, a number or a mark, before words are looked up.
type piece struct {
	kind       lexer.TokenType
	text       string
	word       string // folded, see fold; "" unless letters
	start, end int
	line       bool // a line break stood before it
}

const (
	maxText   = 512 // bytes
	maxPieces = 256
)

// cut lexes text once. It reports false where there are more than maxPieces pieces; the
// first of them are still returned.
func cut(text string) ([]piece, bool) {
	lex, err := letters.LexString("", text)
	if err != nil {
		return nil, false // cannot happen: the definition is fixed
	}
	out := make([]piece, 0, 24)
	line := false
	for {
		t, err := lex.Next()
		if err != nil {
			return nil, false // cannot happen: the last rule takes anything
		}
		if t.Type == eof {
			return out, true
		}
		if t.Type == spaceRaw {
			line = line || strings.ContainsAny(t.Value, "\n\r")
			continue
		}
		if len(out) == maxPieces {
			return out, false
		}
		p := piece{kind: t.Type, text: t.Value, start: t.Pos.Offset, end: t.Pos.Offset + len(t.Value), line: line}
		if t.Type == lettersRaw {
			p.word = fold(t.Value)
		}
		line = false
		out = append(out, p)
	}
}

// fold makes a typed word comparable: lower case, no accents, a straight apostrophe.
func fold(s string) string {
	plain := true
	for i := 0; i < len(s); i++ {
		if c := s[i]; c >= utf8.RuneSelf || c >= 'A' && c <= 'Z' {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r >= 0x300 && r <= 0x36f: // a combining accent
			return -1
		case r == '’':
			return '\''
		}
		if p, ok := accents[r]; ok {
			return p
		}
		return r
	}, s)
}

var accents = map[rune]rune{
	'á': 'a', 'à': 'a', 'â': 'a', 'ä': 'a', 'Á': 'a', 'À': 'a', 'Â': 'a', 'Ä': 'a', 'ç': 'c', 'Ç': 'c',
	'é': 'e', 'è': 'e', 'ê': 'e', 'ë': 'e', 'É': 'e', 'È': 'e', 'Ê': 'e', 'Ë': 'e', 'í': 'i', 'î': 'i', 'ï': 'i', 'Í': 'i', 'Î': 'i', 'Ï': 'i',
	'ñ': 'n', 'Ñ': 'n', 'ó': 'o', 'ô': 'o', 'ö': 'o', 'Ó': 'o', 'Ô': 'o', 'Ö': 'o',
	'ú': 'u', 'ù': 'u', 'û': 'u', 'ü': 'u', 'Ú': 'u', 'Ü': 'u', 'Ù': 'u', 'Û': 'u',
}

// column is the place of a byte offset in runes, from 1.
func column(text string, at int) int { return utf8.RuneCountInString(text[:at]) + 1 }
