package store

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// refused appends an event that must not fit.
func refused(t testing.TB, s *Store, name string, e Event, why Misfit) {
	t.Helper()
	err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(e)
		return err
	})
	var misfit *FoldError
	if !errors.As(err, &misfit) || misfit.Why != why {
		t.Errorf("%s: got %v, want a misfit of %s", name, err, why)
	}
}

func alike[T comparable](t testing.TB, what string, got []T, want ...T) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// running is a kitchen with batches 1 to n in the cure and one place.
func running(t testing.TB, s *Store, n uint64) {
	t.Helper()
	peopled(t, s)
	for i := uint64(1); i <= n; i++ {
		appended(t, s, of(i, ana, day, asked("belly", "c1", 2*day)), of(i, ben, day+1, approved(1, 3*day)), of(i, ana, day+2, started()))
	}
	appended(t, s, of(0, ana, day+3, PlaceNamed{Name: "Walk-in 2"}))
}

// A batch is found by the place that it is in, its way there is a trail, and a late reading
// never becomes the last one.
func TestPlace(t *testing.T) {
	s := opened(t)
	running(t, s, 2)
	appended(t, s,
		of(0, ana, day+3, PlaceNamed{Name: "cave"}),
		of(1, ana, 2*day, Moved{To: "Walk-in 2"}),
		of(2, ben, 2*day+1, Moved{To: "Walk-in 2"}),
		of(0, ana, 3*day, PlaceRead{Place: "Walk-in 2", MilliC: 3100, Unit: "c"}),
		of(0, ana, 2*day+5, PlaceRead{Place: "Walk-in 2", MilliC: 9000, Unit: "c"}),
		of(2, ben, 3*day+1, Moved{From: "Walk-in 2", To: "cave"}),
	)
	refused(t, s, "named twice", of(0, ana, 4*day, PlaceNamed{Name: "walk-in 2"}), MisfitPlace)
	refused(t, s, "an unknown one read", of(0, ana, 4*day, PlaceRead{Place: "attic"}), MisfitPlace)
	refused(t, s, "moved from elsewhere", of(1, ana, 4*day, Moved{From: "cave", To: "attic"}), MisfitPlace)
	refused(t, s, "moved to where it is", of(1, ana, 4*day, Moved{From: "Walk-in 2", To: "Walk-in 2"}), MisfitPlace)
	alike(t, "in the walk-in", looked(t, s, Query{Place: "Walk-in 2"}), 1)
	alike(t, "in the cave", looked(t, s, Query{Place: "cave"}), 2)
	b := batchOf(t, s, 2)
	if b.Where != "cave" || b.WhereSince != 3*day+1 {
		t.Errorf("batch 2 is in %q since %d", b.Where, b.WhereSince)
	}
	see(t, s, func(tx *Tx) error {
		p, ok, err := tx.Place(kitchen, "WALK-IN 2")
		if want := (Place{Name: "Walk-in 2", NamedBy: ana, NamedAt: day + 3, Last: &PlaceLast{At: 3 * day, MilliC: 3100, By: ana}}); !ok || err != nil || !cmp.Equal(p, want) {
			t.Errorf("place: %v %v %s", ok, err, cmp.Diff(want, p))
		}
		trail, err := tx.Trail(kitchen, PlaceSubject("Walk-in 2"), 0, 0)
		var kinds []string
		for _, e := range trail {
			kinds = append(kinds, e.Kind())
		}
		alike(t, "trail", kinds, "moved", "place read", "place read", "moved", "moved", "place named")
		places, err2 := tx.Places(kitchen)
		if len(places) != 2 || places[0].Name != "cave" {
			t.Errorf("places: %v", places)
		}
		return errors.Join(err, err2)
	})
	moved := batchOf(t, s, 2).Events
	appended(t, s,
		of(2, ben, 3*day+2, Undone{Events: moved[len(moved)-1:]}),
		of(1, ana, 5*day, Discarded{Why: "slimy", Place: "Walk-in 2"}),
	)
	alike(t, "in the walk-in after an undo and an end", looked(t, s, Query{Place: "Walk-in 2"}), 2)
	sound(t, s)
}

