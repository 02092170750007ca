package slackchat

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/slack-go/slack"

	"salthand/bot"
	"salthand/bot/fakechat"
)

// note is a card of a few words.
func note(op, title string) bot.Card {
	return bot.Card{Kind: bot.NoteCard, Key: "k/" + op, Revision: 1, Op: op, Title: title}
}

// long is a card that takes several messages.
func long(op string, facts int) bot.Card {
	c := note(op, "a long one")
	for i := range facts {
		c.Facts = append(c.Facts, bot.Fact{Label: fmt.Sprintf("fact %d", i), Lines: []string{"a line of it", "and another"}})
	}
	return c
}

func (s *shop) post(p bot.Posting) (string, error) {
	return s.chat.Post(s.Context(), p)
}

func (s *shop) mustPost(p bot.Posting) string {
	s.Helper()
	id, err := s.post(p)
	if err != nil {
		s.Fatal(err)
	}
	return id
}

// said are the texts of what the bot posted in the channel, what was deleted left out.
func (s *shop) said() (texts []string) {
	for _, p := range s.slack.BotPosts() {
		if p.Channel == s.cure && !p.Deleted && p.Subtype == "" {
			texts = append(texts, p.Text)
		}
	}
	return texts
}

// A card stands in the thread of who asked, with its operation, without previews, and the
// text says it all.
func TestPost(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	card := readCard(t, "testdata/cards/dose.json")
	id := s.mustPost(bot.Posting{At: s.place(ts), Card: card})
	p, ok := s.slack.Post(s.cure, id)
	if !ok || p.Thread != ts || p.Meta == nil || p.Meta.Payload["op"] != "op1" || p.Unfurl == nil || *p.Unfurl || p.Media == nil || *p.Media {
		t.Fatalf("it stands as %+v", p)
	}
	for _, want := range []string{"8.0 g  no. 1 cure", "72.5 g  salt", "NOTE: a name is not a strength", "Arithmetic, not approval"} {
		if !strings.Contains(p.Text, want) {
			t.Errorf("the text lacks %q:\n%s", want, p.Text)
		}
	}
	args := s.slack.Calls("chat.postMessage")[0].Args
	if args["parse"] != "none" || args["link_names"] != "false" || args["mrkdwn"] != "false" {
		t.Errorf("it was sent with %v", args)
	}
	s.noProblems()
}

// What people wrote stays text when it is posted: no mention, no link, no ping.
func TestHostileCard(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	s.mustPost(bot.Posting{At: s.place(""), Card: readCard(t, "testdata/cards/hostile.json")})
	p := s.slack.BotPosts()[0]
	for _, text := range []string{p.Text, string(p.Blocks)} {
		if strings.Contains(text, "<!") || strings.Contains(text, "<@") || strings.Contains(text, "<http") || strings.Contains(text, "&amp;lt;") {
			t.Errorf("it stands as %s", text)
		}
	}
	s.noProblems()
}

// A text is sent once: with two the platform reads only one.
func TestOneText(t *testing.T) {
	_, values, err := slack.UnsafeApplyMsgOptions("t", "C1", "http://127.0.0.1/", options(bot.Posting{Card: note("op", "x")}, 0, pages(note("op", "x"))[0])...)
	if err != nil || len(values["text"]) != 1 {
		t.Errorf("sent with %q, %v", values["text"], err)
	}
}

// An update keeps the card in its place, and is sent again without harm.
func TestUpdateInPlace(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	id := s.mustPost(bot.Posting{At: s.place(ts), Card: readCard(t, "testdata/cards/dose.json")})
	for _, doubt := range []bool{false, true} {
		if got := s.mustPost(bot.Posting{At: s.place(ts), Card: readCard(t, "testdata/cards/dose_updated.json"), Posted: id, Doubtful: doubt}); got != id {
			t.Errorf("the id became %q, was %q", got, id)
		}
	}
	p, _ := s.slack.Post(s.cure, id)
	if len(s.said()) != 1 || !strings.Contains(p.Text, "approved by ben") || !strings.Contains(string(p.Blocks), "approved by ben") || strings.Contains(string(p.Blocks), "approve.0") {
		t.Errorf("%d cards; it stands as %s", len(s.said()), p.Blocks)
	}
	s.noProblems()
}

// A card that stands no more is posted anew, once.
func TestUpdateOfADeletedCard(t *testing.T) {
	for _, code := range []string{"message_not_found", "cant_update_message", "edit_window_closed"} {
		s := openShop(t, fakechat.SlackSettings{})
		ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
		id := s.mustPost(bot.Posting{At: s.place(ts), Card: note("op1", "old")})
		s.slack.Break("chat.update", -1, fakechat.SlackFault{Error: code})
		s.slack.Break("chat.postMessage", 1, fakechat.SlackFault{Lost: true})
		again := bot.Posting{At: s.place(ts), Card: note("op2", "new"), Posted: id, Queued: time.Now()}
		if _, err := s.post(again); err == nil {
			t.Fatal("a lost answer is taken for a success")
		}
		again.Doubtful = true
		if got := s.mustPost(again); got == id || !slices.Equal(s.said(), []string{"old", "new"}) {
			t.Errorf("%s: %q, said %q", code, got, s.said())
		}
	}
}

