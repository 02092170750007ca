package fakechat

import (
	"encoding/json"
	"strings"
	"unicode/utf8"
)

func (s *Slack) authTest(args) (reply, *refusal) {
	return reply{
		"url": "https://" + SlackDomain + ".slack.com/", "team": SlackDomain, "user": SlackBotName,
		"team_id": SlackTeam, "user_id": SlackBot, "bot_id": SlackBotID, "is_enterprise_install": false,
	}, nil
}

// place finds the channel that a post is for. A user's id stands for the direct conversation.
func (s *Slack) place(id string) (*SlackChannel, *refusal) {
	if p, ok := s.people[id]; ok && !p.Deleted && id != SlackBot {
		return s.direct(id), nil
	}
	c, ok := s.channels[id]
	switch {
	case !ok, c.Kind != SlackPublic && !c.has(SlackBot):
		return nil, &refusal{code: "channel_not_found"}
	case c.Archived:
		return nil, &refusal{code: "is_archived"}
	case !c.has(SlackBot):
		return nil, &refusal{code: "not_in_channel"}
	}
	return c, nil
}

// thread finds the root that a reply hangs on. An unknown one is not refused: the platform
// posts into the channel, where nobody looks for it. (From memory; no page states it.)
func (s *Slack) thread(method string, c *SlackChannel, ts string) (string, *refusal) {
	if ts == "" {
		return "", nil
	}
	if !isTS(ts) {
		return "", &refusal{code: "invalid_thread_ts"}
	}
	root := s.find(c.ID, ts)
	switch {
	case root == nil || root.Deleted && len(s.repliesOf(c.ID, ts)) == 0:
		s.problem(method, "thread_unknown", "posted into the channel: no message "+ts)
		return "", nil
	case !root.isRoot():
		s.problem(method, "thread_of_a_reply", ts+" is a reply itself; its root is "+root.Thread)
		return root.Thread, nil
	}
	return ts, nil
}

// content reads and checks what a message says.
func (s *Slack) content(method string, a args) (text string, blocks, attached json.RawMessage, meta *SlackMeta, no *refusal) {
	text = a["text"]
	if raw := a["blocks"]; raw != "" && raw != "null" {
		if blocks, no = s.checkMessageBlocks(raw); no != nil {
			return
		}
	}
	if raw := a["attachments"]; raw != "" && raw != "null" && raw != "[]" {
		if !json.Valid([]byte(raw)) {
			no = &refusal{code: "invalid_attachments"}
			return
		}
		attached = json.RawMessage(raw)
	}
	if raw := a["metadata"]; raw != "" && raw != "null" && raw != "{}" {
		meta = &SlackMeta{}
		if json.Unmarshal([]byte(raw), meta) != nil || meta.Type == "" || meta.Payload == nil {
			no = &refusal{code: "invalid_metadata_format"}
			return
		}
	}
	if n := utf8.RuneCountInString(text); n > maxText {
		s.problem(method, "text_cut", "the platform cuts a text after 40,000 characters")
		text = string([]rune(text)[:maxText])
	}
	if len(blocks) > 0 && string(blocks) != "[]" && text == "" {
		s.problem(method, "no_fallback", "blocks without a text: notifications and screen readers have nothing to say")
	}
	return
}

func (s *Slack) postMessage(a args) (reply, *refusal) {
	c, no := s.place(a["channel"])
	if no != nil {
		return nil, no
	}
	text, blocks, attached, meta, no := s.content("chat.postMessage", a)
	if no != nil {
		return nil, no
	}
	if text == "" && (len(blocks) == 0 || string(blocks) == "[]") && attached == nil {
		return refuse("no_text")
	}
	root, no := s.thread("chat.postMessage", c, a["thread_ts"])
	if no != nil {
		return nil, no
	}
	p := &SlackPost{
		Channel: c.ID, Thread: root, User: SlackBot, BotID: SlackBotID, Team: SlackTeam, Text: text, Blocks: blocks, Attached: attached, Meta: meta,
		Unfurl: a.flag("unfurl_links"), Media: a.flag("unfurl_media"),
	}
	if root != "" && a.is("reply_broadcast") {
		p.Subtype = "thread_broadcast"
	}
	s.keep(p)
	s.said(p)
	return reply{"channel": c.ID, "ts": p.TS, "message": s.messageJSON(p, true)}, nil
}

