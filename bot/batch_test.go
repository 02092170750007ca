package bot

import (
	"strings"
	"testing"
	"time"

	"salthand/store"
)

// approved makes a batch that ben has approved, and gives its thread.
func (k *kitchen) approved() (thread string) {
	k.t.Helper()
	thread = k.say("mira", exampleDose, "").Place.Thread
	k.say("ben", "approve", thread)
	return thread
}

// started makes a batch in the cure.
func (k *kitchen) started() (thread string) {
	k.t.Helper()
	thread = k.approved()
	k.say("mira", "start", thread)
	return thread
}

// Who may approve: a chef who neither asked nor changed the dose.
func TestWhoApproves(t *testing.T) {
	for _, c := range []struct {
		name, asks, changes, approves string
		own                           bool // allowed by the kitchen
		want                          store.State
		wantOwn                       bool
	}{
		{"another chef", "ana", "", "ben", false, store.StateApproved, false},
		{"the asker", "ana", "", "ana", false, store.StateAsked, false},
		{"a cook", "ana", "", "mira", false, store.StateAsked, false},
		{"a chef for a cook", "mira", "", "ana", false, store.StateApproved, false},
		{"who changed it", "mira", "ana", "ana", false, store.StateAsked, false},
		{"another than who changed it", "mira", "ana", "ben", false, store.StateApproved, false},
		{"the asker, where it is allowed", "ana", "", "ana", true, store.StateApproved, true},
		{"a cook, where own approval is allowed", "mira", "", "mira", true, store.StateAsked, false},
		{"another, where own approval is allowed", "ana", "", "ben", true, store.StateApproved, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := openKitchen(t)
			if c.own {
				k.say("ben", "own approval on", "")
			}
			thread := k.say(c.asks, exampleDose, "").Place.Thread
			if c.changes != "" {
				k.say(c.changes, "3.4 kg belly, dry rub, 7 days", thread)
			}
			k.say(c.approves, "approve", thread)
			b := k.batch(1)
			if b.State != c.want {
				t.Errorf("the batch is %s, want %s", b.State, c.want)
			}
			if b.Approval != nil && b.Approval.Own != c.wantOwn {
				t.Errorf("approved own: %v, want %v", b.Approval.Own, c.wantOwn)
			}
		})
	}
}

// Undiluted nitrite is for chefs, where the kitchen has switched its own mixes on.
func TestUndilutedNitriteIsForChefs(t *testing.T) {
	const ask = "mix 2 kg house cure, 150 ppm at 2.5%"
	k := openKitchen(t)
	k.say("ana", ask, "")
	k.wantTitle("has not switched mixes of its own on")
	k.say("mira", "own mixes on", "")
	k.wantTitle("Only a chef changes")
	k.say("ana", "own mixes on", "")
	k.say("mira", ask, "")
	k.wantTitle("for the chef alone")
	k.say("ana", ask, "")
	if c := k.table.last(); len(c.Weigh) != 2 || c.Weigh[0].Amount != "12.0 g" {
		t.Errorf("answered with %q %v", c.Title, c.Weigh)
	}
	k.say("mira", "mix 1 kg house cure 0.6% from no 1 6.25%", "")
	if c := k.table.last(); len(c.Weigh) != 2 || c.Weigh[0].Amount != "96.0 g" {
		t.Errorf("answered with %q %v", c.Title, c.Weigh)
	}
}

// Two accounts at one terminal are one person.
func TestSameTerminalIsOnePerson(t *testing.T) {
	k := openKitchen(t)
	asked := k.message("ana", exampleDose, "")
	asked.Via = "at the terminal of root"
	k.deliver(asked)
	m := k.message("ben", "approve", asked.Place.Thread)
	m.Via = asked.Via
	k.deliver(m)
	if b := k.batch(1); b.State != store.StateAsked {
		t.Errorf("the batch is %s, want asked", b.State)
	}
	m = k.message("ben", "approve", asked.Place.Thread)
	m.Via = "at the terminal of ben"
	k.deliver(m)
	if b := k.batch(1); b.State != store.StateApproved {
		t.Errorf("the batch is %s, want approved", b.State)
	}
}

