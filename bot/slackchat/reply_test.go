package slackchat

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"salthand/bot"
	"salthand/bot/fakechat"
)

// weighing is a form as the bot asks with it.
var weighing = bot.Form{Press: bot.Press{Action: bot.DoWeigh, Batch: 42, Revision: 3}, Title: "Weighed in", Send: "note it", Lines: []string{"8.0 g no. 1 cure"},
	Fields: []bot.Field{{Name: "cure", Label: "no. 1 cure", Hint: "like 8.0 g", Value: "8.0 g"}, {Name: "jar", Label: "jar", Optional: true}}}

// A button opens a form for who pressed it; what can't be taken is shown beside its field, and
// what can closes the form. A press and a form keep their thread.
func TestFormOverTheWire(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	s.receive = func(_ context.Context, m bot.Message) (bot.Reply, error) {
		switch {
		case m.What == bot.Pressed:
			return bot.Reply{Form: &weighing}, nil
		case m.Fields["cure"] == "a spoon":
			return bot.Reply{Wrong: map[string]string{"cure": "A cure is weighed, never measured by the spoon: 5 < 6"}}, nil
		}
		return bot.Reply{}, nil
	}
	s.run().connected()
	ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	c := readCard(t, "testdata/cards/dose_updated.json")
	id := s.mustPost(bot.Posting{At: s.place(ts), Card: c})
	if err := s.slack.Press(s.luis, s.cure, id, "weighed …"); err != nil {
		t.Fatal(err)
	}
	s.until("the form", func() bool { return len(s.slack.Views()) == 1 })
	view := s.slack.Views()[0]
	if view.User != s.luis || view.Title != "Weighed in" {
		t.Errorf("%+v", view)
	}
	got, err := s.slack.Submit(s.luis, view.ID, map[string]string{"cure": "a spoon"})
	if err != nil || !strings.HasPrefix(got.Errors["cure"], "A cure is weighed") || got.View == "" {
		t.Errorf("%+v, %v", got, err)
	}
	got, err = s.slack.Submit(s.luis, view.ID, map[string]string{"cure": "8.1 g", "jar": "A7"})
	if err != nil || got.View != "" {
		t.Errorf("%+v, %v", got, err)
	}
	all := s.all()
	last := all[len(all)-1]
	if last.What != bot.Filled || last.Place != s.place(ts) || *last.Press != weighing.Press || !cmp.Equal(last.Fields, map[string]string{"cure": "8.1 g", "jar": "A7"}) {
		t.Errorf("%+v", last)
	}
	s.noProblems()
}

// A private hint is seen by who pressed, in the thread, and nothing in it is obeyed. It is
// shown too where nothing could be kept.
func TestHintOverTheWire(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{AckWithin: 50 * time.Millisecond})
	var fail atomic.Bool
	s.receive = func(_ context.Context, m bot.Message) (bot.Reply, error) {
		switch {
		case m.What == bot.Pressed && fail.Load():
			return bot.Reply{Text: "I can't write my records."}, errors.New("the disk is full")
		case m.What == bot.Pressed:
			return bot.Reply{Text: "Only a chef approves, <!channel>."}, nil
		}
		return bot.Reply{}, nil
	}
	s.run().connected()
	ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	id := s.mustPost(bot.Posting{At: s.place(ts), Card: readCard(t, "testdata/cards/dose.json")})
	if err := s.slack.Press(s.luis, s.cure, id, "approve"); err != nil {
		t.Fatal(err)
	}
	s.until("the hint", func() bool { return len(s.slack.Ephemerals()) == 1 })
	fail.Store(true)
	if err := s.slack.Press(s.luis, s.cure, id, "decline"); !errors.Is(err, fakechat.ErrNoAck) {
		t.Errorf("what was not kept is acknowledged: %v", err)
	}
	s.until("the other hint", func() bool { return len(s.slack.Ephemerals()) == 2 })
	for i, want := range []string{"Only a chef approves, &lt;!channel&gt;.", "I can't write my records."} {
		if e := s.slack.Ephemerals()[i]; e.Text != want || e.User != s.luis || e.Thread != ts {
			t.Errorf("%+v, want %q in %s", e, want, ts)
		}
	}
}

// A press has one identity: pressed twice it is two presses, delivered twice it is one.
func TestPressIdentity(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{}).run().connected()
	id := s.mustPost(bot.Posting{At: s.place(""), Card: readCard(t, "testdata/cards/dose.json")})
	for range 2 {
		if err := s.slack.Press(s.ana, s.cure, id, "approve"); err != nil {
			t.Fatal(err)
		}
	}
	s.slack.Repeat(s.slack.Deliveries()[0])
	s.taken()
	all := s.all()
	if len(all) != 2 || all[0].ID == all[1].ID || *all[0].Press != (bot.Press{Action: bot.DoApprove, Batch: 1, Revision: 1}) || all[0].Place != s.place(id) {
		t.Errorf("%+v", all)
	}
}
