package bot

import (
	"context"
	"errors"
	"log/slog"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"salthand/store"
)

// run runs a bot on a store of the test's own, in a synctest bubble; stop ends it.
func run(t *testing.T, chat *table) (b *Bot, stop func()) {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "kitchen.db"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b = New(s, slog.New(slog.DiscardHandler), chat)
	err = b.Open(t.Context(), Setup{Name: "test", Region: "us", Zone: "UTC", Cure: tableChannel,
		Chefs: []Chef{{"ana", account("ana")}, {"ben", account("ben")}}})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	ran := make(chan error, 1)
	go func() { ran <- b.Run(ctx) }()
	synctest.Wait()
	return b, func() {
		cancel()
		if err := <-ran; err != nil && !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}

// A post that fails is tried again after 1, 2, 4 … s, a minute at most.
func TestBackOff(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var at []time.Time
		chat := &table{fail: func(int, Card) error {
			at = append(at, time.Now())
			if len(at) < 10 {
				return errors.New("the platform is away")
			}
			return nil
		}}
		b, stop := run(t, chat)
		defer stop()
		m := Message{ID: "m1", Place: tableChannel, Top: true, Account: account("ana"), Name: "ana", What: Said, Text: exampleDose}
		if _, err := b.Receive(t.Context(), m); err != nil {
			t.Fatal(err)
		}
		time.Sleep(10 * time.Minute)
		synctest.Wait()
		want := []time.Duration{1, 2, 4, 8, 16, 32, 60, 60, 60} // s
		for i, w := range want {
			if got := at[i+1].Sub(at[i]); got != w*time.Second {
				t.Errorf("try %d came after %s, want %s", i+2, got, w*time.Second)
			}
		}
		if len(at) != len(want)+1 || chat.of(DoseCard) != 1 {
			t.Errorf("%d tries, %d cards", len(at), chat.of(DoseCard))
		}
	})
}

// The bot as it runs, on a clock of the test's own: a reminder comes at its time without
// anybody calling for it, and Run ends with its context.
func TestRunRemindsInTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		chat := &table{}
		b, stop := run(t, chat)
		defer stop()
		place := tableChannel
		place.Thread = "m1"
		say := func(id, name, text string) {
			t.Helper()
			m := Message{ID: id, Place: place, Top: id == "m1", Account: account(name), Name: name, What: Said, Text: text}
			if _, err := b.Receive(t.Context(), m); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Second)
			synctest.Wait()
		}
		say("m1", "ana", exampleDose)
		say("m2", "ben", "approve")
		say("m3", "ana", "start")
		time.Sleep(24*time.Hour - 2*time.Second) // say slept for one
		synctest.Wait()
		if n := chat.of(ReminderCard); n != 0 {
			t.Fatalf("%d reminders before their time", n)
		}
		time.Sleep(lookAtLeast)
		synctest.Wait()
		if n := chat.of(ReminderCard); n != 1 {
			t.Errorf("%d reminders a day after the start, want 1", n)
		}
	})
}
