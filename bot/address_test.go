package bot

import (
	"errors"
	"testing"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// errUndo rolls a test's transaction back.
var errUndo = errors.New("undo")

// Every row and column of the addressing table, by what is typed where.
func TestAddressing(t *testing.T) {
	phrases := map[hearing]string{
		wholePhrase: "2 kg coppa, dry rub, 30 days, no 2",
		bareVerb:    "never mind",
		nearMiss:    "3.2 kg ostrich, dry rub, 7 days",
		mishap:      "batch 1 bag leaked half of it",
		emergency:   "luis ate the cure, his lips look blue and he is dizzy",
		nothing:     "3 kg belly came in today",
	}
	answered := map[where]map[hearing]Kind{
		toBot:         {wholePhrase: DoseCard, bareVerb: NoteCard, nearMiss: ErrorCard, mishap: HoldCard, emergency: EmergencyCard, nothing: HelpCard},
		inThread:      {wholePhrase: DoseCard, bareVerb: NoteCard, nearMiss: ErrorCard, mishap: HoldCard, emergency: EmergencyCard, nothing: ""},
		inCureChannel: {wholePhrase: DoseCard, bareVerb: "", nearMiss: ErrorCard, mishap: HoldCard, emergency: EmergencyCard, nothing: ""},
		elsewhere:     {wholePhrase: "", bareVerb: "", nearMiss: "", mishap: "", emergency: EmergencyCard, nothing: ""},
	}
	for place, row := range answered {
		for what, want := range row {
			t.Run(string(place)+"/"+string(what), func(t *testing.T) {
				k := openKitchen(t)
				first := k.say("mira", exampleDose, "")
				before := len(k.table.cards)
				thread := ""
				if place == inThread {
					thread = first.Place.Thread
				}
				m := k.message("mira", phrases[what], thread)
				m.Mentioned = place == toBot
				if place == elsewhere {
					m.Place.Channel = "staff meals"
				}
				k.deliver(m)
				got := Kind("")
				if len(k.table.cards) > before {
					got = k.table.last().Kind
				}
				if got != want {
					t.Errorf("%q is answered with %q, want %q", phrases[what], got, want)
				}
				if kept := k.wasKept(m); kept != (want != "") {
					t.Errorf("%q is kept: %v, want %v", phrases[what], kept, want != "")
				}
			})
		}
	}
}

// wasKept reports whether a message was written into the inbox.
func (k *kitchen) wasKept(m Message) (kept bool) {
	k.t.Helper()
	err := k.Store.Update(k.t.Context(), func(tx *store.Tx) error {
		fresh, err := tx.Receive(store.Entry{ID: m.entryID(), Conversation: m.Place.String()})
		kept = !fresh
		if err == nil && fresh {
			err = errUndo
		}
		return err
	})
	if err != nil && !errors.Is(err, errUndo) {
		k.t.Fatal(err)
	}
	return kept
}

// Teams that no kitchen knows get nothing, not even help.
func TestStrangersGetNothing(t *testing.T) {
	k := openKitchen(t)
	for _, text := range []string{exampleDose, "help", "batch 1", "who cured what", "region eu"} {
		m := k.message("zed", text, "")
		m.Place.Team, m.Mentioned = "another", true
		k.deliver(m)
	}
	m := k.message("zed", exampleDose, "")
	m.Guest = true
	k.deliver(m)
	if len(k.table.cards) != 0 {
		t.Errorf("strangers were told %q", k.table.last().Title)
	}
}

// A question is answered in its thread by anyone, and in the channel by the person asked.
func TestAnswerToAnOpenQuestion(t *testing.T) {
	const ask = "4.5 lb brisket, brine 1 gal, 10 days"
	for _, c := range []struct {
		name, who string
		inThread  bool
		want      Kind
	}{
		{"the asker in the thread", "mira", true, DoseCard},
		{"somebody else in the thread", "luis", true, DoseCard},
		{"the asker in the channel", "mira", false, DoseCard},
		{"somebody else in the channel", "luis", false, QuestionCard},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := openKitchen(t)
			k.say("luis", exampleDose, "") // luis is known
			asked := k.say("mira", ask, "")
			if k.table.last().Kind != QuestionCard {
				t.Fatalf("%q was not asked back", ask)
			}
			thread := ""
			if c.inThread {
				thread = asked.Place.Thread
			}
			k.say(c.who, "us gal", thread)
			if got := k.table.last(); got.Kind != c.want {
				t.Fatalf("answered with %q %q, want %q", got.Kind, got.Title, c.want)
			}
			if c.want == DoseCard && k.table.at[len(k.table.at)-1].Thread != asked.Place.Thread {
				t.Error("the dose card stands in another thread than the question")
			}
		})
	}
}

// A new phrase while a question is open is a phrase of its own, in a thread of its own.
// A question about a batch that was named in the channel is answered there, and the answer is
// of that batch.
func TestAnswerKeepsTheBatch(t *testing.T) {
	for _, c := range []struct{ phrase, answer, method string }{
		{"batch 1: make it brine", "4 l", "cover brine"},
		{"batch 1: 3 kg belly, brine 1 gal, 7 days", "us gal", "cover brine"},
	} {
		k := openKitchen(t)
		k.say("mira", exampleDose, "")
		k.say("mira", c.phrase, "")
		if n := k.table.of(QuestionCard); n != 1 {
			t.Errorf("%q: %d questions, want one: %+v", c.phrase, n, k.table.last())
		}
		k.say("mira", c.answer, "")
		if b := k.batch(1); b.Revision != 2 || b.Card.Method != c.method {
			t.Errorf("%q, %q: revision %d, %s; the newest card: %+v", c.phrase, c.answer, b.Revision, b.Card.Method, k.table.last())
		}
	}
}

func TestNewPhraseIsNotAnAnswer(t *testing.T) {
	k := openKitchen(t)
	asked := k.say("mira", "4.5 lb brisket, brine 1 gal, 10 days", "")
	k.say("mira", exampleDose, "")
	if c, at := k.table.last(), k.table.at[len(k.table.at)-1]; c.Kind != DoseCard || at.Thread == asked.Place.Thread {
		t.Errorf("got %q in thread %q", c.Kind, at.Thread)
	}
	k.say("mira", "us gal", asked.Place.Thread)
	if c := k.table.last(); c.Kind != DoseCard || c.Batch != 2 {
		t.Errorf("the question was forgotten: %q %q", c.Kind, c.Title)
	}
}

// The parse of an earlier look serves a turn only where the kitchen's setting is still that
// one: a chef may have said in between which number of 4/1 is the day.
func TestEarlyParse(t *testing.T) {
	const text = "turned 4/1"
	day := func(p parsed) (int, time.Month) {
		did, ok := p.phrase.Command.(grammar.Did)
		if !ok || did.When == nil || did.When.Date == nil {
			t.Fatalf("%T, %v", p.phrase.Command, p.err)
		}
		return did.When.Date.Day, did.When.Date.Month
	}
	early := parse(text, grammar.Setting{Thread: true, Dates: grammar.DayFirst}, parsed{})
	if d, m := day(early); d != 4 || m != time.January {
		t.Errorf("day first: %d %s", d, m)
	}
	if d, m := day(parse(text, grammar.Setting{Thread: true, Dates: grammar.MonthFirst}, early)); d != 1 || m != time.April {
		t.Errorf("month first: %d %s", d, m)
	}
}
