package store

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"testing"
)

// together runs closures that share a commit: the first holds the writer until the others
// wait in its queue, in order.
func together(t *testing.T, s *Store, fns ...func(*Tx) error) []error {
	t.Helper()
	running, release := make(chan struct{}), make(chan struct{})
	var wg sync.WaitGroup
	var once sync.Once
	wg.Go(func() {
		err := s.Update(context.Background(), func(*Tx) error {
			once.Do(func() { close(running) })
			<-release
			return nil
		})
		if err != nil {
			t.Error(err)
		}
	})
	<-running
	errs := make([]error, len(fns))
	for i, fn := range fns {
		wg.Go(func() { errs[i] = s.Update(context.Background(), fn) })
		for len(s.writer.jobs) != i+1 {
			runtime.Gosched()
		}
	}
	close(release)
	wg.Wait()
	return errs
}

func receive(id string) func(*Tx) error {
	return func(tx *Tx) error {
		_, err := tx.Receive(Entry{ID: id, Conversation: "c"})
		return err
	}
}

func waitingIDs(t *testing.T, s *Store) (ids []string) {
	t.Helper()
	see(t, s, func(tx *Tx) error {
		entries, err := tx.Waiting(0)
		for _, e := range entries {
			ids = append(ids, e.ID)
		}
		return err
	})
	return ids
}

func TestOneFailureUndoesOnlyItself(t *testing.T) {
	s := opened(t)
	refused := errors.New("refused")
	then := func(id string, after func() error) func(*Tx) error {
		return func(tx *Tx) error {
			if err := receive(id)(tx); err != nil {
				return err
			}
			return after()
		}
	}
	errs := together(t, s,
		receive("a"),
		then("b", func() error { return refused }),
		receive("c"),
		then("d", func() error { panic("lost it") }),
		func(*Tx) error { return refused }, // wrote nothing
		receive("e"),
	)
	var panicked *PanicError
	for i, want := range []bool{true, false, true, false, false, true} {
		if (errs[i] == nil) != want {
			t.Errorf("closure %d: %v", i, errs[i])
		}
	}
	if !errors.Is(errs[1], refused) || !errors.Is(errs[4], refused) {
		t.Errorf("got %v and %v, want the closure's own error", errs[1], errs[4])
	}
	if !errors.As(errs[3], &panicked) || panicked.Value != "lost it" || len(panicked.Stack) == 0 {
		t.Errorf("got %v, want the panic", errs[3])
	}
	if got, want := fmt.Sprint(waitingIDs(t, s)), "[a c e]"; got != want {
		t.Errorf("kept %s, want %s", got, want)
	}
}

func TestClosuresRunInOrder(t *testing.T) {
	s := opened(t)
	var fns []func(*Tx) error
	want := make([]string, 0, 50)
	for i := range 50 {
		id := fmt.Sprint("m", i)
		want = append(want, id)
		fns = append(fns, receive(id))
	}
	for _, err := range together(t, s, fns...) {
		if err != nil {
			t.Error(err)
		}
	}
	if got := waitingIDs(t, s); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestNeighbours has many goroutines change the same records, a third of them in vain.
func TestNeighbours(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	const writers, each = 16, 20
	refused := errors.New("refused")
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for i := range each {
				err := s.Update(context.Background(), func(tx *Tx) error {
					n, err := tx.NextBatch(kitchen)
					if err != nil {
						return err
					}
					if _, err := tx.Append(of(n, ana, Milli(w*each+i), asked("belly", fmt.Sprint("c", w), 0))); err != nil {
						return err
					}
					if i%3 == 0 {
						return refused
					}
					return nil
				})
				if (i%3 == 0) != errors.Is(err, refused) {
					t.Errorf("writer %d, round %d: %v", w, i, err)
				}
			}
		})
	}
	wg.Wait()
	kept := 0
	for i := range each {
		if i%3 != 0 {
			kept++
		}
	}
	see(t, s, func(tx *Tx) error {
		k, _, err := tx.Kitchen(kitchen)
		if want := uint64(writers * kept); k.Batches != want {
			t.Errorf("%d batches, want %d", k.Batches, want)
		}
		for w := range writers {
			open, _, err := tx.BatchesIn(fmt.Sprint("c", w))
			if err != nil || len(open) != kept {
				t.Errorf("writer %d: %d batches (%v), want %d", w, len(open), err, kept)
			}
		}
		return err
	})
}

