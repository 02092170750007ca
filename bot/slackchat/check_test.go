package slackchat

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"salthand/bot"
	"salthand/bot/fakechat"
)

// listUnder are the items of the list under a key of the manifest.
func listUnder(key string) (items []string) {
	_, rest, _ := strings.Cut(Manifest, " "+key+":\n")
	for line := range strings.Lines(rest) {
		item, ok := strings.CutPrefix(strings.TrimSpace(line), "- ")
		if !ok {
			break
		}
		items = append(items, item)
	}
	return items
}

// The manifest asks for what the code needs and nothing more, and the platform knows all of it.
func TestManifest(t *testing.T) {
	if d := cmp.Diff(slices.Sorted(maps.Keys(needs)), listUnder("bot")); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(events, listUnder("bot_events")); d != "" {
		t.Error(d)
	}
	for _, want := range []string{"socket_mode_enabled: true", "interactivity:\n    is_enabled: true", "messages_tab_read_only_enabled: false", "token_rotation_enabled: false"} {
		if !strings.Contains(Manifest, want) {
			t.Errorf("the manifest lacks %q", want)
		}
	}
	if strings.Contains(Manifest, "request_url") {
		t.Error("a connection needs no URL")
	}
}

// exercise does everything that the adapter does, in each kind of channel.
func exercise(t *testing.T, set fakechat.SlackSettings) *shop {
	t.Helper()
	s := openShop(t, set)
	kinds := map[string]string{"public": s.cure, "im": s.slack.Direct(s.ana),
		"private": s.slack.AddChannel(fakechat.SlackChannel{Name: "inner", Kind: fakechat.SlackPrivate, Members: []string{s.ana, fakechat.SlackBot}}),
		"mpim":    s.slack.AddChannel(fakechat.SlackChannel{Name: "few", Kind: fakechat.SlackMPIM, Members: []string{s.ana, s.luis, fakechat.SlackBot}})}
	s.receive = func(ctx context.Context, m bot.Message) (bot.Reply, error) {
		for _, f := range m.Files {
			if in, err := f.Fetch(ctx); err == nil {
				var b [1]byte
				in.Read(b[:])
				in.Close()
			}
		}
		return bot.Reply{}, nil
	}
	s.run().connected()
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		channel := kinds[kind]
		s.slack.Share(s.ana, channel, "", "in "+kind, fakechat.SlackFile{Name: "a.jpg", Bytes: []byte("a picture")})
		at := bot.Place{Platform: Platform, Team: fakechat.SlackTeam, Channel: channel}
		c := note("op"+kind, "a card")
		c.Files = []bot.File{{Name: "a.pdf", Bytes: []byte("%PDF")}}
		_, err := s.post(bot.Posting{At: at, Card: c, Doubtful: true, Queued: time.Now()})
		if err != nil {
			fmt.Fprintln(s.log, err)
		}
		s.chat.Check(t.Context(), []string{channel})
	}
	s.taken()
	return s
}

// With the scopes and events of the manifest all works, and without any one of them something
// does not.
func TestScopesAreThoseThatAreNeeded(t *testing.T) {
	scopes := listUnder("bot")
	s := exercise(t, fakechat.SlackSettings{Scopes: scopes, Events: events})
	s.noProblems()
	if len(s.all()) != 4 {
		t.Errorf("the bot was given %q", s.texts())
	}
	for i, scope := range scopes {
		s := exercise(t, fakechat.SlackSettings{Scopes: slices.Delete(slices.Clone(scopes), i, i+1), Events: events})
		if len(s.slack.Problems()) == 0 && len(s.all()) == 4 {
			t.Errorf("nothing is amiss without %s", scope)
		}
	}
	for i, event := range events[:4] {
		s := exercise(t, fakechat.SlackSettings{Scopes: scopes, Events: slices.Delete(slices.Clone(events), i, i+1)})
		if len(s.all()) != 3 {
			t.Errorf("without %s the bot was given %q", event, s.texts())
		}
	}
}

