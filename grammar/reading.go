package grammar

import (
	"strconv"
	"strings"
)

// reading is one line on its way to a command.
type reading struct {
	text     string
	thread   bool // in a batch's thread
	dates    DateOrder
	recipes  []recipeName // that the kitchen knows
	places   string       // that the kitchen knows
	pieced   []piece
	toks     []token
	draft    draft
	weighed  bool    // a weight was typed, even a doubtful one
	cured    bool    // a salt was named, even a vague one
	doubts   []error // clauses that are well formed and can't be meant: a question, or a number that can't be
	wrong    []*wrong
	where    [4]uint64 // clauses, as bits, in which a weight, a cut, a method or cure, and days stand
	fig      *figure   // a phrase that asks for figures; nil: a dose
	stripped bool      // what stood before an amendment was taken off: only clauses are left
	plain    bool      // reading an example: make no further examples
	languages
	work int // tokens, clauses and compared words so far: what a fuzz test bounds
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
	s := scan{text: r.text, pieces: r.pieced, recipes: r.recipes}
	r.toks = s.run()
	r.pieced, r.languages = s.pieces, s.said
	r.work += len(r.pieced) + len(r.toks) + s.compared
	if len(r.toks) == 0 {
		return Phrase{Command: Chatter{}}, nil
	}
	if c := r.wasOff(r.pieced); c != nil && !r.stripped { // "lot 2291" would be a batch
		return Phrase{Command: c}, nil
	}
	p, from := r.batch()
	if from == len(r.toks) {
		p.Command = ShowBatch{}
		return p, nil
	}
	ofBatch := r.thread || p.Batch > 0
	if !r.stripped && !r.plain {
		if said, ok := r.witnessed(); ok {
			return said, nil
		}
	}
	if !r.stripped {
		if cmd := r.heldByInspector(from); cmd != nil && ofBatch {
			p.Command = cmd
			return p, nil
		}
		if cmd := r.notTaken(from); cmd != nil {
			p.Command = cmd
			return p, nil
		}
		if cmd, err := r.kept(from, ofBatch); cmd != nil || err != nil {
			p.Command = cmd
			return p, err
		}
	}
	cmd, n := r.paper(from, p.Batch)
	p.Batch = n
	var err error
	if cmd == nil && !r.stripped {
		cmd, p.Batch = r.ofIngredient(from, p.Batch)
	}
	if cmd == nil {
		cmd, p.Batch, err = r.along(from, p.Batch)
	}
	if name, first := r.asks(from); cmd == nil && err == nil && name != "" && !r.stripped {
		cmd, err = r.figure(name, from, first, p.Batch)
		if cmd == (Chatter{}) && first == from || cmd == (Chatter{}) && r.toks[from].kind != verbKind {
			cmd = nil // no such word: it may be something else
			r.again()
		}
	}
	if cmd == nil && err == nil && !r.stripped {
		cmd, err = r.ofRecipe(from)
	}
	if cmd == nil && err == nil && !r.stripped {
		cmd, err = r.lookBack(from)
	}
	if cmd == nil && err == nil && !r.stripped {
		if cmd = r.nameFirst(from); cmd == nil {
			cmd, err = r.order(from)
		}
	}
	if cmd == nil && err == nil && ofBatch {
		if cmd, err = r.amended(from); cmd == (Chatter{}) {
			cmd = nil
		}
	}
	if cmd == nil && err == nil {
		cmd, err = r.dose(from, p.Batch)
	}
	switch c := cmd.(type) {
	case Chatter:
		if ofBatch {
			cmd, err = r.amendment(from)
		}
	case Dose:
		if ofBatch && !c.JustAsking && (c.Cut == "" || r.stripped) {
			cmd = Amend{c} // "3.4 kg, no 1": what was not named stays
		}
	}
	if cmd == (Chatter{}) && err == nil {
		if e := r.blank(); e != nil {
			return Phrase{}, e
		}
	}
	if _, ok := cmd.(Chatter); ok && p.Batch > 0 {
		if next := r.toks[from]; strings.Contains(r.text[r.toks[1].end:next.start], ":") { // "batch 42: what"
			e := r.fail("unknown word", stretch{next.start, next.end})
			e.Example = "batch " + strconv.FormatUint(p.Batch, 10) + ": turned"
			return Phrase{}, e
		}
		p.Batch = 0
	}
	p.Command = cmd
	return p, err
}

