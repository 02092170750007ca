package main

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"salthand/bot"
	"salthand/bot/console"
	"salthand/store"
)

// deskChat is a chat that is not the terminal, and keeps what was posted.
type deskChat struct{ cards chan bot.Card }

func (*deskChat) Platform() string    { return "desk" }
func (*deskChat) Pace() time.Duration { return 0 }
func (*deskChat) Run(ctx context.Context, _ bot.Front) error {
	<-ctx.Done()
	return ctx.Err()
}
func (d *deskChat) Post(_ context.Context, p bot.Posting) (string, error) {
	d.cards <- p.Card
	return "1", nil
}

// The code that is printed at the start makes whoever types it the chef. With a chef nothing
// is printed any more, and at the terminal nothing ever.
func TestTellChefCode(t *testing.T) {
	s, err := store.Open(filepath.Join(t.TempDir(), "salthand.db"), store.Options{Scratch: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	quiet := slog.New(slog.NewTextHandler(io.Discard, nil))
	ctx, stop := context.WithCancel(t.Context())
	var out bytes.Buffer
	if err := tellChefCode(ctx, &out, bot.New(s, quiet, &console.Console{Out: io.Discard})); err != nil || out.Len() > 0 {
		t.Errorf("at the terminal: %q, %v", out.String(), err)
	}
	desk := &deskChat{cards: make(chan bot.Card, 10)}
	b := bot.New(s, quiet, desk)
	if err := tellChefCode(ctx, &out, b); err != nil {
		t.Fatal(err)
	}
	line := regexp.MustCompile(`join [0-9A-Z-]{11}`).FindString(out.String())
	if line == "" {
		t.Fatalf("no code in %q", out.String())
	}
	defer b.Wait()
	defer stop()
	if err := b.Start(ctx); err != nil {
		t.Fatal(err)
	}
	m := bot.Message{ID: "1", Place: bot.Place{Platform: "desk", Team: "t", Channel: "dm"}, Account: bot.Account{Platform: "desk", Team: "t", User: "u1"},
		Name: "ana", What: bot.Said, Text: line, Direct: true}
	if _, err := b.Receive(ctx, m); err != nil {
		t.Fatal(err)
	}
	if err := b.Settle(ctx); err != nil {
		t.Fatal(err)
	}
	if card := <-desk.cards; card.Title != "ana is the chef of this kitchen." {
		t.Errorf("the answer is %q", card.Title)
	}
	out.Reset()
	if err := tellChefCode(ctx, &out, b); err != nil || out.Len() > 0 {
		t.Errorf("with a chef: %q, %v", out.String(), err)
	}
}
