package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"
)

// share is the most closures that share a commit.
const share = 256

// job is one closure waiting for the writer.
type job struct {
	ctx  context.Context
	fn   func(*Tx) error
	done chan error // one answer
}

// writer is the one goroutine that changes the file. It drains a channel: whatever waits
// there when it looks shares the next commit.
type writer struct {
	engine *engine
	jobs   chan *job
	ended  chan struct{}
	self   atomic.Uint64 // the writer's goroutine

	mu      sync.RWMutex // held for reading while sending to jobs
	stopped bool
	broken  error // of the writer's goroutine alone
}

func newWriter(e *engine) *writer {
	w := &writer{engine: e, jobs: make(chan *job, share), ended: make(chan struct{})}
	go w.loop()
	return w
}

// update hands a closure to the writer and waits for its commit.
func (w *writer) update(ctx context.Context, fn func(*Tx) error) error {
	if w.inside() {
		return ErrNested
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	j := &job{ctx: ctx, fn: fn, done: make(chan error, 1)}
	if err := w.send(j); err != nil {
		return err
	}
	return <-j.done
}

func (w *writer) send(j *job) error {
	w.mu.RLock()
	defer w.mu.RUnlock()
	if w.stopped {
		return ErrStopped
	}
	select {
	case w.jobs <- j:
		return nil
	case <-j.ctx.Done():
		return j.ctx.Err()
	}
}

// stop refuses new closures and waits for those that were taken.
func (w *writer) stop() {
	w.mu.Lock()
	first := !w.stopped
	w.stopped = true
	w.mu.Unlock()
	if first {
		close(w.jobs)
	}
	<-w.ended
}

func (w *writer) loop() {
	w.self.Store(goroutine())
	var batch []*job
	whole := false
	defer func() {
		if !whole { // a closure ended this goroutine, as testing.T.FailNow does
			w.broken = errors.New("a closure ended the writer")
			answer(batch, w.breakage())
			go w.loop() // to refuse the rest
			return
		}
		close(w.ended)
	}()
	for j := range w.jobs {
		batch = append(batch[:0], j)
	drain:
		for len(batch) < share {
			select {
			case j, ok := <-w.jobs:
				if !ok {
					break drain
				}
				batch = append(batch, j)
			default:
				break drain
			}
		}
		w.run(batch)
	}
	whole = true
}

// run runs closures in order and answers each. One that fails undoes only itself: what it
// wrote is rolled back with all the rest, and the rest runs again.
func (w *writer) run(batch []*job) {
	for again := true; again; {
		if w.broken != nil {
			answer(batch, w.breakage())
			return
		}
		batch, again = w.try(batch)
	}
}

// try gives the closures still to be run, and whether there is anything left to do.
func (w *writer) try(batch []*job) (rest []*job, again bool) {
	c, err := w.engine.begin()
	if err != nil {
		w.broken = err
		return batch, true
	}
	defer c.rollback() // does nothing after an end; a closure may end this goroutine
	counter := &counted{buckets: c}
	tx := &Tx{counter}
	var ran []*job
	for i, j := range batch {
		if err := j.ctx.Err(); err != nil {
			j.done <- err
			continue
		}
		before := counter.writes
		err := guarded(func() error { return j.fn(tx) })
		if err == nil {
			ran = append(ran, j)
			continue
		}
		j.done <- err
		if counter.writes == before {
			continue // nothing to undo
		}
		rest = append(ran, batch[i+1:]...)
		return rest, len(rest) > 0
	}
	if counter.writes == 0 {
		answer(ran, nil)
		return nil, false
	}
	err = c.commit()
	switch {
	case errors.Is(err, ErrFull):
		answer(ran, ErrFull)
	case err != nil:
		w.broken = err
		answer(ran, w.breakage())
	default:
		answer(ran, nil)
	}
	return nil, false
}

func (w *writer) breakage() error { return fmt.Errorf("%w: %w", ErrBroken, w.broken) }

func answer(batch []*job, err error) {
	for _, j := range batch {
		select {
		case j.done <- err:
		default: // has its answer
		}
	}
}

// counted counts what is written.
type counted struct {
	buckets
	writes int
}

func (c *counted) put(in bucket, k key, v []byte) error {
	c.writes++
	return c.buckets.put(in, k, v)
}

func (c *counted) del(in bucket, k key) error {
	c.writes++
	return c.buckets.del(in, k)
}

func (c *counted) next(in bucket) (uint64, error) {
	c.writes++
	return c.buckets.next(in)
}

// inside tells whether the caller is a closure that the writer runs: waiting for the writer
// would be waiting for itself.
func (w *writer) inside() bool { return goroutine() == w.self.Load() }

// goroutine is the number of the calling goroutine, as a stack trace names it.
func goroutine() uint64 {
	var buf [40]byte
	line := buf[:runtime.Stack(buf[:], false)] // "goroutine 18 [running]:…"
	fields := bytes.Fields(line)
	if len(fields) < 2 {
		return 0
	}
	n, _ := strconv.ParseUint(string(fields[1]), 10, 64)
	return n
}
