package bot

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// firstAnswer answers in a team that belongs to no kitchen: a code, words of poisoning, and
// otherwise how the team gets a kitchen.
func (t *turn) firstAnswer() error {
	l := t.theirs
	if _, ok := t.reading.phrase.Command.(grammar.Emergency); ok {
		return t.post(emergencyCards(l, l, ""))
	}
	if t.m.Code != nil {
		return t.codeOfStranger()
	}
	return t.note(l.say("This kitchen is not set up yet."), l.say("The chef types to me, in a direct message,  join  and the code that stands where I was started."))
}

// codeOfStranger takes a code from somebody whose team belongs to no kitchen.
func (t *turn) codeOfStranger() error {
	l := t.theirs
	c, ok, err := t.codeTyped()
	if err != nil || !ok {
		return err
	}
	switch c.For {
	case forChef:
		return t.firstChef()
	case forPerson:
		return t.note(l.say("This team belongs to no kitchen yet: an account alone can't be joined. The code is used up."),
			l.say("A chef types  join team  to me where the kitchen is, and the code that I give in a direct message here."))
	}
	k, ok, err := t.tx.Kitchen(c.Kitchen)
	if err != nil || !ok {
		return err
	}
	t.in(k)
	chef, ok, err := t.tx.Person(k.ID, c.Person)
	if err != nil || !ok {
		return err
	}
	t.person = chef
	t.theirs = tongueNamed(chef.Language, t.ours)
	if !chef.Has(roleChef) { // the role was taken since
		return t.note(t.theirs.say(ofKitchen.no), t.theirs.say(ofKitchen.next))
	}
	for _, body := range []store.Body{store.TeamJoined{Team: t.m.Place.team()}, store.PersonJoined{ID: chef.ID, Name: chef.Name, Account: t.m.Account.String()}} {
		if err := t.append(0, body); err != nil {
			return err
		}
	}
	return t.note(t.theirs.say("This team is of the kitchen %s now, and this account is %s's.", k.Name, chef.Name),
		t.theirs.say("In the channel where cures are asked here, type  @salthand cure channel here ."))
}

// firstChef makes whoever typed the code of the start the first chef, and opens the kitchen
// where there is none.
func (t *turn) firstChef() error {
	l := t.theirs
	if !t.m.Direct {
		return t.note(l.say("Others can read this channel: that code is used up."), l.say("Start me anew for another, and type it to me in a direct message."))
	}
	k, open, err := t.tx.Kitchen(homeKitchen)
	if err != nil {
		return err
	}
	if !open {
		k = store.Kitchen{ID: homeKitchen}
	}
	t.kitchen = k
	if chefs, err := chefsOf(t.tx, k.ID); err != nil || len(chefs) > 0 {
		if err != nil {
			return err
		}
		return t.note(l.say("There is a chef already: %s. The code is used up.", names(chefs)), l.say("A chef can type  chef @name ."))
	}
	p, known, err := t.tx.PersonOf(k.ID, t.m.Account.String())
	if err != nil {
		return err
	}
	var bodies []store.Body
	if !open {
		bodies = append(bodies, store.KitchenOpened{Name: "kitchen"}, store.Setting{Key: setTeams, New: t.m.Place.team()},
			store.Setting{Key: setWeighing, New: "on"}, store.Setting{Key: setOwnApproval, New: "off"})
	}
	if !known {
		p = store.Person{ID: personID(t.m.Account), Name: t.m.Name}
		bodies = append(bodies, store.PersonJoined{ID: p.ID, Name: p.Name, Account: t.m.Account.String()})
	}
	t.person = p
	for _, body := range append(bodies, store.RoleGiven{ID: p.ID, Role: roleChef}) {
		if err := t.append(0, body); err != nil {
			return err
		}
	}
	if k, _, err = t.tx.Kitchen(homeKitchen); err != nil {
		return err
	}
	t.in(k)
	t.theirs = l
	if err := t.note(l.say("%s is the chef of this kitchen.", p.Name), l.say("Name others with  chef @name .")); err != nil {
		return err
	}
	return t.askWhatLacks()
}

// askWhatLacks asks a chef for the next thing that a kitchen can't do without: its region, its
// zone, its cure channel. It is silent where nothing lacks.
func (t *turn) askWhatLacks() error {
	k, _, err := t.tx.Kitchen(t.kitchen.ID)
	if err != nil {
		return err
	}
	l := t.theirs
	t.kitchen = k
	var choices []grammar.Choice
	var labels []string
	choose := func(label, phrase string) {
		labels = append(labels, label)
		choices = append(choices, grammar.Choice{Label: label, Phrase: phrase})
	}
	switch {
	case k.Region == "":
		for _, r := range cure.Regions() {
			choose(string(r), grammar.Canonical(grammar.SetRegion{Region: r}))
		}
		return t.ask(Card{Kind: QuestionCard, Title: l.say("Which rules apply?"), Choices: labels, Next: answerWith(l, labels, "")}, choices, "")
	case k.Zone == "":
		zones := slices.Clone(zonesOf[k.Region])
		if _, err := time.LoadLocation(t.m.Zone); err == nil && strings.Contains(t.m.Zone, "/") && !slices.Contains(zones, t.m.Zone) {
			zones = append([]string{t.m.Zone}, zones...) // what the platform tells of the chef
		}
		for _, zone := range zones {
			_, city, _ := strings.Cut(zone, "/")
			choose(strings.ReplaceAll(city, "_", " "), grammar.Canonical(grammar.Zone{Name: zone}))
		}
		card := Card{Kind: QuestionCard, Title: l.say("Which clock do reminders go by?"), Choices: labels, Next: l.say("Type one of these, or one like  zone Europe/Paris .")}
		return t.ask(card, choices, "")
	case k.Settings[setCureChannel] == "":
		return t.note(l.say("In which channel are cures asked?"), l.say("In that channel, type  @salthand cure channel here ."))
	}
	return nil
}

