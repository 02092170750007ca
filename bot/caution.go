package bot

import (
	"fmt"
	"strings"

	"salthand/cure"
)

// cautionWords word one caution about a dose.
func cautionWords(l tongue, c cure.Caution, d cure.Dose) string {
	got, bound := trimmed(c.Got, 2), trimmed(c.Bound, 2)
	switch c.Code {
	case cure.CodeStrength:
		return "a name is not a strength: read " + got + " % sodium nitrite off the bag before you weigh"
	case cure.CodeFloated:
		return "the cure brings all the salt, " + got + " %: add none"
	case cure.CodeSaltLowered:
		return "this pickle holds " + got + " % salt in the meat, not " + bound + " %"
	case cure.CodeStrongBrine:
		return "a strong pickle, " + got + " % salt: saturation is at " + bound + " %; dissolve it cold and stir"
	case cure.CodeSaltHigh:
		return got + " % salt is a lot"
	case cure.CodeSaltLow:
		return got + " % salt is little: salt is part of what keeps it"
	case cure.CodeScaleBand:
		return fmt.Sprintf("%s ± %s ppm by the cure scale alone (k = 2): %s", trimmed(float64(d.Nitrite), 0), trimmed(c.Got, 0), finerWays(l, d))
	case cure.CodeAscorbate:
		return "the ascorbate, " + trimmed(c.Got, 3) + " g, is little for this scale"
	case cure.CodeAtLimit:
		return "on the limit: weigh exactly, never more"
	case cure.CodeBelowMin:
		return "below " + bound + " ppm, the least for goods kept refrigerated: the approver is asked for the reason"
	case cure.CodeUnverified:
		return got + " ppm passes a maximum of " + bound + " that is not confirmed: the approver is asked for the reason"
	case cure.CodeResidual:
		return "what is left in the finished food, at most " + bound + " ppm, can't be told from a recipe"
	case cure.CodeCoreBehind:
		words := fmt.Sprintf("after %s the core likely has %s of what it will get: plan for %s", days(l, d.Request.Days.Value), percent(cure.Fraction(c.Got), 0), days(l, d.Time.PlanFor))
		return words + waysThere(l, d)
	case cure.CodeCoreUnlikely:
		return "a piece this thick would need " + trimmed(c.Got, 0) + " days" + waysThere(l, d)
	case cure.CodeNoCure:
		return "no nitrite: this is salted raw meat. It is not kept, smoked cold or packed airless like cured meat"
	case cure.CodePoultry:
		return "poultry: cook it to 74 °C (165 °F) unless your plan says otherwise"
	case cure.CodeGame:
		return "game: curing, drying and freezing don't reliably kill its parasites; cook it to 71 °C (160 °F), and ask whether it may be sold"
	case cure.CodeNeedles:
		return "the days are for a needle every " + trimmed(c.Got, 0) + " mm; wider apart they grow with the square"
	case cure.CodeWarm:
		return got + " °C is warm for curing: keep it at or below " + bound + " °C (40 °F)"
	case cure.CodeBoar:
		return "wild boar: its worms stand freezing, curing and drying; it has to be cooked to 71 °C (160 °F)"
	case cure.CodeFish:
		return "fish: parasites live through salt, and botulinum grows from 3.3 °C on: freeze it first, keep it at or below 3 °C, days and not weeks"
	case cure.CodeBoxCure:
		return got + " g of cure is rubbed on by weight first, and never mixed into the box salt"
	case cure.CodeBoxShort:
		return "too short in the box: the mean is likely " + got + " % salt, not " + bound + " %"
	case cure.CodeBoxLong:
		return "too long in the box: the mean is likely " + got + " % salt, not " + bound + " %"
	case cure.CodeTaste:
		return "salted for taste: the days are no measure of curing"
	case cure.CodeConfit:
		return "confit is no cure: under fat there is no air, and botulinum grows from " + got + " °C on. Keep it cold, with a date, or frozen"
	case cure.CodeNitrateOnly:
		return "nitrate alone does nothing until bacteria have turned it into nitrite, slowly and not in the cold"
	case cure.CodeSaltpetre:
		return "saltpetre is potassium nitrate: a gram of it counts for " + trimmed(c.Got, 3) + " g of sodium nitrate"
	case cure.CodePowder:
		return "the strength of a vegetable powder is that of one lot, from its certificate; celery is an allergen"
	case cure.CodeSilent:
		if c.Got == 0 {
			return "the law here has no figure for how much nitrite may go in: none is proposed"
		}
		return "the law here has no figure for how much may go in: the approver is asked for the reason"
	case cure.CodeLongHanging:
		return "for " + got + " days: nitrite alone is used up long before; no. 2 is made for what hangs for months"
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
		return "weigh on a finer scale, or cure more at once"
	}
	var ways []string
	if b.Remedy.Scale > 0 {
		ways = append(ways, "a scale of "+grams(b.Remedy.Scale, 0))
	}
	if b.Remedy.Meat > 0 {
		ways = append(ways, "more at once, from "+grams(b.Remedy.Meat, 1))
	}
	if b.Remedy.Weaker > 0 {
		ways = append(ways, "a cure made down to "+percent(b.Remedy.Weaker, 2))
	}
	return strings.Join(ways, ", or ")
}

