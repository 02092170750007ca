package fakechat

import (
	"slices"
	"testing"
)

// message is the field of the message within a message_changed.
func (e envelopeIn) message(which string, keys ...string) string {
	return answer{json: e.Payload.Event}.text(append([]string{which}, keys...)...)
}

// Source: docs.slack.dev/reference/events/message/message_changed and message_deleted.
func TestSlackEditsAndDeletes(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	ts := a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	l.take()

	a.s.Edit(a.cure, ts, "3.3 kg belly")
	e := l.take()
	if e.inner("subtype") != "message_changed" || e.inner("text") != "" || e.inner("ts") == ts || e.message("message", "ts") != ts ||
		e.message("message", "text") != "3.3 kg belly" || e.message("previous_message", "text") != "3.2 kg belly" || e.message("message", "edited", "user") != a.ana {
		t.Errorf("an edit is %v", e.Payload.Event)
	}
	plain := a.s.Say(a.ana, a.cure, "", "https://kitchen.example/")
	l.take()
	a.s.Unfurl(a.cure, plain)
	if e := l.take(); e.inner("subtype") != "message_changed" || e.message("message", "edited", "ts") != "" || e.message("message", "text") != e.message("previous_message", "text") {
		t.Errorf("an unfurl is %v", e.Payload.Event)
	}
	a.s.Delete(a.cure, plain)
	if e := l.take(); e.inner("subtype") != "message_deleted" || e.inner("deleted_ts") != plain || e.message("previous_message", "user") != a.ana {
		t.Errorf("a deletion is %v", e.Payload.Event)
	}
	a.s.Say(a.luis, a.cure, ts, "how long?")
	if e := l.take(); e.inner("thread_ts") != ts || e.inner("parent_user_id") != a.ana {
		t.Errorf("a reply is %v", e.Payload.Event)
	}
	a.s.Delete(a.cure, ts)
	if e := l.take(); e.inner("subtype") != "message_changed" || e.message("message", "subtype") != "tombstone" ||
		e.message("message", "text") != "This message was deleted." || e.message("previous_message", "text") != "3.3 kg belly" {
		t.Errorf("a deleted root is %v", e.Payload.Event)
	}
}

// What the composer makes of what people type.
// Source: docs.slack.dev/messaging/formatting-message-text.
func TestSlackTyped(t *testing.T) {
	a := newApp(t, SlackSettings{})
	chefs := a.s.AddGroup(SlackGroup{Handle: "chefs"})
	for typed, want := range map[string]string{
		"< 5 g & 80 > 60":               "&lt; 5 g &amp; 80 &gt; 60",
		"@luis, seen":                   "<@" + a.luis + ">, seen",
		"chef @ana.":                    "chef <@" + a.ana + ">.",
		"@nobody":                       "@nobody",
		"see #cure":                     "see <#" + a.cure + "|cure>",
		"9# ham, #7":                    "9# ham, #7",
		"@here 40 portions":             "<!here> 40 portions",
		"@chefs":                        "<!subteam^" + chefs + "|@chefs>",
		"https://kitchen.example/a?b=1": "<https://kitchen.example/a?b=1>",
	} {
		ts := a.s.Say(a.ana, a.cure, "", typed)
		if p, _ := a.s.Post(a.cure, ts); p.Text != want {
			t.Errorf("%q becomes %q, want %q", typed, p.Text, want)
		}
	}
	ts := a.s.SayRaw(a.ana, a.cure, "", "<!date^1|a>")
	if p, _ := a.s.Post(a.cure, ts); p.Text != "<!date^1|a>" {
		t.Errorf("a raw text becomes %q", p.Text)
	}
}

func TestSlackDirect(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	a.s.Mention(a.ana, a.s.Direct(a.ana), "", "due")
	a.s.Say(a.ana, a.s.Direct(a.ana), "", "second")
	if e := l.take(); e.inner("channel_type") != "im" {
		t.Errorf("a direct message is %v", e.Payload.Event)
	}
	if e := l.take(); e.inner("text") != "second" { // no app_mention in between
		t.Errorf("after it comes %v", e.Payload.Event)
	}
}

