package store

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// compare compares all that can be asked for.
func (m *model) compare(t *rapid.T, s *Store) {
	err := s.View(func(tx *Tx) error {
		if err := m.compareBatches(tx); err != nil {
			return err
		}
		if err := errors.Join(m.compareDue(tx), m.compareJars(tx), m.comparePeople(tx)); err != nil {
			return err
		}
		if err := m.compareRecipes(tx); err != nil {
			return err
		}
		var want []string
		for _, e := range m.inbox {
			if e.Outcome == "" {
				want = append(want, e.ID)
			}
		}
		waiting, err := tx.Waiting(0)
		var got []string
		for _, e := range waiting {
			got = append(got, e.ID)
		}
		if err != nil || !slices.Equal(got, want) {
			return fmt.Errorf("waiting: %v (%w), want %v", got, err, want)
		}
		posts, err := tx.Unsent(0)
		if d := cmp.Diff(m.queue, posts, cmpopts.EquateEmpty()); d != "" || err != nil {
			return fmt.Errorf("unsent (%w) (-want +got):\n%s", err, d)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func (m *model) compareBatches(tx *Tx) error {
	open := map[string][]uint64{}
	for _, b := range m.batches {
		got, ok, err := tx.Batch(kitchen, b.number)
		if err != nil || !ok {
			return fmt.Errorf("batch %d: %v %w", b.number, ok, err)
		}
		have := modelBatch{
			number: got.Number, state: got.State, revision: got.Revision, cut: got.Card.Cut, talk: got.Conversation, askedBy: got.AskedBy,
			askedAt: got.AskedAt, lapse: got.Lapse, holds: len(got.Holds), alarms: got.Alarms, hands: got.People,
			recipe: got.Card.Recipe, version: got.Card.RecipeVersion,
			from: FillingOf{got.Jar, got.Filling}, weight: got.Card.WeightMg, where: got.Where,
		}
		for _, l := range got.Meat {
			have.meat = append(have.meat, l.Lot)
		}
		for _, i := range got.Ingredients {
			have.ingredients = append(have.ingredients, i.Name)
		}
		for _, r := range got.Readings {
			have.readings = append(have.readings, r.Value)
		}
		for _, v := range got.Served {
			have.served = append(have.served, v.Portions)
		}
		if got.Weighing != nil {
			have.weigher = got.Weighing.By
		}
		for _, s := range got.Steps {
			have.steps = append(have.steps, modelStep{s.Kind, s.Due, s.Again, s.Ring, s.On, s.Reminded, s.Closed(), s.Kept})
		}
		have.paused, have.startAt, have.pausedAt, have.ranAt = got.Paused(), got.StartedAt, b.pausedAt, b.ranAt
		if d := cmp.Diff(*b, have, cmp.AllowUnexported(modelBatch{}, modelStep{}), cmpopts.EquateEmpty()); d != "" {
			return fmt.Errorf("batch %d (-want +got):\n%s", b.number, d)
		}
		if want := b.first(false); got.Next != want {
			return fmt.Errorf("batch %d: next %d, want %d", b.number, got.Next, want)
		}
		if !b.ended() {
			open[b.talk] = append(open[b.talk], b.number)
		}
	}
	for _, talk := range modelTalks {
		got, _, err := tx.BatchesIn(talk)
		if err != nil || !slices.Equal(got, open[talk]) {
			return fmt.Errorf("open in %s: %v (%w), want %v", talk, got, err, open[talk])
		}
	}
	for _, q := range []Query{
		{}, {Cut: "belly"}, {Person: ben}, {State: StateCuring}, {Held: true}, {Paused: true}, {Cut: "loin", Person: ana}, {Person: ben, State: StateAsked, Held: true},
		{Jar: "A7"}, {Jar: "E6", Filling: 1, Person: ana},
		{From: m.now - 10*hour}, {To: m.now - 10*hour, Cut: "ham"},
		{Recipe: bacon}, {Recipe: "HAM cure", Version: 2}, {Recipe: bacon, Cut: "belly", Person: ben},
	} {
		q.Limit = 3
		want, got := m.matching(q), []uint64(nil)
		for {
			page, more, err := tx.Batches(kitchen, q)
			if err != nil {
				return err
			}
			for _, b := range page {
				got = append(got, b.Number)
			}
			if q.After = more; more == "" {
				break
			}
		}
		if !slices.Equal(got, want) {
			return fmt.Errorf("%+v: got %v, want %v", q, got, want)
		}
	}
	return nil
}

func (m *model) matching(q Query) (numbers []uint64) {
	var found []*modelBatch
	for _, b := range m.batches {
		if (q.Cut == "" || b.cut == q.Cut) && (q.Person == "" || slices.Contains(b.hands, q.Person)) && (q.State == "" || b.state == q.State) &&
			(q.Jar == "" || b.from.Jar == q.Jar) && (!q.Held || b.holds > 0 && !b.ended()) && (!q.Paused || b.paused && !b.ended()) && (q.From == 0 || b.askedAt >= q.From) &&
			(q.Recipe == "" || strings.EqualFold(b.recipe, q.Recipe) && (q.Version == 0 || b.version == q.Version)) && (q.To == 0 || b.askedAt < q.To) {
			found = append(found, b)
		}
	}
	slices.SortFunc(found, func(a, b *modelBatch) int {
		if a.askedAt != b.askedAt {
			return int(b.askedAt - a.askedAt)
		}
		return int(b.number) - int(a.number)
	})
	for _, b := range found {
		numbers = append(numbers, b.number)
	}
	return numbers
}

func (m *model) compareDue(tx *Tx) error {
	var list, in []DueEntry
	rank := func(e DueEntry) int {
		switch b := m.batches[e.Batch-1]; {
		case e.What == DueAgain:
			return e.Step + 1<<32
		case e.What == DueStep && e.At != b.steps[e.Step].due:
			return e.Step + 2<<32
		case e.What == DueStep || e.What == DueLapse:
			return e.Step
		}
		return 3 << 32
	}
	for _, b := range m.batches {
		for what, at := range b.alarms {
			if !b.ended() {
				list = append(list, DueEntry{at, kitchen, b.number, what, -1, ""})
			}
		}
		switch {
		case b.ended():
		case b.waits():
			e := DueEntry{b.lapse, kitchen, b.number, DueLapse, -1, ""}
			list, in = append(list, e), append(in, e)
		case b.paused:
		default:
			for i, s := range b.steps {
				e := DueEntry{s.due, kitchen, b.number, DueStep, i, s.kind}
				if i == b.first(true) {
					ring := e
					ring.At = s.at()
					list = append(list, ring)
				}
				if !s.done {
					in = append(in, e)
				}
				if s.again != 0 && !s.done {
					list = append(list, DueEntry{s.again, kitchen, b.number, DueAgain, i, s.kind})
				}
			}
		}
	}
	order := func(a, b DueEntry) int {
		switch {
		case a.At != b.At:
			return int(a.At - b.At)
		case a.Batch != b.Batch:
			return int(a.Batch) - int(b.Batch)
		case rank(a) != rank(b): // alarms stand last
			return rank(a) - rank(b)
		}
		return strings.Compare(a.What, b.What)
	}
	slices.SortFunc(list, order)
	slices.SortFunc(in, order)
	got, err := tx.DueUntil(1<<62, 0)
	if d := cmp.Diff(list, got, cmpopts.EquateEmpty()); d != "" || err != nil {
		return fmt.Errorf("due (%w) (-want +got):\n%s", err, d)
	}
	got, err = tx.DueIn(kitchen, 0, 1<<62, 0)
	if d := cmp.Diff(in, got, cmpopts.EquateEmpty()); d != "" || err != nil {
		return fmt.Errorf("due in the kitchen (%w) (-want +got):\n%s", err, d)
	}
	return nil
}
