package store

import "slices"

// Of people, beside PersonJoined and RoleGiven.
type (
	// RoleTaken takes a role away: "chef", "second".
	RoleTaken struct {
		ID   string `json:"id"`
		Role string `json:"role"`
	}
	// PersonNamed changes what a person is called; Old is what it was.
	PersonNamed struct {
		ID  string `json:"id"`
		Old string `json:"old"`
		New string `json:"new"`
	}
	// PeopleJoined makes one person of two: the accounts of From are ID's from now on. From's
	// roles are gone. Events and batches that name From stay as they are, and mean ID.
	PeopleJoined struct {
		ID   string `json:"id"`
		From string `json:"from"`
	}
)

func (RoleTaken) kind() string    { return "role taken" }
func (PersonNamed) kind() string  { return "person named" }
func (PeopleJoined) kind() string { return "people joined" }

func (body RoleTaken) fold(b records, _ *Kitchen, e Event) error {
	p, ok, err := loadPerson(b, e.Kitchen, body.ID)
	if err != nil {
		return err
	}
	i := slices.Index(p.Roles, body.Role)
	if !ok || i < 0 {
		return misfit(e, "", MisfitPerson)
	}
	p.Roles, p.RoleBy = slices.Delete(slices.Clone(p.Roles), i, i+1), without(p.RoleBy, body.Role)
	return savePerson(b, e.Kitchen, p)
}

func (body PersonNamed) fold(b records, _ *Kitchen, e Event) error {
	p, ok, err := loadPerson(b, e.Kitchen, body.ID)
	if err != nil {
		return err
	}
	if !ok || texts(folded(body.New)) != nil {
		return misfit(e, "", MisfitPerson)
	}
	if err := b.del(bucketNames, pair(e.Kitchen, folded(p.Name)).text(p.ID)); err != nil {
		return err
	}
	p.Name = body.New
	if err := b.put(bucketNames, pair(e.Kitchen, folded(p.Name)).text(p.ID), present); err != nil {
		return err
	}
	return savePerson(b, e.Kitchen, p)
}

func (body PeopleJoined) fold(b records, _ *Kitchen, e Event) error {
	p, ok, err := loadPerson(b, e.Kitchen, body.ID)
	if err != nil {
		return err
	}
	from, known, err := loadPerson(b, e.Kitchen, body.From)
	if err != nil {
		return err
	}
	if !ok || !known || body.ID == body.From || p.Into != "" || from.Into != "" {
		return misfit(e, "", MisfitPerson)
	}
	for _, account := range from.Accounts {
		if err := b.put(bucketAccounts, pair(e.Kitchen, account), []byte(p.ID)); err != nil {
			return err
		}
	}
	p.Accounts = append(slices.Clip(p.Accounts), from.Accounts...)
	p.Also = append(append(slices.Clip(p.Also), from.ID), from.Also...)
	from.Into, from.Accounts, from.Roles, from.RoleBy, from.Also = p.ID, nil, nil, nil, nil
	if err := savePerson(b, e.Kitchen, from); err != nil {
		return err
	}
	return savePerson(b, e.Kitchen, p)
}

func savePerson(b records, kitchen string, p Person) error {
	return save(b, bucketPeople, pair(kitchen, p.ID), p)
}

// person is the one that an id means now: whoever the person was joined into, if any.
func person(b reader, kitchen, id string) (Person, bool, error) {
	p, ok, err := loadPerson(b, kitchen, id)
	for err == nil && ok && p.Into != "" { // each join was refused where it would close a ring
		p, ok, err = loadPerson(b, kitchen, p.Into)
	}
	return p, ok, err
}
