package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// modelPerson is a person, kept the plain way.
type modelPerson struct {
	id, name, language, into string
	accounts, roles, also    []string
}

var (
	modelIDs      = []string{ana, ben, "p3", "p4"}
	modelNames    = []string{"Ana", "ANA", "Ben", "Cleo"}
	modelAccounts = []string{"term/ana", "term/ben", "slack/T1/U1", "slack/T1/U2"}
	modelTeams    = []string{"slack/T1", "slack/T2"}
	modelChannels = []string{"slack/T1/C1", "slack/T1/C2"}
)

// modelOfTwo is what peopled makes.
func modelOfTwo() []*modelPerson {
	return []*modelPerson{
		{id: ana, name: "Ana", accounts: []string{"term/ana"}},
		{id: ben, name: "Ben", accounts: []string{"term/ben"}, roles: []string{"chef"}},
	}
}

func (m *model) known(id string) *modelPerson {
	for _, p := range m.people {
		if p.id == id {
			return p
		}
	}
	return nil
}

// means is the person that an id means now.
func (m *model) means(id string) *modelPerson {
	p := m.known(id)
	for p != nil && p.into != "" {
		p = m.known(p.into)
	}
	return p
}

func (m *model) ownerOf(account string) *modelPerson {
	for _, p := range m.people {
		if slices.Contains(p.accounts, account) {
			return p
		}
	}
	return nil
}

// person does something to the people of the kitchen, and to where it is, that may fit or not.
func (m *model) person(t *rapid.T, s *Store) {
	id := rapid.SampledFrom(modelIDs).Draw(t, "id")
	name := rapid.SampledFrom(modelNames).Draw(t, "name")
	p := m.known(id)
	var body Body
	var change func()
	switch rapid.SampledFrom([]string{"join", "join", "role", "take role", "language", "name", "merge", "team", "channel"}).Draw(t, "kind") {
	case "join":
		account := rapid.SampledFrom(modelAccounts).Draw(t, "account")
		body = PersonJoined{ID: id, Name: name, Account: account}
		if m.ownerOf(account) == nil {
			change = func() {
				if p == nil {
					p = &modelPerson{id: id}
					m.people = append(m.people, p)
				}
				p.name, p.accounts = name, append(p.accounts, account)
			}
		}
	case "role":
		body = RoleGiven{ID: id, Role: "second"}
		if p != nil {
			change = func() {
				if !slices.Contains(p.roles, "second") {
					p.roles = append(p.roles, "second")
				}
			}
		}
	case "take role":
		body = RoleTaken{ID: id, Role: "second"}
		if p != nil && slices.Contains(p.roles, "second") {
			change = func() { p.roles = slices.DeleteFunc(p.roles, func(r string) bool { return r == "second" }) }
		}
	case "language":
		body = LanguageChosen{ID: id, New: "es"}
		if p != nil {
			change = func() { p.language = "es" }
		}
	case "name":
		body = PersonNamed{ID: id, New: name}
		if p != nil {
			change = func() { p.name = name }
		}
	case "merge":
		from := m.known(rapid.SampledFrom(modelIDs).Draw(t, "from"))
		b := PeopleJoined{ID: id, From: "nobody"}
		if from != nil {
			b.From = from.id
		}
		body = b
		if p != nil && from != nil && p != from && p.into == "" && from.into == "" {
			change = func() {
				p.accounts, p.also = append(p.accounts, from.accounts...), append(append(p.also, from.id), from.also...)
				*from = modelPerson{id: from.id, name: from.name, language: from.language, into: id}
			}
		}
	case "team":
		team := rapid.SampledFrom(modelTeams).Draw(t, "team")
		body = TeamJoined{Team: team}
		if !m.teams[team] {
			change = func() { m.teams[team] = true }
		}
	case "channel":
		channel := rapid.SampledFrom(modelChannels).Draw(t, "channel")
		body, change = ChannelBound{Channel: channel}, func() { m.channels[channel] = true }
	}
	m.appended(t, s, of(0, ana, m.now, body), change)
}

