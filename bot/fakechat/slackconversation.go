package fakechat

import (
	"encoding/base64"
	"slices"
	"strings"
)

// seen finds a channel that a reading method is asked about, and checks the scope for its
// kind: verb is read or history.
func (s *Slack) seen(id, verb string) (*SlackChannel, *refusal) {
	c, ok := s.channels[id]
	if !ok || c.Kind != SlackPublic && !c.has(SlackBot) {
		return nil, &refusal{code: "channel_not_found"}
	}
	_, word := c.typ()
	if no := s.need(word + ":" + verb); no != nil {
		return nil, no
	}
	if verb == "history" && !c.has(SlackBot) {
		return nil, &refusal{code: "not_in_channel"}
	}
	return c, nil
}

func (s *Slack) conversationInfo(a args) (reply, *refusal) {
	c, no := s.seen(a["channel"], "read")
	if no != nil {
		return nil, no
	}
	v := s.channelJSON(c)
	if a.is("include_num_members") {
		v["num_members"] = len(c.Members)
	}
	return reply{"channel": v}, nil
}

func (s *Slack) conversationList(a args) (reply, *refusal) { return s.list(a, false) }

func (s *Slack) ownConversations(a args) (reply, *refusal) { return s.list(a, true) }

func (s *Slack) list(a args, own bool) (reply, *refusal) {
	types := "public_channel"
	if a["types"] != "" {
		types = a["types"]
	}
	wanted := map[string]bool{}
	for _, t := range strings.Split(types, ",") {
		kind, ok := map[string]string{"public_channel": SlackPublic, "private_channel": SlackPrivate, "im": SlackIM, "mpim": SlackMPIM}[strings.TrimSpace(t)]
		if !ok {
			return refuse("invalid_types")
		}
		_, word := (&SlackChannel{Kind: kind}).typ()
		if no := s.need(word + ":read"); no != nil {
			return nil, no
		}
		wanted[kind] = true
	}
	var found []*SlackChannel
	for _, id := range s.order {
		c := s.channels[id]
		visible := c.has(SlackBot) || c.Kind == SlackPublic && !own
		if wanted[c.Kind] && visible && !(c.Archived && a.is("exclude_archived")) {
			found = append(found, c)
		}
	}
	part, next, no := page(found, func(c *SlackChannel) string { return c.ID }, a)
	channels := make([]any, 0, len(part))
	for _, c := range part {
		channels = append(channels, s.channelJSON(c))
	}
	return reply{"channels": channels, "response_metadata": map[string]any{"next_cursor": next}}, no
}

func (s *Slack) conversationMembers(a args) (reply, *refusal) {
	c, no := s.seen(a["channel"], "read")
	if no != nil {
		return nil, no
	}
	part, next, no := page(c.Members, func(id string) string { return id }, a)
	return reply{"members": part, "response_metadata": map[string]any{"next_cursor": next}}, no
}

func (s *Slack) conversationOpen(a args) (reply, *refusal) {
	if a["users"] == "" {
		c, ok := s.channels[a["channel"]]
		if !ok || !c.has(SlackBot) {
			return refuse("channel_not_found")
		}
		return reply{"channel": map[string]any{"id": c.ID}}, nil
	}
	users := strings.Split(a["users"], ",")
	for _, u := range users {
		if p, ok := s.people[u]; !ok {
			return refuse("user_not_found")
		} else if p.Deleted {
			return refuse("user_disabled")
		}
	}
	if len(users) == 1 {
		return reply{"channel": map[string]any{"id": s.direct(users[0]).ID}}, nil
	}
	members := append(users, SlackBot)
	slices.Sort(members)
	for _, id := range s.order {
		if c := s.channels[id]; c.Kind == SlackMPIM && slices.Equal(slices.Sorted(slices.Values(c.Members)), members) {
			return reply{"channel": map[string]any{"id": c.ID}}, nil
		}
	}
	c := s.addChannel(SlackChannel{Kind: SlackMPIM, Name: "mpdm-" + strings.Join(users, "--"), Members: members})
	return reply{"channel": map[string]any{"id": c.ID}}, nil
}

