package slackchat

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"github.com/slack-go/slack"
	"github.com/slack-go/slack/slackevents"

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
)

// missed looks for what was said while no connection stood. Slack may deliver it later, or
// never. What it finds goes the way of an event, where it is taken once.
type missed struct {
	r      *run
	front  bot.Front
	look   chan struct{}
	mu     sync.Mutex
	newest map[string]time.Time // of each channel: the newest message that came
}

func newMissed(r *run, front bot.Front) *missed {
	return &missed{r: r, front: front, look: make(chan struct{}, 1), newest: map[string]time.Time{}}
}

// lookNow has it look; it never waits.
func (m *missed) lookNow() {
	select {
	case m.look <- struct{}{}:
	default:
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

// watching is a front that tells where nothing may be missed.
type watching interface {
	// Watched are the places of a platform that matter, and since when what is said there may
	// be new.
	Watched(ctx context.Context, platform string) (map[bot.Place]time.Time, error)
}

// find reads the watched places and takes what it finds. n is how many messages should have
// come over the connection before.
func (m *missed) find(ctx context.Context) (n int, err error) {
	w, ok := m.front.(watching)
	if !ok {
		return 0, nil
	}
	places, err := w.Watched(ctx, Platform)
	if err != nil {
		return 0, err
	}
	began := time.Now()
	for at, since := range places {
		if at.Team != m.r.me.team {
			continue
		}
		since = later(since, began.Add(-missedSince))
		found, err := m.r.messages(ctx, at, stamp(since))
		if err != nil {
			if isRefused(err) { // the channel is gone, or the bot is not in it any more
				m.r.Log.Warn("a place can't be read", "channel", at.Channel, "err", err)
				continue
			}
			return n, err
		}
		m.mu.Lock()
		newest, known := m.newest[at.Channel]
		m.mu.Unlock()
		for _, msg := range found {
			said := when(msg.Timestamp)
			if known && slices.Contains(readSubtypes, msg.SubType) && msg.BotID == "" && msg.User != m.r.me.user && said.After(newest) && said.Before(began.Add(-onItsWay)) {
				n++
			}
			m.heard(at.Channel, msg.Timestamp)
			if err := m.take(ctx, at, msg.Msg, since); err != nil {
				return n, err
			}
		}
		m.heard(at.Channel, stamp(since))
	}
	return n, nil
}

// take gives a message of a channel to the bot, as it was said and as it was changed since.
func (m *missed) take(ctx context.Context, at bot.Place, msg slack.Msg, since time.Time) error {
	direct := directID(at.Channel)
	conversation := conversationOf(&slackevents.MessageEvent{Channel: at.Channel, Message: &msg})
	var err error
	if when(msg.Timestamp).After(since) { // the root of a thread comes along though it is older
		err = m.r.lanes.putLate(ctx, conversation, job{read: func(ctx context.Context) (bot.Message, bool) {
			return m.r.with(ctx).said(msg, at.Channel, direct)
		}})
	}
	if err != nil || msg.Edited == nil || when(msg.Edited.Timestamp).Before(since) {
		return err
	}
	return m.r.lanes.putLate(ctx, conversation, job{read: func(ctx context.Context) (bot.Message, bool) {
		return m.r.with(ctx).edited(msg, at.Channel, direct)
	}})
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
