package bot

import (
	"strings"

	"salthand/cure"
)

// cautionWords word one caution about a dose.
func cautionWords(l tongue, c cure.Caution, d cure.Dose) string {
	got, bound := trimmed(c.Got, 2), trimmed(c.Bound, 2)
	switch c.Code {
	case cure.CodeStrength:
		return l.say("a name is not a strength: read %s %% sodium nitrite off the bag before you weigh", got)
	case cure.CodeFloated:
		return l.say("the cure brings all the salt, %s %%: add none", got)
	case cure.CodeSaltLowered:
		return l.say("this pickle holds %s %% salt in the meat, not %s %%", got, bound)
	case cure.CodeStrongBrine:
		return l.say("a strong pickle, %s %% salt: saturation is at %s %%; dissolve it cold and stir", got, bound)
	case cure.CodeSaltHigh:
		return l.say("%s %% salt is a lot", got)
	case cure.CodeSaltLow:
		return l.say("%s %% salt is little: salt is part of what keeps it", got)
	case cure.CodeScaleBand:
		return l.say("%s ± %s ppm by the cure scale alone (k = 2): %s", trimmed(float64(d.Nitrite), 0), trimmed(c.Got, 0), finerWays(l, d))
	case cure.CodeAscorbate:
		return l.say("the ascorbate, %s g, is little for this scale", trimmed(c.Got, 3))
	case cure.CodeAtLimit:
		return l.say("on the limit: weigh exactly, never more")
	case cure.CodeBelowMin:
		return l.say("below %s ppm, the least for goods kept refrigerated: the approver is asked for the reason", bound)
	case cure.CodeUnverified:
		return l.say("%s ppm passes a maximum of %s that is not confirmed: the approver is asked for the reason", got, bound)
	case cure.CodeResidual:
		return l.say("what is left in the finished food, at most %s ppm, can't be told from a recipe", bound)
	case cure.CodeCoreBehind:
		return l.say("after %s the core likely has %s of what it will get: plan for %s%s", days(l, d.Request.Days.Value), percent(cure.Fraction(c.Got), 0), days(l, d.Time.PlanFor), waysThere(l, d))
	case cure.CodeCoreUnlikely:
		return l.say("a piece this thick would need %s days%s", trimmed(c.Got, 0), waysThere(l, d))
	case cure.CodeNoCure:
		return l.say("no nitrite: this is salted raw meat. It is not kept, smoked cold or packed airless like cured meat")
	case cure.CodePoultry:
		return l.say("poultry: cook it to 74 °C (165 °F) unless your plan says otherwise")
	case cure.CodeGame:
		return l.say("game: curing, drying and freezing don't reliably kill its parasites; cook it to 71 °C (160 °F), and ask whether it may be sold")
	case cure.CodeNeedles:
		return l.say("the days are for a needle every %s mm; wider apart they grow with the square", trimmed(c.Got, 0))
	case cure.CodeWarm:
		return l.say("%s °C is warm for curing: keep it at or below %s °C (40 °F)", got, bound)
	case cure.CodeBoar:
		return l.say("wild boar: its worms stand freezing, curing and drying; it has to be cooked to 71 °C (160 °F)")
	case cure.CodeFish:
		return l.say("fish: parasites live through salt, and botulinum grows from 3.3 °C on: freeze it first, keep it at or below 3 °C, days and not weeks")
	case cure.CodeBoxCure:
		return l.say("%s g of cure is rubbed on by weight first, and never mixed into the box salt", got)
	case cure.CodeBoxShort:
		return l.say("too short in the box: the mean is likely %s %% salt, not %s %%", got, bound)
	case cure.CodeBoxLong:
		return l.say("too long in the box: the mean is likely %s %% salt, not %s %%", got, bound)
	case cure.CodeTaste:
		return l.say("salted for taste: the days are no measure of curing")
	case cure.CodeConfit:
		return l.say("confit is no cure: under fat there is no air, and botulinum grows from %s °C on. Keep it cold, with a date, or frozen", got)
	case cure.CodeNitrateOnly:
		return l.say("nitrate alone does nothing until bacteria have turned it into nitrite, slowly and not in the cold")
	case cure.CodeSaltpetre:
		return l.say("saltpetre is potassium nitrate: a gram of it counts for %s g of sodium nitrate", trimmed(c.Got, 3))
	case cure.CodePowder:
		return l.say("the strength of a vegetable powder is that of one lot, from its certificate; celery is an allergen")
	case cure.CodeSilent:
		if c.Got == 0 {
			return l.say("the law here has no figure for how much nitrite may go in: none is proposed")
		}
		return l.say("the law here has no figure for how much may go in: the approver is asked for the reason")
	case cure.CodeLongHanging:
		return l.say("for %s days: nitrite alone is used up long before; no. 2 is made for what hangs for months", got)
	}
	return checkWords(l, c)
}

