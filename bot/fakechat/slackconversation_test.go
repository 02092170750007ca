package fakechat

import (
	"fmt"
	"slices"
	"testing"
)

// texts are the texts of a page of messages.
func texts(got answer) []string {
	var found []string
	messages, _ := got.json["messages"].([]any)
	for _, m := range messages {
		found = append(found, m.(map[string]any)["text"].(string))
	}
	return found
}

// History is newest first and without replies, a thread is oldest first with its root in front.
// Source: docs.slack.dev/reference/methods/conversations.history and conversations.replies.
func TestSlackHistory(t *testing.T) {
	a := newApp(t, SlackSettings{})
	var ts []string
	for i := range 5 {
		ts = append(ts, a.s.Say(a.ana, a.cure, "", fmt.Sprintf("m%d", i)))
	}
	for i := range 3 {
		a.s.Say(a.luis, a.cure, ts[1], fmt.Sprintf("r%d", i))
	}
	var pages []string
	cursor := ""
	for {
		got := a.must("conversations.history", "channel", a.cure, "limit", "2", "cursor", cursor)
		pages = append(pages, fmt.Sprint(texts(got)))
		if cursor = got.text("response_metadata", "next_cursor"); cursor == "" {
			break
		}
		a.s.Say(a.ana, a.cure, "", "late") // what comes in meanwhile moves nothing
	}
	if want := []string{"[m4 m3]", "[m2 m1]", "[m0]"}; !slices.Equal(pages, want) {
		t.Errorf("pages %q", pages)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"oldest", ts[1], "latest", ts[3]}, "[m2]"},
		{[]string{"oldest", ts[1], "latest", ts[3], "inclusive", "true"}, "[m3 m2 m1]"},
	} {
		if got := fmt.Sprint(texts(a.must("conversations.history", append([]string{"channel", a.cure}, c.args...)...))); got != c.want {
			t.Errorf("%v: %s, want %s", c.args, got, c.want)
		}
	}
	if got := fmt.Sprint(texts(a.must("conversations.replies", "channel", a.cure, "ts", ts[1]))); got != "[m1 r0 r1 r2]" {
		t.Errorf("replies: %s", got)
	}
	since := a.s.Thread(a.cure, ts[1])[1].TS
	if got := fmt.Sprint(texts(a.must("conversations.replies", "channel", a.cure, "ts", ts[1], "oldest", since))); got != "[m1 r1 r2]" {
		t.Errorf("replies since the first: %s", got)
	}
	a.refused("thread_not_found", "conversations.replies", "channel", a.cure, "ts", "1600000000.000001")
	a.refused("channel_not_found", "conversations.history", "channel", "C404")
	a.refused("invalid_cursor", "conversations.history", "channel", a.cure, "cursor", "bm8=")

	a.s.Delete(a.cure, ts[1])
	if got := texts(a.must("conversations.replies", "channel", a.cure, "ts", ts[1])); got[0] != "This message was deleted." || len(got) != 4 {
		t.Errorf("the thread of a deleted root: %q", got)
	}
	a.s.Delete(a.cure, ts[0])
	a.refused("thread_not_found", "conversations.replies", "channel", a.cure, "ts", ts[0])
}

// Source: docs.slack.dev/reference/methods/conversations.history: 100 by default, 999 at most.
func TestSlackPageSizes(t *testing.T) {
	a := newApp(t, SlackSettings{})
	for range 1001 {
		a.s.Say(a.ana, a.cure, "", "m")
	}
	for limit, want := range map[string]int{"": 100, "2000": 999, "7": 7} {
		got := a.must("conversations.history", "channel", a.cure, "limit", limit)
		if n := len(texts(got)); n != want || got.json["has_more"] != true {
			t.Errorf("limit %q: %d messages", limit, n)
		}
	}
}

