package grammar

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Correct puts an entry right. Now is the phrase that notes it as it should have been: "correct
// ph 5.1: misread", "correct turned yesterday 15:00: typed wrong".
type Correct struct {
	Now   Command // Measured, WeighsNow, ServedIt, MeatFrom, WeighedIn, Did or ReadPlace
	Was   Command // "correct ph 5.2 -> 5.1"; nil: not said
	Entry uint64  // number of the entry that is meant; 0: not said
	Why   string  // "": not said
}

func (Correct) command() {}

func (c Correct) canonical() string {
	out := "correct "
	if c.Entry > 0 {
		out += "entry " + strconv.FormatUint(c.Entry, 10) + ", "
	}
	if c.Was != nil {
		out += notedAs(c.Was) + " -> "
	}
	return because(out+notedAs(c.Now), c.Why)
}

// notedAs is the phrase of an entry. A jar alone is none of its own.
func notedAs(c Command) string {
	if w, ok := c.(WeighedIn); ok && !w.Cure.Set() && !w.Salt.Set() {
		return "jar " + w.Jar
	}
	return Canonical(c)
}

const correctExample = "correct ph 5.1: misread"

// correction reads what follows "correct": the entry as it should have been, what it was, and a
// reason behind a colon. No command: something else follows.
func (r *reading) correction(t token) (Command, error) {
	rest := r.text[t.end:]
	for _, at := range colons(rest) {
		out := Correct{Why: strings.TrimSpace(strings.TrimPrefix(rest[at:], ":"))}
		said := rest[:at]
		if out.Entry, said = r.entryNamed(said); said == "" {
			continue
		}
		begin := t.end + len(rest[:at]) - len(said)
		now, err := r.entryIn(begin, said)
		if q, ok := err.(*Question); ok {
			for i, c := range q.Choices {
				q.Choices[i].Phrase = r.text[:begin] + strings.TrimSpace(c.Phrase) + rest[at:]
			}
			q.Append = ""
			return nil, q
		}
		if out.Now = now; now == nil {
			out.Was, out.Now = r.oldAndNew(begin, said)
		}
		if out.Now != nil {
			return out, nil
		}
	}
	if !strings.Contains(rest, ":") || !r.thread && strings.Contains(rest, "?") {
		return nil, nil
	}
	e := r.fail("unknown word", stretch{len(r.text) - len(strings.TrimLeft(rest, " ")), len(r.text)})
	e.Example = correctExample
	return nil, e
}

// colons are where a reason may begin: at each colon that is part of no time of day, and at the
// end where none is given.
func colons(text string) (at []int) {
	for i := range len(text) {
		if text[i] == ':' && (i+1 == len(text) || unicode.IsSpace(rune(text[i+1])) || !digitBefore(text[i+1:])) {
			at = append(at, i)
		}
	}
	return append(at, len(text))
}

// digitBefore reports whether a text begins with a digit.
func digitBefore(text string) bool { return text != "" && text[0] >= '0' && text[0] <= '9' }

// entryNamed takes "entry 12" off the front.
func (r *reading) entryNamed(said string) (uint64, string) {
	after, ok := strings.CutPrefix(strings.TrimSpace(said), "entry ")
	if !ok {
		return 0, strings.TrimSpace(said)
	}
	digits := strings.TrimLeft(after, "0123456789")
	n, ok := batchNumber(token{kind: numberKind, value: after[:len(after)-len(digits)]})
	if !ok {
		return 0, ""
	}
	return n, strings.TrimLeft(digits, ", ")
}