// What is wanting is told one by one; what is well is not.
func TestCheck(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{Scopes: slices.DeleteFunc(listUnder("bot"), func(s string) bool { return s == "users:read" }), AppScopes: []string{}})
	apart := s.slack.AddChannel(fakechat.SlackChannel{Name: "apart", Members: []string{s.ana}})
	old := s.slack.AddChannel(fakechat.SlackChannel{Name: "old", Members: []string{s.ana, fakechat.SlackBot}})
	s.slack.Archive(old, s.ana)
	shared := s.slack.AddChannel(fakechat.SlackChannel{Name: "shared", Shared: true, Members: []string{s.ana, fakechat.SlackBot}})
	got := s.chat.Check(t.Context(), []string{s.cure, apart, old, shared, "C0NOWHERE1"})
	var missing []string
	for _, m := range got.Missing {
		missing = append(missing, fmt.Sprintf("%s: %s", m.What, m.Name))
	}
	want := []string{"scope: users:read", "not in the channel: apart", "archived channel: old", "shared channel: shared", "not in the channel: C0NOWHERE1", "app token: "}
	if d := cmp.Diff(want, missing); d != "" || got.Team == "" || got.User == "" || !slices.Equal(got.Events, events) {
		t.Errorf("%+v\n%s", got, d)
	}
	s.slack.Revoke("account_inactive")
	if got := s.chat.Check(t.Context(), nil); len(got.Missing) == 0 {
		t.Errorf("a revoked token: %+v", got)
	}
	if fine := openShop(t, fakechat.SlackSettings{}).chat.Check(t.Context(), nil); len(fine.Missing) != 0 {
		t.Errorf("all is well, yet %+v", fine.Missing)
	}
}

// People: the name that is shown, their zone and language; asked about once each, never all at
// once, and anew when they change.
func TestPeople(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{})
	group := s.slack.AddGroup(fakechat.SlackGroup{Handle: "chefs", Users: []string{s.ana}})
	plain := s.slack.AddPerson(fakechat.SlackPerson{Name: "noor"})
	far := s.slack.AddPerson(fakechat.SlackPerson{Name: "far", Team: "T0OTHER001"})
	guest := s.slack.AddPerson(fakechat.SlackPerson{Name: "gus", Guest: true})
	for _, u := range []string{plain, far, guest} {
		s.slack.Join(u, s.cure)
	}
	s.run().connected()
	for range 3 {
		for _, u := range []string{s.ana, s.luis, plain, far, guest} {
			s.slack.Say(u, s.cure, "", "hi")
		}
	}
	s.taken()
	if n := len(s.slack.Calls("users.info")); n != 5 || len(s.slack.Calls("users.list")) != 0 || len(s.slack.Calls("usergroups.list")) != 1 {
		t.Errorf("%d look-ups, calls %v", n, s.slack.Calls(""))
	}
	for _, m := range s.all() {
		name := map[string]string{s.ana: "Ana", s.luis: "Luis", plain: "noor", far: "far", guest: "gus"}[m.Account.User]
		if m.Name != name || m.Guest != (m.Account.User == far || m.Account.User == guest) || (m.Account.Team == "T0OTHER001") != (m.Account.User == far) ||
			slices.Equal(m.Groups, []string{group}) != (m.Account.User == s.ana) {
			t.Errorf("%s is taken for %+v", m.Account.User, m)
		}
	}
	s.slack.ChangePerson(s.ana, func(p *fakechat.SlackPerson) { p.DisplayName, p.TZ = "Anita", "America/Chicago" })
	s.taken()
	s.slack.Say(s.ana, s.cure, "", "changed")
	s.taken()
	if all := s.all(); all[len(all)-1].Name != "Anita" || all[len(all)-1].Zone != "America/Chicago" {
		t.Errorf("she is still taken for %+v", all[len(all)-1])
	}
}

// Where Slack tells nothing of people, what they say still comes, and it says so of the groups.
func TestPeopleUnknown(t *testing.T) {
	s := openShop(t, fakechat.SlackSettings{}, func(c *Config) { c.Remember = time.Nanosecond })
	s.slack.AddGroup(fakechat.SlackGroup{Handle: "chefs", Users: []string{s.ana}})
	s.run().connected()
	s.slack.Say(s.ana, s.cure, "", "one")
	s.taken()
	s.slack.Break("users.info", -1, fakechat.SlackFault{Bare: true})
	s.slack.Break("usergroups.list", -1, fakechat.SlackFault{Bare: true})
	s.slack.Say(s.luis, s.cure, "", "two")
	s.slack.Say(s.ana, s.cure, "", "three")
	s.taken()
	got := map[string]bot.Message{}
	for _, m := range s.all() {
		got[m.Text] = m
	}
	if got["one"].Groups == nil || got["two"].Name != s.luis || got["two"].Guest || got["three"].Name != "Ana" || got["three"].Groups != nil || got["three"].GroupsTold || !got["one"].GroupsTold {
		t.Errorf("%+v", got)
	}
}
