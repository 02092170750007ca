package grammar

import (
	"errors"
	"flag"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var long = flag.Bool("long", false, "run the long form of the tests")

// maxWork bounds what one line may cost, counted in tokens, clauses and compared words, not
// in time: a token may be read again for each strange word of its clause, and be held
// against the words that begin with its letter.
func maxWork(text string) int { return 200 + 60*len(text) }

func FuzzParse(f *testing.F) {
	for _, r := range rows(f) {
		f.Add(r.phrase)
	}
	f.Fuzz(func(t *testing.T, text string) { mustHold(t, text) })
}

// mustHold checks what every line must hold: Parse gives a command or an error of its own, its
// places lie on the text, its examples work, and it costs no more than the text is long.
func mustHold(t *testing.T, text string) {
	t.Helper()
	p, err := Parse(text, Setting{})
	if e, ok := err.(*Error); ok && e.Code == "unread" {
		t.Errorf("%q: a panic", text)
	}
	var q *Question
	var e *Error
	switch {
	case err == nil && p.Command == nil:
		t.Errorf("%q: neither a command nor an error", text)
	case errors.As(err, &q):
		onText(t, text, q.Column, q.Width, q.Token)
	case errors.As(err, &e):
		onText(t, text, e.Column, e.Width, e.Token)
		if again, err := Parse(e.Example, Setting{}); err != nil || again.Command == nil {
			t.Errorf("%q: example %q: %v", text, e.Example, err)
		}
	case err != nil:
		t.Errorf("%q: error of another kind: %v", text, err)
	}
	if len(text) <= maxText {
		r := reading{text: text, plain: true}
		r.line()
		if r.work > maxWork(text) {
			t.Errorf("%q: work %d over %d", text, r.work, maxWork(text))
		}
	}
}

func FuzzCanonical(f *testing.F) {
	for _, r := range rows(f) {
		f.Add(r.phrase)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Parse(text, Setting{})
		if err != nil {
			return
		}
		canonical := Canonical(p.Command)
		if canonical == "" || len(canonical) > maxText {
			return
		}
		sameAgain(t, text, p.Command)
	})
}

// One changed, lost, added or swapped character must not change the weight unless it stands
// in an amount, nor which salt goes in unless it stands in the salt's name.
func TestMutation(t *testing.T) {
	t.Parallel()
	letters := "1.,/-+x#g"
	if *long {
		letters = "0123456789.,/ -+x#%'abcdefghijklmnopqrstuvwxyz\n"
	}
	for n, r := range rows(t) {
		if !*long && n%mutated != 0 {
			continue
		}
		base, err := Parse(r.phrase, Setting{})
		dose, ok := base.Command.(Dose)
		if err != nil || !ok {
			continue
		}
		amounts, salts := spans(r.phrase)
		try := func(text string, at int, what string) {
			p, err := Parse(text, Setting{})
			d, ok := p.Command.(Dose)
			if err != nil || !ok {
				return
			}
			if !amounts[at] && len(d.Pieces) > 0 && !slices.Equal(dose.Pieces, d.Pieces) {
				if diff := cmp.Diff(dose.Pieces, d.Pieces); diff != "" && weight(dose) != weight(d) {
					t.Errorf("%q, %s: %q changes the weight:\n%s", r.phrase, what, text, diff)
				}
			}
			if !salts[at] && d.Kind != 0 && dose.Kind != 0 && d.Kind != dose.Kind {
				t.Errorf("%q, %s: %q changes the salt from %d to %d", r.phrase, what, text, dose.Kind, d.Kind)
			}
		}
		for i := range len(r.phrase) {
			before, after := r.phrase[:i], r.phrase[i+1:]
			try(before+after, i, "one left out")
			for j := range len(letters) {
				try(before+letters[j:j+1]+after, i, "one changed")
				if i > 0 && !amounts[i-1] && !salts[i-1] {
					try(before+letters[j:j+1]+r.phrase[i:], i, "one put in")
				}
			}
			if i > 0 && !amounts[i-1] && !salts[i-1] {
				try(r.phrase[:i-1]+r.phrase[i:i+1]+r.phrase[i-1:i]+after, i, "two swapped")
			}
		}
	}
}

func weight(d Dose) (sum float64) {
	for _, p := range d.Pieces {
		sum += float64(p)
	}
	return sum
}

// spans marks the bytes that amounts and names of salts stand on.
func spans(text string) (amounts, salts []bool) {
	amounts, salts = make([]bool, len(text)+1), make([]bool, len(text)+1)
	p, _ := cut(text)
	s := scan{text: text, pieces: p}
	toks := s.run()
	for i, t := range toks {
		mark := amounts
		switch {
		case isSalt(t.kind):
			mark = salts
		case t.kind == numberKind, t.kind == timesKind, t.kind == plusKind, t.kind == massKind, t.kind == perKind:
		default:
			continue
		}
		end := t.end
		if t.kind == numberKind && i+1 < len(toks) {
			end = toks[i+1].end // up to its unit, blanks and all
			if toks[i+1].start == toks[i+1].end && end < len(text) {
				end++ // a letter that touches the 15 of "10 lb 15" can become its unit
			}
		}
		if t.kind == perKind && i+1 < len(toks) { // the measure that the amount is for
			end = toks[i+1].end
		}
		if t.kind == plusKind && i+1 < len(toks) {
			end = toks[i+1].start
		}
		for j := max(t.start-1, 0); j < end; j++ { // what touches it can become a part of it
			mark[j] = true
		}
	}
	return amounts, salts
}
