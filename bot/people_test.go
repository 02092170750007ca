package bot

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// platform is a chat of a name of its own.
type platform struct {
	table
	name string
}

func (p *platform) Platform() string { return p.name }

// house is a kitchen on two platforms, "slack" and "discord", that starts without any record.
type house struct {
	*kitchen
	on map[string]*platform
}

func openHouse(t *testing.T) *house {
	t.Helper()
	k := &kitchen{t: t, table: &table{}, now: morning, path: filepath.Join(t.TempDir(), "kitchen.db")}
	h := &house{kitchen: k, on: map[string]*platform{"slack": {name: "slack"}, "discord": {name: "discord"}}}
	k.open()
	k.Chats = append(k.Chats, h.on["slack"], h.on["discord"])
	t.Cleanup(func() {
		differences, err := k.Store.Verify()
		if err != nil || len(differences) > 0 {
			t.Errorf("records differ from their events: %v %v", differences, err)
		}
		k.close()
	})
	return h
}

// line is one thing that somebody says: who, on which platform, in which channel.
func (h *house) line(who, on, channel, text string) Message {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.count++
	h.now = h.now.Add(time.Second)
	m := Message{ID: fmt.Sprint("m", h.count), Name: who, What: Said, Text: text,
		Account: Account{Platform: on, Team: "T-" + on, User: who}, Place: Place{Platform: on, Team: "T-" + on, Channel: channel}}
	if channel == "dm" {
		m.Direct, m.Place.Channel = true, "dm-"+who
	} else {
		m.Place.Thread, m.Top = m.ID, true
	}
	if rest, ok := strings.CutPrefix(text, "@salthand "); ok {
		m.Text, m.Mentioned = rest, true
	}
	return m
}

// tells says a line and gives the newest card of its platform.
func (h *house) tells(who, on, channel, text string) Card {
	h.t.Helper()
	h.deliver(h.line(who, on, channel, text))
	return h.on[on].last()
}

// wants says a line and wants the newest card to say something.
func (h *house) wants(who, on, channel, text, want string) Card {
	h.t.Helper()
	c := h.tells(who, on, channel, text)
	if all := fmt.Sprint(c.Title, c.Lines, c.Next); !strings.Contains(all, want) {
		h.t.Errorf("%s, %q in %s: answered %q, want %q in it", who, text, channel, all, want)
	}
	return c
}

var codeOnCard = regexp.MustCompile(`[0-9A-Z]{3}-[0-9A-Z]{3}-[0-9A-Z]{3}`)

// code asks for a code and takes it off the card.
func (h *house) code(who, on, ask string) string {
	h.t.Helper()
	code := codeOnCard.FindString(h.tells(who, on, "dm", ask).Title)
	if code == "" {
		h.t.Fatalf("%s got no code: %q", who, h.on[on].last().Title)
	}
	return code
}

// setUp makes ana the chef on slack, in the cure channel "cures".
func (h *house) setUp() {
	h.t.Helper()
	code, ok, err := h.ChefCode(h.t.Context())
	if err != nil || !ok {
		h.t.Fatalf("no code for the first chef: %v", err)
	}
	h.tells("ana", "slack", "dm", "join "+code)
	h.tells("ana", "slack", "dm", "us")
	h.tells("ana", "slack", "dm", "zone Europe/Paris")
	h.tells("ana", "slack", "cures", "@salthand cure channel here")
	h.tells("ana", "slack", "cures", "@salthand weighing off")
}

// Accounts of two platforms become one person by a code; what the one asked the other can't
// approve, before or after, and an approval that was given before is void.
func TestJoinedAccounts(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	h.wants("ana", "discord", "dm", "join "+h.code("ana", "slack", "join"), "belongs to no kitchen")
	team := h.code("ana", "slack", "join team")
	h.wants("ana-d", "discord", "dm", "join "+team, "this account is ana's")
	h.tells("ana", "discord", "dm", "hello")
	h.tells("ana-d", "discord", "cured", "@salthand cure channel here")

	// One person already: the chef's two accounts.
	h.tells("ana", "slack", "cures", exampleDose)
	h.wants("ana-d", "discord", "cured", "batch 1: approve", "asked for batch 1 and can't approve it")

	// Two accounts that nobody has joined yet, on two platforms.
	h.tells("ana", "slack", "dm", "chef @ben")
	h.tells("ben", "slack", "cures", exampleDose)
	h.tells("ana", "slack", "dm", "chef @ben")
	h.tells("ben-d", "discord", "cured", "due")
	h.tells("ana", "slack", "dm", "chef @ben-d")
	h.wants("ben-d", "discord", "cured", "batch 2: approve", "neither account is joined")
	h.wants("ben", "slack", "dm", "my name is benjamin", "called benjamin")

	// A second one on slack asks; ben-d approves what she asked only when joined to slack.
	code := h.code("ben", "slack", "join")
	h.wants("ben-d", "discord", "dm", "join "+code, "are one person here")
	h.wants("ben-d", "discord", "cured", "batch 2: approve", "can't approve it")
	h.tells("ana", "slack", "cures", "4 kg belly, dry rub, 7 days")
	h.wants("ben-d", "discord", "cured", "batch 3: approve", "Batch 3 is approved by benjamin")
	h.wants("ben-d", "discord", "dm", "people", "slack, discord")
}

