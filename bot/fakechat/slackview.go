package fakechat

import (
	"encoding/json"
	"slices"
	"time"
)

// SlackView is one modal that the app opened for a person.
type SlackView struct {
	ID, ExternalID string
	User           string
	CallbackID     string
	Private        string // private_metadata
	Title          string
	Hash           string
	Blocks         json.RawMessage
	Previous       string            // the view below it on the stack
	Open           bool              // it is still on the person's screen
	Errors         map[string]string // that the last submission got, by block id
	Revisions      []json.RawMessage // each state as it was given, oldest first
	given          object
}

// trigger is what lets an app open a view: one person's action, for a short time.
type trigger struct {
	user string
	made time.Time
	used bool
	view string // the view that the action happened in
}

func (s *Slack) newTrigger(user, view string) string {
	id := s.number("trigger-")
	s.triggers[id] = &trigger{user: user, made: s.set.Now(), view: view}
	return id
}

func (s *Slack) pull(a args) (*trigger, *refusal) {
	t, ok := s.triggers[a["trigger_id"]]
	switch {
	case !ok:
		return nil, &refusal{code: "invalid_trigger_id"}
	case t.used:
		return nil, &refusal{code: "exchanged_trigger_id"}
	case s.set.Now().Sub(t.made) > s.set.TriggerLife:
		return nil, &refusal{code: "expired_trigger_id"}
	}
	return t, nil
}

// checkView reads a view and checks it.
func (s *Slack) checkView(raw string) (object, *refusal) {
	var v object
	if json.Unmarshal([]byte(raw), &v) != nil {
		return nil, &refusal{code: "invalid_arguments", messages: []string{"view: must be an object"}}
	}
	c := &blockCheck{modal: true, newID: func() string { return s.number("b") }}
	if v["type"] != "modal" {
		c.fail("/view/type", "unsupported type: %v", v["type"])
	}
	c.textObject("/view/title", v["title"], maxViewTitle, "plain_text")
	for key, most := range map[string]int{"submit": maxViewSubmit, "close": maxViewClose} {
		if v[key] != nil {
			c.textObject("/view/"+key, v[key], most, "plain_text")
		}
	}
	c.bound("/view", v, "private_metadata", maxPrivateMeta)
	c.bound("/view", v, "callback_id", maxCallbackID)
	c.bound("/view", v, "external_id", maxCallbackID)
	blocks, ok := v["blocks"].([]any)
	if !ok {
		c.fail("/view/blocks", "missing required field: blocks")
	}
	c.blocks("/view/blocks", blocks, maxViewBlocks)
	if v["submit"] == nil && slices.ContainsFunc(blocks, func(b any) bool { o, _ := b.(object); return o["type"] == "input" }) {
		c.fail("/view/submit", "missing required field: submit, as there is an input")
	}
	if len(c.wrong) > 0 {
		slices.Sort(c.wrong)
		return nil, &refusal{code: "invalid_arguments", messages: c.wrong}
	}
	return v, nil
}

// show puts a checked view into a SlackView.
func (s *Slack) show(w *SlackView, v object) {
	text := func(key string) string { t, _ := v[key].(string); return t }
	w.given, w.CallbackID, w.Private = v, text("callback_id"), text("private_metadata")
	if id := text("external_id"); id != "" {
		w.ExternalID = id
	}
	title, _ := v["title"].(object)
	w.Title, _ = title["text"].(string)
	w.Blocks = mustJSON(v["blocks"])
	w.Hash = s.stamp() + ".hash"
	w.Errors = nil
	w.Revisions = append(w.Revisions, mustJSON(v))
	s.touch()
}

func (s *Slack) viewJSON(w *SlackView) map[string]any {
	v := map[string]any{}
	for key, value := range w.given {
		v[key] = value
	}
	for key, usual := range map[string]any{"private_metadata": "", "callback_id": "", "submit": nil, "close": nil} {
		if v[key] == nil {
			v[key] = usual
		}
	}
	v["id"], v["team_id"], v["app_id"], v["bot_id"], v["hash"] = w.ID, SlackTeam, SlackApp, SlackBotID, w.Hash
	v["external_id"], v["root_view_id"], v["state"] = w.ExternalID, w.ID, map[string]any{"values": map[string]any{}}
	v["previous_view_id"] = nil
	if w.Previous != "" {
		v["previous_view_id"], v["root_view_id"] = w.Previous, s.rootOf(w).ID
	}
	return v
}

func (s *Slack) rootOf(w *SlackView) *SlackView {
	for w.Previous != "" {
		w = s.view(w.Previous)
	}
	return w
}

func (s *Slack) view(id string) *SlackView {
	for _, w := range s.views {
		if w.ID == id {
			return w
		}
	}
	return nil
}

func (s *Slack) openView(a args) (reply, *refusal) {
	t, no := s.pull(a)
	if no != nil {
		return nil, no
	}
	v, no := s.checkView(a["view"])
	if no != nil {
		return nil, no
	}
	t.used = true
	for _, w := range s.views { // one stack a person
		if w.User == t.user {
			w.Open = false
		}
	}
	return s.addView(t.user, "", v)
}

func (s *Slack) addView(user, previous string, v object) (reply, *refusal) {
	if id, _ := v["external_id"].(string); id != "" && slices.ContainsFunc(s.views, func(w *SlackView) bool { return w.ExternalID == id }) {
		return refuse("duplicate_external_id")
	}
	w := &SlackView{ID: s.number("V"), User: user, Previous: previous, Open: true}
	s.views = append(s.views, w)
	s.show(w, v)
	return reply{"view": s.viewJSON(w)}, nil
}

func (s *Slack) pushView(a args) (reply, *refusal) {
	t, no := s.pull(a)
	if no != nil {
		return nil, no
	}
	v, no := s.checkView(a["view"])
	if no != nil {
		return nil, no
	}
	depth := 0
	for at := s.view(t.view); at != nil; at = s.view(at.Previous) {
		depth++
	}
	switch {
	case depth == 0:
		return refuse("not_found")
	case depth >= maxViewStack:
		return refuse("push_limit_reached")
	}
	t.used = true
	return s.addView(t.user, t.view, v)
}

func (s *Slack) updateView(a args) (reply, *refusal) {
	w := s.view(a["view_id"])
	if w == nil && a["external_id"] != "" {
		at := slices.IndexFunc(s.views, func(w *SlackView) bool { return w.ExternalID == a["external_id"] })
		if at >= 0 {
			w = s.views[at]
		}
	}
	switch {
	case w == nil || !w.Open:
		return refuse("not_found")
	case a["hash"] != "" && a["hash"] != w.Hash:
		return refuse("hash_conflict")
	}
	v, no := s.checkView(a["view"])
	if no != nil {
		return nil, no
	}
	s.show(w, v)
	return reply{"view": s.viewJSON(w)}, nil
}

// Views are the modals that were opened, oldest first.
func (s *Slack) Views() []SlackView {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []SlackView
	for _, w := range s.views {
		c := *w
		c.Revisions = slices.Clone(w.Revisions)
		found = append(found, c)
	}
	return found
}
