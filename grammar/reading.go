package grammar

import (
	"strings"

	"salthand/cure"
)

// reading is one line on its way to a command.
type reading struct {
	text    string
	thread  bool // in a batch's thread
	pieced  []piece
	toks    []token
	draft   draft
	weighed bool    // a weight was typed, even a doubtful one
	cured   bool    // a salt was named, even a vague one
	doubts  []error // clauses that are well formed and can't be meant: a question, or a number that can't be
	wrong   []*wrong
	where   [4]uint64 // clauses, as bits, in which a weight, a cut, a method or cure, and days stand
	plain   bool      // reading an example: make no further examples
	work    int       // tokens, clauses and compared words so far: what a fuzz test bounds
}

// wrong is a clause that can't be read: the token that does not fit.
type wrong struct {
	from, to, bad int // toks[from:to] is the clause
}

const (
	inWeight = iota
	inCut
	inMethod
	inDays
)

// line reads the text from the beginning.
func (r *reading) line() (Phrase, error) {
	var ok bool
	r.pieced, ok = cut(r.text)
	if poisoned(r.pieced) {
		return Phrase{Command: Emergency{}}, nil
	}
	if !ok {
		return Phrase{}, &Error{Code: "too long", Column: 1, Width: column(r.text, len(r.text)) - 1, Example: example}
	}
	s := scan{text: r.text, pieces: r.pieced}
	r.toks = s.run()
	r.pieced = s.pieces
	r.work += len(r.pieced) + len(r.toks) + s.compared
	if len(r.toks) == 0 {
		return Phrase{Command: Chatter{}}, nil
	}
	p, from := r.batch()
	if from == len(r.toks) {
		p.Command = ShowBatch{}
		return p, nil
	}
	cmd, err := r.order(from)
	if cmd == nil && err == nil {
		cmd, err = r.dose(from, p.Batch)
	}
	if _, ok := cmd.(Chatter); ok {
		p.Batch = 0
	}
	p.Command = cmd
	return p, err
}

// dose reads toks[from:] as a dose phrase.
func (r *reading) dose(from int, batch uint64) (Command, error) {
	asking := false
	if r.toks[from].kind == verbKind && r.toks[from].value == "how much for" {
		asking, from = true, from+1
	}
	if from+2 < len(r.toks) && r.toks[from].value == "pink salt" && r.toks[from+1].kind == numberKind && r.toks[from+2].kind == massKind {
		from++ // "cure 3.2 kg belly"
	}
	r.clauses(from)
	r.finish()
	r.draft.JustAsking = asking
	whole := r.weighed && (r.draft.Cut != "" || r.saidMethod()) || r.draft.Cut != "" && r.saidMethod() || asking && r.draft.Cut != ""
	if len(r.wrong) == 0 && len(r.doubts) == 0 && whole {
		return r.draft.Dose, nil
	}
	if m := r.mishap(batch); m != nil {
		return *m, nil
	}
	if q := r.spoons(); q != nil {
		return nil, q
	}
	if e := r.notYet(from); e != nil {
		return nil, e
	}
	near := r.near()
	if len(r.wrong) == 0 && !whole || len(r.wrong) > 0 && !near && !r.unweighed() {
		return Chatter{}, nil
	}
	err := r.worst()
	if e, ok := err.(*Error); ok {
		e.Near = near || len(r.wrong) == 0
	}
	return nil, err
}

// unweighed reports whether a phrase lacks nothing but the unit of its weight: a cut, a
// method or days in another clause, and a number before a word that is no unit.
func (r *reading) unweighed() bool {
	for _, w := range r.wrong {
		if w.bad > w.from && r.toks[w.bad].kind == wordKind && r.toks[w.bad-1].kind == numberKind {
			return r.where[inCut] != 0 && (r.where[inMethod]|r.where[inDays])&^r.where[inCut] != 0
		}
	}
	return false
}

