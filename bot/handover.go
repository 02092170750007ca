package bot

import (
	"slices"
	"strconv"

	"salthand/grammar"
	"salthand/store"
)

// handOver offers a person's batches to another, and says how they stand. Until the other
// accepts, nothing changes.
func (t *turn) handOver(c grammar.HandOver) error {
	l := t.theirs
	from := t.person
	var ok bool
	var err error
	if c.From != "" {
		if from, ok, err = t.somebody(c.From); err != nil || !ok {
			return err
		}
	}
	to, ok, err := t.somebody(c.To)
	if err != nil || !ok {
		return err
	}
	if to.ID == from.ID {
		return t.note(l.say("Those batches are %s's already.", to.Name))
	}
	var mine []uint64
	err = t.eachOpen(func(b store.Batch) error {
		if ownerOf(b) == from.ID {
			mine = append(mine, b.Number)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if len(mine) == 0 {
		return t.note(l.say("%s looks after no open batch.", from.Name))
	}
	slices.Sort(mine)
	if err := t.append(0, store.HandOverOffered{From: from.ID, To: to.ID, Batches: mine}); err != nil {
		return err
	}
	facts, err := t.groups(t.ours, func(b store.Batch) bool { return slices.Contains(mine, b.Number) })
	if err != nil {
		return err
	}
	l = t.ours
	return t.post(Card{Kind: ListCard, Title: l.say("Hand-over from %s to %s, batches: %d", from.Name, to.Name, len(mine)),
		Lines: []string{batchesNamed(l, mine)}, Facts: facts,
		Next:    l.say("%s types  accept . Until then reminders go to %s.", to.Name, from.Name),
		Buttons: []Button{{l.say("accept"), Press{Action: DoAccept}}}})
}

// accept takes over the batches that were offered to the person.
func (t *turn) accept() error {
	offer, ok := t.kitchen.Offers[t.person.ID]
	if !ok {
		return t.note(t.theirs.say("No batches are offered to %s.", t.person.Name))
	}
	from, _, err := t.tx.Person(t.kitchen.ID, offer.From)
	if err != nil {
		return err
	}
	var taken []uint64
	for _, n := range offer.Batches {
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if err != nil {
			return err
		}
		if !ok || !b.Open() || ownerOf(b) != offer.From {
			continue // ended or given to somebody else since
		}
		if err := t.append(n, store.OwnerSet{ID: t.person.ID, Old: b.Owner, Why: "hand-over"}); err != nil {
			return err
		}
		taken = append(taken, n)
	}
	if err := t.append(0, store.HandOverEnded{To: t.person.ID, Accepted: true}); err != nil {
		return err
	}
	l := t.ours
	if len(taken) == 0 {
		return t.note(l.say("None of those batches is %s's any more.", from.Name))
	}
	return t.note(l.say("%s has taken over from %s: batches %s. Reminders go to %s now.", t.person.Name, from.Name, numbers(taken), t.person.Name))
}

// numbers are the numbers of batches, in a row.
func numbers(all []uint64) string {
	out := ""
	for i, n := range all {
		if i > 0 {
			out += ", "
		}
		out += strconv.FormatUint(n, 10)
	}
	return out
}
