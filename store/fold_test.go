package store

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestBatchLife walks a batch from the question to the plate.
func TestBatchLife(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	turn, out := step("turn", 3*day), step("take out", 7*day)
	steps := []struct {
		event Event
		want  func(b *Batch) // the change to the record
	}{
		{of(1, ana, hour, asked("belly", "c1", day)), func(b *Batch) {
			*b = Batch{
				Kitchen: kitchen, Number: 1, State: StateAsked, Revision: 1, Card: card(1, "belly"), CardEvent: 5, Conversation: "c1",
				AskedBy: ana, AskedAccount: "a-" + ana, AskedAt: hour, Revisions: []Made{{ana, hour + 1000}}, Next: -1, Lapse: day, People: []string{ana},
			}
		}},
		{of(1, ben, 2*hour, approved(1, 2*day)), func(b *Batch) {
			b.State, b.Lapse, b.People = StateApproved, 2*day, []string{ana, ben}
			b.Approval = &Approval{
				By: ben, Account: "a-" + ben, At: 2 * hour, Revision: 1, WeightMg: 3_200_000, CureMg: 8_000,
				Strength: "no. 1, 6.25 % nitrite", Law: "1",
			}
		}},
		{of(1, ana, 3*hour, Revised{Card: card(2, "loin"), Lapse: day}), func(b *Batch) {
			b.State, b.Revision, b.Card, b.CardEvent, b.Lapse, b.Approval = StateAsked, 2, card(2, "loin"), 7, day, nil
			b.Revisions = append(b.Revisions, Made{ana, 3*hour + 1000})
		}},
		{of(1, ben, 4*hour, approved(2, 2*day)), func(b *Batch) {
			b.State, b.Lapse = StateApproved, 2*day
			b.Approval = &Approval{
				By: ben, Account: "a-" + ben, At: 4 * hour, Revision: 2, WeightMg: 3_200_000, CureMg: 8_000,
				Strength: "no. 1, 6.25 % nitrite", Law: "1",
			}
		}},
		{of(1, "p3", 5*hour, started(turn, out)), func(b *Batch) {
			b.State, b.StartedAt, b.StartedBy, b.Lapse, b.Next = StateCuring, 5*hour, "p3", 0, 0
			b.Steps = []StepState{{Step: turn}, {Step: out}}
			b.People = append(b.People, "p3")
		}},
		{of(1, "", 3*day, Reminded{Step: 0}), func(b *Batch) { b.Steps[0].Reminded = true }},
		{of(1, ana, 3*day+hour, StepMoved{Step: 0, To: step("turn", 3*day+3*hour), Why: "snooze"}), func(b *Batch) {
			b.Steps[0] = StepState{Step: step("turn", 3*day+3*hour)}
		}},
		{of(1, ana, 4*day, StepDone{Step: 0, Kind: "turn", State: StateCuring}), func(b *Batch) {
			b.Steps[0].Done, b.Steps[0].DoneBy, b.Steps[0].DoneAt, b.Next = true, ana, 4*day, 1
		}},
		{of(1, ana, 5*day, Held{Why: "bag leaks"}), func(b *Batch) { b.Holds = []Hold{{By: ana, At: 5 * day, Why: "bag leaks"}} }},
		{of(1, ben, 5*day+1, Held{Why: "warm"}), func(b *Batch) { b.Holds = append(b.Holds, Hold{By: ben, At: 5*day + 1, Why: "warm"}) }},
		{of(1, ben, 5*day+2, Released{Why: "cold again"}), func(b *Batch) { b.Holds = b.Holds[:1] }},
		{of(1, ben, 5*day+3, Released{Why: "new bag"}), func(b *Batch) { b.Holds = nil }},
		{of(1, ben, 6*day, StepMoved{Step: -1, To: step("rinse", 8*day), Why: "remind"}), func(b *Batch) {
			b.Steps = append(b.Steps, StepState{Step: step("rinse", 8*day)})
		}},
		{of(1, ana, 7*day, StepDone{Step: 1, Kind: "take out", State: StateResting}), func(b *Batch) {
			b.State, b.Next = StateResting, 2
			b.Steps[1].Done, b.Steps[1].DoneBy, b.Steps[1].DoneAt = true, ana, 7*day
		}},
		{of(1, "p4", 7*day+hour, StepDone{Step: -1, Kind: "cook", State: StateCooking, CoreMilliC: 71_000}), func(b *Batch) {
			b.State = StateCooking
			b.Steps = append(b.Steps, StepState{Step: Step{Kind: "cook"}, Unlisted: true, Done: true, DoneBy: "p4", DoneAt: 7*day + hour, CoreMilliC: 71_000})
			b.People = append(b.People, "p4")
		}},
		{of(1, ana, 9*day, Finished{}), func(b *Batch) {
			b.State, b.Ended, b.EndedBy, b.Next = StateFinished, 9*day, ana, -1
		}},
	}
	var want Batch
	for i, step := range steps {
		appended(t, s, step.event)
		step.want(&want)
		want.Events = append(want.Events, uint64(i+5)) // after the kitchen's four
		got := batchOf(t, s, 1)
		if len(got.Holds) == 0 {
			got.Holds = nil
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("after %s (-want +got):\n%s", step.event.Kind(), d)
		}
	}
	see(t, s, func(tx *Tx) error {
		events, err := tx.Events(kitchen, 1)
		if len(events) != len(steps) {
			t.Errorf("%d events, want %d", len(events), len(steps))
		}
		for i, e := range events {
			want := steps[i].event
			want.Seq = uint64(i + 5)
			if d := cmp.Diff(want, e); d != "" {
				t.Errorf("event %d (-want +got):\n%s", i, d)
			}
		}
		of0, err2 := tx.KitchenEvents(kitchen)
		if len(of0) != 4 {
			t.Errorf("%d events of the kitchen, want 4", len(of0))
		}
		return errors.Join(err, err2)
	})
}