// clauses cuts the tokens at separators and folds clause after clause.
func (r *reading) clauses(from int) {
	n := 0
	for from < len(r.toks) {
		to := from
		for to < len(r.toks) && r.toks[to].kind != sepKind {
			to++
		}
		if to > from {
			r.clause(from, to, n)
			n++
		}
		from = to + 1
	}
}

// strangers is how many tokens of a clause may be skipped to see what else it says.
const strangers = 3

// clause reads toks[from:to], which is clause number n. After a token that does not fit it
// goes on behind it, to know what was meant; the clause stays wrong.
func (r *reading) clause(from, to, n int) {
	start := from
	for skipped := 0; from < to && skipped <= strangers; skipped++ {
		c, bad := parseClause(r.toks[from:to])
		r.work += 1 + to - from
		bad += from
		if bad < to && skipped == 0 {
			r.wrong = append(r.wrong, &wrong{start, to, bad})
		}
		r.items(c.Items, from, bad, uint64(1)<<min(n, 63))
		from = bad + 1
	}
}

// items folds the items that stand in toks[from:to], of the clause that bit stands for.
func (r *reading) items(items []item, from, to int, bit uint64) {
	for i := range items {
		begin, end := from, to
		for begin < to && r.toks[begin].start < items[i].Pos.Offset {
			begin++
		}
		if i+1 < len(items) {
			end = begin
			for end < to && r.toks[end].start < items[i+1].Pos.Offset {
				end++
			}
		}
		if begin == end {
			continue
		}
		before, weighed, cured := r.draft.said, r.weighed, r.cured
		if err := r.take(&items[i], begin, end); err != nil {
			r.doubts = append(r.doubts, err)
		}
		r.mark(before, weighed, cured, bit)
	}
}

// mark notes in which clause a thing was said.
func (r *reading) mark(before [fields]stretch, weighed, cured bool, bit uint64) {
	said := func(f field) bool { return before[f] != r.draft.said[f] }
	if said(weightField) || r.weighed && !weighed {
		r.where[inWeight] |= bit
	}
	if said(cutField) {
		r.where[inCut] |= bit
	}
	if said(methodField) || said(agentField) || said(jarField) || r.cured && !cured {
		r.where[inMethod] |= bit
	}
	if said(daysField) {
		r.where[inDays] |= bit
	}
}

// saidMethod reports whether anything but a weight and a cut was said that makes a phrase
// about curing.
func (r *reading) saidMethod() bool {
	d := &r.draft
	return r.cured || d.has(methodField) || d.has(agentField) || d.has(jarField) || d.has(targetField) || d.has(waterField)
}

// near reports whether a weight, and in another clause a cut, a cure or a method, or days
// beside a cut, were understood. In a line without commas all three must be there, and
// almost nothing else.
func (r *reading) near() bool {
	w := r.where[inWeight]
	if w == 0 {
		return false
	}
	rest := r.where[inCut] | r.where[inMethod]
	if r.where[inCut] != 0 {
		rest |= r.where[inDays]
	}
	if rest&^w != 0 || w&(w-1) != 0 {
		return true
	}
	unknown := 0
	for _, t := range r.toks {
		if t.kind == wordKind || t.kind == oddKind {
			unknown++
		}
	}
	return r.where[inCut] != 0 && r.where[inMethod]|r.where[inDays] != 0 && unknown <= 1
}

// finish settles what only the whole phrase tells.
func (r *reading) finish() {
	d := &r.draft
	if d.bone != "" {
		switch {
		case d.Cut == "boneless ham" && d.bone == "bone in":
			d.Cut = "bone-in ham"
		case d.Cut == "bone-in ham" && d.bone == "boneless", d.Cut == "":
			r.doubts = append(r.doubts, r.fail("of what", d.said[boneField]))
		}
	}
	if d.Cut == minced {
		r.doubts = append(r.doubts, r.ask(minced, d.said[cutField]))
	}
	r.settleMethod()
	r.settleStrength()
	if d.Rate.Set() && d.Nitrite.Set() {
		d.Target = cure.Typed(cure.PPM(clean(float64(d.Rate.Value) * float64(d.Nitrite.Value) * 1e6)))
		d.Rate = cure.Given[cure.Fraction]{}
	}
}

