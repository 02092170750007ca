package fakechat

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
)

// Each kind of wrong token gets the error that the platform gives for it.
// Source: docs.slack.dev/reference/methods/auth.test, errors.
func TestSlackTokens(t *testing.T) {
	a := newApp(t, SlackSettings{Scopes: []string{"chat:write", "channels:read"}})
	post := func(method, token string) answer {
		form := url.Values{"channel": {a.cure}, "text": {"t"}}
		return a.send(http.MethodPost, a.s.APIURL()+method, "application/x-www-form-urlencoded", token, form.Encode())
	}
	for _, c := range []struct{ method, token, want string }{
		{"chat.postMessage", "", "not_authed"},
		{"chat.postMessage", "xoxb-another", "invalid_auth"},
		{"chat.postMessage", a.s.AppToken(), "not_allowed_token_type"},
		{"apps.connections.open", a.s.BotToken(), "not_allowed_token_type"},
		{"chat.postMessage", a.s.BotToken(), ""},
		{"users.info", a.s.BotToken(), "missing_scope"},
		{"kettle.boil", a.s.BotToken(), "unknown_method"},
	} {
		if got := post(c.method, c.token); got.text("error") != c.want {
			t.Errorf("%s with %q: %s", c.method, c.token, got.body)
		}
	}
	got := post("users.info", a.s.BotToken())
	if got.text("needed") != "users:read" || got.text("provided") != "chat:write,channels:read" {
		t.Errorf("the missing scope is told as %s", got.body)
	}
	if got.header.Get("X-Oauth-Scopes") != "chat:write,channels:read" || got.header.Get("X-Accepted-Oauth-Scopes") != "users:read" {
		t.Errorf("the scopes in the header are %v", got.header)
	}
	got = a.send(http.MethodGet, a.s.APIURL()+"auth.test?token="+a.s.BotToken(), "", "", "")
	if got.json["ok"] != false {
		t.Errorf("a token in the address of a call is taken: %s", got.body)
	}
	a.s.Revoke("token_revoked")
	a.refused("token_revoked", "chat.postMessage", "channel", a.cure, "text", "t")
	a.s.Revoke("")
	if got := a.must("auth.test"); got.text("user_id") != SlackBot || got.text("bot_id") != SlackBotID || got.text("team_id") != SlackTeam {
		t.Errorf("auth.test: %s", got.body)
	}
	for _, c := range a.s.Calls("") {
		if strings.Contains(strings.Join(slices.Collect(maps.Values(c.Args)), " "), a.s.BotToken()) {
			t.Errorf("the record of %s holds the token", c.Method)
		}
	}
}

func TestSlackJSONCalls(t *testing.T) {
	a := newApp(t, SlackSettings{})
	call := func(body string) answer {
		return a.send(http.MethodPost, a.s.APIURL()+"chat.postMessage", "application/json; charset=utf-8", a.s.BotToken(), body)
	}
	if got := call(`{"channel":"` + a.cure + `","text":"8.0 g","blocks":[{"type":"divider"}],"unfurl_links":false}`); got.json["ok"] != true {
		t.Error(got.body)
	}
	if got := call(`{"channel":`); got.text("error") != "invalid_json" {
		t.Error(got.body)
	}
	c := a.s.Calls("chat.postMessage")[0]
	if !c.JSON || c.Args["blocks"] != `[{"type":"divider"}]` || c.Args["unfurl_links"] != "false" || c.Status != http.StatusOK {
		t.Errorf("the call is noted as %+v", c)
	}
	// The platform reads the first of two, and nobody says so.
	form := url.Values{"token": {a.s.BotToken()}, "channel": {a.cure}, "text": {"one", "two"}}
	got := a.send(http.MethodPost, a.s.APIURL()+"chat.postMessage", "application/x-www-form-urlencoded", "", form.Encode())
	if got.text("message", "text") != "one" || !slices.Contains(a.problems(), "argument_twice") {
		t.Errorf("%s, problems %v", got.body, a.problems())
	}
}

