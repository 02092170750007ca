package store

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func weighed(jar string, filling uint32) Weighed {
	return Weighed{Revision: 1, CureMg: 8_000, SaltMg: 72_400, Jar: jar, Filling: filling, Lot: "2291"}
}

var no1 = Label{AgentKind: "no. 1", NitriteMilliPPM: 62_500_000, Known: "bag", Dyed: "dyed", Lot: "2291"}

// TestJarLife walks a jar from the bag to the bin.
func TestJarLife(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	unread := Label{AgentKind: "no. 1", Lot: "L-9"}
	steps := []struct {
		event Event
		want  func(j *Jar)
	}{
		{of(0, ben, hour, JarFilled{Jar: "A7", Filling: 1, Label: unread}), func(j *Jar) {
			*j = Jar{Kitchen: kitchen, Name: "A7", Fillings: []Filling{{Number: 1, By: ben, At: hour, Label: unread, State: JarInUse}}}
		}},
		{of(0, ben, 2*hour, JarLabelled{Jar: "A7", Filling: 1, Old: unread, New: no1}), func(j *Jar) { j.Fillings[0].Label = no1 }},
		{of(0, ana, 3*hour, JarWeighed{Jar: "A7", Filling: 1, Mg: 842_000}), func(j *Jar) {
			j.Fillings[0].Weight = &JarWeight{842_000, ana, 3 * hour}
		}},
		{of(0, ben, 2*hour+1, JarWeighed{Jar: "A7", Filling: 1, Mg: 850_000}), func(*Jar) {}}, // noted late: the newer one stands
		{of(0, ben, 4*hour, JarPhotographed{Jar: "A7", Filling: 1, New: "abc"}), func(j *Jar) {
			j.Fillings[0].Photo, j.Fillings[0].PhotoBy, j.Fillings[0].PhotoAt = "abc", ben, 4*hour
		}},
		{of(0, ana, 5*hour, JarMarked{Jar: "A7", Filling: 1, Old: JarInUse, New: JarEmpty}), func(j *Jar) { j.Fillings[0].State = JarEmpty }},
		{of(0, ben, 6*hour, JarFilled{Jar: "A7", Filling: 2, Label: Label{Lot: "2300"}}), func(j *Jar) {
			j.Fillings = append(j.Fillings, Filling{Number: 2, By: ben, At: 6 * hour, Label: Label{Lot: "2300"}, State: JarInUse})
		}},
		{of(0, ben, 7*hour, JarMarked{Jar: "A7", Filling: 1, Old: JarEmpty, New: JarWithdrawn, Why: "recalled"}), func(j *Jar) {
			j.Fillings[0].State, j.Fillings[0].Why = JarWithdrawn, "recalled"
		}},
	}
	var want Jar
	for _, step := range steps {
		appended(t, s, step.event)
		step.want(&want)
		see(t, s, func(tx *Tx) error {
			got, ok, err := tx.Jar(kitchen, " a7")
			if d := cmp.Diff(want, got); d != "" || !ok {
				t.Errorf("after %s (-want +got):\n%s", step.event.Kind(), d)
			}
			return err
		})
	}
	see(t, s, func(tx *Tx) error {
		events, err := tx.Trail(kitchen, "jar A7", 0, 0)
		if len(events) != len(steps) || events[0].Happened != 7*hour {
			t.Errorf("trail: %+v", events)
		}
		lot, err2 := tx.Trail(kitchen, "lot l-9", 0, 0)
		if len(lot) != 2 {
			t.Errorf("trail of the first lot: %+v", lot)
		}
		return errors.Join(err, err2)
	})
	for name, e := range map[string]Event{
		"another spelling":          of(0, ben, 8*hour, JarWeighed{Jar: "a7", Filling: 2, Mg: 1}),
		"a filling left out":        of(0, ben, 8*hour, JarFilled{Jar: "A7", Filling: 4}),
		"the label of an old one":   of(0, ben, 8*hour, JarLabelled{Jar: "A7", Filling: 1, Old: no1, New: unread}),
		"a label that it never had": of(0, ben, 8*hour, JarLabelled{Jar: "A7", Filling: 2, Old: no1, New: unread}),
		"weighing nothing":          of(0, ben, 8*hour, JarWeighed{Jar: "A7", Filling: 2}),
		"another photo before it":   of(0, ben, 8*hour, JarPhotographed{Jar: "A7", Filling: 2, Old: "x", New: "y"}),
		"as it was":                 of(0, ben, 8*hour, JarMarked{Jar: "A7", Filling: 2, Old: JarInUse, New: JarInUse}),
		"to no state":               of(0, ben, 8*hour, JarMarked{Jar: "A7", Filling: 2, Old: JarInUse, New: "lost"}),
		"made from nothing":         of(0, ben, 8*hour, JarFilled{Jar: "H1", Filling: 1, Parts: []Part{{FillingOf{"A7", 3}, 1}}}),
	} {
		jarRefused(t, s, name, e, MisfitJar)
	}
	jarRefused(t, s, "filled by nobody", of(0, "", 8*hour, JarFilled{Jar: "A7", Filling: 3}), MisfitPerson)
}

