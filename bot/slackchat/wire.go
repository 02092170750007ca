package slackchat

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/slack-go/slack"
)

// answerAtMost is the most bytes that an answer of the Web API may have.
const answerAtMost = 16 << 20

// openMethod opens a connection. Slack takes about one call a minute of it in the long run
// (docs.slack.dev, apps.connections.open: Tier 1, seen second-hand), and the library makes one
// as soon as a connection is lost.
const openMethod = "apps.connections.open"

// stormAfter is how many connections in a row may be lost young before somebody is told.
const stormAfter = 5

// wire makes the library's calls: paced where a connection is opened, and with a plain
// failure where Slack says only that it failed.
type wire struct {
	http        *http.Client
	base        string
	every, most time.Duration
	alarm       func(error)

	mu     sync.Mutex
	opened time.Time     // when a connection was last opened
	wait   time.Duration // before the next
	row    int           // connections opened in a row, each soon after the last
}

// errBare is an answer {"ok":false} without a reason, which the library takes for a success.
var errBare = errors.New("slack answered that it failed, without a reason")

// Do makes one call.
func (w *wire) Do(req *http.Request) (*http.Response, error) {
	method, ours := strings.CutPrefix(req.URL.String(), w.base)
	if !ours {
		return w.http.Do(req)
	}
	if strings.HasPrefix(method, openMethod) {
		if err := w.pace(req.Context()); err != nil {
			return nil, err
		}
	}
	resp, err := w.http.Do(req)
	if err != nil || resp.StatusCode != http.StatusOK {
		return resp, err
	}
	body, err := io.ReadAll(io.LimitReader(resp.Body, answerAtMost))
	resp.Body.Close()
	if err != nil {
		return nil, err
	}
	var said struct {
		OK    bool   `json:"ok"`
		Error string `json:"error"`
	}
	if json.Unmarshal(body, &said) == nil && !said.OK && strings.TrimSpace(said.Error) == "" {
		return nil, errBare
	}
	resp.Body = io.NopCloser(bytes.NewReader(body))
	return resp, nil
}

// pace waits before a connection is opened. The wait doubles while they are lost young.
func (w *wire) pace(ctx context.Context) error {
	w.mu.Lock()
	now := time.Now()
	if age := now.Sub(w.opened); w.opened.IsZero() || age > 2*max(w.wait, w.every) {
		w.wait, w.row = 0, 0
	} else {
		w.wait, w.row = min(max(2*w.wait, w.every), w.most), w.row+1
	}
	at := now
	if !w.opened.IsZero() {
		at = later(now, w.opened.Add(w.wait))
	}
	w.opened = at
	row := w.row
	w.mu.Unlock()
	if row == stormAfter {
		w.alarm(fmt.Errorf("slack: %d connections in a row did not last", row))
	}
	return pause(ctx, at.Sub(now))
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// pause waits, or returns early with ctx.
func pause(ctx context.Context, d time.Duration) error {
	if d <= 0 {
		return ctx.Err()
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// limitedFor is how long Slack wants no more calls; false: it does not say so. Where it names
// no time a minute is waited (a workspace's limit has none: slack-go issue 1383).
func limitedFor(err error) (time.Duration, bool) {
	var limited *slack.RateLimitedError
	if errors.As(err, &limited) {
		return min(max(limited.RetryAfter, time.Second), 5*time.Minute), true
	}
	var status slack.StatusCodeError
	var said slack.SlackErrorResponse
	many := errors.As(err, &status) && status.Code == http.StatusTooManyRequests
	return time.Minute, many || errors.As(err, &said) && (said.Err == "ratelimited" || said.Err == "rate_limited")
}

// call makes a call and waits as long as Slack asks to; a call that was refused for being too
// many has done nothing. Errors hold no token.
func call[T any](ctx context.Context, c *Chat, do func() (T, error)) (T, error) {
	for {
		v, err := do()
		wait, limited := limitedFor(err)
		if !limited {
			return v, c.clean(err)
		}
		c.Log.Warn("slack takes no more calls for a while", "wait", wait)
		if err := pause(ctx, wait); err != nil {
			return v, err
		}
	}
}
