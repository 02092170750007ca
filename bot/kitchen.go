package bot

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// The settings of a kitchen, by the key that the record keeps them under.
const (
	setRegion      = "region"
	setZone        = "zone"
	setDates       = "date order" // "day first", "month first"
	setCureScale   = "cure scale" // milligrams
	setWeighing    = "weighing"   // "on", "off"
	setOwnApproval = "own approval"
	setOwnMixes    = "own mixes"     // chefs may mix cures from undiluted nitrite
	setTeams       = "teams"         // platform/team, comma between
	setCureChannel = "cure channels" // Place.String of channels, comma between
	setLanguage    = "language"      // of the cards that others act on
	setSpeaker     = "terminal of "  // and the login: the name that is spoken as there
	setHome        = "home channel " // and the team: where what concerns the whole kitchen is posted
	setUnits       = "units"         // "us", "metric"
	setDefaultCure = "default cure"  // as its phrase
	setDefaultSalt = "default salt"
	// Minutes after which what waits for approval is reminded of, and passed on; "0": never.
	setApprovalRemind = "approval reminder"
	setApprovalPass   = "approval passed on"
	setMeatScale      = "meat scale"     // milligrams
	setSecondReading  = "second reading" // "off" where nobody else reads what was weighed
	setCheckWeight    = "check weight"   // "on" where nothing is weighed in before the day's check
)

// Setup is what a new kitchen is opened with.
type Setup struct {
	Name   string
	Region cure.Region
	Zone   string // IANA name
	// Language is one of Tongues; "" is English.
	Language string
	Chefs    []Chef
	Cure     Place // the first cure channel; its platform and team belong to the kitchen
	Scratch  bool
	Login    string // of the terminal that opens the kitchen; its name is the first chef's
	// OwnApproval lets a chef approve what the same chef asked for; the record says so.
	OwnApproval bool
}

// Chef is somebody who has the chef role from the start.
type Chef struct {
	Name    string
	Account Account
}

// Open opens the kitchen of a new store. It does nothing where one is open.
func (b *Bot) Open(ctx context.Context, s Setup) error {
	if _, err := time.LoadLocation(s.Zone); err != nil {
		return fmt.Errorf("time zone %q: %w", s.Zone, err)
	}
	now := milli(b.Now())
	return b.Store.Update(ctx, func(tx *store.Tx) error {
		if _, open, err := tx.Kitchen(homeKitchen); open || err != nil {
			return err
		}
		bodies := []store.Body{
			store.KitchenOpened{Name: s.Name, Region: string(s.Region), Zone: s.Zone, Scratch: s.Scratch},
			store.Setting{Key: setTeams, New: s.Cure.Platform + "/" + s.Cure.Team},
			store.Setting{Key: setCureChannel, New: s.Cure.channel().String()},
			store.Setting{Key: setWeighing, New: "off"},
			store.Setting{Key: setOwnApproval, New: onOff(s.OwnApproval)},
		}
		if s.Language != "" {
			bodies = append(bodies, store.Setting{Key: setLanguage, New: s.Language})
		}
		if len(s.Chefs) > 0 && s.Login != "" {
			bodies = append(bodies, store.Setting{Key: setSpeaker + s.Login, New: s.Chefs[0].Name})
		}
		for _, c := range s.Chefs {
			bodies = append(bodies,
				store.PersonJoined{ID: personID(c.Account), Name: c.Name, Account: c.Account.String()},
				store.RoleGiven{ID: personID(c.Account), Role: roleChef})
		}
		for _, body := range bodies {
			if _, err := tx.Append(store.Event{Kitchen: homeKitchen, Happened: now, Noted: now, Body: body}); err != nil {
				return err
			}
		}
		return nil
	})
}

// IsOpen reports whether the store has a kitchen.
func (b *Bot) IsOpen() (open bool, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		_, open, err = tx.Kitchen(homeKitchen)
		return err
	})
	return open, err
}

