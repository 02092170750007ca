package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"salthand/store"
)

// heardEvery is how much newer a message has to be than the newest that was noted before it is
// noted too: each costs a commit. After a gap as much is read twice.
const heardEvery = time.Minute

// Watched is what a chat reads again after it heard nothing for a while.
type Watched struct {
	Since  time.Time // the newest message that was surely taken is no older; zero: none ever was
	Places []Place   // cure channels, home channels, and the threads of open batches, the newest first
}

// Watched tells a chat where it may have missed something, and since when. The first time that a
// chat asks counts as heard: whatever comes later and is missed is read again.
func (b *Bot) Watched(ctx context.Context, platform string) (w Watched, err error) {
	var heard store.Milli
	err = b.Store.View(func(tx *store.Tx) error {
		if heard = tx.Heard(platform); heard > 0 {
			w.Since = timeOf(heard).Add(-heardEvery)
		}
		w.Places, err = watchedIn(tx, platform, true)
		return err
	})
	if err != nil || heard > 0 {
		return w, err
	}
	now := milli(b.Now())
	return w, b.Store.Update(ctx, func(tx *store.Tx) error { return tx.KeepHeard(platform, now) })
}

// Channels are the cure channels and home channels of a platform.
func (b *Bot) Channels(platform string) (places []Place, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		places, err = watchedIn(tx, platform, false)
		return err
	})
	return places, err
}

// watchedIn are the channels of a platform, and the threads of open batches too where they are
// wanted; each once.
func watchedIn(tx *store.Tx, platform string, threads bool) (places []Place, err error) {
	add := func(all ...Place) {
		for _, p := range all {
			if p.Platform == platform && !slices.Contains(places, p) {
				places = append(places, p)
			}
		}
	}
	kitchens, err := tx.Kitchens()
	if err != nil {
		return nil, err
	}
	for _, k := range kitchens {
		add(homeChannels(k)...)
		for _, s := range strings.Split(k.Settings[setCureChannel], ",") {
			if s != "" {
				add(placeNamed(s))
			}
		}
		if !threads {
			continue
		}
		open, err := openThreads(tx, k.ID)
		if err != nil {
			return nil, err
		}
		add(open...)
	}
	return places, nil
}

// openThreads are the threads of a kitchen's open batches, the newest first.
func openThreads(tx *store.Tx, kitchen string) (threads []Place, err error) {
	var open []store.Batch
	for _, state := range store.OpenStates() {
		for q := (store.Query{State: state, Limit: 200}); ; {
			page, more, err := tx.Batches(kitchen, q)
			if err != nil {
				return nil, err
			}
			open = append(open, page...)
			if q.After = more; more == "" {
				break
			}
		}
	}
	slices.SortFunc(open, func(a, b store.Batch) int { return int(b.AskedAt - a.AskedAt) })
	for _, b := range open {
		at, err := placeOfBatch(b)
		if err != nil {
			return nil, err
		}
		threads = append(threads, at)
	}
	return threads, nil
}

// hear notes when a platform was last heard.
func (b *Bot) hear(ctx context.Context, m Message) error {
	if m.Again || m.Place.Platform == Terminal {
		return nil // others of the gap may still have to be read
	}
	at := milli(m.At)
	b.mu.Lock()
	fresh := at >= b.heard[m.Place.Platform]+store.Milli(heardEvery.Milliseconds())
	if fresh {
		b.heard[m.Place.Platform] = at
	}
	b.mu.Unlock()
	if !fresh {
		return nil
	}
	if err := b.Store.Update(ctx, func(tx *store.Tx) error { return tx.KeepHeard(m.Place.Platform, at) }); err != nil {
		return fmt.Errorf("noting when %s was heard: %w", m.Place.Platform, err)
	}
	return nil
}