// zonesOf are zones to choose from in a region; any other can be typed.
var zonesOf = map[string][]string{
	"us":    {"America/New_York", "America/Chicago", "America/Denver", "America/Los_Angeles"},
	"ca":    {"America/Toronto", "America/Vancouver", "America/Halifax"},
	"gb":    {"Europe/London"},
	"eu":    {"Europe/Paris", "Europe/Madrid", "Europe/Berlin", "Europe/Athens"},
	"au-nz": {"Australia/Sydney", "Australia/Perth", "Pacific/Auckland"},
	"jp":    {"Asia/Tokyo"},
	"cn":    {"Asia/Shanghai"},
}

// team is the platform and team of a place, as records keep it.
func (p Place) team() string { return p.Platform + "/" + p.Team }

// kitchenHere gives the channel to a kitchen of its own: the one of that name, if the chef is a
// chef there, else a new one.
func (t *turn) kitchenHere(c grammar.KitchenHere) error {
	l, at := t.theirs, t.m.Place.channel()
	if t.m.Direct {
		return t.note(l.say("That is typed in the channel itself."))
	}
	if isCureChannel(t.kitchen, at) || t.tx.KitchenAt("", at.String()) != "" {
		return t.note(l.say("This is a channel of the kitchen %s.", t.kitchen.Name), l.say("Type it in another channel, or  cure channel off  here first."))
	}
	all, err := t.tx.Kitchens()
	if err != nil {
		return err
	}
	from, now := t.kitchen, store.Kitchen{}
	for _, k := range all {
		if strings.EqualFold(k.Name, c.Name) {
			now = k
		}
	}
	var bodies []store.Body
	if now.ID == "" {
		now = store.Kitchen{ID: nextKitchen(all), Name: c.Name}
		bodies = append(bodies, store.KitchenOpened{Name: c.Name, Region: from.Region, Zone: from.Zone, Scratch: from.Scratch})
		for _, key := range []string{setLanguage, setDates, setUnits, setWeighing} {
			if v := from.Settings[key]; v != "" {
				bodies = append(bodies, store.Setting{Key: key, New: v})
			}
		}
		bodies = append(bodies, store.PersonJoined{ID: personID(t.m.Account), Name: t.person.Name, Account: t.m.Account.String()},
			store.RoleGiven{ID: personID(t.m.Account), Role: roleChef})
	} else if p, ok, err := t.tx.PersonOf(now.ID, t.m.Account.String()); err != nil || !ok || !p.Has(roleChef) {
		if err != nil {
			return err
		}
		return t.note(l.say("There is a kitchen %s already, and you are no chef there.", now.Name), l.say("A chef of it can type the same line here."))
	}
	bodies = append(bodies, store.ChannelBound{Channel: at.String()}, store.Setting{Key: setCureChannel, Old: now.Settings[setCureChannel], New: withItem(now.Settings[setCureChannel], at.String())})
	by := t.person.ID
	if p, ok, err := t.tx.PersonOf(now.ID, t.m.Account.String()); err != nil {
		return err
	} else if ok {
		by = p.ID
	}
	for _, body := range bodies {
		_, err := t.tx.Append(store.Event{Kitchen: now.ID, Person: by, Account: t.m.Account.String(), Via: t.m.Via, Entry: t.entry.ID,
			Happened: milli(t.m.At), Noted: t.now, Body: body})
		if err != nil {
			return err
		}
	}
	return t.note(l.say("This channel is of the kitchen %s now: its own batches, people and settings. Region %s, zone %s.", now.Name, cmp.Or(now.Region, from.Region), cmp.Or(now.Zone, from.Zone)),
		l.say("You are its chef. Name others here with  chef @name ."))
}

// nextKitchen is the id of the next kitchen of a store.
func nextKitchen(all []store.Kitchen) string {
	last := 0
	for _, k := range all {
		if n, err := strconv.Atoi(k.ID); err == nil {
			last = max(last, n)
		}
	}
	return strconv.Itoa(last + 1)
}

