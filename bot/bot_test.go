package bot

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"go.uber.org/goleak"

	"salthand/store"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// morning is when the tests' kitchen begins its day.
var morning = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// table is a chat that keeps what was posted, and fails when it is told to.
type table struct {
	mu      sync.Mutex
	cards   []Card
	at      []Place
	doubted []bool                      // whether a posting was doubtful, in order
	shown   map[string]Card             // dose cards as they were brought up to date, by key
	fail    func(try int, c Card) error // nil: never
	tries   int
}

func (t *table) Platform() string    { return "table" }
func (t *table) Pace() time.Duration { return 0 }
func (t *table) Run(ctx context.Context, _ Front) error {
	<-ctx.Done()
	return ctx.Err()
}

func (t *table) Post(_ context.Context, p Posting) (string, error) {
	at, c := p.At, p.Card
	t.mu.Lock()
	defer t.mu.Unlock()
	t.tries++
	t.doubted = append(t.doubted, p.Doubtful)
	if t.fail != nil {
		if err := t.fail(t.tries, c); err != nil {
			return "", err
		}
	}
	if p.Posted != "" && len(c.Status) > 0 {
		if t.shown == nil {
			t.shown = map[string]Card{}
		}
		t.shown[c.Key] = c
		return p.Posted, nil
	}
	t.cards, t.at = append(t.cards, c), append(t.at, at)
	return fmt.Sprint(len(t.cards)), nil
}

// last is the newest card.
func (t *table) last() Card {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.cards) == 0 {
		return Card{}
	}
	return t.cards[len(t.cards)-1]
}

// of counts the cards of a kind.
func (t *table) of(k Kind) (n int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, c := range t.cards {
		if c.Kind == k {
			n++
		}
	}
	return n
}

// kitchen is a bot with a real store in a folder of the test's own, and a clock.
type kitchen struct {
	*Bot
	t     testing.TB
	table *table
	mu    sync.Mutex
	now   time.Time
	count int
	path  string
	stop  func()
}

var tableChannel = Place{Platform: "table", Team: "t", Channel: "cures"}

// openKitchen opens a kitchen with the chefs ana and ben. When the test ends every record
// must agree with its events.
func openKitchen(t testing.TB) *kitchen {
	t.Helper()
	k := &kitchen{t: t, table: &table{}, now: morning, path: filepath.Join(t.TempDir(), "kitchen.db")}
	k.open()
	err := k.Open(t.Context(), Setup{Name: "test", Region: "us", Zone: "America/Chicago", Cure: tableChannel,
		Chefs: []Chef{{"ana", account("ana")}, {"ben", account("ben")}}})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		differences, err := k.Store.Verify()
		if err != nil || len(differences) > 0 {
			t.Errorf("records differ from their events: %v %v", differences, err)
		}
		k.close()
	})
	return k
}

func account(name string) Account { return Account{Platform: "table", Team: "t", User: name} }

func (k *kitchen) open() {
	k.t.Helper()
	s, err := store.Open(k.path, store.Options{})
	if err != nil {
		k.t.Fatal(err)
	}
	k.Bot = New(s, slog.New(slog.DiscardHandler), k.table)
	k.Now = func() time.Time {
		k.mu.Lock()
		defer k.mu.Unlock()
		return k.now
	}
	k.Retry, k.RetryMax = time.Millisecond, time.Millisecond
	ctx, cancel := context.WithCancel(context.Background())
	if err := k.Start(ctx); err != nil {
		k.t.Fatal(err)
	}
	k.stop = cancel
}

func (k *kitchen) close() {
	k.t.Helper()
	k.stop()
	k.Wait()
	if err := k.Store.Close(); err != nil {
		k.t.Error(err)
	}
}

// restart closes the store and opens it again.
func (k *kitchen) restart() {
	k.close()
	k.open()
}

// message is a line in the cure channel, or in the thread of an earlier message.
func (k *kitchen) message(name, text, thread string) Message {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.count++
	k.now = k.now.Add(time.Second)
	m := Message{ID: fmt.Sprint("m", k.count), Place: tableChannel, Account: account(name), Name: name, What: Said, Text: text}
	m.Place.Thread = thread
	if thread == "" {
		m.Place.Thread, m.Top = m.ID, true
	}
	return m
}

// say delivers a line and waits for everything that follows from it.
func (k *kitchen) say(name, text, thread string) Message {
	k.t.Helper()
	m := k.message(name, text, thread)
	k.deliver(m)
	return m
}

func (k *kitchen) deliver(m Message) {
	k.t.Helper()
	if _, err := k.Receive(k.t.Context(), m); err != nil {
		k.t.Fatal(err)
	}
	k.settle()
}

func (k *kitchen) settle() {
	k.t.Helper()
	if err := k.Settle(k.t.Context()); err != nil {
		k.t.Fatal(err)
	}
}

// wait moves the clock and lets fall due what does.
func (k *kitchen) wait(d time.Duration) {
	k.t.Helper()
	k.mu.Lock()
	k.now = k.now.Add(d)
	k.mu.Unlock()
	k.settle()
}

