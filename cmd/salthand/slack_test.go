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

	"salthand/bot"
	"salthand/bot/fakechat"
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
	http            *http.Client
	store           *store.Store
	stop            func()
	ended           chan error
	log             bytes.Buffer
}

// openSlack opens a kitchen with the chefs ana and luis on Slack.
func openSlack(t *testing.T, set fakechat.SlackSettings) *slackKitchen {
	t.Helper()
	s, err := fakechat.StartSlack(set)
	if err != nil {
		t.Fatal(err)
	}
	transport := &http.Transport{}
	k := &slackKitchen{T: t, slack: s, path: filepath.Join(t.TempDir(), "kitchen.db"), http: &http.Client{Transport: transport, Timeout: 10 * time.Second}}
	k.ana = s.AddPerson(fakechat.SlackPerson{Name: "ana"})
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
	account := func(user string) bot.Account {
		return bot.Account{Platform: slackchat.Platform, Team: fakechat.SlackTeam, User: user}
	}
	err = b.Open(k.Context(), bot.Setup{Name: "test", Region: "us", Zone: "America/Chicago", Chefs: []bot.Chef{{Name: "ana", Account: account(k.ana)}, {Name: "luis", Account: account(k.luis)}},
		Cure: bot.Place{Platform: slackchat.Platform, Team: fakechat.SlackTeam, Channel: k.cure}})
	if err != nil {
		k.Fatal(err)
	}
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
	for _, p := range k.slack.Problems() {
		t.Errorf("the platform complains: %+v", p)
	}
}

// Whatever goes wrong on the way, every dose that was asked for has its card in its thread,
// once: events come twice and out of order, connections are cut, calls are refused and answers
// lost, and the bot is ended in the middle of it and started anew.
func TestChaosOnSlack(t *testing.T) {
	n, every := 150, 50
	if *long {
		n, every = 10_000, 300
	}
	k := openSlack(t, fakechat.SlackSettings{AckWithin: 500 * time.Millisecond, Redeliver: []time.Duration{0, 50 * time.Millisecond, 200 * time.Millisecond, time.Second, 5 * time.Second}, Seed: 1,
		Faults: fakechat.SlackFaults{Twice: 0.1, TwiceSame: 0.1, Shuffled: 0.05, Cut: 0.025, Disconnected: 0.025, Undecodable: 0.01, LostInGap: 0.5,
			Error503: 0.015, Error500: 0.01, Lost: 0.015, Bare: 0.01, Malformed: 0.005}})
	var asked []string // the threads
	ask := func(i int) {
		asked = append(asked, k.slack.Say(k.ana, k.cure, "", fmt.Sprintf("%d.%d kg belly, dry rub, 7 days", 1+i%9000/10, i%10)))
	}
	connected := func() { k.until("a connection", func() bool { return k.slack.Sockets() > 0 }) }
	connected()
	ask(0)
	k.until("the first card", func() bool { return len(k.slack.Thread(k.cure, asked[0])) > 1 })
	for i := 1; i < n; i++ {
		if i%every == every-1 {
			k.close()
			ask(i) // in the gap
			k.open()
			connected()
		} else {
			ask(i)
		}
	}
	k.slack.SetFaults(fakechat.SlackFaults{})
	waiting := n
	k.until("every card", func() bool {
		for waiting > 0 && len(k.slack.Thread(k.cure, asked[waiting-1])) > 1 {
			waiting--
		}
		return waiting == 0 && k.slack.Pending() == 0
	})
	k.close()
	for i, ts := range asked {
		if posts := k.slack.Thread(k.cure, ts); len(posts) != 2 || !strings.Contains(posts[1].Text, "DOSE CARD") {
			t.Errorf("ask %d has %d cards", i, len(posts)-1)
		}
	}
	if stray := len(k.slack.BotPosts()) - n; stray != 0 {
		t.Errorf("%d posts too many", stray)
	}
	k.open()
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
