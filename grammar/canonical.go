package grammar

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"salthand/cure"
)

// Canonical writes a command as the phrase that this package itself would type: cuts by
// their canonical names, clauses in a fixed order, only what was said. Parse reads it back
// as an equal command. "" for an Emergency, a Mishap and Chatter.
func Canonical(c Command) string {
	switch c := c.(type) {
	case Dose:
		return canonicalDose(c)
	case Approve:
		return because("approve", c.Why)
	case Decline:
		return because("decline", c.Why)
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
		return because("release", c.Why)
	case Discard:
		return because("discard", c.Why)
	case ShowBatch:
		return "" // its number stands in the Phrase
	case Due:
		return "due" + canonicalWhen(c.Day)
	case Who:
		return canonicalWho(c)
	case SetRegion:
		return "region " + string(c.Region)
	case NameChef:
		return "chef " + c.Who
	case Weighing:
		return "weighing " + onOff(c.On)
	case OwnOK:
		return "own approval " + onOff(c.On)
	case CureScale:
		return "cure scale " + unmistaken(float64(c.Division)) + " g"
	case Zone:
		return "zone " + c.Name
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
	if step == "" {
		return "done"
	}
	return step
}

func canonicalDid(c Did) string {
	out := stepWord(c.Step)
	if c.Core.Set() {
		out += " " + plainNumber(float64(c.Core.Value)) + " c"
	}
	return out + canonicalWhen(c.When)
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
	case w.Weekday != nil:
		out = " " + weekdays[*w.Weekday]
	case w.Days == -1:
		out = " yesterday"
	case w.Days == 1:
		out = " tomorrow"
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
	}
	out := "who cured what"
	if c.Cut != "" {
		out = "who cured " + c.Cut
	}
	switch s := c.Span; {
	case s == nil:
	case s.Month != 0:
		out += " " + months[s.Month-1]
	case s.Unit == "day" && s.Back == 0:
		out += " today"
	case s.Unit == "day":
		out += " yesterday"
	case s.Back == 0:
		out += " this " + s.Unit
	default:
		out += " last " + s.Unit
	}
	if c.Person != "" {
		out += " by " + c.Person
	}
	return out
}

func canonicalDose(d Dose) string {
	var out []string
	say := func(s string) { out = append(out, s) }
	var weights []string
	for _, p := range d.Pieces {
		weights = append(weights, inUnits(float64(p), "kg", "g", "lb", "oz"))
	}
	head := strings.TrimSpace(strings.Join(weights, " + ") + " " + d.Cut)
	if d.JustAsking {
		head = "how much for " + head
	}
	if head != "" {
		say(head)
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
	if d.Thickness.Set() {
		say(plainNumber(float64(d.Thickness.Value)) + " mm thick")
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

// Digits after the point that somebody types: of a metric amount, and of another.
const (
	metricDigits = 3
	otherDigits  = 4
)

// inUnits writes a mass in metric units where it was typed so, else in the first of the
// others that needs few digits for it.
func inUnits(g float64, big, small string, others ...string) string {
	metric := kilos(g, big, small)
	number, _, _ := strings.Cut(metric, " ")
	if _, digits, _ := strings.Cut(number, "."); len(digits) <= metricDigits {
		return metric
	}
	if s, ok := otherUnit(g, others...); ok {
		return s
	}
	return metric
}

// otherUnit writes a mass in the first of the units that needs few digits for it.
func otherUnit(g float64, others ...string) (string, bool) {
	for _, unit := range others {
		for digits := 0; digits <= otherDigits; digits++ {
			v, err := strconv.ParseFloat(strconv.FormatFloat(g/factors[unit], 'f', digits, 64), 64)
			if err != nil || v == 0 {
				continue
			}
			s := unmistaken(v)
			if n, ok := readNumber(s); ok && n.other == "" && n.times(factors[unit]) == g {
				return s + " " + unit, true
			}
		}
	}
	return "", false
}

// kilos writes a mass in the bigger unit, with the digits of the smaller one and the point
// moved; in the smaller one where that would read as thousands ("3.215 kg").
func kilos(g float64, big, small string) string {
	whole, rest, _ := strings.Cut(plainNumber(g), ".")
	for len(whole) < 4 {
		whole = "0" + whole
	}
	s := strings.TrimRight(whole[:len(whole)-3]+"."+whole[len(whole)-3:]+rest, "0")
	s = strings.TrimSuffix(s, ".")
	if n, ok := readNumber(s); ok && n.other == "" && g >= 1 {
		return s + " " + big
	}
	return unmistaken(g) + " " + small
}

// unmistaken writes a number that will not read as thousands.
func unmistaken(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if n, ok := readNumber(s); ok && n.other != "" {
		return s + "0"
	}
	return s
}

// plainNumber writes the fewest digits that keep the value.
func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// percentage writes a fraction in per cent with the fewest digits that keep the value.
func percentage(f cure.Fraction) string {
	s := strconv.FormatFloat(float64(f)*100, 'f', -1, 64)
	for digits := 1; digits <= 17; digits++ {
		short := strconv.FormatFloat(float64(f)*100, 'g', digits, 64)
		v, err := strconv.ParseFloat(short, 64)
		if err != nil {
			continue
		}
		plain := strconv.FormatFloat(v, 'f', -1, 64)
		if n, ok := readNumber(plain); ok && cure.Fraction(n.times(0.01)) == f {
			s = plain
			break
		}
	}
	return s + "%"
}
