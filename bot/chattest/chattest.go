// Package chattest is the contract that every adapter of a chat platform keeps, as tests. An
// adapter's own test gives it a stand-in of its platform as a Rig.
package chattest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"salthand/bot"
)

// Rig is an adapter on a stand-in of its platform.
type Rig struct {
	Chat bot.Chat
	// Another is an adapter that knows nothing of the first, on the same platform: what a
	// restart leaves.
	Another func() bot.Chat
	// Channels are places to post to, at the least three, each a channel of its own or a
	// thread in one. Shut is one where the bot may not post.
	Channels []bot.Place
	Shut     bot.Place
	// Said is what the bot has standing in a place, oldest first.
	Said func(at bot.Place) []Post
	// Say has a person type a line in the first of Channels and returns the id that its
	// message has to get.
	Say func(text string) string
	// Fail has the next post fail.
	Fail func(how Failure)
	// Settled returns once nothing is on its way to the adapter any more.
	Settled func()
	// Secrets are what must stand in no error.
	Secrets []string
}

// Post is a message of the bot as it stands on the platform.
type Post struct {
	Text string // what people read, in one
	// Obeyed is what the platform took for more than text: mentions, links, pings.
	Obeyed []string
}

// Failure is a way for a post to fail.
type Failure int

// The failures.
const (
	Unheard Failure = iota // it came through, and the answer did not
	Down                   // nothing came through
)

// Test puts an adapter through the contract. open makes a rig that the end of the test takes
// down; the package's TestMain should look for goroutines that are left (goleak).
func Test(t *testing.T, open func(t *testing.T) *Rig) {
	for _, c := range []struct {
		name string
		keep func(t *testing.T, r *Rig)
	}{
		{"posts in several channels at once", concurrent},
		{"posts of a thread stand in order", order},
		{"a newer revision replaces the older", inPlace},
		{"a card in doubt is posted once, whoever tries again", onceAfterACrash},
		{"a card that failed is posted by the next try", again},
		{"a long card is cut nowhere", whole},
		{"what people wrote is only text", onlyText},
		{"a place that takes nothing is refused for good", refused},
		{"no error holds a secret", noSecret},
		{"what is said is heard, once and in order", heard},
		{"what is not kept comes again", unkept},
		{"a run ends with its context", ends},
	} {
		t.Run(c.name, func(t *testing.T) { c.keep(t, open(t)) })
	}
}

// card is a note of a few words, n telling it from others.
func card(n int, lines ...string) bot.Card {
	return bot.Card{Kind: bot.NoteCard, Key: fmt.Sprint("contract/", n), Revision: 1, Op: fmt.Sprint("contract", n), Title: name(n), Lines: lines}
}

func name(n int) string { return fmt.Sprintf("card %04d", n) }

func (r *Rig) post(t *testing.T, chat bot.Chat, p bot.Posting) string {
	t.Helper()
	p.Queued = time.Now()
	id, err := chat.Post(t.Context(), p)
	if err != nil || id == "" {
		t.Fatalf("posted as %q: %v", id, err)
	}
	return id
}

// wantCards fails where not just these cards stand in a place, in this order.
func (r *Rig) wantCards(t *testing.T, at bot.Place, want ...string) {
	t.Helper()
	said := r.Said(at)
	if len(said) != len(want) {
		t.Errorf("%d posts stand there, want %d", len(said), len(want))
		return
	}
	for i, p := range said {
		if !strings.Contains(p.Text, want[i]) {
			t.Errorf("post %d is %q, want %q", i, p.Text, want[i])
		}
	}
}

func concurrent(t *testing.T, r *Rig) {
	const each = 8
	var wg sync.WaitGroup
	errs := make(chan error, each*len(r.Channels))
	for i, at := range r.Channels {
		wg.Go(func() {
			for n := range each {
				if _, err := r.Chat.Post(t.Context(), bot.Posting{At: at, Card: card(i*each + n), Queued: time.Now()}); err != nil {
					errs <- err
				}
			}
		})
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		t.Error(err)
	}
	for i, at := range r.Channels {
		var want []string
		for n := range each {
			want = append(want, name(i*each+n))
		}
		r.wantCards(t, at, want...)
	}
}

func order(t *testing.T, r *Rig) {
	var want []string
	for n := range 20 {
		r.post(t, r.Chat, bot.Posting{At: r.Channels[0], Card: card(n)})
		want = append(want, name(n))
	}
	r.wantCards(t, r.Channels[0], want...)
}

