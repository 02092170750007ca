package bot

import (
	"math"
	"strings"
	"time"

	"salthand/cure"
)

// shortCaution ends every dose card.
var shortCaution = msg("Arithmetic, not approval. Your local food code and the site's plan decide; curing for sale often needs a variance and a written plan.")

// itemNames are the things to weigh, as cards name them.
var itemNames = map[cure.Item]string{
	cure.SaltItem: msg("salt"), cure.SugarItem: msg("sugar"), cure.AscorbateItem: msg("ascorbate or erythorbate (sodium salt)"), cure.WaterItem: msg("water"),
	cure.BoxSaltItem: msg("plain salt for the box"),
}

// What a dose is counted on, as cure names it: said by those names.
var _ = []string{msg("green meat"), msg("green meat less skin"), msg("meat + water"), msg("meat + pickle")}

// What a limit counts and on what, the classes of the law, and how a figure stands to a limit,
// as cure names them: said by those names.
var _ = []string{
	msg("nitrite"), msg("nitrate"), msg("nitrite+nitrate"), msg("ascorbate"),
	msg("amount added"), msg("amount added, before smoking, cooking or fermentation"), msg("amount used"), msg("finished product"), msg("in food"),
	msg("meat less skin + pickle"), msg("product through shelf life"),
	msg("bacon"), msg("comminuted (08.3)"), msg("comminuted and heated: no row"), msg("cured"), msg("cured or cooked"), msg("dried or slow dried cured"),
	msg("dry cured"), msg("fermented uncooked"), msg("fish: no row"), msg("heat-treated (08.3.2)"), msg("heat-treated whole (08.2.2)"),
	msg("immersion cured"), msg("meat product"), msg("not heat-treated (08.3.1)"), msg("not heat-treated whole: no row"), msg("pumped"),
	msg("pumped and immersed"), msg("side bacon"), msg("smoked cured fish"), msg("western-style ham"),
	msg("not compared"), msg("under"), msg("over"), msg("not checkable"), msg("met"),
}

// doseCard words an answered dose. phrase is the canonical one.
func doseCard(l tongue, d cure.Dose, phrase string) Card {
	c := Card{Kind: DoseCard, Title: phrase, Small: l.say(shortCaution)}
	c.Weigh = weighLines(l, d)
	if d.Pickle > 0 {
		c.Facts = append(c.Facts, pickleFact(l, d))
	}
	c.Facts = append(c.Facts, comesTo(l, d))
	if lines := balanceLines(l, d); len(lines) > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("in the meat"), Lines: lines})
	}
	c.Facts = append(c.Facts, limitFact(l, d))
	if d.Time.Criterion {
		c.Facts = append(c.Facts, timeFact(l, d))
	}
	if len(d.Each) > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("each piece"), Lines: pieceLines(l, d)})
	}
	if a := assumedByOrigin(l, d); len(a) > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("assumed"), Lines: a})
	}
	c.Warnings = warnings(l, d)
	return c
}

// weighLines are the grams, the salt as a pair: what to weigh, and what it comes to with
// the salt in the cure.
func weighLines(l tongue, d cure.Dose) (lines []Weigh) {
	scale := d.Request.CureScale.Value
	for _, a := range d.Add {
		w := Weigh{Item: l.say(itemNames[a.Item]), Amount: grams(a.Weigh, scale)}
		switch a.Item {
		case cure.CureItem:
			w.Item = agentName(l, d.Request.Agent.Value)
			w.Note = strengthOf(l, d.Request.Agent.Value)
		case cure.SaltItem:
			if d.SaltInCure > 0 {
				w.Note = l.say("%s in all: %s comes with the cure", grams(d.SaltTotal, 0.1), grams(d.SaltInCure, 0.1))
			}
		}
		lines = append(lines, w)
	}
	return lines
}

// agentName is what a curing salt is called on cards.
func agentName(l tongue, a cure.Agent) string {
	switch a.Kind {
	case cure.No1:
		return l.say("no. 1 cure")
	case cure.No2:
		return l.say("no. 2 cure")
	case cure.NitritedSalt:
		return l.say("nitrited salt")
	}
	return kindWords(l, a.Kind)
}