// Whatever goes wrong with a post, a new try posts the card once.
func TestDoubtfulPostIsOnce(t *testing.T) {
	for name, fault := range map[string]fakechat.SlackFault{
		"it came through, no answer did":  {Lost: true},
		"it came through, half an answer": {Malformed: true},
		"it did not come through":         {Status: 503},
		"a failure without a reason":      {Bare: true},
		"an error of theirs":              {Error: "internal_error"},
	} {
		t.Run(name, func(t *testing.T) {
			s := openShop(t, fakechat.SlackSettings{})
			ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
			for _, at := range []bot.Place{s.place(ts), s.place("")} {
				s.slack.Break("chat.postMessage", 1, fault)
				p := bot.Posting{At: at, Card: note("op"+at.Thread, "in "+at.Thread), Queued: time.Now()}
				if id, err := s.post(p); err == nil {
					t.Fatalf("it is taken for a success, with the id %q", id)
				} else if errors.Is(err, bot.ErrRefused) {
					t.Fatalf("it is taken for good: %v", err)
				}
				p.Doubtful = true
				// While it can't be looked for nothing is posted, whatever the answer looks like.
				for _, look := range []string{"conversations.replies", "conversations.history"} {
					s.slack.Break(look, 1, fakechat.SlackFault{Bare: true})
				}
				if _, err := s.post(p); err == nil {
					t.Fatal("posted without having looked")
				}
				s.slack.Mend("conversations.replies")
				s.slack.Mend("conversations.history")
				s.mustPost(p)
			}
			if want := []string{"in " + ts, "in"}; !slices.Equal(s.said(), want) {
				t.Errorf("said %q, want %q", s.said(), want)
			}
		})
	}
}

// The operation is looked for through all pages of a long thread.
func TestDoubtfulPostInALongThread(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	ts := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
	p := bot.Posting{At: s.place(ts), Card: note("op1", "here"), Queued: time.Now()}
	for i := range pageOf {
		s.slack.Say(s.luis, s.cure, ts, fmt.Sprint(i))
	}
	id := s.mustPost(p)
	for i := range pageOf {
		s.slack.Say(s.luis, s.cure, ts, fmt.Sprint(i))
	}
	p.Doubtful = true
	if got := s.mustPost(p); got != id {
		t.Errorf("posted again as %s, stood as %s", got, id)
	}
}

// A card that is longer than a message goes on in further ones, is found again page by page,
// and shrinks and grows in place.
func TestLongCard(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	ts := s.slack.Say(s.ana, s.cure, "", "due")
	n := len(pages(long("op1", 120)))
	if n != 3 {
		t.Fatalf("the card takes %d messages", n)
	}
	p := bot.Posting{At: s.place(ts), Card: long("op1", 120), Queued: time.Now()}
	s.slack.Break("chat.postMessage", 1, fakechat.SlackFault{Slow: time.Nanosecond}) // the first page goes through
	s.slack.Break("chat.postMessage", 1, fakechat.SlackFault{Lost: true})            // the second does, unheard
	if _, err := s.post(p); err == nil {
		t.Fatal("a lost answer is taken for a success")
	}
	p.Doubtful = true
	id := s.mustPost(p)
	if got := s.said(); len(got) != 3 || !strings.Contains(got[0], "fact 0\n") || !strings.Contains(got[2], "fact 119\n") || strings.Contains(got[1], "fact 0\n") {
		t.Errorf("it stands in %d messages: %.200q", len(got), got)
	}
	for _, facts := range []int{1, 60} {
		id = s.mustPost(bot.Posting{At: s.place(ts), Card: long("op2", facts), Posted: id})
		if got, want := len(s.said()), len(pages(long("op2", facts))); got != want {
			t.Errorf("with %d facts it stands in %d messages, want %d", facts, got, want)
		}
	}
	if strings.Count(id, "+") != 1 {
		t.Errorf("the id is %q", id)
	}
	s.noProblems()
}

// Blocks that the platform does not take are no reason to lose a card: it is sent as text.
func TestRefusedLayout(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	s.slack.Break("chat.postMessage", 1, fakechat.SlackFault{Error: "invalid_blocks"})
	s.mustPost(bot.Posting{At: s.place(""), Card: note("op1", "here")})
	if !slices.Equal(s.said(), []string{"here"}) || !strings.Contains(s.alarms.String(), "invalid_blocks") {
		t.Errorf("said %q, alarms %v", s.said(), s.alarms)
	}
}

