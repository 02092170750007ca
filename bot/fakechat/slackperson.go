package fakechat

import (
	"maps"
	"mime"
	"path"
	"regexp"
	"slices"
	"strings"
)

// What people do. These calls panic where the test itself is wrong: no such channel, no such
// message, a person who isn't in the channel.

var (
	escape   = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")
	unescape = strings.NewReplacer("&amp;", "&", "&lt;", "<", "&gt;", ">")
)

var typedToken = regexp.MustCompile(`[@#][\p{L}\p{N}._-]+|https?://[^\s<>]+`)

// typed is the text as the composer hands it over: & < > escaped, @name, #channel, @here and
// links as tokens.
func (s *Slack) typed(text string) string {
	return typedToken.ReplaceAllStringFunc(escape.Replace(text), func(word string) string {
		bare := strings.TrimRight(word, ".-")
		rest := word[len(bare):]
		name := strings.TrimPrefix(strings.TrimPrefix(bare, "@"), "#")
		switch {
		case strings.HasPrefix(word, "http"):
			return "<" + word + ">"
		case strings.HasPrefix(word, "#"):
			for _, id := range s.order {
				if c := s.channels[id]; c.Name == name {
					return "<#" + c.ID + "|" + c.Name + ">" + rest
				}
			}
			return word
		case name == "here" || name == "channel" || name == "everyone":
			return "<!" + name + ">" + rest
		}
		for _, g := range s.groups {
			if g.Handle == name {
				return "<!subteam^" + g.ID + "|@" + g.Handle + ">" + rest
			}
		}
		for _, id := range slices.Sorted(maps.Keys(s.people)) {
			if p := s.people[id]; p.Name == name || p.DisplayName == name {
				return "<@" + p.ID + ">" + rest
			}
		}
		return word
	})
}

// Say posts what a person types into a channel, or into a thread of it, and returns the ts.
// @name, #name, @here and links become what the composer makes of them.
func (s *Slack) Say(user, channel, thread, text string) (ts string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.say(user, channel, thread, s.typed(text))
}

// Mention is Say with the bot's name before the text.
func (s *Slack) Mention(user, channel, thread, text string) (ts string) {
	return s.Say(user, channel, thread, "@"+SlackBotName+" "+text)
}

// SayRaw posts a text that is in the platform's form already, such as <!date^…> or a token
// that nobody can type.
func (s *Slack) SayRaw(user, channel, thread, text string) (ts string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.say(user, channel, thread, text)
}

func (s *Slack) say(user, channel, thread, text string) string {
	p := s.fromPerson(user, channel, thread)
	p.Text = text
	p.Blocks = richText(s.number("b"), text)
	s.keep(p)
	s.said(p)
	return p.TS
}

func (s *Slack) fromPerson(user, channel, thread string) *SlackPost {
	c, person := s.channels[channel], s.people[user]
	switch {
	case c == nil || person == nil:
		panic("fakechat: no channel " + channel + ", or no user " + user)
	case !c.has(user):
		panic("fakechat: " + user + " is not in " + channel)
	case thread != "" && (s.find(channel, thread) == nil || !s.find(channel, thread).isRoot()):
		panic("fakechat: no thread " + thread + " in " + channel)
	}
	team := SlackTeam
	if person.Stranger() {
		team = person.Team
	}
	return &SlackPost{Channel: channel, Thread: thread, User: user, Team: team, ClientID: s.number("client-")}
}

// SayAsBot posts as another app does: with a bot_id, no user, and the subtype bot_message.
func (s *Slack) SayAsBot(bot, channel, thread, text string) (ts string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := &SlackPost{Channel: channel, Thread: thread, BotID: bot, Team: SlackTeam, Subtype: "bot_message", Text: escape.Replace(text)}
	s.keep(p)
	s.said(p)
	return p.TS
}

// Share posts a file of a person, with a text that may be empty.
func (s *Slack) Share(user, channel, thread, text string, f SlackFile) (ts string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f.ID, f.User, f.arrived = s.number("F"), user, true
	if f.Title == "" {
		f.Title = f.Name
	}
	if f.Mime == "" {
		f.Mime = mime.TypeByExtension(path.Ext(f.Name))
	}
	s.files[f.ID] = &f
	p := s.fromPerson(user, channel, thread)
	p.Subtype, p.Text, p.Files = "file_share", s.typed(text), []*SlackFile{&f}
	s.share(p)
	return p.TS
}

func (s *Slack) must(channel, ts string) *SlackPost {
	p := s.find(channel, ts)
	if p == nil || p.Deleted {
		panic("fakechat: no message " + ts + " in " + channel)
	}
	return p
}

// Edit changes what a person's message says.
func (s *Slack) Edit(channel, ts, text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.must(channel, ts)
	before := s.messageJSON(p, false)
	p.Text = s.typed(text)
	p.Blocks = richText(s.number("b"), p.Text)
	s.edited(p, p.User, before)
}

// Delete deletes a message. A thread's root with replies becomes "This message was deleted."
func (s *Slack) Delete(channel, ts string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.remove(s.must(channel, ts))
}

// Unfurl shows a preview of a link under a message: a message_changed that is no edit.
func (s *Slack) Unfurl(channel, ts string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.must(channel, ts)
	before := s.messageJSON(p, false)
	p.Attached = mustJSON([]any{map[string]any{
		"id": 1, "title": "A page", "fallback": "A page", "from_url": "https://kitchen.example/", "title_link": "https://kitchen.example/",
	}})
	s.changedEvent(p, before)
}

// React puts a person's emoji under a message.
func (s *Slack) React(user, channel, ts, name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.react(s.must(channel, ts), user, name)
}

// Noise sends what a busy channel sends besides messages: topics, pins, reminders, and the
// notice that a message got a reply.
func (s *Slack) Noise(user, channel string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, n := range []struct{ subtype, text string }{
		{"channel_topic", "<@" + user + "> set the channel topic: 3 kg belly on Friday"},
		{"channel_purpose", "<@" + user + "> set the channel description: curing"},
		{"channel_name", "<@" + user + "> has renamed the channel"},
		{"pinned_item", "<@" + user + "> pinned a message to this channel."},
		{"reminder_add", "<@" + user + "> set a reminder: 3.2 kg belly, dry rub"},
		{"bot_add", "added an integration to this channel"},
	} {
		s.notice(channel, n.subtype, user, n.text)
	}
	ts := s.stamp()
	s.event(channel, map[string]any{
		"type": "message", "subtype": "message_replied", "hidden": true, "channel": channel, "ts": ts, "event_ts": ts,
		"message": map[string]any{"type": "message", "user": user, "text": "3.2 kg belly, dry rub", "ts": ts, "thread_ts": ts, "reply_count": 1},
	})
}
