package main

import (
	"bytes"
	"context"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"salthand/bot/fakechat"
)

// slackWorld is a workspace on loopback, and a world whose environment points at it.
func slackWorld(t *testing.T, set fakechat.SlackSettings) (*fakechat.Slack, world, *lockedBuffer) {
	t.Helper()
	slack, err := fakechat.StartSlack(set)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := slack.Close(); err != nil {
			t.Error(err)
		}
	})
	env := map[string]string{slackBotToken: slack.BotToken(), slackAppToken: slack.AppToken(), slackAPIURL: slack.APIURL()}
	out := &lockedBuffer{}
	return slack, world{in: strings.NewReader(""), out: out, err: out, login: "ana", data: t.TempDir(), zone: "UTC", now: time.Now,
		env: func(name string) string { return env[name] }}, out
}

// complaints are what the platform had to complain of. Acknowledgements that came after three
// seconds are left out: on a busy machine they say as much of the machine. Slack sends such an
// event again, and what comes of that the tests look at.
func complaints(slack *fakechat.Slack) []fakechat.SlackProblem {
	return slices.DeleteFunc(slack.Problems(), func(p fakechat.SlackProblem) bool { return p.Code == "late_ack" })
}

// lockedBuffer is written to by one goroutine and read by another.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.String()
}

// The code that serve prints makes the first chef, a dose is asked for and approved, and the
// tokens are nowhere in what is printed.
func TestServeSlack(t *testing.T) {
	slack, w, out := slackWorld(t, fakechat.SlackSettings{})
	ana := slack.AddPerson(fakechat.SlackPerson{Name: "ana", TZ: "America/Lima"})
	cures := slack.AddChannel(fakechat.SlackChannel{Name: "cures", Members: []string{ana, fakechat.SlackBot}})
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	served := make(chan error, 1)
	go func() { served <- run(ctx, []string{"serve"}, w) }()
	until := func(what string, done func() bool) {
		t.Helper()
		within, cancel := context.WithTimeout(ctx, 4*time.Minute)
		defer cancel()
		if err := slack.Until(within, done); err != nil {
			t.Fatalf("%s: %v\n%s", what, err, out)
		}
	}
	code := regexp.MustCompile(`join [0-9A-Z-]{11}`)
	until("a connection", func() bool { return slack.Sockets() == 1 && code.MatchString(out.String()) })

	dm := slack.Direct(ana)
	says := func(channel, text string) func() bool {
		return func() bool {
			for _, p := range slack.Posts(channel) {
				if p.BotID != "" && strings.Contains(p.Text, text) {
					return true
				}
			}
			return false
		}
	}
	slack.Say(ana, dm, "", code.FindString(out.String()))
	until("the question of the rules", says(dm, "Which rules apply?"))
	slack.Say(ana, dm, "", "us")
	until("the question of the zone, the chef's own first", says(dm, "Lima"))
	slack.Say(ana, dm, "", "Lima")
	until("the question of the channel", says(dm, "In which channel"))
	slack.Mention(ana, cures, "", "cure channel here")
	until("the cure channel", says(cures, "answered in this channel"))
	slack.Say(ana, cures, "", "3.2 kg belly, dry rub, 7 days")
	until("the dose card", says(cures, "8.0 g"))

	stop()
	if err := <-served; err != nil {
		t.Errorf("serve ended with %v", err)
	}
	if all := out.String(); strings.Contains(all, slack.BotToken()) || strings.Contains(all, slack.AppToken()) {
		t.Errorf("a token was printed:\n%s", all)
	}
	if p := complaints(slack); len(p) > 0 {
		t.Errorf("the workspace had problems: %v", p)
	}
	checked := &lockedBuffer{}
	w.out = checked
	if err := run(t.Context(), []string{"verify"}, w); err != nil {
		t.Errorf("verify: %v\n%s", err, checked)
	}
	// The kitchen's own channels are looked at without being named.
	if err := run(t.Context(), []string{"slack", "check"}, w); err != nil {
		t.Errorf("check: %v\n%s", err, checked)
	}
	slack.Leave(fakechat.SlackBot, cures)
	if err := run(t.Context(), []string{"slack", "check"}, w); status(err) != 1 || !strings.Contains(checked.String(), "the bot is not in the channel: cures") {
		t.Errorf("check, once the bot has left: %v\n%s", err, checked)
	}
}

func TestServeWithoutTokens(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		says string
	}{
		{nil, "put SLACK_BOT_TOKEN and SLACK_APP_TOKEN into the environment"},
		{map[string]string{slackBotToken: "xoxb-1"}, "there is a SLACK_BOT_TOKEN and no SLACK_APP_TOKEN"},
		{map[string]string{slackBotToken: "xapp-1", slackAppToken: "xoxb-1"}, "must begin with xoxb-"},
		{map[string]string{slackBotToken: "xoxb-1", slackAppToken: "xapp-1", slackAPIURL: "http://kitchen.example/api/"}, "must be https, or http on this machine"},
	} {
		var out bytes.Buffer
		w := world{out: &out, err: &out, data: t.TempDir(), config: filepath.Join(t.TempDir(), "none"), now: time.Now,
			env: func(name string) string { return c.env[name] }}
		for _, args := range [][]string{{"serve"}, {"slack", "check"}} {
			out.Reset()
			if err := run(t.Context(), args, w); err == nil || !strings.Contains(out.String(), c.says) {
				t.Errorf("%v with %v: %v, %q, want %q in it", args, c.env, err, out.String(), c.says)
			}
		}
	}
}
