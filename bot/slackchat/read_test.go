package slackchat

import (
	"context"
	"encoding/json"
	"io"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/slack-go/slack"
	"github.com/slack-go/slack/slackevents"

	"salthand/bot"
)

// here is a reader of a workspace with a few people.
var here = reader{
	team: "T1", user: "UBOT",
	who: func(user string) person {
		return map[string]person{
			"UANA":   {name: "Ana", team: "T1", zone: "Europe/Madrid", locale: "es-ES"},
			"ULUIS":  {name: "Luis M: chef", team: "T1"},
			"ULUIS2": {name: "Luis M: chef", team: "T1"},
			"UGUEST": {name: "Gus", team: "T1", guest: true},
			"UAPP":   {name: "Poster", team: "T1", robot: true},
			"UFAR":   {name: "Far", team: "T9", guest: true},
		}[user]
	},
	groups: func(user string) ([]string, bool) {
		return map[string][]string{"UANA": {"SCHEFS"}, "UGUEST": {"SCHEFS"}, "UFAR": {"SCHEFS"}}[user], true
	},
	handle: func(group string) string { return map[string]string{"SCHEFS": "chefs"}[group] },
	open:   func(string) func(context.Context) (io.ReadCloser, error) { return nil },
}

// readEvent decodes an inner event as the library does and reads it.
func readEvent(t *testing.T, inner string) (bot.Message, bool) {
	t.Helper()
	ev, err := slackevents.ParseEvent(json.RawMessage(`{"type":"event_callback","team_id":"T1","event":`+inner+`}`), slackevents.OptionNoVerifyToken())
	if err != nil {
		t.Fatalf("%s: %v", inner, err)
	}
	switch e := ev.InnerEvent.Data.(type) {
	case *slackevents.MessageEvent:
		return here.event(e)
	case *slackevents.AppMentionEvent:
		return here.appMention(e)
	}
	t.Fatalf("%s is a %T", inner, ev.InnerEvent.Data)
	return bot.Message{}, false
}

// ana is a message of Ana's in the channel C1, in the thread of the message 100.000001.
func ana(id string, what bot.What, text string) bot.Message {
	return bot.Message{ID: id, What: what, Text: text, Name: "Ana", Zone: "Europe/Madrid", Language: "es-ES", Groups: []string{"SCHEFS"}, GroupsTold: true,
		Account: bot.Account{Platform: "slack", Team: "T1", User: "UANA"}, Place: bot.Place{Platform: "slack", Team: "T1", Channel: "C1", Thread: "100.000001"},
		At: time.Unix(100, 1000).UTC()}
}

func with(m bot.Message, change func(*bot.Message)) bot.Message {
	change(&m)
	return m
}

