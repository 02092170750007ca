package slackchat

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/slack-go/slack/socketmode"

	"salthand/bot"
	"salthand/bot/fakechat"
)

// A line that is typed reaches the bot as a message, and is acknowledged after.
func TestMessageOverTheWire(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{}).run().connected()
	ts := s.slack.Mention(s.ana, s.cure, "", "3.2 kg belly, 5 < 6")
	s.slack.Say(s.luis, s.cure, ts, "turned")
	dm := s.slack.Direct(s.ana)
	s.slack.Say(s.ana, dm, "", "help")
	s.slack.Noise(s.ana, s.cure)
	s.slack.SayAsBot("B0OTHER001", s.cure, "", "3.2 kg belly, dry rub")
	s.taken()
	want := map[string]bot.Place{"3.2 kg belly, 5 < 6": s.place(ts), "turned": s.place(ts), "help": {Platform: Platform, Team: fakechat.SlackTeam, Channel: dm}}
	for _, m := range s.all() {
		if m.Place != want[m.Text] {
			t.Errorf("%q was said at %v, want %v", m.Text, m.Place, want[m.Text])
		}
		if m.Account.User == s.ana && (m.Name != "Ana" || m.Zone != "Europe/Madrid" || m.Language != "es-ES") {
			t.Errorf("Ana is taken for %q %q %q", m.Name, m.Zone, m.Language)
		}
		delete(want, m.Text)
	}
	if len(want) > 0 || len(s.all()) != 3 {
		t.Errorf("the bot was given %q", s.texts())
	}
	s.noProblems()
}

// What the bot does not keep is not acknowledged, and comes again. The attempts of a delivery
// are no reason to drop it.
func TestUnkeptComesAgain(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{AckWithin: 50 * time.Millisecond, Redeliver: []time.Duration{0, 0, 0}})
	tries := 0
	s.receive = func(context.Context, bot.Message) (bot.Reply, error) {
		if tries++; tries < 3 {
			return bot.Reply{}, errors.New("the disk is full")
		}
		return bot.Reply{}, nil
	}
	s.run().connected()
	s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	s.taken()
	if got := s.texts(); !slices.Equal(got, []string{"3.2 kg belly"}) || tries != 3 {
		t.Errorf("after %d tries the bot keeps %q", tries, got)
	}
}

// Twice the same event is one message: by the message's own id, whatever the envelope says.
func TestSameMessageSameID(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	var ids []string
	s.receive = func(_ context.Context, m bot.Message) (bot.Reply, error) {
		ids = append(ids, m.ID)
		return bot.Reply{}, nil
	}
	s.run().connected()
	ts := s.slack.Mention(s.ana, s.cure, "", "3.2 kg belly") // a message and an app_mention
	s.taken()
	s.slack.Repeat(s.slack.Deliveries()[0])
	s.taken()
	if len(ids) < 2 || slices.ContainsFunc(ids, func(id string) bool { return id != ts }) {
		t.Errorf("the deliveries of %s have the ids %q", ts, ids)
	}
}

// An unfurl and a reply change nothing of what was said; an edit and a deletion do.
func TestEditsOverTheWire(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{}).run().connected()
	ts := s.slack.Say(s.ana, s.cure, "", "see https://a.example")
	s.slack.Unfurl(s.cure, ts)
	s.slack.Say(s.luis, s.cure, ts, "ok")
	s.slack.Edit(s.cure, ts, "3.2 kg belly")
	s.slack.Delete(s.cure, ts) // a root with a reply
	s.taken()
	var got []string
	for _, m := range s.all() {
		if m.What != bot.Said && m.Said != ts {
			t.Errorf("%v is of %q", m.What, m.Said)
		}
		got = append(got, string(m.What)+" "+m.Text)
	}
	if want := []string{"said see https://a.example", "said ok", "edited 3.2 kg belly", "deleted "}; !slices.Equal(got, want) {
		t.Errorf("the bot was given %q, want %q", got, want)
	}
}

