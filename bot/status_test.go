package bot

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"salthand/store"
)

// shownAs is a dose card as it stands now, by the end of its key.
func (k *kitchen) shownAs(key string) Card {
	k.t.Helper()
	k.table.mu.Lock()
	defer k.table.mu.Unlock()
	for name, c := range k.table.shown {
		if strings.HasSuffix(name, key) {
			return c
		}
	}
	k.t.Fatalf("no card %s was brought up to date", key)
	return Card{}
}

func actions(c Card) (all []Action) {
	for _, b := range c.Buttons {
		all = append(all, b.Press.Action)
	}
	return all
}

// A dose card says who did what with its batch, and offers what can still be done.
func TestDoseCardStatus(t *testing.T) {
	k := openKitchen(t)
	ask := k.say("ana", exampleDose, "")
	if got, want := actions(k.table.last()), []Action{DoApprove, DoDecline, DoChange, DoHold}; !slices.Equal(got, want) {
		t.Errorf("a new dose card offers %v, want %v", got, want)
	}
	const first, second = "1/batch/1/dose/1", "1/batch/1/dose/2"
	for _, step := range []struct {
		who, line, key string
		says           string // the last line of the status
		offers         []Action
	}{
		{"ben", "approve", first, "approved by ben", []Action{DoStart, DoHold}},
		{"ana", "make it 2% salt", first, "replaced by dose card revision 2", nil},
		{"ben", "approve", second, "approved by ben", []Action{DoStart, DoHold}},
		{"ana", "hold: bag leaks", second, "HOLD 1: bag leaks", []Action{DoStart, DoHold}},
		{"ben", "release: bagged anew", second, "approved by ben", []Action{DoStart, DoHold}},
		{"ben", "discard: slimy", second, "discarded: slimy", nil},
	} {
		k.say(step.who, step.line, ask.ID)
		c := k.shownAs(step.key)
		if len(c.Status) == 0 || !strings.Contains(c.Status[len(c.Status)-1], step.says) {
			t.Errorf("after %q: the card says %q, want %q last", step.line, c.Status, step.says)
		}
		if got := actions(c); !slices.Equal(got, step.offers) {
			t.Errorf("after %q: the card offers %v, want %v", step.line, got, step.offers)
		}
	}
}

// What lapses by the clock is said on the card too.
func TestDoseCardLapses(t *testing.T) {
	k := openKitchen(t)
	k.say("ana", exampleDose, "")
	k.wait(36 * time.Hour)
	c := k.shownAs("1/batch/1/dose/1")
	if len(c.Status) != 1 || !strings.Contains(c.Status[0], "lapsed") || len(c.Buttons) > 0 || c.Next != "" {
		t.Errorf("the card of a lapsed batch says %q, offers %v and asks for %q", c.Status, c.Buttons, c.Next)
	}
}

// What waits for approval and what is held stand in the home channel too, and are answered there.
func TestHomeChannel(t *testing.T) {
	k := openKitchen(t)
	home := tableChannel
	home.Channel = "pass"
	inHome := func(who, line string) {
		m := k.message(who, line, "")
		m.Place.Channel, m.Mentioned = home.Channel, true
		k.deliver(m)
	}
	inHome("ana", "home channel here")
	k.say("ana", exampleDose, "")
	newest := func() (c Card, at Place) { // in the home channel: those of several come in no order
		k.table.mu.Lock()
		defer k.table.mu.Unlock()
		for i, p := range k.table.at {
			if p.Channel == home.Channel {
				c, at = k.table.cards[i], p
			}
		}
		return c, at
	}
	c, at := newest()
	if c.Kind != RequestCard || at != home || !strings.Contains(c.Next, "batch 1: approve") || len(c.Weigh) == 0 || len(c.Warnings) == 0 {
		t.Fatalf("at %v stands %+v, want the request for approval in %v", at, c, home)
	}
	inHome("ben", "batch 1: approve")
	for _, key := range []string{"1/batch/1/dose/1", "1/batch/1/request/1/" + home.String()} {
		if c := k.shownAs(key); len(c.Status) == 0 || !strings.HasPrefix(c.Status[0], "approved by ben") || slices.Contains(actions(c), DoApprove) {
			t.Errorf("card %s says %q and offers %v after the approval", key, c.Status, actions(c))
		}
	}
	k.say("cleo", "batch 1: hold: bag leaks", "")
	c, at = newest()
	if c.Kind != HoldCard || at != home || !strings.Contains(c.Title, "bag leaks") || !strings.Contains(c.Next, "batch 1: release") {
		t.Errorf("at %v stands %+v, want the hold in %v", at, c, home)
	}
}

// What an earlier run left unsent may stand on the platform already, though nobody noted it.
// Whether it may doesn't hang on the clock, which can be set back.
func TestDoubtfulAfterARestart(t *testing.T) {
	k := openKitchen(t)
	k.stop()
	k.Wait()
	card, err := json.Marshal(Card{Kind: NoteCard, Key: "left", Revision: 1, Title: "left over"})
	if err != nil {
		t.Fatal(err)
	}
	place, err := json.Marshal(tableChannel)
	if err != nil {
		t.Fatal(err)
	}
	err = k.Store.Update(t.Context(), func(tx *store.Tx) error {
		return tx.Queue(store.Post{Key: "left", Revision: 1, Channel: tableChannel.String(), Place: place, Card: card, Queued: milli(k.now)})
	})
	if err != nil {
		t.Fatal(err)
	}
	k.now = k.now.Add(-48 * time.Hour)
	k.restart()
	k.settle()
	k.say("ana", "help", "")
	k.table.mu.Lock()
	defer k.table.mu.Unlock()
	if got := k.table.doubted; !slices.Equal(got, []bool{true, false}) {
		t.Errorf("posted with a doubt: %v", got)
	}
}
