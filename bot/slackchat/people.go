package slackchat

import (
	"cmp"
	"context"
	"sync"
	"time"

	"github.com/slack-go/slack"
)

// lookWithin is how long a look-up of a person may take: the event still has to be
// acknowledged.
const lookWithin = 1500 * time.Millisecond

// lookAgain is how long a look-up that failed is not tried again.
const lookAgain = 5 * time.Second

// people remembers what Slack told of people. Somebody is asked about when they first say
// something, never all of a workspace at once.
type people struct {
	chat *Chat
	mu   sync.Mutex
	// known are people by user id.
	known map[string]*known

	groupsMu sync.Mutex
	told     bool                // groups are as Slack told them
	groups   map[string][]string // ids of user groups, by user id
	handles  map[string]string   // what people type after an @ for a group, by its id
	until    time.Time           // when groups are asked for anew
}

// known is one person, asked about by one at a time.
type known struct {
	mu    sync.Mutex
	p     person
	until time.Time // when they are asked about anew; zero: at once
}

// personFor is how long what Slack told of a person is taken for true; a change is told by an
// event before.
const personFor = 24 * time.Hour

// who is what Slack tells of a user; what it does not tell in time is left empty.
func (ps *people) who(ctx context.Context, user string) person {
	ps.mu.Lock()
	k := ps.known[user]
	if k == nil {
		k = &known{}
		ps.known[user] = k
	}
	ps.mu.Unlock()
	k.mu.Lock()
	defer k.mu.Unlock()
	if time.Now().Before(k.until) {
		return k.p
	}
	ctx, cancel := context.WithTimeout(ctx, lookWithin)
	defer cancel()
	u, err := ps.chat.api.GetUserInfoContext(ctx, user)
	if err == nil && u.ID == "" {
		err = errBare
	}
	if err != nil {
		ps.chat.Log.Warn("slack tells nothing of a person", "user", user, "err", ps.chat.clean(err))
		k.until = time.Now().Add(lookAgain)
		return k.p
	}
	k.p, k.until = personOf(*u), time.Now().Add(personFor)
	return k.p
}

// forget asks anew about a person who changed: the event tells less than a look-up.
func (ps *people) forget(user string) {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	delete(ps.known, user)
}

// personOf reads what Slack tells of a user.
func personOf(u slack.User) person {
	return person{
		name: cmp.Or(u.Profile.DisplayName, u.Profile.RealName, u.RealName, u.Name),
		team: u.TeamID, zone: u.TZ, locale: u.Locale,
		guest: u.IsRestricted || u.IsUltraRestricted || u.IsStranger || u.Deleted,
		robot: u.IsBot || u.IsWorkflowBot || u.IsConnectorBot || u.ID == slackItself,
	}
}

// groupsOf are the user groups that a person is in; false: Slack does not tell.
func (ps *people) groupsOf(ctx context.Context, user string) (groups []string, told bool) {
	ps.groupsMu.Lock()
	defer ps.groupsMu.Unlock()
	ps.lookAtGroups(ctx)
	return ps.groups[user], ps.told
}

// handle is what people type after an @ for a group; "" where Slack does not tell.
func (ps *people) handle(ctx context.Context, group string) string {
	ps.groupsMu.Lock()
	defer ps.groupsMu.Unlock()
	ps.lookAtGroups(ctx)
	return ps.handles[group]
}

// lookAtGroups asks for all groups, now and then. The lock is held.
func (ps *people) lookAtGroups(ctx context.Context) {
	if time.Now().Before(ps.until) {
		return
	}
	ctx, cancel := context.WithTimeout(ctx, lookWithin)
	defer cancel()
	all, err := ps.chat.api.GetUserGroupsContext(ctx, slack.GetUserGroupsOptionIncludeUsers(true))
	ps.groups, ps.handles, ps.told = map[string][]string{}, map[string]string{}, err == nil
	if err != nil {
		ps.chat.Log.Warn("slack tells no user groups", "err", ps.chat.clean(err))
		ps.until = time.Now().Add(lookAgain)
		return
	}
	ps.until = time.Now().Add(ps.chat.Remember)
	for _, g := range all {
		if g.DateDelete != 0 {
			continue
		}
		ps.handles[g.ID] = g.Handle
		for _, u := range g.Users {
			ps.groups[u] = append(ps.groups[u], g.ID)
		}
	}
}
