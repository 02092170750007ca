package bot

import (
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// roleNames are the roles as cards say them.
var roleNames = map[string]string{roleChef: msg("chef"), roleSecond: msg("second"), "cook": msg("plain cook")}

// ofPeople takes a command about people.
func (t *turn) ofPeople(c grammar.Command) error {
	if done, err := t.ofGroup(c); done || err != nil {
		return err
	}
	switch c := c.(type) {
	case grammar.GiveRole:
		return t.giveRole(c)
	case grammar.TakeRole:
		return t.takeRole(c)
	case grammar.MyName:
		return t.rename(c.Name)
	case grammar.Join:
		return t.giveCode(c)
	}
	return t.people()
}

// personMeant is who a command names: by a mention, else by a name that one person here has.
// On the terminal a name that nobody has yet makes a person. ok is false where nobody was
// found: then it is said.
func (t *turn) personMeant(who string) (p store.Person, ok bool, err error) {
	l := t.theirs
	if a, mentioned := t.m.Mentions[who]; mentioned {
		p, ok, err = t.tx.PersonOf(t.kitchen.ID, a.String())
		if err != nil || ok {
			return p, ok, err
		}
		return t.makeKnown(who, a)
	}
	found, err := t.tx.PersonNamed(t.kitchen.ID, who)
	switch {
	case err != nil:
		return p, false, err
	case len(found) == 1:
		return found[0], true, nil
	case len(found) > 1:
		return p, false, t.note(l.say("More than one person here goes by %s.", who), l.say("Name them with a mention."))
	case t.m.Account.Platform == Terminal:
		return t.makeKnown(who, Account{Platform: Terminal, Team: t.m.Account.Team, User: who})
	}
	return p, false, t.note(l.say("Nobody here is known as %s yet.", who), l.say("Let them type one phrase first."))
}

func (t *turn) makeKnown(name string, a Account) (store.Person, bool, error) {
	p := store.Person{ID: personID(a), Name: name, Accounts: []string{a.String()}}
	return p, true, t.append(0, store.PersonJoined{ID: p.ID, Name: p.Name, Account: a.String()})
}

// giveRole names a chef or a second, or makes somebody a cook, who has no other role.
func (t *turn) giveRole(c grammar.GiveRole) error {
	l := t.theirs
	p, ok, err := t.personMeant(c.Who)
	if err != nil || !ok {
		return err
	}
	if c.Role == "cook" {
		if last, err := t.lastChef(p); last || err != nil {
			return err
		}
		for _, role := range slices.Clone(p.Roles) {
			if err := t.append(0, store.RoleTaken{ID: p.ID, Role: role}); err != nil {
				return err
			}
		}
		return t.note(l.say("%s is a cook: asks, notes what is done, holds; approves nothing.", p.Name))
	}
	if _, by := p.RoleBy[c.Role]; p.Has(c.Role) && !by { // what a group gave is given by name now
		return t.note(l.say("%s is that already: %s.", p.Name, rolesOf(l, p)))
	}
	if err := t.append(0, store.RoleGiven{ID: p.ID, Role: c.Role}); err != nil {
		return err
	}
	if c.Role == roleSecond {
		return t.note(l.say("%s is a second now: may approve what a chef asked, nothing else.", p.Name))
	}
	return t.note(l.say("%s is a chef now, and may approve what others ask for.", p.Name))
}

func (t *turn) takeRole(c grammar.TakeRole) error {
	l := t.theirs
	p, ok, err := t.personMeant(c.Who)
	if err != nil || !ok {
		return err
	}
	if !p.Has(c.Role) {
		return t.note(l.say("%s is not that: %s.", p.Name, rolesOf(l, p)))
	}
	if c.Role == roleChef {
		if last, err := t.lastChef(p); last || err != nil {
			return err
		}
	}
	if err := t.append(0, store.RoleTaken{ID: p.ID, Role: c.Role}); err != nil {
		return err
	}
	return t.note(l.say("%s is no longer %s. What was approved stays as it is in the record.", p.Name, l.say(roleNames[c.Role])))
}

// lastChef answers that a kitchen keeps a chef; false: there is another.
func (t *turn) lastChef(p store.Person) (bool, error) {
	chefs, err := chefsOf(t.tx, t.kitchen.ID)
	if err != nil || !p.Has(roleChef) || len(chefs) > 1 {
		return false, err
	}
	return true, t.note(t.theirs.say("%s is the last chef here: a kitchen keeps one.", p.Name), t.theirs.say("Name another first:  chef @name ."))
}

// chefsOf are the people of a kitchen with the chef role.
func chefsOf(tx *store.Tx, kitchen string) (chefs []store.Person, err error) {
	people, err := tx.People(kitchen)
	for _, p := range people {
		if p.Has(roleChef) {
			chefs = append(chefs, p)
		}
	}
	return chefs, err
}

// rename changes what a person is called. Names are for telling people apart.
func (t *turn) rename(name string) error {
	l := t.theirs
	found, err := t.tx.PersonNamed(t.kitchen.ID, name)
	if err != nil {
		return err
	}
	for _, p := range found {
		if p.ID != t.person.ID {
			return t.note(l.say("%s is somebody else's name here.", p.Name), l.say("Take another, like  my name is %s-2 .", name))
		}
	}
	if name == t.person.Name {
		return t.note(l.say("You are called %s already.", name))
	}
	if err := t.append(0, store.PersonNamed{ID: t.person.ID, Old: t.person.Name, New: name}); err != nil {
		return err
	}
	return t.note(l.say("You are called %s from now on. It was %s.", name, t.person.Name))
}

// people lists who is known here.
func (t *turn) people() error {
	l := t.theirs
	people, err := t.tx.People(t.kitchen.ID)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: l.say("People of %s", t.kitchen.Name), Next: l.say("A chef can type  chef @name ,  second @name ,  cook @name ,  no longer chef @name .")}
	for _, p := range people {
		line := p.Name + ": " + rolesOf(l, p) + ", " + strings.Join(platformsOf(p), ", ")
		card.Lines = append(card.Lines, line+l.say(", since %s", day(l, timeOf(p.Joined), t.zone)))
	}
	card.Lines = append(card.Lines, groupLines(l, t.kitchen)...)
	return t.post(card)
}

