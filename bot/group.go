package bot

import (
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// setGroup begins the setting of a group of the platform whose members have a role: "group
// chef slack/T1/S1"; its value is what the group is called.
const setGroup = "group "

func groupKey(role string, a Account) string { return setGroup + role + " " + a.String() }

// groupMeant is the group that a role is given to or taken from; false: a person is.
func (t *turn) groupMeant(who string) (Account, bool) {
	a, ok := t.m.Mentions[who]
	return a, ok && a.Group
}

// groupRole gives a role to a group of the platform, or takes it.
func (t *turn) groupRole(role, name string, a Account, give bool) error {
	l := t.theirs
	if role == "cook" {
		return t.note(l.say("Everybody is a cook: only chef and second are given to a group."))
	}
	key := groupKey(role, a)
	old := t.kitchen.Settings[key]
	switch {
	case give:
		return t.set(key, old, name, l.say("Whoever is in @%s is %s here from their next line on, as long as they are in it.", name, l.say(roleNames[role])))
	case old == "":
		return t.note(l.say("@%s gives no role here.", name))
	}
	return t.set(key, old, "", l.say("Being in @%s makes nobody %s any more.", name, l.say(roleNames[role])))
}

// byGroups brings a person's roles in line with the groups that the platform says they are in.
// A role that was given by name stays, whatever the groups.
func (t *turn) byGroups(p store.Person) (store.Person, error) {
	if !t.m.GroupsTold {
		return p, nil
	}
	changed := false
	for _, role := range []string{roleChef, roleSecond} {
		group := t.groupOf(role)
		had, by := p.RoleBy[role]
		var body store.Body
		switch {
		case group != "" && !p.Has(role):
			body = store.RoleGiven{ID: p.ID, Role: role, By: group}
		case group == "" && by && t.ownGroup(had):
			body = store.RoleTaken{ID: p.ID, Role: role}
		default:
			continue
		}
		if err := t.append(0, body); err != nil {
			return p, err
		}
		changed = true
	}
	if !changed {
		return p, nil
	}
	p, _, err := t.tx.Person(t.kitchen.ID, p.ID)
	return p, err
}

// groupOf is the group by which the account that speaks has a role, as the record names it; "" none.
func (t *turn) groupOf(role string) string {
	for _, id := range t.m.Groups {
		a := Account{Platform: t.m.Account.Platform, Team: t.m.Account.Team, User: id}
		if t.kitchen.Settings[groupKey(role, a)] != "" {
			return a.String()
		}
	}
	return ""
}

// ownGroup reports whether a group is of the team that the account that speaks is in: only of
// those does the message tell.
func (t *turn) ownGroup(group string) bool {
	return strings.HasPrefix(group, Account{Platform: t.m.Account.Platform, Team: t.m.Account.Team}.String())
}

// groupLines are the groups that give roles, for the list of people.
func groupLines(l tongue, k store.Kitchen) (lines []string) {
	for key, name := range k.Settings {
		if rest, ok := strings.CutPrefix(key, setGroup); ok && name != "" {
			role, _, _ := strings.Cut(rest, " ")
			lines = append(lines, l.say("whoever is in @%s: %s", name, l.say(roleNames[role])))
		}
	}
	slices.Sort(lines)
	return lines
}

// ofGroup does a command about a role where it names a group; false: it names a person.
func (t *turn) ofGroup(c grammar.Command) (bool, error) {
	switch c := c.(type) {
	case grammar.GiveRole:
		if a, ok := t.groupMeant(c.Who); ok {
			return true, t.groupRole(c.Role, c.Who, a, true)
		}
	case grammar.TakeRole:
		if a, ok := t.groupMeant(c.Who); ok {
			return true, t.groupRole(c.Role, c.Who, a, false)
		}
	}
	return false, nil
}
