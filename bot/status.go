package bot

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"salthand/store"
)

// doseKey names the dose card of a revision.
func (t *turn) doseKey(n uint64, revision uint32) string {
	return fmt.Sprintf("%s/batch/%d/dose/%d", t.kitchen.ID, n, revision)
}

// requestKey names the request for approval of a revision in a home channel.
func (t *turn) requestKey(n uint64, revision uint32, home Place) string {
	return fmt.Sprintf("%s/batch/%d/request/%d/%s", t.kitchen.ID, n, revision, home)
}

// touch notes that something is noted of a batch, or of several.
func (t *turn) touch(batch uint64, body store.Body) {
	add := func(n uint64) {
		if n != 0 && !slices.Contains(t.touched, n) {
			t.touched = append(t.touched, n)
		}
	}
	add(batch)
	switch body := body.(type) {
	case store.Held:
		t.held = append(t.held, batch)
	case store.Incident:
		t.mass = &body
		for _, h := range body.Held {
			add(h.Batch)
		}
	}
}

// finishUp ends a turn: it tells the home channels what is held, and brings the dose cards up to
// date.
func (t *turn) finishUp() error {
	if len(homeChannels(t.kitchen)) > 0 {
		if err := t.tellHomes(); err != nil {
			return err
		}
	}
	return t.restate()
}

// tellHomes posts the holds of this turn in the home channels.
func (t *turn) tellHomes() error {
	for _, n := range t.held {
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if err != nil {
			return err
		}
		if !ok || !b.Held() {
			continue
		}
		err = t.announceHome(func(l tongue) Card {
			return Card{Kind: HoldCard, Batch: n, Title: l.say("HOLD on batch %d: %s", n, b.Holds[len(b.Holds)-1].Why), Lines: []string{phraseIn(l, b.Card.Phrase)},
				Next: l.say("A chef decides:  batch %d: release: reason  or  batch %d: discard: reason .", n, n)}
		})
		if err != nil {
			return err
		}
	}
	if t.mass == nil {
		return nil
	}
	var numbers []string
	for _, h := range t.mass.Held {
		numbers = append(numbers, fmt.Sprint(h.Batch))
	}
	return t.announceHome(func(l tongue) Card {
		return Card{Kind: HoldCard, Title: l.say("HOLD, incident %d: %s. %d held: %s.", t.mass.Number, t.mass.Why, len(numbers), strings.Join(numbers, ", ")),
			Next: l.say("Type  incident %d  for all that it concerns.", t.mass.Number)}
	})
}