// A place where nothing can be posted is told from trouble that passes, and from trouble with
// the bot itself, after which the card must still come.
func TestRefusedForGood(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	shut := s.slack.AddChannel(fakechat.SlackChannel{Name: "shut", Members: []string{s.ana, fakechat.SlackBot}})
	s.slack.Archive(shut, s.ana)
	far := s.slack.AddChannel(fakechat.SlackChannel{Name: "far", Kind: fakechat.SlackPrivate, Members: []string{s.ana}})
	for _, channel := range []string{shut, far, "C0NOWHERE1"} {
		at := s.place("")
		at.Channel = channel
		if _, err := s.post(bot.Posting{At: at, Card: note("op1", "x")}); !errors.Is(err, bot.ErrRefused) {
			t.Errorf("%s: %v", channel, err)
		}
	}
	s.slack.Revoke("token_revoked")
	if _, err := s.post(bot.Posting{At: s.place(""), Card: note("op1", "x")}); err == nil || errors.Is(err, bot.ErrRefused) || strings.Contains(err.Error(), "secret") {
		t.Errorf("without a token: %v", err)
	}
}

// Too many calls: the wait that the platform names is kept, and the card comes once.
func TestTooManyCalls(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	s.slack.Break("chat.postMessage", 1, fakechat.SlackFault{Status: 429, RetryAfter: time.Second})
	s.mustPost(bot.Posting{At: s.place(""), Card: note("op1", "here")})
	calls := s.slack.Calls("chat.postMessage")
	if len(calls) != 2 || calls[1].At.Sub(calls[0].At) < time.Second || len(s.said()) != 1 {
		t.Errorf("%d calls, %q", len(calls), s.said())
	}
}

// Where no wait is named, a minute is; an absurd one is not kept.
func TestWaits(t *testing.T) {
	for _, c := range []struct {
		err  error
		wait time.Duration
		ok   bool
	}{
		{&slack.RateLimitedError{RetryAfter: 30 * time.Second}, 30 * time.Second, true},
		{&slack.RateLimitedError{}, time.Second, true},
		{&slack.RateLimitedError{RetryAfter: 24 * time.Hour}, 5 * time.Minute, true},
		{slack.StatusCodeError{Code: 429}, time.Minute, true},
		{slack.SlackErrorResponse{Err: "ratelimited"}, time.Minute, true},
		{slack.StatusCodeError{Code: 500}, time.Minute, false},
		{nil, time.Minute, false},
	} {
		if wait, ok := limitedFor(c.err); ok != c.ok || ok && wait != c.wait {
			t.Errorf("%v: %v %v", c.err, wait, ok)
		}
	}
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		chat, err := New(Config{BotToken: "xoxb-1", AppToken: "xapp-1", Log: quietLog()})
		if err != nil {
			t.Fatal(err)
		}
		_, err = call(ctx, chat, func() (int, error) { return 0, &slack.RateLimitedError{RetryAfter: time.Minute} })
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("the wait ended with %v", err)
		}
	})
}

// Papers come into the thread after their card; an empty one is left out and told of; one that
// is refused does not hold up the card; one that is in doubt comes again.
func TestPapers(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	ts := s.slack.Say(s.ana, s.cure, "", "label 42")
	c := note("op1", "label of batch 42")
	c.Files = []bot.File{{Name: "label-42.pdf", Media: "application/pdf", Bytes: []byte("%PDF-1.7 …")}, {Name: "export.csv", Media: "text/csv"}, {Name: "label-42.png", Media: "image/png", Bytes: []byte("a picture")}}
	s.slack.Break("upload", 1, fakechat.SlackFault{Status: 503})
	p := bot.Posting{At: s.place(ts), Card: c, Queued: time.Now()}
	if _, err := s.post(p); err == nil || errors.Is(err, bot.ErrRefused) {
		t.Fatalf("an upload that failed: %v", err)
	}
	p.Doubtful = true
	s.mustPost(p)
	var got []string
	for _, f := range s.slack.Uploads() {
		if f.Thread != ts {
			t.Errorf("%s stands in %q", f.Name, f.Thread)
		}
		got = append(got, f.Name+" "+string(f.Bytes))
	}
	if want := []string{"label-42.pdf %PDF-1.7 …", "label-42.png a picture"}; !slices.Equal(got, want) || len(s.said()) != 1 || !strings.Contains(s.alarms.String(), "export.csv is empty") {
		t.Errorf("shared %q; said %q", got, s.said())
	}
	s.slack.Break("files.completeUploadExternal", -1, fakechat.SlackFault{Error: "storage_limit_reached"})
	p.Card.Op, p.Doubtful = "op2", false
	s.mustPost(p)
	if !strings.Contains(s.alarms.String(), "storage_limit_reached") {
		t.Errorf("nobody was told: %v", s.alarms)
	}
}
