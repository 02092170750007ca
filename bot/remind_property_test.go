package bot

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/store"
)

// Whatever a kitchen does to the steps of its batches, each is reminded of once for each time at
// which it is due, not before it may be and not later than it must.
func TestRemindedOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		k := openKitchen(t)
		w := &remindWatch{k: k}
		for _, dose := range rapid.SampledFrom([][]string{{exampleDose}, {sausage}, {exampleDose, sausage}}).Draw(r, "batches") {
			thread := k.say("mira", dose, "").Place.Thread
			k.say("ben", "approve", thread)
			k.say("mira", "start", thread)
			w.threads = append(w.threads, thread)
		}
		for range rapid.IntRange(3, 9).Draw(r, "turns") {
			w.something(r)
		}
		w.run(r, 48*time.Hour)
	})
}

const sausage = "10 kg salami, ground, no 2, 30 days"

// guards are the steps that no quiet hour and no closed day may delay.
var guards = []string{"chill check", "chill", "ph test", "cook"}

// remindWatch goes through the time of a kitchen and looks at each reminder as it comes.
type remindWatch struct {
	k       *kitchen
	threads []string
}

// something is one thing that a kitchen does, or some hours in which it does nothing.
func (w *remindWatch) something(r *rapid.T) {
	thread := rapid.SampledFrom(w.threads).Draw(r, "thread")
	who := rapid.SampledFrom([]string{"ana", "ben", "mira"}).Draw(r, "who")
	chef := rapid.SampledFrom([]string{"ana", "ben"}).Draw(r, "chef")
	switch what := rapid.SampledFrom([]string{"wait", "wait", "wait", "thread", "thread", "thread", "kitchen", "restart"}).Draw(r, "what"); what {
	case "wait":
		w.run(r, time.Duration(rapid.IntRange(1, 60).Draw(r, "hours"))*time.Hour)
	case "thread":
		line := rapid.SampledFrom([]string{
			"done", "turned", "snooze 2 h", "snooze 30 min", "on it", "pause", "resume", "thawed", "hold: bag leaks", "release: looked at it",
			"remind weigh in 5 h", "move turn to in 7 h", "drop turn: not needed", "soak 6 h", "into the chamber", "ph 5.6 at 24 c", "ph 5.2 at 24 c", "undo",
			"out of the cure", "smoked 68 c", "hung",
		}).Draw(r, "line")
		w.k.say(rapid.SampledFrom([]string{who, chef}).Draw(r, "by"), line, thread)
		w.look(r)
	case "kitchen":
		line := rapid.SampledFrom([]string{
			"quiet 22:00-6:00", "quiet 8:00-17:00", "quiet off", "closed sunday", "closed monday, tuesday", "closed never",
			"zone Europe/Paris", "zone America/Chicago", "digest at 6:00", "escalate after 2 h", "escalate off",
		}).Draw(r, "setting")
		w.k.say(chef, line, "")
		w.look(r)
	case "restart":
		w.k.restart()
		w.look(r)
	}
}

// run moves the clock from one due moment to the next.
func (w *remindWatch) run(r *rapid.T, d time.Duration) {
	w.k.runFor(d, func(Card) {})
	w.look(r)
}

// look holds what was said and what was not to the records of this moment.
func (w *remindWatch) look(r *rapid.T) {
	k := w.k
	err := k.Store.View(func(tx *store.Tx) error {
		home, _, err := tx.Kitchen(homeKitchen)
		if err != nil {
			return err
		}
		here := shutTimesOf(home, k.zones.of(home))
		for n := range uint64(len(w.threads)) {
			b, _, err := tx.Batch(homeKitchen, n+1)
			if err != nil {
				return err
			}
			events, err := tx.Events(homeKitchen, n+1)
			if err != nil {
				return err
			}
			w.once(r, b, events)
			w.none(r, b, here)
		}
		return nil
	})
	if err != nil {
		r.Fatal(err)
	}
}