// wantTitle fails where the newest card does not say so.
func (k *kitchen) wantTitle(part string) {
	k.t.Helper()
	if c := k.table.last(); !strings.Contains(c.Title, part) {
		k.t.Errorf("the newest card says %q, want %q in it", c.Title, part)
	}
}

// batch is a batch's record.
func (k *kitchen) batch(n uint64) (b store.Batch) {
	k.t.Helper()
	err := k.Store.View(func(tx *store.Tx) error {
		var ok bool
		var err error
		if b, ok, err = tx.Batch(homeKitchen, n); err == nil && !ok {
			err = fmt.Errorf("there is no batch %d", n)
		}
		return err
	})
	if err != nil {
		k.t.Fatal(err)
	}
	return b
}

func TestMessageIsTakenOnce(t *testing.T) {
	k := openKitchen(t)
	m := k.say("mira", exampleDose, "")
	k.deliver(m)
	k.restart()
	k.deliver(m)
	if n := k.table.of(DoseCard); n != 1 {
		t.Errorf("%d dose cards, want 1", n)
	}
}

// What was received before a stop is answered after the restart, and a card that could not
// be posted is posted then.
func TestRestartTakesUpWhatWasLeft(t *testing.T) {
	k := openKitchen(t)
	k.stop() // the bot still takes messages, and works on none
	k.Wait()
	if _, err := k.Receive(t.Context(), k.message("mira", exampleDose, "")); err != nil {
		t.Fatal(err)
	}
	if n := k.table.of(DoseCard); n != 0 {
		t.Fatalf("%d dose cards before the restart", n)
	}
	k.restart()
	k.settle()
	if n := k.table.of(DoseCard); n != 1 {
		t.Errorf("%d dose cards after the restart, want 1", n)
	}
}

func TestFailedPostIsTriedAgain(t *testing.T) {
	k := openKitchen(t)
	k.table.fail = func(try int, _ Card) error {
		if try <= 3 {
			return errors.New("the platform is away")
		}
		return nil
	}
	k.say("mira", exampleDose, "")
	if n := k.table.of(DoseCard); n != 1 {
		t.Errorf("%d dose cards, want 1", n)
	}
	if k.table.tries != 4 {
		t.Errorf("%d tries, want 4", k.table.tries)
	}
}

func TestRefusalForGoodEndsThePost(t *testing.T) {
	k := openKitchen(t)
	k.table.fail = func(int, Card) error { return fmt.Errorf("no such channel: %w", ErrRefused) }
	k.say("mira", exampleDose, "")
	var unsent []store.Post
	err := k.Store.View(func(tx *store.Tx) (err error) {
		unsent, err = tx.Unsent(0)
		return err
	})
	if err != nil || len(unsent) != 0 {
		t.Errorf("%d cards wait, want none (%v)", len(unsent), err)
	}
	if k.table.tries != 1 {
		t.Errorf("%d tries, want 1", k.table.tries)
	}
}

// A turn is deterministic in state and entry: run twice on the same state, it makes the same
// events and the same cards.
func TestTurnIsDeterministic(t *testing.T) {
	k := openKitchen(t)
	k.wantSameTwice(k.message("mira", exampleDose, ""))
}

// wantSameTwice gives a message its turn twice, each time on the records as they are now.
func (k *kitchen) wantSameTwice(m Message) {
	k.t.Helper()
	m.Received, m.At = k.Now(), k.Now()
	e := waiting{Entry: store.Entry{ID: m.entryID(), Conversation: m.Place.String(), Received: milli(m.Received)}, m: m}
	var runs [2][]string
	for i := range runs {
		err := k.Store.Update(k.t.Context(), func(tx *store.Tx) error {
			if err := k.newTurn(tx, e).take(parsed{}); err != nil {
				return err
			}
			runs[i] = nil
			ofBatch, err := tx.Events(homeKitchen, 1)
			if err != nil {
				return err
			}
			ofKitchen, err := tx.KitchenEvents(homeKitchen)
			if err != nil {
				return err
			}
			for _, ev := range append(ofBatch, ofKitchen...) {
				runs[i] = append(runs[i], fmt.Sprintf("%+v", ev))
			}
			posts, err := tx.Unsent(0)
			if err != nil {
				return err
			}
			if len(posts) == 0 {
				return errors.New("nothing was answered")
			}
			for _, p := range posts {
				runs[i] = append(runs[i], string(p.Card)+p.Op)
			}
			return errUndo
		})
		if !errors.Is(err, errUndo) {
			k.t.Fatal(err)
		}
	}
	if strings.Join(runs[0], "\n") != strings.Join(runs[1], "\n") {
		k.t.Errorf("two runs of one turn differ:\n%v\n%v", runs[0], runs[1])
	}
}

func TestManyConversationsAtOnce(t *testing.T) {
	k := openKitchen(t)
	var all sync.WaitGroup
	for i := range 50 {
		m := k.message(fmt.Sprint("cook", i%5), exampleDose, "")
		all.Go(func() {
			if _, err := k.Receive(t.Context(), m); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	k.settle()
	seen := map[uint64]bool{}
	for _, c := range k.table.cards {
		seen[c.Batch] = true
	}
	if len(seen) != 50 || seen[0] {
		t.Errorf("%d batches, want 50, each with a number", len(seen))
	}
}
