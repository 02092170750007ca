package fakechat

import (
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/goleak"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// app is a small client of the platform, written from the documentation alone.
type app struct {
	t    *testing.T
	s    *Slack
	http *http.Client
	// The kitchen that most tests play in.
	ana, luis, cure string
}

func newApp(t *testing.T, set SlackSettings) *app {
	t.Helper()
	if set.AckWithin == 0 {
		set.AckWithin = time.Minute // so that a busy machine is never late
	}
	s, err := StartSlack(set)
	if err != nil {
		t.Fatal(err)
	}
	transport := &http.Transport{}
	t.Cleanup(func() {
		transport.CloseIdleConnections()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	a := &app{t: t, s: s, http: &http.Client{Transport: transport, Timeout: 10 * time.Second}}
	a.ana = s.AddPerson(SlackPerson{Name: "ana", RealName: "Ana", TZ: "Europe/Madrid", Locale: "es-ES"})
	a.luis = s.AddPerson(SlackPerson{Name: "luis", DisplayName: "Luis"})
	a.cure = s.AddChannel(SlackChannel{Name: "cure", Members: []string{a.ana, a.luis, SlackBot}})
	return a
}

// answer is what a call came to.
type answer struct {
	status int
	header http.Header
	body   string
	json   map[string]any
}

func (r answer) text(keys ...string) string {
	var v any = r.json
	for _, k := range keys {
		m, _ := v.(map[string]any)
		v = m[k]
	}
	text, _ := v.(string)
	return text
}

// call makes a call with the token in the form, as chat methods are called.
func (a *app) call(method string, pairs ...string) answer {
	a.t.Helper()
	form := url.Values{}
	token := a.s.BotToken()
	if method == "apps.connections.open" {
		token = a.s.AppToken()
	}
	form.Set("token", token)
	for i := 0; i < len(pairs); i += 2 {
		form.Set(pairs[i], pairs[i+1])
	}
	return a.send(http.MethodPost, a.s.APIURL()+method, "application/x-www-form-urlencoded", "", form.Encode())
}

func (a *app) send(verb, address, kind, token, body string) answer {
	a.t.Helper()
	got, err := a.try(verb, address, kind, token, body)
	if err != nil {
		a.t.Fatal(err)
	}
	return got
}

func (a *app) try(verb, address, kind, token, body string) (answer, error) {
	req, err := http.NewRequestWithContext(a.t.Context(), verb, address, strings.NewReader(body))
	if err != nil {
		return answer{}, err
	}
	if kind != "" {
		req.Header.Set("Content-Type", kind)
	}
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	resp, err := a.http.Do(req)
	if err != nil {
		return answer{}, err
	}
	defer resp.Body.Close()
	raw, err := io.ReadAll(resp.Body)
	got := answer{status: resp.StatusCode, header: resp.Header, body: string(raw)}
	// A broken answer leaves the map empty: the tests of it look at the body.
	_ = json.Unmarshal(raw, &got.json)
	return got, err
}

// must fails the test unless the call succeeded.
func (a *app) must(method string, pairs ...string) answer {
	a.t.Helper()
	got := a.call(method, pairs...)
	if got.json["ok"] != true {
		a.t.Fatalf("%s: %s", method, got.body)
	}
	return got
}

// refused fails the test unless the call was refused with this error.
func (a *app) refused(code, method string, pairs ...string) answer {
	a.t.Helper()
	got := a.call(method, pairs...)
	if got.json["ok"] != false || got.json["error"] != code {
		a.t.Errorf("%s %.100q: got %.300s, want %s", method, pairs, got.body, code)
	}
	return got
}

// line is one connection of Socket Mode.
type line struct {
	t    *testing.T
	conn *websocket.Conn
}

// envelopeIn is an envelope as a client reads it.
type envelopeIn struct {
	ID      string `json:"envelope_id"`
	Type    string `json:"type"`
	Reason  string `json:"reason"`
	Attempt int    `json:"retry_attempt"`
	Why     string `json:"retry_reason"`
	Payload struct {
		Type    string          `json:"type"`
		EventID string          `json:"event_id"`
		Trigger string          `json:"trigger_id"`
		Reply   string          `json:"response_url"`
		Event   map[string]any  `json:"event"`
		Actions []any           `json:"actions"`
		Contain map[string]any  `json:"container"`
		View    json.RawMessage `json:"view"`
		Shared  bool            `json:"is_ext_shared_channel"`
		Text    string          `json:"text"`
	} `json:"payload"`
}

func (e envelopeIn) inner(key string) string {
	text, _ := e.Payload.Event[key].(string)
	return text
}

// dial opens a connection and takes the greeting.
func (a *app) dial() *line {
	a.t.Helper()
	l := a.dialRaw()
	if hello := l.next(); hello.Type != "hello" {
		a.t.Fatalf("the first frame is %+v", hello)
	}
	return l
}

func (a *app) dialRaw() *line {
	a.t.Helper()
	link := a.must("apps.connections.open").text("url")
	conn, resp, err := websocket.DefaultDialer.DialContext(a.t.Context(), link, http.Header{"Origin": {"https://api.slack.com"}})
	if err != nil {
		a.t.Fatal(err)
	}
	_ = resp.Body.Close()
	a.t.Cleanup(func() { _ = conn.Close() })
	return &line{t: a.t, conn: conn}
}

func (l *line) read() (envelopeIn, error) {
	_ = l.conn.SetReadDeadline(time.Now().Add(10 * time.Second))
	var e envelopeIn
	_, data, err := l.conn.ReadMessage()
	if err == nil {
		// What can't be decoded keeps the fields that can.
		_ = json.Unmarshal(data, &e)
	}
	return e, err
}

func (l *line) next() envelopeIn {
	l.t.Helper()
	e, err := l.read()
	if err != nil {
		l.t.Fatal(err)
	}
	return e
}

// closed reads until the connection ends, and returns why.
func (l *line) closed() error {
	for {
		if _, err := l.read(); err != nil {
			return err
		}
	}
}

func (l *line) ack(id string, payload any) {
	l.t.Helper()
	frame := map[string]any{"envelope_id": id}
	if payload != nil {
		frame["payload"] = payload
	}
	if err := l.conn.WriteJSON(frame); err != nil {
		l.t.Fatal(err)
	}
}

// take reads an envelope of an event and acknowledges it.
func (l *line) take() envelopeIn {
	l.t.Helper()
	e := l.next()
	l.ack(e.ID, nil)
	return e
}

func (a *app) until(done func() bool) {
	a.t.Helper()
	ctx, cancel := context.WithTimeout(a.t.Context(), 10*time.Second)
	defer cancel()
	if err := a.s.Until(ctx, done); err != nil {
		a.t.Fatal(err)
	}
}

// problems are the codes of what the fake found fault with.
func (a *app) problems() []string {
	var codes []string
	for _, p := range a.s.Problems() {
		codes = append(codes, p.Code)
	}
	return codes
}

// One round of the main job: a phrase, its acknowledgement, a card in the thread with a
// button, the press, the card changed in place.
func TestSlackRound(t *testing.T) {
	a := newApp(t, SlackSettings{})
	l := a.dial()
	ts := a.s.Mention(a.ana, a.cure, "", "3.2 kg belly < 4 cm & dry rub")
	e := l.take()
	if got, want := e.inner("text"), "<@"+SlackBot+"> 3.2 kg belly &lt; 4 cm &amp; dry rub"; got != want || e.inner("ts") != ts || e.inner("channel_type") != "channel" {
		t.Errorf("the event is %v", e.Payload.Event)
	}
	if m := l.take(); m.inner("type") != "app_mention" || m.Payload.EventID == e.Payload.EventID || m.inner("ts") != ts {
		t.Errorf("the mention is %v", m.Payload)
	}
	posted := a.must("chat.postMessage", "channel", a.cure, "thread_ts", ts, "text", "8.0 g no 1", "blocks",
		`[{"type":"section","text":{"type":"mrkdwn","text":"*8.0 g* no 1"}},{"type":"actions","elements":[{"type":"button","action_id":"approve","text":{"type":"plain_text","text":"Approve"},"value":"42.1"}]}]`,
		"metadata", `{"event_type":"card","event_payload":{"op":"x1"}}`, "unfurl_links", "false")
	card := posted.text("ts")
	if own := l.take(); own.inner("bot_id") != SlackBotID || own.inner("user") != SlackBot || own.inner("thread_ts") != ts {
		t.Errorf("the own post came back as %v", own.Payload.Event)
	}
	pressed := make(chan error, 1)
	go func() { pressed <- a.s.Press(a.luis, a.cure, card, "Approve") }()
	click := l.take()
	if err := <-pressed; err != nil {
		t.Fatal(err)
	}
	if click.Payload.Type != "block_actions" || click.Payload.Contain["message_ts"] != card || click.Payload.Contain["thread_ts"] != ts {
		t.Errorf("the click is %+v", click.Payload)
	}
	a.must("chat.update", "channel", a.cure, "ts", card, "text", "approved by Luis", "blocks", "[]")
	got := a.s.Thread(a.cure, ts)
	if len(got) != 2 || got[1].Text != "approved by Luis" || len(got[1].Revisions) != 2 || got[1].Meta.Payload["op"] != "x1" || *got[1].Unfurl {
		t.Errorf("the thread is %+v", got)
	}
	if p := a.s.Problems(); len(p) > 0 {
		t.Errorf("problems: %v", p)
	}
}
