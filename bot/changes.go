package bot

import (
	"slices"
	"strings"

	"salthand/store"
)

// correction is one change to the record of a batch.
type correction struct {
	at   store.Milli
	who  string
	late string
	change
	why string
}

// words are a correction in a line.
func (c correction) words() string {
	return c.what + ": " + c.was + " → " + c.is + because(c.why) + c.late
}

// changePart is every change with its old and new value, who made it and why, and what was
// taken back.
func (t *turn) changePart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("corrections"), Grid: &Grid{Widths: []float64{20, 16, 28, 44, 44, 34}, Old: 4,
		Head: []string{l.say("when"), l.say("who"), l.say("what"), l.say("was"), l.say("is now"), l.say("why")}}}
	changes, err := t.corrections(b, events)
	if err != nil {
		return p, err
	}
	for _, c := range changes {
		p.Grid.Rows = append(p.Grid.Rows, []string{t.short(c.at), c.who, c.what, c.was, c.is, c.why + c.late})
	}
	if len(p.Grid.Rows) == 0 {
		p.Grid, p.Lines = nil, []string{l.say("none")}
	}
	return p, nil
}

// corrections are the changes to the record of a batch, in order.
func (t *turn) corrections(b store.Batch, events []store.Event) (out []correction, err error) {
	l := t.ours
	var card store.Card
	var due dueSteps
	bySeq := map[uint64]store.Event{}
	for _, e := range events {
		bySeq[e.Seq] = e
		var made []correction
		switch body := e.Body.(type) {
		case store.Asked:
			card = body.Card
		case store.Revised:
			made = []correction{{change: revised(l, card, body.Card), why: body.Why}}
			card = body.Card
		case store.WeightCorrected:
			is := milligrams(body.NewMg) + ", " + l.say("%s nitrite", nitriteOf(l, body.NitriteMilliPPM))
			made = []correction{{change: change{l.say("meat"), milligrams(body.OldMg), is}, why: body.Why}}
		case store.Corrected:
			made = []correction{{change: change{l.say("entry"), t.short(body.Old.Happened) + " " + t.notedWords(l, body.Old), t.notedWords(l, body.New)}, why: body.Why}}
		case store.ApprovalVoided:
			made = []correction{{change: change{l.say("approval"), l.say("approved"), l.say("void")}, why: body.Why}}
		case store.StepMoved:
			if _, byHand := moveNames[body.Why]; byHand {
				made = []correction{{change: change{stepName(l, body.To.Kind), t.short(due.at(body.Step)), t.short(body.To.Due)}, why: moveName(l, body.Why)}}
			}
		case store.StepDropped:
			if i := body.Step; i >= 0 && i < len(b.Steps) {
				made = []correction{{change: change{stepName(l, b.Steps[i].Kind), t.short(due.at(i)), l.say("dropped")}, why: body.Why}}
			}
		case store.Undone:
			for _, seq := range body.Events {
				words, err := t.entryWords(bySeq[seq])
				if err != nil {
					return nil, err
				}
				if words != "" {
					made = append(made, correction{change: change{l.say("entry"), t.short(bySeq[seq].Happened) + " " + words, l.say("taken back")}})
				}
			}
		}
		due.take(e.Body)
		who, err := t.called(e.Person)
		if err != nil {
			return nil, err
		}
		for _, c := range made {
			c.at, c.who, c.late = e.Happened, who, t.lateOn(e)
			if slices.Contains(b.Undone, e.Seq) {
				c.why = strings.TrimSpace(l.say("(taken back) %s", c.why))
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// revised is a revision of a dose card as one change: the figures that are others now, or the
// phrase, where none is.
func revised(l tongue, old, now store.Card) change {
	all := changesOf(l, old, now)
	if len(all) > 1 {
		all = slices.DeleteFunc(all, func(c change) bool { return c.what == l.say("phrase") })
	}
	out := change{what: l.say("dose card, revision %d", now.Revision)}
	var was, is []string
	for _, c := range all {
		was, is = append(was, strings.TrimSpace(c.what+" "+c.was)), append(is, strings.TrimSpace(c.what+" "+c.is))
	}
	out.was, out.is = strings.Join(was, "; "), strings.Join(is, "; ")
	return out
}

// dueSteps is when each step of a batch is due, by its index, as its events tell.
type dueSteps []store.Milli

// at is when a step was due; 0: it was none before.
func (d dueSteps) at(step int) store.Milli {
	if step < 0 || step >= len(d) {
		return 0
	}
	return d[step]
}

// take follows an event.
func (d *dueSteps) take(body store.Body) {
	move := func(moves []store.Move) {
		for _, m := range moves {
			if m.Step >= 0 && m.Step < len(*d) {
				(*d)[m.Step] = m.To.Due
			}
		}
	}
	switch body := body.(type) {
	case store.Started:
		*d = nil
		for _, s := range body.Steps {
			*d = append(*d, s.Due)
		}
	case store.StepDone:
		if body.Step == -1 {
			*d = append(*d, 0)
		}
	case store.StepMoved:
		if body.Step == -1 {
			*d = append(*d, body.To.Due)
		}
		move([]store.Move{{Step: body.Step, To: body.To}})
	case store.Resumed:
		move(body.Moves)
	case store.Thawed:
		move(body.Moves)
	}
}