// entryIn reads a text that stands at a place of the line as something that is noted; nil: it
// is nothing that can be put right.
func (r *reading) entryIn(begin int, said string) (Command, error) {
	said = strings.TrimRight(said, " ,;")
	again := reading{text: strings.Repeat(" ", utf8.RuneCountInString(r.text[:begin])) + said, thread: true, dates: r.dates, recipes: r.recipes, places: r.places, plain: true}
	p, err := again.line()
	r.work += again.work
	if err != nil || p.Batch != 0 {
		return nil, err
	}
	switch c := p.Command.(type) {
	case Measured, WeighsNow, MeatFrom, ReadPlace, WeighedIn:
		return c, nil
	case ServedIt:
		if (c.Portions > 0 || len(c.Pieces) > 0) && !digitBefore(c.To) {
			return c, nil
		}
	case Did:
		if c.Step != "" && (c.When != nil || c.Core.Set()) {
			return c, nil
		}
	case Amend:
		if c.Clauses.Jar != "" && canonicalDose(c.Clauses) == "jar "+c.Clauses.Jar {
			return WeighedIn{Jar: c.Clauses.Jar}, nil
		}
	}
	return nil, nil
}

// oldAndNew reads "ph 5.2 -> 5.1", "ph 5.1, not 5.2" and "ph from 5.2 to 5.1": what it was, and what
// it should have been. What the second lacks it has from the first: "walk-in 2 9 c -> 3 c".
func (r *reading) oldAndNew(begin int, said string) (was, now Command) {
	for _, mark := range betweenValues {
		left, right, ok := strings.Cut(said, mark.text)
		left, right = strings.TrimSpace(left), strings.TrimSpace(right)
		if !ok || left == "" || right == "" {
			continue
		}
		for _, lead := range []string{" from ", " de ", " du "} {
			if before, after, found := strings.Cut(left, lead); found && digitBefore(after) {
				left = before + " " + after
			}
		}
		a, b := r.pairOf(begin, left, right)
		if a == nil || b == nil || !ofOneThing(a, b) {
			continue
		}
		if mark.denies {
			a, b = b, a
		}
		return a, b
	}
	return nil, nil
}

// betweenValues stand between what an entry was and what it should have been; those that deny
// have the right one first.
var betweenValues = []struct {
	text   string
	denies bool
}{{"->", false}, {"→", false}, {"=>", false}, {" not ", true}, {", not ", true}, {" no ", true}, {" et non ", true}, {" pas ", true}, {" to ", false}, {" a ", false}, {" à ", false}}

// pairOf reads two values of one thing, of which the second may lack its words and the first its
// unit.
func (r *reading) pairOf(begin int, left, right string) (a, b Command) {
	left = strings.TrimRight(left, ",; ")
	if a, _ = r.entryIn(begin, left); a == nil {
		if i := strings.LastIndexByte(right, ' '); i > 0 && digitBefore(right) {
			a, _ = r.entryIn(begin, left+right[i:]) // "core 71 -> 61 c"
		}
	}
	if a == nil {
		return nil, nil
	}
	if b, _ = r.entryIn(begin, right); b != nil {
		return a, b
	}
	for i := len(left) - 1; i > 0; i-- {
		if digitBefore(left[i:]) && !digitBefore(left[i-1:]) && left[i-1] != '.' && left[i-1] != ',' {
			if b, _ = r.entryIn(begin, left[:i]+right); b != nil && ofOneThing(a, b) {
				return a, b
			}
		}
	}
	return a, nil
}

// ofOneThing reports whether two commands note the same thing.
func ofOneThing(a, b Command) bool {
	switch a := a.(type) {
	case Measured:
		b, ok := b.(Measured)
		return ok && a.What == b.What
	case WeighsNow:
		_, ok := b.(WeighsNow)
		return ok
	case ServedIt:
		_, ok := b.(ServedIt)
		return ok
	case MeatFrom:
		_, ok := b.(MeatFrom)
		return ok
	case WeighedIn:
		_, ok := b.(WeighedIn)
		return ok
	case Did:
		b, ok := b.(Did)
		return ok && a.Step == b.Step
	case ReadPlace:
		b, ok := b.(ReadPlace)
		return ok && PlaceKey(a.Place) == PlaceKey(b.Place)
	}
	return false
}
