package grammar

import (
	"strconv"
	"strings"
	"time"

	"salthand/cure"
)

// isFigure reports whether a command asks for figures.
func isFigure(c Command) bool {
	switch c.(type) {
	case Check, Swap, Mix, HowLong, WhichCure, Brine, Desalt, Rub, Dry, Ferment, Cook, Cold, Cooling, Freeze, WaterActivity:
		return true
	}
	return false
}

// canonicalFigure writes a phrase that asks for figures; "" for any other.
func canonicalFigure(c Command) string {
	switch c := c.(type) {
	case Check:
		return canonicalCheck(c)
	case Swap:
		out := "swap " + canonicalAmount(c.From) + " for " + canonicalAmount(c.To) + substance(c.Salt, "+ ", "salt")
		return onMeat(out, c.Meat)
	case Mix:
		return canonicalMix(c)
	case HowLong:
		if len(c.Log) > 0 {
			return "how long " + canonicalDose(c.Meat) + ", " + canonicalSpells(c.Log)
		}
		return "how long " + canonicalDose(c.Meat)
	case WhichCure:
		return canonicalWhich(c)
	case Brine:
		return canonicalBrine(c)
	case Desalt:
		out := "soak " + strings.TrimPrefix(canonicalDose(c.Meat)+", "+c.Product, ", ")
		out = strings.TrimSuffix(out, ", ")
		out += ", " + percentage(c.Salt.Value) + " salt"
		if c.Want.Set() {
			out += ", to " + percentage(c.Want.Value)
		}
		if c.Water.Set() {
			out += ", in" + amountAfter(c.Water, "l", "ml") + " water"
		}
		return out
	case Rub:
		return canonicalRub(c)
	case Dry:
		return canonicalDry(c)
	case Ferment:
		out := "ferment " + canonicalSpells(c.Log)
		if c.PH.Set() {
			out = strings.TrimSuffix(out, " ") + map[bool]string{true: ", ", false: " "}[len(c.Log) > 0] + "ph " + plainNumber(float64(c.PH.Value))
		}
		return out + against("", c.Against)
	case Cook:
		return "cook log " + canonicalSpells(c.Log)
	case Cold:
		return "cold log " + canonicalSpells(c.Log)
	case Cooling:
		var legs []string
		for _, l := range c.Legs {
			legs = append(legs, celsius(l.From)+" to "+celsius(l.To)+" in "+canonicalSpan(l.In))
		}
		return "cooling " + strings.Join(legs, ", ") + against("", c.Against)
	case Freeze:
		return canonicalFreeze(c)
	case WaterActivity:
		return canonicalActivity(c)
	}
	return ""
}

func celsius(t cure.Celsius) string { return plainNumber(float64(t)) + " c" }

// against writes the second region of two.
func against(first, second cure.Region) string {
	switch {
	case first != "":
		return ", " + string(first) + " and " + string(second)
	case second != "":
		return ", against " + string(second)
	}
	return ""
}

// weighed writes a mass of an ingredient: in grams below a kilogram, in ounces or pounds
// where it was typed so.
func weighed(g cure.Gram) string {
	if g >= 1000 {
		return inUnits(float64(g), "kg", "g", "lb", "oz")
	}
	s := unmistaken(float64(g))
	if _, digits, _ := strings.Cut(s, "."); len(digits) > metricDigits {
		if other, ok := otherUnit(float64(g), "oz", "lb"); ok {
			return other
		}
	}
	return s + " g"
}

// canonicalAmount writes a cure with its quantity and its strength.
func canonicalAmount(a Amount) string {
	d := Dose{Kind: a.Kind, Nitrite: a.Nitrite, Nitrate: a.Nitrate}
	name := canonicalAgent(d)
	if a.Jar != "" {
		name = "jar " + a.Jar
	}
	switch {
	case a.Grams.Set():
		return weighed(a.Grams.Value) + " " + name
	case a.Spoons.Set():
		return plainNumber(a.Spoons.Value.Count) + " " + a.Spoons.Value.Unit + " " + name
	case a.Rate.Set():
		return percentage(a.Rate.Value) + " " + name
	}
	return name
}

// substance writes what was weighed in, "" where it was not.
func substance(g cure.Given[cure.Gram], before, name string) string {
	if !g.Set() {
		return ""
	}
	return " " + before + weighed(g.Value) + " " + name
}

// parts are what went in, joined by "+".
func parts(amounts []Amount, salt, sugar, more cure.Given[cure.Gram], name string) string {
	var out []string
	for _, a := range amounts {
		out = append(out, canonicalAmount(a))
	}
	for _, x := range []struct {
		g    cure.Given[cure.Gram]
		name string
	}{{salt, "salt"}, {sugar, "sugar"}, {more, name}} {
		if x.g.Set() {
			out = append(out, weighed(x.g.Value)+" "+x.name)
		}
	}
	return strings.Join(out, " + ")
}

// onMeat adds what was said of the meat and the method.
func onMeat(out string, d Dose) string {
	meat := strings.TrimPrefix(canonicalDose(d), ", ")
	switch {
	case meat == "":
		return out
	case len(d.Pieces) > 0 || d.Cut != "":
		return out + " on " + meat
	}
	return out + ", " + meat
}