// strengthOf prints the strength of a curing salt.
func strengthOf(l tongue, a cure.Agent) string {
	switch a.Kind {
	case cure.NoCure, cure.NoAgent:
		return l.say("no nitrite")
	case cure.Saltpetre:
		return l.say("potassium nitrate, counts as %s of its weight in sodium nitrate", percent(a.Nitrate, 1))
	case cure.PureNitrate:
		return l.say("undiluted sodium nitrate")
	case cure.PureNitrite:
		return l.say("undiluted sodium nitrite")
	}
	s := l.say("%s sodium nitrite", percent(a.Nitrite, 3))
	if a.Nitrate > 0 {
		s += l.say(", %s sodium nitrate", percent(a.Nitrate, 3))
	}
	return s
}

// pickleFact is the recipe of an injected pickle.
func pickleFact(l tongue, d cure.Dose) Fact {
	parts := make([]string, 0, len(d.PerKilo))
	for _, a := range d.PerKilo {
		name := l.say(itemNames[a.Item])
		if a.Item == cure.CureItem {
			name = agentName(l, d.Request.Agent.Value)
		}
		parts = append(parts, grams(a.Exact, 0.01)+" "+name)
	}
	made := l.say("make %s of it: the grams above are for that", grams(d.Pickle, 1))
	if d.Request.Method.Value == cure.Injection {
		made = l.say("%s goes into the meat (%s of its weight); make more of the same recipe if the pump holds some back", grams(d.Pickle, 1), percent(d.Request.Pump.Value, 1))
	}
	return Fact{Label: l.say("pickle"), Lines: []string{l.say("per 1,000 g: %s", strings.Join(parts, ", ")), made}}
}

// worthSaying is how far the weighed grams lie from the dose before a card says so.
const worthSaying = 0.02

// comesTo is what the dose comes to, with its basis named.
func comesTo(l tongue, d cure.Dose) Fact {
	f := Fact{Label: l.say("comes to")}
	if d.Nitrite > 0 {
		f.Lines = append(f.Lines, l.say("%s sodium nitrite on %s (%s)", ppm(d.Nitrite), l.say(d.Basis.String()), grams(d.BasisMass, 1)))
		if math.Abs(float64(d.OnScale/d.Nitrite)-1) > worthSaying {
			f.Lines = append(f.Lines, l.say("%s of it by the grams above, which the scale rounds", ppm(d.OnScale)))
		}
	} else {
		f.Lines = append(f.Lines, l.say("no nitrite"))
	}
	if d.AsWeighed > 0 {
		other := cure.GreenMeatLessSkin
		if d.Basis == cure.GreenMeatLessSkin {
			other = cure.GreenMeat
		}
		f.Lines = append(f.Lines, l.say("%s on %s", ppm(d.AsWeighed), l.say(other.String())))
	}
	if d.Nitrate > 0 {
		f.Lines = append(f.Lines, l.say("%s sodium nitrate", ppm(d.Nitrate)))
	}
	f.Lines = append(f.Lines, l.say("%s salt in all on %s (%s)", percent(d.Salt, 2), l.say(d.SaltBasis.String()), grams(d.SaltMass, 1)))
	return f
}

// limitFact names the rule that was applied, each limit with its source, and how surely the
// source was seen.
func limitFact(l tongue, d cure.Dose) Fact {
	f := Fact{Label: l.say("limits"), Lines: []string{l.say("region %s, %s", d.Request.Region.Value, l.say(d.Class))}}
	for _, c := range d.Limits {
		f.Lines = append(f.Lines, limitLine(l, c))
	}
	return f
}

