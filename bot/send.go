package bot

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"salthand/store"
)

// send starts a sender for every channel that has unsent cards and none yet.
func (b *Bot) send() {
	b.mu.Lock()
	ready := b.running
	b.mu.Unlock()
	if !ready {
		return
	}
	var channels []string
	err := b.Store.View(func(tx *store.Tx) (err error) {
		channels, err = tx.UnsentChannels()
		return err
	})
	if err != nil {
		b.Log.Error("the outbox could not be read", "err", err)
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, c := range channels {
		if b.sending[c] || b.ctx.Err() != nil {
			continue
		}
		b.sending[c] = true
		b.busy++
		b.work.Go(func() { b.sendChannel(c) })
	}
}

func placeOf(p store.Post) (at Place, err error) {
	err = json.Unmarshal(p.Place, &at)
	return at, err
}

// sendChannel posts a channel's cards in order, paced, until none is left or the bot stops;
// a failed one is tried again after a wait that doubles.
func (b *Bot) sendChannel(channel string) {
	wait := b.Retry
	for {
		p, ok := b.firstUnsent(channel)
		if !ok {
			return
		}
		pace, err := b.postOne(p)
		if err == nil {
			wait = b.Retry
		} else {
			b.Log.Error("a card could not be posted", "card", p.Key, "revision", p.Revision, "err", err)
			pace, wait = wait, min(2*wait, b.RetryMax)
		}
		b.pause(pace)
	}
}

// firstUnsent is the channel's oldest unsent card. Where there is none, or the bot stops, the
// channel's sender is struck off under the lock: whoever queues the next card then finds none
// at work and starts one.
func (b *Bot) firstUnsent(channel string) (store.Post, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	var posts []store.Post
	err := b.Store.View(func(tx *store.Tx) (err error) {
		posts, err = tx.UnsentIn(channel, 1)
		return err
	})
	if err != nil {
		b.Log.Error("the outbox could not be read", "err", err)
	}
	if len(posts) > 0 && b.ctx.Err() == nil {
		return posts[0], true
	}
	b.left(channel)
	return store.Post{}, false
}

// left strikes a channel's sender off; the lock is held.
func (b *Bot) left(channel string) {
	delete(b.sending, channel)
	b.busy--
	b.change.Broadcast()
}

// pause waits, or until the bot stops.
func (b *Bot) pause(d time.Duration) {
	if d <= 0 {
		return
	}
	select {
	case <-time.After(d):
	case <-b.ctx.Done():
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
	b.draw(&c)
	if c.Code != "" {
		secret, err := b.secret()
		if err != nil {
			return 0, err
		}
		c.fillCode(secret)
	}
	id, postErr := chat.Post(b.ctx, Posting{At: at, Card: c, Posted: posted, Doubtful: p.Tries > 0 || p.Seq <= b.old, Queued: timeOf(p.Queued)})
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
