package grammar

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"salthand/cure"
)

// written is a command that knows its own canonical phrase.
type written interface{ canonical() string }

// Canonical writes a command as the phrase that this package itself would type: cuts by
// their canonical names, clauses in a fixed order, only what was said. Parse reads it back
// as an equal command. "" for an Emergency, a Told and Chatter.
func Canonical(c Command) string {
	if w, ok := c.(written); ok {
		return w.canonical()
	}
	switch c := c.(type) {
	case Dose:
		return canonicalDose(c)
	case Amend:
		return "make it " + canonicalDose(c.Clauses)
	case Decline:
		return because("decline", c.Why)
	case Undo:
		return "undo"
	case NeverMind:
		return "never mind"
	case Start:
		return "start"
	case Did:
		return canonicalDid(c)
	case Snooze:
		return "snooze " + canonicalSpan(c.For)
	case Remind:
		return "remind " + stepWord(c.Step) + canonicalWhen(&c.When)
	case Finish:
		return "finished"
	case HoldIt:
		return because("hold", c.Why)
	case ReleaseIt:
		return canonicalRelease(c)
	case Discard:
		return because("discard", c.Why)
	case ShowBatch:
		return "" // its number stands in the Phrase
	case Scanned:
		return "batch " + strconv.FormatUint(c.Batch, 10) + ", " + kitchenMark + c.Kitchen
	case Print:
		return string(c.What)
	case BlankSheet:
		return "blank sheet"
	case Export:
		return "export" + canonicalPast(&c.Span)
	case Due:
		if c.Until {
			return "due until" + canonicalWhen(c.Day)
		}
		return "due" + canonicalWhen(c.Day)
	case Who:
		return canonicalWho(c)
	case SetRegion:
		return "region " + string(c.Region)
	case Weighing:
		return "weighing " + onOff(c.On)
	case OwnOK:
		return "own approval " + onOff(c.On)
	case OwnMixes:
		return "own mixes " + onOff(c.On)
	case CureScale:
		return "cure scale " + unmistaken(float64(c.Division)) + " g"
	case SetDateOrder:
		return "date order " + map[DateOrder]string{DayFirst: "day first", MonthFirst: "month first"}[c.Order]
	case Zone:
		return "zone " + c.Name
	case Language:
		if c.Kitchen {
			return "kitchen language " + c.Code
		}
		return "language " + c.Code
	case Help:
		return strings.TrimSpace("help " + c.Topic)
	}
	return canonicalFigure(c)
}

