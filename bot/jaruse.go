package bot

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"salthand/cure"
	"salthand/store"
)

// jarKinds are the curing salts as the label of a jar is kept. Never renamed.
var jarKinds = map[cure.AgentKind]string{
	cure.No1: "no. 1", cure.No2: "no. 2", cure.NitritedSalt: "nitrited salt", cure.HouseCure: "house cure", cure.PureNitrite: "sodium nitrite",
	cure.PureNitrate: "sodium nitrate", cure.Saltpetre: "saltpetre", cure.VegetablePowder: "vegetable powder",
}

// agentOfLabel is the curing salt that a label names.
func agentOfLabel(l store.Label) cure.Agent {
	a := cure.Agent{Nitrite: strengthKept(l.NitriteMilliPPM), Nitrate: strengthKept(l.NitrateMilliPPM)}
	for kind, name := range jarKinds {
		if name == l.AgentKind {
			a.Kind = kind
		}
	}
	return a
}

// Why nothing may be taken from a jar.
const (
	jarUnknown    = "unknown"
	jarEmpty      = "empty"
	jarWithdrawn  = "withdrawn"
	jarHeld       = "held"
	jarUnlabelled = "unlabelled"
	jarDoubtful   = "doubtful" // its label can't be right
	jarUnread     = "unread"   // a house cure without its second reading
	jarUnapproved = "unapproved"
	jarOther      = "other" // the phrase names another cure than the jar holds
)

// jarRefused is a jar that nothing may be taken from.
type jarRefused struct {
	name  string
	why   string
	jar   store.Jar // where it is known
	known []string  // jars there are, where it is not
	asked cure.Agent
	holds cure.Agent
}

func (j *jarRefused) Error() string { return "bot: jar " + j.name + " is " + j.why }

// jar finds a jar by its name and what is in it now, or refuses with a *jarRefused. A name is
// never forgiven a typo.
func (t *turn) jar(name string) (store.Jar, store.Filling, error) {
	jar, ok, err := t.tx.Jar(t.kitchen.ID, name)
	if err != nil {
		return jar, store.Filling{}, err
	}
	refused := &jarRefused{name: name, jar: jar}
	if !ok {
		all, err := t.tx.Jars(t.kitchen.ID)
		if err != nil {
			return jar, store.Filling{}, err
		}
		for _, j := range all {
			if j.Current().State == store.JarInUse {
				refused.known = append(refused.known, j.Name)
			}
		}
		refused.why = jarUnknown
		return jar, store.Filling{}, refused
	}
	refused.name = jar.Name
	f := jar.Current()
	if refused.why = unusable(f); refused.why != "" {
		return jar, f, refused
	}
	return jar, f, nil
}

// unusable is why nothing may be taken from a filling; "": it may.
func unusable(f store.Filling) string {
	a := agentOfLabel(f.Label)
	switch {
	case f.State == store.JarEmpty:
		return jarEmpty
	case f.State == store.JarWithdrawn:
		return jarWithdrawn
	case f.State == store.JarHeld:
		return jarHeld
	case f.Label.Doubt != "":
		return jarDoubtful
	case a.Kind == cure.NoAgent || a.Nitrite == 0 && a.Nitrate == 0 && a.Kind != cure.Saltpetre:
		return jarUnlabelled
	case len(f.Parts) > 0 && f.Read == nil:
		return jarUnread
	case len(f.Parts) > 0 && f.Approved == nil:
		return jarUnapproved
	}
	return ""
}

// settings are what the kitchen says for phrases that don't, its jars among them.
func (t *turn) settings() Settings {
	s := settingsOf(t.kitchen, t.now)
	s.jars = func(name string) (cure.Agent, error) {
		_, f, err := t.jar(name)
		return agentOfLabel(f.Label), err
	}
	s.dyed = func(name string) string {
		_, f, err := t.jar(name)
		if err != nil {
			return ""
		}
		return f.Label.Dyed
	}
	return s
}

// jarAsLabelled is the curing salt in a jar that may be closed by now: its label is known all
// the same.
func (t *turn) jarAsLabelled(name string) (cure.Agent, error) {
	_, f, err := t.jar(name)
	var refused *jarRefused
	if errors.As(err, &refused) && !slices.Contains([]string{jarUnknown, jarDoubtful, jarUnlabelled}, refused.why) {
		err = nil
	}
	return agentOfLabel(f.Label), err
}

// jarOf is the curing salt in a jar; without records there is none.
func (s Settings) jarOf(name string) (cure.Agent, error) {
	if s.jars == nil {
		return cure.Agent{}, &notHere{what: msg("jar"), name: name}
	}
	return s.jars(name)
}