// TestMisfits: what can't have happened is refused, and leaves nothing behind.
func TestMisfits(t *testing.T) {
	// Batches 1 to 6: asked, approved, curing (step 0 reminded, step 1 done), declined, held
	// while approved, held while curing.
	s := opened(t)
	peopled(t, s)
	steps := started(step("turn", 2*day), step("rinse", 3*day), step("take out", 7*day))
	for n := range uint64(6) {
		appended(t, s, of(n+1, ana, 10, asked("belly", "c", day)))
	}
	for _, n := range []uint64{2, 3, 5, 6} {
		appended(t, s, of(n, ben, 20, approved(1, day)))
	}
	appended(t, s,
		of(3, ana, 30, steps), of(3, "", 2*day, Reminded{Step: 0}), of(3, ana, 3*day, StepDone{Step: 1, Kind: "rinse", State: StateCuring}),
		of(4, ben, 30, Declined{Why: "too salty"}),
		of(5, ben, 30, Held{Why: "smells"}),
		of(6, ana, 30, steps), of(6, ben, 40, Held{Why: "smells"}),
	)
	with := func(change func(*Approved)) Approved {
		a := approved(1, day)
		change(&a)
		return a
	}
	tests := []struct {
		name  string
		event Event
		want  Misfit
	}{
		{"kitchen twice", of(0, "", 50, KitchenOpened{Name: "again"}), MisfitKitchen},
		{"unknown kitchen", Event{Kitchen: "k9", Body: Setting{Key: "region", New: "eu"}}, MisfitKitchen},
		{"batch of an unknown kitchen", Event{Kitchen: "k9", Batch: 1, Person: ana, Body: asked("belly", "c", 0)}, MisfitKitchen},
		{"setting of a batch", of(1, ana, 50, Setting{Key: "region", New: "eu"}), MisfitBatch},
		{"person twice", of(0, "", 50, PersonJoined{ID: ana, Name: "Ana", Account: "term/ana"}), MisfitPerson},
		{"another's account", of(0, "", 50, PersonJoined{ID: "p3", Name: "Luis", Account: "term/ana"}), MisfitAccount},
		{"person without a name", of(0, "", 50, PersonJoined{ID: "p3", Account: "term/luis"}), MisfitPerson},
		{"language of nobody", of(0, "", 50, LanguageChosen{ID: "p3", New: "es"}), MisfitPerson},
		{"role of nobody", of(0, "", 50, RoleGiven{ID: "p3", Role: "chef"}), MisfitPerson},
		{"batch 0", of(0, ana, 50, asked("belly", "c", 0)), MisfitBatch},
		{"a number left out", of(8, ana, 50, asked("belly", "c", 0)), MisfitBatch},
		{"a number again", of(6, ana, 50, asked("belly", "c", 0)), MisfitBatch},
		{"asked by nobody", of(7, "", 50, asked("belly", "c", 0)), MisfitPerson},
		{"first card is not the first revision", of(7, ana, 50, Asked{Card: card(2, "belly"), Conversation: "c"}), MisfitRevision},
		{"unknown batch", of(7, ben, 50, approved(1, 0)), MisfitBatch},
		{"revision left out", of(1, ana, 50, Revised{Card: card(3, "belly")}), MisfitRevision},
		{"revision again", of(1, ana, 50, Revised{Card: card(1, "belly")}), MisfitRevision},
		{"revised when curing", of(3, ana, 50, Revised{Card: card(2, "belly")}), MisfitState},
		{"approved twice", of(2, ben, 50, approved(1, 0)), MisfitState},
		{"approved when curing", of(3, ben, 50, approved(1, 0)), MisfitState},
		{"approved by nobody", of(1, "", 50, approved(1, 0)), MisfitPerson},
		{"approved by who asked", of(1, ana, 50, approved(1, 0)), MisfitOwn},
		{"approved another revision", of(1, ben, 50, approved(2, 0)), MisfitRevision},
		{"approved another weight", of(1, ben, 50, with(func(a *Approved) { a.WeightMg++ })), MisfitCard},
		{"approved another dose", of(1, ben, 50, with(func(a *Approved) { a.CureMg-- })), MisfitCard},
		{"approved another jar", of(1, ben, 50, with(func(a *Approved) { a.Jar = "A7" })), MisfitCard},
		{"declined when curing", of(3, ben, 50, Declined{}), MisfitState},
		{"lapsed when curing", of(3, "", 50, Lapsed{}), MisfitState},
		{"started when asked", of(1, ana, 50, steps), MisfitState},
		{"started twice", of(3, ana, 50, steps), MisfitState},
		{"started by nobody", of(2, "", 50, steps), MisfitPerson},
		{"started when held", of(5, ana, 50, steps), MisfitHold},
		{"started with a nameless step", of(2, ana, 50, started(step("", day))), MisfitStep},
		{"a step of a batch not started", of(2, ana, 50, StepDone{Step: 0, Kind: "turn", State: StateCuring}), MisfitState},
		{"a step done twice", of(3, ana, 50, StepDone{Step: 1, Kind: "rinse", State: StateCuring}), MisfitStep},
		{"a step that is not there", of(3, ana, 50, StepDone{Step: 3, Kind: "turn", State: StateCuring}), MisfitStep},
		{"a step of another kind", of(3, ana, 50, StepDone{Step: 0, Kind: "rinse", State: StateCuring}), MisfitStep},
		{"an unlisted step without a kind", of(3, ana, 50, StepDone{Step: -1, State: StateCuring}), MisfitStep},
		{"a step back to asked", of(3, ana, 50, StepDone{Step: 0, Kind: "turn", State: StateAsked}), MisfitState},
		{"a step to no state", of(3, ana, 50, StepDone{Step: 0, Kind: "turn"}), MisfitState},
		{"a step moved before the start", of(2, ana, 50, StepMoved{Step: -1, To: step("rinse", day)}), MisfitState},
		{"a done step moved", of(3, ana, 50, StepMoved{Step: 1, To: step("rinse", day)}), MisfitStep},
		{"a step moved into another", of(3, ana, 50, StepMoved{Step: 0, To: step("rinse", day)}), MisfitStep},
		{"a nameless step", of(3, ana, 50, StepMoved{Step: -1, To: step("", day)}), MisfitStep},
		{"reminded twice", of(3, "", 50, Reminded{Step: 0}), MisfitStep},
		{"reminded of what is done", of(3, "", 50, Reminded{Step: 1}), MisfitStep},
		{"reminded of nothing", of(1, "", 50, Reminded{Step: 0}), MisfitStep},
		{"released without a hold", of(3, ben, 50, Released{}), MisfitHold},
		{"finished when held", of(6, ben, 50, Finished{}), MisfitHold},
		{"finished before the start", of(2, ben, 50, Finished{}), MisfitState},
		{"weighed when asked", of(1, ana, 50, weighed("A7", 1)), MisfitState},
		{"weighed when curing", of(3, ana, 50, weighed("A7", 1)), MisfitState},
		{"weighed when held", of(5, ana, 50, weighed("A7", 1)), MisfitHold},
		{"weighed by nobody", of(2, "", 50, weighed("A7", 1)), MisfitPerson},
		{"weighed for another revision", of(2, ana, 50, Weighed{Revision: 2, CureMg: 8_000, Jar: "A7", Filling: 1}), MisfitRevision},
		{"weighed from no filling", of(2, ana, 50, Weighed{Revision: 1, CureMg: 8_000, Jar: "A7"}), MisfitCard},
		{"read a second time before the first", of(2, ana, 50, Checked{CureMg: 8_000, Jar: "A7", Filling: 1}), MisfitState},
		{"approved another filling", of(1, ben, 50, with(func(a *Approved) { a.Filling = 1 })), MisfitCard},
		{"a jar of a batch", of(1, ana, 50, JarFilled{Jar: "A7", Filling: 1}), MisfitBatch},
		{"a jar filled a second time first", of(0, ana, 50, JarFilled{Jar: "A7", Filling: 2}), MisfitJar},
		{"an unknown jar weighed", of(0, ana, 50, JarWeighed{Jar: "A7", Filling: 1, Mg: 1}), MisfitJar},
		{"a scale that shows less than nothing", of(0, ana, 50, ScaleChecked{Scale: "cure", WeightMg: 1, ShownMg: -1}), MisfitScale},
		{"held after the end", of(4, ben, 50, Held{}), MisfitState},
		{"discarded after the end", of(4, ben, 50, Discarded{}), MisfitState},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			err := s.Update(context.Background(), func(tx *Tx) error {
				_, err := tx.Append(test.event)
				return err
			})
			var misfit *FoldError
			if !errors.As(err, &misfit) || misfit.Why != test.want || misfit.Kind != test.event.Kind() || misfit.Batch != test.event.Batch {
				t.Errorf("got %v, want misfit %q", err, test.want)
			}
		})
	}
}