func (s *Slack) conversationJoin(a args) (reply, *refusal) {
	c, ok := s.channels[a["channel"]]
	switch {
	case !ok || c.Kind == SlackPrivate && !c.has(SlackBot):
		return refuse("channel_not_found")
	case c.Kind != SlackPublic:
		return refuse("method_not_supported_for_channel_type")
	case c.Archived:
		return refuse("is_archived")
	}
	if !c.has(SlackBot) {
		s.join(SlackBot, c)
	}
	return reply{"channel": s.channelJSON(c)}, nil
}

// span tells whether a ts lies between oldest and latest.
func span(a args) func(ts string) bool {
	oldest, latest, whole := a["oldest"], a["latest"], a.is("inclusive")
	return func(ts string) bool {
		if oldest != "" && oldest != "0" {
			if c := compareTS(ts, oldest); c < 0 || c == 0 && !whole {
				return false
			}
		}
		if latest != "" {
			if c := compareTS(ts, latest); c > 0 || c == 0 && !whole {
				return false
			}
		}
		return true
	}
}

func (s *Slack) history(a args) (reply, *refusal) {
	c, no := s.seen(a["channel"], "history")
	if no != nil {
		return nil, no
	}
	inside := span(a)
	var found []*SlackPost
	for _, p := range slices.Backward(s.posts[c.ID]) { // newest first
		if inside(p.TS) && (p.isRoot() || p.Subtype == "thread_broadcast") && s.stands(p) {
			found = append(found, p)
		}
	}
	return s.messagePage(found, a)
}

func (s *Slack) threadReplies(a args) (reply, *refusal) {
	c, no := s.seen(a["channel"], "history")
	if no != nil {
		return nil, no
	}
	root := s.find(c.ID, a["ts"])
	if root == nil || !s.stands(root) {
		return refuse("thread_not_found")
	}
	inside := span(a)
	found := []*SlackPost{root} // it stands first, whatever the span says
	if root.isRoot() {
		for _, p := range s.repliesOf(c.ID, root.TS) {
			if inside(p.TS) {
				found = append(found, p)
			}
		}
	}
	return s.messagePage(found, a)
}

// stands tells whether the message is still shown: a deleted root with replies is, as a
// tombstone.
func (s *Slack) stands(p *SlackPost) bool {
	return !p.Deleted || p.TS == p.Thread && len(s.repliesOf(p.Channel, p.TS)) > 0
}

func (s *Slack) messagePage(found []*SlackPost, a args) (reply, *refusal) {
	part, next, no := page(found, func(p *SlackPost) string { return p.TS }, a)
	if no != nil {
		return nil, no
	}
	messages := make([]any, 0, len(part))
	for _, p := range part {
		messages = append(messages, s.messageJSON(p, a.is("include_all_metadata")))
	}
	rep := reply{"messages": messages, "has_more": next != "", "pin_count": 0}
	if next != "" {
		rep["response_metadata"] = map[string]any{"next_cursor": next}
	}
	return rep, nil
}

// page cuts one page out of a list. A cursor is opaque to the client; here it names the first
// item of the next page, so that what comes in meanwhile moves nothing.
func page[T any](all []T, key func(T) string, a args) (part []T, next string, no *refusal) {
	from := 0
	if cursor := a["cursor"]; cursor != "" {
		raw, err := base64.StdEncoding.DecodeString(cursor)
		from = slices.IndexFunc(all, func(item T) bool { return "next:"+key(item) == string(raw) })
		if err != nil || from < 0 {
			return nil, "", &refusal{code: "invalid_cursor"}
		}
	}
	to := min(from+a.number("limit", usualPage, maxPage), len(all))
	if to < len(all) {
		next = base64.StdEncoding.EncodeToString([]byte("next:" + key(all[to])))
	}
	return append([]T{}, all[from:to]...), next, nil
}
