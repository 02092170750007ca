package fakechat

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// soon are rules under which redelivery doesn't take minutes.
var soon = SlackSettings{AckWithin: 30 * time.Millisecond, Redeliver: []time.Duration{0, 0, 0}}

// An event that nobody acknowledges comes three times more, then no more.
// Source: docs.slack.dev/apis/events-api, retries.
func TestSlackRedelivers(t *testing.T) {
	a := newApp(t, soon)
	l := a.dial()
	a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	var ids, events []string
	for attempt := range 4 {
		e := l.next()
		if why := []string{"", "timeout", "timeout", "timeout"}[attempt]; e.Attempt != attempt || e.Why != why {
			t.Errorf("try %d: attempt %d, reason %q", attempt, e.Attempt, e.Why)
		}
		ids, events = append(ids, e.ID), append(events, e.Payload.EventID)
	}
	a.until(func() bool { return a.s.Pending() == 0 && len(a.s.Problems()) == 4 })
	if len(slices.Compact(slices.Sorted(slices.Values(ids)))) != 4 || len(slices.Compact(events)) != 1 {
		t.Errorf("envelopes %v of events %v", ids, events)
	}
	for _, code := range a.problems() {
		if code != "late_ack" {
			t.Errorf("problem %s", code)
		}
	}
	l.ack(ids[0], nil)
	a.until(func() bool { d := a.s.Deliveries(); _, acked := d[0].Delay(); return acked })
	if _, acked := a.s.Deliveries()[1].Delay(); acked || len(a.s.Deliveries()) != 4 {
		t.Errorf("deliveries: %+v", a.s.Deliveries())
	}
}

// A late acknowledgement ends the redelivery.
func TestSlackAckOfSecondTry(t *testing.T) {
	a := newApp(t, SlackSettings{AckWithin: 30 * time.Millisecond, Redeliver: []time.Duration{0, time.Hour}})
	l := a.dial()
	a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	l.next()
	l.take()
	a.until(func() bool { return a.s.Pending() == 0 })
	if d := a.s.Deliveries(); len(d) != 2 || d[1].Attempt != 1 {
		t.Errorf("deliveries: %+v", d)
	}
}

// Clicks are told once: nobody waits for them any more after three seconds.
func TestSlackClickIsToldOnce(t *testing.T) {
	a := newApp(t, soon)
	a.dial()
	ts := a.must("chat.postMessage", "channel", a.cure, "text", "t", "blocks", button(`,"action_id":"go"`)).text("ts")
	if err := a.s.Press(a.ana, a.cure, ts, "go"); !errors.Is(err, ErrNoAck) {
		t.Errorf("the press: %v", err)
	}
	if err := a.s.Press(a.ana, a.cure, ts, "stop"); !errors.Is(err, ErrCannot) {
		t.Errorf("a press of nothing: %v", err)
	}
	a.until(func() bool { return a.s.Pending() == 0 })
	clicks := 0
	for _, d := range a.s.Deliveries() {
		if d.Kind == "interactive" {
			clicks++
		}
	}
	if clicks != 1 {
		t.Errorf("%d deliveries of one click", clicks)
	}
}

// What a dead connection still owed comes on the next one, by the same envelope id; what was
// said meanwhile comes too.
func TestSlackReconnect(t *testing.T) {
	a := newApp(t, SlackSettings{})
	first := a.dial()
	a.s.Say(a.ana, a.cure, "", "one")
	owed := first.next()
	a.s.Cut()
	if err := first.closed(); websocket.IsCloseError(err, websocket.CloseNormalClosure) {
		t.Errorf("a cut line closes with %v", err)
	}
	a.until(func() bool { return a.s.Sockets() == 0 })
	a.s.Say(a.ana, a.cure, "", "two")
	second := a.dial()
	got := []envelopeIn{second.take(), second.take()}
	if got[0].ID != owed.ID || got[0].inner("text") != "one" || got[1].inner("text") != "two" {
		t.Errorf("after the cut: %+v", got)
	}
	a.until(func() bool { return a.s.Pending() == 0 })
	if p := a.s.Problems(); len(p) > 0 {
		t.Errorf("problems %v", p)
	}
}

func TestSlackDisconnects(t *testing.T) {
	a := newApp(t, SlackSettings{})
	for _, reason := range []string{"refresh_requested", "link_disabled"} {
		l := a.dial()
		a.s.Disconnect(reason)
		if f := l.next(); f.Type != "disconnect" || f.Reason != reason {
			t.Errorf("the frame is %+v", f)
		}
		if err := l.closed(); !websocket.IsCloseError(err, websocket.CloseNormalClosure) {
			t.Errorf("%s closes with %v", reason, err)
		}
	}
	l := a.dial()
	a.s.Disconnect("warning")
	if f := l.next(); f.Reason != "warning" {
		t.Errorf("the frame is %+v", f)
	}
	a.s.Say(a.ana, a.cure, "", "still here")
	if e := l.take(); e.inner("text") != "still here" {
		t.Errorf("after the warning: %+v", e)
	}
}

