package bot

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// notCured are the states of batches that never went into the cure, or have not yet.
var notCured = []store.State{store.StateAsked, store.StateApproved, store.StateWeighed, store.StateChecked, store.StateDeclined, store.StateLapsed}

// curedStates are those of batches whose clock was started. What is none of the first is
// finished: those are many, and are not read one by one.
var curedStates = []store.State{store.StateCuring, store.StateResting, store.StateFermenting, store.StateDrying, store.StateSmoking, store.StateCooking, store.StateChilled,
	store.StateDiscarded, store.StateFinished}

// totals answers "totals october": what went into the cure then, by cut and by state.
func (t *turn) totals(c grammar.Totals) error {
	l := t.theirs
	if c.Span == nil {
		c.Span = &grammar.Span{Unit: "year"}
	}
	from, to := between(*c.Span, t.at(), t.zone)
	sums, err := t.tx.Totals(t.kitchen.ID, milli(from), milli(to))
	if err != nil {
		return err
	}
	if c.Cut != "" {
		maps.DeleteFunc(sums.ByCut, func(cut string, _ store.CutTotal) bool { return cut != c.Cut })
	}
	var all store.CutTotal
	byCut := Fact{Label: l.say("by cut")}
	cuts := slices.SortedFunc(maps.Keys(sums.ByCut), func(a, b string) int {
		return cmp.Or(cmp.Compare(sums.ByCut[b].WeightMg, sums.ByCut[a].WeightMg), cmp.Compare(a, b))
	})
	for _, cut := range cuts {
		sum := sums.ByCut[cut]
		all.Batches += sum.Batches
		all.WeightMg += sum.WeightMg
		byCut.Lines = append(byCut.Lines, cutName(l, cut)+": "+sumWords(l, sum))
	}
	byState, err := t.totalsByState(c.Cut, from, to, all)
	if err != nil {
		return err
	}
	never, err := t.neverCured(c.Cut, from, to)
	if err != nil {
		return err
	}
	title := l.say("Into the cure from %s to %s: %s", dateOf(from), dateOf(to.Add(-time.Second)), sumWords(l, all))
	if all.Batches == 0 {
		title = l.say("Nothing went into the cure from %s to %s.", dateOf(from), dateOf(to.Add(-time.Second)))
	}
	card := Card{Kind: ListCard, Title: title}
	facts := []Fact{byCut, byState, never}
	if c.Cut == "" {
		facts = append(facts, t.cureByJar(sums))
	}
	for _, f := range facts {
		if len(f.Lines) > 0 {
			card.Facts = append(card.Facts, f)
		}
	}
	if all.Batches > 0 {
		card.Small = l.say("Counted by the day that each went into the cure; kilograms are green weights, as corrected.")
		card.Next = l.say("Each of them:  %s", grammar.CanonicalIn(string(l), grammar.Who{Cut: c.Cut, Span: c.Span}))
	}
	return t.post(card)
}

func sumWords(l tongue, sum store.CutTotal) string {
	if sum.Batches == 1 {
		return l.say("1 batch, %s", kilos(cure.Gram(sum.WeightMg)/1000))
	}
	return l.say("%d batches, %s", sum.Batches, kilos(cure.Gram(sum.WeightMg)/1000))
}

// totalsByState are the same batches by the state that they are in now.
func (t *turn) totalsByState(cut string, from, to time.Time, all store.CutTotal) (Fact, error) {
	l := t.theirs
	f := Fact{Label: l.say("by state, as of now")}
	left, held := all, 0
	for _, state := range curedStates {
		var sum store.CutTotal
		if state == store.StateFinished {
			sum = left
		} else {
			err := t.eachBatch(store.Query{Cut: cut, State: state, To: milli(to)}, func(b store.Batch) error {
				if b.StartedAt < milli(from) || b.StartedAt >= milli(to) {
					return nil
				}
				sum.Batches++
				sum.WeightMg += b.Card.WeightMg
				if b.Held() && b.Open() {
					held++
				}
				return nil
			})
			if err != nil {
				return f, err
			}
			left.Batches -= sum.Batches
			left.WeightMg -= sum.WeightMg
		}
		if sum.Batches > 0 {
			f.Lines = append(f.Lines, stateName(l, state)+": "+sumWords(l, sum))
		}
	}
	if held > 0 {
		f.Lines = append(f.Lines, l.say("of these on HOLD: %d", held))
	}
	return f, nil
}

// neverCured counts what was asked for then and has not gone into the cure.
func (t *turn) neverCured(cut string, from, to time.Time) (Fact, error) {
	l := t.theirs
	f := Fact{Label: l.say("asked for then, not in the cure")}
	for _, state := range notCured {
		n, err := t.tx.Count(t.kitchen.ID, store.Query{Cut: cut, State: state, From: milli(from), To: milli(to)}, countAtMost)
		if err != nil {
			return f, err
		}
		if n > 0 {
			f.Lines = append(f.Lines, stateName(l, state)+": "+counted(l, n))
		}
	}
	return f, nil
}

// cureByJar is how much curing salt went in from each jar.
func (t *turn) cureByJar(sums store.Totals) Fact {
	l := t.theirs
	f := Fact{Label: l.say("curing salt")}
	for _, jar := range slices.Sorted(maps.Keys(sums.ByJar)) {
		name := l.say("jar %s", jar)
		if jar == "" {
			name = l.say("no jar noted")
		}
		f.Lines = append(f.Lines, name+": "+weighed(sums.ByJar[jar]))
	}
	return f
}
