package store

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

var (
	yearsFile    = flag.String("years", "", "the file of TestMillion: kept, and gone on with where it is there")
	yearsBatches = flag.Uint64("batches", 2_000, "how many batches TestMillion has, where it is not long")
)

// TestMillion asks a kitchen of many years and compares each page with a plain scan of its
// records. It logs how long that took, and asserts nothing about it.
func TestMillion(t *testing.T) {
	batches := *yearsBatches
	if *long {
		batches = 1_000_000
	}
	path := *yearsFile
	if path == "" {
		path = filepath.Join(t.TempDir(), "years.db")
	}
	makeYears(t, path, batches)
	s := openTimed(t, path, "opened")
	rows := plainRows(t, s)
	for _, q := range yearsQueries(rows) {
		t.Run(q.name, func(t *testing.T) { askYears(t, s, q.query, rows) })
	}
	rows = nil
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	t.Logf("heap in use: %d MiB", m.HeapInuse>>20)
	// A commit beside a view does not list the free pages; killed right behind it, they are
	// looked for.
	begun := time.Now()
	see(t, s, func(*Tx) error {
		return s.Update(context.Background(), func(tx *Tx) error {
			_, err := tx.Receive(Entry{ID: fmt.Sprint(begun.UnixNano()), Conversation: "c"})
			return err
		})
	})
	s.engine.unlisted = false // so that closing does not list them either
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = openTimed(t, path, "opened after a kill beside a view")
	if !*long {
		sound(t, s)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

func makeYears(t *testing.T, path string, batches uint64) {
	t.Helper()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	s.engine.db.NoSync = *long // only the filling
	begun := time.Now()
	fillYears(t, s, batches)
	if err := s.engine.db.Sync(); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d batches filled in %v: %d MiB", batches, time.Since(begun), info.Size()>>20)
}

func openTimed(t *testing.T, path, how string) *Store {
	t.Helper()
	begun := time.Now()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s in %v", how, time.Since(begun))
	return s
}

// plainRow is what a query is answered from the plain way.
type plainRow struct {
	number  uint64
	askedAt Milli
	cut     string
	state   State
	held    bool
	people  [3]string
	jar     FillingOf
	lot     string
	recipe  string
	version uint32
}

// plainRows reads every record, the newest first.
func plainRows(t *testing.T, s *Store) (rows []plainRow) {
	t.Helper()
	same := map[string]string{}
	one := func(s string) string { // so that equal texts are kept once
		if same[s] == "" {
			same[s] = s
		}
		return same[s]
	}
	see(t, s, func(tx *Tx) error {
		return tx.scan(bucketBatches, nil, nil, func(_ key, v []byte) (bool, error) {
			var b Batch
			if err := decode(v, &b); err != nil {
				return false, err
			}
			r := plainRow{
				number: b.Number, askedAt: b.AskedAt, cut: one(b.Card.Cut), state: State(one(string(b.State))), held: b.Held() && b.Open(),
				jar: FillingOf{one(b.Card.Jar), b.Card.Filling}, lot: one(b.Card.Lot), recipe: one(b.Card.Recipe), version: b.Card.RecipeVersion,
			}
			for i, p := range b.People {
				r.people[i] = one(p)
			}
			rows = append(rows, r)
			return true, nil
		})
	})
	slices.SortFunc(rows, func(a, b plainRow) int {
		if a.askedAt != b.askedAt {
			return int(b.askedAt - a.askedAt)
		}
		return int(b.number) - int(a.number)
	})
	return rows
}

func (r plainRow) fits(q Query) bool {
	return (q.Cut == "" || r.cut == q.Cut) && (q.Person == "" || slices.Contains(r.people[:], q.Person)) && (q.State == "" || r.state == q.State) &&
		(!q.Held || r.held) && (q.Jar == "" || r.jar.Jar == q.Jar && (q.Filling == 0 || r.jar.Number == q.Filling)) && (q.Lot == "" || r.lot == q.Lot) &&
		(q.Recipe == "" || r.recipe == q.Recipe && (q.Version == 0 || r.version == q.Version)) && r.has(q.Words) && (q.From == 0 || r.askedAt >= q.From) && (q.To == 0 || r.askedAt < q.To)
}

// has tells whether each word begins one of the cut's or of the recipe's.
func (r plainRow) has(words []string) bool {
	said := WordsIn(r.cut + " " + r.recipe)
	return !slices.ContainsFunc(words, func(w string) bool {
		return !slices.ContainsFunc(said, func(s string) bool { return strings.HasPrefix(s, w) })
	})
}

type namedQuery struct {
	name  string
	query Query
}

// yearsQueries narrow by everything, alone and together; by what is common, rare and absent.
func yearsQueries(rows []plainRow) []namedQuery {
	newest, oldest := rows[0].askedAt, rows[len(rows)-1].askedAt
	middle := oldest + (newest-oldest)/2
	common, odd, rare := handNamed(0), handNamed(1), handNamed(yearsHands-1)
	belly, last := cutNamed(0), cutNamed(yearsCuts-1)
	return []namedQuery{
		{"all", Query{}},
		{"cut", Query{Cut: belly}},
		{"rare cut", Query{Cut: last}},
		{"person", Query{Person: common}},
		{"finished", Query{State: StateFinished}},
		{"discarded", Query{State: StateDiscarded}},
		{"curing", Query{State: StateCuring}},
		{"held", Query{Held: true}},
		{"month", Query{From: middle, To: middle + 30*day}},
		{"person and cut", Query{Person: common, Cut: belly}},
		{"person and cut that seldom meet", Query{Person: odd, Cut: belly}},
		{"person and state", Query{Person: rare, State: StateDeclined}},
		{"cut and state", Query{Cut: last, State: StateLapsed}},
		{"cut, person and state", Query{Cut: last, Person: rare, State: StateDiscarded}},
		{"cut and curing", Query{Cut: belly, State: StateCuring}},
		{"person and held", Query{Person: rare, Held: true}},
		{"cut, person and state in a month", Query{Cut: belly, Person: common, State: StateFinished, From: middle, To: middle + 30*day}},
		{"nobody", Query{Person: "nobody", Cut: belly}},
		{"jar", Query{Jar: jarNamed(0)}},
		{"filling", Query{Jar: jarNamed(0), Filling: 2}},
		{"lot", Query{Lot: "L0"}},
		{"recipe", Query{Recipe: "house " + belly}},
		{"version of a recipe", Query{Recipe: "house " + belly, Version: 1}},
		{"jar and person", Query{Jar: jarNamed(1), Person: rare}},
		{"jar, cut and person that seldom meet", Query{Jar: jarNamed(0), Person: odd, Cut: belly}},
		{"lot and person", Query{Lot: "L0", Person: rare}},
		{"recipe and person that seldom meet", Query{Recipe: "house " + belly, Person: odd}},
		{"recipe of another cut", Query{Recipe: "house " + belly, Cut: last}},
		{"version and person", Query{Recipe: "house " + belly, Version: 1, Person: rare}},
		{"word", Query{Words: []string{"belly"}}},
		{"beginning of a word", Query{Words: []string{"bel"}}},
		{"words that never meet", Query{Words: []string{"belly", "ham"}}},
		{"word and person", Query{Words: []string{"ham"}, Person: rare}},
		{"word and person that seldom meet", Query{Words: []string{"belly"}, Person: odd, Cut: belly}},
	}
}

// askYears compares the first two pages of a query and takes the time of the first.
func askYears(t *testing.T, s *Store, q Query, rows []plainRow) {
	q.Limit = 10
	var want, got []uint64
	for _, r := range rows {
		if r.fits(q) {
			if want = append(want, r.number); len(want) == 2*q.Limit {
				break
			}
		}
	}
	ask := func(q Query) (numbers []uint64, more string) {
		see(t, s, func(tx *Tx) error {
			page, next, err := tx.Batches(kitchen, q)
			for _, b := range page {
				numbers = append(numbers, b.Number)
			}
			more = next
			return err
		})
		return numbers, more
	}
	got, more := ask(q)
	if more != "" {
		second := q
		second.After = more
		next, _ := ask(second)
		got = append(got, next...)
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	runtime.LockOSThread() // whose own time is taken too: it does not tell of neighbours
	defer runtime.UnlockOSThread()
	var p50, p99, own []time.Duration // of each pass
	for range 5 {
		took, used := make([]time.Duration, 500), make([]time.Duration, 500)
		for i := range took {
			begun, worked := time.Now(), threadTime(t)
			ask(q)
			took[i], used[i] = time.Since(begun), threadTime(t)-worked
		}
		slices.Sort(took)
		slices.Sort(used)
		p50, p99, own = append(p50, took[len(took)/2]), append(p99, took[len(took)*99/100]), append(own, used[len(used)*99/100])
	}
	t.Logf("first page of %d: p50 %v, p99 %v; the best of five passes %v, %v; p99 of processor time %v, best %v",
		min(len(want), q.Limit), p50[0], p99[0], slices.Min(p50), slices.Min(p99), own[0], slices.Min(own))
}

// threadTime is the processor time that this thread has used.
func threadTime(t *testing.T) time.Duration {
	var at unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_THREAD_CPUTIME_ID, &at); err != nil {
		t.Fatal(err)
	}
	return time.Duration(at.Nano())
}
