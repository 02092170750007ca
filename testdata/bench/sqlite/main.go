// Command sqlite asks the same questions of the same batches twice: of salthand's store, and of
// a SQLite database filled from it, and prints how long each took. It is a module of its own, so
// that the product doesn't depend on SQLite.
//
//	go test ./store -run Million -batches 50000 -years $PWD/years.db
//	cd testdata/bench/sqlite && go run . -store ../../../years.db -sqlite years.sqlite
package main

import (
	"context"
	"database/sql"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"time"

	"salthand/store"
)

func main() {
	storePath := flag.String("store", "", "the store, as TestMillion makes it")
	sqlitePath := flag.String("sqlite", "", "the SQLite database; filled from the store where there is none")
	asks := flag.Int("asks", 500, "how often each question is asked in a pass")
	flag.Parse()
	if err := run(context.Background(), *storePath, *sqlitePath, *asks); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, storePath, sqlitePath string, asks int) (err error) {
	begun := time.Now()
	s, err := store.Open(storePath, store.Options{ReadOnly: true})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	opened := time.Since(begun)
	if _, err := os.Stat(sqlitePath); errors.Is(err, fs.ErrNotExist) {
		begun = time.Now()
		if err := fill(ctx, s, sqlitePath); err != nil {
			return err
		}
		fmt.Println("filled in", time.Since(begun))
	}
	begun = time.Now()
	db, err := open(sqlitePath)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	fmt.Printf("opened: store %v, SQLite %v\n", opened, time.Since(begun))
	if err := sizes(storePath, sqlitePath); err != nil {
		return err
	}
	questions, err := questionsOf(s)
	if err != nil {
		return err
	}
	fmt.Printf("%-38s %5s %10s %10s %10s %10s %8s\n", "question", "found", "store p50", "p99", "SQLite p50", "p99", "ratio")
	for _, q := range questions {
		if err := both(ctx, s, db, q, asks); err != nil {
			return fmt.Errorf("%s: %w", q.name, err)
		}
	}
	return nil
}

func sizes(paths ...string) error {
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil {
			return err
		}
		fmt.Printf("%s: %d MiB\n", p, info.Size()>>20)
	}
	return nil
}

// both asks one question of both, one pass after the other, and prints the better of three each.
func both(ctx context.Context, s *store.Store, db *sql.DB, q question, asks int) error {
	var ours, theirs []uint64
	ask := func() (err error) { ours, err = askStore(s, q.query); return err }
	askSQL, err := prepare(ctx, db, q.query)
	if err != nil {
		return err
	}
	defer askSQL.close()
	var a, b figures
	for range 3 {
		if err := a.pass(asks, ask); err != nil {
			return err
		}
		if err := b.pass(asks, func() (err error) { theirs, err = askSQL.ask(ctx); return err }); err != nil {
			return err
		}
	}
	if !slices.Equal(ours, theirs) {
		return fmt.Errorf("the store found %v, SQLite %v", ours, theirs)
	}
	fmt.Printf("%-38s %5d %10v %10v %10v %10v %8.3f\n", q.name, len(ours), a.p50, a.p99, b.p50, b.p99, float64(a.p50)/float64(b.p50))
	return nil
}

// figures are the best of several passes.
type figures struct{ p50, p99 time.Duration }

func (f *figures) pass(asks int, ask func() error) error {
	took := make([]time.Duration, asks)
	for i := range took {
		begun := time.Now()
		if err := ask(); err != nil {
			return err
		}
		took[i] = time.Since(begun)
	}
	slices.Sort(took)
	p50, p99 := took[asks/2].Round(100), took[asks*99/100].Round(100)
	if f.p50 == 0 || p50 < f.p50 {
		f.p50 = p50
	}
	if f.p99 == 0 || p99 < f.p99 {
		f.p99 = p99
	}
	return nil
}
