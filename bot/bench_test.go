package bot

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"testing"

	"salthand/store"
)

// BenchmarkFloor is what the disk asks for four fdatasync, which are two commits: the inbox's
// and the turn's.
func BenchmarkFloor(b *testing.B) {
	f, err := os.Create(filepath.Join(b.TempDir(), "floor"))
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	page := make([]byte, 4096)
	for b.Loop() {
		for range 4 {
			if _, err := f.WriteAt(page, 0); err != nil {
				b.Fatal(err)
			}
			if err := syscall.Fdatasync(int(f.Fd())); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkTurnWithoutDisk is a dose phrase from the inbox entry to the card in the outbox,
// rolled back.
func BenchmarkTurnWithoutDisk(b *testing.B) {
	k := openKitchen(b)
	k.say("mira", exampleDose, "")
	r, _, err := k.look(k.message("mira", exampleDose, ""))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		m := k.message("mira", exampleDose, "")
		m.Received, m.At = k.Now(), k.Now()
		e := waiting{store.Entry{ID: m.entryID(), Conversation: m.Place.String(), Received: milli(m.Received)}, m, r.parsed}
		err := k.Store.Update(b.Context(), func(tx *store.Tx) error {
			if err := k.newTurn(tx, e).take(e.early); err != nil {
				return err
			}
			return errUndo
		})
		if !errors.Is(err, errUndo) {
			b.Fatal(err)
		}
	}
}

// BenchmarkTurnAlone is one message at a time, from Receive until its card is in the outbox:
// the inbox's commit and the turn's.
func BenchmarkTurnAlone(b *testing.B) {
	k := openKitchen(b)
	k.postNothing()
	for b.Loop() {
		k.oneTurn(0)
	}
}

// BenchmarkTurn64 is 64 conversations at once; ns/op is for one message.
func BenchmarkTurn64(b *testing.B) {
	k := openKitchen(b)
	k.postNothing()
	const conversations = 64
	n := 0
	for b.Loop() {
		if n++; n%conversations != 0 {
			continue
		}
		var all sync.WaitGroup
		for i := range conversations {
			all.Go(func() { k.oneTurn(i) })
		}
		all.Wait()
	}
}

// postNothing keeps every card in the outbox.
func (k *kitchen) postNothing() {
	k.Bot.mu.Lock()
	defer k.Bot.mu.Unlock()
	k.sending[tableChannel.String()] = true
}

// oneTurn asks for a look back, which makes one card and no batch, and waits until the turn
// is done.
func (k *kitchen) oneTurn(cook int) {
	k.t.Helper()
	m := k.message(fmt.Sprint("cook", cook), "how much for "+exampleDose, "")
	if _, err := k.Receive(k.t.Context(), m); err != nil {
		k.t.Fatal(err)
	}
	k.mu.Lock()
	conversation := m.Place.String()
	k.mu.Unlock()
	k.Bot.mu.Lock()
	for len(k.queues[conversation]) > 0 {
		k.change.Wait()
	}
	k.Bot.mu.Unlock()
}
