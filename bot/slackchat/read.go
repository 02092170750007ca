package slackchat

import (
	"cmp"
	"context"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/slack-go/slack"
	"github.com/slack-go/slack/slackevents"

	"salthand/bot"
)

// Platform is the name in bot.Place.Platform and bot.Account.Platform.
const Platform = "slack"

// person is what Slack tells of a user.
type person struct {
	name, team, zone, locale string
	guest                    bool // restricted to some channels, or of another team
	robot                    bool // an app's user
}

func (p person) teamOr(ours string) string { return cmp.Or(p.team, ours) }

// reader makes messages of Slack's events. It knows who the bot is and asks who others are.
type reader struct {
	team, user string // the bot's own ids
	who        func(user string) person
	groups     func(user string) (ids []string, told bool)
	handle     func(group string) string // what people type after an @ for a user group
	open       func(url string) func(context.Context) (io.ReadCloser, error)
}

// readSubtypes are the kinds of message that a person says something with. All others are
// notices.
var readSubtypes = []string{"", "file_share", "thread_broadcast", "me_message"}

// event reads a message event. ok is false where nobody said anything: notices, previews,
// bots, the bot itself.
func (r reader) event(ev *slackevents.MessageEvent) (m bot.Message, ok bool) {
	direct := ev.IsIM() || directID(ev.Channel)
	team := cmp.Or(ev.UserTeam, ev.SourceTeam)
	switch ev.SubType {
	case "message_changed":
		if ev.Message == nil {
			return m, false
		}
		now, before := *ev.Message, ev.PreviousMessage
		if now.SubType == "tombstone" || now.Hidden && before != nil && now.User == slackItself { // the root of a thread was deleted
			return r.deleted(before, now.Timestamp, ev.Channel, direct, when(ev.EventTimeStamp))
		}
		if now.Edited == nil || before != nil && before.Text == now.Text {
			return m, false // a preview, a reply, a file: nobody changed a word
		}
		now.Team = cmp.Or(team, now.Team)
		return r.edited(now, ev.Channel, direct)
	case "message_deleted":
		return r.deleted(ev.PreviousMessage, ev.DeletedTimeStamp, ev.Channel, direct, when(ev.EventTimeStamp))
	}
	if ev.Message == nil || !slices.Contains(readSubtypes, ev.SubType) { // a notice may carry a message of somebody's
		return m, false
	}
	now := *ev.Message
	now.Team = cmp.Or(team, now.Team)
	return r.said(now, ev.Channel, direct)
}

// slackItself is the user that Slack speaks as.
const slackItself = "USLACKBOT"

// appMention reads the second event of a message that names the bot: it becomes the same
// message, so that both together are taken once.
func (r reader) appMention(ev *slackevents.AppMentionEvent) (m bot.Message, ok bool) {
	if ev.Edited != nil {
		return m, false // the edit has an event of its own
	}
	return r.said(slack.Msg{User: ev.User, Text: ev.Text, Timestamp: ev.TimeStamp, ThreadTimestamp: ev.ThreadTimeStamp, BotID: ev.BotID,
		Team: cmp.Or(ev.UserTeam, ev.SourceTeam), Files: ev.Files}, ev.Channel, false)
}

// said reads a message as it stands in a channel.
func (r reader) said(msg slack.Msg, channel string, direct bool) (m bot.Message, ok bool) {
	if msg.Hidden || !slices.Contains(readSubtypes, msg.SubType) {
		return m, false
	}
	m, ok = r.by(msg, channel, direct)
	if !ok || msg.User == "" {
		return m, false
	}
	m.ID, m.What, m.At = msg.Timestamp, bot.Said, when(msg.Timestamp)
	m.Text, m.Mentions, m.Mentioned = r.words(msg.Text)
	for _, f := range msg.Files {
		a := bot.Attached{Name: cmp.Or(f.Name, f.Title, f.ID)}
		if url := cmp.Or(f.URLPrivateDownload, f.URLPrivate); url != "" {
			a.Fetch = r.open(url)
		}
		m.Files = append(m.Files, a)
	}
	return m, true
}

// edited reads a message that a person changed. Each change has an id of its own.
func (r reader) edited(msg slack.Msg, channel string, direct bool) (m bot.Message, ok bool) {
	if m, ok = r.said(msg, channel, direct); !ok {
		return m, false
	}
	m.ID, m.Said, m.What, m.At = msg.Timestamp+"/"+msg.Edited.Timestamp, msg.Timestamp, bot.Edited, when(msg.Edited.Timestamp)
	return m, true
}