// One incident holds several batches; each is released on its own, and an undo of something
// else leaves the hold where it is.
func TestIncident(t *testing.T) {
	s := opened(t)
	running(t, s, 3)
	warm := int64(9000)
	i := Incident{Number: 1, Subject: PlaceSubject("Walk-in 2"), Why: "9 °C", Since: 2 * day, MilliC: &warm, Held: []HeldBatch{{1, 1}, {2, 2}}, Gone: []uint64{7}}
	appended(t, s,
		of(2, ana, 2*day, Held{Why: "bag leaks", Number: 1}),
		of(1, ana, 2*day, Measured{What: CoreReading, Value: 4000, Unit: "c"}),
		of(0, ana, 3*day, i),
	)
	refused(t, s, "the same number", of(0, ana, 3*day, i), MisfitHold)
	i.Number = 2
	refused(t, s, "hold numbers that were given", of(0, ana, 3*day, i), MisfitHold)
	i.Held = []HeldBatch{{9, 1}}
	refused(t, s, "a batch that there is not", of(0, ana, 3*day, i), MisfitBatch)
	i.Held = nil
	refused(t, s, "nothing held", of(0, ana, 3*day, i), MisfitHold)
	alike(t, "held", looked(t, s, Query{Held: true}), 2, 1)
	refused(t, s, "served while held", of(1, ana, 3*day, Served{Portions: 2}), MisfitHold)
	b := batchOf(t, s, 1)
	appended(t, s, of(1, ana, 3*day+1, Undone{Events: b.Events[len(b.Events)-2 : len(b.Events)-1]}))
	refused(t, s, "undoing an incident", of(1, ana, 3*day+2, Undone{Events: b.Events[len(b.Events)-1:]}), MisfitUndone)
	want := []Hold{{By: ana, At: 3 * day, Why: "9 °C", Number: 1, Incident: 1, Subject: "place Walk-in 2"}}
	if b = batchOf(t, s, 1); !cmp.Equal(b.Holds, want) || len(b.Readings) != 0 {
		t.Errorf("after the undo: %s, readings %v", cmp.Diff(want, b.Holds), b.Readings)
	}
	refused(t, s, "a hold that there is not", of(2, ben, 4*day, Released{Why: "w", Number: 3}), MisfitHold)
	appended(t, s, of(2, ben, 4*day, Released{Why: "new bag", Number: 1}))
	if b = batchOf(t, s, 2); len(b.Holds) != 1 || b.Holds[0].Incident != 1 {
		t.Errorf("batch 2 after releasing its own hold: %v", b.Holds)
	}
	appended(t, s, of(2, ben, 4*day, Released{Why: "core 3 °C", Number: 2}))
	alike(t, "held", looked(t, s, Query{Held: true}), 1)
	see(t, s, func(tx *Tx) error {
		e, ok, err := tx.Incident(kitchen, 1)
		if got, _ := e.Body.(Incident); !ok || got.Number != 1 || e.Person != ana {
			t.Errorf("incident 1: %v %+v", ok, e)
		}
		_, ok, err2 := tx.Incident(kitchen, 2)
		if ok {
			t.Error("there is an incident 2")
		}
		return errors.Join(err, err2)
	})
}

// What an authority holds, only a reference lifts.
func TestAuthority(t *testing.T) {
	s := opened(t)
	running(t, s, 1)
	appended(t, s, of(0, ana, 2*day, Incident{Number: 1, Subject: "inspector", Authority: "inspector", Why: "label", Held: []HeldBatch{{1, 1}}}))
	refused(t, s, "no reference", of(1, ben, 3*day, Released{Why: "looks fine", Number: 1}), MisfitHold)
	appended(t, s, of(1, ben, 3*day, Released{Why: "lifted", Number: 1, Reference: "A-118"}))
	if b := batchOf(t, s, 1); b.Held() {
		t.Errorf("still held: %v", b.Holds)
	}
}

// Readings stand in the order in which they were taken, whenever they were noted.
func TestReadings(t *testing.T) {
	s := opened(t)
	running(t, s, 1)
	appended(t, s,
		of(1, ana, 4*day, Measured{What: WeightReading, Value: 2_100_000, Unit: "kg"}),
		of(1, ana, 3*day, Measured{What: WeightReading, Value: 2_300_000, Unit: "kg", TareMg: 12_000}),
		of(1, ana, 3*day, Measured{What: PHReading, Value: 5200}),
		of(1, ben, 5*day, MeatLot{Lot: "1123", Supplier: "north farm"}),
		of(1, ben, 6*day, Served{Portions: 12}),
		of(1, ben, 6*day, Served{Mg: 4_000_000, To: "the bar"}),
	)
	refused(t, s, "of nothing", of(1, ana, 6*day, Served{To: "the bar"}), MisfitReading)
	refused(t, s, "no such thing", of(1, ana, 6*day, Measured{What: "mood"}), MisfitReading)
	refused(t, s, "no lot", of(1, ana, 6*day, MeatLot{}), MisfitReading)
	b := batchOf(t, s, 1)
	var values []int64
	for _, r := range b.ReadingsOf(WeightReading) {
		values = append(values, r.Value)
	}
	alike(t, "weights", values, 2_300_000, 2_100_000)
	if len(b.Served) != 2 || b.Served[1].To != "the bar" || len(b.Meat) != 1 {
		t.Errorf("served %v, meat %v", b.Served, b.Meat)
	}
	see(t, s, func(tx *Tx) error {
		trail, err := tx.Trail(kitchen, MeatLotSubject("1123"), 0, 0)
		if len(trail) != 1 || trail[0].Batch != 1 {
			t.Errorf("trail of the lot: %v", trail)
		}
		return err
	})
	appended(t, s, of(1, ben, 7*day, Undone{Events: b.Events[len(b.Events)-1:]}))
	if b = batchOf(t, s, 1); len(b.Served) != 1 || len(b.ReadingsOf(WeightReading)) != 2 {
		t.Errorf("after the undo: served %v, readings %v", b.Served, b.Readings)
	}
}