// rolesOf are a person's roles in words.
func rolesOf(l tongue, p store.Person) string {
	var names []string
	for _, r := range p.Roles {
		names = append(names, l.say(roleNames[r]))
	}
	if len(names) == 0 {
		return l.say(roleNames["cook"])
	}
	return strings.Join(names, ", ")
}

// platformsOf are where a person has accounts, each once.
func platformsOf(p store.Person) (names []string) {
	for _, a := range p.Accounts {
		if name, _, _ := strings.Cut(a, "/"); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// joinedBy answers a code that was typed, in a kitchen that is known.
func (t *turn) joinedBy() error {
	c, ok, err := t.codeTyped()
	if err != nil || !ok {
		return err
	}
	switch c.For {
	case forChef:
		return t.firstChef()
	case forTeam:
		return t.note(t.theirs.say("This team is of the kitchen %s already. The code is used up.", t.kitchen.Name), t.theirs.say("To join an account, type  join  from the other one."))
	}
	return t.joinAccounts(c)
}

// joinAccounts makes the account that typed a code one of the person to whom it was given.
// Roles go with whoever asked for the code, so that nobody gets one by having another type
// a code: who has a role asks, who has none types.
func (t *turn) joinAccounts(c store.Code) error {
	l := t.theirs
	k, _, err := t.tx.Kitchen(c.Kitchen)
	if err != nil {
		return err
	}
	if k.ID != t.kitchen.ID {
		return t.note(l.say("That code is of the kitchen %s, and this is %s.", k.Name, t.kitchen.Name), l.say("Ask for one in this kitchen:  join ."))
	}
	giver, ok, err := t.tx.Person(k.ID, c.Person)
	if err != nil || !ok {
		return err
	}
	switch {
	case giver.ID == t.person.ID:
		return t.note(l.say("That is the account that the code was given to, or one that is yours already."), l.say("Type  join  for a new one, and type it from your other account."))
	case slices.ContainsFunc(t.person.Roles, func(r string) bool { return !giver.Has(r) }):
		return t.note(l.say("%s is %s here and %s is not: nothing was joined.", t.person.Name, rolesOf(l, t.person), giver.Name),
			l.say("Type  join  from the account that has the role, and the code from the other."))
	}
	gone := t.person
	if err := t.append(0, store.PeopleJoined{ID: giver.ID, From: gone.ID}); err != nil {
		return err
	}
	if t.person, _, err = t.tx.Person(k.ID, giver.ID); err != nil {
		return err
	}
	lines, err := t.ownAfterAll()
	if err != nil {
		return err
	}
	card := noteCard(l.say("Joined: %s and %s are one person here, %s (%s).", gone.Name, giver.Name, giver.Name, rolesOf(l, t.person)),
		l.say("If that was not you, tell a chef now."))
	card.Lines = lines
	return t.post(card)
}

// approvedStates are those of batches that have an approval and have not ended.
var approvedStates = []store.State{store.StateApproved, store.StateWeighed, store.StateChecked, store.StateCuring, store.StateResting,
	store.StateFermenting, store.StateDrying, store.StateSmoking, store.StateCooking, store.StateChilled}

// ownAfterAll looks at the open batches that two who are one have asked and approved: an
// approval on which nothing rests yet is void, and one that was acted on is a chef's to look at.
func (t *turn) ownAfterAll() (lines []string, err error) {
	if t.kitchen.Settings[setOwnApproval] == "on" {
		return nil, nil
	}
	var all []store.Batch // before any changes its state
	for _, state := range approvedStates {
		for q := (store.Query{State: state, Limit: 100}); ; {
			page, more, err := t.tx.Batches(t.kitchen.ID, q)
			if err != nil {
				return nil, err
			}
			all = append(all, page...)
			if q.After = more; more == "" {
				break
			}
		}
	}
	for _, b := range all {
		line, err := t.ownAfter(b)
		if err != nil {
			return lines, err
		}
		if line != "" {
			lines = append(lines, line)
		}
	}
	return lines, nil
}

// ownAfter settles one batch; "": it was not approved by who asked for it.
func (t *turn) ownAfter(b store.Batch) (string, error) {
	if b.Ended != 0 || b.Approval == nil || b.Approval.Own {
		return "", nil
	}
	approver, _, err := t.tx.Person(t.kitchen.ID, b.Approval.By)
	if err != nil || approver.ID != t.person.ID {
		return "", err
	}
	own, err := t.isOwn(b)
	if err != nil || !own {
		return "", err
	}
	why := t.ours.say("asked and approved by accounts of one person")
	if b.State == store.StateApproved {
		return t.theirs.say("batch %d: the approval is void, %s", b.Number, why), t.voidApproval(b.Number, why)
	}
	return t.theirs.say("batch %d: HOLD, %s", b.Number, why), t.append(b.Number, store.Held{Why: why})
}

// same reports whether an id of the records means the person of this turn.
func (t *turn) same(id string) (bool, error) {
	if id == "" || id == t.person.ID {
		return id != "", nil
	}
	p, ok, err := t.tx.Person(t.kitchen.ID, id)
	return ok && p.ID == t.person.ID, err
}

// teamsOf are the teams of a person's accounts, "slack/T1".
func teamsOf(p store.Person) (teams []string) {
	for _, a := range p.Accounts {
		if i := strings.LastIndex(a, "/"); i >= 0 && !slices.Contains(teams, a[:i]) {
			teams = append(teams, a[:i])
		}
	}
	return teams
}

// mayBeOne reports whether two people have no team in common, so that nothing tells that they
// are not one with two accounts.
func mayBeOne(a, b store.Person) bool {
	return !slices.ContainsFunc(teamsOf(a), func(team string) bool { return slices.Contains(teamsOf(b), team) })
}

// names joins the names of people.
func names(people []store.Person) string {
	var all []string
	for _, p := range people {
		all = append(all, p.Name)
	}
	return strings.Join(all, ", ")
}
