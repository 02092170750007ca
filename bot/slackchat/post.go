package slackchat

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/slack-go/slack"

	"salthand/bot"
)

// Every message of a card carries its operation and its page, so that it is found again.
const (
	cardEvent = "salthand_card" // event_type of the metadata
	opField   = "op"
	pageField = "page"
)

// doubtSince is how long before a card was made its message is looked for: the clocks of the
// bot and of Slack may differ.
const doubtSince = 6 * time.Hour

// errNoID is a post of which Slack does not say where it stands.
var errNoID = errors.New("slack: a post was answered without an id")

// Post puts a card up, or brings the one that stands there up to date. A card that is longer
// than a message goes on in further ones below; the id names them all.
func (c *Chat) Post(ctx context.Context, p bot.Posting) (string, error) {
	id, err := c.post(ctx, p)
	if err != nil && isRefused(err) {
		err = fmt.Errorf("%w: %w", bot.ErrRefused, err)
	}
	return id, err
}

func (c *Chat) post(ctx context.Context, p bot.Posting) (string, error) {
	all := pages(p.Card)
	stand := idsOf(p.Posted)
	var found map[int]string
	if p.Doubtful && len(stand) < len(all) {
		var err error
		if found, err = c.find(ctx, p); err != nil {
			return "", err
		}
	}
	ids := make([]string, len(all))
	for i, pg := range all {
		var err error
		if i < len(stand) {
			ids[i], err = c.change(ctx, p, i, pg, stand[i])
		} else if ids[i] = found[i]; ids[i] == "" {
			ids[i], err = c.say(ctx, p, i, pg)
		}
		if err != nil {
			return "", err
		}
	}
	for _, ts := range stand[min(len(all), len(stand)):] {
		if err := c.takeAway(ctx, p.At.Channel, ts); err != nil {
			return "", err
		}
	}
	if p.Posted == "" {
		if err := c.upload(ctx, p, ids[0]); err != nil {
			return "", err
		}
	}
	return strings.Join(ids, "+"), nil
}

// idsOf are the messages of a card, by the id that Post gave it.
func idsOf(posted string) []string {
	if posted == "" {
		return nil
	}
	return strings.Split(posted, "+")
}

// options are what a page is sent with.
func options(p bot.Posting, i int, pg page) []slack.MsgOption {
	return append(quiet(pg.text), slack.MsgOptionMetadata(slack.SlackMetadata{
		EventType: cardEvent, EventPayload: map[string]any{opField: p.Card.Op, pageField: strconv.Itoa(i + 1)}}))
}

// sent sends a page with its blocks, and without them where Slack does not take them.
func (c *Chat) sent(opts []slack.MsgOption, pg page, send func(opts []slack.MsgOption) (string, error)) (string, error) {
	ts, err := send(append(slices.Clone(opts), slack.MsgOptionBlocks(pg.blocks...)))
	if slices.Contains(badShape, codeOf(err)) {
		c.alarm(fmt.Errorf("slack does not take a card's layout, so that it is sent as text: %w", err))
		ts, err = send(append(slices.Clone(opts), slack.MsgOptionBlocks()))
	}
	if err == nil && ts == "" {
		err = errNoID
	}
	return ts, err
}

// say posts a page of a card.
func (c *Chat) say(ctx context.Context, p bot.Posting, i int, pg page) (string, error) {
	opts := options(p, i, pg)
	if p.At.Thread != "" {
		opts = append(opts, slack.MsgOptionTS(p.At.Thread))
	}
	return c.sent(opts, pg, func(opts []slack.MsgOption) (string, error) {
		return call(ctx, c, func() (string, error) {
			_, ts, err := c.api.PostMessageContext(ctx, p.At.Channel, opts...)
			return ts, err
		})
	})
}

// change brings a page up to date. One that stands no more is posted anew, so that the card is
// not lost.
func (c *Chat) change(ctx context.Context, p bot.Posting, i int, pg page, ts string) (string, error) {
	_, err := c.sent(options(p, i, pg), pg, func(opts []slack.MsgOption) (string, error) {
		return call(ctx, c, func() (string, error) {
			_, ts, _, err := c.api.UpdateMessageContext(ctx, p.At.Channel, ts, opts...)
			return ts, err
		})
	})
	if !slices.Contains(gone, codeOf(err)) {
		return ts, err
	}
	if p.Doubtful {
		found, err := c.find(ctx, p)
		if err != nil || found[i] != "" {
			return found[i], err
		}
	}
	return c.say(ctx, p, i, pg)
}

// takeAway deletes a page that a card needs no more.
func (c *Chat) takeAway(ctx context.Context, channel, ts string) error {
	_, err := call(ctx, c, func() (string, error) {
		_, ts, err := c.api.DeleteMessageContext(ctx, channel, ts)
		return ts, err
	})
	if slices.Contains(gone, codeOf(err)) || codeOf(err) == "cant_delete_message" {
		return nil
	}
	return err
}

// find looks for the pages of a card that an earlier try may have posted, by their operation.
func (c *Chat) find(ctx context.Context, p bot.Posting) (map[int]string, error) {
	oldest := "0"
	if !p.Queued.IsZero() {
		oldest = stamp(p.Queued.Add(-doubtSince))
	}
	me, err := c.me(ctx)
	if err != nil {
		return nil, err
	}
	messages, err := c.messages(ctx, p.At, oldest)
	if err != nil {
		return nil, err
	}
	found := map[int]string{}
	for _, m := range messages {
		ours := m.User == me.UserID || m.BotID != "" && m.BotID == me.BotID
		if !ours || m.Metadata.EventType != cardEvent || m.Metadata.EventPayload[opField] != p.Card.Op {
			continue
		}
		if n, err := strconv.Atoi(fmt.Sprint(m.Metadata.EventPayload[pageField])); err == nil && found[n-1] == "" {
			found[n-1] = m.Timestamp
		}
	}
	return found, nil
}