// held is where a batch is and what holds it, kept the plain way.
type held struct {
	where string
	holds []int // their numbers
	most  int
	moves []move // all that can still be undone, oldest first
}

type move struct {
	seq      uint64
	from, to string
}

// Random moves, holds, incidents, releases and undos agree with a plain model, and with the
// events folded anew.
func TestModelOfPlaces(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s, err := Open(filepath.Join(t.TempDir(), "kitchen.db"), Options{})
		if err != nil {
			r.Fatal(err)
		}
		defer func() { _ = s.Close() }()
		running(t, s, 3)
		appended(t, s, of(0, ana, day+4, PlaceNamed{Name: "cave"}))
		model := map[uint64]*held{1: {}, 2: {}, 3: {}}
		incidents, at := uint64(0), 2*day
		add := func(e Event, fits bool) (seq uint64) {
			err := s.Update(context.Background(), func(tx *Tx) (err error) {
				seq, err = tx.Append(e)
				return err
			})
			if fits != (err == nil) {
				r.Fatalf("%s of batch %d: %v, fits %v", e.Kind(), e.Batch, err, fits)
			}
			return seq
		}
		places := []string{"", "Walk-in 2", "cave"}
		r.Repeat(map[string]func(*rapid.T){
			"move": func(r *rapid.T) {
				n := rapid.Uint64Range(1, 3).Draw(r, "batch")
				b, from, to := model[n], rapid.SampledFrom(places).Draw(r, "from"), rapid.SampledFrom(places).Draw(r, "to")
				fits := from == b.where && from != to
				if seq := add(of(n, ana, at, Moved{From: from, To: to}), fits); fits {
					b.where, b.moves = to, append(b.moves, move{seq, from, to})
				}
			},
			"undo": func(r *rapid.T) {
				n := rapid.Uint64Range(1, 3).Draw(r, "batch")
				b := model[n]
				if len(b.moves) == 0 {
					r.Skip("nothing to undo")
				}
				i := rapid.IntRange(0, len(b.moves)-1).Draw(r, "move")
				fits := i == len(b.moves)-1 || b.moves[i+1].from == b.moves[i].from // nothing rests on it
				add(of(n, ana, at, Undone{Events: []uint64{b.moves[i].seq}}), fits)
				if fits {
					b.moves = slices.Delete(b.moves, i, i+1)
					b.where = ""
					if len(b.moves) > 0 {
						b.where = b.moves[len(b.moves)-1].to
					}
				}
			},
			"hold": func(r *rapid.T) {
				n := rapid.Uint64Range(1, 3).Draw(r, "batch")
				b, number := model[n], rapid.IntRange(1, 8).Draw(r, "number")
				add(of(n, ana, at, Held{Why: "w", Number: number}), number > b.most)
				if number > b.most {
					b.holds, b.most = append(b.holds, number), number
				}
			},
			"incident": func(r *rapid.T) {
				i := Incident{Number: incidents + 1, Subject: PlaceSubject("cave"), Why: "warm"}
				for n := uint64(1); n <= 3; n++ {
					if rapid.Bool().Draw(r, "in it") {
						i.Held = append(i.Held, HeldBatch{n, model[n].most + 1})
					}
				}
				add(of(0, ana, at, i), len(i.Held) > 0)
				if len(i.Held) > 0 {
					incidents++
				}
				for _, h := range i.Held {
					model[h.Batch].holds, model[h.Batch].most = append(model[h.Batch].holds, h.Hold), h.Hold
				}
			},
			"release": func(r *rapid.T) {
				n := rapid.Uint64Range(1, 3).Draw(r, "batch")
				b, number := model[n], rapid.IntRange(1, 8).Draw(r, "number")
				i := slices.Index(b.holds, number)
				add(of(n, ben, at, Released{Why: "w", Number: number}), i >= 0)
				if i >= 0 {
					b.holds = slices.Delete(b.holds, i, i+1)
				}
			},
			"": func(r *rapid.T) {
				at += hour
				in := map[string][]uint64{}
				for n := uint64(3); n >= 1; n-- {
					got, want := batchOf(t, s, n), model[n]
					var holds []int
					for _, h := range got.Holds {
						holds = append(holds, h.Number)
					}
					if d := cmp.Diff(want.holds, holds, cmpopts.EquateEmpty()); d != "" || got.Where != want.where {
						r.Fatalf("batch %d in %q, want %q; holds %s", n, got.Where, want.where, d)
					}
					in[want.where] = append(in[want.where], n)
				}
				for _, p := range places[1:] {
					if got := looked(t, s, Query{Place: p}); !slices.Equal(got, in[p]) {
						r.Fatalf("in %s: %v, want %v", p, got, in[p])
					}
				}
			},
		})
		if d, err := s.Verify(); err != nil || len(d) > 0 {
			r.Fatalf("verify: %v %v", d, err)
		}
	})
}