func canonicalCheck(c Check) string {
	out := "check " + parts(c.Amounts, c.Salt, c.Sugar, c.Ascorbate, "erythorbate")
	if c.Marinade.Set() {
		about := ""
		if c.About {
			about = " about"
		}
		out += " in" + about + amountAfter(c.Marinade, "l", "ml") + " marinade"
	}
	return onMeat(out, c.Meat)
}

func canonicalMix(c Mix) string {
	out := "mix "
	made := canonicalAmount(Amount{Kind: c.Kind, Nitrite: c.Nitrite, Nitrate: c.Nitrate, Grams: c.Make})
	switch {
	case c.Make.Set():
		out += made
	default:
		out += canonicalAmount(c.From)
	}
	if c.Salt.Set() {
		out += substance(c.Salt, "in ", "salt")
	}
	if !c.Make.Set() && c.Nitrite.Set() {
		out += ", " + percentage(c.Nitrite.Value)
	}
	if c.Target.Set() {
		out += ", " + plainNumber(float64(c.Target.Value)) + " ppm"
	}
	if c.Rate.Set() {
		out += ", at " + percentage(c.Rate.Value)
	}
	if c.Make.Set() && c.From != (Amount{}) {
		out += " from " + canonicalAmount(c.From)
	}
	if c.Scale.Set() {
		out += ", scale " + unmistaken(float64(c.Scale.Value)) + " g"
	}
	return out
}

func canonicalWhich(c WhichCure) string {
	out := "which cure for " + c.Product
	if c.Hang.Set() {
		out = "which cure for " + canonicalSpan(c.Hang.Value) + " " + c.Product
	}
	meat := strings.TrimPrefix(canonicalDose(c.Meat), ", ")
	switch {
	case meat == "":
		return strings.TrimSuffix(out, " ")
	case c.Product == "":
		return out + meat
	}
	return out + ", " + meat
}

func canonicalBrine(c Brine) string {
	what, out := "brine", ""
	if c.OfWater {
		what = "water"
	}
	switch {
	case c.Volume.Set():
		out = inUnits(float64(c.Volume.Value)*1000, "l", "ml", "us gal", "imp gal", "us qt", "imp qt") + " " + what
	case c.Weight.Set():
		out = weighed(c.Weight.Value) + " " + what
	default:
		out = what
	}
	switch {
	case c.Salometer.Set():
		out += " " + unmistaken(float64(c.Salometer.Value)) + " sal"
	case c.Baume.Set():
		out += " " + unmistaken(float64(c.Baume.Value)) + " be"
	case c.PerLitre.Set():
		out += " " + unmistaken(float64(c.PerLitre.Value)) + " g/l"
	case c.Salt.Set():
		out += " at " + percentage(c.Salt.Value)
	}
	if c.Temperature.Set() {
		out += ", at " + celsius(c.Temperature.Value)
	}
	return out
}

func canonicalRub(c Rub) string {
	out := "rub " + parts(nil, c.Salt, c.Sugar, c.Spice, "spice")
	if cures := parts(c.Amounts, cure.Given[cure.Gram]{}, cure.Given[cure.Gram]{}, cure.Given[cure.Gram]{}, ""); cures != "" {
		if c.Salt.Set() || c.Sugar.Set() || c.Spice.Set() {
			out += " + "
		}
		out += cures
	}
	if c.Rate.Set() {
		out += " at " + grammesPerKilo(c.Rate.Value)
	}
	return onMeat(out, c.Meat)
}

func canonicalDry(c Dry) string {
	var out []string
	for i, w := range c.Weights {
		s := weighed(w.Gram)
		switch {
		case i == 0 && w.After == 0:
		case w.After%(24*time.Hour) == 0:
			s += " day " + strconv.Itoa(int(w.After/(24*time.Hour)))
		default:
			s += " " + canonicalSpan(w.After)
		}
		out = append(out, s)
	}
	if c.Cut != "" {
		out[0] += " " + c.Cut
	}
	if c.Loss.Set() {
		out = append(out, "to "+percentage(c.Loss.Value))
	}
	if c.Want.Set() {
		out = append(out, "to "+weighed(c.Want.Value))
	}
	return "drying " + strings.Join(out, ", ")
}

func canonicalSpells(log []Spell) string {
	var out []string
	for _, s := range log {
		out = append(out, celsius(s.Temperature)+" "+canonicalSpan(s.For))
	}
	return strings.Join(out, ", ")
}

func canonicalFreeze(c Freeze) string {
	out := "freeze " + celsius(c.Temperature.Value)
	if c.For.Set() {
		out += " " + canonicalSpan(c.For.Value)
	}
	if c.Thickness.Set() {
		out += ", " + plainNumber(float64(c.Thickness.Value)) + " mm"
	}
	for _, s := range []string{c.Product, c.Cut} {
		if s != "" {
			out += ", " + s
		}
	}
	return out
}

func canonicalActivity(c WaterActivity) string {
	out := "aw"
	for _, x := range []struct {
		v    cure.Given[cure.Fraction]
		name string
	}{{c.Salt, "salt"}, {c.Sugar, "sugar"}, {c.Water, "water"}} {
		if x.v.Set() {
			out += " " + percentage(x.v.Value) + " " + x.name
		}
	}
	if c.Solution {
		out += " solution"
	}
	if c.Temperature.Set() {
		out += " at " + celsius(c.Temperature.Value)
	}
	return out
}