func jarRefused(t *testing.T, s *Store, name string, e Event, want Misfit) {
	t.Helper()
	err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(e)
		return err
	})
	var misfit *FoldError
	if !errors.As(err, &misfit) || misfit.Why != want {
		t.Errorf("%s: got %v, want misfit %q", name, err, want)
	}
}

// A lot leads to its fillings and to what was made from them, and both lead to batches.
func TestLotToBatches(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	fromE6 := card(1, "loin")
	fromE6.Jar, fromE6.Filling, fromE6.Lot = "E6", 1, "x1"
	appended(t, s,
		of(0, ben, 1, JarFilled{Jar: "A7", Filling: 1, Label: no1}),
		of(0, ben, 2, JarFilled{Jar: "B2", Filling: 1, Label: no1}),
		of(0, ben, 3, JarFilled{Jar: "E6", Filling: 1, Label: Label{Lot: "X1", Known: "made here"}, Parts: []Part{{FillingOf{"A7", 1}, 500_000}}}),
		of(0, ben, 4, JarLabelled{Jar: "B2", Filling: 1, Old: no1, New: Label{Lot: "2300"}}),
		of(1, ana, 10, asked("belly", "c", day)), of(1, ben, 11, approved(1, day)), of(1, ana, 12, weighed("A7", 1)),
		of(2, ana, 13, Asked{Card: fromE6, Conversation: "c", Lapse: day}),
		of(3, ana, 14, asked("ham", "c", day)),
	)
	see(t, s, func(tx *Tx) error {
		found, err := tx.FillingsOfLot(kitchen, "2291")
		if d := cmp.Diff([]FillingOf{{"A7", 1}}, found); d != "" {
			t.Errorf("fillings of 2291 (-want +got):\n%s", d)
		}
		other, err2 := tx.FillingsOfLot(kitchen, "x1")
		if d := cmp.Diff([]FillingOf{{"E6", 1}}, other); d != "" {
			t.Errorf("fillings of x1 (-want +got):\n%s", d)
		}
		made, err3 := tx.MadeFrom(kitchen, FillingOf{"A7", 1})
		if d := cmp.Diff([]FillingOf{{"E6", 1}}, made); d != "" {
			t.Errorf("made from A7 (-want +got):\n%s", d)
		}
		f, ok, err4 := tx.JarFilling(kitchen, FillingOf{"e6", 1})
		if !ok || f.Parts[0].Mg != 500_000 {
			t.Errorf("filling of E6: %v %+v", ok, f)
		}
		jars, err5 := tx.Jars(kitchen)
		if len(jars) != 3 || jars[0].Name != "A7" || jars[2].Name != "E6" {
			t.Errorf("jars: %+v", jars)
		}
		return errors.Join(err, err2, err3, err4, err5)
	})
	for _, test := range []struct {
		q    Query
		want []uint64
	}{
		{Query{Jar: "A7"}, []uint64{1}}, {Query{Jar: "A7", Filling: 1}, []uint64{1}}, {Query{Jar: "A7", Filling: 2}, nil},
		{Query{Lot: "2291"}, []uint64{1}}, {Query{Lot: "X1"}, []uint64{2}}, {Query{Jar: "E6", Cut: "loin"}, []uint64{2}}, {Query{Jar: "E6", Cut: "belly"}, nil},
	} {
		if d := cmp.Diff(test.want, looked(t, s, test.q)); d != "" {
			t.Errorf("%+v (-want +got):\n%s", test.q, d)
		}
	}
}

