package fakechat

import (
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