// Where the app may not post. Source: docs.slack.dev/reference/methods/chat.postMessage and
// chat.postEphemeral, errors.
func TestSlackPlaces(t *testing.T) {
	a := newApp(t, SlackSettings{})
	outside := a.s.AddChannel(SlackChannel{Name: "menu", Members: []string{a.ana}})
	secret := a.s.AddChannel(SlackChannel{Name: "owners", Kind: SlackPrivate, Members: []string{a.ana}})
	gone := a.s.AddPerson(SlackPerson{Name: "pia", Deleted: true})
	a.refused("channel_not_found", "chat.postMessage", "channel", "C404", "text", "t")
	a.refused("channel_not_found", "chat.postMessage", "channel", secret, "text", "t")
	a.refused("not_in_channel", "chat.postMessage", "channel", outside, "text", "t")
	a.must("conversations.join", "channel", outside)
	a.must("chat.postMessage", "channel", outside, "text", "t")
	a.refused("channel_not_found", "conversations.join", "channel", secret)
	a.refused("method_not_supported_for_channel_type", "conversations.join", "channel", a.s.Direct(a.ana))
	if got := a.must("chat.postMessage", "channel", a.luis, "text", "t"); got.text("channel") != a.s.Direct(a.luis) {
		t.Errorf("a post to a user went to %s", got.text("channel"))
	}
	a.refused("user_not_in_channel", "chat.postEphemeral", "channel", outside, "user", a.luis, "text", "t")
	a.refused("user_not_in_channel", "chat.postEphemeral", "channel", a.cure, "user", gone, "text", "t")
	a.must("chat.postEphemeral", "channel", a.cure, "user", a.luis, "text", "psst")
	if e := a.s.Ephemerals(); len(e) != 1 || e[0].User != a.luis || e[0].Text != "psst" {
		t.Errorf("ephemerals: %+v", e)
	}
	a.s.Archive(outside, a.ana)
	a.refused("is_archived", "chat.postMessage", "channel", outside, "text", "t")
	a.s.Leave(SlackBot, a.cure)
	a.refused("not_in_channel", "chat.postMessage", "channel", a.cure, "text", "t")
	a.refused("not_in_channel", "conversations.history", "channel", a.cure)
}

func TestSlackThreadRules(t *testing.T) {
	a := newApp(t, SlackSettings{})
	root := a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	reply := a.must("chat.postMessage", "channel", a.cure, "thread_ts", root, "text", "8.0 g").text("ts")
	a.refused("invalid_thread_ts", "chat.postMessage", "channel", a.cure, "thread_ts", "soon", "text", "t")
	stray := a.must("chat.postMessage", "channel", a.cure, "thread_ts", "1600000000.000001", "text", "t")
	if stray.text("message", "thread_ts") != "" {
		t.Errorf("a reply to nothing hangs in a thread: %s", stray.body)
	}
	nested := a.must("chat.postMessage", "channel", a.cure, "thread_ts", reply, "text", "t")
	if nested.text("message", "thread_ts") != root {
		t.Errorf("a reply to a reply: %s", nested.body)
	}
	if got, want := a.problems(), []string{"thread_unknown", "thread_of_a_reply"}; !slices.Equal(got[1:], want) {
		t.Errorf("problems %v", got)
	}
	a.must("chat.postEphemeral", "channel", a.cure, "user", a.ana, "thread_ts", stray.text("ts"), "text", "t")
	if got := a.problems(); got[len(got)-1] != "thread_not_open" {
		t.Errorf("problems %v", got)
	}
}

