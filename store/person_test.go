package store

import (
	"context"
	"errors"
	"slices"
	"testing"
)

// ofKitchenBy is an event of the kitchen.
func ofKitchenBy(who string, at Milli, body Body) Event { return of(0, who, at, body) }

// Two people who turn out to be one: the accounts move, the old id means the new person, and
// nobody is joined twice or into themselves.
func TestPeopleJoined(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s,
		of(1, ben, hour, asked("belly", "c1", day)),
		ofKitchenBy(ana, 2*hour, PeopleJoined{ID: ana, From: ben}))
	err := s.View(func(tx *Tx) error {
		p, ok, err := tx.PersonOf(kitchen, "term/ben")
		if err != nil || !ok || p.ID != ana || !slices.Contains(p.Accounts, "term/ben") {
			t.Errorf("the account is of %+v", p)
		}
		if p, ok, err = tx.Person(kitchen, ben); err != nil || !ok || p.ID != ana {
			t.Errorf("the old id means %+v", p)
		}
		if p.Has("chef") {
			t.Error("a role of the one that was joined is kept")
		}
		people, err := tx.People(kitchen)
		if slices.ContainsFunc(people, func(p Person) bool { return p.ID == ben }) {
			t.Error("the one that was joined is listed")
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, body := range []Body{PeopleJoined{ID: ana, From: ben}, PeopleJoined{ID: ben, From: ana}, PeopleJoined{ID: ana, From: ana}, PeopleJoined{ID: ana, From: "nobody"}} {
		err := s.Update(context.Background(), func(tx *Tx) error {
			_, err := tx.Append(ofKitchenBy(ana, 3*hour, body))
			return err
		})
		var misfit *FoldError
		if !errors.As(err, &misfit) || misfit.Why != MisfitPerson {
			t.Errorf("%+v: %v, want a misfit", body, err)
		}
	}
}

// A name changes, and the old one finds nobody any more; a role that is taken is gone.
func TestPersonNamed(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s,
		ofKitchenBy(ana, hour, RoleGiven{ID: ana, Role: "chef"}),
		ofKitchenBy(ana, hour, RoleTaken{ID: ana, Role: "chef"}),
		ofKitchenBy(ana, hour, PersonNamed{ID: ana, Old: "Ana", New: "Anita"}))
	err := s.View(func(tx *Tx) error {
		found, err := tx.PersonNamed(kitchen, "anita")
		if err != nil || len(found) != 1 || found[0].ID != ana || found[0].Has("chef") {
			t.Errorf("found %+v", found)
		}
		if found, err = tx.PersonNamed(kitchen, "ana"); len(found) != 0 {
			t.Errorf("the old name still finds %+v", found)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A channel that is bound goes before its team; a team has one kitchen.
func TestKitchenAt(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	pastry := Event{Kitchen: "2", Happened: hour, Noted: hour, Body: KitchenOpened{Name: "pastry", Region: "us", Zone: "UTC"}}
	bound := Event{Kitchen: "2", Happened: hour, Noted: hour, Body: ChannelBound{Channel: "x/T/C2"}}
	appended(t, s, ofKitchenBy(ana, hour, TeamJoined{Team: "x/T"}), pastry, bound)
	err := s.View(func(tx *Tx) error {
		for channel, want := range map[string]string{"x/T/C1": kitchen, "x/T/C2": "2"} {
			if got := tx.KitchenAt("x/T", channel); got != want {
				t.Errorf("%s is of kitchen %q, want %q", channel, got, want)
			}
		}
		if got := tx.KitchenAt("x/U", "x/U/C1"); got != "" {
			t.Errorf("a team that nobody joined is of kitchen %q", got)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	err = s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(Event{Kitchen: "2", Happened: hour, Noted: hour, Body: TeamJoined{Team: "x/T"}})
		return err
	})
	var misfit *FoldError
	if !errors.As(err, &misfit) {
		t.Errorf("a team of two kitchens: %v", err)
	}
}

// Codes that are past go when another is kept; the secret is given once.
func TestCodes(t *testing.T) {
	s := opened(t)
	err := s.Update(context.Background(), func(tx *Tx) error {
		if err := errors.Join(tx.KeepSecret([]byte("one")), tx.KeepSecret([]byte("two"))); err != nil {
			return err
		}
		if got := string(tx.Secret()); got != "one" {
			t.Errorf("the secret is %q", got)
		}
		if err := errors.Join(tx.KeepCode("AAA", Code{Until: 10}, 0), tx.KeepCode("BBB", Code{Until: 30}, 20)); err != nil {
			return err
		}
		if _, ok, err := tx.Code("AAA"); ok || err != nil {
			t.Errorf("a code that is past is still there: %v", err)
		}
		if _, ok, err := tx.Code("BBB"); !ok || err != nil {
			t.Errorf("the code is gone: %v", err)
		}
		return tx.DropCode("BBB")
	})
	if err != nil {
		t.Fatal(err)
	}
}