func inPlace(t *testing.T, r *Rig) {
	first := card(1)
	id := r.post(t, r.Chat, bot.Posting{At: r.Channels[0], Card: first})
	r.post(t, r.Chat, bot.Posting{At: r.Channels[0], Card: card(2)})
	first.Revision, first.Op, first.Status = 2, "contract1b", []string{"approved by ben"}
	for _, doubt := range []bool{false, true} {
		if got := r.post(t, r.Another(), bot.Posting{At: r.Channels[0], Card: first, Posted: id, Doubtful: doubt}); got != id {
			t.Errorf("the id of the card became %q, was %q", got, id)
		}
	}
	r.wantCards(t, r.Channels[0], "approved by ben", name(2))
}

func onceAfterACrash(t *testing.T, r *Rig) {
	for n, at := range r.Channels {
		p := bot.Posting{At: at, Card: card(n), Queued: time.Now()}
		r.Fail(Unheard)
		if id, err := r.Chat.Post(t.Context(), p); err == nil {
			t.Fatalf("a post without an answer is taken for done, as %q", id)
		}
		p.Doubtful = true
		id := r.post(t, r.Another(), p)
		if again := r.post(t, r.Another(), p); again != id {
			t.Errorf("found as %q, then as %q", id, again)
		}
		r.wantCards(t, at, name(n))
	}
}

func again(t *testing.T, r *Rig) {
	p := bot.Posting{At: r.Channels[0], Card: card(1), Queued: time.Now()}
	r.Fail(Down)
	if id, err := r.Chat.Post(t.Context(), p); err == nil || errors.Is(err, bot.ErrRefused) {
		t.Fatalf("a post that failed is taken for %q, %v", id, err)
	}
	p.Doubtful = true
	r.post(t, r.Chat, p)
	r.wantCards(t, r.Channels[0], name(1))
}

func whole(t *testing.T, r *Rig) {
	c := card(1)
	var words []string
	word := func(n int) string {
		w := fmt.Sprintf("w%05d.", n)
		words = append(words, w)
		return w
	}
	for n := range 400 {
		c.Lines = append(c.Lines, strings.Repeat("& ", 30)+word(n))
		c.Facts = append(c.Facts, bot.Fact{Label: word(1000 + n), Lines: []string{word(2000 + n), word(3000 + n)}})
	}
	c.Weigh = []bot.Weigh{{Item: strings.Repeat("long ", 100) + word(5000), Amount: word(5001), Note: strings.Repeat("note ", 1000) + word(5002)}}
	c.Title, c.Small, c.Next = strings.Repeat("title ", 300)+word(6000), word(6001), word(6002)
	r.post(t, r.Chat, bot.Posting{At: r.Channels[0], Card: c})
	var all strings.Builder
	for _, p := range r.Said(r.Channels[0]) {
		all.WriteString(p.Text + "\n")
	}
	lost := slices.DeleteFunc(words, func(w string) bool { return strings.Contains(all.String(), w) })
	if len(lost) > 0 {
		t.Errorf("%d words are lost, the first %q", len(lost), lost[0])
	}
}

// hostile is what people have put into names and notes to have a platform obey it.
var hostile = []string{
	"<!channel>", "<!here|x>", "<@U0FAKE0001>", "<#C0FAKE0001>", "<!subteam^S0FAKE0001>", "<https://evil.example|bag>", "<!date^1392734382^{date}|x>",
	"@everyone", "@here", "<@123456789012345678>", "<@&123456789012345678>", "<t:1618953630>", "[bag](https://evil.example)", "||spoiler||", "```code```",
	"*bold* _it_ ~no~ **b** __u__", "> quoted", "# head", "&lt;!channel&gt;", "a\u202eb",
}

func onlyText(t *testing.T, r *Rig) {
	for n, text := range hostile {
		c := card(n, text, "why: "+text)
		c.Title += " " + text
		c.Facts = []bot.Fact{{Label: text, Lines: []string{text}}}
		c.Weigh = []bot.Weigh{{Item: text, Amount: "8.0 g", Note: text}}
		c.Warnings = []bot.Warning{{Level: "note", Text: text}}
		c.Status, c.Choices, c.Small, c.Next = []string{text}, []string{text}, text, text
		c.Caret = &bot.Caret{Text: text, Column: 1, Width: 2}
		c.Buttons = []bot.Button{{Label: text, Press: bot.Press{Action: bot.DoDone, Batch: 1, Revision: 1}}}
		r.post(t, r.Chat, bot.Posting{At: r.Channels[0], Card: c})
	}
	said := r.Said(r.Channels[0])
	if len(said) < len(hostile) {
		t.Fatalf("%d posts stand there", len(said))
	}
	for _, p := range said {
		if len(p.Obeyed) > 0 {
			t.Errorf("the platform obeys %q in %q", p.Obeyed, p.Text)
		}
	}
}

