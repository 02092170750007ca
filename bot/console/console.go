// Package console is the terminal as a chat: one line is one message, cards are printed.
//
// Live talks with a person at a terminal, who may speak as several people and in threads;
// Script plays a conversation from a file or a pipe, a line each. Both use a Console as the
// platform's adapter.
package console

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"salthand/bot"
)

// Console is the adapter of the terminal.
type Console struct {
	Out   io.Writer
	Width int    // of the screen, in columns; 0: lines don't wrap
	Login string // who sits at the terminal
	// Kept says that the store is kept: every message says at whose terminal it was typed.
	Kept bool
	// Papers is the folder that files of cards are written into; "": none is.
	Papers string

	once   sync.Once
	run    string // tells this run's message ids from another's
	mu     sync.Mutex
	count  int
	posts  int
	prompt string // what stands on the line while somebody is typing; "" while nobody is
}

// channel is the one channel of the terminal.
const channel = "kitchen"

// Place is the terminal's channel.
func Place() bot.Place { return bot.Place{Platform: bot.Terminal, Channel: channel} }

// Account is the account of a name spoken as at a terminal.
func Account(name string) bot.Account {
	return bot.Account{Platform: bot.Terminal, User: strings.ToLower(name)}
}

// Platform is the terminal's name.
func (c *Console) Platform() string { return bot.Terminal }

// Pace is nothing: a terminal takes what it is given.
func (c *Console) Pace() time.Duration { return 0 }

// Run has nothing to listen to: Live and Script hand the lines in. It ends with ctx.
func (c *Console) Run(ctx context.Context, _ bot.Front) error {
	<-ctx.Done()
	return ctx.Err()
}

// Post prints a card. The id says how many were printed before it. What was printed can't be
// changed: a newer revision that differs only in its status is not printed again, since the
// card that brought the change stands below it.
func (c *Console) Post(_ context.Context, p bot.Posting) (string, error) {
	card := p.Card
	if p.Posted != "" && len(card.Status) > 0 {
		return p.Posted, nil
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.prompt != "" {
		io.WriteString(c.Out, "\r\x1b[K") // a reminder comes between: the line that is being typed is drawn anew
	}
	if err := Print(c.Out, card, c.Width); err != nil {
		return "", err
	}
	if err := c.keep(card.Files); err != nil {
		return "", err
	}
	io.WriteString(c.Out, c.prompt)
	c.posts++
	return fmt.Sprint(c.posts), nil
}

// message is a line that somebody said, in the channel or in a thread.
func (c *Console) message(name, text string, thread bot.Place, at time.Time) bot.Message {
	m := bot.Message{ID: c.nextID(), Place: thread, Account: Account(name), Name: name, What: bot.Said, Text: text, At: at}
	if thread.Thread == "" {
		m.Place = Place()
		m.Place.Thread, m.Top = m.ID, true
	}
	if c.Kept {
		m.Via = "at the terminal of " + c.Login
	}
	return m
}

// prompting says what stands on the line that is being typed, so that a card can come
// between.
func (c *Console) prompting(prompt string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.prompt = prompt
}

func (c *Console) nextID() string {
	c.once.Do(func() {
		var b [6]byte
		rand.Read(b[:]) // never fails
		c.run = hex.EncodeToString(b[:])
	})
	c.mu.Lock()
	defer c.mu.Unlock()
	c.count++
	return fmt.Sprintf("%s-%d", c.run, c.count)
}