// cureChannel makes the channel one where phrases are answered without a mention, or ends that.
func (t *turn) cureChannel(on bool) error {
	l, at, list := t.theirs, t.m.Place.channel().String(), t.kitchen.Settings[setCureChannel]
	switch {
	case t.m.Direct:
		return t.note(l.say("That is typed in the channel itself."))
	case on == listed(list, at):
		return t.note(l.say("Nothing changes for this channel."))
	case on:
		if err := t.set(setCureChannel, list, withItem(list, at), l.say("Phrases are answered in this channel from now on, without a mention.")); err != nil {
			return err
		}
		return t.askWhatLacks()
	case t.tx.KitchenAt("", at) != "":
		return t.note(l.say("This channel is all that the kitchen %s has.", t.kitchen.Name))
	}
	rest := slices.DeleteFunc(strings.Split(list, ","), func(one string) bool { return one == at })
	return t.set(setCureChannel, list, strings.Join(rest, ","), l.say("This is no cure channel any more: I answer here when I am named."))
}

// homeChannel makes the channel the one of its platform where approvals, holds and digests go.
func (t *turn) homeChannel() error {
	l, key := t.theirs, setHome+t.m.Place.team()
	if t.m.Direct {
		return t.note(l.say("That is typed in the channel itself."))
	}
	return t.set(key, t.kitchen.Settings[key], t.m.Place.channel().String(), l.say("Requests for approval, holds and the digest are posted in this channel from now on."))
}

// withItem is a list of items with one more.
func withItem(list, item string) string { return strings.TrimPrefix(list+","+item, ",") }

// setUnits takes "units us".
func (t *turn) setUnits(us bool) error {
	l := t.theirs
	if us {
		return t.set(setUnits, t.kitchen.Settings[setUnits], "us", l.say("Dose cards show pounds and ounces of meat beside the kilos. What is weighed stays in grams."))
	}
	return t.set(setUnits, t.kitchen.Settings[setUnits], "metric", l.say("Dose cards show weights in kilos and grams."))
}

// inPounds is the weight of the meat in pounds and ounces, beside the kilos.
func inPounds(l tongue, pieces []cure.Gram) string {
	const ounce = 28.349523125 // g, exact: the international avoirdupois ounce
	var all cure.Gram
	for _, p := range pieces {
		all += p
	}
	tenths := int(math.Round(float64(all) / ounce * 10))
	return l.say("meat: %s is %d lb %s oz", kilos(all), tenths/160, trimmed(float64(tenths%160)/10, 1))
}

// setDefault takes the cure or the salt of phrases that say none. It is kept as its phrase.
func (t *turn) setDefault(c grammar.Default) error {
	l := t.theirs
	key, words := setDefaultCure, l.say("Where a phrase names no cure, it is %s from now on.", grammar.CanonicalIn(string(l), c.Clauses))
	if c.Clauses.Salt.Set() {
		key, words = setDefaultSalt, l.say("Where a phrase says no salt, it is %s in all from now on.", percent(c.Clauses.Salt.Value, 2))
	}
	return t.set(key, t.kitchen.Settings[key], grammar.Canonical(c), words)
}

func (t *turn) noDefault(of string) error {
	key := setDefaultCure
	if of == "salt" {
		key = setDefaultSalt
	}
	return t.set(key, t.kitchen.Settings[key], "", t.theirs.say("There is no default for that any more: what a phrase doesn't say is as usual for the cut and the region."))
}

// defaultsOf are the kitchen's cure and salt for phrases that say none.
func defaultsOf(k store.Kitchen) (d grammar.Dose) {
	for _, key := range []string{setDefaultCure, setDefaultSalt} {
		if k.Settings[key] == "" {
			continue
		}
		p, err := grammar.Parse(k.Settings[key], grammar.Setting{})
		c, ok := p.Command.(grammar.Default)
		if err != nil || !ok {
			continue // it was written by setDefault
		}
		if c.Clauses.Salt.Set() {
			d.Salt = c.Clauses.Salt
		} else {
			d.Kind, d.Nitrite, d.Nitrate = c.Clauses.Kind, c.Clauses.Nitrite, c.Clauses.Nitrate
		}
	}
	return d
}

// approvalTime takes when what waits for approval is reminded of, or passed on.
func (t *turn) approvalTime(c grammar.ApprovalTime) error {
	l, key := t.theirs, setApprovalRemind
	words := l.say("The chefs are reminded of what waits for approval after %s.", span(l, c.After))
	if c.PassedOn {
		key, words = setApprovalPass, l.say("What waits for approval is passed on to another chef after %s.", span(l, c.After))
	}
	if c.After == 0 {
		words = l.say("What waits for approval is no longer reminded of so.")
	}
	return t.set(key, t.kitchen.Settings[key], strconv.Itoa(int(c.After/time.Minute)), words)
}

// settled takes a command of the set-up that has a file of its own here.
func (t *turn) settled(c grammar.Command) error {
	switch c := c.(type) {
	case grammar.KitchenHere:
		return t.kitchenHere(c)
	case grammar.CureChannel:
		return t.cureChannel(c.On)
	case grammar.HomeChannel:
		return t.homeChannel()
	case grammar.Units:
		return t.setUnits(c.US)
	case grammar.Default:
		return t.setDefault(c)
	case grammar.NoDefault:
		return t.noDefault(c.Of)
	case grammar.ApprovalTime:
		return t.approvalTime(c)
	}
	return fmt.Errorf("bot: no turn for %T", c)
}
