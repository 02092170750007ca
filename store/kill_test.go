package store

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// writeUntilKilled is the child: several goroutines take messages, make batches of them, and
// print the number of each once it is said to be kept.
func writeUntilKilled(path string) {
	s, err := Open(path, Options{})
	if err != nil {
		fmt.Println("error", err)
		return
	}
	var out sync.Mutex
	var wg sync.WaitGroup
	for w := range 8 {
		wg.Go(func() {
			for i := 0; ; i++ {
				id := fmt.Sprintf("%d-%d-%d", os.Getpid(), w, i)
				n := uint64(0)
				err := s.Update(context.Background(), func(tx *Tx) error {
					if _, err := tx.Receive(Entry{ID: id, Conversation: id}); err != nil {
						return err
					}
					var err error
					if n, err = tx.NextBatch(kitchen); err != nil {
						return err
					}
					if _, err := tx.Append(of(n, ana, Milli(n), asked("belly", id, day))); err != nil {
						return err
					}
					if err := tx.Queue(Post{Key: id, Revision: 1}); err != nil {
						return err
					}
					return tx.CloseEntry(id, "done", 1)
				})
				out.Lock()
				if err != nil {
					fmt.Println("error", err)
				} else {
					fmt.Println(n, id)
				}
				out.Unlock()
			}
		})
	}
	wg.Wait()
}

// TestKilled kills a process that writes, over and over, and looks for what it said was kept.
func TestKilled(t *testing.T) {
	rounds := 3
	if *long {
		rounds = 200
	}
	path := filepath.Join(t.TempDir(), "kitchen.db")
	s := openedAt(t, path)
	peopled(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	kept := map[string]uint64{} // message → batch
	for round := range rounds {
		child := exec.Command(os.Args[0])
		child.Env = append(os.Environ(), childEnv+"="+path)
		pipe, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(pipe)
		for seen := 0; lines.Scan(); seen++ {
			if seen == 40+round*7%50 {
				if err := child.Process.Kill(); err != nil {
					t.Fatal(err)
				}
			}
			if strings.HasPrefix(lines.Text(), "error") {
				t.Fatal(lines.Text())
			}
			var n uint64
			var id string
			if _, err := fmt.Sscan(lines.Text(), &n, &id); err == nil { // the last line may be cut
				kept[id] = n
			}
		}
		_ = child.Wait() // killed
		s, err := Open(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		sound(t, s)
		see(t, s, func(tx *Tx) error {
			for id, n := range kept {
				b, ok, err := tx.Batch(kitchen, n)
				if err != nil || !ok || b.Conversation != id {
					t.Errorf("round %d: batch %d of %s: %v, %v, of %q", round, n, id, ok, err, b.Conversation)
				}
				e, ok, err := tx.Entry(id)
				if err != nil || !ok || e.Outcome != "done" {
					t.Errorf("round %d: message %s: %v, %v, %q", round, id, ok, err, e.Outcome)
				}
			}
			posts, err := tx.Unsent(0)
			if len(posts) < len(kept) {
				t.Errorf("round %d: %d posts for %d batches", round, len(posts), len(kept))
			}
			return err
		})
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if len(kept) < rounds*40 {
		t.Errorf("only %d writes in %d rounds", len(kept), rounds)
	}
}
