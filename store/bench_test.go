package store

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// BenchmarkFloor is what the disk asks for a commit, and nothing else.
func BenchmarkFloor(b *testing.B) {
	commit := floor(b)
	for b.Loop() {
		commit()
	}
}

// floor gives the least that a commit can be: two writes of a page in a file that has its
// size already, each followed by fdatasync.
func floor(b *testing.B) (commit func()) {
	f, err := os.Create(filepath.Join(b.TempDir(), "floor"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = f.Close() })
	page := bytes.Repeat([]byte{0xA5}, 4096)
	write := func(at int64) {
		if _, err := f.WriteAt(page, at); err != nil {
			b.Fatal(err)
		}
		if err := syscall.Fdatasync(int(f.Fd())); err != nil {
			b.Fatal(err)
		}
	}
	commit = func() { write(0); write(4096) }
	commit()
	return commit
}

// beside runs work next to as many bare commits as it makes, one after the other, so that
// both meet the same disk, and reports how many times longer the work takes.
func beside(b *testing.B, commits int, work func(i int)) {
	commit := floor(b)
	var bare, worked time.Duration
	for i := 0; b.Loop(); i++ {
		begun := time.Now()
		for range commits {
			commit()
		}
		between := time.Now()
		work(i)
		bare += between.Sub(begun)
		worked += time.Since(between)
	}
	b.ReportMetric(0, "ns/op") // the two together mean nothing
	b.ReportMetric(float64(worked.Nanoseconds())/float64(b.N), "work-ns/op")
	b.ReportMetric(float64(bare.Nanoseconds())/float64(b.N), "floor-ns/op")
	b.ReportMetric(float64(worked)/float64(bare), "x-floor")
}

func benchEvent(n uint64, conversation string) Event {
	return of(n, ana, Milli(n)*minute, asked("belly", conversation, Milli(n)*minute+day))
}

func askOne(s *Store, conversation string) error {
	return s.Update(context.Background(), func(tx *Tx) error {
		n, err := tx.NextBatch(kitchen)
		if err != nil {
			return err
		}
		_, err = tx.Append(benchEvent(n, conversation))
		return err
	})
}

// BenchmarkUpdate is one event with its batch and indexes, alone.
func BenchmarkUpdate(b *testing.B) {
	s := opened(b)
	peopled(b, s)
	beside(b, 1, func(int) {
		if err := askOne(s, "c"); err != nil {
			b.Fatal(err)
		}
	})
}

// BenchmarkTurn is the two commits of a turn: a message is taken; then it becomes an event
// and a card, and is closed.
func BenchmarkTurn(b *testing.B) {
	s := opened(b)
	peopled(b, s)
	message := []byte(`{"text":"3.2 kg belly, dry rub, 7 days","place":"term","account":"ana"}`)
	beside(b, 2, func(i int) {
		id := fmt.Sprint("term/cure/", i)
		do(b, s, func(tx *Tx) error {
			_, err := tx.Receive(Entry{ID: id, Conversation: id, Received: Milli(i), Message: message})
			return err
		})
		do(b, s, func(tx *Tx) error {
			n, err := tx.NextBatch(kitchen)
			if err != nil {
				return err
			}
			if _, err := tx.Append(benchEvent(n, id)); err != nil {
				return err
			}
			if err := tx.Queue(Post{Key: id, Revision: 1, Card: message}); err != nil {
				return err
			}
			return tx.CloseEntry(id, "done", Milli(i))
		})
	})
}

// BenchmarkUpdateParallel64 is the same from 64 goroutines that share commits.
func BenchmarkUpdateParallel64(b *testing.B) {
	s := opened(b)
	peopled(b, s)
	var left atomic.Int64
	left.Store(int64(b.N))
	var wg sync.WaitGroup
	b.ResetTimer()
	for w := range 64 {
		wg.Go(func() {
			for left.Add(-1) >= 0 {
				if err := askOne(s, fmt.Sprint("c", w)); err != nil {
					b.Error(err)
				}
			}
		})
	}
	wg.Wait()
	b.StopTimer()
}

// benchDir is removed when all is done.
var benchDir string

// big is a store of 50,000 batches, made once for all benchmarks.
var big = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "store-bench-*")
	if err != nil {
		return "", err
	}
	benchDir = dir
	path := filepath.Join(dir, "big.db")
	s, err := Open(path, Options{})
	if err != nil {
		return "", err
	}
	defer s.Close()
	if err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(of(0, "", 1, KitchenOpened{Name: "k"}))
		return err
	}); err != nil {
		return "", err
	}
	cuts := []string{"belly", "loin", "ham", "brisket", "coppa"}
	for n := uint64(1); n <= 50_000; {
		err := s.Update(context.Background(), func(tx *Tx) error {
			for end := n + 1000; n < end; n++ {
				e := benchEvent(n, fmt.Sprint("c", n))
				body := e.Body.(Asked)
				body.Card.Cut = cuts[n%5]
				e.Body = body
				if _, err := tx.Append(e); err != nil {
					return err
				}
				if n%3 != 0 {
					continue
				}
				if _, err := tx.Append(of(n, ben, e.Happened+minute, approved(1, 0))); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return "", err
		}
	}
	return path, nil
})

func openBig(b *testing.B) *Store {
	b.Helper()
	path, err := big()
	if err != nil {
		b.Fatal(err)
	}
	s, err := Open(path, Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		if err := s.Close(); err != nil {
			b.Error(err)
		}
	})
	return s
}

// BenchmarkPage is a page of 20 out of 50,000 batches: by an index alone, and where three
// have to meet.
func BenchmarkPage(b *testing.B) {
	s := openBig(b)
	for name, q := range map[string]Query{
		"all":   {},
		"cut":   {Cut: "belly", From: 1000 * minute, To: 40_000 * minute},
		"three": {Cut: "belly", Person: ben, State: StateApproved},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				see(b, s, func(tx *Tx) error {
					page, _, err := tx.Batches(kitchen, q)
					if len(page) != pageLimit {
						b.Fatalf("a page of %d", len(page))
					}
					return err
				})
			}
		})
	}
}

// BenchmarkOpen opens and closes a store, small and large.
func BenchmarkOpen(b *testing.B) {
	openClose := func(b *testing.B, path string) {
		for b.Loop() {
			s, err := Open(path, Options{})
			if err != nil {
				b.Fatal(err)
			}
			if err := s.Close(); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.Run("new", func(b *testing.B) {
		dir := b.TempDir()
		for i := 0; b.Loop(); i++ {
			s, err := Open(filepath.Join(dir, fmt.Sprint(i)), Options{Scratch: true})
			if err != nil {
				b.Fatal(err)
			}
			if err := s.Close(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("small", func(b *testing.B) {
		s := opened(b)
		peopled(b, s)
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
		openClose(b, s.path)
	})
	b.Run("50000", func(b *testing.B) {
		path, err := big()
		if err != nil {
			b.Fatal(err)
		}
		openClose(b, path)
	})
}

// BenchmarkView is a view that reads one batch.
func BenchmarkView(b *testing.B) {
	s := openBig(b)
	b.ReportAllocs()
	for b.Loop() {
		see(b, s, func(tx *Tx) error {
			_, _, err := tx.Batch(kitchen, 25_000)
			return err
		})
	}
}
