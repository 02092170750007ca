package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"

	"salthand/bot"
	"salthand/bot/console"
	"salthand/bot/fakechat"
	"salthand/bot/slackchat"
)

// printed is the adapter of Slack, with each card that it posted compared with what then
// stands in the channel, and printed as the terminal prints it.
type printed struct {
	*slackchat.Chat
	slack  *fakechat.Slack
	screen *console.Console

	mu      sync.Mutex
	buttons map[bot.Press]standing // every button that was ever posted
	asked   map[string]bool        // threads that something was said in just now
	open    map[string]bool        // threads that a question stands in
	faults  []error
}

// standing is where a button stands, and the words on it.
type standing struct {
	ts, label string
	now       bool // it still stands there
}

// Post posts a card, looks at it, and prints it.
func (c *printed) Post(ctx context.Context, p bot.Posting) (string, error) {
	before := len(c.slack.Uploads())
	id, err := c.Chat.Post(ctx, p)
	if err != nil {
		return "", err
	}
	c.look(p, id, before)
	_, err = c.screen.Post(ctx, p)
	return id, err
}

// expect says that dose cards may come in a thread.
func (c *printed) expect(thread string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.asked[thread] = true
}

// look compares a card with the messages that it became.
func (c *printed) look(p bot.Posting, id string, before int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	wrong := func(format string, a ...any) {
		c.faults = append(c.faults, fmt.Errorf("card %s: "+format, append([]any{p.Card.Key}, a...)...))
	}
	var text, blocks strings.Builder
	last := ""
	for ts := range strings.SplitSeq(id, "+") {
		post, ok := c.slack.Post(p.At.Channel, ts)
		if !ok || post.Deleted || post.Thread != p.At.Thread {
			wrong("message %s stands in thread %q, not in %q", ts, post.Thread, p.At.Thread)
		}
		text.WriteString(post.Text)
		var all any
		if err := json.Unmarshal(post.Blocks, &all); err != nil {
			wrong("%v", err)
		}
		wordsOf(&blocks, all)
		last = ts
	}
	for name, got := range map[string]string{"text": text.String(), "blocks": blocks.String()} {
		got = bare(got)
		for _, want := range partsOf(p.Card) {
			if !strings.Contains(got, bare(want)) {
				wrong("its %s lacks %q: %s", name, want, got)
			}
		}
	}
	if p.Card.Kind == bot.QuestionCard {
		c.open[p.At.Thread] = true
	} else if p.Card.Kind == bot.DoseCard && p.Posted == "" && !c.asked[p.At.Thread] && !c.open[p.At.Thread] {
		wrong("it is in thread %s, where nobody asked: %v", p.At.Thread, c.asked)
	}
	if got := len(c.slack.Uploads()) - before; p.Posted == "" && got != len(p.Card.Files) {
		wrong("%d papers were shared, not %d", got, len(p.Card.Files))
	}
	for press, at := range c.buttons {
		if at.ts == last {
			at.now = false
			c.buttons[press] = at
		}
	}
	for _, b := range p.Card.Buttons {
		c.buttons[b.Press] = standing{last, b.Label, true}
	}
}

// settled ends what is expected of a line, and tells what was not as it should be.
func (c *printed) settled() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	clear(c.asked)
	return errors.Join(c.faults...)
}

func (c *printed) button(p bot.Press) (standing, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	at, ok := c.buttons[p]
	return at, ok
}

// newest is a button of the newest dose card of a batch, where it still stands.
func (c *printed) newest(a bot.Action, batch uint64) (at standing, ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	revision := uint32(0)
	for press, b := range c.buttons {
		if press.Action == a && press.Batch == batch && press.Revision > revision && b.now {
			at, ok, revision = b, true, press.Revision
		}
	}
	return at, ok
}

// partsOf is all that a card says.
func partsOf(c bot.Card) (parts []string) {
	parts = append(parts, c.Title, c.Small, c.Next)
	parts = append(parts, c.Status...)
	parts = append(parts, c.Lines...)
	parts = append(parts, c.Choices...)
	for _, w := range c.Weigh {
		parts = append(parts, w.Amount, w.Item, w.Note)
	}
	for _, f := range c.Facts {
		parts = append(append(parts, f.Label), f.Lines...)
	}
	for _, w := range c.Warnings {
		parts = append(parts, w.Text)
	}
	for _, b := range c.Buttons {
		parts = append(parts, b.Label)
	}
	if c.Also != nil {
		parts = append(parts, partsOf(*c.Also)...)
	}
	return parts
}

// wordsOf gathers the words in blocks.
func wordsOf(b *strings.Builder, in any) {
	switch in := in.(type) {
	case []any:
		for _, v := range in {
			wordsOf(b, v)
		}
	case map[string]any:
		for key, v := range in {
			if s, ok := v.(string); ok && key == "text" {
				b.WriteString(s)
			} else {
				wordsOf(b, v)
			}
		}
	}
}

// bare is a text without what the platforms change in it: escapes, spaces, the signs of bold and of code.
func bare(s string) string {
	s = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&", "*", "", "`", "").Replace(bot.Visible(s))
	return strings.Join(strings.Fields(s), "")
}
