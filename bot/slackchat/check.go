package slackchat

import (
	"context"
	"maps"
	"slices"
	"strings"

	"github.com/slack-go/slack"
)

// Matter is what a check found wanting.
type Matter string

// What may be wanting.
const (
	BotToken   Matter = "bot token"
	AppToken   Matter = "app token"
	Scope      Matter = "scope"              // the bot token lacks a right
	NotIn      Matter = "not in the channel" // the bot can't be found there, or was not invited
	Archived   Matter = "archived channel"
	Shared     Matter = "shared channel" // people of another team read every card there
	CantAnswer Matter = "no answer"      // Slack could not be asked
)

// Missing is one thing that is wanting.
type Missing struct {
	What Matter
	Name string // the scope, or the channel; "" for tokens
	Why  string // Slack's word for it, or what it is for
	Next string // what to do; "" where Slack's word says it
}

// Report is what a check found.
type Report struct {
	Team, User string // where the bot is, and who; "" where its token is not taken
	Missing    []Missing
	// Events are what the app must be subscribed to. Slack tells nobody whether it is: it shows
	// in that the bot answers.
	Events []string
}

// Check looks whether the bot has what it needs: tokens of the right kind, all scopes, a
// connection, and a place in each of the channels. It posts nothing.
func (c *Chat) Check(ctx context.Context, channels []string) Report {
	r := Report{Events: events}
	if me, err := c.me(ctx); err != nil {
		r.add(BotToken, "", err)
	} else {
		r.Team, r.User = me.Team, me.User
		r.scopes(strings.Split(me.Header.Get("X-OAuth-Scopes"), ","))
		for _, channel := range channels {
			c.checkChannel(ctx, &r, channel)
		}
	}
	_, err := call(ctx, c, func() (string, error) {
		_, url, err := c.api.StartSocketModeContext(ctx)
		return url, err
	})
	r.add(AppToken, "", err)
	return r
}

// add notes what an error says, if there is one.
func (r *Report) add(what Matter, name string, err error) {
	if err == nil {
		return
	}
	code := codeOf(err)
	if code == "" {
		r.Missing = append(r.Missing, Missing{What: CantAnswer, Name: name, Why: err.Error()})
		return
	}
	r.Missing = append(r.Missing, Missing{What: what, Name: name, Why: code, Next: lost[code]})
}

// scopes notes the scopes that the bot token lacks. An answer that names none says nothing.
func (r *Report) scopes(granted []string) {
	for i := range granted {
		granted[i] = strings.TrimSpace(granted[i])
	}
	if len(granted) == 1 && granted[0] == "" {
		return
	}
	for _, scope := range slices.Sorted(maps.Keys(needs)) {
		if !slices.Contains(granted, scope) {
			r.Missing = append(r.Missing, Missing{What: Scope, Name: scope, Why: needs[scope], Next: lost["missing_scope"]})
		}
	}
}

// checkChannel looks whether the bot can hear and post in a channel.
func (c *Chat) checkChannel(ctx context.Context, r *Report, id string) {
	ch, err := call(ctx, c, func() (*slack.Channel, error) {
		return c.api.GetConversationInfoContext(ctx, &slack.GetConversationInfoInput{ChannelID: id})
	})
	switch {
	case err != nil:
		r.add(NotIn, id, err)
		return
	case ch.IsArchived:
		r.Missing = append(r.Missing, Missing{What: Archived, Name: ch.Name, Next: "take another channel"})
	case !ch.IsMember && !ch.IsIM:
		r.Missing = append(r.Missing, Missing{What: NotIn, Name: ch.Name, Next: "type  /invite @" + r.User + "  there"})
	}
	if ch.IsExtShared {
		r.Missing = append(r.Missing, Missing{What: Shared, Name: ch.Name, Why: "people of another team read every card there"})
	}
}