// appended appends an event that must fit where there is a change, and must be refused where
// there is none; it gives its number.
func (m *model) appended(t *rapid.T, s *Store, e Event, change func()) (seq uint64) {
	err := s.Update(context.Background(), func(tx *Tx) (err error) {
		seq, err = tx.Append(e)
		return err
	})
	var misfit *FoldError
	switch {
	case change == nil && !errors.As(err, &misfit):
		t.Fatalf("%s of batch %d, %+v: got %v, want a misfit", e.Kind(), e.Batch, e.Body, err)
	case change != nil && err != nil:
		t.Fatalf("%s of batch %d, %+v: %v", e.Kind(), e.Batch, e.Body, err)
	case change != nil:
		change()
	}
	return seq
}

// code keeps or drops a one-time code.
func (m *model) code(t *rapid.T, s *Store) {
	name := rapid.SampledFrom([]string{"x", "y"}).Draw(t, "code")
	c := Code{For: name, Until: m.now + Milli(rapid.IntRange(0, 3).Draw(t, "until"))*hour}
	drop := rapid.Bool().Draw(t, "drop")
	err := s.Update(context.Background(), func(tx *Tx) error {
		if drop {
			return tx.DropCode(name)
		}
		return tx.KeepCode(name, c, m.now)
	})
	if err != nil {
		t.Fatal(err)
	}
	if drop {
		delete(m.codes, name)
		return
	}
	for other, old := range m.codes {
		if old.Until <= m.now {
			delete(m.codes, other)
		}
	}
	m.codes[name] = c
}

func plainPerson(p Person) modelPerson {
	return modelPerson{id: p.ID, name: p.Name, language: p.Language, into: p.Into, accounts: p.Accounts, roles: p.Roles, also: p.Also}
}

// samePerson compares a person that was found with one of the model; nil: nobody is to be found.
func samePerson(what string, want *modelPerson, got Person, ok bool, err error) error {
	if err != nil || ok != (want != nil) {
		return fmt.Errorf("%s: found %v (%w), want %v", what, ok, err, want != nil)
	}
	if want == nil {
		return nil
	}
	if d := cmp.Diff(*want, plainPerson(got), cmp.AllowUnexported(modelPerson{}), cmpopts.EquateEmpty()); d != "" {
		return fmt.Errorf("%s (-want +got):\n%s", what, d)
	}
	return nil
}

func (m *model) comparePeople(tx *Tx) error {
	for _, id := range modelIDs {
		p, ok, err := tx.Person(kitchen, id)
		if err := samePerson("person "+id, m.means(id), p, ok, err); err != nil {
			return err
		}
	}
	for _, account := range modelAccounts {
		p, ok, err := tx.PersonOf(kitchen, account)
		if err := samePerson("whose account is "+account, m.ownerOf(account), p, ok, err); err != nil {
			return err
		}
	}
	for _, name := range modelNames {
		var want, got []string
		for _, id := range modelIDs {
			if p := m.known(id); p != nil && strings.EqualFold(p.name, name) && !slices.Contains(want, m.means(id).id) {
				want = append(want, m.means(id).id)
			}
		}
		found, err := tx.PersonNamed(kitchen, name)
		for _, p := range found {
			got = append(got, p.ID)
		}
		if err != nil || !slices.Equal(got, want) {
			return fmt.Errorf("who is called %s: %v (%w), want %v", name, got, err, want)
		}
	}
	for _, team := range modelTeams {
		for _, channel := range modelChannels {
			want := ""
			if m.teams[team] || m.channels[channel] {
				want = kitchen
			}
			if got := tx.KitchenAt(team, channel); got != want {
				return fmt.Errorf("kitchen at %s, %s: %q, want %q", team, channel, got, want)
			}
		}
	}
	for _, name := range []string{"x", "y"} {
		got, ok, err := tx.Code(name)
		want, kept := m.codes[name]
		if d := cmp.Diff(want, got); d != "" || ok != kept || err != nil {
			return fmt.Errorf("code %s: %v (%w) (-want +got):\n%s", name, ok, err, d)
		}
	}
	return nil
}