func because(verb, why string) string {
	if why == "" {
		return verb
	}
	return verb + ": " + why
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

func stepWord(step string) string {
	switch step {
	case "":
		return "done"
	case "ferment": // alone, a word that asks for figures
		return "into the chamber"
	}
	return step
}

func canonicalDid(c Did) string {
	out := stepWord(c.Step)
	if c.Core.Set() {
		out += " " + plainNumber(float64(c.Core.Value)) + " c"
	}
	return out + canonicalWhen(c.When) + evident(c.Evidence)
}

// evident is what an entry rests on, behind it.
func evident(evidence string) string {
	if evidence == "" {
		return ""
	}
	return " by " + evidence
}

func canonicalWhen(w *When) string {
	if w == nil {
		return ""
	}
	out := ""
	switch {
	case w.In < 0:
		return " " + canonicalSpan(-w.In) + " ago"
	case w.In > 0:
		return " in " + canonicalSpan(w.In)
	case w.Weekday != nil && w.Last:
		out = " last " + weekdays[*w.Weekday]
	case w.Weekday != nil:
		out = " " + weekdays[*w.Weekday]
	case w.Date != nil:
		out = " " + canonicalDate(*w.Date)
	case w.Days == -1:
		out = " yesterday"
	case w.Days == 1:
		out = " tomorrow"
	case w.Days > 1:
		out = " in " + canonicalSpan(time.Duration(w.Days)*24*time.Hour)
	case w.Days < -1:
		out = " " + canonicalSpan(time.Duration(-w.Days)*24*time.Hour) + " ago"
	case w.Clock == nil:
		out = " today"
	}
	if w.Clock != nil {
		out += fmt.Sprintf(" %d:%02d", w.Clock.Hour, w.Clock.Minute)
	}
	return out
}

func canonicalWho(c Who) string {
	switch c.State {
	case "held":
		return "held"
	case "drying":
		return "hanging"
	case "curing", "resting", "paused":
		return c.State
	case "asked":
		return "to approve"
	case "approved":
		return "to start"
	}
	out := "who cured what"
	if c.Cut != "" {
		out = "who cured " + c.Cut
	}
	out += canonicalPast(c.Span)
	if c.Person != "" {
		out += " by " + c.Person
	}
	return out
}

// canonicalPast writes a span behind a verb; "" for nil.
func canonicalPast(s *Span) string {
	switch {
	case s == nil:
		return ""
	case s.Onward:
		return " since " + map[int]string{0: "this ", 1: "last "}[s.Back] + s.Unit
	case s.Since != nil:
		return " since" + canonicalWhen(s.Since)
	case s.On != nil:
		return " on" + canonicalWhen(s.On)
	case s.Month != 0 && s.Year != 0:
		return " " + months[s.Month-1] + " " + strconv.Itoa(s.Year)
	case s.Month != 0:
		return " " + months[s.Month-1]
	case s.Unit == "day" && s.Back == 0:
		return " today"
	case s.Unit == "day":
		return " yesterday"
	case s.Year != 0:
		return " " + strconv.Itoa(s.Year)
	case s.Back == 0:
		return " this " + s.Unit
	}
	return " last " + s.Unit
}

func canonicalDose(d Dose) string {
	var out []string
	say := func(s string) { out = append(out, s) }
	var weights []string
	for _, p := range d.Pieces {
		weights = append(weights, inUnits(float64(p), "kg", "g", "lb", "oz"))
	}
	head := strings.TrimSpace(strings.Join(weights, " + ") + " " + d.Cut)
	recipe := ""
	if d.Recipe != "" {
		recipe = "recipe " + d.Recipe + versionWord(d.RecipeVersion)
		if d.Cut == "" {
			head, recipe = strings.TrimSpace(head+" "+recipe), ""
		}
	}
	if d.JustAsking {
		head = "how much for " + head
	}
	if head != "" {
		say(head)
	}
	if recipe != "" {
		say(recipe)
	}
	switch d.Method.Value {
	case cure.DryRub:
		say("dry rub")
	case cure.Ground:
		say("ground")
	case cure.SaltBox:
		say("salt box")
	case cure.Confit:
		say("confit")
	case cure.CoverBrine:
		say("brine" + amountAfter(d.Water, "l", "ml"))
	case cure.Injection, cure.InjectionCover:
		pump := "inject"
		if d.Pump.Set() {
			pump += " " + percentage(d.Pump.Value)
		}
		say(pump)
		if d.Method.Value == cure.InjectionCover {
			say("cover" + amountAfter(d.Cover, "l", "ml"))
		}
	}
	if d.Water.Set() && d.Method.Value != cure.CoverBrine { // of a pickle that is asked about
		say("in" + amountAfter(d.Water, "l", "ml") + " water")
	}
	if d.Days.Set() {
		say(canonicalSpan(d.Days.Value))
	}
	if agent := canonicalAgent(d); agent != "" {
		say(agent)
	}
	if d.Jar != "" {
		say("jar " + d.Jar)
	}
	if d.Target.Set() {
		say(plainNumber(float64(d.Target.Value)) + " ppm")
	}
	if d.Salt.Set() {
		s := percentage(d.Salt.Value) + " salt"
		if d.SaltOnTop {
			s += " on top"
		}
		say(s)
	}
	if d.Sugar.Set() {
		say(percentage(d.Sugar.Value) + " sugar")
	}
	if d.Ascorbate.Set() {
		say(plainNumber(float64(d.Ascorbate.Value)) + " ppm erythorbate")
	}
	switch {
	case d.Sides != [2]cure.Millimetre{}:
		say(plainNumber(float64(d.Sides[0])) + " x " + plainNumber(float64(d.Sides[1])) + " x " + plainNumber(float64(d.Thickness.Value)) + " mm")
	case d.Thickness.Set():
		say(plainNumber(float64(d.Thickness.Value)) + " mm thick")
	}
	if len(d.Thicknesses) > 0 {
		all := make([]string, len(d.Thicknesses))
		for i, t := range d.Thicknesses {
			all[i] = plainNumber(float64(t)) + " mm"
		}
		say(strings.Join(all, " + ") + " thick")
	}
	if d.SkinOn.Set() {
		say("skin " + onOff(d.SkinOn.Value))
	}
	if d.Heated.Set() {
		say(map[bool]string{true: "heated", false: "not heated"}[d.Heated.Value])
	}
	if d.Temperature.Set() {
		say("at " + plainNumber(float64(d.Temperature.Value)) + " c")
	}
	return strings.Join(out, ", ") + against(d.Region, d.Against)
}

func amountAfter(g cure.Given[cure.Gram], big, small string) string {
	if !g.Set() {
		return ""
	}
	return " " + inUnits(float64(g.Value), big, small, "us gal", "imp gal", "us qt", "imp qt")
}

// agentNames are the cures by their canonical names.
var agentNames = map[cure.AgentKind]string{cure.NoCure: noCure, cure.No1: no1, cure.No2: no2, cure.NitritedSalt: nitritedSalt, cure.HouseCure: houseCure,
	cure.PureNitrite: pureNitrite, cure.PureNitrate: pureNitrate, cure.Saltpetre: saltpetre, cure.VegetablePowder: vegetablePowder}

func canonicalAgent(d Dose) string {
	name := agentNames[d.Kind]
	if name == "" {
		return ""
	}
	if d.Rate.Set() {
		name = percentage(d.Rate.Value) + " " + name
	}
	switch {
	case d.Nitrite.Set() && d.Nitrate.Set():
		name += " " + percentage(d.Nitrite.Value) + " + " + percentage(d.Nitrate.Value)
	case d.Nitrite.Set():
		name += " " + percentage(d.Nitrite.Value)
	case d.Nitrate.Set():
		name += " " + percentage(d.Nitrate.Value) + " nitrate"
	}
	return name
}

// canonicalSpan writes an elapsed time in the longest of days, hours and minutes that holds
// it a whole number of times; seconds become a fraction of an hour.
func canonicalSpan(d time.Duration) string {
	switch {
	case d == 24*time.Hour:
		return "1 day"
	case d%(24*time.Hour) == 0:
		return strconv.Itoa(int(d/(24*time.Hour))) + " days"
	case d%time.Hour == 0:
		return strconv.Itoa(int(d/time.Hour)) + " h"
	case d%time.Minute == 0:
		return strconv.Itoa(int(d/time.Minute)) + " min"
	}
	return plainNumber(d.Hours()) + " h"
}
