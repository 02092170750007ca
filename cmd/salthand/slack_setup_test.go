package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"salthand/bot/fakechat"
)

// settle waits until all that was said is acknowledged and answered.
func (k *slackKitchen) settle() {
	k.Helper()
	k.until("the acknowledgements", func() bool { return k.slack.Pending() == 0 })
	if err := k.bot.Settle(k.Context()); err != nil {
		k.Fatal(err)
	}
}

// stands wants a message of the bot in a channel, or in a thread of it, that says all of want.
func (k *slackKitchen) stands(channel, thread string, want ...string) fakechat.SlackPost {
	k.Helper()
	k.settle()
	posts := k.slack.BotPosts()
	for _, p := range slices.Backward(posts) {
		lacks := func(w string) bool { return !strings.Contains(p.Text, w) }
		if p.Channel == channel && p.Thread == thread && !p.Deleted && !slices.ContainsFunc(want, lacks) {
			return p
		}
	}
	for _, p := range posts {
		k.Logf("%s %s: %s", p.Channel, p.Thread, p.Text)
	}
	k.Fatalf("nothing stands in %s %s that says %q", channel, thread, want)
	return fakechat.SlackPost{}
}

// press presses a button, and wants it to be acknowledged.
func (k *slackKitchen) press(user string, p fakechat.SlackPost, label string) {
	k.Helper()
	if err := k.slack.Press(user, p.Channel, p.TS, label); err != nil {
		k.Fatalf("%s: %v", label, err)
	}
}

// sane looks at what no conversation may bring about.
func (k *slackKitchen) sane() {
	k.Helper()
	for _, p := range complaints(k.slack) {
		k.Errorf("the platform complains: %+v", p)
	}
	for _, p := range k.slack.BotPosts() {
		if said := p.Text + string(p.Blocks); strings.Contains(said, "<!") || strings.Contains(said, `\u003c!`) {
			k.Errorf("it calls everybody: %s", said)
		}
		if p.Unfurl == nil || *p.Unfurl || p.Media == nil || *p.Media {
			if len(p.Files) == 0 {
				k.Errorf("previews are on under %q", p.Text)
			}
		}
	}
}

// From the code at the start to a label in the thread: nothing but Slack is used.
func TestFirstDayOnSlack(t *testing.T) {
	k := startSlack(t, fakechat.SlackSettings{}, false)
	mira := k.slack.AddPerson(fakechat.SlackPerson{Name: "mira"})
	k.slack.Join(mira, k.cure)
	direct := k.slack.Direct(k.ana)

	k.slack.Mention(mira, k.cure, "", "3.2 kg belly, dry rub, 7 days")
	k.settle()
	if posts := k.slack.BotPosts(); len(posts) != 1 || !strings.Contains(posts[0].Text, "not set up yet") {
		t.Fatalf("before there is a kitchen it says %v", posts)
	}
	k.slack.Say(k.ana, direct, "", "join "+k.code)
	k.stands(direct, "", "ana is the chef of this kitchen")
	k.press(k.ana, k.stands(direct, "", "Which rules apply?"), "us")
	k.press(k.ana, k.stands(direct, "", "Which clock do reminders go by?"), "Madrid") // her own, as Slack tells
	k.stands(direct, "", "In which channel are cures asked?")
	here := k.slack.Mention(k.ana, k.cure, "", "cure channel here")
	k.stands(k.cure, here)
	chef := k.slack.Mention(k.ana, k.cure, "", "chef @luis")
	k.stands(k.cure, chef, "luis")
	k.slack.Say(k.ana, k.cure, "", "jar A7 is no 1, 6.25% nitrite, lot 2291")
	k.settle()

	// Asked, and approved by another chef.
	ask := k.slack.Say(k.ana, k.cure, "", "3.2 kg belly, dry rub, 7 days, jar A7")
	card := k.stands(k.cure, ask, "[1] DOSE CARD", "8.0 g  no. 1 cure", "72.5 g  salt", "limit 200", "Arithmetic, not approval")
	k.press(k.ana, card, "approve")
	k.stands(k.cure, ask, "second person")
	k.press(mira, card, "approve")
	if p, _ := k.slack.Post(k.cure, card.TS); strings.Contains(p.Text, "approved") {
		t.Errorf("approved by who asked, or by who is no chef: %s", p.Text)
	}
	k.settle()
	k.press(k.luis, card, "approve")
	k.settle()
	card, _ = k.slack.Post(k.cure, card.TS)
	if !strings.Contains(card.Text, "approved by luis") || !strings.Contains(string(card.Blocks), "approved by luis") || len(card.Revisions) != 2 {
		t.Errorf("the card was brought up to date %d times: %s", len(card.Revisions)-1, card.Text)
	}

	// Weighed in by the form, read again by another, in the cure.
	k.press(mira, card, "weigh in")
	k.until("the form", func() bool { return len(k.slack.Views()) == 1 })
	view := k.slack.Views()[0]
	got, err := k.slack.Submit(mira, view.ID, map[string]string{"cure": "8 or so", "salt": "72.5", "jar": "A7"})
	if err != nil || got.Action != "errors" || got.Errors["cure"] == "" {
		t.Errorf("a word for an amount: %+v, %v", got, err)
	}
	if got, err = k.slack.Submit(mira, view.ID, map[string]string{"cure": "8.0", "salt": "72.5", "jar": "A7"}); err != nil || got.Action != "" {
		t.Errorf("the form was not taken: %+v, %v", got, err)
	}
	k.stands(k.cure, ask, "[1] DOSE CARD", "weighed by mira", "cure 8.0 g")
	k.slack.Say(k.luis, k.cure, ask, "seen 8.0 A7")
	k.stands(k.cure, ask, "[1] DOSE CARD", "read again by luis", "started ")
	k.slack.Say(mira, k.cure, ask, "steps")
	k.stands(k.cure, ask, "turn", "take out")

	// Papers come into the thread.
	k.slack.Say(mira, k.cure, ask, "label")
	k.stands(k.cure, ask, "Label of batch 1")
	want := map[string]string{"label-1.pdf": "%PDF-", "label-1.png": "\x89PNG"}
	for _, f := range k.slack.Uploads() {
		if begin := want[f.Name]; begin == "" || f.Channel != k.cure || f.Thread != ask || !bytes.HasPrefix(f.Bytes, []byte(begin)) {
			t.Errorf("%s was shared in %s, thread %s", f.Name, f.Channel, f.Thread)
		}
		delete(want, f.Name)
	}
	if len(want) > 0 {
		t.Errorf("not shared: %v", want)
	}
	for _, p := range k.slack.BotPosts() {
		if p.Channel == k.cure && p.Thread == "" {
			t.Errorf("it stands in the channel itself: %s", p.Text)
		}
	}
	k.sane()
}

