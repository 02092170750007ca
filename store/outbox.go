package store

import (
	"encoding/binary"
	"fmt"
)

// Post is a card on its way to a place. The outbox is not folded from events: it is what the
// platforms have not been told yet, and what they made of what they were told.
type Post struct {
	Key      string `json:"key"` // of the card; a later revision of it has the same
	Revision uint32 `json:"revision"`
	Channel  string `json:"channel,omitempty"` // posts of one channel wait in order; other channels don't wait for them
	Place    []byte `json:"place,omitempty"`   // the caller's, as is the card
	Card     []byte `json:"card,omitempty"`
	Op       string `json:"op,omitempty"` // by which a doubtful send is looked up
	Queued   Milli  `json:"queued"`
	Tries    int    `json:"tries,omitempty"`
	Seq      uint64 `json:"seq"`
	Keep     bool   `json:"keep,omitempty"` // Kept gives it, sent or not, until a later revision is queued
}

// RefusedPost is a post that the platform refused for good.
type RefusedPost struct {
	Post
	Why string `json:"why"`
}

// posted is what became of a key: the revision on show, and where the next one waits.
type posted struct {
	PlatformID string `json:"platform_id,omitempty"`
	Revision   uint32 `json:"revision,omitempty"`
	Sent       bool   `json:"sent,omitempty"`
	Waits      uint64 `json:"waits,omitempty"`   // Seq of the post in the queue; 0: none
	Channel    string `json:"channel,omitempty"` // in which that one waits
	Kept       *Post  `json:"kept,omitempty"`    // the newest that was queued, where it asked for it
}

// Queue puts a post at the end of its channel's queue, and gives it its number and no tries. Where one
// of its key waits that is not newer, this takes its place in the order. ErrStale: a newer
// one of its key waits or was sent. New content needs a new revision: the sender may be
// holding the old one at this moment.
func (tx *Tx) Queue(p Post) error {
	if err := texts(p.Key); err != nil {
		return err
	}
	state, waiting, err := tx.postOf(p.Key)
	if err != nil {
		return err
	}
	if state.Sent && p.Revision < state.Revision || state.Waits != 0 && p.Revision < waiting.Revision {
		return ErrStale
	}
	if state.Waits != 0 && state.Channel != p.Channel {
		if err := tx.del(bucketQueue, queueKey(state.Channel, state.Waits)); err != nil {
			return err
		}
		state.Waits = 0
	}
	queued, kept := state.Waits != 0, state.Kept
	if !queued {
		if state.Waits, err = tx.next(bucketQueue); err != nil {
			return err
		}
		state.Channel = p.Channel
	}
	p.Seq, p.Tries = state.Waits, 0
	state.Kept = nil
	if p.Keep {
		state.Kept = &p
	}
	if !queued || kept != nil || p.Keep {
		if err := save(tx, bucketPosts, key(p.Key), state); err != nil {
			return err
		}
	}
	return save(tx, bucketQueue, queueKey(p.Channel, p.Seq), p)
}

func queueKey(channel string, seq uint64) key { return key(nil).text(channel).num(seq) }

// LastQueued is the Seq of the post that was queued last; 0: none ever was.
func (tx *Tx) LastQueued() uint64 { return tx.last(bucketQueue) }

// Unsent gives the posts that wait, channel by channel, each in order; limit 0 means all.
func (tx *Tx) Unsent(limit int) ([]Post, error) { return tx.unsent(nil, limit) }

// UnsentIn gives the posts that wait in one channel, in order; limit 0 means all.
func (tx *Tx) UnsentIn(channel string, limit int) ([]Post, error) {
	return tx.unsent(key(nil).text(channel), limit)
}

// UnsentChannels gives the channels in which posts wait.
func (tx *Tx) UnsentChannels() ([]string, error) {
	var channels []string
	from := key(nil)
	for {
		k, _ := tx.seek(bucketQueue, from)
		if k == nil {
			return channels, nil
		}
		r := keyReader{rest: k}
		channel := r.text()
		if r.bad {
			return channels, fmt.Errorf("%w: key of the queue", errRecord)
		}
		channels = append(channels, channel)
		from = queueKey(channel, ^uint64(0))
	}
}

