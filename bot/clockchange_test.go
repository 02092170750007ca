package bot

import (
	"strings"
	"testing"
	"time"

	"salthand/store"
)

// The clock changes of 2026 as the IANA time zone database has them: Europe/Paris 29 March
// 02:00 → 03:00 and 25 October 03:00 → 02:00, America/Chicago 8 March 02:00 → 03:00 and
// 1 November 02:00 → 01:00.

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// When a kitchen opens again, around clock changes.
func TestOpensOverClockChange(t *testing.T) {
	for _, c := range []struct{ name, zone, quiet, at, want string }{
		{"six o'clock after the spring change", "Europe/Paris", "22:00-6:00", "2026-03-28T23:00:00+01:00", "2026-03-29T06:00:00+02:00"},
		{"six o'clock after the autumn change", "Europe/Paris", "22:00-6:00", "2026-10-24T23:00:00+02:00", "2026-10-25T06:00:00+01:00"},
		{"an end that does not exist moves forward", "Europe/Paris", "22:00-2:30", "2026-03-28T23:00:00+01:00", "2026-03-29T03:30:00+02:00"},
		{"an end that comes twice is the first", "Europe/Paris", "22:00-2:30", "2026-10-24T23:00:00+02:00", "2026-10-25T02:30:00+02:00"},
		{"the second half past two of the night", "Europe/Paris", "22:00-2:30", "2026-10-25T02:10:00+01:00", "2026-10-25T02:30:00+01:00"},
		{"six o'clock after the spring change", "America/Chicago", "22:00-6:00", "2026-03-07T23:00:00-06:00", "2026-03-08T06:00:00-05:00"},
		{"six o'clock after the autumn change", "America/Chicago", "22:00-6:00", "2026-10-31T23:00:00-05:00", "2026-11-01T06:00:00-06:00"},
		{"an end that does not exist moves forward", "America/Chicago", "22:00-2:30", "2026-03-07T23:00:00-06:00", "2026-03-08T03:30:00-05:00"},
		{"an end that comes twice is the first", "America/Chicago", "22:00-1:30", "2026-10-31T23:00:00-05:00", "2026-11-01T01:30:00-05:00"},
		{"the second half past one of the night", "America/Chicago", "22:00-1:30", "2026-11-01T01:10:00-06:00", "2026-11-01T01:30:00-06:00"},
		{"quiet hours that begin in the hour that is left out", "America/Chicago", "2:30-6:00", "2026-03-08T03:10:00-05:00", "2026-03-08T06:00:00-05:00"},
	} {
		h := shutTimesOf(store.Kitchen{Settings: map[string]string{setQuiet: c.quiet}}, zoneNamed(t, c.zone))
		if got := h.opens(instant(t, c.at)); !got.Equal(instant(t, c.want)) {
			t.Errorf("%s, %s: %s, want %s", c.zone, c.name, got.In(h.zone), c.want)
		}
	}
}

// A reminder that was asked for by the clock comes once, at the time that the clock gives.
func TestRemindedOverClockChange(t *testing.T) {
	for _, c := range []struct{ name, zone, from, said, want string }{
		{"an hour that is left out", "Europe/Paris", "2026-03-27T09:00:00+01:00", "29 march 2:30", "2026-03-29T03:30:00+02:00"},
		{"the morning after", "Europe/Paris", "2026-03-27T09:00:00+01:00", "29 march 9:00", "2026-03-29T09:00:00+02:00"},
		{"an hour that comes twice", "Europe/Paris", "2026-10-23T09:00:00+02:00", "25 oct 2:30", "2026-10-25T02:30:00+02:00"},
		{"an hour that is left out", "America/Chicago", "2026-03-06T09:00:00-06:00", "8 march 2:30", "2026-03-08T03:30:00-05:00"},
		{"an hour that comes twice", "America/Chicago", "2026-10-30T09:00:00-05:00", "1 nov 1:30", "2026-11-01T01:30:00-05:00"},
	} {
		t.Run(c.zone+", "+c.name, func(t *testing.T) {
			k, thread := kitchenAt(t, c.zone, instant(t, c.from))
			k.say("mira", "remind weigh "+c.said, thread)
			var at []time.Time
			k.runFor(4*24*time.Hour, func(c Card) {
				if c.Kind == ReminderCard && strings.HasPrefix(c.Title, "Batch 1: weigh is due") {
					at = append(at, k.now)
				}
			})
			if len(at) != 1 || !at[0].Equal(instant(t, c.want)) {
				t.Errorf("reminded %v, want once %s", at, c.want)
			}
		})
	}
}

