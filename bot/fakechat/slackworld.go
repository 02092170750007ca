package fakechat

import (
	"slices"
	"strings"
	"time"
)

// SlackPerson is a user of the workspace. Empty names and zone are filled from Name.
type SlackPerson struct {
	ID          string
	Name        string // the old user name: ana
	RealName    string
	DisplayName string // may be empty, as it often is
	TZ          string // IANA; empty: no time zone is shown
	Locale      string // en-US, es-ES …
	Team        string // empty: this team; else a person of another one, from a shared channel
	Deleted     bool
	Bot         bool
	Guest       bool // is_restricted
	Admin       bool
}

// Stranger tells whether the person is of another team.
func (p SlackPerson) Stranger() bool { return p.Team != "" && p.Team != SlackTeam }

// SlackChannel is one conversation.
type SlackChannel struct {
	ID       string
	Name     string
	Kind     string // public, private, im or mpim; empty: public
	Shared   bool   // with another team
	Archived bool
	Members  []string // user ids
	made     time.Time
}

// The kinds of channels.
const (
	SlackPublic  = "public"
	SlackPrivate = "private"
	SlackIM      = "im"
	SlackMPIM    = "mpim"
)

// SlackGroup is a user group, that people mention by its handle.
type SlackGroup struct {
	ID, Handle, Name string
	Users            []string
	Disabled         bool
}

// AddPerson adds a user and returns the id.
func (s *Slack) AddPerson(p SlackPerson) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if p.ID == "" {
		p.ID = s.number("U")
	}
	s.people[p.ID] = &p
	return p.ID
}

// ChangePerson changes a user and sends user_change.
func (s *Slack) ChangePerson(id string, change func(*SlackPerson)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.people[id]
	change(p)
	s.event("", map[string]any{"type": "user_change", "user": s.userJSON(p, true), "event_ts": s.stamp()})
}

// AddChannel adds a channel and returns the id. The bot is a member only if it is listed.
func (s *Slack) AddChannel(c SlackChannel) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.addChannel(c).ID
}

func (s *Slack) addChannel(c SlackChannel) *SlackChannel {
	if c.Kind == "" {
		c.Kind = SlackPublic
	}
	if c.ID == "" {
		c.ID = s.number(map[string]string{SlackPublic: "C", SlackPrivate: "C", SlackIM: "D", SlackMPIM: "G"}[c.Kind])
	}
	c.Members = slices.Clone(c.Members)
	c.made = s.set.Now()
	s.channels[c.ID] = &c
	s.order = append(s.order, c.ID)
	return &c
}

// AddGroup adds a user group and returns the id.
func (s *Slack) AddGroup(g SlackGroup) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if g.ID == "" {
		g.ID = s.number("S")
	}
	s.groups = append(s.groups, &g)
	return g.ID
}

// SetGroup changes who is in a user group.
func (s *Slack) SetGroup(id string, users ...string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, g := range s.groups {
		if g.ID == id {
			g.Users = users
		}
	}
}

// Direct is the direct conversation of a user with the bot, opened when there is none.
func (s *Slack) Direct(user string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.direct(user).ID
}

func (s *Slack) direct(user string) *SlackChannel {
	for _, id := range s.order {
		if c := s.channels[id]; c.Kind == SlackIM && slices.Contains(c.Members, user) {
			return c
		}
	}
	return s.addChannel(SlackChannel{Kind: SlackIM, Members: []string{user, SlackBot}})
}

// Archive archives a channel: nothing can be posted there any more.
func (s *Slack) Archive(channel, user string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.channels[channel].Archived = true
	s.event(channel, map[string]any{"type": "channel_archive", "channel": channel, "user": user, "event_ts": s.stamp()})
}

// Join adds a user, or SlackBot, to a channel, with the notices that the platform sends.
func (s *Slack) Join(user, channel string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.join(user, s.channels[channel])
}

func (s *Slack) join(user string, c *SlackChannel) {
	if !slices.Contains(c.Members, user) {
		c.Members = append(c.Members, user)
	}
	s.event(c.ID, map[string]any{
		"type": "member_joined_channel", "user": user, "channel": c.ID, "channel_type": "C", "team": SlackTeam, "event_ts": s.stamp(),
	})
	s.notice(c.ID, "channel_join", user, "<@"+user+"> has joined the channel")
}

// Leave takes a user, or SlackBot, out of a channel. The bot hears of its own leaving only
// by what it is refused afterwards.
func (s *Slack) Leave(user, channel string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.channels[channel]
	s.notice(channel, "channel_leave", user, "<@"+user+"> has left the channel")
	c.Members = slices.DeleteFunc(c.Members, func(m string) bool { return m == user })
}

// Revoke makes every call fail with the given error from now on: invalid_auth,
// account_inactive, token_revoked, token_expired. An empty one gives the rights back.
func (s *Slack) Revoke(with string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.revoked = with
}

func (s *Slack) userJSON(p *SlackPerson, locale bool) map[string]any {
	team := p.Team
	if team == "" {
		team = SlackTeam
	}
	real := p.RealName
	if real == "" {
		real = p.Name
	}
	u := map[string]any{
		"id": p.ID, "team_id": team, "name": p.Name, "real_name": real, "deleted": p.Deleted, "color": "9f69e7",
		"is_bot": p.Bot, "is_app_user": false, "is_admin": p.Admin, "is_owner": false, "is_primary_owner": false,
		"is_restricted": p.Guest, "is_ultra_restricted": false, "is_stranger": p.Stranger(), "updated": s.set.Now().Unix(),
		"profile": map[string]any{
			"real_name": real, "real_name_normalized": real, "display_name": p.DisplayName, "display_name_normalized": p.DisplayName,
			"team": team, "avatar_hash": "g0000000000", "status_text": "", "status_emoji": "",
		},
	}
	if zone, err := time.LoadLocation(p.TZ); err == nil && p.TZ != "" {
		name, offset := s.set.Now().In(zone).Zone()
		u["tz"], u["tz_label"], u["tz_offset"] = p.TZ, name, offset
	}
	if locale && p.Locale != "" {
		u["locale"] = p.Locale
	}
	return u
}

func (s *Slack) channelJSON(c *SlackChannel) map[string]any {
	v := map[string]any{
		"id": c.ID, "created": c.made.Unix(), "is_archived": c.Archived, "is_im": c.Kind == SlackIM, "is_mpim": c.Kind == SlackMPIM,
		"is_private": c.Kind != SlackPublic, "is_channel": c.Kind == SlackPublic, "is_group": c.Kind == SlackPrivate,
		"is_ext_shared": c.Shared, "is_shared": c.Shared, "is_org_shared": false, "context_team_id": SlackTeam,
	}
	if c.Kind == SlackIM {
		v["user"] = c.other()
		return v
	}
	v["name"], v["name_normalized"] = c.Name, strings.ToLower(c.Name)
	v["is_general"], v["is_member"], v["creator"] = false, c.has(SlackBot), SlackBot
	return v
}

func (c *SlackChannel) has(user string) bool { return slices.Contains(c.Members, user) }

// other is the person of a direct conversation.
func (c *SlackChannel) other() string {
	for _, m := range c.Members {
		if m != SlackBot {
			return m
		}
	}
	return SlackBot
}

// typ is what events and scopes call the kind: channel_type, and the word before ":read".
func (c *SlackChannel) typ() (channelType, scope string) {
	switch c.Kind {
	case SlackPrivate:
		return "group", "groups"
	case SlackIM:
		return "im", "im"
	case SlackMPIM:
		return "mpim", "mpim"
	}
	return "channel", "channels"
}