// restate brings the dose cards of the batches that the turn touched up to date where they
// stand: who approved, weighed and started, what holds it, and the buttons that are left.
func (t *turn) restate() error {
	for _, n := range t.touched {
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if err != nil || !ok {
			return err
		}
		for revision := max(1, b.Revision-1); revision <= b.Revision; revision++ {
			keys := []string{t.doseKey(n, revision)}
			for _, home := range homeChannels(t.kitchen) {
				keys = append(keys, t.requestKey(n, revision, home))
			}
			for _, key := range keys {
				if err := t.restateCard(key, b, revision); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// restateCard queues a card anew where what it says of its batch has changed.
func (t *turn) restateCard(key string, b store.Batch, revision uint32) error {
	p, ok, err := t.tx.Kept(key)
	if err != nil || !ok {
		return err
	}
	var c Card
	if err := json.Unmarshal(p.Card, &c); err != nil {
		return fmt.Errorf("card %s: %w", key, err)
	}
	at, err := placeOf(p)
	if err != nil {
		return err
	}
	old := c
	for part := &c; part != nil; part = part.Also {
		if part.Status, err = t.statusOf(tongueNamed(part.Language, english), b, revision, len(part.Status) > 0); err != nil {
			return err
		}
	}
	c.Buttons = t.buttonsOf(tongueNamed(c.Language, english), b, revision)
	if slices.Equal(old.Status, c.Status) && slices.Equal(old.Buttons, c.Buttons) {
		return nil
	}
	c.Revision, c.done = p.Revision+1, b.Ended != 0 || revision < b.Revision
	if c.done || b.State != store.StateAsked {
		c.Next = ""
		if c.Also != nil {
			c.Also.Next = ""
		}
	}
	return t.queue(at, c)
}

// statusOf is what became of a revision of a dose card, in order. Before anything has, there is
// nothing to say; said once that it was approved, it is also said that this is void.
func (t *turn) statusOf(l tongue, b store.Batch, revision uint32, before bool) (lines []string, err error) {
	if revision < b.Revision {
		return []string{l.say("replaced by dose card revision %d", b.Revision)}, nil
	}
	add := func(by string, word func(name, when string) string, at store.Milli) {
		name, e := t.nameOf(by)
		if e != nil {
			err = e
		}
		lines = append(lines, word(name, moment(l, timeOf(at), t.zone)))
	}
	if a := b.Approval; a != nil {
		add(a.By, func(name, when string) string {
			if a.Own {
				return l.say("approved own, %s, %s", name, when)
			}
			return l.say("approved by %s, %s", name, when)
		}, a.At)
	}
	if w := b.Weighing; w != nil {
		add(w.By, func(name, when string) string {
			return l.say("weighed by %s, %s: cure %s", name, when, weighed(w.CureMg))
		}, w.At)
	}
	if c := b.Check; c != nil {
		add(c.By, func(name, when string) string { return l.say("read again by %s, %s", name, when) }, c.At)
	}
	if b.StartedAt != 0 {
		lines = append(lines, l.say("started %s", moment(l, timeOf(b.StartedAt), t.zone)))
	}
	if b.Paused() && b.Ended == 0 {
		lines = append(lines, l.say("paused: %s", b.Pauses[len(b.Pauses)-1].Why))
	}
	if b.Held() && b.Ended == 0 {
		for _, h := range b.Holds {
			lines = append(lines, t.holdLine(l, h))
		}
	}
	if b.Ended != 0 {
		line := stateName(l, b.State)
		if b.EndWhy != "" {
			line += ": " + lapseName(l, b.EndWhy)
		}
		add(b.EndedBy, func(name, when string) string { return l.say("%s, %s, %s", line, name, when) }, b.Ended)
	}
	if len(lines) == 0 && before {
		lines = []string{l.say("void: it has to be approved anew")}
	}
	return lines, err
}

// buttonsOf are what can be done with a dose card now. Who may is judged when they are pressed.
func (t *turn) buttonsOf(l tongue, b store.Batch, revision uint32) []Button {
	button := func(label string, a Action) Button {
		return Button{l.say(label), Press{Action: a, Batch: b.Number, Revision: revision}}
	}
	var buttons []Button
	switch {
	case b.Ended != 0 || revision < b.Revision:
		return nil
	case b.State == store.StateAsked:
		buttons = []Button{button(msg("approve"), DoApprove), button(msg("decline"), DoDecline), button(msg("change"), DoChange)}
	case b.State == store.StateApproved && t.weighingOn():
		buttons = []Button{button(msg("weigh in"), DoWeigh)}
	case b.State == store.StateApproved:
		buttons = []Button{button(msg("start"), DoStart)}
	}
	return append(buttons, button(msg("hold"), DoHold))
}

// request posts a dose card that waits for approval in the home channels too, to be answered
// there. Where the batch is talked about in a home channel, its thread is enough.
func (t *turn) request(b store.Batch, card func(l tongue) Card) error {
	for _, home := range homeChannels(t.kitchen) {
		if home.channel() == t.place.channel() {
			continue
		}
		c := card(t.ours)
		c.Kind, c.Key = RequestCard, t.requestKey(b.Number, b.Revision, home)
		c.Next = t.ours.say("A second person with the chef role types  batch %d: approve  here.", b.Number)
		c.in(t.ours)
		if err := t.queue(home, c); err != nil {
			return err
		}
	}
	return nil
}

// announceHome posts what concerns the whole kitchen in its home channels.
func (t *turn) announceHome(word func(l tongue) Card) error {
	for _, home := range homeChannels(t.kitchen) {
		if home == t.place {
			continue // it stands there
		}
		c := word(t.ours)
		c.in(t.ours)
		if err := t.queue(home, c); err != nil {
			return err
		}
	}
	return nil
}