// Guests, strangers of a shared channel, other apps and the bot's own cards are not heard; an
// edit asks anew, and a deletion lapses.
func TestWhoIsHeardOnSlack(t *testing.T) {
	k := openSlack(t, fakechat.SlackSettings{})
	stranger := k.slack.AddPerson(fakechat.SlackPerson{Name: "eve", Team: "T0OTHER001"})
	guest := k.slack.AddPerson(fakechat.SlackPerson{Name: "gus", Guest: true})
	for _, user := range []string{stranger, guest} {
		k.slack.Join(user, k.cure)
		k.slack.Mention(user, k.cure, "", "3.2 kg belly, dry rub, 7 days")
	}
	k.slack.SayAsBot("B0OTHER001", k.cure, "", "3.2 kg belly, dry rub, 7 days")
	k.slack.Noise(k.ana, k.cure)
	k.settle()
	if posts := k.slack.BotPosts(); len(posts) > 0 {
		t.Errorf("it answers: %v", posts)
	}

	ask := k.slack.Say(k.ana, k.cure, "", "3.2 kg belly, dry rub, 7 days")
	card := k.stands(k.cure, ask, "[1] DOSE CARD")
	for _, user := range []string{stranger, guest} {
		k.press(user, card, "approve")
		k.slack.Say(user, k.cure, ask, "approve")
	}
	k.settle()
	if posts := k.slack.BotPosts(); len(posts) != 1 || posts[0].Edited != "" {
		t.Errorf("it heard a guest or a stranger: %v", posts)
	}

	k.press(k.luis, card, "approve")
	k.stands(k.cure, ask, "[1] DOSE CARD", "approved by luis")
	k.slack.Unfurl(k.cure, ask) // a preview is no edit
	k.slack.Edit(k.cure, ask, "3.4 kg belly, dry rub, 7 days")
	k.stands(k.cure, ask, "[1] DOSE CARD", "replaced by dose card revision 2")
	k.stands(k.cure, ask, "[1] DOSE CARD", "8.5 g  no. 1 cure") // 3,400 g × 156.25 ppm ÷ 6.25 %
	k.slack.Delete(k.cure, ask)
	k.stands(k.cure, ask, "Batch 1 is off")
	k.sane()
}

// Names and notes are words, whatever signs stand in them.
func TestHostileWordsOnSlack(t *testing.T) {
	k := openSlack(t, fakechat.SlackSettings{})
	k.slack.ChangePerson(k.luis, func(p *fakechat.SlackPerson) { p.DisplayName = "*Lu* <!channel> & <@U0FAKE0001>" })
	k.settle()
	ask := k.slack.Say(k.luis, k.cure, "", "3.2 kg belly, dry rub, 7 days")
	card := k.stands(k.cure, ask, "[1] DOSE CARD")
	k.press(k.ana, card, "approve")
	k.slack.SayRaw(k.luis, k.cure, ask, "hold: <!channel> *all* of it &amp; &lt;!here&gt; <https://kitchen.example/|look>")
	k.stands(k.cure, ask, "[1] DOSE CARD", "@channel", "&lt;!here&gt;", "&amp;")
	mira := k.slack.AddPerson(fakechat.SlackPerson{Name: "mira", DisplayName: "*Mi* <!channel> & co"})
	k.slack.Join(mira, k.cure)
	loin := k.slack.Say(mira, k.cure, "", "2 kg loin, dry rub, 5 days")
	k.stands(k.cure, loin, "[2] DOSE CARD")
	k.slack.Say(mira, k.cure, loin, "hold: it smells")
	held := k.stands(k.cure, loin, "[2] DOSE CARD", "it smells", "*Mi* &lt;!channel&gt; &amp; co")
	if !strings.Contains(string(held.Blocks), `by *Mi* &lt;!channel&gt; &amp; co","type":"plain_text"`) {
		t.Errorf("the name stands where its signs are obeyed: %s", held.Blocks)
	}
	k.sane()
}