// TestWeighingIn: what was weighed can be weighed again or taken back until the second reading,
// and the second reading is another's and agrees.
func TestWeighingIn(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s, of(1, ana, 1, asked("belly", "c", day)), of(1, ben, 2, approved(1, day)), of(1, ana, 3, weighed("A7", 1)))
	wrong := weighed("A7", 1)
	wrong.CureMg = 800
	appended(t, s, of(1, ana, 4, wrong))
	if b := batchOf(t, s, 1); b.State != StateWeighed || b.Weighing.CureMg != 800 || b.Weighing.By != ana || b.Jar != "A7" || b.Lot != "2291" || b.Lapse != 0 {
		t.Errorf("weighed again: %+v", b)
	}
	check := Checked{CureMg: 800, Jar: "A7", Filling: 1}
	jarRefused(t, s, "read twice by the same", of(1, ana, 5, check), MisfitOwn)
	jarRefused(t, s, "another figure", of(1, ben, 5, Checked{CureMg: 8_000, Jar: "A7", Filling: 1}), MisfitCard)
	jarRefused(t, s, "another filling", of(1, ben, 5, Checked{CureMg: 800, Jar: "A7", Filling: 2}), MisfitCard)
	jarRefused(t, s, "revised when weighed", of(1, ana, 5, Revised{Card: card(2, "belly")}), MisfitState)
	events := batchOf(t, s, 1).Events
	appended(t, s, of(1, ana, 6, Undone{Events: events[3:]}))
	if b := batchOf(t, s, 1); b.State != StateWeighed || b.Weighing.CureMg != 8_000 {
		t.Errorf("one weighing taken back: %+v", b)
	}
	appended(t, s, of(1, ana, 7, Undone{Events: events[2:3]}))
	if b := batchOf(t, s, 1); b.State != StateApproved || b.Weighing != nil || b.Jar != "" || b.Lapse != day {
		t.Errorf("both taken back: %+v", b)
	}
	appended(t, s, of(1, ana, 8, weighed("A7", 1)), of(1, ben, 9, Checked{CureMg: 8_000, Jar: "A7", Filling: 1}))
	events = batchOf(t, s, 1).Events
	jarRefused(t, s, "undone when read twice", of(1, ana, 10, Undone{Events: events[len(events)-2 : len(events)-1]}), MisfitUndone)
	appended(t, s, of(1, ben, 11, started(step("turn", 3*day))))
	if b := batchOf(t, s, 1); b.State != StateCuring || b.Check.By != ben || b.Check.Own {
		t.Errorf("started: %+v", b)
	}
}

func TestScaleChecked(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s,
		of(0, ana, hour, ScaleChecked{Scale: "cure", WeightMg: 100_000, ShownMg: 99_900}),
		of(0, ben, minute, ScaleChecked{Scale: "cure", WeightMg: 100_000, ShownMg: 90_000}), // noted late
		of(0, ben, hour, ScaleChecked{Scale: "meat", WeightMg: 5_000_000, ShownMg: 5_000_000}),
	)
	see(t, s, func(tx *Tx) error {
		k, _, err := tx.Kitchen(kitchen)
		want := map[string]Scale{"cure": {100_000, 99_900, ana, hour}, "meat": {5_000_000, 5_000_000, ben, hour}}
		if d := cmp.Diff(want, k.Scales); d != "" {
			t.Errorf("scales (-want +got):\n%s", d)
		}
		return err
	})
}

// A house cure is read again and approved once each; its label read anew takes the approval away.
func TestHouseCureIsSigned(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s, of(0, ben, hour, JarFilled{Jar: "A7", Filling: 1, Label: no1}))
	appended(t, s, of(0, ana, 2*hour, JarFilled{Jar: "H1", Filling: 1, Parts: []Part{{FillingOf{"A7", 1}, 96_000}}, SaltMg: 904_000}))
	jarRefused(t, s, "a jar of no parts", of(0, ben, 3*hour, JarApproved{Jar: "A7", Filling: 1}), MisfitJar)
	appended(t, s, of(0, ben, 3*hour, JarRead{Jar: "H1", Filling: 1}))
	jarRefused(t, s, "read twice", of(0, ben, 4*hour, JarRead{Jar: "H1", Filling: 1}), MisfitJar)
	appended(t, s, of(0, ben, 4*hour, JarApproved{Jar: "H1", Filling: 1, Own: true}))
	want := Filling{Number: 1, By: ana, At: 2 * hour, Parts: []Part{{FillingOf{"A7", 1}, 96_000}}, SaltMg: 904_000, State: JarInUse,
		Read: &JarSign{By: ben, At: 3 * hour}, Approved: &JarSign{By: ben, At: 4 * hour, Own: true}}
	look := func() {
		t.Helper()
		see(t, s, func(tx *Tx) error {
			got, _, err := tx.JarFilling(kitchen, FillingOf{"H1", 1})
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
			return err
		})
	}
	look()
	appended(t, s, of(0, ben, 5*hour, JarLabelled{Jar: "H1", Filling: 1, New: Label{Dyed: "dyed"}}))
	want.Label, want.Approved = Label{Dyed: "dyed"}, nil
	look()
}
