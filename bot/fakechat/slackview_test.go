package fakechat

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"
)

const weighing = `{"type":"modal","callback_id":"weigh","private_metadata":"42.1","notify_on_close":true,
	"title":{"type":"plain_text","text":"Weigh in"},"submit":{"type":"plain_text","text":"Done"},"blocks":[
	{"type":"input","block_id":"cure","label":{"type":"plain_text","text":"Cure, g"},"element":{"type":"number_input","action_id":"g","is_decimal_allowed":true}},
	{"type":"input","block_id":"jar","optional":true,"label":{"type":"plain_text","text":"Jar"},"element":{"type":"static_select","action_id":"j",
		"options":[{"text":{"type":"plain_text","text":"jar A7"},"value":"a7"}]}}]}`

// click has ana press a button, and returns what the app gets.
func (a *app) click(l *line) envelopeIn {
	a.t.Helper()
	ts := a.must("chat.postMessage", "channel", a.cure, "text", "t", "blocks", button(`,"action_id":"weigh"`)).text("ts")
	l.take()
	pressed := make(chan error, 1)
	go func() { pressed <- a.s.Press(a.ana, a.cure, ts, "weigh") }()
	e := l.take()
	if err := <-pressed; err != nil {
		a.t.Fatal(err)
	}
	return e
}

func (a *app) view(method, key, id, view string) answer {
	a.t.Helper()
	body, err := json.Marshal(map[string]any{key: id, "view": json.RawMessage(view)})
	if err != nil {
		a.t.Fatal(err)
	}
	return a.send(http.MethodPost, a.s.APIURL()+method, "application/json", a.s.BotToken(), string(body))
}

// A trigger opens one view, within three seconds.
// Source: docs.slack.dev/interactivity/handling-user-interaction.
func TestSlackTriggers(t *testing.T) {
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	a := newApp(t, SlackSettings{Now: func() time.Time { return now }})
	l := a.dial()
	first, second := a.click(l), a.click(l)
	if got := a.view("views.open", "trigger_id", first.Payload.Trigger, weighing); got.json["ok"] != true {
		t.Fatal(got.body)
	}
	for id, want := range map[string]string{first.Payload.Trigger: "exchanged_trigger_id", "1.2.3": "invalid_trigger_id"} {
		if got := a.view("views.open", "trigger_id", id, weighing); got.text("error") != want {
			t.Errorf("%s: %s", id, got.body)
		}
	}
	now = now.Add(3*time.Second + time.Millisecond)
	if got := a.view("views.open", "trigger_id", second.Payload.Trigger, weighing); got.text("error") != "expired_trigger_id" {
		t.Errorf("after three seconds: %s", got.body)
	}
}

// The answer to a submission decides what the person sees.
// Source: docs.slack.dev/surfaces/modals, "response actions".
func TestSlackSubmit(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	id := a.view("views.open", "trigger_id", a.click(l).Payload.Trigger, weighing).text("view", "id")
	type result struct {
		got SlackSubmitted
		err error
	}
	submit := func(values map[string]string, answer any) (result, envelopeIn) {
		done := make(chan result, 1)
		go func() {
			got, err := a.s.Submit(a.ana, id, values)
			done <- result{got, err}
		}()
		e := l.next()
		l.ack(e.ID, answer)
		return <-done, e
	}
	r, e := submit(map[string]string{"cure": "8.0", "j": "jar A7"}, map[string]any{"response_action": "errors", "errors": map[string]string{"cure": "too much"}})
	if r.err != nil || r.got.Errors["cure"] != "too much" || r.got.View != id || !a.s.Views()[0].Open {
		t.Errorf("errors: %+v", r)
	}
	for _, want := range []string{`"private_metadata":"42.1"`, `"cure":{"g":{"type":"number_input","value":"8.0"}}`, `"value":"a7"`, `"callback_id":"weigh"`} {
		if !strings.Contains(string(e.Payload.View), want) {
			t.Errorf("the view lacks %s: %s", want, e.Payload.View)
		}
	}
	r, _ = submit(map[string]string{"g": "8.1"}, map[string]any{"response_action": "update", "view": json.RawMessage(strings.Replace(weighing, "Weigh in", "Again", 1))})
	if v := a.s.Views()[0]; r.err != nil || v.Title != "Again" || len(v.Revisions) != 2 || v.Errors != nil {
		t.Errorf("update: %+v, %+v", r, v)
	}
	r, _ = submit(map[string]string{"cure": "8.0"}, map[string]any{"response_action": "errors", "errors": map[string]string{"salt": "no such field"}})
	if codes := a.problems(); r.err != nil || len(codes) != 1 || codes[0] != "error_elsewhere" {
		t.Errorf("problems %v", codes)
	}
	r, _ = submit(map[string]string{"cure": "8.0"}, nil)
	if r.err != nil || r.got.View != "" || a.s.Views()[0].Open {
		t.Errorf("an empty answer closes: %+v", r)
	}
	if _, err := a.s.Submit(a.ana, id, map[string]string{"cure": "8.0"}); !errors.Is(err, ErrCannot) {
		t.Errorf("a closed view: %v", err)
	}
}