// A person of another team, in a shared channel.
func TestSlackStranger(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	guest := a.s.AddPerson(SlackPerson{Name: "sam", Team: "T0OTHER"})
	shared := a.s.AddChannel(SlackChannel{Name: "suppliers", Shared: true, Members: []string{guest, SlackBot}})
	a.s.Say(guest, shared, "", "3.2 kg belly")
	if e := l.take(); !e.Payload.Shared || e.inner("user_team") != "T0OTHER" || e.inner("source_team") != "T0OTHER" {
		t.Errorf("a stranger's message is %+v", e.Payload)
	}
	a.s.Share(guest, shared, "", "the invoice", SlackFile{Name: "a.pdf", Bytes: []byte("%PDF"), Stub: true})
	if e := l.take(); e.inner("type") != "file_shared" {
		t.Errorf("first comes %v", e.Payload.Event)
	}
	e := l.take()
	file := e.Payload.Event["files"].([]any)[0].(map[string]any)
	if e.inner("subtype") != "file_share" || file["file_access"] != "check_file_info" || file["name"] != nil {
		t.Errorf("a file of another team is %v", file)
	}
	if got := a.must("files.info", "file", file["id"].(string)); got.text("file", "name") != "a.pdf" {
		t.Errorf("asked for, it is %s", got.body)
	}
}

// Other bots, joins, topics and reactions: everything that is no message of a person has a
// subtype, a bot_id, or another type.
func TestSlackNoise(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	a.s.Noise(a.ana, a.cure)
	for range 7 {
		if e := l.take(); e.inner("subtype") == "" {
			t.Errorf("noise: %v", e.Payload.Event)
		}
	}
	a.s.SayAsBot("B0OTHER", a.cure, "", "3.2 kg belly")
	if e := l.take(); e.inner("subtype") != "bot_message" || e.inner("bot_id") != "B0OTHER" || e.inner("user") != "" {
		t.Errorf("a bot: %v", e.Payload.Event)
	}
	ts := a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	l.take()
	a.s.React(a.luis, a.cure, ts, "salt")
	if e := l.take(); e.inner("type") != "reaction_added" || e.inner("reaction") != "salt" {
		t.Errorf("a reaction: %v", e.Payload.Event)
	}
	pia := a.s.AddPerson(SlackPerson{Name: "pia"})
	a.s.Join(pia, a.cure)
	if e := l.take(); e.inner("type") != "member_joined_channel" || e.inner("user") != pia {
		t.Errorf("a join: %v", e.Payload.Event)
	}
	if e := l.take(); e.inner("subtype") != "channel_join" {
		t.Errorf("the notice of it: %v", e.Payload.Event)
	}
	a.s.ChangePerson(pia, func(p *SlackPerson) { p.TZ = "Europe/Paris" })
	if e := l.take(); e.inner("type") != "user_change" {
		t.Errorf("a change: %v", e.Payload.Event)
	}
}

// Only what the app is subscribed to, and only where it is.
func TestSlackSubscriptions(t *testing.T) {
	a := newApp(t, SlackSettings{Events: []string{"message.im"}})
	l := a.dial()
	a.s.Mention(a.ana, a.cure, "", "in the channel")
	a.s.Say(a.ana, a.s.Direct(a.ana), "", "direct")
	if e := l.take(); e.inner("text") != "direct" {
		t.Errorf("the event is %v", e.Payload.Event)
	}
	if got := a.s.Deliveries(); len(got) != 1 {
		t.Errorf("deliveries %+v", got)
	}
}

// The process ends, another one starts: the workspace is as it was.
func TestSlackOutlives(t *testing.T) {
	a := newApp(t, SlackSettings{})
	first := a.dial()
	ts := a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	first.take()
	a.must("chat.postMessage", "channel", a.cure, "thread_ts", ts, "text", "8.0 g")
	first.next() // the process dies with this one in hand
	_ = first.conn.Close()
	second := a.dial()
	if e := second.take(); e.inner("text") != "8.0 g" {
		t.Errorf("the next process gets %v", e.Payload.Event)
	}
	if got := texts(a.must("conversations.replies", "channel", a.cure, "ts", ts)); !slices.Equal(got, []string{"3.2 kg belly", "8.0 g"}) {
		t.Errorf("and finds %q", got)
	}
}