// An approval binds to what stood on the card, and the law table that was applied.
func TestApprovalBinds(t *testing.T) {
	k := openKitchen(t)
	k.approved()
	a := k.batch(1).Approval
	if a == nil || a.Revision != 1 || a.WeightMg != 3_200_000 || a.CureMg != 8_000 || a.Strength != "no. 1 cure, 6.25 % sodium nitrite" || a.Law == "" {
		t.Errorf("the approval is %+v", a)
	}
}

// A typed approve means the newest revision that had been posted when it was typed.
func TestApproveTypedBeforeTheChange(t *testing.T) {
	k := openKitchen(t)
	thread := k.say("mira", exampleDose, "").Place.Thread
	m := k.message("ben", "approve", thread) // typed now, delivered late
	m.At = k.Now()
	k.wait(time.Minute)
	k.say("mira", "4 kg belly, dry rub, 7 days", thread)
	k.deliver(m)
	k.wantTitle("That was revision 1; revision 2 is the newest")
	if b := k.batch(1); b.State != store.StateAsked {
		t.Errorf("the batch is %s, want asked", b.State)
	}
	k.say("ben", "approve", thread)
	if b := k.batch(1); b.State != store.StateApproved || b.Approval.Revision != 2 {
		t.Errorf("the batch is %s, want approved at revision 2", b.State)
	}
}

// A dose card that carries a HOLD is approved with a reason only.
func TestHoldOnTheCardWantsAReason(t *testing.T) {
	k := openKitchen(t)
	thread := k.say("mira", "3 kg loin, dry rub, 30 days, 100 ppm", "").Place.Thread
	k.say("ben", "approve", thread)
	k.wantTitle("carries a HOLD")
	k.say("ben", "approve: cooked the same day", thread)
	if b := k.batch(1); b.State != store.StateApproved || b.Approval.Why != "cooked the same day" {
		t.Errorf("the batch is %s, approval %+v", b.State, b.Approval)
	}
}

// Commands that don't fit the state are refused, and change nothing.
func TestCommandsThatDontFit(t *testing.T) {
	for _, c := range []struct{ state, who, text string }{
		{"asked", "mira", "start"}, {"asked", "mira", "turned"}, {"asked", "mira", "finished"}, {"asked", "mira", "snooze 2 h"}, {"asked", "mira", "remind rinse fri 9:00"},
		{"approved", "ben", "approve"}, {"approved", "ben", "decline: no"}, {"approved", "mira", "rinsed"},
		{"curing", "ben", "approve"}, {"curing", "mira", "start"}, {"curing", "mira", "never mind"}, {"curing", "mira", "4 kg belly, dry rub, 7 days"},
		{"curing", "mira", "release: fine"},
	} {
		t.Run(c.state+"/"+c.text, func(t *testing.T) {
			k := openKitchen(t)
			var thread string
			switch c.state {
			case "asked":
				thread = k.say("mira", exampleDose, "").Place.Thread
			case "approved":
				thread = k.approved()
			case "curing":
				thread = k.started()
			}
			before := k.eventsOf(1)
			k.say(c.who, c.text, thread)
			if after := k.eventsOf(1); after != before {
				t.Errorf("%d events became %d", before, after)
			}
			if c := k.table.last(); c.Kind != NoteCard || c.Title == "" {
				t.Errorf("answered with %q %q", c.Kind, c.Title)
			}
			if b := k.batch(1); string(b.State) != c.state {
				t.Errorf("the batch is %s", b.State)
			}
		})
	}
}

func (k *kitchen) eventsOf(n uint64) (count int) {
	k.t.Helper()
	err := k.Store.View(func(tx *store.Tx) error {
		events, err := tx.Events(homeKitchen, n)
		count = len(events)
		return err
	})
	if err != nil {
		k.t.Fatal(err)
	}
	return count
}

// Each reminder comes once, at its time, and after a restart too.
func TestRemindersComeOnce(t *testing.T) {
	k := openKitchen(t)
	k.started()
	for day := range 9 {
		k.restart()
		k.wait(24 * time.Hour)
		k.settle()
		_ = day
	}
	// 6 turns, take out, rinse, rest: each in a card of its own, but for what fell due on one
	// look: taking out and rinsing.
	titles := map[string]int{}
	for _, c := range k.table.cards {
		if c.Kind == ReminderCard {
			titles[c.Title]++
		}
	}
	for title, n := range titles {
		if n != 1 {
			t.Errorf("%q came %d times", title, n)
		}
	}
	if len(titles) < 8 {
		t.Errorf("%d reminders, want 8 or 9: %v", len(titles), titles)
	}
}

