package bot

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"salthand/grammar"
	"salthand/store"
)

// print answers "label 42", "sheet 42", "chart 42". Papers are read-only, and in the kitchen's
// language: they hang where everybody reads them.
func (t *turn) print(b store.Batch, what grammar.Paper) error {
	p := t.paper(fmt.Sprintf("%s-%d", what, b.Number))
	c := Card{Kind: ListCard, Batch: b.Number}
	switch what {
	case grammar.LabelPaper:
		label, err := t.label(b)
		if err != nil {
			return err
		}
		p.Label = &label
		c.Title = t.theirs.say("Label of batch %d", b.Number)
		c.Next = t.theirs.say("Print it at its real size, 100 mm wide, and stick it on the bag. A new step, a hold or a correction needs a new one.")
	case grammar.SheetPaper:
		sheet, err := t.sheet(b)
		if err != nil {
			return err
		}
		p.Sheet = &sheet
		c.Title = t.theirs.say("Record of batch %d", b.Number)
	default:
		return t.chart(b)
	}
	c.Papers = []Paper{p}
	return t.post(c)
}

// paper is a paper of the kitchen without its content. It carries the time at which it was asked
// for, so that it is the same drawn twice.
func (t *turn) paper(name string) Paper {
	return Paper{Name: name, Language: string(t.ours), At: t.at()}
}

// scanned answers what a label's code says: the batch, where it is one of this kitchen.
func (t *turn) scanned(c grammar.Scanned) error {
	if !strings.EqualFold(codeName(t.kitchen.Name), c.Kitchen) && !strings.EqualFold(t.kitchen.Name, c.Kitchen) {
		return t.note(t.theirs.say("That is a label of kitchen %s; this is kitchen %s.", c.Kitchen, t.kitchen.Name), t.theirs.say("Scan it in the channel of its kitchen."))
	}
	return t.batch(grammar.Phrase{Batch: c.Batch, Command: grammar.ShowBatch{}})
}

// codeOf is what the code on a label of a batch says. Typed into the chat it finds the batch.
func (t *turn) codeOf(b store.Batch) string {
	return grammar.Canonical(grammar.Scanned{Batch: b.Number, Kitchen: codeName(t.kitchen.Name)})
}

// codeName is a kitchen's name as a code has it: whole words of one line, 40 bytes at most, so
// that the squares of the code stay large enough for a phone.
func codeName(name string) string {
	words := strings.Fields(name)
	if len(words) == 0 {
		return "1"
	}
	out := words[0]
	for _, w := range words[1:] {
		if len(out)+1+len(w) > 40 {
			break
		}
		out += " " + w
	}
	for len(out) > 40 {
		_, size := utf8.DecodeLastRuneInString(out)
		out = out[:len(out)-size]
	}
	return out
}

// called is a person's name; "" for nobody.
func (t *turn) called(id string) (string, error) {
	if id == "" {
		return "", nil
	}
	p, ok, err := t.tx.Person(t.kitchen.ID, id)
	if !ok {
		return "", err
	}
	return p.Name, err
}

// dated is an instant on paper, which is read in other years too.
func (t *turn) dated(m store.Milli) string {
	if m == 0 {
		return ""
	}
	at := timeOf(m).In(t.zone)
	return day(t.ours, at, t.zone) + " " + strconv.Itoa(at.Year()) + " " + at.Format("15:04")
}

// soon is an instant on what hangs on a bag: without the year, where it is this one.
func (t *turn) soon(m store.Milli) string {
	if m == 0 || timeOf(m).In(t.zone).Year() != t.at().In(t.zone).Year() {
		return t.dated(m)
	}
	return moment(t.ours, timeOf(m), t.zone)
}

// bannerOf is what stands over everything else on the papers of a batch, and why: that it is
// held, that it has ended without being finished, that nobody has approved it.
func (t *turn) bannerOf(b store.Batch) (word, why string) {
	l := t.ours
	switch {
	case b.Held() && b.Ended == 0:
		reasons := make([]string, len(b.Holds))
		for i, h := range b.Holds {
			reasons[i] = h.Why
		}
		return l.say("HOLD"), strings.Join(reasons, "; ")
	case b.State == store.StateLapsed:
		return strings.ToUpper(stateName(l, b.State)), lapseName(l, b.EndWhy)
	case b.Ended != 0 && b.State != store.StateFinished:
		return strings.ToUpper(stateName(l, b.State)), b.EndWhy
	case b.Approval == nil && b.State != store.StateFinished:
		return l.say("NOT APPROVED"), l.say("nothing is weighed in, smoked or served")
	}
	return "", ""
}

// approvedBy says who approved a batch and when.
func (t *turn) approvedBy(b store.Batch) (string, error) {
	switch {
	case b.Approval == nil && b.StartedAt != 0:
		return t.ours.say("void since a correction"), nil
	case b.Approval == nil:
		return t.ours.say("nobody yet"), nil
	}
	name, err := t.called(b.Approval.By)
	if b.Approval.Own {
		name += " " + t.ours.say("(own)")
	}
	return name, err
}

// lastStep is when a step of a kind was last done; nil: never.
func lastStep(b store.Batch, kind string) (last *store.StepState) {
	for i, s := range b.Steps {
		if s.Kind == kind && s.Done && !s.Undone && (last == nil || s.DoneAt >= last.DoneAt) {
			last = &b.Steps[i]
		}
	}
	return last
}

// printed is the foot of a paper.
func (t *turn) printed() string {
	return t.ours.say("%s, printed %s by salthand from the kitchen's records", t.kitchen.Name, t.dated(t.now))
}
