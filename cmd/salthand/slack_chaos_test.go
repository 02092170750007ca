package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
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

// serveHurried is salthand serve in a process of its own, with the waits cut short: hurried STORE.
func serveHurried() {
	err := func() error {
		w := here()
		log := slog.New(slog.NewTextHandler(w.err, nil))
		s, err := store.Open(os.Args[1], store.Options{})
		if err != nil {
			return err
		}
		defer s.Close()
		chat, err := slackchat.New(slackchat.Config{APIURL: w.env(slackAPIURL), BotToken: w.env(slackBotToken), AppToken: w.env(slackAppToken), Log: log,
			PostEvery: time.Nanosecond, OpenEvery: time.Millisecond, OpenMost: 20 * time.Millisecond})
		if err != nil {
			return err
		}
		go func() { // it ends with the test
			io.Copy(io.Discard, os.Stdin)
			os.Exit(1)
		}()
		b := bot.New(s, log, chat)
		b.Drawer, b.Photos, b.Retry, b.RetryMax = paper.Pen{}, photosOf(os.Args[1]), time.Millisecond, 20*time.Millisecond
		return b.Run(context.Background())
	}()
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// chaos is a kitchen whose bot is a process that is killed again and again.
type chaos struct {
	*testing.T
	slack     *fakechat.Slack
	path      string
	ana, luis string
	channels  []string
	bot       *exec.Cmd
	log       bytes.Buffer // of the bot's last life
	asked     []question
}

// question is one that asked for a dose.
type question struct {
	channel, ts string
	done        string // what its card has to say at the end
}

// start starts the bot, as after a crash.
func (k *chaos) start() {
	k.Helper()
	k.log.Reset()
	k.bot = exec.Command("hurried", k.path)
	k.bot.Env = append(os.Environ(), slackAPIURL+"="+k.slack.APIURL(), slackBotToken+"="+k.slack.BotToken(), slackAppToken+"="+k.slack.AppToken())
	k.bot.Stderr = &k.log
	if _, err := k.bot.StdinPipe(); err != nil {
		k.Fatal(err)
	}
	if err := k.bot.Start(); err != nil {
		k.Fatal(err)
	}
	k.until("a connection", func() bool { return k.slack.Sockets() > 0 })
}

// kill ends the bot in the middle of whatever it does.
func (k *chaos) kill() {
	k.Helper()
	if err := k.bot.Process.Kill(); err != nil {
		k.Fatal(err)
	}
	_ = k.bot.Wait() // it says that it was killed
	k.bot = nil
	k.until("the end of the connection", func() bool { return k.slack.Sockets() == 0 })
}

func (k *chaos) until(what string, done func() bool) {
	k.Helper()
	limit := 20 * time.Second
	if *long {
		limit = 5 * time.Minute
	}
	ctx, cancel := context.WithTimeout(k.Context(), limit)
	defer cancel()
	if err := k.slack.Until(ctx, done); err != nil {
		if k.bot != nil {
			_ = k.bot.Process.Kill()
			_ = k.bot.Wait()
			k.bot = nil
		}
		log := k.log.String()
		k.Fatalf("%s did not come: %v\n%v\n%s", what, err, k.slack.Problems(), log[max(0, len(log)-4000):])
	}
}

// ask asks for a dose, in one channel after the other.
func (k *chaos) ask() {
	i := len(k.asked)
	channel := k.channels[i%len(k.channels)]
	k.asked = append(k.asked, question{channel: channel, ts: k.slack.Say(k.ana, channel, "", fmt.Sprintf("%d.%d kg belly, dry rub, 7 days", 1+i%9000/10, i%10))})
}

// answered waits until question i has its card, and has it declined, or one in approveOne
// approved by the button. A press that is not acknowledged shows a warning: the person presses
// again, here when it is looked at once more.
func (k *chaos) answered(i int) {
	k.Helper()
	a := &k.asked[i]
	k.until("the card of a question", func() bool { return len(k.slack.Thread(a.channel, a.ts)) > 1 })
	switch {
	case a.done != "":
	case i%approveOne != 0:
		k.slack.Say(k.luis, a.channel, a.ts, "decline: not today")
		a.done = "not today"
	case k.slack.Press(k.luis, a.channel, k.slack.Thread(a.channel, a.ts)[1].TS, "approve") == nil:
		a.done = "approved by luis"
	}
}

// approveOne is the number of questions of which one is approved.
const approveOne = 25

var cardNumber = regexp.MustCompile(`^\[([0-9]+)\] DOSE CARD`)

// Whatever goes wrong on the way, every dose that was asked for has its card in its thread,
// once: events come twice and out of order, connections are cut, calls are refused and answers
// lost, and the process is killed in the middle of it and started anew.
func TestChaosOnSlack(t *testing.T) {
	t.Cleanup(func() { goleak.VerifyNone(t) })
	n, every, ahead := 150, 50, 30 // questions: each makes another message
	if *long {
		n, every = 5_000, 150
	}
	slack, err := fakechat.StartSlack(fakechat.SlackSettings{Redeliver: []time.Duration{0, time.Second, 5 * time.Second, 30 * time.Second}, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	k := &chaos{T: t, slack: slack, path: filepath.Join(t.TempDir(), "kitchen.db")}
	t.Cleanup(func() {
		if k.bot != nil {
			k.kill()
		}
		if err := slack.Close(); err != nil {
			t.Error(err)
		}
	})
	k.found()
	k.start()
	slack.SetFaults(fakechat.SlackFaults{Twice: 0.1, TwiceSame: 0.1, Shuffled: 0.05, Cut: 0.025, Disconnected: 0.025, Undecodable: 0.01, LostInGap: 0.5,
		Limited: 0.003, Error503: 0.015, Error500: 0.01, Lost: 0.012, Malformed: 0.005, Bare: 0.005})
	kills := 0
	for i := range n {
		k.ask()
		if i >= ahead {
			k.answered(i - ahead)
		}
		if i%every == every-1 {
			k.kill()
			kills++
			k.ask() // in the gap
			k.start()
		}
	}
	slack.SetFaults(fakechat.SlackFaults{})
	for i := range k.asked {
		k.answered(i)
	}
	k.until("the acknowledgements", func() bool { return slack.Pending() == 0 })
	for _, a := range k.asked {
		k.until("what became of a card", func() bool { return strings.Contains(slack.Thread(a.channel, a.ts)[1].Text, a.done) })
	}
	k.kill()
	k.judge()
	t.Logf("%d questions and answers to their cards, %d kills, %d deliveries, %d calls", 2*len(k.asked), kills, len(slack.Deliveries()), len(slack.Calls("")))
}

// found opens the kitchen with the chefs ana and luis and eight cure channels.
func (k *chaos) found() {
	k.Helper()
	k.ana, k.luis = k.slack.AddPerson(fakechat.SlackPerson{Name: "ana"}), k.slack.AddPerson(fakechat.SlackPerson{Name: "luis"})
	for i := range 8 {
		k.channels = append(k.channels, k.slack.AddChannel(fakechat.SlackChannel{Name: fmt.Sprintf("cure-%d", i), Members: []string{k.ana, k.luis, fakechat.SlackBot}}))
	}
	s, err := store.Open(k.path, store.Options{})
	if err != nil {
		k.Fatal(err)
	}
	place := bot.Place{Platform: slackchat.Platform, Team: fakechat.SlackTeam, Channel: k.channels[0]}
	err = bot.New(s, slog.New(slog.DiscardHandler)).Open(k.Context(), bot.Setup{Name: "test", Region: "us", Zone: "America/Chicago",
		Chefs: []bot.Chef{{Name: "ana", Account: account(k.ana)}, {Name: "luis", Account: account(k.luis)}}, Cure: place})
	if err != nil {
		k.Fatal(err)
	}
	if err := s.Close(); err != nil {
		k.Fatal(err)
	}
	k.start()
	for _, channel := range k.channels[1:] {
		k.slack.Mention(k.ana, channel, "", "cure channel here")
		k.until("the cure channel", func() bool { return len(k.slack.Posts(channel)) > 1 })
	}
	k.kill()
}

// judge looks at what is left of it all.
func (k *chaos) judge() {
	k.Helper()
	numbers := map[int]bool{}
	for i, a := range k.asked {
		cards := 0
		for _, p := range k.slack.Thread(a.channel, a.ts) {
			if m := cardNumber.FindStringSubmatch(p.Text); m != nil {
				n, err := strconv.Atoi(m[1])
				if err != nil || numbers[n] {
					k.Errorf("batch number %s twice: %v", m[1], err)
				}
				numbers[n] = true
				cards++
			}
		}
		if cards != 1 {
			k.Errorf("question %d has %d dose cards", i, cards)
		}
	}
	for n := range len(k.asked) {
		if !numbers[n+1] {
			k.Errorf("there is no batch %d", n+1)
		}
	}
	for _, p := range complaints(k.slack) {
		if p.Code == "request_timeout" { // a call that broke off where the process was killed
			continue
		}
		k.Errorf("the platform complains: %+v", p)
	}
	said, err := exec.Command("salthand", "verify", "--store", k.path).CombinedOutput()
	if err != nil || !strings.Contains(string(said), "every record agrees with its events") {
		k.Errorf("verify: %v\n%s", err, said)
	}
}