// Speaker is the name that is spoken as at the terminal of a login; "" where none is known.
func (b *Bot) Speaker(login string) (name string, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		k, _, err := tx.Kitchen(homeKitchen)
		name = k.Settings[setSpeaker+login]
		return err
	})
	return name, err
}

// homeKitchen is the id of a store's first kitchen.
const homeKitchen = "1"

// personID is a person's id: the account that made the person known.
func personID(a Account) string { return a.String() }

// kitchenOf is the kitchen that a message belongs to: that of the batches of its thread, else
// the one that its channel is bound to, else that of its team. In a direct message it is the
// one kitchen in which the account is known, where it is not known in the team's.
func kitchenOf(tx *store.Tx, m Message) (k store.Kitchen, ok bool, err error) {
	id := tx.KitchenOf(m.Place.String())
	if id == "" {
		id = tx.KitchenAt(m.Place.team(), m.Place.channel().String())
	}
	if k, ok, err = tx.Kitchen(cmp.Or(id, homeKitchen)); err != nil || !ok {
		return k, false, err
	}
	if id == "" && !listed(k.Settings[setTeams], m.Place.team()) {
		return k, false, nil
	}
	if !m.Direct {
		return k, true, nil
	}
	if _, known, err := tx.PersonOf(k.ID, m.Account.String()); known || err != nil {
		return k, true, err
	}
	all, err := tx.Kitchens()
	for _, other := range all {
		if _, known, err := tx.PersonOf(other.ID, m.Account.String()); known || err != nil {
			return other, true, err
		}
	}
	return k, true, err
}

func isCureChannel(k store.Kitchen, at Place) bool {
	return listed(k.Settings[setCureChannel], at.channel().String())
}

func listed(list, item string) bool {
	for one := range strings.SplitSeq(list, ",") {
		if one == item {
			return true
		}
	}
	return false
}

// settingsOf is what a kitchen says for phrases that don't.
func settingsOf(k store.Kitchen, now store.Milli) Settings {
	s := Settings{Default: defaultsOf(k), Region: cure.Given[cure.Region]{Value: cure.Region(k.Region), Origin: cure.FromKitchen}, Today: time.UnixMilli(int64(now))}
	if mg, err := strconv.ParseInt(k.Settings[setCureScale], 10, 64); err == nil {
		s.CureScale = cure.Given[cure.Gram]{Value: cure.Gram(mg) / 1000, Origin: cure.FromKitchen}
	}
	return s
}

// zoneWritten is the name of a time zone as typed, in the letters that it is known by.
func zoneWritten(name string) string {
	if _, err := time.LoadLocation(name); err == nil {
		return name
	}
	capital := true
	return strings.Map(func(r rune) rune {
		was := capital
		capital = !unicode.IsLetter(r)
		if was {
			return unicode.ToUpper(r)
		}
		return unicode.ToLower(r)
	}, strings.ReplaceAll(strings.TrimSpace(name), " ", "_"))
}

// zones keeps the time zones that were loaded: loading one takes a while.
type zones struct {
	mu     sync.Mutex
	byName map[string]*time.Location
}

// of is a kitchen's time zone; Open and "zone" take only zones that load.
func (z *zones) of(k store.Kitchen) *time.Location {
	z.mu.Lock()
	defer z.mu.Unlock()
	if zone, ok := z.byName[k.Zone]; ok {
		return zone
	}
	zone, err := time.LoadLocation(k.Zone)
	if err != nil {
		return time.UTC
	}
	z.byName[k.Zone] = zone
	return zone
}

