package bot

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"salthand/store"
)

// sendAtOnce is how many unsent cards one look at the outbox takes up.
const sendAtOnce = 256

// send starts a sender for every channel that has unsent cards and none yet.
func (b *Bot) send() {
	b.mu.Lock()
	ready := b.running
	b.mu.Unlock()
	if !ready {
		return
	}
	posts, err := b.unsent()
	if err != nil {
		b.Log.Error("the outbox could not be read", "err", err)
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, p := range posts {
		at, err := placeOf(p)
		if err != nil || b.sending[at.channel().String()] || b.ctx.Err() != nil {
			continue
		}
		b.sending[at.channel().String()] = true
		b.busy++
		b.work.Go(func() { b.sendChannel(at.channel().String()) })
	}
}

func (b *Bot) unsent() (posts []store.Post, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		posts, err = tx.Unsent(sendAtOnce)
		return err
	})
	return posts, err
}

func placeOf(p store.Post) (at Place, err error) {
	err = json.Unmarshal(p.Place, &at)
	return at, err
}

// sendChannel posts a channel's cards in order, paced, until none is left or one fails; a
// failed one is tried again after a wait that doubles.
func (b *Bot) sendChannel(channel string) {
	wait := b.Retry
	for {
		p, ok := b.firstUnsent(channel)
		if !ok {
			// Under the lock a turn can't slip its card in between: send sees us gone.
			return
		}
		pace, err := b.postOne(p)
		if err == nil {
			wait = b.Retry
		} else {
			b.Log.Error("a card could not be posted", "card", p.Key, "revision", p.Revision, "err", err)
			pace, wait = wait, min(2*wait, b.RetryMax)
		}
		if !b.pause(pace) {
			b.leave(channel)
			return
		}
	}
}

// firstUnsent is the channel's oldest unsent card. Where there is none, the channel's
// sender is struck off before anybody else can look.
func (b *Bot) firstUnsent(channel string) (store.Post, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	posts, err := b.unsent()
	if err != nil {
		b.Log.Error("the outbox could not be read", "err", err)
	}
	for _, p := range posts {
		if at, err := placeOf(p); err == nil && at.channel().String() == channel && b.ctx.Err() == nil {
			return p, true
		}
	}
	b.left(channel)
	return store.Post{}, false
}

func (b *Bot) leave(channel string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.left(channel)
}

func (b *Bot) left(channel string) {
	delete(b.sending, channel)
	b.busy--
	b.change.Broadcast()
}

// pause waits; it reports false when the bot is stopping.
func (b *Bot) pause(d time.Duration) bool {
	if d <= 0 {
		return b.ctx.Err() == nil
	}
	select {
	case <-time.After(d):
		return true
	case <-b.ctx.Done():
		return false
	}
}

// postOne posts one card and writes the platform's id back. It is the only place that
// posts. A refusal for good ends the entry.
func (b *Bot) postOne(p store.Post) (pace time.Duration, err error) {
	at, err := placeOf(p)
	if err != nil {
		return 0, err
	}
	var c Card
	if err := json.Unmarshal(p.Card, &c); err != nil {
		return 0, err
	}
	chat := b.chat(at.Platform)
	if chat == nil {
		return 0, errors.New("no chat for platform " + at.Platform)
	}
	var posted string
	err = b.Store.View(func(tx *store.Tx) error {
		posted, _, _, err = tx.PostedAs(p.Key)
		return err
	})
	if err != nil {
		return 0, err
	}
	id, postErr := chat.Post(b.ctx, at, c, posted)
	// What the platform said must be written even while the bot is stopping.
	err = b.Store.Update(context.WithoutCancel(b.ctx), func(tx *store.Tx) error {
		switch {
		case postErr == nil:
			return tx.Sent(p.Key, p.Revision, id)
		case errors.Is(postErr, ErrRefused):
			return tx.Refused(p.Key, p.Revision, postErr.Error())
		default:
			return tx.PostTried(p.Key, p.Revision)
		}
	})
	if err == nil && !errors.Is(postErr, ErrRefused) {
		err = postErr
	}
	return chat.Pace(), err
}

func (b *Bot) chat(platform string) Chat {
	for _, c := range b.Chats {
		if c.Platform() == platform {
			return c
		}
	}
	return nil
}