// Steps after the taking out move with it: a rest stays a rest.
func TestLateTakingOutMovesTheRest(t *testing.T) {
	k := openKitchen(t)
	thread := k.started()
	k.wait(8 * 24 * time.Hour)
	k.say("mira", "out of the cure", thread)
	b := k.batch(1)
	if b.State != store.StateResting {
		t.Errorf("the batch is %s, want resting", b.State)
	}
	var out, rest store.Milli
	for _, s := range b.Steps {
		switch s.Kind {
		case "take out":
			out = s.DoneAt
		case "rest":
			rest = s.Due
		}
	}
	if got := time.Duration(rest-out) * time.Millisecond; got < 24*time.Hour || got > 25*time.Hour {
		t.Errorf("the rest ends %s after the taking out, want 24 h and the rinse", got)
	}
}

// A hold stops the smoke and the finish; turning goes on.
func TestHeldBatchLosesSmokeAndFinish(t *testing.T) {
	k := openKitchen(t)
	thread := k.started()
	k.say("luis", "hold: bag leaks", thread)
	for _, text := range []string{"smoked", "hung", "finished"} {
		k.say("mira", text, thread)
		k.wantTitle("HOLD")
	}
	if b := k.batch(1); b.State != store.StateCuring {
		t.Errorf("the batch is %s, want curing", b.State)
	}
	k.wait(24 * time.Hour)
	if c := k.table.last(); c.Kind != ReminderCard || !strings.HasPrefix(c.Title, "HOLD") {
		t.Errorf("the reminder says %q", c.Title)
	}
	k.say("mira", "turned", thread)
	k.wantTitle("turned")
}

// An entry whose turn panics is closed as failed and answered; the conversation goes on.
func TestPanickingTurnIsAnswered(t *testing.T) {
	k := openKitchen(t)
	k.zones = nil // the turn will use it
	thread := k.say("mira", exampleDose, "").Place.Thread
	k.wantTitle("That went wrong here")
	k.zones = &zones{byName: map[string]*time.Location{}}
	k.say("mira", exampleDose, thread)
	if n := k.table.of(DoseCard); n != 1 {
		t.Errorf("%d dose cards, want 1", n)
	}
}

// What happened to a batch is said in the kitchen's language, with the person's beneath;
// a refusal is said in the person's alone. The salt to weigh is named in each.
func TestBatchInTwoTongues(t *testing.T) {
	k := openKitchen(t)
	k.say("ana", "kitchen language es", "")
	k.say("ben", "language fr", "")
	ask := k.say("ana", "cure 2 kg belly no 1 6.25%", "")
	k.say("ben", "approve", ask.ID)
	c := k.table.last()
	if c.Language != "es" || !strings.Contains(c.Title, "aprobado por ben") || !strings.Contains(c.Title, "sal de cura n.º 1, 6.25 % de nitrito de sodio") {
		t.Errorf("the kitchen reads (%s) %q", c.Language, c.Title)
	}
	if c.Also == nil || c.Also.Language != "fr" || !strings.Contains(c.Also.Title, "approuvé par ben") || !strings.Contains(c.Also.Title, "sel de salaison n° 1, 6.25 % de nitrite de sodium") {
		t.Errorf("ben reads %+v beneath", c.Also)
	}
	k.say("ben", "decline", ask.ID)
	if c := k.table.last(); c.Language != "fr" || c.Also != nil || c.Title != "Le lot 1 est approuvé : decline ne va pas." {
		t.Errorf("a refusal is %+v", c)
	}
	k.say("ben", "start", ask.ID)
	if c := k.table.last(); len(c.Facts) != 1 || c.Facts[0].Label != "toca" || !strings.HasPrefix(c.Facts[0].Lines[0], "voltear 7 veces, de ") {
		t.Errorf("the steps are %+v", c.Facts)
	}
}
