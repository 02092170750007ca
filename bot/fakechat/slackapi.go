package fakechat

import (
	"bytes"
	"cmp"
	"encoding/json"
	"io"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
)

// reply is the JSON object of an answer, without its "ok".
type reply map[string]any

// refusal is an answer with "ok":false.
type refusal struct {
	code     string
	messages []string // response_metadata.messages
	needed   string   // with missing_scope
}

func refuse(code string) (reply, *refusal) { return nil, &refusal{code: code} }

// args are the arguments of a call, whichever way they came.
type args map[string]string

func (a args) has(key string) bool { _, ok := a[key]; return ok }

func (a args) is(key string) bool { return a[key] == "true" || a[key] == "1" }

// flag is nil where the argument did not come.
func (a args) flag(key string) *bool {
	if !a.has(key) {
		return nil
	}
	on := a.is(key)
	return &on
}

func (a args) number(key string, usual, most int) int {
	n, err := strconv.Atoi(a[key])
	if err != nil || n <= 0 {
		return usual
	}
	return min(n, most)
}

// slackMethod is one method of the Web API.
type slackMethod struct {
	do     func(*Slack, args) (reply, *refusal)
	scopes []string // any one of them opens the method; what depends on the channel is asked later
	tier   int      // calls a minute; 0: the special tier of posting
	app    bool     // takes the app token
}

// Source of the scopes and tiers: docs.slack.dev/reference/methods, each method's page.
var slackMethods = map[string]slackMethod{
	"auth.test":                    {do: (*Slack).authTest, tier: tier4},
	"apps.connections.open":        {do: (*Slack).openConnection, scopes: []string{"connections:write"}, tier: tier1, app: true},
	"chat.postMessage":             {do: (*Slack).postMessage, scopes: []string{"chat:write"}},
	"chat.postEphemeral":           {do: (*Slack).postEphemeral, scopes: []string{"chat:write"}, tier: tier4},
	"chat.update":                  {do: (*Slack).update, scopes: []string{"chat:write"}, tier: tier3},
	"chat.delete":                  {do: (*Slack).deleteMessage, scopes: []string{"chat:write"}, tier: tier3},
	"chat.getPermalink":            {do: (*Slack).permalink, tier: tier4},
	"conversations.info":           {do: (*Slack).conversationInfo, scopes: readScopes, tier: tier3},
	"conversations.list":           {do: (*Slack).conversationList, scopes: readScopes, tier: tier2},
	"users.conversations":          {do: (*Slack).ownConversations, scopes: readScopes, tier: tier3},
	"conversations.members":        {do: (*Slack).conversationMembers, scopes: readScopes, tier: tier4},
	"conversations.open":           {do: (*Slack).conversationOpen, scopes: []string{"im:write", "mpim:write"}, tier: tier3},
	"conversations.join":           {do: (*Slack).conversationJoin, scopes: []string{"channels:join"}, tier: tier3},
	"conversations.history":        {do: (*Slack).history, scopes: historyScopes, tier: tier3},
	"conversations.replies":        {do: (*Slack).threadReplies, scopes: historyScopes, tier: tier3},
	"users.info":                   {do: (*Slack).userInfo, scopes: []string{"users:read"}, tier: tier4},
	"usergroups.list":              {do: (*Slack).groupList, scopes: []string{"usergroups:read"}, tier: tier2},
	"usergroups.users.list":        {do: (*Slack).groupUsers, scopes: []string{"usergroups:read"}, tier: tier2},
	"team.info":                    {do: (*Slack).teamInfo, scopes: []string{"team:read"}, tier: tier3},
	"reactions.add":                {do: (*Slack).addReaction, scopes: []string{"reactions:write"}, tier: tier3},
	"reactions.remove":             {do: (*Slack).removeReaction, scopes: []string{"reactions:write"}, tier: tier2},
	"files.getUploadURLExternal":   {do: (*Slack).uploadURL, scopes: []string{"files:write"}, tier: tier4},
	"files.completeUploadExternal": {do: (*Slack).completeUpload, scopes: []string{"files:write"}, tier: tier4},
	"files.info":                   {do: (*Slack).fileInfo, scopes: []string{"files:read"}, tier: tier4},
	"views.open":                   {do: (*Slack).openView, tier: tier4},
	"views.push":                   {do: (*Slack).pushView, tier: tier4},
	"views.update":                 {do: (*Slack).updateView, tier: tier4},
}

var (
	readScopes    = []string{"channels:read", "groups:read", "im:read", "mpim:read"}
	historyScopes = []string{"channels:history", "groups:history", "im:history", "mpim:history"}
)

// SlackScopes are all the scopes that anything here asks for.
func SlackScopes() []string {
	return slices.Concat(readScopes, historyScopes, []string{
		"app_mentions:read", "channels:join", "chat:write", "commands", "files:read", "files:write", "im:write", "mpim:write",
		"reactions:read", "reactions:write", "team:read", "usergroups:read", "users:read",
	})
}