func refused(t *testing.T, r *Rig) {
	for _, doubt := range []bool{false, true} {
		if id, err := r.Chat.Post(t.Context(), bot.Posting{At: r.Shut, Card: card(1), Queued: time.Now(), Doubtful: doubt}); !errors.Is(err, bot.ErrRefused) {
			t.Errorf("posted as %q: %v", id, err)
		}
	}
}

func noSecret(t *testing.T, r *Rig) {
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	texts := []string{fmt.Sprint(r.Chat), fmt.Sprintf("%+v", r.Chat), fmt.Sprintf("%#v", r.Chat)}
	for _, how := range []Failure{Unheard, Down} {
		r.Fail(how)
		_, err := r.Chat.Post(t.Context(), bot.Posting{At: r.Channels[0], Card: card(1), Queued: time.Now()})
		for e := err; e != nil; e = errors.Unwrap(e) {
			texts = append(texts, e.Error())
		}
	}
	for _, at := range []bot.Place{r.Shut, r.Channels[0]} {
		_, err := r.Chat.Post(ended, bot.Posting{At: at, Card: card(2)})
		if err == nil {
			t.Error("a post after its context ended is taken for done")
		}
		texts = append(texts, fmt.Sprint(err))
	}
	for _, secret := range r.Secrets {
		for _, text := range texts {
			if strings.Contains(text, secret) {
				t.Errorf("%q holds a secret", text)
			}
		}
	}
}

// front keeps what is said, and fails as often as it is told to.
type front struct {
	mu   sync.Mutex
	fail int
	got  []bot.Message
}

func (f *front) Receive(_ context.Context, m bot.Message) (bot.Reply, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.fail > 0 {
		f.fail--
		return bot.Reply{}, errors.New("not kept")
	}
	f.got = append(f.got, m)
	return bot.Reply{}, nil
}

func (f *front) Watched(context.Context, string) (bot.Watched, error) { return bot.Watched{}, nil }

// run runs the adapter while f is at work, and returns what Run returned.
func (r *Rig) run(t *testing.T, front bot.Front, work func()) error {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- r.Chat.Run(ctx, front) }()
	work()
	cancel()
	select {
	case err := <-ended:
		return err
	case <-time.After(2 * time.Minute):
		t.Fatal("the run goes on after its context ended")
		return nil
	}
}

func heard(t *testing.T, r *Rig) {
	f := &front{}
	var ids []string
	r.run(t, f, func() {
		for n := range 20 {
			ids = append(ids, r.Say(name(n)))
		}
		r.post(t, r.Chat, bot.Posting{At: r.Channels[0], Card: card(1)}) // which is not heard
		r.Settled()
	})
	var got []string
	for n, m := range f.got {
		if m.What != bot.Said || m.Place != r.Channels[0] || m.Account.Platform != r.Chat.Platform() || m.Account.User == "" || m.Name == "" || m.At.IsZero() {
			t.Errorf("message %d is %+v", n, m)
		}
		got = append(got, m.ID)
	}
	if !slices.Equal(slices.Compact(got), ids) {
		t.Errorf("heard %q, said %q", got, ids)
	}
}

func unkept(t *testing.T, r *Rig) {
	f := &front{fail: 1}
	var id string
	r.run(t, f, func() {
		id = r.Say("kept at last")
		r.Settled()
	})
	if len(f.got) == 0 || f.got[0].ID != id {
		t.Errorf("the bot keeps %+v", f.got)
	}
}

func ends(t *testing.T, r *Rig) {
	if err := r.run(t, &front{}, func() {}); !errors.Is(err, context.Canceled) {
		t.Errorf("a run that just began ended with %v", err)
	}
	if err := r.run(t, &front{}, func() { r.Say("hi"); r.Settled() }); !errors.Is(err, context.Canceled) {
		t.Errorf("a run that was at work ended with %v", err)
	}
}
