package fakechat

import (
	"encoding/json"
	"slices"
	"strings"
)

// SlackEvents are all the events that the fake can send.
func SlackEvents() []string {
	return []string{
		"message.channels", "message.groups", "message.im", "message.mpim", "app_mention", "member_joined_channel", "reaction_added",
		"user_change", "channel_archive", "file_shared",
	}
}

// eventScope is what an event needs besides the subscription. Source: docs.slack.dev/reference/events.
var eventScope = map[string]string{
	"message.channels": "channels:history", "message.groups": "groups:history", "message.im": "im:history", "message.mpim": "mpim:history",
	"app_mention": "app_mentions:read", "member_joined_channel": "channels:read", "reaction_added": "reactions:read",
	"user_change": "users:read", "channel_archive": "channels:read", "file_shared": "files:read",
}

// event sends one event, if the app is subscribed to it, may read it, and is in the channel.
func (s *Slack) event(channel string, inner map[string]any) {
	name := inner["type"].(string)
	c := s.channels[channel]
	if c != nil {
		if !c.has(SlackBot) {
			return
		}
		if name == "message" {
			_, word := c.typ()
			name += "." + word
		}
	}
	if !slices.Contains(s.set.Events, name) || s.need(eventScope[name]) != nil {
		return
	}
	id := s.number("Ev")
	outer := map[string]any{
		"token": "none", "team_id": SlackTeam, "context_team_id": SlackTeam, "context_enterprise_id": nil, "api_app_id": SlackApp,
		"type": "event_callback", "event_id": id, "event_time": s.set.Now().Unix(), "event": inner,
		"authorizations": []any{map[string]any{
			"enterprise_id": nil, "team_id": SlackTeam, "user_id": SlackBot, "is_bot": true, "is_enterprise_install": false,
		}},
		"is_ext_shared_channel": c != nil && c.Shared, "event_context": "4-" + id,
	}
	s.raise(&envelope{kind: kindEvents, what: inner["type"].(string), event: id, payload: mustJSON(outer)})
}

// said tells the app of a new message, its own ones too.
func (s *Slack) said(p *SlackPost) {
	c := s.channels[p.Channel]
	kind, _ := c.typ()
	m := s.messageJSON(p, false)
	m["channel"], m["channel_type"], m["event_ts"] = p.Channel, kind, p.TS
	if p.BotID == "" && s.chance("unknown block", s.set.Faults.UnknownBlock) {
		m["blocks"] = []any{map[string]any{"type": "hologram", "block_id": "h1", "depth": 3}}
	}
	s.event(p.Channel, m)
	if p.BotID == "" && c.Kind != SlackIM && p.Subtype == "" && strings.Contains(p.Text, "<@"+SlackBot+">") {
		mention := s.messageJSON(p, false)
		mention["type"], mention["channel"], mention["event_ts"] = "app_mention", p.Channel, p.TS
		s.event(p.Channel, mention)
	}
}

// changed tells the app of a message_changed. The ts on top is the event's own.
func (s *Slack) changedEvent(p *SlackPost, before map[string]any) {
	kind, _ := s.channels[p.Channel].typ()
	ts := s.stamp()
	s.event(p.Channel, map[string]any{
		"type": "message", "subtype": "message_changed", "hidden": true, "channel": p.Channel, "channel_type": kind, "ts": ts, "event_ts": ts,
		"message": s.messageJSON(p, false), "previous_message": before,
	})
}

// edited notes an edit that has been made, and tells of it.
func (s *Slack) edited(p *SlackPost, by string, before map[string]any) {
	p.Edited, p.editedBy = s.stamp(), by
	p.revise(s.set.Now())
	s.changedEvent(p, before)
	s.touch()
}

// remove deletes a message. The root of a thread stays as a tombstone while it has replies.
func (s *Slack) remove(p *SlackPost) {
	before := s.messageJSON(p, false)
	p.Deleted = true
	if p.isRoot() && len(s.repliesOf(p.Channel, p.TS)) > 0 {
		s.changedEvent(p, before)
	} else {
		kind, _ := s.channels[p.Channel].typ()
		ts := s.stamp()
		s.event(p.Channel, map[string]any{
			"type": "message", "subtype": "message_deleted", "hidden": true, "channel": p.Channel, "channel_type": kind, "ts": ts, "event_ts": ts,
			"deleted_ts": p.TS, "previous_message": before,
		})
	}
	s.touch()
}

// notice posts one of the messages that the platform itself writes.
func (s *Slack) notice(channel, subtype, user, text string) {
	p := &SlackPost{Channel: channel, User: user, Team: SlackTeam, Subtype: subtype, Text: text}
	s.keep(p)
	s.said(p)
}

// richText is the block that the composer makes of what a person types. The words and the
// mentions are told apart, as a client would find them there.
func richText(id, text string) json.RawMessage {
	var elements []any
	word := func(t string) {
		if t != "" {
			elements = append(elements, map[string]any{"type": "text", "text": unescape.Replace(t)})
		}
	}
	for rest := text; ; {
		before, after, found := strings.Cut(rest, "<@")
		user, tail, closed := strings.Cut(after, ">")
		if !found || !closed {
			word(rest)
			break
		}
		word(before)
		elements = append(elements, map[string]any{"type": "user", "user_id": user})
		rest = tail
	}
	return mustJSON([]any{map[string]any{
		"type": "rich_text", "block_id": id, "elements": []any{map[string]any{"type": "rich_text_section", "elements": elements}},
	}})
}