func limitLine(l tongue, c cure.Check) string {
	rule := c.Limit
	name := agentOfLimit(l, rule)
	what := limitKind(l, rule.Kind)
	figure := fixed(float64(rule.Value), rule.Digits)
	from := rule.Source + ", " + seenWords(l, rule.Seen)
	if !rule.Enforced {
		from += l.say(", not confirmed")
	}
	if c.Verdict == cure.NotCheckable {
		return l.say("%s: %s %s ppm; a recipe can't tell (%s)", name, what, figure, from)
	}
	on := l.say(" on %s", l.say(rule.Basis))
	if rule.Kind == "ingoing min" {
		on = "" // a policy figure, compared on the basis of the dose
	}
	return l.say("%s: %s%s, %s %s: %s (%s)", name, ppm(c.Got), on, what, figure, verdictWords(l, c.Verdict), from)
}

// limitKind is what a limit asks for, before its figure.
func limitKind(l tongue, kind string) string {
	return map[string]string{"ingoing max": l.say("limit"), "ingoing min": l.say("at least"), "ingoing required": l.say("required"), "residual max": l.say("left in the food, limit")}[kind]
}

// agentOfLimit is what a limit counts: "nitrite", "nitrite as ion".
func agentOfLimit(l tongue, rule cure.Limit) string {
	if strings.Contains(rule.As, "ion") {
		return l.say("%s as ion", l.say(rule.Agent))
	}
	return l.say(rule.Agent)
}

func seenWords(l tongue, seen string) string {
	switch seen {
	case "text":
		return l.say("read in the text")
	case "secondary":
		return l.say("seen second-hand")
	}
	return l.say("from memory")
}

func verdictWords(l tongue, v cure.Verdict) string {
	switch v {
	case cure.At:
		return l.say("on the limit")
	case cure.BelowMin:
		return l.say("below")
	}
	return l.say(v.String())
}

// timeFact is the days: one date leads, the rest is how sure it is.
func timeFact(l tongue, d cure.Dose) Fact {
	t := d.Time
	lines := []string{l.say("plan for %s", days(l, t.PlanFor))}
	if d.Request.Sides != [2]cure.Millimetre{} {
		as := l.say("reckoned as a slab of its least side, the careful choice")
		if d.Request.Method.Value == cure.SaltBox {
			as = l.say("reckoned as a block with salt on all its faces")
		}
		lines = append(lines, as)
	}
	if d.Request.Method.Value == cure.SaltBox {
		return Fact{Label: l.say("days"), Lines: append(lines,
			l.say("mean salt at %s: likely after %s (%s to %s)", percent(d.Request.Salt.Value, 1), days(l, t.To.Likely), days(l, t.To.Fast), days(l, t.To.Slow)),
			l.say("then %s of evening out, likely", days(l, t.Equalise.Likely)))}
	}
	if asked := d.Request.Days; asked.Set() {
		lines = append(lines, l.say("core after %s: likely %s of what it will get (slow %s, fast %s)",
			days(l, asked.Value), percent(t.Core.Likely, 0), percent(t.Core.Slow, 0), percent(t.Core.Fast, 0)))
	}
	lines = append(lines, l.say("core at 95 %%: likely after %s (%s to %s)", days(l, t.To.Likely), days(l, t.To.Fast), days(l, t.To.Slow)))
	if t.Rule > 0 {
		rule := l.say("thumb rule, 7 days an inch: %s", days(l, t.Rule))
		if t.RuleUnsafe {
			rule += l.say(": too short here, not used")
		}
		lines = append(lines, rule)
	}
	return Fact{Label: l.say("days"), Lines: lines}
}

// pieceLines are pieces of several thicknesses, one by one: what to weigh for each where each
// is rubbed on its own, and the days that it needs.
func pieceLines(l tongue, d cure.Dose) (lines []string) {
	for _, p := range d.Each {
		line := l.say("%s, %s cm:", grams(p.Green, 1), trimmed(float64(p.Thickness)/10, 1))
		for _, a := range p.Add {
			name := l.say(itemNames[a.Item])
			if a.Item == cure.CureItem {
				name = agentName(l, d.Request.Agent.Value)
			}
			line += " " + grams(a.Weigh, d.Request.CureScale.Value) + " " + name + ","
		}
		lines = append(lines, l.say("%s plan for %s, likely %s", line, days(l, p.Time.PlanFor), days(l, p.Time.To.Likely)))
	}
	return lines
}

