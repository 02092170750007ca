package fakechat

import (
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
)

// SlackSubmitted is what a person sees after pressing the submit button of a modal.
type SlackSubmitted struct {
	Action string            // response_action; "" closes the view
	Errors map[string]string // by block id; the view stays open
	View   string            // id of the view that is shown now, "" for none
}

// Submit fills in a modal and submits it. values are by block_id or action_id; for a select,
// checkboxes and the like it is the value or the words of the option, for dates and times the
// text. It waits for the acknowledgement.
func (s *Slack) Submit(user, viewID string, values map[string]string) (SlackSubmitted, error) {
	s.mu.Lock()
	w := s.view(viewID)
	if w == nil || !w.Open || w.User != user {
		s.mu.Unlock()
		return SlackSubmitted{}, fmt.Errorf("%w: view %s is not open for %s", ErrCannot, viewID, user)
	}
	state, err := filledIn(w, maps.Clone(values))
	if err != nil {
		s.mu.Unlock()
		return SlackSubmitted{}, err
	}
	view := s.viewJSON(w)
	view["state"] = map[string]any{"values": state}
	payload := map[string]any{"view": view, "response_urls": []any{}}
	s.actor(payload, "view_submission", user, viewID)
	e := &envelope{kind: kindInteractive, what: "view_submission", payload: mustJSON(payload)}
	s.raise(e)
	s.mu.Unlock()
	answer, err := s.wantAck(e)
	if err != nil {
		return SlackSubmitted{}, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.submitted(w, answer), nil
}

// submitted does what the acknowledgement of a submission says.
func (s *Slack) submitted(w *SlackView, answer json.RawMessage) SlackSubmitted {
	var b struct {
		Action string            `json:"response_action"`
		Errors map[string]string `json:"errors"`
		View   json.RawMessage   `json:"view"`
	}
	if len(answer) > 0 && string(answer) != "null" {
		if err := json.Unmarshal(answer, &b); err != nil {
			s.problem("view", "bad_answer", err.Error())
		}
	}
	got := SlackSubmitted{Action: b.Action, Errors: b.Errors, View: w.ID}
	defer s.touch()
	switch b.Action {
	case "errors":
		w.Errors = b.Errors
		known := inputs(w)
		for id := range b.Errors {
			if known[id] == nil {
				s.problem("view", "error_elsewhere", "no input has the block_id "+id)
			}
		}
		if len(b.Errors) == 0 {
			s.problem("view", "bad_answer", "response_action errors without errors")
		}
	case "update", "push":
		v, no := s.checkView(string(b.View))
		if no != nil {
			s.problem("view", no.code, fmt.Sprint(no.messages))
			return got
		}
		if b.Action == "update" {
			s.show(w, v)
		} else if rep, no := s.addView(w.User, w.ID, v); no == nil {
			got.View = rep["view"].(map[string]any)["id"].(string)
		}
	case "clear":
		for at := w; at != nil; at = s.view(at.Previous) {
			at.Open = false
		}
		got.View = ""
	case "":
		w.Open, got.View = false, w.Previous
	default:
		s.problem("view", "bad_answer", "response_action "+b.Action)
	}
	return got
}

// Dismiss closes a modal without submitting it.
func (s *Slack) Dismiss(user, viewID string) error {
	s.mu.Lock()
	w := s.view(viewID)
	if w == nil || !w.Open || w.User != user {
		s.mu.Unlock()
		return fmt.Errorf("%w: view %s is not open for %s", ErrCannot, viewID, user)
	}
	w.Open = false
	s.touch()
	if w.given["notify_on_close"] != true {
		s.mu.Unlock()
		return nil
	}
	payload := map[string]any{"view": s.viewJSON(w), "is_cleared": false}
	s.actor(payload, "view_closed", user, "")
	e := &envelope{kind: kindInteractive, what: "view_closed", payload: mustJSON(payload)}
	s.raise(e)
	s.mu.Unlock()
	_, err := s.wantAck(e)
	return err
}

// inputs are the input blocks of a view by block_id.
func inputs(w *SlackView) map[string]object {
	found := map[string]object{}
	blocks, _ := w.given["blocks"].([]any)
	for _, v := range blocks {
		if b, _ := v.(object); b["type"] == "input" {
			found[b["block_id"].(string)] = b
		}
	}
	return found
}

var wholeNumber, decimalNumber = regexp.MustCompile(`^-?\d+$`), regexp.MustCompile(`^-?\d+([.,]\d+)?$`)

// filledIn makes the state of a view. It refuses what the platform's own form refuses before
// the app hears of it: a required field left empty, a word where a number belongs.
func filledIn(w *SlackView, values map[string]string) (map[string]any, error) {
	state := map[string]any{}
	all := inputs(w)
	for _, id := range slices.Sorted(maps.Keys(all)) {
		b := all[id]
		e := b["element"].(object)
		action := e["action_id"].(string)
		text, given := values[id]
		if !given {
			text, given = values[action]
		}
		if !given {
			text, _ = e["initial_value"].(string)
		}
		delete(values, id)
		delete(values, action)
		if text == "" && b["optional"] != true {
			return nil, fmt.Errorf("%w: %s must be filled in", ErrCannot, id)
		}
		field := map[string]any{"type": e["type"]}
		var value any
		if text != "" {
			value = text
		}
		switch e["type"] {
		case "number_input":
			form := wholeNumber
			if e["is_decimal_allowed"] == true {
				form = decimalNumber
			}
			if text != "" && !form.MatchString(text) {
				return nil, fmt.Errorf("%w: %s takes a number, not %q", ErrCannot, id, text)
			}
			field["value"] = value
		case "static_select", "radio_buttons", "overflow":
			field["selected_option"] = nil
			if o := findOption(e, text); o != nil {
				field["selected_option"] = o
			} else if text != "" {
				return nil, fmt.Errorf("%w: %s has no option %q", ErrCannot, id, text)
			}
		case "checkboxes", "multi_static_select":
			options := []any{}
			if o := findOption(e, text); o != nil {
				options = append(options, o)
			}
			field["selected_options"] = options
		case "datepicker":
			field["selected_date"] = value
		case "timepicker":
			field["selected_time"] = value
		case "users_select":
			field["selected_user"] = value
		default:
			field["value"] = value
		}
		state[id] = map[string]any{action: field}
	}
	for id := range values {
		return nil, fmt.Errorf("%w: no field %s", ErrCannot, id)
	}
	return state, nil
}