// defines reports whether the line begins as one that says what a jar or a recipe is: nobody
// else can be meant.
func (r *reading) defines() bool {
	switch recalled[r.pieced[0].word] {
	case "jar":
		return true
	case "recipe":
		return strings.Contains(r.text, ":")
	}
	return false
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
	for i := from; i+2 < len(r.toks); i++ { // "celery powder 2%": the strength of its lot
		if t := &r.toks[i]; t.kind == vagueKind && t.value == "celery" && r.toks[i+1].kind == numberKind && r.toks[i+2].kind == percentKind {
			t.kind, t.value = agentKind, vegetablePowder
		}
	}
	r.clauses(from)
	r.finish()
	r.draft.JustAsking = asking
	whole := r.weighed && (r.draft.Cut != "" || r.saidMethod()) || r.draft.Cut != "" && r.saidMethod() || asking && (r.draft.Cut != "" || r.draft.Recipe != "")
	if len(r.wrong) == 0 && len(r.doubts) == 0 && whole {
		return r.draft.Dose, nil
	}
	if t, ok := r.told(batch); ok {
		return t, nil
	}
	if q := r.spoons(); q != nil {
		return nil, q
	}
	if q := r.twoReadings(); q != nil {
		return nil, q
	}
	if e := r.notYet(from); e != nil {
		return nil, e
	}
	near := r.near()
	if len(r.wrong) == 0 && !whole || len(r.wrong) > 0 && !near && !r.unweighed() {
		if err := r.hint(from); err != nil {
			return nil, err
		}
		if t, ok := r.dosed(); ok {
			return t, nil
		}
		return Chatter{}, nil
	}
	err := r.worst()
	if e, ok := err.(*Error); ok {
		e.Near = near || len(r.wrong) == 0
	}
	return nil, err
}

// twoReadings asks about the weight in a line that names a cut and a cure and is no phrase:
// "guanciale 1.250 g cure?". Each choice asks for the dose of that weight. nil: there is
// nothing to ask.
func (r *reading) twoReadings() *Question {
	if r.draft.Cut == "" || !r.cured && !r.has(agentKind, vagueKind) {
		return nil
	}
	for _, q := range r.facts().Doubts {
		if q.Code != "thousands" {
			continue
		}
		for i, c := range q.Choices {
			d := "how much for " + c.Label + " " + r.draft.Cut
			if name := r.agentIn(stretch{0, len(r.text)}); name != "" {
				d += ", " + name
			}
			q.Choices[i].Phrase = d
		}
		return q
	}
	return nil
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
	for from < len(r.toks) && (r.fig == nil || len(r.wrong) <= manyWrong) {
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

// manyWrong are more clauses that can't be read than any phrase that asks for figures has.
const manyWrong = 8

// strangers is how many tokens of a clause may be skipped to see what else it says.
const strangers = 3

// clause reads toks[from:to], which is clause number n. After a token that does not fit it
// goes on behind it, to know what was meant; the clause stays wrong.
func (r *reading) clause(from, to, n int) {
	if r.fig != nil {
		r.fig.clause = n
	}
	if r.toks[from].kind == wordKind && r.region(from, to) {
		return
	}
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
		if bad > 0 && bad < to && r.toks[bad].kind == numberKind && r.toks[bad-1].kind == numberKind {
			from = bad // "3. 2 kg": the first number is the stranger
		}
	}
}

// items folds the items that stand in toks[from:to], of the clause that bit stands for.
func (r *reading) items(items []*item, from, to int, bit uint64) {
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
		if err := r.take(items[i], begin, end); err != nil {
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
	if said(methodField) || said(agentField) || said(jarField) || said(recipeField) || r.cured && !cured {
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
	return r.cured || d.has(methodField) || d.has(agentField) || d.has(jarField) || d.has(targetField) || d.has(waterField) || d.has(recipeField)
}

// strange counts the tokens that say nothing in a phrase, and those that do.
func (r *reading) strange() (strange, known int) {
	for _, t := range r.toks {
		switch t.kind {
		case sepKind:
		case wordKind, oddKind, verbKind, stepKind:
			strange++
		default:
			known++
		}
	}
	return strange, known
}

// unknownWords counts the words that nothing is known of.
func (r *reading) unknownWords() (n int) {
	for _, t := range r.toks {
		if t.kind == wordKind {
			n++
		}
	}
	return n
}

// near reports whether a weight, and in another clause a cut, a cure or a method, or days
// beside a cut, were understood. In a line without commas all three must be there, and
// almost nothing else. A line of more strange words than known ones is talk.
func (r *reading) near() bool {
	w := r.where[inWeight]
	strange, known := r.strange()
	if w == 0 || strange > known {
		return false
	}
	if r.where[inMethod]|r.where[inDays] == 0 && strange > 1 { // "the belly is here, 4 kg"
		return false
	}
	rest := r.where[inCut] | r.where[inMethod]
	if r.where[inCut] != 0 {
		rest |= r.where[inDays]
	}
	if rest&^w != 0 || w&(w-1) != 0 {
		return true
	}
	return r.where[inCut] != 0 && r.where[inMethod]|r.where[inDays] != 0 && strange <= 1
}