// setUp takes a command of the kitchen.
func (t *turn) setUp(c grammar.Command) error {
	if c, ok := c.(grammar.Language); ok && !c.Kitchen {
		return t.speak(c.Code)
	}
	l := t.theirs
	switch c := c.(type) {
	case grammar.SetRegion:
		if !slices.Contains(cure.Regions(), c.Region) {
			return t.note(l.say("There are no rules here for region %s.", c.Region), l.say("There are %s.", regionNames()))
		}
		if err := t.set(setRegion, t.kitchen.Region, string(c.Region), l.say("Region %s: its limits apply to every dose from now on.", c.Region)); err != nil {
			return err
		}
		return t.askWhatLacks()
	case grammar.CureScale:
		return t.set(setCureScale, t.kitchen.Settings[setCureScale], strconv.FormatInt(mg(c.Division), 10), l.say("The cure scale reads to %s.", grams(c.Division, 0)))
	case grammar.Weighing:
		words := l.say("Weighing-in is off.")
		if c.On {
			words = l.say("Weighing-in is on.")
		}
		return t.set(setWeighing, t.kitchen.Settings[setWeighing], onOff(c.On), words)
	case grammar.OwnOK:
		words := l.say("Whoever asks for a dose can't approve it.")
		if c.On {
			words = l.say("A chef may approve what the same chef asked for. The record will say \"approved own\".")
		}
		return t.set(setOwnApproval, t.kitchen.Settings[setOwnApproval], onOff(c.On), words)
	case grammar.OwnMixes:
		words := l.say("No cure is mixed from undiluted nitrite here.")
		if c.On {
			words = l.say("Chefs may mix cures from undiluted nitrite here: weighed on a fine scale, mixed by doubling, labelled NOT FOR SEASONING, locked away.")
		}
		return t.set(setOwnMixes, t.kitchen.Settings[setOwnMixes], onOff(c.On), words)
	case grammar.SetDateOrder:
		words := l.say("The day comes first here: 4/1 is 4 January.")
		if c.Order == grammar.MonthFirst {
			words = l.say("The month comes first here: 4/1 is 1 April.")
		}
		return t.set(setDates, t.kitchen.Settings[setDates], dateOrders[c.Order], words)
	case grammar.Zone:
		c.Name = zoneWritten(c.Name)
		if _, err := time.LoadLocation(c.Name); err != nil {
			return t.note(l.say("There is no time zone %s.", c.Name), l.say("Type one like  zone Europe/Paris  or  zone America/Chicago."))
		}
		if err := t.set(setZone, t.kitchen.Zone, c.Name, l.say("Reminders keep the time of %s.", c.Name)); err != nil {
			return err
		}
		if err := t.hoursChanged(); err != nil {
			return err
		}
		return t.askWhatLacks()
	case grammar.Language:
		old := t.kitchen.Settings[setLanguage]
		t.theirs = tongueNamed(c.Code, english) // the answer shows what it means
		return t.set(setLanguage, old, c.Code, t.theirs.say("Cards for everybody are in English from now on."))
	case grammar.GiveRole, grammar.TakeRole, grammar.MyName, grammar.Join, grammar.People:
		return t.ofPeople(c)
	}
	return t.settled(c)
}

// dateOrders are the orders of a date by their names in the record.
var dateOrders = map[grammar.DateOrder]string{grammar.DayFirst: "day first", grammar.MonthFirst: "month first"}

// settingOf is what the grammar needs to know of a kitchen.
func settingOf(k store.Kitchen, thread bool) grammar.Setting {
	s := grammar.Setting{Thread: thread, Recipes: k.Recipes, Places: k.Places}
	for order, name := range dateOrders {
		if k.Settings[setDates] == name {
			s.Dates = order
		}
	}
	return s
}

// speak answers a person in another language from now on.
func (t *turn) speak(code string) error {
	if err := t.append(0, store.LanguageChosen{ID: t.person.ID, Old: t.person.Language, New: code}); err != nil {
		return err
	}
	t.theirs = tongueNamed(code, english)
	return t.note(t.theirs.say("I answer you in English from now on."),
		t.theirs.say("Cards that others act on stay in the kitchen's language, with yours beneath."))
}

func (t *turn) set(key, old, value, words string) error {
	if err := t.append(0, store.Setting{Key: key, Old: old, New: value}); err != nil {
		return err
	}
	return t.note(words)
}

// regionNames are the regions that there are rules for.
func regionNames() string {
	var names []string
	for _, r := range cure.Regions() {
		names = append(names, string(r))
	}
	return strings.Join(names, ", ")
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}