// settleMethod makes one method of what was said of brine, pump and cover.
func (r *reading) settleMethod() {
	d := &r.draft
	covered := d.cover || d.has(coverField)
	switch {
	case covered && d.Method.Value == cure.Injection:
		d.Method = cure.Typed(cure.InjectionCover)
	case covered:
		at := d.said[coverField]
		if at.end == 0 {
			at = r.place(coverKind, 0, len(r.toks))
		}
		q := r.ask("cover", at)
		words := r.text[at.start:at.end]
		if amount := strings.TrimSpace(words[min(len(words), len("cover")):]); d.Method.Value == cure.NoMethod {
			q.Choices = []Choice{{"brine", r.replaced(at, "brine "+amount)}, {"inject and cover", r.replaced(at, "inject, "+words)}}
		}
		r.doubts = append(r.doubts, q)
	}
	switch {
	case !d.has(waterField):
	case d.Method.Value == cure.NoMethod:
		d.Method = cure.Typed(cure.CoverBrine) // a weight of water makes a cover brine
		d.said[methodField] = d.said[waterField]
	case d.Method.Value != cure.CoverBrine:
		e := r.fail("twice", d.said[waterField])
		old := d.said[methodField]
		e.Other = r.text[old.start:old.end]
		r.doubts = append(r.doubts, e)
	}
}

// settleStrength asks about a strength that no such cure has: a slip of the decimal point,
// or a dose in the place of a strength.
func (r *reading) settleStrength() {
	d := &r.draft
	if !d.has(agentField) {
		if at := d.said[nitriteField]; at.end > 0 || d.has(nitrateField) {
			if at.end == 0 {
				at = d.said[nitrateField]
			}
			q := r.ask("pink salt", at)
			q.Choices = nil
			for _, name := range []string{no1, no2, nitritedSalt} {
				q.Choices = append(q.Choices, Choice{name, r.replaced(at, name+", "+r.text[at.start:at.end])})
			}
			r.doubts = append(r.doubts, q)
		}
		return
	}
	if d.Kind == cure.NoCure && (d.has(nitriteField) || d.has(nitrateField) || d.has(targetField)) {
		r.doubts = append(r.doubts, r.fail("unit", d.said[agentField]))
		return
	}
	low, high, usual := 0.04, 0.10, "6.25%" // no. 1 and no. 2; common practice, no source
	if d.Kind == cure.NitritedSalt {
		low, high, usual = 0.004, 0.009, "0.6%" // European nitrited salts, see cure.NitritedSalt
	}
	v := float64(d.Nitrite.Value)
	doubtful := d.has(nitriteField) && (v < low || v > high)
	if d.has(nitrateField) {
		n := float64(d.Nitrate.Value)
		doubtful = doubtful || d.Kind != cure.No2 || n < 0.005 || n > 0.10
	}
	if !doubtful {
		return
	}
	at := d.said[nitriteField]
	if at.end == 0 || d.has(nitrateField) && v >= low && v <= high {
		at = d.said[nitrateField]
	}
	q := r.ask("strength", at)
	name := r.agentIn(at)
	switch {
	case name == "" || d.has(nitrateField):
	case d.Rate.Set():
		rate := strings.TrimSpace(r.text[at.start:r.within(at, agentKind).start])
		q.Choices = []Choice{{usual, r.replaced(at, rate+" "+name+" "+usual)}}
	default:
		q.Choices = []Choice{{usual, r.replaced(at, name+" "+usual)}}
		if v <= 0.03 && d.Kind != cure.NitritedSalt {
			typed := r.within(at, numberKind)
			q.Choices = append(q.Choices, Choice{r.text[typed.start:typed.end] + "% of the meat", r.replaced(at, r.text[typed.start:typed.end]+"% "+name)})
		}
	}
	r.doubts = append(r.doubts, q)
}