// Only own messages can be changed. Leaving blocks out keeps them, an empty list clears them.
// Source: docs.slack.dev/reference/methods/chat.update.
func TestSlackUpdate(t *testing.T) {
	a := newApp(t, SlackSettings{})
	theirs := a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	a.refused("cant_update_message", "chat.update", "channel", a.cure, "ts", theirs, "text", "t")
	a.refused("cant_delete_message", "chat.delete", "channel", a.cure, "ts", theirs)
	a.refused("message_not_found", "chat.update", "channel", a.cure, "ts", "1600000000.000001", "text", "t")
	ts := a.must("chat.postMessage", "channel", a.cure, "text", "one", "blocks", `[{"type":"divider","block_id":"d"}]`).text("ts")
	a.must("chat.update", "channel", a.cure, "ts", ts, "text", "two")
	a.must("chat.update", "channel", a.cure, "ts", ts, "text", "three", "blocks", "[]")
	p, _ := a.s.Post(a.cure, ts)
	var said []string
	for _, r := range p.Revisions {
		said = append(said, r.Text+" "+string(r.Blocks))
	}
	want := []string{`one [{"block_id":"d","type":"divider"}]`, `two [{"block_id":"d","type":"divider"}]`, `three []`}
	if !slices.Equal(said, want) || p.Edited == "" {
		t.Errorf("revisions %q", said)
	}
	a.must("chat.delete", "channel", a.cure, "ts", ts)
	a.refused("message_not_found", "chat.delete", "channel", a.cure, "ts", ts)
	if p, _ := a.s.Post(a.cure, ts); !p.Deleted {
		t.Error("it is still there")
	}
	a.must("chat.postMessage", "channel", a.cure, "text", "", "blocks", `[{"type":"divider"}]`)
	if got := a.problems(); got[len(got)-1] != "no_fallback" {
		t.Errorf("problems %v", got)
	}
}

func TestSlackPeople(t *testing.T) {
	a := newApp(t, SlackSettings{})
	guest := a.s.AddPerson(SlackPerson{Name: "sam", Team: "T0OTHER", Guest: true})
	got := a.must("users.info", "user", a.ana, "include_locale", "true")
	if got.text("user", "tz") != "Europe/Madrid" || got.text("user", "locale") != "es-ES" || got.text("user", "real_name") != "Ana" {
		t.Errorf("ana: %s", got.body)
	}
	if user := a.must("users.info", "user", guest).json["user"].(map[string]any); user["is_stranger"] != true || user["is_restricted"] != true || user["team_id"] != "T0OTHER" {
		t.Errorf("a guest: %v", user)
	}
	if got := a.must("users.info", "user", a.luis); got.text("user", "locale") != "" || got.text("user", "profile", "display_name") != "Luis" {
		t.Errorf("luis: %s", got.body)
	}
	a.refused("user_not_found", "users.info", "user", "U404")
	chefs := a.s.AddGroup(SlackGroup{Handle: "chefs", Name: "Chefs", Users: []string{a.ana}})
	a.s.SetGroup(chefs, a.ana, a.luis)
	if users := a.must("usergroups.users.list", "usergroup", chefs).json["users"].([]any); len(users) != 2 {
		t.Errorf("chefs: %v", users)
	}
	a.refused("no_such_subteam", "usergroups.users.list", "usergroup", "S404")
	if groups := a.must("usergroups.list").json["usergroups"].([]any); len(groups) != 1 {
		t.Errorf("groups: %v", groups)
	}
	if got := a.must("team.info"); got.text("team", "id") != SlackTeam {
		t.Errorf("team: %s", got.body)
	}
	ts := a.s.Say(a.ana, a.cure, "", "3.2 kg belly")
	a.must("reactions.add", "channel", a.cure, "timestamp", ts, "name", "salt")
	a.refused("already_reacted", "reactions.add", "channel", a.cure, "timestamp", ts, "name", "salt")
	a.refused("invalid_name", "reactions.add", "channel", a.cure, "timestamp", ts, "name", "no such:")
	a.refused("message_not_found", "reactions.add", "channel", a.cure, "timestamp", "1600000000.000001", "name", "salt")
	a.must("reactions.remove", "channel", a.cure, "timestamp", ts, "name", "salt")
	a.refused("no_reaction", "reactions.remove", "channel", a.cure, "timestamp", ts, "name", "salt")
	if got := a.must("chat.getPermalink", "channel", a.cure, "message_ts", ts); !strings.HasSuffix(got.text("permalink"), "/"+a.cure+"/p"+strings.ReplaceAll(ts, ".", "")) {
		t.Errorf("permalink: %s", got.body)
	}
	a.refused("message_not_found", "chat.getPermalink", "channel", a.cure, "message_ts", "1600000000.000001")
}