func (s *Slack) serveAPI(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/api/")
	a, token, js, bad := readArgs(r)
	s.mu.Lock()
	if s.outage || s.closed {
		s.mu.Unlock()
		hangUp(w)
		return
	}
	fault := s.faultFor(name)
	method, known := slackMethods[name]
	var rep reply
	no := s.admit(name, method, known, a, token, bad)
	if fault.before() {
		no = fault.refusal()
	} else if no == nil && !s.pace(name, method, a["channel"]) {
		fault = s.tooSoon(method)
		no = fault.refusal()
	} else if no == nil {
		rep, no = method.do(s, a)
	}
	call := SlackCall{Method: name, At: s.set.Now(), Args: a, JSON: js, Status: cmp.Or(fault.Status, http.StatusOK), Lost: fault.Lost}
	if no != nil {
		call.Error = no.code
		if !fault.before() {
			s.problem(name, no.code, strings.Join(no.messages, "; "))
		}
	}
	s.calls = append(s.calls, call)
	granted := s.granted(method.app)
	body := answerJSON(rep, no, granted)
	s.touch()
	s.mu.Unlock()

	h := w.Header()
	h.Set("Content-Type", "application/json; charset=utf-8")
	h.Set("X-Oauth-Scopes", granted)
	h.Set("X-Accepted-Oauth-Scopes", strings.Join(method.scopes, ","))
	s.answer(w, r, fault, body)
}

func (s *Slack) granted(app bool) string {
	if app {
		return strings.Join(s.set.AppScopes, ",")
	}
	return strings.Join(s.set.Scopes, ",")
}

func answerJSON(rep reply, no *refusal, granted string) []byte {
	v := map[string]any{"ok": no == nil}
	for key, value := range rep {
		v[key] = value
	}
	if no != nil {
		v["error"] = no.code
		if no.needed != "" {
			v["needed"], v["provided"] = no.needed, granted
		}
		if len(no.messages) > 0 {
			v["response_metadata"] = map[string]any{"messages": no.messages}
		}
	}
	return mustJSON(v)
}

// mustJSON encodes what consists of strings, numbers, maps and lists alone.
func mustJSON(v any) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		panic("fakechat: " + err.Error())
	}
	return bytes.TrimSpace(b.Bytes())
}

// readArgs takes the arguments and the token out of a call. bad is the error for a call that
// can't be read at all.
func readArgs(r *http.Request) (a args, token string, js bool, bad string) {
	a = args{}
	token, _ = strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	body, err := io.ReadAll(io.LimitReader(r.Body, 4<<20))
	if err != nil {
		return a, token, false, "request_timeout"
	}
	kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if kind == "application/json" {
		var fields map[string]json.RawMessage
		if err := json.Unmarshal(body, &fields); err != nil && len(body) > 0 {
			return a, token, true, "invalid_json"
		}
		for key, raw := range fields {
			if string(raw) != "null" { // as good as left out
				a[key] = plain(raw)
			}
		}
		return a, token, true, ""
	}
	form := r.URL.Query()
	if r.Method == http.MethodPost && kind == "multipart/form-data" {
		r.Body = io.NopCloser(bytes.NewReader(body))
		if err := r.ParseMultipartForm(4 << 20); err != nil {
			return a, token, false, "invalid_post_type"
		}
		form = url.Values(r.MultipartForm.Value)
	} else if r.Method == http.MethodPost {
		if form, err = url.ParseQuery(string(body)); err != nil {
			return a, token, false, "invalid_form_data"
		}
		if r.URL.Query().Has("token") {
			bad = "token_in_query"
		}
	} else if form.Has("token") {
		bad = "token_in_query"
	}
	for key, values := range form {
		a[key] = values[0]
		if len(values) > 1 {
			bad = "argument_twice:" + key
		}
	}
	if bad != "token_in_query" && a.has("token") {
		token = a["token"]
	}
	delete(a, "token")
	return a, token, false, bad
}

// plain is a JSON string without its quotes, or any other value as JSON.
func plain(raw json.RawMessage) string {
	var text string
	if json.Unmarshal(raw, &text) == nil {
		return text
	}
	return string(raw)
}

// admit checks all that does not depend on the method's own arguments.
func (s *Slack) admit(name string, m slackMethod, known bool, a args, token, bad string) *refusal {
	switch {
	case !known:
		return &refusal{code: "unknown_method"}
	case strings.HasPrefix(bad, "argument_twice:"):
		s.problem(name, "argument_twice", bad) // the platform reads the first, and says nothing
	case bad == "token_in_query":
		return &refusal{code: "not_allowed_token_type", messages: []string{"a token in the address of a call is refused"}}
	case bad != "":
		return &refusal{code: bad}
	}
	right, scopes := s.set.BotToken, s.set.Scopes
	if m.app {
		right, scopes = s.set.AppToken, s.set.AppScopes
	}
	switch {
	case token == "":
		return &refusal{code: "not_authed"}
	case token != right && (token == s.set.BotToken || token == s.set.AppToken):
		return &refusal{code: "not_allowed_token_type"}
	case token != right:
		return &refusal{code: "invalid_auth"}
	case s.revoked != "":
		return &refusal{code: s.revoked}
	}
	if len(m.scopes) > 0 && !slices.ContainsFunc(m.scopes, func(sc string) bool { return slices.Contains(scopes, sc) }) {
		return &refusal{code: "missing_scope", needed: m.scopes[0]}
	}
	return nil
}

// need refuses where the bot token lacks a scope.
func (s *Slack) need(scope string) *refusal {
	if slices.Contains(s.set.Scopes, scope) {
		return nil
	}
	return &refusal{code: "missing_scope", needed: scope}
}