func (s *Slack) update(a args) (reply, *refusal) {
	c, no := s.place(a["channel"])
	if no != nil {
		return nil, no
	}
	p := s.find(c.ID, a["ts"])
	switch {
	case p == nil || p.Deleted:
		return refuse("message_not_found")
	case p.BotID != SlackBotID:
		return refuse("cant_update_message")
	case utf8.RuneCountInString(a["text"]) > maxUpdateText:
		return refuse("msg_too_long")
	}
	text, blocks, attached, meta, no := s.content("chat.update", a)
	if no != nil {
		return nil, no
	}
	if text == "" && !a.has("blocks") && attached == nil {
		return refuse("no_text")
	}
	before := s.messageJSON(p, false)
	if a.has("text") {
		p.Text = text
	}
	if a.has("blocks") { // left out: the old ones stay; an empty list clears them
		p.Blocks = blocks
	}
	if a.has("attachments") {
		p.Attached = attached
	}
	if a.has("metadata") {
		p.Meta = meta
	}
	s.edited(p, SlackBot, before)
	return reply{"channel": c.ID, "ts": p.TS, "text": p.Text, "message": s.messageJSON(p, true)}, nil
}

func (s *Slack) deleteMessage(a args) (reply, *refusal) {
	c, no := s.place(a["channel"])
	if no != nil {
		return nil, no
	}
	p := s.find(c.ID, a["ts"])
	switch {
	case p == nil || p.Deleted:
		return refuse("message_not_found")
	case p.BotID != SlackBotID:
		return refuse("cant_delete_message")
	}
	s.remove(p)
	return reply{"channel": c.ID, "ts": p.TS}, nil
}

func (s *Slack) postEphemeral(a args) (reply, *refusal) {
	c, no := s.place(a["channel"])
	if no != nil {
		return nil, no
	}
	person, ok := s.people[a["user"]]
	if !ok || person.Deleted || !c.has(person.ID) {
		return refuse("user_not_in_channel")
	}
	text, blocks, attached, _, no := s.content("chat.postEphemeral", a)
	if no != nil {
		return nil, no
	}
	if text == "" && len(blocks) == 0 && attached == nil {
		return refuse("no_text")
	}
	root, no := s.thread("chat.postEphemeral", c, a["thread_ts"])
	if no != nil {
		return nil, no
	}
	if root != "" && len(s.repliesOf(c.ID, root)) == 0 {
		s.problem("chat.postEphemeral", "thread_not_open", "an ephemeral shows only in a thread that somebody has opened")
	}
	e := &SlackEphemeral{Channel: c.ID, TS: s.stamp(), Thread: root, User: person.ID, Text: text, Blocks: blocks}
	s.ephemeral = append(s.ephemeral, e)
	s.touch()
	return reply{"message_ts": e.TS}, nil
}

func (s *Slack) permalink(a args) (reply, *refusal) {
	c, ok := s.channels[a["channel"]]
	if !ok || c.Kind != SlackPublic && !c.has(SlackBot) {
		return refuse("channel_not_found")
	}
	p := s.find(c.ID, a["message_ts"])
	if p == nil || p.Deleted {
		return refuse("message_not_found")
	}
	link := "https://" + SlackDomain + ".slack.com/archives/" + c.ID + "/p" + strings.ReplaceAll(p.TS, ".", "")
	if !p.isRoot() {
		link += "?thread_ts=" + p.Thread + "&cid=" + c.ID
	}
	return reply{"channel": c.ID, "permalink": link}, nil
}

func (s *Slack) teamInfo(args) (reply, *refusal) {
	return reply{"team": map[string]any{"id": SlackTeam, "name": SlackDomain, "domain": SlackDomain, "email_domain": ""}}, nil
}
