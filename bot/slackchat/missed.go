package slackchat

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"github.com/slack-go/slack"

	"salthand/bot"
)

const (
	// missedSince is how far back is looked at most.
	missedSince = 7 * 24 * time.Hour
	// onItsWay is how old a message is before it counts as missed: until then its event may
	// still come.
	onItsWay = time.Minute
	// pageOf is how many messages are asked for at once (docs.slack.dev,
	// conversations.history: 999 at most, 200 recommended, seen second-hand).
	pageOf = 200
	// holdFor is how long an event waits for what was missed before it.
	holdFor = ackWithin / 2
)

// missed looks for what was said while no connection stood. Slack may deliver it later, or
// never. It goes to the bot before anything newer does.
type missed struct {
	r     *run
	front bot.Front
	began time.Time
	look  chan struct{}

	mu     sync.Mutex
	newest map[string]time.Time // of each channel: the newest message that came
	behind chan struct{}        // closed once it was looked for what was missed; nil: there is nothing to look for
}

func newMissed(r *run, front bot.Front) *missed {
	return &missed{r: r, front: front, began: time.Now(), look: make(chan struct{}, 1), newest: map[string]time.Time{}}
}

// lookNow has it look, and events wait until it has; it never waits itself.
func (m *missed) lookNow() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.behind == nil {
		m.behind = make(chan struct{})
	}
	select {
	case m.look <- struct{}{}:
	default:
	}
}

// looked waits until nothing older is to come, though not so long that an event would go
// without its acknowledgement: those that wait in one row wait together.
func (m *missed) looked(ctx context.Context, came time.Time) {
	m.mu.Lock()
	behind := m.behind
	m.mu.Unlock()
	if behind == nil {
		return
	}
	late := time.NewTimer(time.Until(came.Add(holdFor)))
	defer late.Stop()
	select {
	case <-behind:
	case <-late.C:
	case <-ctx.Done():
	}
}

// caughtUp lets events go on.
func (m *missed) caughtUp() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.behind != nil {
		close(m.behind)
		m.behind = nil
	}
}

// heard notes that something came over the connection from a channel.
func (m *missed) heard(channel, ts string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.newest[channel] = later(m.newest[channel], when(ts))
}

// watch looks whenever a connection stands anew, and now and then while one stands. A
// connection that stands and brings nothing of what is said is opened anew.
func (m *missed) watch(ctx context.Context) {
	defer m.caughtUp()
	tick := time.NewTicker(m.r.CheckEvery)
	defer tick.Stop()
	for {
		standing := false
		select {
		case <-m.look:
		case <-tick.C:
			standing = true
		case <-ctx.Done():
			return
		}
		n, err := m.find(ctx)
		if !standing {
			m.caughtUp()
		}
		switch {
		case ctx.Err() != nil:
			return
		case err != nil:
			m.r.Log.Warn("what was missed could not be looked for", "err", err)
		case n > 0 && standing:
			m.r.alarm(fmt.Errorf("slack: the connection stands, and %d messages did not come over it: it is opened anew", n))
			m.r.reopen()
		}
	}
}

// find reads the watched places and gives the bot what it finds. n is how many messages should
// have come over the connection before.
func (m *missed) find(ctx context.Context) (n int, err error) {
	w, err := m.front.Watched(ctx, Platform)
	if err != nil {
		return 0, err
	}
	if w.Since.IsZero() {
		w.Since = m.began.Add(-onItsWay) // nothing was ever heard; clocks differ
	}
	began := time.Now()
	since := later(w.Since, began.Add(-missedSince))
	for _, at := range w.Places {
		if at.Team != m.r.me.team {
			continue
		}
		found, err := m.r.messages(ctx, at, stamp(since))
		switch {
		case ctx.Err() != nil:
			return n, ctx.Err()
		case err != nil: // the other places can still be read
			m.r.Log.Warn("a place can't be read", "channel", at.Channel, "err", err)
			continue
		}
		m.mu.Lock()
		newest, known := m.newest[at.Channel]
		m.mu.Unlock()
		for _, msg := range found {
			said := when(msg.Timestamp)
			persons := slices.Contains(readSubtypes, msg.SubType) && msg.BotID == "" && msg.User != m.r.me.user
			if persons && known && said.After(newest) && said.Before(began.Add(-onItsWay)) {
				n++
			}
			m.take(ctx, at, msg.Msg, since)
			m.heard(at.Channel, msg.Timestamp)
		}
		m.heard(at.Channel, stamp(since))
	}
	return n, nil
}

// take gives a message of a channel to the bot, as it was said and as it was changed since.
func (m *missed) take(ctx context.Context, at bot.Place, msg slack.Msg, since time.Time) {
	direct, me := directID(at.Channel), m.r.with(ctx)
	if when(msg.Timestamp).After(since) { // the root of a thread comes along though it is older
		m.r.lanes.take(ctx, job{read: func(context.Context) (bot.Message, bool) { return again(me.said(msg, at.Channel, direct)) }})
	}
	if msg.Edited != nil && when(msg.Edited.Timestamp).After(since) {
		m.r.lanes.take(ctx, job{read: func(context.Context) (bot.Message, bool) { return again(me.edited(msg, at.Channel, direct)) }})
	}
}

// again marks what was read again.
func again(m bot.Message, ok bool) (bot.Message, bool) {
	m.Again = true
	return m, ok
}

// messages reads a channel, or the thread of it, from a ts on, oldest first. The root of a
// thread always comes with it.
func (c *Chat) messages(ctx context.Context, at bot.Place, oldest string) (all []slack.Message, err error) {
	type found struct {
		messages []slack.Message
		next     string
	}
	for cursor := ""; ; {
		got, err := call(ctx, c, func() (found, error) {
			if at.Thread != "" {
				msgs, _, next, err := c.api.GetConversationRepliesContext(ctx, &slack.GetConversationRepliesParameters{
					ChannelID: at.Channel, Timestamp: at.Thread, Oldest: oldest, Cursor: cursor, Limit: pageOf, IncludeAllMetadata: true})
				return found{msgs, next}, err
			}
			h, err := c.api.GetConversationHistoryContext(ctx, &slack.GetConversationHistoryParameters{
				ChannelID: at.Channel, Oldest: oldest, Cursor: cursor, Limit: pageOf, IncludeAllMetadata: true})
			if err != nil {
				return found{}, err
			}
			return found{h.Messages, h.ResponseMetaData.NextCursor}, nil
		})
		if err != nil {
			return nil, err
		}
		all = append(all, got.messages...)
		if got.next == "" {
			break
		}
		cursor = got.next
	}
	slices.SortStableFunc(all, func(a, b slack.Message) int { return when(a.Timestamp).Compare(when(b.Timestamp)) })
	return all, nil
}