// finerWays are the ways to weigh a small dose more surely.
func finerWays(l tongue, d cure.Dose) string {
	w := cure.Weighing{Meat: d.BasisMass, Agent: d.Request.Agent.Value, CureScale: d.Request.CureScale.Value}
	for _, a := range d.Add {
		if a.Item == cure.CureItem {
			w.Cure = a.Exact
		}
	}
	b, err := cure.WeighingBand(w)
	if err != nil {
		return l.say("weigh on a finer scale, or cure more at once")
	}
	var ways []string
	if b.Remedy.Scale > 0 {
		ways = append(ways, l.say("a scale of %s", grams(b.Remedy.Scale, 0)))
	}
	if b.Remedy.Meat > 0 {
		ways = append(ways, l.say("more at once, from %s", grams(b.Remedy.Meat, 1)))
	}
	if b.Remedy.Weaker > 0 {
		ways = append(ways, l.say("a cure made down to %s", percent(b.Remedy.Weaker, 2)))
	}
	return strings.Join(ways, l.say(", or "))
}

// checkWords word the cautions of what was done, and of what takes the place of a cure.
func checkWords(l tongue, c cure.Caution) string {
	got, bound := trimmed(c.Got, 1), trimmed(c.Bound, 2)
	switch c.Code {
	case cure.CodeOver:
		return l.say("%s ppm went in, over the limit of %s. Nothing takes it out again: not rinsing, soaking, cooking or smoking", got, bound)
	case cure.CodeMayBeOver:
		return l.say("it may be over the limit: up to %s ppm, and %s is allowed", got, bound)
	case cure.CodeMayBeUnder:
		return l.say("it may be too little: as low as %s ppm, and %s is the least", got, bound)
	case cure.CodeForbidden:
		return l.say("%s ppm nitrate went in, where none is allowed", got)
	case cure.CodeSpoon:
		return l.say("it was measured by volume: anything from %s to %s ppm. Weigh what such a spoon holds", got, trimmed(c.Bound, 0))
	case cure.CodeMarinade:
		return l.say("how much went into the meat is not known: anything from %s to %s ppm", got, trimmed(c.Bound, 0))
	case cure.CodePumpAndSoak:
		return l.say("pump and cover both count: %s ppm from the pump, %s when it is even with the cover", got, trimmed(c.Bound, 0))
	case cure.CodeNoNitrite:
		return l.say("no nitrite is in it: it is not cured, whatever its colour")
	case cure.CodeNitrateIn:
		return l.say("%s ppm nitrate is in it, from a cure with nitrate where one without was meant", got)
	case cure.CodeNitrateLack:
		return l.say("no nitrate is in it: nitrite alone is spent long before months of hanging are over")
	case cure.CodeOtherCure:
		return l.say("another kind of cure than was meant")
	case cure.CodeAboveTarget:
		return l.say("above the target of %s ppm", bound)
	case cure.CodeBelowTarget:
		return l.say("below the target of %s ppm", bound)
	case cure.CodeTopUpLate:
		return l.say("too late to add what is missing")
	case cure.CodeNoTopUp:
		return l.say("what is missing can't be added any more")
	case cure.CodeNitrateLost:
		return l.say("the nitrate of the old cure, %s ppm, is not in the new one", got)
	case cure.CodeNitrateGained:
		return l.say("the new cure brings nitrate, %s ppm", got)
	case cure.CodeByDose:
		return l.say("a nitrate is not swapped by weight: this is the dose on the meat for %s ppm nitrite", got)
	case cure.CodeUndiluted:
		return l.say("undiluted: it never goes onto meat; make a house cure of it first")
	case cure.CodeAllergen:
		return l.say("celery and the like have to be declared")
	case cure.CodeLotStrength:
		return l.say("its strength is that of one lot: read the certificate")
	}
	return c.Code
}