// What was asked and approved by two accounts of one person loses its approval when they are
// joined; what is in the cure by then is held.
func TestApprovedOwnAfterAll(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	h.tells("ben", "slack", "cures", exampleDose)
	h.tells("ben", "slack", "cures", "4 kg belly, dry rub, 7 days")
	h.tells("ben2", "slack", "dm", "due")
	h.tells("ana", "slack", "dm", "chef @ben2")
	h.tells("ben2", "slack", "dm", "batch 1: approve")
	h.tells("ben2", "slack", "dm", "batch 2: approve")
	h.tells("ben", "slack", "cures", "batch 2: start")
	code := h.code("ben2", "slack", "join")
	c := h.wants("ben", "slack", "dm", "join "+code, "are one person here")
	if !slices.ContainsFunc(c.Lines, func(s string) bool { return strings.Contains(s, "batch 1: the approval is void") }) {
		t.Errorf("the card says %q", c.Lines)
	}
	if b := h.batch(1); b.State != store.StateAsked || b.Approval != nil {
		t.Errorf("batch 1 is %s, approval %+v", b.State, b.Approval)
	}
	if b := h.batch(2); b.State != store.StateCuring || !b.Held() {
		t.Errorf("batch 2 is %s, holds %v", b.State, b.Holds)
	}
	h.wants("ben", "slack", "dm", "batch 1: approve", "can't approve it")
}

// A look back by a person finds what each of the accounts did before they were joined.
func TestLookBackByJoinedAccounts(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	h.tells("ben", "slack", "cures", exampleDose)
	h.tells("ben2", "slack", "cures", "4 kg belly, dry rub, 7 days")
	h.tells("ana", "slack", "cures", "5 kg belly, dry rub, 7 days")
	h.wants("ana", "slack", "dm", "who cured what by ben", "newest first: 1")
	code := h.code("ben2", "slack", "join")
	h.wants("ben", "slack", "dm", "join "+code, "are one person here")
	for _, name := range []string{"ben", "ben2"} {
		h.wants("ana", "slack", "dm", "who cured what by "+name, "newest first: 2")
	}
}

// A code can't carry a role to whoever makes a chef type it.
func TestNoRoleByAnothersCode(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	h.tells("eve", "slack", "cures", exampleDose)
	code := h.code("eve", "slack", "join")
	h.wants("ana", "slack", "dm", "join "+code, "nothing was joined")
	h.wants("eve", "slack", "dm", "region eu", "Only a chef")
	h.wants("eve", "slack", "dm", "join team", "Only a chef")
}

// A code is good once, for a quarter of an hour, and for five tries.
func TestCodesEnd(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	h.wants("ana", "slack", "cures", "@salthand join", "for you alone")

	code := h.code("ana", "slack", "join")
	h.wants("ana", "slack", "dm", "join "+code, "that the code was given to")
	h.wants("luis", "slack", "dm", "join "+code, "not good")

	code = h.code("ana", "slack", "join")
	h.wait(codeLives)
	h.wants("luis", "slack", "dm", "join "+code, "not good")

	h.wait(codeLives)
	code = h.code("ana", "slack", "join")
	for i := range wrongAtMost {
		h.wants(fmt.Sprint("guess", i), "slack", "dm", "join "+code[:4]+"000-000", "not good")
	}
	h.wants("luis", "slack", "dm", "join "+code, "not good")

	code = h.code("ana", "slack", "join")
	for range wrongAtMost {
		h.wants("eve", "slack", "dm", "join 000-000-000", "not good")
	}
	h.wants("eve", "slack", "dm", "join "+code, "wrong five times")
	h.wants("mira", "slack", "dm", "join "+code, "are one person here")
}

// No code stands in the file: not while it is good, not after it was used.
func TestCodesAreNotKept(t *testing.T) {
	h := openHouse(t)
	first, _, err := h.ChefCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	h.tells("ana", "slack", "dm", "join "+first)
	code := h.code("ana", "slack", "join")
	inFile := func(code string) bool { return holds(h.path, t, code, strings.ReplaceAll(code, "-", "")) }
	if inFile(first) || inFile(code) {
		t.Error("a code stands in the file while it is good")
	}
	h.tells("luis", "slack", "dm", "join "+code)
	h.tells("luis", "slack", "dm", "join "+code)
	if inFile(code) {
		t.Error("a code stands in the file after it was typed")
	}
	// A card that the platform refuses is kept whole.
	h.on["slack"].fail = func(int, Card) error { return ErrRefused }
	h.tells("ana", "slack", "dm", "join")
	var refused []store.RefusedPost
	err = h.Store.View(func(tx *store.Tx) error {
		refused, err = tx.RefusedPosts(0)
		return err
	})
	if err != nil || len(refused) != 1 {
		t.Fatalf("%d refused cards: %v", len(refused), err)
	}
	var card Card
	if err := json.Unmarshal(refused[0].Card, &card); err != nil {
		t.Fatal(err)
	}
	secret, err := h.secret()
	if err != nil {
		t.Fatal(err)
	}
	if inFile(codeFrom(secret, card.Code)) || !holds(h.path, t, codeMark) {
		t.Error("a refused card is kept with its code, or the test looks in the wrong place")
	}
}