// What each event says. Forms of the events: docs.slack.dev, reference of events, message and
// its subtypes, seen second-hand; traps as slack-go 0.35 decodes them.
func TestEvents(t *testing.T) {
	top := func(m *bot.Message) { m.Top = true }
	for _, c := range []struct {
		name, event string
		want        bot.Message
	}{
		{"a message begins its own thread", `{"type":"message","channel":"C1","channel_type":"channel","user":"UANA","text":"3.2 kg belly","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "3.2 kg belly"), top)},
		{"a root that has replies", `{"type":"message","channel":"C1","user":"UANA","text":"hi","ts":"100.000001","thread_ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "hi"), top)},
		{"a reply", `{"type":"message","channel":"C1","user":"UANA","text":"turned","ts":"200.000000","thread_ts":"100.000001"}`,
			with(ana("200.000000", bot.Said, "turned"), func(m *bot.Message) { m.At = time.Unix(200, 0).UTC() })},
		{"a reply that is shown in the channel too", `{"type":"message","subtype":"thread_broadcast","channel":"C1","user":"UANA","text":"turned","ts":"200.000000","thread_ts":"100.000001","root":{"ts":"100.000001"}}`,
			with(ana("200.000000", bot.Said, "turned"), func(m *bot.Message) { m.At = time.Unix(200, 0).UTC() })},
		{"in a direct conversation", `{"type":"message","channel":"D1","channel_type":"im","user":"UANA","text":"help","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "help"), func(m *bot.Message) {
				m.Top, m.Direct, m.Place.Channel, m.Place.Thread = true, true, "D1", ""
			})},
		{"the bot is named", `{"type":"message","channel":"C1","user":"UANA","text":"<@UBOT>, due","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "due"), func(m *bot.Message) { m.Top, m.Mentioned = true, true })},
		{"the second event of it", `{"type":"app_mention","channel":"C1","user":"UANA","text":"<@UBOT>, due","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "due"), func(m *bot.Message) { m.Top, m.Mentioned = true, true })},
		{"others are named", `{"type":"message","channel":"C1","user":"UANA","text":"chef <@ULUIS>","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "chef @Luis.M..chef"), func(m *bot.Message) {
				m.Top, m.Mentions = true, map[string]bot.Account{"Luis.M..chef": {Platform: "slack", Team: "T1", User: "ULUIS"}}
			})},
		{"a group is named", `{"type":"message","channel":"C1","user":"UANA","text":"chef <!subteam^SCHEFS>","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "chef @chefs"), func(m *bot.Message) {
				m.Top, m.Mentions = true, map[string]bot.Account{"chefs": {Platform: "slack", Team: "T1", User: "SCHEFS", Group: true}}
			})},
		{"an edit", `{"type":"message","subtype":"message_changed","hidden":true,"channel":"C1","ts":"300.000000","event_ts":"300.000000","message":{"type":"message","user":"UANA","text":"3.4 kg belly","ts":"100.000001","edited":{"user":"UANA","ts":"299.000000"}},"previous_message":{"user":"UANA","text":"3.2 kg belly","ts":"100.000001"}}`,
			with(ana("100.000001/299.000000", bot.Edited, "3.4 kg belly"), func(m *bot.Message) { m.Top, m.Said, m.At = true, "100.000001", time.Unix(299, 0).UTC() })},
		{"a reply is deleted", `{"type":"message","subtype":"message_deleted","hidden":true,"channel":"C1","ts":"300.000000","event_ts":"300.000000","deleted_ts":"200.000000","previous_message":{"user":"UANA","text":"turned","ts":"200.000000","thread_ts":"100.000001"}}`,
			with(ana("200.000000/deleted", bot.Deleted, ""), func(m *bot.Message) { m.Said, m.At = "200.000000", time.Unix(300, 0).UTC() })},
		{"the root of a thread is deleted", `{"type":"message","subtype":"message_changed","hidden":true,"channel":"C1","ts":"300.000000","event_ts":"300.000000","message":{"type":"message","subtype":"tombstone","user":"USLACKBOT","text":"This message was deleted.","hidden":true,"ts":"100.000001","thread_ts":"100.000001"},"previous_message":{"user":"UANA","text":"3.2 kg belly","ts":"100.000001","thread_ts":"100.000001"}}`,
			with(ana("100.000001/deleted", bot.Deleted, ""), func(m *bot.Message) { m.Top, m.Said, m.At = true, "100.000001", time.Unix(300, 0).UTC() })},
		{"a picture", `{"type":"message","subtype":"file_share","channel":"C1","user":"UANA","text":"jar A7 photo","ts":"100.000001","files":[{"id":"F1","name":"label.jpg","url_private":"https://files.slack.com/x"}]}`,
			with(ana("100.000001", bot.Said, "jar A7 photo"), func(m *bot.Message) { m.Top, m.Files = true, []bot.Attached{{Name: "label.jpg"}} })},
		{"a stranger in a shared channel", `{"type":"message","channel":"C1","user":"UFAR","user_team":"T9","source_team":"T9","text":"3.2 kg belly","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "3.2 kg belly"), func(m *bot.Message) {
				m.Account = bot.Account{Platform: "slack", Team: "T9", User: "UFAR"}
				m.Top, m.Guest, m.Name, m.Zone, m.Language, m.Groups, m.GroupsTold = true, true, "Far", "", "", nil, false
			})},
		{"a stranger of whom the event tells nothing", `{"type":"message","channel":"C1","user":"UFAR","text":"3.2 kg belly","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "3.2 kg belly"), func(m *bot.Message) {
				m.Account = bot.Account{Platform: "slack", Team: "T9", User: "UFAR"}
				m.Top, m.Guest, m.Name, m.Zone, m.Language, m.Groups, m.GroupsTold = true, true, "Far", "", "", nil, false
			})},
		{"a guest of ours", `{"type":"message","channel":"C1","user":"UGUEST","text":"hi","ts":"100.000001"}`,
			with(ana("100.000001", bot.Said, "hi"), func(m *bot.Message) {
				m.Account.User = "UGUEST"
				m.Top, m.Guest, m.Name, m.Zone, m.Language, m.Groups, m.GroupsTold = true, true, "Gus", "", "", nil, false
			})},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := readEvent(t, c.event)
			if !ok {
				t.Fatal("nobody is taken to have said anything")
			}
			if d := cmp.Diff(c.want, got, cmpopts.IgnoreFields(bot.Attached{}, "Fetch")); d != "" {
				t.Error(d)
			}
		})
	}
}

// Nobody says anything in these.
func TestNotSaid(t *testing.T) {
	for name, event := range map[string]string{
		"a preview":               `{"type":"message","subtype":"message_changed","channel":"C1","event_ts":"3.0","message":{"user":"UANA","text":"see https://x.example","ts":"1.0","attachments":[{"fallback":"x"}]},"previous_message":{"user":"UANA","text":"see https://x.example","ts":"1.0"}}`,
		"a preview after an edit": `{"type":"message","subtype":"message_changed","channel":"C1","event_ts":"3.0","message":{"user":"UANA","text":"a","ts":"1.0","edited":{"user":"UANA","ts":"2.0"},"attachments":[{"fallback":"x"}]},"previous_message":{"user":"UANA","text":"a","ts":"1.0","edited":{"user":"UANA","ts":"2.0"}}}`,
		"a reply to a root":       `{"type":"message","subtype":"message_changed","channel":"C1","event_ts":"3.0","message":{"user":"UANA","text":"a","ts":"1.0","thread_ts":"1.0","reply_count":1},"previous_message":{"user":"UANA","text":"a","ts":"1.0"}}`,
		"the bot's own":           `{"type":"message","channel":"C1","user":"UBOT","bot_id":"BBOT","text":"card","ts":"1.0"}`,
		"the bot's own file":      `{"type":"message","subtype":"file_share","channel":"C1","user":"UBOT","text":"","ts":"1.0","files":[{"id":"F1"}]}`,
		"its own change":          `{"type":"message","subtype":"message_changed","channel":"C1","event_ts":"3.0","message":{"user":"UBOT","bot_id":"BBOT","text":"b","ts":"1.0","edited":{"user":"UBOT","ts":"2.0"}},"previous_message":{"user":"UBOT","bot_id":"BBOT","text":"a","ts":"1.0"}}`,
		"its own deletion":        `{"type":"message","subtype":"message_deleted","channel":"C1","event_ts":"3.0","deleted_ts":"1.0","previous_message":{"user":"UBOT","bot_id":"BBOT","text":"a","ts":"1.0"}}`,
		"another bot":             `{"type":"message","subtype":"bot_message","channel":"C1","bot_id":"B2","username":"poster","text":"3.2 kg belly, dry rub","ts":"1.0"}`,
		"an app's user":           `{"type":"message","channel":"C1","user":"UAPP","text":"3.2 kg belly, dry rub","ts":"1.0"}`,
		"Slack itself":            `{"type":"message","channel":"D1","user":"USLACKBOT","text":"hi","ts":"1.0"}`,
		"somebody joined":         `{"type":"message","subtype":"channel_join","channel":"C1","user":"UANA","text":"<@UANA> has joined the channel","ts":"1.0"}`,
		"a topic":                 `{"type":"message","subtype":"channel_topic","channel":"C1","user":"UANA","topic":"3.2 kg belly","text":"set the topic","ts":"1.0"}`,
		"a hidden one":            `{"type":"message","hidden":true,"channel":"C1","user":"UANA","text":"x","ts":"1.0"}`,
		"an edit that names us":   `{"type":"app_mention","channel":"C1","user":"UANA","text":"<@UBOT> due","ts":"1.0","edited":{"user":"UANA","ts":"2.0"}}`,
	} {
		if m, ok := readEvent(t, event); ok {
			t.Errorf("%s is taken as %+v", name, m)
		}
	}
}

// What stands in a text: escapes come off after the tokens are told from it.
func TestWords(t *testing.T) {
	for _, c := range []struct{ raw, want string }{
		{"&lt;5 &amp; &gt;3 ppm", "<5 & >3 ppm"},
		{"&lt;@UBOT&gt; due", "<@UBOT> due"}, // typed, not a mention
		{"&amp;lt;", "&lt;"},
		{"in <#C9|cures> and <#C9>", "in #cures and #C9"},
		{"<!here> <!channel|@channel> <!subteam^SCOOKS|@cooks> <!subteam^SCHEFS> <!subteam^SNONE>", "@here @channel @cooks @chefs @SNONE"},
		{"<https://a.example/?a=1&amp;b=2|the bag> <https://b.example> <mailto:a@b.example|a@b.example>", "the bag https://b.example a@b.example"},
		{"<!date^1392734382^{date}|18 Feb>", "18 Feb"},
		{"*3.2 kg* belly, _dry rub_, `7 days`", "3.2 kg belly, dry rub, 7 days"},
		{"```3.2 kg belly```", "3.2 kg belly"},
		{"2*3.2 kg belly", "2*3.2 kg belly"},
		{"~8.0 g~ 9.0 g", "~8.0 g~ 9.0 g"}, // struck through is not meant
		{"a_b_c", "a_b_c"},
		{"<broken", "<broken"},
		{"", ""},
	} {
		if got, _, named := here.words(c.raw); got != c.want || named {
			t.Errorf("%q is read as %q (named: %v), want %q", c.raw, got, named, c.want)
		}
	}
	text, mentions, named := here.words("<@UBOT>: ask <@ULUIS> and <@ULUIS2|luis> and <@UNONE>, <@ULUIS>")
	if want := "ask @Luis.M..chef and @Luis.M..chef2 and @UNONE, @Luis.M..chef"; text != want || !named {
		t.Errorf("read as %q, named %v; want %q", text, named, want)
	}
	want := map[string]bot.Account{"Luis.M..chef": {Platform: "slack", Team: "T1", User: "ULUIS"}, "Luis.M..chef2": {Platform: "slack", Team: "T1", User: "ULUIS2"}, "UNONE": {Platform: "slack", Team: "T1", User: "UNONE"}}
	if d := cmp.Diff(want, mentions); d != "" {
		t.Error(d)
	}
}

// callback decodes an interaction as the library does.
func callback(t *testing.T, payload string) (cb slack.InteractionCallback) {
	t.Helper()
	if err := json.Unmarshal([]byte(payload), &cb); err != nil {
		t.Fatal(err)
	}
	return cb
}

func TestPressed(t *testing.T) {
	const press = `{"type":"block_actions","team":{"id":"T1"},"user":{"id":"UANA","team_id":"T1"},"channel":{"id":"C1"},"trigger_id":"t",
		"container":{"type":"message","message_ts":"150.000000","channel_id":"C1","thread_ts":"100.000001"},
		"message":{"ts":"150.000000"},"actions":[{"type":"button","action_id":"approve.0","block_id":"b","value":"1 approve 42 3","action_ts":"100.000001"}]}`
	m, ok := here.pressed(callback(t, press))
	want := with(ana("press/150.000000/approve.0/UANA/100.000001", bot.Pressed, ""), func(m *bot.Message) {
		m.Press = &bot.Press{Action: bot.DoApprove, Batch: 42, Revision: 3}
	})
	if d := cmp.Diff(want, m); !ok || d != "" {
		t.Errorf("%v %s", ok, d)
	}
	for name, payload := range map[string]string{
		"a link":               `{"type":"block_actions","user":{"id":"UANA"},"actions":[{"type":"button","action_id":"x","block_id":"b","action_ts":"1.0"}]}`,
		"another form of ours": `{"type":"block_actions","user":{"id":"UANA"},"actions":[{"type":"button","action_id":"x","block_id":"b","value":"7 approve 1 1","action_ts":"1.0"}]}`,
	} {
		if m, ok := here.pressed(callback(t, payload)); ok {
			t.Errorf("%s is taken as %+v", name, m)
		}
	}
	// On a card in the channel itself the thread is the card's.
	m, _ = here.pressed(callback(t, `{"type":"block_actions","team":{"id":"T1"},"user":{"id":"UFAR","team_id":"T9"},"container":{"message_ts":"150.000000","channel_id":"C1"},"actions":[{"type":"button","action_id":"take.0","block_id":"b","value":"1 take 42 0","action_ts":"1.0"}]}`))
	if m.Place.Thread != "150.000000" || !m.Guest || m.Account.Team != "T9" || m.Groups != nil || m.GroupsTold {
		t.Errorf("a press of a stranger is read as %+v", m)
	}
}

// A form comes back with its fields, and with the place that it was opened from.
func TestForm(t *testing.T) {
	f := bot.Form{Press: bot.Press{Action: bot.DoWeigh, Batch: 42, Revision: 3}, Title: "Weighed in: what stood on the scale?", Send: "note it", Lines: []string{"8.0 g no. 1 cure"},
		Fields: []bot.Field{{Name: "cure", Label: "no. 1 cure", Hint: "like 8.0 g", Value: "8.0 g <x>"}, {Name: "jar", Label: "jar", Optional: true}}}
	v, err := view(f, bot.Place{Channel: "C1", Thread: "100.000001"})
	if err != nil {
		t.Fatal(err)
	}
	got, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/form.json", append(got, '\n'))
	sent := callback(t, `{"type":"view_submission","team":{"id":"T1"},"user":{"id":"UANA","team_id":"T1"},"view":{"id":"V1","callback_id":"salthand.form",
		"private_metadata":`+string(mustJSON(t, v.PrivateMetadata))+`,"state":{"values":{"cure":{"value":{"type":"plain_text_input","value":"8.1 g"}},"jar":{"value":{"type":"plain_text_input","value":null}}}}}}`)
	m, ok := here.filled(sent)
	want := with(ana("view/V1", bot.Filled, ""), func(m *bot.Message) {
		m.Press, m.Fields, m.At = &f.Press, map[string]string{"cure": "8.1 g", "jar": ""}, time.Time{}
	})
	if d := cmp.Diff(want, m); !ok || d != "" {
		t.Errorf("%v %s", ok, d)
	}
	sent.View.CallbackID = "other"
	if _, ok := here.filled(sent); ok {
		t.Error("a form of another app is taken")
	}
}

// The acknowledgement of a form stays small, however much is said: from 20,480 bytes on Slack
// closes the socket. Source: slack-go/slack issue 1196.
func TestWrongFieldsStaySmall(t *testing.T) {
	fields := map[string]string{}
	for _, name := range []string{"cure", "salt", "jar", "water"} {
		fields[name] = string(make([]byte, 30_000)) + "ñ<"
	}
	fields["sugar"] = " "
	b := mustJSON(t, wrong(fields))
	if len(b) >= 20_480 || len(b) < 100 {
		t.Errorf("%d bytes", len(b))
	}
}

func mustJSON(t testing.TB, v any) []byte {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
