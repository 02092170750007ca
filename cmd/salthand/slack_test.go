package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.uber.org/goleak"

	"salthand/bot"
	"salthand/bot/fakechat"
	"salthand/bot/paper"
	"salthand/bot/slackchat"
	"salthand/store"
)

var long = flag.Bool("long", false, "run the long form of the tests")

// slackKitchen is the whole bot on a stand-in of Slack, in this process.
type slackKitchen struct {
	*testing.T
	slack           *fakechat.Slack
	ana, luis, cure string
	path            string
	opened          bool   // a kitchen is
	code            string // else: what makes the first chef
	bot             *bot.Bot
	http            *http.Client
	store           *store.Store
	stop            func()
	ended           chan error
	log             bytes.Buffer
}

// openSlack opens a kitchen with the chefs ana and luis on Slack.
func openSlack(t *testing.T, set fakechat.SlackSettings) *slackKitchen {
	t.Helper()
	return startSlack(t, set, true)
}

// startSlack starts the bot on Slack, on an opened kitchen or on none.
func startSlack(t *testing.T, set fakechat.SlackSettings, opened bool) *slackKitchen {
	t.Helper()
	t.Cleanup(func() { goleak.VerifyNone(t) })
	s, err := fakechat.StartSlack(set)
	if err != nil {
		t.Fatal(err)
	}
	transport := &http.Transport{}
	k := &slackKitchen{T: t, slack: s, opened: opened, path: filepath.Join(t.TempDir(), "kitchen.db"), http: &http.Client{Transport: transport, Timeout: 10 * time.Second}}
	k.ana = s.AddPerson(fakechat.SlackPerson{Name: "ana", TZ: "Europe/Madrid"})
	k.luis = s.AddPerson(fakechat.SlackPerson{Name: "luis"})
	k.cure = s.AddChannel(fakechat.SlackChannel{Name: "cure", Members: []string{k.ana, k.luis, fakechat.SlackBot}})
	t.Cleanup(func() {
		k.close()
		transport.CloseIdleConnections()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	k.open()
	return k
}

// open opens the store and runs the bot on it, as a start after a crash does.
func (k *slackKitchen) open() {
	k.Helper()
	var err error
	if k.store, err = store.Open(k.path, store.Options{Scratch: true}); err != nil {
		k.Fatal(err)
	}
	quiet := slog.New(slog.NewTextHandler(&k.log, nil))
	chat, err := slackchat.New(slackchat.Config{APIURL: k.slack.APIURL(), BotToken: k.slack.BotToken(), AppToken: k.slack.AppToken(), HTTP: k.http, Log: quiet,
		PostEvery: time.Nanosecond, OpenEvery: time.Millisecond, OpenMost: 20 * time.Millisecond})
	if err != nil {
		k.Fatal(err)
	}
	b := bot.New(k.store, quiet, chat)
	b.Retry, b.RetryMax = time.Millisecond, 20*time.Millisecond
	if k.opened {
		err = b.Open(k.Context(), bot.Setup{Name: "test", Region: "us", Zone: "America/Chicago", Chefs: []bot.Chef{{Name: "ana", Account: account(k.ana)}, {Name: "luis", Account: account(k.luis)}},
			Cure: bot.Place{Platform: slackchat.Platform, Team: fakechat.SlackTeam, Channel: k.cure}})
	} else {
		k.code, _, err = b.ChefCode(k.Context())
	}
	if err != nil {
		k.Fatal(err)
	}
	b.Drawer, b.Photos, k.bot = paper.Pen{}, photosOf(k.path), b
	ctx, stop := context.WithCancel(context.Background())
	k.stop, k.ended = stop, make(chan error, 1)
	go func() { k.ended <- b.Run(ctx) }()
}

// close ends the bot in the middle of whatever it does.
func (k *slackKitchen) close() {
	k.Helper()
	k.stop()
	if err := <-k.ended; err != nil && !errors.Is(err, context.Canceled) {
		k.Error(err)
	}
	k.ended <- nil
	if err := k.store.Close(); err != nil {
		k.Error(err)
	}
}

func (k *slackKitchen) until(what string, done func() bool) {
	k.Helper()
	ctx, cancel := context.WithTimeout(k.Context(), 4*time.Minute)
	if *long {
		ctx, cancel = context.WithTimeout(k.Context(), 10*time.Minute)
	}
	defer cancel()
	if err := k.slack.Until(ctx, done); err != nil {
		k.Fatalf("%s did not come: %v\n%v\n%s", what, err, k.slack.Problems(), k.log.String())
	}
}

// card is the one card of a thread.
func (k *slackKitchen) card(thread string) fakechat.SlackPost {
	k.Helper()
	k.until("the dose card", func() bool { return len(k.slack.Thread(k.cure, thread)) > 1 })
	return k.slack.Thread(k.cure, thread)[1]
}

// The main job: asked in the channel, answered in the thread, approved with a button, the card
// brought up to date where it stands.
func TestDoseOnSlack(t *testing.T) {
	k := openSlack(t, fakechat.SlackSettings{})
	ts := k.slack.Say(k.ana, k.cure, "", "3.2 kg belly, dry rub, 7 days")
	card := k.card(ts)
	for _, want := range []string{"8.0 g  no. 1 cure", "72.5 g  salt", "limit 200", "Arithmetic, not approval"} {
		if !strings.Contains(card.Text, want) {
			t.Errorf("the card lacks %q:\n%s", want, card.Text)
		}
	}
	if err := k.slack.Press(k.luis, k.cure, card.TS, "approve"); err != nil {
		t.Fatal(err)
	}
	k.until("the approval on the card", func() bool {
		p, _ := k.slack.Post(k.cure, card.TS)
		return strings.Contains(p.Text, "approved by luis") && strings.Contains(string(p.Blocks), "approved by luis")
	})
	k.slack.Say(k.ana, k.cure, ts, "start")
	k.until("the start on the card", func() bool {
		p, _ := k.slack.Post(k.cure, card.TS)
		return strings.Contains(p.Text, "started")
	})
	for _, p := range complaints(k.slack) {
		t.Errorf("the platform complains: %+v", p)
	}
}

// Many asks at once are all kept and acknowledged; in the long form, which wants a machine of
// its own, before the platform's time runs out.
func TestManyAtOnceOnSlack(t *testing.T) {
	n, within := 100, time.Minute
	if *long {
		n, within = 1000, 0 // the platform's own: 3 s
	}
	k := openSlack(t, fakechat.SlackSettings{AckWithin: within})
	k.until("a connection", func() bool { return k.slack.Sockets() > 0 })
	for i := range n {
		k.slack.Say(k.ana, k.cure, "", fmt.Sprintf("%d.%d kg belly, dry rub, 7 days", 1+i/10, i%10))
	}
	k.until("the acknowledgements", func() bool { return k.slack.Pending() == 0 })
	for _, p := range k.slack.Problems() {
		t.Errorf("the platform complains: %+v", p) // a late acknowledgement is a problem
	}
	var longest time.Duration
	for _, d := range k.slack.Deliveries() {
		took, ok := d.Delay()
		if !ok || d.Attempt > 0 {
			t.Errorf("%s was not acknowledged at once", d.Envelope)
		}
		longest = max(longest, took)
	}
	t.Logf("%d acknowledged, the slowest after %v", n, longest)
	k.until("the cards", func() bool { return len(k.slack.BotPosts()) == n })
}
