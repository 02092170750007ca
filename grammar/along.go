package grammar

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"salthand/cure"
)

// alongTree has the words that lead what is said of a batch or a place along the way,
// placeTree those that a place is called by, and partTree those in between.
var alongTree, placeTree, partTree = buildAlong()

func buildAlong() (along, places, parts *node) {
	along, places, parts = &node{}, &node{}, &node{}
	for _, list := range wordLists() {
		for _, group := range []struct {
			root *node
			said []said
		}{{along, list.along}, {places, list.places}, {parts, list.between}} {
			for _, s := range group.said {
				for _, w := range s.ways {
					group.root.add(w, entry{verbKind, s.value}, false, true, list.language)
				}
			}
		}
	}
	return along, places, parts
}

// along reads toks[from:] as what is said of a batch along its way, or of a place, and gives
// the number of the batch that is meant: that of the phrase so far where none is named. Neither
// a command nor an error: it is none.
func (r *reading) along(from int, batch uint64) (Command, uint64, error) {
	if r.stripped {
		return nil, batch, nil
	}
	p := r.after(r.toks[from].start)
	e, n, language := alongTree.findIn(p, false, &r.work)
	if e != nil {
		cmd, of, err := r.alongBy(e.value, p, n, batch)
		if cmd != nil || err != nil {
			r.add(language)
			return cmd, of, withExample(err, e.value)
		}
	}
	cmd, err := r.ofPlace(p)
	return cmd, batch, withExample(err, "power out")
}

func (r *reading) alongBy(verb string, p []piece, n int, batch uint64) (Command, uint64, error) {
	rest := p[n:]
	var cmd Command
	var err error
	switch verb {
	case "now":
		if cmd, err = r.weighsNow(rest); cmd == nil && err == nil {
			err = r.numberAlone(p, n)
		}
	case "ph", "core", "aw":
		cmd, err = r.measured(verb, rest)
	case "served":
		cmd, err = r.served(rest)
	case "meat lot":
		cmd, err = r.meatFrom(rest)
	case "in", "moved to":
		cmd, err = r.putIn(rest, verb == "moved to")
	case "place", "new place":
		cmd = r.namePlace(rest, verb == "new place")
	case "where is":
		if of, ok := whichOf(rest, batch); ok {
			return WhereIs{}, of, nil
		}
	case "what is in":
		if name, m := r.anyPlace(rest); m > 0 && len(unmarked(rest[m:])) == 0 {
			cmd = ShowPlace{name}
		}
	case "power out":
		cmd, err = r.powerOut(p, n)
	case "incident":
		if number, ok := lone(rest); ok {
			cmd = ShowIncident{number}
		}
	case "hold":
		cmd, err = r.holdOf(p[0].start, rest)
	case "release":
		cmd = r.releaseOf(rest)
	}
	return cmd, batch, err
}

// numberAlone is the error of a verb behind which a number stands alone; nil: it doesn't.
func (r *reading) numberAlone(p []piece, n int) error {
	if _, ok := lone(p[n:]); !ok || p[n].text == "#" {
		return nil
	}
	return r.fail("no unit", stretch{p[n].start, p[n].end})
}

// textOf is what was typed from one piece to the end of another.
func (r *reading) textOf(p []piece) string {
	if len(p) == 0 {
		return ""
	}
	return r.text[p[0].start:p[len(p)-1].end]
}

// unmarked are pieces without the marks at their end.
func unmarked(p []piece) []piece {
	for len(p) > 0 && p[len(p)-1].kind != lettersRaw && strings.Contains("?!.,;:", p[len(p)-1].text) {
		p = p[:len(p)-1]
	}
	return p
}

// lone is the number that is all there is.
func lone(p []piece) (uint64, bool) {
	p = unmarked(p)
	if len(p) > 1 && p[0].text == "#" {
		p = p[1:]
	}
	if len(p) != 1 || p[0].kind != numberRaw {
		return 0, false
	}
	return batchNumber(token{kind: numberKind, value: p[0].text})
}