// The messages of one conversation come in order, many at once, while the reader never waits:
// one that did would lose its connection, and would not get another.
func TestOrderAndAReaderThatNeverWaits(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{AckWithin: time.Minute, PingEvery: 10 * time.Millisecond}, func(c *Config) { c.Silent = 5 * time.Second })
	open := make(chan struct{})
	release := sync.OnceFunc(func() { close(open) })
	defer release()
	s.receive = func(context.Context, bot.Message) (bot.Reply, error) {
		<-open
		return bot.Reply{}, nil
	}
	s.run().connected()
	const n = 200
	roots := []string{s.slack.Say(s.ana, s.cure, "", "a"), s.slack.Say(s.ana, s.cure, "", "b")}
	for i := range n {
		s.slack.Say(s.ana, s.cure, roots[i%2], fmt.Sprint(i))
	}
	// All of it came over while the bot took nothing, and the connection still stands.
	s.until("the deliveries", func() bool { return len(s.slack.Deliveries()) == n+2 })
	s.slack.Strange(`{"type":"event_callback","event":{"type":"kettle_boiled"}}`)
	s.log.until(t, "kettle_boiled") // the reader came to the last one
	if opens := len(s.slack.Calls("apps.connections.open")); opens != 1 {
		t.Errorf("%d connections were opened", opens)
	}
	release()
	s.taken()
	last := map[string]int{}
	for _, m := range s.all() {
		var i int
		if _, err := fmt.Sscan(m.Text, &i); err != nil {
			continue // the roots
		}
		if before, ok := last[m.Place.Thread]; ok && i != before+2 {
			t.Fatalf("in one thread %d came after %d", i, before)
		}
		last[m.Place.Thread] = i
	}
	if len(s.all()) != n+2 {
		t.Errorf("%d messages of %d came", len(s.all()), n+2)
	}
}

// An envelope that can't be read is acknowledged all the same, and its kind is noted.
func TestUnreadableEnvelopesAreAcknowledged(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{}).run().connected()
	s.slack.Strange(`{"type":"event_callback","event":{"type":"kettle_boiled"}}`)
	s.slack.Strange(`{"type":"event_callback","event":{"type":"message","ts":17,"channel":{"is":"no string"}}}`)
	s.slack.Say(s.ana, s.cure, "", "due")
	s.taken()
	if !strings.Contains(s.log.String(), "kettle_boiled") || !slices.Equal(s.texts(), []string{"due"}) {
		t.Errorf("the bot was given %q", s.texts())
	}
	for _, d := range s.slack.Deliveries() {
		if d.Acked.IsZero() || d.Attempt > 0 {
			t.Errorf("%s %s was not acknowledged at once", d.What, d.Payload)
		}
	}
}

// A message that makes the bot panic is that message's alone.
func TestPanicIsOneMessages(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{AckWithin: 20 * time.Millisecond, Redeliver: []time.Duration{}})
	s.receive = func(_ context.Context, m bot.Message) (bot.Reply, error) {
		if m.Text == "bad" {
			panic("bad")
		}
		return bot.Reply{}, nil
	}
	s.run().connected()
	ts := s.slack.Say(s.ana, s.cure, "", "bad")
	s.slack.Say(s.ana, s.cure, ts, "good")
	s.until("the next message", func() bool { return len(s.all()) == 1 && s.slack.Pending() == 0 })
}

// Tokens that Slack does not take end the run in one clear line, though the library would try
// some of them for ever.
func TestLostTokensEndTheRun(t *testing.T) {
	for name, c := range map[string]struct {
		set    fakechat.SlackSettings
		method string // a method that answers with code
		code   string
	}{
		"no right to connect":       {fakechat.SlackSettings{AppScopes: []string{"authorizations:read"}}, "", "missing_scope"},
		"the wrong kind":            {fakechat.SlackSettings{}, "apps.connections.open", "not_allowed_token_type"},
		"run out":                   {fakechat.SlackSettings{}, "apps.connections.open", "token_expired"},
		"revoked":                   {fakechat.SlackSettings{}, "apps.connections.open", "token_revoked"},
		"a bot token of elsewhere":  {fakechat.SlackSettings{}, "auth.test", "invalid_auth"},
		"the app was taken out":     {fakechat.SlackSettings{}, "auth.test", "account_inactive"},
		"an app token of elsewhere": {fakechat.SlackSettings{}, "apps.connections.open", "invalid_auth"},
	} {
		t.Run(name, func(t *testing.T) {
			s := openShop(t, c.set)
			if c.method != "" {
				s.slack.Break(c.method, -1, fakechat.SlackFault{Error: c.code})
			}
			s.run()
			err := <-s.ended
			s.stop()
			s.stop = nil
			if err == nil || !strings.Contains(err.Error(), c.code) || !strings.Contains(err.Error(), "salthand slack check") || strings.Contains(err.Error(), "secret") {
				t.Errorf("the run ended with %v", err)
			}
		})
	}
}

// What is wrong for a while does not end the run.
func TestPassingTroubleDoesNotEndTheRun(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	s.slack.Break("auth.test", 2, fakechat.SlackFault{Status: 503})
	s.slack.Break("auth.test", 1, fakechat.SlackFault{Bare: true})
	s.slack.Break("auth.test", 1, fakechat.SlackFault{Malformed: true})
	s.slack.Break("apps.connections.open", 1, fakechat.SlackFault{Error: "internal_error"})
	s.slack.Break("apps.connections.open", 1, fakechat.SlackFault{Bare: true})
	s.run().connected()
	s.slack.Disconnect("refresh_requested")
	s.until("another connection", func() bool { return len(s.slack.Calls("apps.connections.open")) >= 4 && s.slack.Sockets() == 1 })
	s.slack.Say(s.ana, s.cure, "", "due")
	s.taken()
	if got := s.texts(); !slices.Equal(got, []string{"due"}) {
		t.Errorf("the bot was given %q", got)
	}
	if err := s.close(); !errors.Is(err, context.Canceled) {
		t.Errorf("the run ended with %v", err)
	}
}

