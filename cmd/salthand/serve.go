package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"

	"salthand/bot"
	"salthand/bot/paper"
	"salthand/store"
)

type serveCommand struct {
	Store string `type:"path" placeholder:"PATH" help:"The store's file. Default: in the user's data folder."`
}

// Run serves the team chats that there are tokens for, until it is stopped.
func (c *serveCommand) Run(ctx context.Context, w world) (err error) {
	log := slog.New(slog.NewTextHandler(w.err, nil))
	chats, err := w.chats(log)
	if err != nil {
		return err
	}
	path, err := w.store(c.Store)
	if err != nil {
		return err
	}
	s, err := store.Open(path, store.Options{})
	if err != nil {
		return storeError(path, err)
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if s.Scratch() {
		return fmt.Errorf("%s is a scratch store: name another with --store PATH", path)
	}
	b := bot.New(s, log, chats...)
	b.Now, b.Drawer, b.Photos = w.now, paper.Pen{}, photosOf(path)
	fmt.Fprintln(w.out, "The records are kept in "+path+". Ctrl-C stops.")
	if err := tellChefCode(ctx, w.out, b); err != nil {
		return err
	}
	return b.Run(ctx)
}

// store is the path of the store: as given, else in the user's data folder.
func (w world) store(given string) (string, error) {
	switch {
	case given != "":
		return given, nil
	case w.data == "":
		return "", errors.New("there is no home folder to keep a store in: say --store PATH, or chat with --scratch")
	}
	return filepath.Join(w.data, "salthand", "salthand.db"), nil
}

// chats are the adapters of the platforms that there are tokens for.
func (w world) chats(log *slog.Logger) (chats []bot.Chat, err error) {
	slack, err := w.slack(log)
	if err != nil {
		return nil, err
	}
	if slack != nil {
		chats = append(chats, slack)
	}
	if len(chats) == 0 {
		return nil, errors.New(w.noTokens())
	}
	return chats, nil
}
