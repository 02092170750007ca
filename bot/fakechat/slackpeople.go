package fakechat

import (
	"regexp"
	"slices"
)

func (s *Slack) userInfo(a args) (reply, *refusal) {
	p, ok := s.people[a["user"]]
	if !ok {
		return refuse("user_not_found")
	}
	return reply{"user": s.userJSON(p, a.is("include_locale"))}, nil
}

func (s *Slack) groupList(a args) (reply, *refusal) {
	found := []any{}
	for _, g := range s.groups {
		if g.Disabled && !a.is("include_disabled") {
			continue
		}
		v := map[string]any{
			"id": g.ID, "team_id": SlackTeam, "is_usergroup": true, "name": g.Name, "handle": g.Handle, "description": "",
			"is_external": false, "date_create": 0, "date_update": 0, "date_delete": 0, "user_count": len(g.Users),
			"prefs": map[string]any{"channels": []string{}, "groups": []string{}},
		}
		if a.is("include_users") {
			v["users"] = g.Users
		}
		found = append(found, v)
	}
	return reply{"usergroups": found}, nil
}

func (s *Slack) groupUsers(a args) (reply, *refusal) {
	for _, g := range s.groups {
		if g.ID == a["usergroup"] && (!g.Disabled || a.is("include_disabled")) {
			return reply{"users": append([]string{}, g.Users...)}, nil
		}
	}
	return refuse("no_such_subteam")
}

var emojiName = regexp.MustCompile(`^[a-z0-9_+'-]+(::skin-tone-[2-6])?$`)

// reacted finds the message that a reaction is for.
func (s *Slack) reacted(a args) (*SlackPost, *refusal) {
	c, no := s.place(a["channel"])
	if no != nil {
		return nil, no
	}
	if !emojiName.MatchString(a["name"]) {
		return nil, &refusal{code: "invalid_name"}
	}
	if a["timestamp"] == "" {
		return nil, &refusal{code: "no_item_specified"}
	}
	p := s.find(c.ID, a["timestamp"])
	if p == nil || p.Deleted {
		return nil, &refusal{code: "message_not_found"}
	}
	return p, nil
}

func (s *Slack) addReaction(a args) (reply, *refusal) {
	p, no := s.reacted(a)
	if no != nil {
		return nil, no
	}
	if !s.react(p, SlackBot, a["name"]) {
		return refuse("already_reacted")
	}
	return reply{}, nil
}

func (s *Slack) removeReaction(a args) (reply, *refusal) {
	p, no := s.reacted(a)
	if no != nil {
		return nil, no
	}
	for i, r := range p.Reacted {
		if at := slices.Index(r.Users, SlackBot); r.Name == a["name"] && at >= 0 {
			p.Reacted[i].Users = slices.Delete(slices.Clone(r.Users), at, at+1)
			if len(p.Reacted[i].Users) == 0 {
				p.Reacted = slices.Delete(p.Reacted, i, i+1)
			}
			s.touch()
			return reply{}, nil
		}
	}
	return refuse("no_reaction")
}

// react puts an emoji under a message. It is false when it is there already.
func (s *Slack) react(p *SlackPost, user, name string) bool {
	at := slices.IndexFunc(p.Reacted, func(r SlackReaction) bool { return r.Name == name })
	if at < 0 {
		p.Reacted = append(p.Reacted, SlackReaction{Name: name})
		at = len(p.Reacted) - 1
	}
	if slices.Contains(p.Reacted[at].Users, user) {
		return false
	}
	p.Reacted[at].Users = append(slices.Clone(p.Reacted[at].Users), user)
	s.event(p.Channel, map[string]any{
		"type": "reaction_added", "user": user, "reaction": name, "item_user": p.User, "event_ts": s.stamp(),
		"item": map[string]any{"type": "message", "channel": p.Channel, "ts": p.TS},
	})
	s.touch()
	return true
}
