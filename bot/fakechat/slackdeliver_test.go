package fakechat

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"testing"

	"github.com/gorilla/websocket"
)

// Faults of delivery, each for certain.
func TestSlackFaultyDelivery(t *testing.T) {
	say := func(t *testing.T, f SlackFaults, lines ...string) (*app, *line) {
		a := newApp(t, SlackSettings{Faults: f})
		l := a.dial()
		for _, text := range lines {
			a.s.Say(a.ana, a.cure, "", text)
		}
		return a, l
	}
	t.Run("twice", func(t *testing.T) {
		_, l := say(t, SlackFaults{Twice: 1}, "one")
		if x, y := l.take(), l.take(); x.ID == y.ID || x.Payload.EventID != y.Payload.EventID {
			t.Errorf("%+v, %+v", x, y)
		}
	})
	t.Run("twice by one id", func(t *testing.T) {
		a, l := say(t, SlackFaults{TwiceSame: 1}, "one")
		if x, y := l.take(), l.take(); x.ID != y.ID || y.Attempt != 0 {
			t.Errorf("%+v, %+v", x, y)
		}
		a.until(func() bool { return a.s.Pending() == 0 })
	})
	t.Run("shuffled", func(t *testing.T) {
		a, l := say(t, SlackFaults{Shuffled: 1}, "one")
		a.s.SetFaults(SlackFaults{})
		a.s.Say(a.ana, a.cure, "", "two")
		got := []string{l.take().inner("text"), l.take().inner("text")}
		slices.Sort(got) // the first one is sent alone where no second comes in time
		if !slices.Equal(got, []string{"one", "two"}) {
			t.Errorf("%q", got)
		}
	})
	t.Run("cut", func(t *testing.T) {
		a, l := say(t, SlackFaults{Cut: 1}, "one")
		e := l.next()
		if err := l.closed(); err == nil || a.s.Sockets() != 0 {
			t.Errorf("%d sockets", a.s.Sockets())
		}
		if again := a.dial().take(); again.ID != e.ID {
			t.Errorf("%+v, then %+v", e, again)
		}
	})
	t.Run("disconnected", func(t *testing.T) {
		_, l := say(t, SlackFaults{Disconnected: 1}, "one")
		l.next()
		if f := l.next(); f.Type != "disconnect" {
			t.Errorf("%+v", f)
		}
	})
	t.Run("undecodable", func(t *testing.T) {
		a, l := say(t, SlackFaults{Undecodable: 1}, "one")
		if e := l.take(); e.ID == "" || e.Payload.Event["ts"] != 17.0 {
			t.Errorf("%+v", e)
		}
		l.take()
		a.until(func() bool { return a.s.Pending() == 0 })
	})
	t.Run("unknown event", func(t *testing.T) {
		_, l := say(t, SlackFaults{UnknownEvent: 1}, "one")
		if e := l.take(); e.inner("type") != "kettle_boiled" {
			t.Errorf("%+v", e)
		}
	})
	t.Run("unknown block", func(t *testing.T) {
		_, l := say(t, SlackFaults{UnknownBlock: 1}, "one")
		e := l.take()
		if block := e.Payload.Event["blocks"].([]any)[0].(map[string]any); block["type"] != "hologram" || e.inner("text") != "one" {
			t.Errorf("%+v", e)
		}
	})
	t.Run("lost in a gap", func(t *testing.T) {
		a := newApp(t, SlackSettings{Faults: SlackFaults{LostInGap: 1}})
		a.s.Say(a.ana, a.cure, "", "nobody hears this")
		l := a.dial()
		a.s.Say(a.ana, a.cure, "", "one")
		if e := l.take(); e.inner("text") != "one" || len(a.s.Posts(a.cure)) != 2 {
			t.Errorf("%+v", e)
		}
	})
	t.Run("repeated", func(t *testing.T) {
		a, l := say(t, SlackFaults{}, "one")
		e := l.take()
		a.s.Repeat(a.s.Deliveries()[0])
		a.s.Strange(`{"type":"event_callback","event":[]}`)
		if again := l.take(); again.ID == e.ID || again.Payload.EventID != e.Payload.EventID {
			t.Errorf("%+v", again)
		}
		l.take()
		a.s.Frame(`{"type":"weather"}`)
		if f := l.next(); f.Type != "weather" {
			t.Errorf("%+v", f)
		}
	})
}

// Under all faults at once, everything that was said reaches a client that takes it and
// dials again.
func TestSlackStorm(t *testing.T) {
	share := 0.1
	a := newApp(t, SlackSettings{Seed: 7, Faults: SlackFaults{
		Twice: share, TwiceSame: share, Shuffled: share, Cut: share, Disconnected: share, Undecodable: share, UnknownEvent: share, UnknownBlock: share,
	}})
	heard, lines := map[string]bool{}, 0
	ended := make(chan struct{})
	ctx, hangUp := context.WithCancel(t.Context())
	defer hangUp()
	go func() {
		defer close(ended)
		for ctx.Err() == nil {
			lines++
			a.listen(ctx, heard)
		}
	}()
	a.until(func() bool { return a.s.Sockets() > 0 })
	said := map[string]bool{}
	for i := range 300 {
		said[a.s.Say(a.ana, a.cure, "", fmt.Sprint(i))] = true
		a.until(func() bool { return a.s.Pending() < 10 })
	}
	a.until(func() bool { return a.s.Pending() == 0 })
	hangUp()
	<-ended
	for ts := range said {
		if !heard[ts] {
			t.Errorf("message %s never came", ts)
		}
	}
	if lines < 10 {
		t.Errorf("only %d lines were needed", lines)
	}
	if p := a.s.Problems(); len(p) > 0 {
		t.Errorf("problems %v", p)
	}
}

// listen opens one line, acknowledges what comes, and notes its ts, until the line is cut or
// ctx ends.
func (a *app) listen(ctx context.Context, heard map[string]bool) {
	link, err := a.try(http.MethodPost, a.s.APIURL()+"apps.connections.open", "", a.s.AppToken(), "")
	if err != nil {
		return
	}
	conn, _, err := websocket.DefaultDialer.DialContext(ctx, link.text("url"), nil)
	if err != nil {
		return
	}
	defer conn.Close()
	defer context.AfterFunc(ctx, func() { _ = conn.Close() })()
	for {
		var e envelopeIn
		_, data, err := conn.ReadMessage()
		if err != nil {
			return
		}
		// Some of them can't be decoded: what counts is their envelope_id.
		_ = json.Unmarshal(data, &e)
		if e.ID != "" {
			if conn.WriteJSON(map[string]string{"envelope_id": e.ID}) != nil {
				return
			}
			heard[e.inner("ts")] = true
		}
	}
}
