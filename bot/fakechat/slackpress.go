package fakechat

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
)

// What a person sees when the app doesn't play along.
var (
	// ErrCannot says that a person can't do that there: no such button, option or field, or
	// a field that the platform's own form refuses.
	ErrCannot = errors.New("nobody can do that there")
	// ErrNoAck says that the app did not acknowledge in time: the person sees a warning sign.
	ErrNoAck = errors.New("not acknowledged in time")
)

// Press presses a button under a message, or under an ephemeral that the person sees. action
// is its action_id or the words on it. It waits for the acknowledgement.
func (s *Slack) Press(user, channel, ts, action string) error {
	return s.act(user, channel, ts, action, "")
}

// Pick chooses one option, by its value or its words, of an overflow menu or a select.
func (s *Slack) Pick(user, channel, ts, action, option string) error {
	return s.act(user, channel, ts, action, option)
}

func (s *Slack) act(user, channel, ts, action, option string) error {
	s.mu.Lock()
	e, err := s.pressed(user, channel, ts, action, option)
	s.mu.Unlock()
	if err != nil {
		return err
	}
	_, err = s.wantAck(e)
	return err
}

// PressView presses a button in a modal, or picks an option in it when option isn't empty. It
// waits for the acknowledgement.
func (s *Slack) PressView(user, viewID, action, option string) error {
	s.mu.Lock()
	w := s.view(viewID)
	if w == nil || !w.Open || w.User != user {
		s.mu.Unlock()
		return fmt.Errorf("%w: view %s is not open for %s", ErrCannot, viewID, user)
	}
	act, err := s.action(w.Blocks, action, option)
	if err != nil {
		s.mu.Unlock()
		return err
	}
	payload := map[string]any{"container": map[string]any{"type": "view", "view_id": viewID}, "view": s.viewJSON(w), "actions": []any{act}}
	s.actor(payload, "block_actions", user, viewID)
	e := &envelope{kind: kindInteractive, what: "block_actions", payload: mustJSON(payload)}
	s.raise(e)
	s.mu.Unlock()
	_, err = s.wantAck(e)
	return err
}

// action is the entry in "actions" of a press.
func (s *Slack) action(blocks json.RawMessage, action, option string) (object, error) {
	block, element := findElement(blocks, action)
	if element == nil {
		return nil, fmt.Errorf("%w: no %q to press", ErrCannot, action)
	}
	act := object{"action_id": element["action_id"], "block_id": block, "type": element["type"], "action_ts": s.stamp()}
	if option == "" {
		for _, key := range []string{"text", "value", "style"} {
			if element[key] != nil {
				act[key] = element[key]
			}
		}
		return act, nil
	}
	chosen := findOption(element, option)
	if chosen == nil {
		return nil, fmt.Errorf("%w: no option %q", ErrCannot, option)
	}
	act["selected_option"] = chosen
	return act, nil
}

// pressed makes a click and raises it.
func (s *Slack) pressed(user, channel, ts, action, option string) (*envelope, error) {
	c := s.channels[channel]
	if c == nil || !c.has(user) {
		return nil, fmt.Errorf("%w: %s is not in %s", ErrCannot, user, channel)
	}
	r := replyURL{channel: channel, user: user}
	container := map[string]any{"type": "message", "message_ts": ts, "channel_id": channel, "is_ephemeral": false}
	payload := map[string]any{}
	var raw json.RawMessage
	if p := s.find(channel, ts); p != nil && !p.Deleted {
		raw, r.post, r.thread = p.Blocks, p, p.Thread
		payload["message"] = s.messageJSON(p, false)
	}
	for _, e := range s.ephemeral {
		if e.Channel == channel && e.TS == ts && e.User == user && !e.Deleted {
			raw, r.seen, r.thread = e.Blocks, e, e.Thread
			container["is_ephemeral"] = true
		}
	}
	if r.thread != "" {
		container["thread_ts"] = r.thread
	}
	act, err := s.action(raw, action, option)
	if err != nil {
		return nil, err
	}
	s.actor(payload, "block_actions", user, "")
	name := c.Name
	if c.Kind == SlackIM {
		name = "directmessage"
	}
	payload["container"], payload["channel"] = container, map[string]any{"id": channel, "name": name}
	payload["response_url"], payload["actions"] = s.newReplyURL(r), []any{act}
	payload["state"] = map[string]any{"values": map[string]any{}}
	e := &envelope{kind: kindInteractive, what: "block_actions", payload: mustJSON(payload)}
	s.raise(e)
	return e, nil
}