// holds reports whether a file has one of the texts, plain or in base64, in which cards and
// messages stand in it.
func holds(path string, t *testing.T, texts ...string) bool {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range texts {
		if bytes.Contains(data, []byte(text)) {
			return true
		}
		for before := range 3 { // bytes before it in its group of three
			whole := len(text) - (len(text)+before)%3
			coded := base64.StdEncoding.EncodeToString([]byte("abc"[:before] + text[:whole]))
			if bytes.Contains(data, []byte(coded[(before+2)/3*4:])) {
				return true
			}
		}
	}
	return false
}

// A channel with a kitchen of its own: own numbers, own people, own settings.
func TestKitchenOfAChannel(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	h.tells("mira", "slack", "cures", exampleDose)
	h.wants("mira", "slack", "pastry", "@salthand kitchen pastry here", "Only a chef")
	h.wants("ana", "slack", "cures", "@salthand kitchen pastry here", "channel of the kitchen")
	h.wants("ana", "slack", "pastry", "@salthand kitchen pastry here", "of the kitchen pastry now")
	h.wants("ana", "slack", "pastry", "region gb", "Region gb")
	h.wants("mira", "slack", "pastry", exampleDose, "batch 1")
	h.wants("mira", "slack", "cures", exampleDose, "batch 2")
	h.wants("ana", "slack", "pastry", "people", "mira: plain cook")
	for id, region := range map[string]string{homeKitchen: "us", "2": "gb"} {
		err := h.Store.View(func(tx *store.Tx) error {
			k, ok, err := tx.Kitchen(id)
			if !ok || k.Region != region {
				t.Errorf("kitchen %s is %+v", id, k)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	// A thread is found in the kitchen of the place that asks: each counts its batches from 1.
	for _, channel := range []string{"pastry", "cures"} {
		at, ok, err := h.ThreadOf(Place{Platform: "slack", Team: "T-slack", Channel: channel}, 1)
		if err != nil || !ok || at.Channel != channel {
			t.Errorf("batch 1 of %s is talked about at %v (%v, %v)", channel, at, ok, err)
		}
	}
	// The person of two kitchens is two: a role in one is none in the other.
	h.tells("ana", "slack", "pastry", "@salthand chef @mira")
	h.wants("mira", "slack", "cures", "batch 2: decline: x", "not a chef here")
	// A chef of the other kitchen binds a second channel to it.
	h.wants("mira", "slack", "cakes", "@salthand kitchen pastry here", "Only a chef")
	h.wants("ana", "slack", "cakes", "@salthand kitchen pastry here", "of the kitchen pastry now")
	h.wants("ana", "slack", "cakes", "batch 1", "Batch 1: asked")
}

// The last chef stays one; a role that is taken is gone at once.
func TestRolesGoAndCome(t *testing.T) {
	k := openKitchen(t)
	k.say("ana", "second @mira", "")
	k.wantTitle("Nobody here is known as mira")
	k.say("mira", "due", "")
	k.say("ana", "second @mira", "")
	k.wantTitle("mira is a second now")
	k.say("ana", "no longer chef @ben", "")
	k.wantTitle("ben is no longer chef")
	k.say("ben", "region eu", "")
	k.wantTitle("Only a chef changes")
	k.say("ana", "no longer chef @ana", "")
	k.wantTitle("ana is the last chef here")
	k.say("ana", "cook @ana", "")
	k.wantTitle("ana is the last chef here")
	k.say("ana", "cook @mira", "")
	k.wantTitle("mira is a cook")
	k.say("ana", "no longer second @mira", "")
	k.wantTitle("mira is not that: plain cook")
}

// A mention names an account, even one that has said nothing yet.
func TestMention(t *testing.T) {
	k := openKitchen(t)
	m := k.message("ana", "chef @noor", "")
	m.Mentions = map[string]Account{"noor": {Platform: "table", Team: "t", User: "U77"}}
	k.deliver(m)
	k.wantTitle("noor is a chef now")
	k.say("ana", exampleDose, "")
	m = k.message("the new one", "batch 1: approve", "")
	m.Account.User = "U77"
	k.deliver(m)
	k.wantTitle("Batch 1 is approved by noor")
}

// The turns about codes give the same when they run again.
func TestJoinTurnsAreDeterministic(t *testing.T) {
	h := openHouse(t)
	h.setUp()
	code := h.code("ana", "slack", "join")
	for _, m := range []Message{h.line("ana", "slack", "dm", "join"), h.line("luis", "slack", "dm", "join "+code), h.line("eve", "slack", "dm", "join 111-222-333")} {
		if c, ok := grammar.NormalCode(m.Text); ok {
			secret, err := h.secret()
			if err != nil {
				t.Fatal(err)
			}
			m.Text, m.Code = "join", sealed(secret, c)
		}
		h.wantSameTwice(m)
	}
}
