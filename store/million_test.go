package store

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"
)

// TestMillion asks a kitchen of many years and compares each page with a plain scan of its
// records. It logs how long that took, and asserts nothing about it.
func TestMillion(t *testing.T) {
	batches := uint64(2_000)
	if *long {
		batches = 1_000_000
	}
	path := filepath.Join(t.TempDir(), "years.db")
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
	begun = time.Now()
	if s, err = Open(path, Options{}); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	t.Logf("opened in %v", time.Since(begun))
	rows := plainRows(t, s)
	for _, q := range yearsQueries(rows) {
		t.Run(q.name, func(t *testing.T) { askYears(t, s, q.query, rows) })
	}
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	t.Logf("heap in use with the rows to compare with: %d MiB", m.HeapInuse>>20)
	if !*long {
		sound(t, s)
	}
}

// plainRow is what a query is answered from the plain way.
type plainRow struct {
	number  uint64
	askedAt Milli
	cut     string
	state   State
	held    bool
	people  [3]string
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
			r := plainRow{b.Number, b.AskedAt, one(b.Card.Cut), State(one(string(b.State))), b.Held() && b.Open(), [3]string{}}
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
		(!q.Held || r.held) && (q.From == 0 || r.askedAt >= q.From) && (q.To == 0 || r.askedAt < q.To)
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
	var p50, p99 []time.Duration // of each pass
	for range 5 {
		took := make([]time.Duration, 500)
		for i := range took {
			begun := time.Now()
			ask(q)
			took[i] = time.Since(begun)
		}
		slices.Sort(took)
		p50, p99 = append(p50, took[len(took)/2]), append(p99, took[len(took)*99/100])
	}
	t.Logf("first page of %d: p50 %v, p99 %v; the best of five passes %v, %v", min(len(want), q.Limit), p50[0], p99[0], slices.Min(p50), slices.Min(p99))
}