// Source: docs.slack.dev/apis/events-api/using-socket-mode: up to 10 connections, and an
// event goes to any one of them.
func TestSlackSeveralSockets(t *testing.T) {
	a := newApp(t, SlackSettings{})
	var lines []*line
	for range 10 {
		lines = append(lines, a.dial())
	}
	if f := a.dialRaw().next(); f.Type != "disconnect" || f.Reason != "too_many_websockets" {
		t.Errorf("the eleventh gets %+v", f)
	}
	for range 40 {
		a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	}
	a.until(func() bool { return len(a.s.Deliveries()) == 40 })
	by := map[int]int{}
	for _, d := range a.s.Deliveries() {
		by[d.Socket]++
	}
	if len(by) < 5 {
		t.Errorf("only %d of 10 sockets were used: %v", len(by), by)
	}
	for n, l := range lines {
		for range by[n+1] {
			l.take()
		}
	}
	a.until(func() bool { return a.s.Pending() == 0 })
}

// Source: the closing reason that users of the platform report, 1009 "Max frame length of 20480".
func TestSlackFrameTooLong(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	e := l.next()
	l.ack(e.ID, map[string]string{"text": strings.Repeat("x", 20480)})
	if err := l.closed(); !websocket.IsCloseError(err, 1009) || !strings.Contains(err.Error(), "20480") {
		t.Errorf("closes with %v", err)
	}
	if got := a.problems(); !slices.Equal(got, []string{"frame_too_long"}) {
		t.Errorf("problems %v", got)
	}
}

func TestSlackBadAcks(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	l.ack(l.next().ID, map[string]string{"text": "no events take this"})
	l.ack("E404", nil)
	if err := l.conn.WriteMessage(websocket.TextMessage, []byte("hm")); err != nil {
		t.Fatal(err)
	}
	a.until(func() bool { return len(a.s.Problems()) == 3 })
	if got, want := a.problems(), []string{"ack_payload", "unknown_envelope", "bad_frame"}; !slices.Equal(got, want) {
		t.Errorf("problems %v", got)
	}
}

// A socket that stays open and says nothing: what went into it comes again elsewhere, and is
// not held against the client.
func TestSlackSilence(t *testing.T) {
	a := newApp(t, SlackSettings{})
	deaf := a.dial()
	a.s.Silence()
	a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	a.until(func() bool { return len(a.s.Deliveries()) == 1 })
	_ = deaf.conn.Close()
	l := a.dial()
	if e := l.take(); e.inner("text") != "3.2 kg belly" {
		t.Errorf("on the next line: %+v", e)
	}
	a.until(func() bool { return a.s.Pending() == 0 })
	if p := a.s.Problems(); len(p) > 0 {
		t.Errorf("problems %v", p)
	}
}

func TestSlackPings(t *testing.T) {
	a := newApp(t, SlackSettings{PingEvery: time.Millisecond})
	l := a.dial()
	pinged := make(chan string, 1)
	l.conn.SetPingHandler(func(data string) error {
		select {
		case pinged <- data:
			a.s.Say(a.ana, a.cure, "", "after the ping")
		default:
		}
		return nil
	})
	l.take()
	if data := <-pinged; !strings.HasPrefix(data, "Ping from") {
		t.Errorf("the ping says %q", data)
	}
}

// A link is good for one connection, and the origin of a browser is no hindrance.
func TestSlackTicket(t *testing.T) {
	a := newApp(t, SlackSettings{})
	link := a.must("apps.connections.open").text("url")
	conn, resp, err := websocket.DefaultDialer.DialContext(t.Context(), link, http.Header{"Origin": {"https://api.slack.com"}})
	if err != nil {
		t.Fatal(err)
	}
	_ = resp.Body.Close()
	defer conn.Close()
	_, resp, err = websocket.DefaultDialer.DialContext(t.Context(), link, nil)
	if err == nil || resp.StatusCode != http.StatusForbidden {
		t.Errorf("a second dial: %v", err)
	}
	_ = resp.Body.Close()
}

// Close ends what is open, and everything that waits.
func TestSlackClose(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	ts := a.must("chat.postMessage", "channel", a.cure, "text", "t", "blocks", button(`,"action_id":"go"`)).text("ts")
	l.take()
	a.s.Break("auth.test", 1, SlackFault{Slow: time.Hour})
	slow := make(chan error, 1)
	go func() {
		_, err := a.try(http.MethodPost, a.s.APIURL()+"auth.test", "", a.s.BotToken(), "")
		slow <- err
	}()
	pressed := make(chan error, 1)
	go func() { pressed <- a.s.Press(a.ana, a.cure, ts, "go") }()
	l.next()
	a.until(func() bool { return len(a.s.Calls("auth.test")) == 1 })
	if err := a.s.Close(); err != nil {
		t.Error(err)
	}
	if err := <-pressed; !errors.Is(err, ErrNoAck) {
		t.Errorf("the press: %v", err)
	}
	<-slow // with an answer or without: it only has to end
	if err := l.closed(); err == nil {
		t.Error("the line is still open")
	}
	told := len(a.s.Deliveries())
	a.s.Say(a.ana, a.cure, "", "to nobody")
	if n := len(a.s.Deliveries()); n != told {
		t.Errorf("a closed platform tells %d things more", n-told)
	}
}

// A thousand messages at once all arrive once, in order.
func TestSlackFlood(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	for i := range 1000 {
		a.s.Say(a.ana, a.cure, "", fmt.Sprint(i))
	}
	for i := range 1000 {
		if e := l.take(); e.inner("text") != fmt.Sprint(i) {
			t.Fatalf("message %d is %q", i, e.inner("text"))
		}
	}
	a.until(func() bool { return a.s.Pending() == 0 })
}