// What the platform's own form refuses never reaches the app.
func TestSlackFormRefuses(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	id := a.view("views.open", "trigger_id", a.click(l).Payload.Trigger, weighing).text("view", "id")
	for name, values := range map[string]map[string]string{
		"a required field left empty": {"jar": "a7"},
		"a word for a number":         {"cure": "a spoon"},
		"an option that is none":      {"cure": "8.0", "jar": "b2"},
		"a field that is none":        {"cure": "8.0", "salt": "72"},
	} {
		if _, err := a.s.Submit(a.ana, id, values); !errors.Is(err, ErrCannot) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := a.s.Submit(a.luis, id, map[string]string{"cure": "8.0"}); !errors.Is(err, ErrCannot) {
		t.Errorf("another person: %v", err)
	}
	closed := make(chan error, 1)
	go func() { closed <- a.s.Dismiss(a.ana, id) }()
	if e := l.take(); e.Payload.Type != "view_closed" {
		t.Errorf("the app gets %+v", e)
	}
	if err := <-closed; err != nil {
		t.Error(err)
	}
	if got := a.view("views.update", "view_id", id, weighing); got.text("error") != "not_found" {
		t.Errorf("an update of a closed view: %s", got.body)
	}
}

// An update with the hash of an older state is refused; no more than three views lie on
// each other. Source: docs.slack.dev/surfaces/modals.
func TestSlackViewStack(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	got := a.view("views.open", "trigger_id", a.click(l).Payload.Trigger, weighing)
	id, hash := got.text("view", "id"), got.text("view", "hash")
	if got := a.view("views.update", "view_id", id, weighing); got.json["ok"] != true {
		t.Error(got.body)
	}
	body := fmt.Sprintf(`{"view_id":%q,"hash":%q,"view":%s}`, id, hash, weighing)
	if got := a.send(http.MethodPost, a.s.APIURL()+"views.update", "application/json", a.s.BotToken(), body); got.text("error") != "hash_conflict" {
		t.Errorf("an old hash: %s", got.body)
	}
	top := id
	for depth := 2; depth <= 4; depth++ {
		a.s.mu.Lock()
		trigger := a.s.newTrigger(a.ana, top)
		a.s.mu.Unlock()
		got := a.view("views.push", "trigger_id", trigger, weighing)
		if depth == 4 {
			if got.text("error") != "push_limit_reached" {
				t.Errorf("a fourth view: %s", got.body)
			}
			break
		}
		if got.text("view", "previous_view_id") != top || got.text("view", "root_view_id") != id {
			t.Errorf("view %d: %s", depth, got.body)
		}
		top = got.text("view", "id")
	}
}

// A button in a modal: the payload has the view, and no message.
func TestSlackPressView(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	modal := `{"type":"modal","title":{"type":"plain_text","text":"Weigh in"},"blocks":` + button(`,"action_id":"tare"`) + `}`
	id := a.view("views.open", "trigger_id", a.click(l).Payload.Trigger, modal).text("view", "id")
	pressed := make(chan error, 1)
	go func() { pressed <- a.s.PressView(a.ana, id, "tare", "") }()
	e := l.take()
	if err := <-pressed; err != nil || e.Payload.Contain["view_id"] != id || !strings.Contains(string(e.Payload.View), id) || e.Payload.Reply != "" {
		t.Errorf("%v %+v", err, e.Payload)
	}
	if err := a.s.PressView(a.luis, id, "tare", ""); !errors.Is(err, ErrCannot) {
		t.Errorf("another person: %v", err)
	}
}