// jarRefusedCard says why nothing may be taken from a jar, and what to do now.
func jarRefusedCard(l tongue, j *jarRefused) Card {
	c := Card{Kind: ErrorCard}
	label := fmt.Sprintf("jar %s label: KIND, PERCENT%% nitrite, lot LOT", j.name)
	switch j.why {
	case jarUnknown:
		c.Kind, c.Title = QuestionCard, l.say("No jar here is called %s: a name is never guessed.", j.name)
		if len(j.known) > 0 {
			c.Lines = []string{l.say("Jars in use: %s", strings.Join(j.known, ", "))}
		}
		c.Next = l.say("Type the name that stands on the jar. A chef registers a new one from its bag:  %s", fmt.Sprintf("jar %s is KIND, PERCENT%% nitrite, lot LOT", j.name))
	case jarEmpty:
		c.Title = l.say("Jar %s is noted as empty: nothing is taken from it.", j.name)
		c.Next = l.say("Filled anew, a chef types what is in it:  %s", fmt.Sprintf("jar %s filled anew: KIND PERCENT%%, lot LOT", j.name))
	case jarWithdrawn:
		c.Title = l.say("Jar %s is withdrawn: nothing is taken from it.", j.name)
		if why := j.jar.Current().Why; why != "" {
			c.Lines = []string{l.say("withdrawn: %s", why)}
		}
		c.Next = l.say("Take another jar. A chef can type  %s", fmt.Sprintf("jar %s back in use: reason", j.name))
	case jarHeld:
		c.Kind, c.Title = HoldCard, l.say("Jar %s is on HOLD: nothing is taken from it.", j.name)
		c.Lines = []string{l.say("held: %s", j.jar.Current().Why)}
		c.Next = l.say("Take another jar. A chef can type  %s", fmt.Sprintf("release jar %s: reason", j.name))
	case jarUnread:
		c.Title = l.say("Nobody has read again what went into jar %s: nothing is taken from it yet.", j.name)
		c.Next = l.say("Another person types what scale and jars show:  %s", fmt.Sprintf("jar %s seen GRAMS g jar NAME + GRAMS g salt", j.name))
	case jarUnapproved:
		c.Title = l.say("Jar %s is not approved yet: nothing is taken from it.", j.name)
		c.Next = l.say("A chef who did not make it types  jar %s approved .", j.name)
	case jarUnlabelled:
		c.Title = l.say("Nobody has read what is in jar %s, and how strong: nothing is taken from it.", j.name)
		c.Next = l.say("A chef reads the bag or the label and types  %s", label)
	case jarDoubtful:
		c.Title = l.say("The label of jar %s can't be right: nothing is taken from it.", j.name)
		c.Lines = []string{doubtWords(l, j.jar.Current().Label)}
		c.Next = l.say("A chef reads the bag or the label and types  %s", label)
	case jarOther:
		c.Kind, c.Title = QuestionCard, l.say("Jar %s holds %s, and the phrase says %s.", j.name, agentName(l, j.holds)+" "+strengthOf(l, j.holds), strings.TrimSpace(agentName(l, j.asked)+" "+strengthSaid(l, j.asked)))
		c.Next = l.say("Look at the jar in your hand, and name only that jar.")
	}
	return c
}

// strengthSaid is the strength of a cure where one was said.
func strengthSaid(l tongue, a cure.Agent) string {
	if a.Nitrite == 0 && a.Nitrate == 0 {
		return ""
	}
	return strengthOf(l, a)
}

// The doubts about a label, as they are kept.
const (
	doubtStrength = "strength" // no cure of that name has that strength
	doubtDyed     = "dyed"     // dyed and undyed
	doubtMade     = "made"     // what it was made of comes to another strength
)

func doubtWords(l tongue, label store.Label) string {
	switch label.Doubt {
	case doubtDyed:
		return l.say("it says dyed and undyed")
	case doubtMade:
		return l.say("what it was made of comes to another strength than it says")
	}
	return l.say("no cure of that name has that strength: %s", labelWords(l, store.Label{AgentKind: label.AgentKind, NitriteMilliPPM: label.NitriteMilliPPM, NitrateMilliPPM: label.NitrateMilliPPM}))
}

// labelWords are what stands on a label.
func labelWords(l tongue, label store.Label) string {
	a := agentOfLabel(label)
	var parts []string
	if a.Kind != cure.NoAgent {
		parts = append(parts, agentName(l, a))
	}
	switch {
	case a.Nitrite > 0 || a.Nitrate > 0 || a.Kind == cure.Saltpetre:
		parts = append(parts, strengthOf(l, a))
	default:
		parts = append(parts, l.say("strength not read"))
	}
	if label.Lot != "" {
		parts = append(parts, l.say("lot %s", label.Lot))
	}
	switch label.Dyed {
	case "dyed":
		parts = append(parts, l.say("dyed"))
	case "undyed":
		parts = append(parts, l.say("UNDYED"))
	}
	return strings.Join(parts, ", ")
}

// undyedWarning stands on every card that uses a cure without a colour.
func undyedWarning(l tongue) Warning {
	return Warning{Level: cure.Warn.String(), Code: "undyed", Text: l.say("UNDYED: it looks like table salt. NOT FOR SEASONING: keep it labelled, locked and away from salt.")}
}
