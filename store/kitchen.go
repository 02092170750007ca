package store

import (
	"maps"
	"slices"
)

// Kitchen is what batches and people belong to.
type Kitchen struct {
	ID       string            `json:"id"`
	Name     string            `json:"name"`
	Region   string            `json:"region"`
	Zone     string            `json:"zone"` // IANA name
	Scratch  bool              `json:"scratch,omitempty"`
	Settings map[string]string `json:"settings,omitempty"` // by Setting.Key, those that were ever set
	Scales   map[string]Scale  `json:"scales,omitempty"`   // by name, those that were ever checked
	Opened   Milli             `json:"opened"`
	Batches  uint64            `json:"batches"`           // the last batch's number; 0: none yet
	Offers   map[string]Offer  `json:"offers,omitempty"`  // hand-overs by the person who is to accept
	Alarms   alarms            `json:"alarms,omitempty"`  // instants by what they are for
	Recipes  string            `json:"recipes,omitempty"` // the names of all that were ever written, one a line
	// Places are the names of all places, one a line.
	Places string `json:"places,omitempty"`
	// Incidents is the last incident's number; 0: none yet.
	Incidents uint64 `json:"incidents,omitempty"`
}

// Person is somebody who acts in one kitchen, with the accounts that are known to be theirs.
type Person struct {
	ID       string            `json:"id"`
	Name     string            `json:"name"`
	Accounts []string          `json:"accounts"`
	Roles    []string          `json:"roles,omitempty"`
	RoleBy   map[string]string `json:"role_by,omitempty"`  // the groups that gave roles, by role; those given by name are not in it
	Language string            `json:"language,omitempty"` // to be answered in; "": none was chosen
	Joined   Milli             `json:"joined"`
	Away     *Away             `json:"away,omitempty"` // nil: here
	Into     string            `json:"into,omitempty"` // the person that this one was found to be; then it has no accounts
	Also     []string          `json:"also,omitempty"` // ids of those who were found to be this one
}

// Has tells whether the person has a role.
func (p Person) Has(role string) bool { return slices.Contains(p.Roles, role) }

// Kitchen gives a kitchen by its id; false: there is none.
func (tx *Tx) Kitchen(id string) (Kitchen, bool, error) { return loadKitchen(tx, id) }

// PersonOf gives the person whose account this is.
func (tx *Tx) PersonOf(kitchen, account string) (Person, bool, error) {
	id := tx.get(bucketAccounts, pair(kitchen, account))
	if id == nil {
		return Person{}, false, nil
	}
	return loadPerson(tx, kitchen, string(id))
}

// Person gives a person by id; for an id that was joined into another, the other.
func (tx *Tx) Person(kitchen, id string) (Person, bool, error) { return person(tx, kitchen, id) }

// PersonNamed gives everybody of that name, whatever its case, by id. A name proves nothing:
// this is for looking back, and for a chef's own words about somebody.
func (tx *Tx) PersonNamed(kitchen, name string) ([]Person, error) {
	var people []Person
	prefix := pair(kitchen, folded(name))
	err := tx.scan(bucketNames, prefix, prefix, func(k key, _ []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		p, ok, err := person(tx, kitchen, r.text())
		if ok && !slices.ContainsFunc(people, func(q Person) bool { return q.ID == p.ID }) {
			people = append(people, p)
		}
		return true, err
	})
	return people, err
}

// People gives everybody of a kitchen, by id, each person once.
func (tx *Tx) People(kitchen string) ([]Person, error) {
	var people []Person
	prefix := key(nil).text(kitchen)
	err := tx.scan(bucketPeople, prefix, prefix, func(_ key, v []byte) (bool, error) {
		var p Person
		if err := decode(v, &p); err != nil {
			return false, err
		}
		if p.Into == "" {
			people = append(people, p)
		}
		return true, nil
	})
	return people, err
}

func pair(a, b string) key { return key(nil).text(a).text(b) }

func loadKitchen(b reader, id string) (Kitchen, bool, error) {
	return load[Kitchen](b, bucketKitchens, key(nil).text(id))
}

func saveKitchen(b records, k Kitchen) error {
	return save(b, bucketKitchens, key(nil).text(k.ID), k)
}

func loadPerson(b reader, kitchen, id string) (Person, bool, error) {
	return load[Person](b, bucketPeople, pair(kitchen, id))
}

func (o KitchenOpened) fold(_ records, k *Kitchen, e Event) error {
	k.ID, k.Name, k.Region, k.Zone, k.Scratch, k.Opened = e.Kitchen, o.Name, o.Region, o.Zone, o.Scratch, e.Happened
	return nil
}

func (s Setting) fold(_ records, k *Kitchen, _ Event) error {
	if k.Settings == nil {
		k.Settings = map[string]string{}
	}
	k.Settings[s.Key] = s.New
	switch s.Key {
	case "region":
		k.Region = s.New
	case "zone":
		k.Zone = s.New
	}
	return nil
}

func (body RoleGiven) fold(b records, _ *Kitchen, e Event) error {
	p, ok, err := loadPerson(b, e.Kitchen, body.ID)
	if err != nil {
		return err
	}
	if !ok || body.Role == "" {
		return misfit(e, "", MisfitPerson)
	}
	if !p.Has(body.Role) {
		p.Roles = append(p.Roles, body.Role)
		if body.By != "" {
			p.RoleBy = maps.Clone(p.RoleBy)
			if p.RoleBy == nil {
				p.RoleBy = map[string]string{}
			}
			p.RoleBy[body.Role] = body.By
		}
	} else if body.By == "" {
		p.RoleBy = without(p.RoleBy, body.Role)
	}
	return save(b, bucketPeople, pair(e.Kitchen, p.ID), p)
}

func (body LanguageChosen) fold(b records, _ *Kitchen, e Event) error {
	p, ok, err := loadPerson(b, e.Kitchen, body.ID)
	if err != nil {
		return err
	}
	if !ok {
		return misfit(e, "", MisfitPerson)
	}
	p.Language = body.New
	return save(b, bucketPeople, pair(e.Kitchen, p.ID), p)
}

// fold makes a person known, or gives a known one a further account.
func (body PersonJoined) fold(b records, _ *Kitchen, e Event) error {
	if err := texts(body.ID, body.Account, folded(body.Name)); err != nil {
		return misfit(e, "", MisfitPerson)
	}
	if owner := b.get(bucketAccounts, pair(e.Kitchen, body.Account)); owner != nil {
		if string(owner) == body.ID {
			return misfit(e, "", MisfitPerson)
		}
		return misfit(e, "", MisfitAccount)
	}
	p, known, err := loadPerson(b, e.Kitchen, body.ID)
	if err != nil {
		return err
	}
	if known {
		if err := b.del(bucketNames, pair(e.Kitchen, folded(p.Name)).text(p.ID)); err != nil {
			return err
		}
	} else {
		p = Person{ID: body.ID, Joined: e.Happened}
	}
	p.Name = body.Name
	p.Accounts = append(p.Accounts, body.Account)
	if err := b.put(bucketAccounts, pair(e.Kitchen, body.Account), []byte(p.ID)); err != nil {
		return err
	}
	if err := b.put(bucketNames, pair(e.Kitchen, folded(p.Name)).text(p.ID), present); err != nil {
		return err
	}
	return save(b, bucketPeople, pair(e.Kitchen, p.ID), p)
}

// without is a map without a key; nil where nothing is left.
func without(m map[string]string, key string) map[string]string {
	if len(m) == 0 {
		return nil
	}
	m = maps.Clone(m)
	if delete(m, key); len(m) == 0 {
		return nil
	}
	return m
}