// Connections that are lost as soon as they stand are opened ever more slowly, and somebody
// is told. By itself the library opens over a thousand in half a second.
func TestConnectionsArePaced(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		alarms := 0
		w := &wire{every: time.Second, most: time.Minute, alarm: func(error) { alarms++ }}
		began, opens := time.Now(), 0
		for time.Since(began) < time.Hour {
			if err := w.pace(t.Context()); err != nil {
				t.Fatal(err)
			}
			opens++
		}
		// Tier 1 is about one a minute. Source: docs.slack.dev, apps.connections.open.
		if opens > 60+7 || opens < 55 {
			t.Errorf("%d connections were opened in an hour", opens)
		}
		if alarms != 1 {
			t.Errorf("somebody was told %d times", alarms)
		}
		// One that was lost after an hour is opened at once.
		time.Sleep(time.Hour)
		at := time.Now()
		if err := w.pace(t.Context()); err != nil || time.Since(at) != 0 {
			t.Errorf("waited %v, %v", time.Since(at), err)
		}
	})
}

// Without a connection an acknowledgement waits for a while, never for ever.
func TestAcknowledgementsDoNotBlock(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c, err := New(Config{BotToken: "xoxb-1", AppToken: "xapp-1", Log: quietLog()})
		if err != nil {
			t.Fatal(err)
		}
		r := &run{Chat: c, client: socketmode.New(c.api)}
		began := time.Now()
		for i := range 30 { // the library queues 20
			r.acknowledge(fmt.Sprint(i))(bot.Reply{})
		}
		if took := time.Since(began); took != 10*ackTries {
			t.Errorf("30 acknowledgements took %v", took)
		}
	})
}

// The lanes are bounded, and a full one drops instead of waiting: Slack delivers again what is
// not acknowledged.
func TestLanesNeverWait(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		alarms := 0
		c, err := New(Config{BotToken: "xoxb-1", AppToken: "xapp-1", Log: quietLog(), Alarm: func(error) { alarms++ }})
		if err != nil {
			t.Fatal(err)
		}
		open := make(chan struct{})
		l := newLanes(t.Context(), c, &desk{receive: func(context.Context, bot.Message) (bot.Reply, error) {
			<-open
			return bot.Reply{}, nil
		}}, func(context.Context, time.Time) {})
		acked := make(chan struct{}, 2*waitingAtMost)
		for i := range 2 * waitingAtMost {
			l.put("one conversation", job{read: func(context.Context) (bot.Message, bool) { return bot.Message{ID: fmt.Sprint(i)}, true }, ack: func(bot.Reply) { acked <- struct{}{} }})
		}
		close(open)
		l.close()
		if n := len(acked); n < waitingAtMost/lanesAtMost || n > waitingAtMost/lanesAtMost+1 || alarms != 1 {
			t.Errorf("%d were taken, somebody was told %d times", n, alarms)
		}
	})
}

// The end comes within five seconds: what is in hand is finished and acknowledged.
func TestGracefulEnd(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{AckWithin: time.Minute})
	began, open := make(chan struct{}), make(chan struct{})
	s.receive = func(ctx context.Context, _ bot.Message) (bot.Reply, error) {
		close(began)
		<-open
		return bot.Reply{}, ctx.Err()
	}
	s.run().connected()
	s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	<-began
	s.stop()
	close(open)
	if err := <-s.ended; !errors.Is(err, context.Canceled) {
		t.Errorf("the run ended with %v", err)
	}
	s.stop = nil
	s.until("the acknowledgement", func() bool { return s.slack.Pending() == 0 && s.slack.Sockets() == 0 })
	if got := s.texts(); !slices.Equal(got, []string{"3.2 kg belly"}) {
		t.Errorf("the bot keeps %q", got)
	}
}

// A file that came with a message can be fetched.
func TestFileIsFetched(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	var got []byte
	s.receive = func(ctx context.Context, m bot.Message) (bot.Reply, error) {
		in, err := m.Files[0].Fetch(ctx)
		if err != nil {
			return bot.Reply{}, err
		}
		defer in.Close()
		got, err = io.ReadAll(in)
		return bot.Reply{}, err
	}
	s.run().connected()
	s.slack.Share(s.ana, s.cure, "", "jar A7 photo", fakechat.SlackFile{Name: "label.jpg", Bytes: []byte("a picture")})
	s.taken()
	if string(got) != "a picture" || len(s.all()) != 1 {
		t.Errorf("the file holds %q", got)
	}
}
