package store

import (
	"maps"
	"slices"

	"pgregory.net/rapid"
)

var modelPlaces = []string{"", "walk-in 2", "cave"}

// along draws what is noted of a batch along its way.
func (m *model) along(t *rapid.T, kind string, b *modelBatch, at Milli) (body Body, fits bool, change func()) {
	switch kind {
	case "place":
		from := b.where
		if rapid.IntRange(0, 4).Draw(t, "slip") == 0 {
			from = rapid.SampledFrom(modelPlaces).Draw(t, "from")
		}
		to := rapid.SampledFrom(modelPlaces).Draw(t, "to")
		return Moved{From: from, To: to}, !b.ended() && from == b.where && from != to, func() { b.where = to }
	case "meat":
		lot := rapid.SampledFrom(modelLots).Draw(t, "lot")
		return MeatLot{Lot: lot}, !b.ended() && lot != "", func() { b.meat = append(b.meat, lot) }
	case "ingredient":
		i := Ingredient{Name: rapid.SampledFrom([]string{"", "rub", "Rub"}).Draw(t, "name"), Lot: "1"}
		return IngredientAdded{i}, !b.ended() && i.Name != "", func() {
			if len(b.ingredients) == 0 { // it is the same in whatever case
				b.ingredients = append(b.ingredients, i.Name)
			}
		}
	case "measure":
		taken := rapid.Int64Range(1, 9).Draw(t, "value")
		return Measured{What: WeightReading, Value: taken}, !b.ended(), func() { b.readings = append(b.readings, taken) }
	case "serve":
		portions := rapid.Int64Range(0, 3).Draw(t, "portions")
		return Served{Portions: portions}, b.runs() && b.holds == 0 && portions > 0, func() { b.served = append(b.served, portions) }
	default: // "weight"
		old, to := b.weight, int64(rapid.IntRange(0, 2).Draw(t, "weight"))*2_100_000
		if rapid.IntRange(0, 4).Draw(t, "slip") == 0 {
			old++
		}
		return WeightCorrected{OldMg: old, NewMg: to, Phrase: "p", NitriteMilliPPM: 1, Why: "w"}, b.runs() && old == b.weight && to != old && to > 0,
			func() { b.weight = to }
	}
}

// modelNewest is the newest event of a batch, and the batch as it was before.
type modelNewest struct {
	seq    uint64
	event  Event
	before *modelBatch
}

func (b *modelBatch) clone() *modelBatch {
	c := *b
	c.steps, c.hands, c.alarms = slices.Clone(b.steps), slices.Clone(b.hands), maps.Clone(b.alarms)
	c.meat, c.ingredients, c.readings, c.served = slices.Clone(b.meat), slices.Clone(b.ingredients), slices.Clone(b.readings), slices.Clone(b.served)
	return &c
}

// happen appends an event of a batch that may fit or not.
func (m *model) happen(t *rapid.T, s *Store) {
	e, change := m.event(t)
	newest := modelNewest{event: e}
	if e.Batch <= uint64(len(m.batches)) {
		newest.before = m.batches[e.Batch-1].clone()
	}
	if newest.seq = m.appended(t, s, e, change); change != nil {
		m.newest[e.Batch] = newest
	}
}

// undo takes back the newest event of a batch: it is as it was before, but that a step that was
// added leaves its place behind, and that one that is to be done again is reminded of again.
func (m *model) undo(t *rapid.T, s *Store) {
	if len(m.batches) == 0 {
		return
	}
	b := rapid.SampledFrom(m.batches).Draw(t, "batch")
	who := rapid.SampledFrom(modelPeople).Draw(t, "who")
	newest, there := m.newest[b.number]
	var change func()
	back := func(fit func(was *modelBatch)) {
		if there && newest.event.Person == who {
			change = func() {
				fit(newest.before)
				*b = *newest.before
				delete(m.newest, b.number)
			}
		}
	}
	step := func(i int, kind string) func(*modelBatch) {
		return func(was *modelBatch) {
			if i < 0 {
				was.steps = append(was.steps, modelStep{kind: kind, done: true})
				return
			}
			was.steps[i].move(was.steps[i].due, was.steps[i].on)
		}
	}
	switch body := newest.event.Body.(type) {
	case StepDone:
		back(step(body.Step, body.Kind))
	case StepMoved:
		back(step(body.Step, body.To.Kind))
	case StepDropped:
		back(step(body.Step, ""))
	case Approved, Weighed, Declined, Held, Paused, Resumed, Acknowledged, Moved, MeatLot, IngredientAdded, Measured, Served:
		back(func(*modelBatch) {})
	}
	m.appended(t, s, of(b.number, who, m.now, Undone{Events: []uint64{max(newest.seq, 1)}}), change)
}
