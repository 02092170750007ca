package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"strings"

	"salthand/bot"
	"salthand/bot/slackchat"
	"salthand/store"
)

// Names under which the environment, or the file of tokens, has what Slack needs.
const (
	slackBotToken = "SLACK_BOT_TOKEN"
	slackAppToken = "SLACK_APP_TOKEN"
	slackAPIURL   = "SLACK_API_URL" // another server that speaks the platform: https, or http on loopback
)

type slackCommand struct {
	Check    slackCheckCommand    `cmd:"" help:"Say in plain words what the Slack app still lacks."`
	Manifest slackManifestCommand `cmd:"" help:"Print the manifest that makes the Slack app in one paste."`
}

type slackCheckCommand struct {
	Channel []string `arg:"" optional:"" help:"Ids of channels to look at beside the kitchen's own, like C0123456789."`
	Store   string   `type:"path" placeholder:"PATH" help:"The store's file, for the kitchen's channels. Default: in the user's data folder."`
}

// Run asks Slack what the app may do, and says what it lacks.
func (c *slackCheckCommand) Run(ctx context.Context, w world) error {
	chat, err := w.slack(slog.New(slog.DiscardHandler))
	if err != nil {
		return err
	}
	if chat == nil {
		return errors.New(w.noTokens())
	}
	channels, err := kitchenChannels(c.Store, w)
	if err != nil {
		fmt.Fprintf(w.out, "The kitchen's own channels are not looked at: %v.\n", err)
	}
	r := chat.Check(ctx, append(channels, c.Channel...))
	if err := printReport(w.out, r); err != nil {
		return err
	}
	if len(r.Missing) > 0 {
		return statusError(1)
	}
	return nil
}

// kitchenChannels are the ids of the cure channels and home channels that the store knows on
// Slack. A store that isn't there yet has none.
func kitchenChannels(path string, w world) (ids []string, err error) {
	if path, err = w.store(path); err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		return nil, storeError(path, err)
	}
	defer s.Close()
	places, err := bot.New(s, slog.New(slog.DiscardHandler)).Channels(slackchat.Platform)
	for _, p := range places {
		ids = append(ids, p.Channel)
	}
	return ids, err
}

// matters are what may be missing, in words.
var matters = map[slackchat.Matter]string{
	slackchat.BotToken:   "the bot token is not taken",
	slackchat.AppToken:   "the app token is not taken",
	slackchat.Scope:      "a scope is missing",
	slackchat.NotIn:      "the bot is not in the channel",
	slackchat.Archived:   "the channel is archived",
	slackchat.Shared:     "the channel is shared with another team",
	slackchat.CantAnswer: "Slack could not be asked",
}

// printReport says what a check found.
func printReport(out io.Writer, r slackchat.Report) error {
	var b strings.Builder
	if r.Team != "" {
		fmt.Fprintf(&b, "Slack takes the bot token: team %s, as @%s.\n", r.Team, r.User)
	}
	for _, m := range r.Missing {
		line := matters[m.What]
		if m.Name != "" {
			line += ": " + m.Name
		}
		if m.Why != "" {
			line += " (" + m.Why + ")"
		}
		b.WriteString("✗ " + line + "\n")
		if m.Next != "" {
			b.WriteString("  → " + m.Next + "\n")
		}
	}
	if len(r.Missing) == 0 {
		b.WriteString("Nothing that Slack tells of is missing.\n")
	}
	fmt.Fprintf(&b, "Slack tells nobody which events an app hears. It needs %s: the manifest has them.\n", strings.Join(r.Events, ", "))
	_, err := io.WriteString(out, b.String())
	return err
}

type slackManifestCommand struct{}

// Run prints the manifest.
func (slackManifestCommand) Run(w world) error {
	_, err := io.WriteString(w.out, slackchat.Manifest)
	return err
}

// slack is the adapter of Slack; nil where there are no tokens for it.
func (w world) slack(log *slog.Logger) (*slackchat.Chat, error) {
	token, err := w.tokens(slackBotToken, slackAppToken)
	if err != nil {
		return nil, err
	}
	bot, app := token[slackBotToken], token[slackAppToken]
	switch {
	case bot == "" && app == "":
		return nil, nil
	case bot == "":
		return nil, fmt.Errorf("there is a %s and no %s: both are needed", slackAppToken, slackBotToken)
	case app == "":
		return nil, fmt.Errorf("there is a %s and no %s: both are needed", slackBotToken, slackAppToken)
	}
	return slackchat.New(slackchat.Config{APIURL: w.env(slackAPIURL), BotToken: bot, AppToken: app, Log: log})
}

// noTokens says where tokens are put.
func (w world) noTokens() string {
	return fmt.Sprintf("there are no tokens of a team chat: put %s and %s into the environment, or as NAME=VALUE into %s (chmod 600)", slackBotToken, slackAppToken, w.tokensFile())
}
