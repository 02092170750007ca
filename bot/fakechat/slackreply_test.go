package fakechat

import (
	"net/http"
	"testing"
	"time"
)

func (a *app) respond(address, body string) answer {
	a.t.Helper()
	return a.send(http.MethodPost, address, "application/json", "", body)
}

// A response_url is good for five answers within half an hour.
// Source: docs.slack.dev/interactivity/handling-user-interaction.
func TestSlackResponseURL(t *testing.T) {
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	a := newApp(t, SlackSettings{Now: func() time.Time { return now }})
	l := a.dial()
	address := a.click(l).Payload.Reply
	for i := range 5 {
		if got := a.respond(address, `{"text":"only you"}`); got.json["ok"] != true {
			t.Errorf("answer %d: %s", i, got.body)
		}
	}
	if got := a.respond(address, `{"text":"only you"}`); got.status != http.StatusNotFound || got.text("error") != "used_url" {
		t.Errorf("the sixth: %d %s", got.status, got.body)
	}
	if e := a.s.Ephemerals(); len(e) != 5 || e[0].User != a.ana || e[0].Text != "only you" {
		t.Errorf("ephemerals %+v", e)
	}
	late := a.click(l).Payload.Reply
	now = now.Add(30*time.Minute + time.Second)
	if got := a.respond(late, `{"text":"only you"}`); got.text("error") != "expired_url" {
		t.Errorf("after half an hour: %s", got.body)
	}
	if got := a.respond(late+"x", `{"text":"only you"}`); got.status != http.StatusNotFound {
		t.Errorf("another address: %s", got.body)
	}
}

func TestSlackResponseReplaces(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	e := a.click(l)
	card, _ := e.Payload.Contain["message_ts"].(string)
	a.respond(e.Payload.Reply, `{"text":"approved","replace_original":true}`)
	if p, _ := a.s.Post(a.cure, card); p.Text != "approved" || len(p.Revisions) != 2 {
		t.Errorf("replaced: %+v", p)
	}
	a.respond(e.Payload.Reply, `{"text":"for all","response_type":"in_channel"}`)
	if posts := a.s.BotPosts(); posts[len(posts)-1].Text != "for all" {
		t.Errorf("posts %+v", posts)
	}
	if got := a.respond(e.Payload.Reply, `{"text":"t","blocks":[{"type":"hologram"}]}`); got.text("error") != "invalid_blocks" {
		t.Errorf("bad blocks: %s", got.body)
	}
	a.respond(e.Payload.Reply, `{"delete_original":true}`)
	if p, _ := a.s.Post(a.cure, card); !p.Deleted {
		t.Error("it is still there")
	}
}

// A button under an ephemeral: no message in the payload, and the answer can replace it.
func TestSlackEphemeralButton(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	ts := a.must("chat.postEphemeral", "channel", a.cure, "user", a.ana, "text", "yours?", "blocks", button(`,"action_id":"yes"`)).text("message_ts")
	a.refused("message_not_found", "chat.update", "channel", a.cure, "ts", ts, "text", "t")
	if err := a.s.Press(a.luis, a.cure, ts, "yes"); err == nil {
		t.Error("somebody else pressed it")
	}
	pressed := make(chan error, 1)
	go func() { pressed <- a.s.Press(a.ana, a.cure, ts, "yes") }()
	e := l.take()
	if err := <-pressed; err != nil || e.Payload.Contain["is_ephemeral"] != true {
		t.Errorf("%v %+v", err, e.Payload)
	}
	a.respond(e.Payload.Reply, `{"text":"noted","replace_original":true}`)
	if got := a.s.Ephemerals()[0]; got.Text != "noted" || got.Replaced != 1 {
		t.Errorf("%+v", got)
	}
}

// What a slash command's acknowledgement carries is shown; it can't be replaced afterwards.
func TestSlackSlash(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	type result struct {
		answer string
		err    error
	}
	done := make(chan result, 1)
	go func() {
		answer, err := a.s.Slash(a.ana, a.cure, "/cure", "help < 5 g")
		done <- result{string(answer), err}
	}()
	e := l.next()
	if e.Type != "slash_commands" || e.Payload.Text != "help &lt; 5 g" || e.Payload.Trigger == "" {
		t.Errorf("the app gets %+v", e)
	}
	l.ack(e.ID, map[string]string{"text": "help dose"})
	if r := <-done; r.err != nil || r.answer != `{"text":"help dose"}` {
		t.Errorf("%+v", r)
	}
	if got := a.s.Ephemerals(); len(got) != 1 || got[0].Text != "help dose" || got[0].User != a.ana {
		t.Errorf("ephemerals %+v", got)
	}
	if got := a.respond(e.Payload.Reply, `{"text":"other","replace_original":true}`); got.text("error") != "cant_update_message" {
		t.Errorf("replaced: %s", got.body)
	}
}

// An option of a menu is picked by its value or its words.
func TestSlackPick(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	ts := a.must("chat.postMessage", "channel", a.cure, "text", "t", "blocks",
		actionsOf(`{"type":"overflow","action_id":"more","options":`+listOf(2, option)+`}`)).text("ts")
	l.take()
	for _, pick := range []string{"1", "no. 1"} {
		picked := make(chan error, 1)
		go func() { picked <- a.s.Pick(a.ana, a.cure, ts, "more", pick) }()
		e := l.take()
		act := answer{json: e.Payload.Actions[0].(map[string]any)}
		if err := <-picked; err != nil || act.text("selected_option", "value") != "1" || act.text("action_id") != "more" {
			t.Errorf("%v %+v", err, act)
		}
	}
	if err := a.s.Pick(a.ana, a.cure, ts, "more", "no. 9"); err == nil {
		t.Error("picked an option that isn't there")
	}
}