func TestNotAnEvent(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	for name, e := range map[string]Event{
		"no body":    {Kitchen: kitchen},
		"no kitchen": {Body: Setting{Key: "region", New: "eu"}},
		"pointer":    {Kitchen: kitchen, Body: &Setting{Key: "region", New: "eu"}},
	} {
		err := s.Update(context.Background(), func(tx *Tx) error {
			_, err := tx.Append(e)
			return err
		})
		if !errors.Is(err, ErrEvent) {
			t.Errorf("%s: got %v, want ErrEvent", name, err)
		}
	}
}

// TestRefusedThenAnother: a closure may go on after a refusal.
func TestRefusedThenAnother(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	do(t, s, func(tx *Tx) error {
		if _, err := tx.Append(of(1, "", 10, asked("belly", "c", day))); err == nil {
			t.Error("asked by nobody, and taken")
		}
		_, err := tx.Append(of(1, ana, 10, asked("belly", "c", day)))
		return err
	})
	if b := batchOf(t, s, 1); b.AskedBy != ana {
		t.Errorf("asked by %q", b.AskedBy)
	}
}

func TestKitchenAndPeople(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s,
		of(0, ana, 10, Setting{Key: "region", Old: "us", New: "eu"}),
		of(0, ana, 11, Setting{Key: "own approval", New: "on"}),
		of(0, "", 12, PersonJoined{ID: "p3", Name: "ANA ", Account: "term/other"}),
		of(0, "", 13, PersonJoined{ID: ana, Name: "Anna", Account: "team/ana"}),
		of(0, "", 14, RoleGiven{ID: ben, Role: "chef"}), // again
		of(0, ben, 15, LanguageChosen{ID: ben, New: "es"}),
	)
	see(t, s, func(tx *Tx) error {
		k, ok, err := tx.Kitchen(kitchen)
		want := Kitchen{
			ID: kitchen, Name: "Back kitchen", Region: "eu", Zone: "Europe/Vienna", Opened: 1,
			Settings: map[string]string{"region": "eu", "own approval": "on"},
		}
		log, err2 := tx.KitchenEvents(kitchen)
		last, err3 := tx.Trail(kitchen, "kitchen", 10, 2)
		if len(log) != 10 || log[9].Seq != 10 || len(last) != 2 || last[0].Seq != 9 || last[1].Seq != 8 || err2 != nil || err3 != nil {
			t.Errorf("trail: %d events, then %+v (%v, %v)", len(log), last, err2, err3)
		}
		if d := cmp.Diff(want, k); d != "" || !ok {
			t.Errorf("kitchen (-want +got):\n%s", d)
		}
		anna := Person{ID: ana, Name: "Anna", Accounts: []string{"term/ana", "team/ana"}, Joined: 2}
		benn := Person{ID: ben, Name: "Ben", Accounts: []string{"term/ben"}, Roles: []string{"chef"}, Language: "es", Joined: 3}
		other := Person{ID: "p3", Name: "ANA ", Accounts: []string{"term/other"}, Joined: 12}
		for account, want := range map[string]Person{"term/ana": anna, "team/ana": anna, "term/ben": benn, "term/other": other} {
			got, ok, err := tx.PersonOf(kitchen, account)
			if d := cmp.Diff(want, got); d != "" || !ok || err != nil {
				t.Errorf("%s: %v, %v (-want +got):\n%s", account, ok, err, d)
			}
		}
		for name, want := range map[string][]Person{"ana": {other}, "anna": {anna}, "BEN": {benn}, "an": nil, "luis": nil} {
			got, err := tx.PersonNamed(kitchen, name)
			if d := cmp.Diff(want, got); d != "" || err != nil {
				t.Errorf("%s: %v (-want +got):\n%s", name, err, d)
			}
		}
		all, err2 := tx.People(kitchen)
		if d := cmp.Diff([]Person{anna, benn, other}, all); d != "" {
			t.Errorf("people (-want +got):\n%s", d)
		}
		if _, ok, err := tx.PersonOf(kitchen, "term"); ok || err != nil {
			t.Errorf("a beginning of an account is somebody: %v, %v", ok, err)
		}
		return errors.Join(err, err2)
	})
}