func (tx *Tx) unsent(prefix key, limit int) ([]Post, error) {
	var posts []Post
	err := tx.scan(bucketQueue, prefix, prefix, func(_ key, v []byte) (bool, error) {
		var p Post
		if err := decode(v, &p); err != nil {
			return false, err
		}
		posts = append(posts, p)
		return len(posts) != limit, nil
	})
	return posts, err
}

// PostTried counts a try of a post that waits. Where another revision waits, or none, it does
// nothing.
func (tx *Tx) PostTried(key string, rev uint32) error {
	_, p, err := tx.postOf(key)
	if err != nil || p.Seq == 0 || p.Revision != rev {
		return err
	}
	p.Tries++
	return save(tx, bucketQueue, queueKey(p.Channel, p.Seq), p)
}

// Sent notes that a revision is on show, under the platform's own id. It leaves the queue; a
// newer one that took its place meanwhile stays.
func (tx *Tx) Sent(key string, rev uint32, platformID string) error {
	state, p, err := tx.postOf(key)
	if err != nil {
		return err
	}
	if !state.Sent || rev >= state.Revision {
		state.PlatformID, state.Revision, state.Sent = platformID, rev, true
	}
	return tx.leave(key, state, p, rev)
}

// Refused notes that the platform refuses a revision for good. It leaves the queue and is
// kept; a newer one that took its place meanwhile stays.
func (tx *Tx) Refused(key string, rev uint32, why string) error {
	state, p, err := tx.postOf(key)
	if err != nil || p.Seq == 0 || p.Revision != rev {
		return err
	}
	n, err := tx.next(bucketRefused)
	if err != nil {
		return err
	}
	if err := save(tx, bucketRefused, numKey(n), RefusedPost{Post: p, Why: why}); err != nil {
		return err
	}
	return tx.leave(key, state, p, rev)
}

// RefusedPosts gives the posts refused for good, in order; limit 0 means all.
func (tx *Tx) RefusedPosts(limit int) ([]RefusedPost, error) {
	var posts []RefusedPost
	err := tx.scan(bucketRefused, nil, nil, func(_ key, v []byte) (bool, error) {
		var p RefusedPost
		if err := decode(v, &p); err != nil {
			return false, err
		}
		posts = append(posts, p)
		return len(posts) != limit, nil
	})
	return posts, err
}

// PostedAs gives the platform's id of a card and the revision on show; false: none was sent.
func (tx *Tx) PostedAs(key string) (platformID string, rev uint32, ok bool, err error) {
	state, _, err := tx.postOf(key)
	return state.PlatformID, state.Revision, state.Sent, err
}

// Kept gives the newest post that was queued under a key, sent or not, where it asked to be kept.
func (tx *Tx) Kept(key string) (p Post, ok bool, err error) {
	state, _, err := tx.postOf(key)
	if err != nil || state.Kept == nil {
		return Post{}, false, err
	}
	return *state.Kept, true, nil
}

// leave takes a revision off the queue, if it is the one that waits, and saves the state.
func (tx *Tx) leave(name string, state posted, p Post, rev uint32) error {
	if p.Seq != 0 && p.Revision <= rev {
		if err := tx.del(bucketQueue, queueKey(p.Channel, p.Seq)); err != nil {
			return err
		}
		state.Waits = 0
	}
	return save(tx, bucketPosts, key(name), state)
}

// postOf gives the state of a key, and the post of it that waits; Seq 0: none does.
func (tx *Tx) postOf(name string) (posted, Post, error) {
	state, _, err := load[posted](tx, bucketPosts, key(name))
	if err != nil || state.Waits == 0 {
		return state, Post{}, err
	}
	p, ok, err := load[Post](tx, bucketQueue, queueKey(state.Channel, state.Waits))
	if err == nil && !ok {
		err = fmt.Errorf("%w: queued post %q", errRecord, name)
	}
	return state, p, err
}

func numKey(n uint64) key { return binary.BigEndian.AppendUint64(nil, n) }
