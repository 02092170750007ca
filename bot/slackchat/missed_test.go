package slackchat

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"salthand/bot"
	"salthand/bot/fakechat"
)

// A connection over which nothing comes, not even pings, is opened anew.
func TestSilentConnectionIsOpenedAnew(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{PingEvery: 10 * time.Millisecond, AckWithin: 50 * time.Millisecond, Redeliver: []time.Duration{0, 0, 0, 0, 0, 0, 0, 0}},
		func(c *Config) { c.Silent = 100 * time.Millisecond }).run().connected()
	s.slack.Silence()
	s.slack.Say(s.ana, s.cure, "", "due")
	s.until("the message", func() bool { return slices.Contains(s.texts(), "due") })
}

// A connection that looks alive but brings nothing of what is said is noticed by reading the
// watched places, and opened anew.
func TestDeafConnectionIsOpenedAnew(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{Now: func() time.Time { return time.Now().Add(-2 * onItsWay) }, Redeliver: []time.Duration{}},
		func(c *Config) { c.Silent, c.CheckEvery = time.Hour, 20*time.Millisecond })
	s.watched = bot.Watched{Since: time.Now().Add(-time.Hour), Places: []bot.Place{s.place("")}}
	s.run().connected()
	s.slack.Say(s.ana, s.cure, "", "first")
	s.until("the first", func() bool { return len(s.all()) == 1 && s.slack.Pending() == 0 })
	s.slack.Silence()
	s.slack.Say(s.ana, s.cure, "", "second")
	s.until("another connection", func() bool { return len(s.slack.Calls("apps.connections.open")) == 2 && s.slack.Sockets() == 1 })
	s.until("the second", func() bool { return len(s.all()) == 2 })
	if got := s.texts(); !slices.Equal(got, []string{"first", "second"}) || !strings.Contains(s.alarms.String(), "1 messages did not come") {
		t.Errorf("the bot was given %q; %v", got, s.alarms)
	}
}

// What was said while no connection stood, and is never delivered, is read from the watched
// places: once, in order, edits and all, with the platform's time.
func TestMissedMessagesAreRead(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	root := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	before := s.slack.Say(s.ana, s.cure, root, "known already")
	s.watched = bot.Watched{Since: when(before), Places: []bot.Place{{Platform: Platform, Team: fakechat.SlackTeam, Channel: "C0GONE0001"}, s.place(root)}}
	s.slack.SetFaults(fakechat.SlackFaults{LostInGap: 1})
	turned := s.slack.Say(s.ana, s.cure, root, "turned")
	s.slack.SayAsBot("B0OTHER001", s.cure, root, "beep")
	wrong := s.slack.Say(s.luis, s.cure, root, "now 2.1 kg")
	s.slack.Edit(s.cure, wrong, "now 2.2 kg")
	s.slack.Edit(s.cure, root, "3.4 kg belly")
	s.run().connected()
	s.slack.Say(s.luis, s.cure, root, "live")
	s.until("what was missed", func() bool { return slices.Contains(s.texts(), "live") })
	s.slack.Cut()
	s.until("another connection", func() bool { return len(s.slack.Calls("apps.connections.open")) == 2 && s.slack.Sockets() == 1 })
	if err := s.close(); !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	var got []string
	for _, m := range s.all() {
		got = append(got, string(m.What)+" "+m.Text)
		if m.ID == turned && (m.At != when(turned) || !m.Again) {
			t.Errorf("it was said at %v, not %v; read again: %v", m.At, when(turned), m.Again)
		}
	}
	// What the first delivery would have brought of the early messages waits for a connection too.
	want := []string{"edited 3.4 kg belly", "said turned", "said now 2.2 kg", "edited now 2.2 kg", "said live"}
	got = slices.DeleteFunc(got, func(s string) bool { return s == "said 3.2 kg belly" || s == "said known already" })
	if !slices.Equal(got, want) {
		t.Errorf("the bot was given %q, want %q", got, want)
	}
}

// While what was missed is still looked for, those who wait in one row wait together: each is
// acknowledged in time.
func TestWaitingForWhatWasMissed(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	root := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	s.watched = bot.Watched{Since: when(root), Places: []bot.Place{s.place(root)}}
	s.slack.Break("conversations.replies", -1, fakechat.SlackFault{Slow: time.Hour})
	s.run().connected()
	want := []string{"3.2 kg belly", "turned", "done", "due", "batch 1"}
	for _, text := range want[1:] {
		s.slack.Say(s.ana, s.cure, root, text)
	}
	s.until("the acknowledgements", func() bool { return s.slack.Pending() == 0 })
	if got, late := s.texts(), s.slack.Problems(); !slices.Equal(got, want) || len(late) > 0 {
		t.Errorf("the bot was given %q, want %q; %v", got, want, late)
	}
}