func TestCancelledBeforeItRan(t *testing.T) {
	s := opened(t)
	ctx, cancel := context.WithCancel(context.Background())
	running, release := make(chan struct{}), make(chan struct{})
	var once sync.Once
	var wg sync.WaitGroup
	wg.Go(func() {
		_ = s.Update(context.Background(), func(*Tx) error {
			once.Do(func() { close(running) })
			<-release
			return nil
		})
	})
	<-running
	var err error
	ran := false
	wg.Go(func() {
		err = s.Update(ctx, func(*Tx) error { ran = true; return nil })
	})
	for len(s.writer.jobs) != 1 {
		runtime.Gosched()
	}
	cancel()
	close(release)
	wg.Wait()
	if !errors.Is(err, context.Canceled) || ran {
		t.Errorf("got %v, ran %v; want it cancelled and not run", err, ran)
	}
	if err := s.Update(ctx, func(*Tx) error { ran = true; return nil }); !errors.Is(err, context.Canceled) || ran {
		t.Errorf("got %v, ran %v; want it refused at once", err, ran)
	}
}

func TestInsideAnUpdate(t *testing.T) {
	s := opened(t)
	do(t, s, func(*Tx) error {
		if err := s.Update(context.Background(), func(*Tx) error { return nil }); !errors.Is(err, ErrNested) {
			t.Errorf("Update: %v, want ErrNested", err)
		}
		if err := s.Close(); !errors.Is(err, ErrNested) {
			t.Errorf("Close: %v, want ErrNested", err)
		}
		return nil
	})
}

// TestUpdateWhileViewed grows the file while a view is held: the map must not move, or the
// two would wait for each other.
func TestUpdateWhileViewed(t *testing.T) {
	s := opened(t)
	see(t, s, func(*Tx) error {
		for i := range 8 {
			id := fmt.Sprint("m", i)
			do(t, s, func(tx *Tx) error {
				_, err := tx.Receive(Entry{ID: id, Message: make([]byte, 4<<20)})
				return err
			})
		}
		return nil
	})
	if got := len(waitingIDs(t, s)); got != 8 {
		t.Errorf("%d kept, want 8", got)
	}
}

func TestViewIsReadOnly(t *testing.T) {
	s := opened(t)
	err := s.View(receive("a"))
	if !errors.Is(err, ErrReadOnly) {
		t.Errorf("got %v, want ErrReadOnly", err)
	}
	var panicked *PanicError
	if err := s.View(func(*Tx) error { panic(errors.ErrUnsupported) }); !errors.As(err, &panicked) || !errors.Is(err, errors.ErrUnsupported) {
		t.Errorf("got %v, want the panic", err)
	}
}

func TestClosed(t *testing.T) {
	s := opened(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := s.Update(context.Background(), receive("a")); !errors.Is(err, ErrStopped) {
		t.Errorf("Update: %v, want ErrStopped", err)
	}
	if err := s.View(func(*Tx) error { return nil }); !errors.Is(err, ErrStopped) {
		t.Errorf("View: %v, want ErrStopped", err)
	}
	if err := s.Close(); err != nil {
		t.Errorf("a second Close: %v", err)
	}
}

// TestGoroutineEnded: a closure that ends the writer's goroutine breaks the store, and
// nobody waits for ever.
func TestGoroutineEnded(t *testing.T) {
	s := opened(t)
	errs := together(t, s, receive("a"), func(*Tx) error { runtime.Goexit(); return nil }, receive("b"))
	for i, err := range errs {
		if !errors.Is(err, ErrBroken) {
			t.Errorf("closure %d: %v, want ErrBroken", i, err)
		}
	}
	if err := s.Update(context.Background(), receive("c")); !errors.Is(err, ErrBroken) {
		t.Errorf("afterwards: %v, want ErrBroken", err)
	}
	if got := waitingIDs(t, s); len(got) != 0 {
		t.Errorf("kept %v, want nothing", got)
	}
}

// TestFull: what does not fit is refused, and the store goes on.
func TestFull(t *testing.T) {
	s := opened(t)
	s.engine.db.MaxSize = 4 << 20
	err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Receive(Entry{ID: "big", Message: make([]byte, 4<<20)})
		return err
	})
	if !errors.Is(err, ErrFull) {
		t.Errorf("got %v, want ErrFull", err)
	}
	do(t, s, receive("small"))
	if got := fmt.Sprint(waitingIDs(t, s)); got != "[small]" {
		t.Errorf("kept %s, want [small]", got)
	}
}

// TestCommitFails takes the file away from under the engine.
func TestCommitFails(t *testing.T) {
	s := opened(t)
	_ = s.engine.file.Close()
	for range 2 {
		if err := s.Update(context.Background(), receive("a")); !errors.Is(err, ErrBroken) {
			t.Errorf("got %v, want ErrBroken", err)
		}
	}
	_ = s.Close() // its file is gone
	s = openedAt(t, s.path)
	if got := waitingIDs(t, s); len(got) != 0 {
		t.Errorf("kept %v, want nothing", got)
	}
}