// assumption is a value that the asker did not type.
type assumption struct {
	origin cure.Origin
	text   string
}

// assumed names every value that the asker did not type, with where it came from.
func assumed(l tongue, d cure.Dose) (lines []string) {
	for _, a := range assumptions(l, d) {
		lines = append(lines, a.text+" ("+originWords(l, a.origin)+")")
	}
	return lines
}

// assumedByOrigin is the same in a line for each origin.
func assumedByOrigin(l tongue, d cure.Dose) (lines []string) {
	all := assumptions(l, d)
	for _, o := range []cure.Origin{cure.FromRecipe, cure.FromJar, cure.FromKitchen, cure.FromCut, cure.FromRule} {
		var texts []string
		for _, a := range all {
			if a.origin == o {
				texts = append(texts, a.text)
			}
		}
		if len(texts) > 0 {
			lines = append(lines, strings.Join(texts, ", ")+" ("+originWords(l, o)+")")
		}
	}
	return lines
}

func assumptions(l tongue, d cure.Dose) (all []assumption) {
	r := d.Request
	add := func(o cure.Origin, text string) {
		if o != cure.Unset && o != cure.Asked {
			all = append(all, assumption{o, text})
		}
	}
	add(r.Region.Origin, l.say("region %s", string(r.Region.Value)))
	if r.Method.Value != cure.Ground {
		add(r.Method.Origin, methodName(l, r.Method.Value.String()))
	}
	switch a := r.Agent.Value; {
	case a.Kind == cure.NoCure:
		add(r.Agent.Origin, l.say("no cure"))
	case r.Agent.Origin != cure.Asked:
		add(r.Agent.Origin, l.say("%s of %s", agentName(l, a), strengthOf(l, a)))
	case r.Strength != cure.Asked:
		add(r.Strength, l.say("%s of %s", agentName(l, a), strengthOf(l, a)))
	}
	if r.Agent.Value.Nitrite > 0 {
		add(r.Nitrite.Origin, l.say("target %s nitrite", ppm(r.Nitrite.Value)))
	}
	add(r.Salt.Origin, l.say("%s salt in all", percent(r.Salt.Value, 2)))
	add(r.Sugar.Origin, l.say("%s sugar", percent(r.Sugar.Value, 2)))
	add(r.Days.Origin, span(l, r.Days.Value))
	add(r.Ascorbate.Origin, l.say("%s ascorbate or erythorbate", ppm(r.Ascorbate.Value)))
	if r.Method.Value == cure.Injection || r.Method.Value == cure.InjectionCover {
		add(r.Pump.Origin, l.say("pumped %s", percent(r.Pump.Value, 1)))
	}
	if d.Time.Criterion {
		add(r.Thickness.Origin, l.say("%s cm thick", trimmed(float64(r.Thickness.Value)/10, 1)))
		add(r.Temperature.Origin, l.say("at %s °C", trimmed(float64(r.Temperature.Value), 1)))
	}
	add(r.SkinOn.Origin, map[bool]string{true: l.say("skin on"), false: l.say("skin off")}[r.SkinOn.Value])
	add(r.Heated.Origin, map[bool]string{true: l.say("cooked or hot smoked afterwards"), false: l.say("not heated afterwards")}[r.Heated.Value])
	add(r.CureScale.Origin, l.say("cure scale reads to %s", grams(r.CureScale.Value, 0)))
	return all
}

func originWords(l tongue, o cure.Origin) string {
	switch o {
	case cure.FromRecipe:
		return l.say("the recipe")
	case cure.FromJar:
		return l.say("the jar")
	case cure.FromKitchen:
		return l.say("the kitchen's setting")
	case cure.FromCut:
		return l.say("usual for this cut")
	}
	return l.say("the usual rule")
}

// planDay is the day that a batch started now would come out of the cure.
func planDay(l tongue, d cure.Dose, from time.Time, zone *time.Location) string {
	return day(l, from.Add(d.Time.PlanFor), zone)
}