// The digest comes once a day, at a time that is left out or comes twice as well.
func TestDigestOverClockChange(t *testing.T) {
	for _, c := range []struct {
		zone, from, clock string
		want              []string
	}{
		{"Europe/Paris", "2026-03-27T09:00:00+01:00", "2:30", []string{"2026-03-28T02:30:00+01:00", "2026-03-29T03:30:00+02:00", "2026-03-30T02:30:00+02:00"}},
		{"Europe/Paris", "2026-10-23T09:00:00+02:00", "2:30", []string{"2026-10-24T02:30:00+02:00", "2026-10-25T02:30:00+02:00", "2026-10-26T02:30:00+01:00"}},
		{"Europe/Paris", "2026-03-27T09:00:00+01:00", "6:00", []string{"2026-03-28T06:00:00+01:00", "2026-03-29T06:00:00+02:00", "2026-03-30T06:00:00+02:00"}},
		{"America/Chicago", "2026-03-06T09:00:00-06:00", "2:30", []string{"2026-03-07T02:30:00-06:00", "2026-03-08T03:30:00-05:00", "2026-03-09T02:30:00-05:00"}},
		{"America/Chicago", "2026-10-30T09:00:00-05:00", "1:30", []string{"2026-10-31T01:30:00-05:00", "2026-11-01T01:30:00-05:00", "2026-11-02T01:30:00-06:00"}},
	} {
		t.Run(c.zone+" "+c.clock+" "+c.from[:7], func(t *testing.T) {
			k, _ := kitchenAt(t, c.zone, instant(t, c.from))
			k.say("ana", "digest at "+c.clock, "")
			var at []time.Time
			k.runFor(72*time.Hour, func(c Card) {
				if strings.HasPrefix(c.Title, "Digest of") {
					at = append(at, k.now)
				}
			})
			for i, w := range c.want {
				if len(at) != len(c.want) || !at[i].Equal(instant(t, w)) {
					t.Fatalf("digests %v, want %v", at, c.want)
				}
			}
		})
	}
}

// What hours change is fitted to them: a turn in the quiet hours of another zone waits, and the
// digest comes by the new clock. When a step is due does not change with the clock.
func TestZoneChangedFits(t *testing.T) {
	k, _ := kitchenAt(t, "America/Chicago", instant(t, "2026-11-20T09:00:00-06:00"))
	k.say("ana", "quiet 15:00-20:00", "")
	k.say("ana", "digest at 6:00", "")
	due := k.batch(1).Steps[0].Due
	k.say("ana", "zone europe/paris", "")
	if b := k.batch(1); b.Steps[0].Due != due {
		t.Errorf("the turn is due %s, was %s", timeOf(b.Steps[0].Due), timeOf(due))
	}
	var digest, turn time.Time
	k.runFor(30*time.Hour, func(c Card) {
		switch {
		case strings.HasPrefix(c.Title, "Digest of"):
			digest = k.now
		case c.Kind == ReminderCard && turn.IsZero():
			turn = k.now
		}
	})
	if want := instant(t, "2026-11-21T06:00:00+01:00"); !digest.Equal(want) {
		t.Errorf("the digest came %s, want %s", digest, want)
	}
	if want := instant(t, "2026-11-21T20:00:00+01:00"); !turn.Equal(want) { // shortly before 9:00 in Chicago is 16:00 in Paris
		t.Errorf("the turn was said %s, want %s", turn, want)
	}
}

// kitchenAt is a kitchen in a zone with one batch that was started just then.
func kitchenAt(t *testing.T, zone string, at time.Time) (k *kitchen, thread string) {
	t.Helper()
	k = openKitchen(t)
	k.say("ana", "zone "+zone, "")
	k.wait(at.Sub(k.now) - 10*time.Second)
	thread = k.started()
	return k, thread
}

// runFor moves the clock from one due moment to the next, and shows each card that comes.
func (k *kitchen) runFor(d time.Duration, came func(c Card)) {
	k.t.Helper()
	end := k.now.Add(d)
	for {
		next, ok, err := k.NextDue()
		if err != nil {
			k.t.Fatal(err)
		}
		if !ok || next.After(end) {
			next = end
		}
		seen := len(k.table.cards)
		k.wait(max(0, next.Sub(k.now)))
		for _, c := range k.table.cards[seen:] {
			came(c)
		}
		if !k.now.Before(end) {
			return
		}
	}
}