func TestSlackMetadata(t *testing.T) {
	a := newApp(t, SlackSettings{})
	ts := a.must("chat.postMessage", "channel", a.cure, "text", "t", "metadata", `{"event_type":"card","event_payload":{"op":"x1"}}`).text("ts")
	for _, c := range []struct{ all, want string }{{"true", "x1"}, {"false", ""}} {
		got := a.must("conversations.replies", "channel", a.cure, "ts", ts, "include_all_metadata", c.all)
		m := answer{json: got.json["messages"].([]any)[0].(map[string]any)}
		if m.text("metadata", "event_payload", "op") != c.want {
			t.Errorf("include_all_metadata=%s: %s", c.all, got.body)
		}
	}
}

func TestSlackChannels(t *testing.T) {
	a := newApp(t, SlackSettings{})
	secret := a.s.AddChannel(SlackChannel{Name: "owners", Kind: SlackPrivate, Members: []string{a.ana, SlackBot}, Shared: true})
	a.s.AddChannel(SlackChannel{Name: "hidden", Kind: SlackPrivate, Members: []string{a.ana}})
	a.s.AddChannel(SlackChannel{Name: "menu", Members: []string{a.ana}})
	dm := a.s.Direct(a.ana)
	count := func(method string, args ...string) int {
		channels, _ := a.must(method, args...).json["channels"].([]any)
		return len(channels)
	}
	if n := count("conversations.list", "types", "public_channel,private_channel,im"); n != 4 {
		t.Errorf("%d channels", n)
	}
	if n := count("users.conversations", "types", "public_channel,private_channel"); n != 2 {
		t.Errorf("%d own channels", n)
	}
	got := a.must("conversations.list", "types", "public_channel", "limit", "1")
	if n := count("conversations.list", "types", "public_channel", "limit", "1", "cursor", got.text("response_metadata", "next_cursor")); n != 1 {
		t.Errorf("%d channels on the second page", n)
	}
	if c := a.must("conversations.info", "channel", secret).json["channel"].(map[string]any); c["is_private"] != true || c["is_ext_shared"] != true || c["is_member"] != true {
		t.Errorf("a shared private channel: %v", c)
	}
	if got := a.must("conversations.info", "channel", dm); got.text("channel", "user") != a.ana {
		t.Errorf("a direct conversation: %s", got.body)
	}
	if got := a.must("conversations.open", "users", a.ana); got.text("channel", "id") != dm {
		t.Errorf("opened %s", got.body)
	}
	both := a.must("conversations.open", "users", a.ana+","+a.luis).text("channel", "id")
	if again := a.must("conversations.open", "users", a.luis+","+a.ana).text("channel", "id"); again != both {
		t.Errorf("opened %s, then %s", both, again)
	}
	if members := a.must("conversations.members", "channel", both).json["members"].([]any); len(members) != 3 {
		t.Errorf("members %v", members)
	}
	a.refused("user_not_found", "conversations.open", "users", "U404")
	a.refused("invalid_types", "conversations.list", "types", "kitchens")
}

// The scope depends on the kind of channel.
func TestSlackScopesOfChannels(t *testing.T) {
	a := newApp(t, SlackSettings{Scopes: []string{"channels:read", "channels:history"}})
	secret := a.s.AddChannel(SlackChannel{Name: "owners", Kind: SlackPrivate, Members: []string{a.ana, SlackBot}})
	a.must("conversations.history", "channel", a.cure)
	if got := a.refused("missing_scope", "conversations.history", "channel", secret); got.text("needed") != "groups:history" {
		t.Errorf("needed: %s", got.body)
	}
	if got := a.refused("missing_scope", "conversations.list", "types", "im"); got.text("needed") != "im:read" {
		t.Errorf("needed: %s", got.body)
	}
	// And without the scope the event isn't sent either.
	l := a.dial()
	a.s.Say(a.ana, secret, "", "hidden")
	a.s.Say(a.ana, a.cure, "", "seen")
	if e := l.take(); e.inner("text") != "seen" {
		t.Errorf("the event is %v", e.Payload.Event)
	}
}
