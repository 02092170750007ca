package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"time"

	"salthand/bot"
	"salthand/bot/console"
	"salthand/bot/paper"
	"salthand/cure"
	"salthand/store"
)

type chatCommand struct {
	Store    string     `type:"path" placeholder:"PATH" help:"The store's file. Default: in the user's data folder."`
	Scratch  bool       `help:"A throw-away store: its clock can be moved, and one terminal may speak as several people."`
	Region   regionFlag `help:"Rule set of a new store: us, eu, gb, ca, au-nz, jp, cn or codex."`
	Language string     `enum:",en,es,fr" default:"" help:"Language of a new store's cards: en, es or fr."`
	Chef     []string   `placeholder:"NAME" help:"Who has the chef role in a new store. May be given more than once."`
	Papers   string     `type:"path" placeholder:"DIR" help:"Folder for labels, records, charts and exports. Default: papers, beside the store; for a scratch store in the folder for temporary files."`

	tryAlone bool // a first run on a kept store named a second person to try approving with
}

// Run opens the store and talks, or plays the script that comes in on a pipe.
func (c *chatCommand) Run(ctx context.Context, w world) (err error) {
	scratch := c.Scratch || !w.terminal && c.Store == ""
	path, done, err := c.path(w, scratch)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, done()) }()
	s, err := store.Open(path, store.Options{Scratch: scratch})
	if err != nil {
		return storeError(path, err)
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if scratch && !s.Scratch() {
		return fmt.Errorf("%s is a kept store: leave out --scratch, or name another file", path)
	}
	screen := &console.Console{Out: w.out, Width: w.width, Login: w.login, Kept: !s.Scratch()}
	b := bot.New(s, slog.New(slog.NewTextHandler(w.err, &slog.HandlerOptions{Level: slog.LevelWarn})), screen)
	b.Now = w.now
	b.Drawer = paper.Pen{}
	b.Photos = photosOf(path)
	screen.Papers = c.papers(path, s.Scratch())
	if err := tellChefCode(ctx, w.out, b); err != nil {
		return err
	}
	if w.terminal {
		return c.live(ctx, w, b, screen, path)
	}
	return c.script(ctx, w, b, screen)
}

// path is where the store lies, and what to do when it is closed.
func (c *chatCommand) path(w world, scratch bool) (string, func() error, error) {
	nothing := func() error { return nil }
	if !scratch || c.Store != "" {
		path, err := w.store(c.Store)
		return path, nothing, err
	}
	dir, err := os.MkdirTemp("", "salthand-")
	if err != nil {
		return "", nothing, fmt.Errorf("making a scratch store: %w", err)
	}
	return filepath.Join(dir, "salthand.db"), func() error { return os.RemoveAll(dir) }, nil
}

// photosOf is the folder of the photos of a store, beside it.
func photosOf(store string) string { return filepath.Join(filepath.Dir(store), "photos") }

// papers is the folder for drawn papers.
func (c *chatCommand) papers(store string, scratch bool) string {
	switch {
	case c.Papers != "":
		return c.Papers
	case scratch:
		return filepath.Join(os.TempDir(), "salthand-papers")
	}
	return filepath.Join(filepath.Dir(store), "papers")
}

// storeError adds a next step to an error of opening the store.
func storeError(path string, err error) error {
	var locked *store.LockedError
	if errors.As(err, &locked) {
		return fmt.Errorf("%w: stop that one first, or use --scratch", err)
	}
	var damaged *store.CorruptError
	if errors.As(err, &damaged) {
		return fmt.Errorf("%w: keep the file, and go back to the last good copy", err)
	}
	return fmt.Errorf("opening the store %s: %w", path, err)
}

// live talks with the person at the terminal.
func (c *chatCommand) live(ctx context.Context, w world, b *bot.Bot, screen *console.Console, path string) (err error) {
	talk := &console.Live{Console: screen, Bot: b, Name: w.login}
	if screen.Kept {
		talk.History = path + ".history"
	}
	talk.Open()
	defer func() { err = errors.Join(err, talk.Close()) }()
	open, err := b.IsOpen()
	if err != nil {
		return err
	}
	if open {
		var name string
		if name, err = b.Speaker(w.login); name != "" {
			talk.Name = name
		}
	} else {
		err = c.firstRun(ctx, w, b, talk, path)
	}
	if errors.Is(err, io.EOF) {
		return nil
	}
	if err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	ran, talked := make(chan error, 1), make(chan error, 1)
	go func() { ran <- b.Run(ctx) }()
	go func() { talked <- talk.Talk(ctx) }()
	select {
	case err := <-talked:
		cancel()
		return errors.Join(err, <-ran)
	case err := <-ran: // a signal, or the store gave up: who sits there may be in the middle of a line
		return err
	}
}

