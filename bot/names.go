package bot

import (
	"encoding/json"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// What the records and cure call things, as cards name them where a name stands alone. A
// phrase that is typed keeps the name as it is; so does a name that has no entry here.

// cutNames are the cuts, by cure's names.
var cutNames = map[string]string{
	"pork belly": msg("pork belly"), "pork loin": msg("pork loin"), "pork shoulder": msg("pork shoulder"), "pork butt": msg("pork butt"),
	"coppa": msg("coppa"), "bone-in ham": msg("bone-in ham"), "boneless ham": msg("boneless ham"), "ham steak": msg("ham steak"),
	"beef brisket": msg("beef brisket"), "eye of round": msg("eye of round"), "duck breast": msg("duck breast"), "turkey breast": msg("turkey breast"),
	"ground pork": msg("ground pork"), "ground beef": msg("ground beef"), "ground venison": msg("ground venison"), "pork jowl": msg("pork jowl"),
	"back fat": msg("back fat"), "beef cheek": msg("beef cheek"), "beef tongue": msg("beef tongue"), "lamb leg": msg("lamb leg"),
	"duck leg": msg("duck leg"), "goose breast": msg("goose breast"), "venison haunch": msg("venison haunch"), "wild boar": msg("wild boar"),
	"salmon": msg("salmon"),
}

// methodNames are the ways to cure, by cure.Method.String.
var methodNames = map[string]string{
	"dry rub": msg("dry rub"), "cover brine": msg("cover brine"), "injection": msg("injection"), "injection + cover": msg("injection + cover"),
	"ground": msg("ground"), "salt box": msg("salt box"), "confit": msg("confit"),
}

// stepNames are the steps to do, and doneNames the same once they are done.
var (
	stepNames = map[string]string{
		"turn": msg("turn"), "overhaul": msg("overhaul"), "top up": msg("top up"), "take out": msg("take out"), "rinse": msg("rinse"),
		"soak": msg("soak"), "rest": msg("rest"), "pellicle": msg("pellicle"), "smoke": msg("smoke"), "cook": msg("cook"), "chill": msg("chill"),
		"ferment": msg("ferment"), "hang": msg("hang"), "weigh": msg("weigh"), "change water": msg("change the water"), "ph test": msg("pH test"),
		"mould look": msg("look for mould"), "chill check": msg("cooling check, 21 °C"), "use by": msg("use by"),
	}
	doneNames = map[string]string{
		"turn": msg("turned"), "overhaul": msg("overhauled"), "top up": msg("topped up"), "take out": msg("out of the cure"), "rinse": msg("rinsed"),
		"soak": msg("soaked"), "rest": msg("rested"), "pellicle": msg("pellicle formed"), "smoke": msg("smoked"), "cook": msg("cooked"), "chill": msg("chilled"),
		"ferment": msg("in the chamber"), "hang": msg("hung"), "weigh": msg("weighed"), "change water": msg("water changed"), "ph test": msg("pH tested"),
		"mould look": msg("looked for mould"), "chill check": msg("cooling checked"), "use by": msg("used by"),
	}
)

// stateNames are the states of a batch.
var stateNames = map[store.State]string{
	store.StateAsked: msg("asked"), store.StateApproved: msg("approved"), store.StateWeighed: msg("weighed"), store.StateChecked: msg("checked"),
	store.StateCuring: msg("curing"), store.StateResting: msg("resting"), store.StateFermenting: msg("fermenting"), store.StateDrying: msg("drying"),
	store.StateSmoking: msg("smoking"), store.StateCooking: msg("cooking"), store.StateChilled: msg("chilled"), store.StateFinished: msg("finished"),
	store.StateDeclined: msg("declined"), store.StateLapsed: msg("lapsed"), store.StateDiscarded: msg("discarded"),
}

// lapseNames say why a batch lapsed, and moveNames why a step was moved, by the record's words.
var (
	lapseNames = map[string]string{"never mind": msg("never mind"), "not approved": msg("not approved"), "not started": msg("not started"), "not weighed": msg("not weighed"), "deleted": msg("deleted")}
	moveNames  = map[string]string{"snooze": msg("snooze"), "remind": msg("remind"), "move": msg("move"), "soak": msg("soak")}
)

// approvedCure is the curing salt that was approved, of the revision that was.
func (t *turn) approvedCure(l tongue, batch uint64, a store.Approved) (string, error) {
	if l == english {
		return a.Strength, nil
	}
	events, err := t.tx.Events(t.kitchen.ID, batch)
	if err != nil {
		return "", err
	}
	for _, e := range events {
		switch body := e.Body.(type) {
		case store.Asked:
			if body.Card.Revision == a.Revision {
				return agentOfCard(l, body.Card), nil
			}
		case store.Revised:
			if body.Card.Revision == a.Revision {
				return agentOfCard(l, body.Card), nil
			}
		}
	}
	return a.Strength, nil
}

// agentOfCard is the curing salt of a dose card that the store keeps. One that its answer
// doesn't name is said as the record has it, in English.
func agentOfCard(l tongue, c store.Card) string {
	var a Answer
	if err := json.Unmarshal(c.Answer, &a); err != nil || l == english {
		return c.Agent
	}
	for _, m := range a.Add {
		for kind, code := range agentCodes {
			if m.Name == code && m.NitritePct != nil && m.NitratePct != nil {
				agent := cure.Agent{Kind: kind, Nitrite: cure.Fraction(*m.NitritePct / 100), Nitrate: cure.Fraction(*m.NitratePct / 100)}
				return agentName(l, agent) + ", " + strengthOf(l, agent)
			}
		}
	}
	return c.Agent
}

// phraseIn is the phrase of a dose card that the store keeps, in a reader's words.
func phraseIn(l tongue, phrase string) string {
	p, err := grammar.Parse(phrase, grammar.Setting{})
	if err != nil || l == english {
		return phrase
	}
	return grammar.CanonicalIn(string(l), p.Command)
}

// weekdayNames and monthNames are short: a day stands in a line of a list.
var (
	weekdayNames = [7]string{msg("Sun"), msg("Mon"), msg("Tue"), msg("Wed"), msg("Thu"), msg("Fri"), msg("Sat")}
	monthNames   = [12]string{msg("Jan"), msg("Feb"), msg("Mar"), msg("Apr"), msg("May"), msg("Jun"), msg("Jul"), msg("Aug"), msg("Sep"), msg("Oct"), msg("Nov"), msg("Dec")}
)

// named says a name out of a table.
func named[K ~string](l tongue, names map[K]string, name K) string {
	if said, ok := names[name]; ok {
		return l.say(said)
	}
	return string(name)
}

func cutName(l tongue, name string) string        { return named(l, cutNames, name) }
func methodName(l tongue, name string) string     { return named(l, methodNames, name) }
func stepName(l tongue, kind string) string       { return named(l, stepNames, kind) }
func stateName(l tongue, s store.State) string    { return named(l, stateNames, s) }
func lapseName(l tongue, why string) string       { return named(l, lapseNames, why) }
func moveName(l tongue, why string) string        { return named(l, moveNames, why) }
func weekdayName(l tongue, d time.Weekday) string { return l.say(weekdayNames[d]) }
func monthName(l tongue, m time.Month) string     { return l.say(monthNames[m-1]) }

// doneWords are a step that was done.
func doneWords(l tongue, kind string) string {
	if said, ok := doneNames[kind]; ok {
		return l.say(said)
	}
	return l.say("%s done", kind)
}
