package fakechat

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// post posts once and tells what came of it: the status, then "ok", the error, or what the
// answer looks like. A lost one is "lost".
func (a *app) post(text string) string {
	form := url.Values{"token": {a.s.BotToken()}, "channel": {a.cure}, "text": {text}}
	got, err := a.try(http.MethodPost, a.s.APIURL()+"chat.postMessage", "application/x-www-form-urlencoded", "", form.Encode())
	switch {
	case err != nil:
		return "lost"
	case got.json == nil:
		return fmt.Sprint(got.status, " broken")
	case got.json["ok"] == true:
		return fmt.Sprint(got.status, " ok")
	}
	return strings.TrimSpace(fmt.Sprint(got.status, " ", got.text("error"), " ", got.header.Get("Retry-After")))
}

// Each broken answer, and whether the post took effect under it.
func TestSlackBrokenAnswers(t *testing.T) {
	for _, c := range []struct {
		name   string
		fault  SlackFault
		want   string
		posted bool
	}{
		{"429", SlackFault{Status: 429, RetryAfter: 7 * time.Second}, "429 ratelimited 7", false},
		{"429 without Retry-After", SlackFault{Status: 429}, "429 ratelimited", false},
		{"500", SlackFault{Status: 500}, "500 broken", false},
		{"503", SlackFault{Status: 503}, "503 broken", false},
		{"an error", SlackFault{Error: "fatal_error"}, "200 fatal_error", false},
		{"no word", SlackFault{Bare: true}, "200", false},
		{"half an answer", SlackFault{Malformed: true}, "200 broken", true},
		{"no answer", SlackFault{Lost: true}, "lost", true},
		{"no answer, late", SlackFault{Lost: true, Slow: time.Millisecond}, "lost", true},
		{"a late answer", SlackFault{Slow: time.Millisecond}, "200 ok", true},
	} {
		a := newApp(t, SlackSettings{})
		a.s.Break("chat.postMessage", 1, c.fault)
		if got := a.post("8.0 g"); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if posted := len(a.s.BotPosts()) == 1; posted != c.posted {
			t.Errorf("%s: posted is %v", c.name, posted)
		}
		if got := a.post("8.0 g"); got != "200 ok" {
			t.Errorf("%s: the next call is %q", c.name, got)
		}
		if p := a.s.Problems(); len(p) > 0 {
			t.Errorf("%s: a fault of ours is held against the client: %v", c.name, p)
		}
	}
}

func TestSlackBreakUntilMended(t *testing.T) {
	a := newApp(t, SlackSettings{})
	a.s.Break("apps.connections.open", 2, SlackFault{Error: "internal_error"})
	a.s.Break("apps.connections.open", -1, SlackFault{Error: "missing_scope"})
	for _, want := range []string{"internal_error", "internal_error", "missing_scope", "missing_scope", "missing_scope"} {
		a.refused(want, "apps.connections.open")
	}
	a.s.Mend("apps.connections.open")
	a.dial()
	a.s.Outage(true)
	if got := a.post("8.0 g"); got != "lost" || len(a.s.BotPosts()) != 0 || a.s.Sockets() != 0 {
		t.Errorf("in an outage: %q, %d posts, %d sockets", got, len(a.s.BotPosts()), a.s.Sockets())
	}
	a.s.Outage(false)
	a.dial()
	if got := a.post("8.0 g"); got != "200 ok" {
		t.Errorf("after it: %q", got)
	}
}

// Dialling that is refused, and a line that is hung up before the greeting.
func TestSlackBrokenLink(t *testing.T) {
	a := newApp(t, SlackSettings{})
	a.s.Break("link", 1, SlackFault{Status: http.StatusServiceUnavailable})
	a.s.Break("link", 1, SlackFault{Lost: true})
	link := a.must("apps.connections.open").text("url")
	_, resp, err := websocket.DefaultDialer.DialContext(t.Context(), link, nil)
	if err == nil || resp.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("the first dial: %v", err)
	}
	_ = resp.Body.Close()
	if f, err := a.dialRaw().read(); err == nil {
		t.Errorf("the second one gets %+v", f)
	}
	a.dial()
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

// The same seed brings the same faults to the same calls; another one, others.
func TestSlackChance(t *testing.T) {
	faults := SlackFaults{Limited: 0.1, LimitedBare: 0.1, Error500: 0.1, Error503: 0.1, Lost: 0.1, Malformed: 0.1, Bare: 0.1, Slow: 0.1, SlowBy: time.Microsecond}
	run := func(seed uint64) []string {
		a := newApp(t, SlackSettings{Seed: seed, Faults: faults})
		var got []string
		for i := range 100 {
			got = append(got, a.post(fmt.Sprint(i)))
		}
		return got
	}
	one, again, other := run(1), run(1), run(2)
	if !slices.Equal(one, again) {
		t.Errorf("a second run of a seed differs:\n%q\n%q", one, again)
	}
	if slices.Equal(one, other) {
		t.Error("two seeds bring the same")
	}
	kinds := slices.Compact(slices.Sorted(slices.Values(one)))
	if want := []string{"200", "200 broken", "200 ok", "429 ratelimited", "429 ratelimited 1", "500 broken", "503 broken", "lost"}; !slices.Equal(kinds, want) {
		t.Errorf("kinds %q, want %q", kinds, want)
	}
}

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

// Posting faster than about one a second and channel, beyond a burst, is refused where the
// pace is kept and counted where it isn't. Source: docs.slack.dev/apis/web-api/rate-limits.
func TestSlackPace(t *testing.T) {
	for _, every := range []time.Duration{0, time.Second} {
		now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
		a := newApp(t, SlackSettings{PostEvery: every, PostBurst: 3, Now: func() time.Time { return now }})
		var got []string
		for i := range 5 {
			got = append(got, a.post(fmt.Sprint(i)))
		}
		a.must("chat.postMessage", "channel", a.luis, "text", "another channel")
		want := []string{"200 ok", "200 ok", "200 ok", "200 ok", "200 ok"}
		if every > 0 {
			want = []string{"200 ok", "200 ok", "200 ok", "429 rate_limited 1", "429 rate_limited 1"}
		}
		if !slices.Equal(got, want) || a.s.TooFast()["chat.postMessage"] != 2 {
			t.Errorf("every %v: %q, %v too fast", every, got, a.s.TooFast())
		}
		now = now.Add(time.Second)
		if got := a.post("later"); got != "200 ok" || a.s.TooFast()["chat.postMessage"] != 2 {
			t.Errorf("every %v, a second later: %q", every, got)
		}
	}
}

// Tier 1 is one call a minute: the method that opens connections.
func TestSlackTiers(t *testing.T) {
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	a := newApp(t, SlackSettings{Tiers: true, PostBurst: 1, Now: func() time.Time { return now }})
	a.must("apps.connections.open")
	if got := a.call("apps.connections.open"); got.status != http.StatusTooManyRequests || got.header.Get("Retry-After") != "60" {
		t.Errorf("%d %v", got.status, got.header)
	}
	now = now.Add(time.Minute)
	a.must("apps.connections.open")
}