// actor puts into a payload who did what kind of thing.
func (s *Slack) actor(payload map[string]any, kind, user, view string) {
	p := s.people[user]
	team := p.Team
	if team == "" {
		team = SlackTeam
	}
	payload["type"], payload["api_app_id"], payload["token"], payload["trigger_id"] = kind, SlackApp, "none", s.newTrigger(user, view)
	payload["user"] = map[string]any{"id": user, "username": p.Name, "name": p.Name, "team_id": team}
	payload["team"] = map[string]any{"id": SlackTeam, "domain": SlackDomain}
	payload["enterprise"], payload["is_enterprise_install"] = nil, false
}

// findElement finds the element that has an action_id, or these words on it.
func findElement(raw json.RawMessage, action string) (block string, found object) {
	var blocks []object
	if json.Unmarshal(raw, &blocks) != nil {
		return "", nil
	}
	for _, b := range blocks {
		elements, _ := b["elements"].([]any)
		if b["accessory"] != nil {
			elements = append(elements, b["accessory"])
		}
		for _, v := range elements {
			e, _ := v.(object)
			words, _ := e["text"].(object)
			if e["action_id"] == action || words["text"] == action && e["type"] == "button" {
				block, _ = b["block_id"].(string)
				return block, e
			}
		}
	}
	return "", nil
}

func findOption(element object, option string) object {
	options, _ := element["options"].([]any)
	for _, v := range options {
		o, _ := v.(object)
		words, _ := o["text"].(object)
		if o["value"] == option || words["text"] == option {
			return o
		}
	}
	return nil
}

// wantAck waits for what comes with the acknowledgement.
func (s *Slack) wantAck(e *envelope) (json.RawMessage, error) {
	limit := time.NewTimer(s.set.AckWithin)
	defer limit.Stop()
	select {
	case answer := <-e.answered:
		return answer, nil
	case <-limit.C:
	case <-s.ctx.Done():
	}
	return nil, fmt.Errorf("%s: %w", e.what, ErrNoAck)
}

// Slash runs a slash command, such as "/cure", and returns what the acknowledgement carried.
// A text in it is shown as the platform shows it.
func (s *Slack) Slash(user, channel, command, text string) (json.RawMessage, error) {
	s.mu.Lock()
	c := s.channels[channel]
	if c == nil || !c.has(user) {
		s.mu.Unlock()
		return nil, fmt.Errorf("%w: %s is not in %s", ErrCannot, user, channel)
	}
	r := replyURL{channel: channel, user: user, slash: true}
	e := &envelope{kind: kindSlash, what: command, payload: mustJSON(map[string]any{
		"token": "none", "team_id": SlackTeam, "team_domain": SlackDomain, "channel_id": channel, "channel_name": c.Name, "user_id": user,
		"user_name": s.people[user].Name, "command": command, "text": s.typed(strings.TrimSpace(text)), "api_app_id": SlackApp,
		"is_enterprise_install": "false", "response_url": s.newReplyURL(r), "trigger_id": s.newTrigger(user, ""),
	})}
	s.raise(e)
	s.mu.Unlock()
	answer, err := s.wantAck(e)
	if err != nil || len(answer) == 0 {
		return answer, err
	}
	var b answerBody
	if json.Unmarshal(answer, &b) == nil && (b.Text != "" || len(b.Blocks) > 0) {
		s.mu.Lock()
		defer s.mu.Unlock()
		if no := s.answered(&r, b); no != nil {
			s.problem("slash", no.code, strings.Join(no.messages, "; "))
		}
	}
	return answer, nil
}