// checkWords word the cautions of what was done, and of what takes the place of a cure.
func checkWords(l tongue, c cure.Caution) string {
	got, bound := trimmed(c.Got, 1), trimmed(c.Bound, 2)
	switch c.Code {
	case cure.CodeOver:
		return got + " ppm went in, over the limit of " + bound + ". Nothing takes it out again: not rinsing, soaking, cooking or smoking"
	case cure.CodeMayBeOver:
		return "it may be over the limit: up to " + got + " ppm, and " + bound + " is allowed"
	case cure.CodeMayBeUnder:
		return "it may be too little: as low as " + got + " ppm, and " + bound + " is the least"
	case cure.CodeForbidden:
		return got + " ppm nitrate went in, where none is allowed"
	case cure.CodeSpoon:
		return "it was measured by volume: anything from " + got + " to " + trimmed(c.Bound, 0) + " ppm. Weigh what such a spoon holds"
	case cure.CodeMarinade:
		return "how much went into the meat is not known: anything from " + got + " to " + trimmed(c.Bound, 0) + " ppm"
	case cure.CodePumpAndSoak:
		return "pump and cover both count: " + got + " ppm from the pump, " + trimmed(c.Bound, 0) + " when it is even with the cover"
	case cure.CodeNoNitrite:
		return "no nitrite is in it: it is not cured, whatever its colour"
	case cure.CodeNitrateIn:
		return got + " ppm nitrate is in it, from a cure with nitrate where one without was meant"
	case cure.CodeNitrateLack:
		return "no nitrate is in it: nitrite alone is spent long before months of hanging are over"
	case cure.CodeOtherCure:
		return "another kind of cure than was meant"
	case cure.CodeAboveTarget:
		return "above the target of " + bound + " ppm"
	case cure.CodeBelowTarget:
		return "below the target of " + bound + " ppm"
	case cure.CodeTopUpLate:
		return "too late to add what is missing"
	case cure.CodeNoTopUp:
		return "what is missing can't be added any more"
	case cure.CodeNitrateLost:
		return "the nitrate of the old cure, " + got + " ppm, is not in the new one"
	case cure.CodeNitrateGained:
		return "the new cure brings nitrate, " + got + " ppm"
	case cure.CodeByDose:
		return fmt.Sprintf("a nitrate is not swapped by weight: this is the dose on the meat for %s ppm nitrite", got)
	case cure.CodeUndiluted:
		return "undiluted: it never goes onto meat; make a house cure of it first"
	case cure.CodeAllergen:
		return "celery and the like have to be declared"
	case cure.CodeLotStrength:
		return "its strength is that of one lot: read the certificate"
	}
	return c.Code
}
