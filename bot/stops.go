package bot

import (
	"slices"
	"strings"

	"salthand/store"
)

// stopPart is every hold and pause of a batch: why, from when and by whom, and what ended it.
func (t *turn) stopPart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("holds and pauses"), Grid: &Grid{Widths: []float64{20, 16, 74, 76}, Head: []string{l.say("from"), l.say("who"), l.say("what"), l.say("until, who, why")}}}
	type open struct{ number, row int } // number -1: a pause
	var standing []open
	for _, e := range events {
		who, err := t.called(e.Person)
		if err != nil {
			return p, err
		}
		begin := func(number int, what string) {
			if slices.Contains(b.Undone, e.Seq) {
				what = l.say("(taken back) %s", what)
			} else {
				standing = append(standing, open{number, len(p.Grid.Rows)})
			}
			p.Grid.Rows = append(p.Grid.Rows, []string{t.short(e.Happened), who, what + t.lateOn(e), ""})
		}
		end := func(number int, words string) {
			if slices.Contains(b.Undone, e.Seq) {
				return
			}
			for i, s := range slices.Backward(standing) {
				if s.number == number {
					p.Grid.Rows[s.row][3] = strings.TrimSpace(t.short(e.Happened) + " " + who + words + t.lateOn(e))
					if number >= 0 { // a pause can be said anew to have ended at another time
						standing = slices.Delete(standing, i, i+1)
					}
					return
				}
			}
		}
		switch body := e.Body.(type) {
		case store.Held:
			begin(body.Number, l.say("HOLD")+because(body.Why))
		case store.Incident:
			for _, h := range body.Held {
				if h.Batch == b.Number {
					begin(h.Hold, l.say("HOLD")+because(body.Why)+l.say(", incident %d", body.Number))
				}
			}
		case store.Released:
			words := because(body.Why)
			if body.Reference != "" {
				words += l.say(" (reference %s)", body.Reference)
			}
			end(body.Number, words)
		case store.Paused:
			begin(-1, l.say("paused: the clock stands")+because(body.Why))
		case store.Resumed:
			end(-1, ": "+l.say("the clock runs again from %s", t.short(body.Clock))+because(body.Why))
		case store.Thawed:
			end(-1, ": "+l.say("thawed; the clock ran again from %s", t.short(body.Clock)))
		}
	}
	if len(p.Grid.Rows) == 0 {
		p.Grid, p.Lines, p.Half = nil, []string{l.say("none")}, true
		return p, nil
	}
	if b.Ended == 0 {
		for _, s := range standing {
			if row := p.Grid.Rows[s.row]; row[3] == "" {
				row[3] = l.say("STANDS")
			}
		}
	}
	return p, nil
}