// firstRun greets, asks for region and chef, and opens the kitchen.
func (c *chatCommand) firstRun(ctx context.Context, w world, b *bot.Bot, talk *console.Live, path string) error {
	fmt.Fprintln(w.out, "salthand reckons curing doses and keeps the batches. It never says that something is safe to eat.")
	if talk.Console.Kept {
		fmt.Fprintln(w.out, "The records are kept in "+path+".")
	} else {
		fmt.Fprintln(w.out, "This is a scratch store: it is gone when you leave.")
	}
	if c.Region == "" || len(c.Chef) == 0 {
		fmt.Fprintln(w.out, "A few questions first; Enter takes what stands in brackets.")
	}
	for c.Region == "" {
		answer, err := talk.Question("Which rules apply: us, eu, gb, ca, au-nz, jp, cn, codex?", "us")
		if err != nil {
			return err
		}
		if err := c.Region.UnmarshalText([]byte(answer)); err != nil {
			fmt.Fprintln(w.out, err)
		}
	}
	if len(c.Chef) == 0 {
		chef, err := talk.Question("Who is the chef?", w.login)
		if err != nil {
			return err
		}
		second, err := talk.Question("A second name, to try approving with?", "none")
		if err != nil {
			return err
		}
		c.Chef = append(c.Chef, chef)
		if second != "none" {
			c.Chef = append(c.Chef, second)
			c.tryAlone = talk.Console.Kept
		}
	}
	if c.tryAlone {
		fmt.Fprintln(w.out, "One terminal is one person: what is approved from here is recorded as \"approved own\", until you type  own approval off .")
	}
	talk.Name = oneWord(c.Chef[0])
	fmt.Fprintln(w.out, "Try:  3.2 kg belly, dry rub, 7 days")
	if len(c.Chef) > 1 {
		fmt.Fprintf(w.out, "Then:  at 1 ,  as %s ,  approve ,  start .  More:  help\n", oneWord(c.Chef[1]))
	}
	return c.open(ctx, w, b)
}

// open opens the kitchen of a new store, with what the flags and the answers say.
func (c *chatCommand) open(ctx context.Context, w world, b *bot.Bot) error {
	region := cure.Region(c.Region)
	if region == "" {
		region = "us"
	}
	s := bot.Setup{Name: "kitchen", Region: region, Zone: w.zone, Language: c.Language, Cure: console.Place(), Login: w.login, Scratch: b.Store.Scratch(), OwnApproval: c.tryAlone}
	for _, name := range c.Chef {
		name = oneWord(name)
		s.Chefs = append(s.Chefs, bot.Chef{Name: name, Account: console.Account(name)})
	}
	return b.Open(ctx, s)
}

// oneWord makes a name one that a script and "as NAME" can say.
func oneWord(name string) string { return strings.Join(strings.Fields(name), "-") }

// scriptStart is the time of day at which the clock of a scratch script stands at first.
const scriptStart = 9 * time.Hour

// script plays the conversation that comes in on a pipe.
func (c *chatCommand) script(ctx context.Context, w world, b *bot.Bot, screen *console.Console) (err error) {
	play := &console.Script{Console: screen, Bot: b}
	if b.Store.Scratch() {
		if play.Clock, err = scriptClock(w, b); err != nil {
			return err
		}
		b.Now = play.Clock.Now
	}
	open, err := b.IsOpen()
	if err != nil {
		return err
	}
	switch {
	case open:
	case len(c.Chef) == 0 && b.Store.Scratch():
		play.FirstSpeaker = func(name string) error {
			c.Chef = []string{name}
			return c.open(ctx, w, b)
		}
	default:
		if len(c.Chef) == 0 {
			c.Chef = []string{w.login}
		}
		if err := c.open(ctx, w, b); err != nil {
			return err
		}
	}
	ctx, cancel := context.WithCancel(ctx)
	defer b.Wait()
	defer cancel()
	if err := b.Start(ctx); err != nil {
		return err
	}
	return play.Play(ctx, w.in)
}

// scriptClock stands at nine in the morning of today, or where an earlier run on the same
// scratch store left off.
func scriptClock(w world, b *bot.Bot) (*console.Clock, error) {
	zone, err := time.LoadLocation(w.zone)
	if err != nil {
		return nil, err
	}
	now := w.now().In(zone)
	start := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, zone).Add(scriptStart)
	last, err := b.LastNoted()
	if last.After(start) {
		start = last
	}
	return console.NewClock(start), err
}