// deleted reads that the message ts was deleted. before is what it was, as far as it is told.
func (r reader) deleted(before *slack.Msg, ts, channel string, direct bool, at time.Time) (m bot.Message, ok bool) {
	if before == nil {
		before = &slack.Msg{}
	}
	gone := *before
	gone.Timestamp = ts
	if m, ok = r.by(gone, channel, direct); !ok {
		return m, false
	}
	m.ID, m.Said, m.What, m.At = ts+"/deleted", ts, bot.Deleted, at
	return m, true
}

// by reads where a message stands and whose it is; false: no person's.
func (r reader) by(msg slack.Msg, channel string, direct bool) (m bot.Message, ok bool) {
	if msg.BotID != "" || msg.User == r.user || msg.User == slackItself || msg.SubType == "bot_message" || msg.Timestamp == "" {
		return m, false
	}
	m.Place = bot.Place{Platform: Platform, Team: r.team, Channel: channel, Thread: msg.ThreadTimestamp}
	m.Top = msg.ThreadTimestamp == "" || msg.ThreadTimestamp == msg.Timestamp
	if m.Place.Thread == "" && !direct { // a direct conversation is one, without threads
		m.Place.Thread = msg.Timestamp
	}
	m.Direct = direct
	return m, r.person(&m, msg.User, msg.Team)
}

// person fills in whose message it is; false: an app's. team is what the event tells.
func (r reader) person(m *bot.Message, user, team string) bool {
	m.Account = bot.Account{Platform: Platform, Team: cmp.Or(team, r.team), User: user}
	if user == "" {
		return true // a deletion may not tell whose it was
	}
	p := r.who(user)
	if team == "" || team == r.team {
		m.Account.Team = p.teamOr(r.team)
	}
	m.Name, m.Zone, m.Language = cmp.Or(p.name, user), p.zone, p.locale
	m.Guest = p.guest || m.Account.Team != r.team
	if !m.Guest {
		m.Groups, m.GroupsTold = r.groups(user)
	}
	return !p.robot
}

// pressed reads a press of a button. ok is false for what is none of the bot's own buttons.
func (r reader) pressed(cb slack.InteractionCallback) (m bot.Message, ok bool) {
	for _, a := range cb.ActionCallback.BlockActions {
		press, ours := pressOf(cmp.Or(a.Value, a.SelectedOption.Value))
		if !ours {
			continue
		}
		channel, ts := cmp.Or(cb.Container.ChannelID, cb.Channel.ID), cmp.Or(cb.Container.MessageTs, cb.Message.Timestamp)
		m.Place = bot.Place{Platform: Platform, Team: r.team, Channel: channel, Thread: cmp.Or(cb.Container.ThreadTs, cb.Message.ThreadTimestamp)}
		if m.Direct = directID(channel); m.Place.Thread == "" && !m.Direct {
			m.Place.Thread = ts
		}
		m.What, m.Press = bot.Pressed, &press
		m.ID = strings.Join([]string{"press", ts, a.ActionID, cb.User.ID, a.ActionTs}, "/")
		m.At = when(a.ActionTs)
		return m, r.person(&m, cb.User.ID, teamOf(cb))
	}
	return m, false
}

// filled reads a form that was sent.
func (r reader) filled(cb slack.InteractionCallback) (m bot.Message, ok bool) {
	of, ok := originOf(cb.View.PrivateMetadata)
	if !ok || cb.View.CallbackID != formID || cb.View.State == nil {
		return m, false
	}
	m.Place = bot.Place{Platform: Platform, Team: r.team, Channel: of.Channel, Thread: of.Thread}
	m.Direct = directID(of.Channel)
	m.What, m.Press = bot.Filled, &of.press
	m.ID = "view/" + cb.View.ID // one opening of a form is taken once
	m.Fields = map[string]string{}
	for name, inputs := range cb.View.State.Values {
		for _, in := range inputs {
			m.Fields[name] = in.Value
		}
	}
	return m, r.person(&m, cb.User.ID, teamOf(cb))
}

// teamOf is the team of who pressed, which in a shared channel is not always the bot's.
func teamOf(cb slack.InteractionCallback) string { return cmp.Or(cb.User.TeamID, cb.Team.ID) }

// directID tells a direct conversation by its id, where an event says no more of it.
func directID(channel string) bool { return strings.HasPrefix(channel, "D") }

// when is the time in a ts, "seconds.micros"; the zero time where it is none.
func when(ts string) time.Time {
	sec, micro, _ := strings.Cut(ts, ".")
	s, err := strconv.ParseInt(sec, 10, 64)
	if err != nil {
		return time.Time{}
	}
	u, err := strconv.ParseInt((micro + "000000")[:6], 10, 64)
	if err != nil {
		return time.Time{}
	}
	return time.Unix(s, u*1000).UTC()
}

// stamp is a time as a ts, for asking what came after it.
func stamp(t time.Time) string {
	return strconv.FormatInt(t.Unix(), 10) + "." + strconv.Itoa(1_000_000 + t.Nanosecond()/1000)[1:]
}