// whichOf is the batch behind "where is": "42", "batch 42", or the one of the phrase so far.
func whichOf(p []piece, batch uint64) (uint64, bool) {
	p = unmarked(p)
	if e, n := lexicon.find(p, false, new(int)); e != nil && e.value == "batch" {
		p = p[n:]
	}
	if n, ok := lone(p); ok {
		return n, true
	}
	switch {
	case len(p) == 0, len(p) == 1 && slices.Contains([]string{"it", "this", "esto", "este"}, p[0].word):
		return batch, true
	}
	return 0, false
}

// part reads the tokens of some pieces alone.
func (r *reading) part(p []piece) *reading {
	again := &reading{dates: r.dates, plain: true}
	if len(p) == 0 {
		return again
	}
	start, end := p[0].start, p[len(p)-1].end
	again.text = strings.Repeat(" ", utf8.RuneCountInString(r.text[:start])) + r.text[start:end]
	again.pieced, _ = cut(again.text)
	s := scan{text: again.text, pieces: again.pieced}
	again.toks = s.run()
	again.pieced = s.pieces
	r.work += len(again.toks) + s.compared
	return again
}

// whole puts what stands around some pieces back around the choices of a question about them.
func (r *reading) whole(err error, p []piece) error {
	q, ok := err.(*Question)
	if !ok {
		return err
	}
	start, end := p[0].start, p[len(p)-1].end
	for i, c := range q.Choices {
		q.Choices[i].Phrase = r.text[:start] + strings.TrimSpace(c.Phrase) + r.text[end:]
	}
	q.Append = ""
	return q
}

// degreesAt reads a temperature at toks[i]; next is where the tokens go on, i where there is none.
func (r *reading) degreesAt(i int) (t cure.Celsius, next int, err error) {
	if kindAt(r.toks, i) != numberKind || kindAt(r.toks, i+1) != degreeKind {
		return 0, i, nil
	}
	at := stretch{r.toks[i].start, r.toks[i+1].end}
	t, err = r.degrees(r.toks[i].value, r.toks[i+1].value, at)
	return t, i + 2, err
}

// momentFrom reads toks[i:] as a moment that is past: nil and true where nothing is left.
func (r *reading) momentFrom(i int) (*When, bool) {
	for kindAt(r.toks, i) == sepKind || kindAt(r.toks, i) == oddKind && r.toks[i].value == ":" {
		i++
	}
	if i >= len(r.toks) {
		return nil, true
	}
	again := reading{text: "turned " + r.text[r.toks[i].start:], dates: r.dates, plain: true}
	p, err := again.line()
	did, ok := p.Command.(Did)
	if err != nil || !ok || did.When == nil || did.When.In > 0 || did.When.Days > 0 || did.Core.Set() {
		return nil, false
	}
	return did.When, true
}

// agoOf is the moment that a span ends at now.
func agoOf(d time.Duration) *When { return &When{In: -d} }

// weightOf reads some pieces as a weight of meat: pieces, or nil where they are none.
func (r *reading) weightOf(p []piece) ([]cure.Gram, error) {
	if len(p) == 0 {
		return nil, nil
	}
	start, end := p[0].start, p[len(p)-1].end
	again := reading{text: strings.Repeat(" ", utf8.RuneCountInString(r.text[:start])) + r.text[start:end], thread: true, dates: r.dates, stripped: true, plain: true}
	said, err := again.line()
	r.work += again.work
	if q, ok := err.(*Question); ok {
		return nil, r.whole(q, p)
	}
	a, ok := said.Command.(Amend)
	if weight := (Dose{Pieces: a.Clauses.Pieces}); err != nil || !ok || len(weight.Pieces) == 0 || canonicalDose(a.Clauses) != canonicalDose(weight) {
		return nil, nil
	}
	return a.Clauses.Pieces, nil
}
