package bot

import "salthand/store"

// carePart is who looked after a batch from when on; nothing, where it never changed.
func (t *turn) carePart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("who looked after it"), Half: true, Grid: &Grid{Widths: []float64{19, 15, 57}, Head: []string{l.say("when"), l.say("who"), l.say("what")}}}
	for _, e := range events {
		what := ""
		switch body := e.Body.(type) {
		case store.OwnerSet:
			was, err := t.called(body.Old)
			if err != nil {
				return p, err
			}
			is, err := t.called(body.ID)
			if err != nil {
				return p, err
			}
			what = l.say("looked after by %s", is)
			if was != "" {
				what = l.say("looked after by %s, no longer by %s", is, was)
			}
			if body.Why == "hand-over" {
				what += ", " + l.say("handed over")
			}
		case store.BackupSet:
			is, err := t.called(body.ID)
			if err != nil {
				return p, err
			}
			what = l.say("backup is %s", is)
		default:
			continue
		}
		if err := t.row(&p, b, e, what); err != nil {
			return p, err
		}
	}
	if len(p.Grid.Rows) == 0 {
		return SheetPart{}, nil
	}
	return p, nil
}