// once fails where a step was reminded of twice for one time, before its time, or in secret.
func (w *remindWatch) once(r *rapid.T, b store.Batch, events []store.Event) {
	type step struct {
		due, from store.Milli // from: since when it waits for nothing else
		on        int
		said      bool
		kind      string
	}
	var steps []step
	give := func(i int, to store.Step, at store.Milli) {
		if i < 0 {
			steps = append(steps, step{})
			i = len(steps) - 1
		}
		steps[i] = step{due: to.Due, from: at, kind: to.Kind, on: to.On}
	}
	freed := func(e store.Event, of func(s step) bool) {
		for i := range steps {
			if of(steps[i]) {
				steps[i].from = e.Noted
			}
		}
	}
	all := func(step) bool { return true }
	for _, e := range events {
		if slices.Contains(b.Undone, e.Seq) {
			continue
		}
		switch body := e.Body.(type) {
		case store.Started:
			for _, s := range body.Steps {
				give(-1, s, e.Noted)
			}
		case store.StepMoved:
			give(body.Step, body.To, e.Noted)
		case store.StepDone:
			if body.Step < 0 {
				give(-1, store.Step{Kind: body.Kind}, e.Noted)
			}
			freed(e, func(s step) bool { return s.on == body.Step+1 })
		case store.StepDropped:
			freed(e, func(s step) bool { return s.on == body.Step+1 })
		case store.Released, store.Undone:
			freed(e, all)
		case store.Resumed:
			for _, m := range body.Moves {
				give(m.Step, m.To, e.Noted)
			}
			freed(e, all)
		case store.Thawed:
			for _, m := range body.Moves {
				give(m.Step, m.To, e.Noted)
			}
		case store.Reminded:
			if body.Kept != "" {
				continue
			}
			s := &steps[body.Step]
			if s.said {
				r.Fatalf("batch %d: %s of %s was reminded of twice", b.Number, s.kind, timeOf(s.due))
			}
			if e.Noted < s.due && !slices.Contains(noLater, s.kind) {
				r.Fatalf("batch %d: %s of %s was reminded of at %s", b.Number, s.kind, timeOf(s.due), timeOf(e.Noted))
			}
			if late := e.Noted - max(s.due, s.from); slices.Contains(guards, s.kind) && late.Duration() > time.Minute {
				r.Fatalf("batch %d: %s of %s was reminded of only at %s", b.Number, s.kind, timeOf(s.due), timeOf(e.Noted))
			}
			if !w.said(b.Number, stepName(english, s.kind)) {
				r.Fatalf("batch %d: no card says %s", b.Number, s.kind)
			}
			s.said = true
		}
	}
}

// said tells whether a card names a batch and a step.
func (w *remindWatch) said(n uint64, step string) bool {
	return slices.ContainsFunc(w.k.table.cards, func(c Card) bool {
		text := c.Title + "\n" + strings.Join(c.Lines, "\n")
		named := strings.Contains(text, fmt.Sprintf("atch %d", n)) || strings.Contains(text, "batches 1, 2")
		return c.Kind == ReminderCard && named && strings.Contains(text, step)
	})
}

// none fails where a step is due by now and nobody was reminded of it, but where the rules say so.
func (w *remindWatch) none(r *rapid.T, b store.Batch, here shutTimes) {
	now := w.k.now
	if b.Paused() || b.Ended != 0 {
		return
	}
	for i, s := range b.Steps {
		due := !s.Closed() && !timeOf(s.Due).After(now)
		switch {
		case !due || s.Reminded && s.Kept == "":
			continue
		case s.On > 0 && !b.Steps[s.On-1].Closed(): // waits for another
			continue
		case s.Kept == keptHeld && b.Held(), s.Kept == keptMoot && moot(b, i):
			continue
		case s.Reminded:
			r.Fatalf("batch %d: %s of %s was kept back as %s", b.Number, s.Kind, timeOf(s.Due), s.Kept)
		case here.shut(now) && !slices.Contains(guards, s.Kind):
			continue // waits until somebody is there
		default:
			r.Fatalf("batch %d: nobody was reminded of %s, due %s, now %s", b.Number, s.Kind, timeOf(s.Due), now)
		}
	}
}
