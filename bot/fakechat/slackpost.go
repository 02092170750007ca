package fakechat

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"
)

// SlackPost is one message of a channel.
type SlackPost struct {
	Channel  string
	TS       string
	Thread   string // thread_ts: the root's ts, "" outside of threads
	User     string
	BotID    string // set where an app posted it
	Team     string // of the author
	Subtype  string
	Text     string          // as Slack keeps it: & < > escaped, mentions as <@U…>
	Blocks   json.RawMessage // with the ids that the platform fills in
	Meta     *SlackMeta
	Files    []*SlackFile
	Unfurl   *bool // unfurl_links as it was sent
	Media    *bool // unfurl_media as it was sent
	ClientID string
	Attached json.RawMessage // attachments
	Deleted  bool
	Edited   string // ts of the last edit, "" for none
	Reacted  []SlackReaction
	// Revisions are all that the message ever said, oldest first; the last is what stands now.
	Revisions []SlackRevision
	editedBy  string
}

// SlackRevision is what a message said from At on.
type SlackRevision struct {
	At     time.Time
	Text   string
	Blocks json.RawMessage
	Meta   *SlackMeta
}

// SlackMeta is the metadata of a message.
type SlackMeta struct {
	Type    string         `json:"event_type"`
	Payload map[string]any `json:"event_payload"`
}

// SlackReaction is one emoji under a message.
type SlackReaction struct {
	Name  string
	Users []string
}

// SlackEphemeral is what one person saw and nobody else.
type SlackEphemeral struct {
	Channel, TS, Thread, User string
	Text                      string
	Blocks                    json.RawMessage
	Deleted                   bool
	Replaced                  int // how often a response_url replaced it
}

func (p *SlackPost) revise(now time.Time) {
	p.Revisions = append(p.Revisions, SlackRevision{At: now, Text: p.Text, Blocks: p.Blocks, Meta: p.Meta})
}

// isRoot tells whether the message stands in the channel itself, not in a thread.
func (p *SlackPost) isRoot() bool { return p.Thread == "" || p.Thread == p.TS }

func (s *Slack) find(channel, ts string) *SlackPost {
	posts := s.posts[channel]
	at, ok := slices.BinarySearchFunc(posts, ts, func(p *SlackPost, ts string) int { return compareTS(p.TS, ts) })
	if !ok {
		return nil
	}
	return posts[at]
}

// compareTS orders two ts of one channel.
func compareTS(a, b string) int {
	as, am, _ := strings.Cut(a, ".")
	bs, bm, _ := strings.Cut(b, ".")
	if len(as) != len(bs) {
		return len(as) - len(bs)
	}
	if c := strings.Compare(as, bs); c != 0 {
		return c
	}
	return strings.Compare(am, bm)
}

// isTS tells whether the text has the form of a ts.
func isTS(ts string) bool {
	sec, micro, ok := strings.Cut(ts, ".")
	if !ok || len(micro) != 6 {
		return false
	}
	_, err1 := strconv.ParseUint(sec, 10, 64)
	_, err2 := strconv.ParseUint(micro, 10, 64)
	return err1 == nil && err2 == nil
}

// keep puts a new message into its channel, gives it a ts, and lets its root know.
func (s *Slack) keep(p *SlackPost) {
	p.TS = s.stamp()
	p.revise(s.set.Now())
	s.posts[p.Channel] = append(s.posts[p.Channel], p)
	if p.Thread != "" {
		s.find(p.Channel, p.Thread).Thread = p.Thread
		key := p.Channel + "/" + p.Thread
		s.threads[key] = append(s.threads[key], p)
	}
	s.touch()
}

func (s *Slack) repliesOf(channel, root string) []*SlackPost {
	var found []*SlackPost
	for _, p := range s.threads[channel+"/"+root] {
		if !p.Deleted {
			found = append(found, p)
		}
	}
	return found
}

// messageJSON is a message as history and events show it.
func (s *Slack) messageJSON(p *SlackPost, meta bool) map[string]any {
	m := map[string]any{"type": "message", "ts": p.TS, "text": p.Text, "team": p.Team}
	if p.Deleted { // what is left of a root while it has replies
		m["subtype"], m["user"], m["text"], m["hidden"], m["thread_ts"] = "tombstone", "USLACKBOT", "This message was deleted.", true, p.Thread
		s.rootJSON(m, p)
		return m
	}
	set := func(key, value string) {
		if value != "" {
			m[key] = value
		}
	}
	set("user", p.User)
	set("subtype", p.Subtype)
	set("client_msg_id", p.ClientID)
	if p.BotID != "" {
		m["bot_id"] = p.BotID
		if p.BotID == SlackBotID {
			m["app_id"] = SlackApp
			m["bot_profile"] = map[string]any{"id": SlackBotID, "app_id": SlackApp, "name": SlackBotName, "team_id": SlackTeam, "deleted": false}
		}
	}
	if p.Team != "" && p.Team != SlackTeam {
		m["user_team"], m["source_team"] = p.Team, p.Team
	}
	if len(p.Blocks) > 0 && string(p.Blocks) != "[]" {
		m["blocks"] = p.Blocks
	}
	if len(p.Attached) > 0 {
		m["attachments"] = p.Attached
	}
	if p.Edited != "" {
		m["edited"] = map[string]any{"user": p.editedBy, "ts": p.Edited}
	}
	if meta && p.Meta != nil {
		m["metadata"] = p.Meta
	}
	if len(p.Files) > 0 {
		var files []any
		for _, f := range p.Files {
			files = append(files, s.fileJSON(f, false))
		}
		m["files"], m["upload"] = files, false
	}
	if len(p.Reacted) > 0 {
		var reactions []any
		for _, r := range p.Reacted {
			reactions = append(reactions, map[string]any{"name": r.Name, "users": r.Users, "count": len(r.Users)})
		}
		m["reactions"] = reactions
	}
	if p.Thread != "" {
		m["thread_ts"] = p.Thread
		if p.TS == p.Thread {
			s.rootJSON(m, p)
		} else if root := s.find(p.Channel, p.Thread); root != nil && root.User != "" {
			m["parent_user_id"] = root.User
		}
	}
	return m
}

// rootJSON adds what only the root of a thread shows.
func (s *Slack) rootJSON(m map[string]any, p *SlackPost) {
	replies := s.repliesOf(p.Channel, p.TS)
	var users []string
	for _, r := range replies {
		if r.User != "" && !slices.Contains(users, r.User) {
			users = append(users, r.User)
		}
	}
	m["reply_count"], m["reply_users_count"], m["reply_users"] = len(replies), len(users), users
	m["is_locked"], m["subscribed"] = false, true
	if len(replies) > 0 {
		m["latest_reply"] = replies[len(replies)-1].TS
	}
}

// copyOf is a post that the caller may keep.
func copyOf(p *SlackPost) SlackPost {
	c := *p
	c.Revisions, c.Files, c.Reacted = slices.Clone(p.Revisions), slices.Clone(p.Files), slices.Clone(p.Reacted)
	return c
}
