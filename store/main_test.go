package store

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"go.uber.org/goleak"
)

var (
	long   = flag.Bool("long", false, "many rounds of what kills and what is random")
	update = flag.Bool("update", false, "write the file of this schema in testdata anew")
)

// childEnv makes the test binary a child that is killed: of TestKilled or TestUpgradeKilled.
const childEnv = "STORE_TEST_CHILD"

func TestMain(m *testing.M) {
	if path := os.Getenv(childEnv); path != "" {
		if os.Getenv(childEnv+"_DOES") == "upgrade" {
			openOnce(path)
		} else {
			writeUntilKilled(path)
		}
		return
	}
	goleak.VerifyTestMain(m, goleak.Cleanup(func(code int) {
		if benchDir != "" {
			_ = os.RemoveAll(benchDir)
		}
		os.Exit(code)
	}))
}

// opened is a store in a folder of the test's own. At the end it is closed, opened anew, and
// its records are compared with its events.
func opened(t testing.TB) *Store {
	t.Helper()
	return openedAt(t, filepath.Join(t.TempDir(), "kitchen.db"))
}

func openedAt(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = s.Close() // the test may have, or have broken it
		again, err := Open(path, Options{})
		if err != nil {
			t.Error(err)
			return
		}
		sound(t, again)
		if err := again.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func sound(t testing.TB, s *Store) {
	t.Helper()
	differences, err := s.Verify()
	if err != nil {
		t.Errorf("verify: %v", err)
	}
	for _, d := range differences {
		t.Error(d)
	}
}

// do runs a change that must succeed.
func do(t testing.TB, s *Store, fn func(*Tx) error) {
	t.Helper()
	if err := s.Update(context.Background(), fn); err != nil {
		t.Fatal(err)
	}
}

func see(t testing.TB, s *Store, fn func(*Tx) error) {
	t.Helper()
	if err := s.View(fn); err != nil {
		t.Fatal(err)
	}
}

// appended appends events in one change.
func appended(t testing.TB, s *Store, events ...Event) {
	t.Helper()
	do(t, s, func(tx *Tx) error {
		for _, e := range events {
			if _, err := tx.Append(e); err != nil {
				return err
			}
		}
		return nil
	})
}

const (
	kitchen = "k1"
	ana     = "p1"
	ben     = "p2"
	minute  = Milli(60_000)
	hour    = 60 * minute
	day     = 24 * hour
)

// of is an event of a batch at an instant, noted a second later.
func of(batch uint64, person string, at Milli, body Body) Event {
	return Event{Kitchen: kitchen, Batch: batch, Person: person, Account: "a-" + person, Entry: "e", Happened: at, Noted: at + 1000, Body: body}
}

// peopled is a kitchen of two.
func peopled(t testing.TB, s *Store) {
	t.Helper()
	appended(t, s,
		of(0, "", 1, KitchenOpened{Name: "Back kitchen", Region: "us", Zone: "Europe/Vienna"}),
		of(0, "", 2, PersonJoined{ID: ana, Name: "Ana", Account: "term/ana"}),
		of(0, "", 3, PersonJoined{ID: ben, Name: "Ben", Account: "term/ben"}),
		of(0, ana, 4, RoleGiven{ID: ben, Role: "chef"}),
	)
}

func card(rev uint32, cut string) Card {
	return Card{
		Revision: rev, Phrase: "3.2 kg " + cut + ", dry rub, 7 days", Cut: cut, Class: "bacon", Method: "dry rub", Region: "us",
		WeightMg: 3_200_000, CureMg: 8_000, SaltMg: 72_500, Agent: "no. 1, 6.25 % nitrite", NitriteMilliPPM: 156_250,
		PlanSeconds: 7 * 86_400, Answer: []byte(`{"kind":"dose","note":"<7 & more>"}`),
	}
}

func asked(cut, conversation string, lapse Milli) Asked {
	return Asked{Card: card(1, cut), Conversation: conversation, Lapse: lapse}
}

func approved(rev uint32, lapse Milli) Approved {
	return Approved{Revision: rev, WeightMg: 3_200_000, CureMg: 8_000, Strength: "no. 1, 6.25 % nitrite", Law: "1", Lapse: lapse}
}

func step(kind string, due Milli) Step {
	return Step{Kind: kind, Local: "2026-11-26T09:00", Zone: "Europe/Vienna", Due: due}
}

func started(steps ...Step) Started { return Started{Steps: steps} }

func batchOf(t testing.TB, s *Store, n uint64) (b Batch) {
	t.Helper()
	see(t, s, func(tx *Tx) error {
		got, ok, err := tx.Batch(kitchen, n)
		if err == nil && !ok {
			t.Fatalf("no batch %d", n)
		}
		b = got
		return err
	})
	return b
}
