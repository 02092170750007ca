package bot

import (
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// Words are what a terminal completes.
func Words() []string { return grammar.Words() }

// questionWords are a question of the grammar; token is what was typed at the place.
func questionWords(l tongue, code, token string) string {
	switch code {
	case "gallon":
		return l.say("US or imperial gallon? They differ by a fifth.")
	case "quart":
		return l.say("US or imperial quart? They differ by a fifth.")
	case "fluid ounce":
		return l.say("US or imperial fluid ounce? 29.6 and 28.4 ml: they are not the same.")
	case "pint":
		return l.say("US or imperial pint? They differ by a fifth.")
	case "range":
		return l.say("Which is it, %s? One number is reckoned with.", quoted(token))
	case "about":
		return l.say("How much is it on the scale, %s? A dose rests on the weight.", quoted(token))
	case "pieces":
		return l.say("Is %s the weight of each piece, or of all?", quoted(token))
	case "grams":
		return l.say("Is %s kilograms and grams?", quoted(token))
	case "livre":
		return l.say("Is the unit in %s 500 g, or a pound of 453.6 g?", quoted(token))
	case "degree":
		return l.say("Celsius or Fahrenheit: %s?", quoted(token))
	case "hour":
		return l.say("Which hour is %s?", quoted(token))
	case "spaced":
		return l.say("Is %s one number, or so many of so much?", quoted(token))
	case "date order":
		return l.say("Which day is %s? A chef can settle it for good:  date order day first .", quoted(token))
	case "day":
		return l.say("Is %s a date, or a day out of so many?", quoted(token))
	case "per what":
		return l.say("%s of what?", quoted(token))
	case "no unit":
		return l.say("What is %s? It has no unit.", quoted(token))
	case "which weight":
		return l.say("Is %s the green weight, or what it weighs now?", quoted(token))
	case "ounce":
		return l.say("Ounces by volume or by weight?")
	case "thousands":
		return l.say("Is the mark in %s for decimals or for thousands?", token)
	case "pink salt":
		return l.say("Which curing salt is %s? Read the bag; table, rock or sea salt that is pink is no cure.", quoted(token))
	case "misspelt":
		return l.say("Which curing salt is %s? Names of salts are never guessed.", quoted(token))
	case "spoon":
		return l.say("How many grams? Curing salt is weighed: level teaspoons of no. 1 have held anything from 5 to 7 g.")
	case "hash":
		return l.say("Is the # in %s for pounds, or the number of the cure?", quoted(token))
	case "t":
		return l.say("Tonne, ton, teaspoon or tablespoon? Type the amount with kg, g, lb or oz.")
	case "ppm":
		return l.say("ppm of what is %s?", quoted(token))
	case "cover":
		return l.say("Is %s the cover pickle of an injected piece, or the water of a brine?", quoted(token))
	case "strength":
		return l.say("Is the strength in %s right? No. 1 is usually 6.25 %% sodium nitrite; a slip of the decimal mark is a factor of ten.", quoted(token))
	}
	return l.say("Which is meant by %s?", quoted(token))
}

// errorWords are a phrase that can't be read.
func errorWords(l tongue, e *grammar.Error) string {
	switch e.Code {
	case "too long":
		return l.say("That line is too long: one phrase at a time, up to 512 letters.")
	case "twice":
		return l.say("That is there twice: %s and %s.", quoted(e.Other), quoted(e.Token))
	case "which salt":
		return l.say("%s may be several curing salts: read the bag, and say no 1, no 2 or nitrited salt beside a weight and a cut.", quoted(e.Token))
	case "unknown cut":
		return l.say("I know no cut %s.", quoted(e.Token))
	case "unknown unit":
		return l.say("%s is no unit that I know.", quoted(e.Token))
	case "no unit":
		return l.say("%s needs a unit: kg, g, lb, oz, days, cm, %%.", quoted(e.Token))
	case "unit":
		return l.say("%s has a unit that doesn't fit here.", quoted(e.Token))
	case "not a number":
		return l.say("%s is no number that I can read.", quoted(e.Token))
	case "per volume":
		return l.say("%s goes by the water. A dose comes from the meat; a check says what a pickle comes to.", quoted(e.Token))
	case "how many":
		return l.say("How many pieces, with %s?", quoted(e.Token))
	case "too big":
		return l.say("%s is more than can be meant.", quoted(e.Token))
	case "zero", "negative":
		return l.say("%s has to be more than nothing.", quoted(e.Token))
	case "of what":
		return l.say("%s of what?", quoted(e.Token))
	case "blank":
		return l.say("%s stands for what you read yourself: type that in its place.", quoted(e.Token))
	case "recipe amount":
		return l.say("A recipe is in per cent of the green weight, and covers every weight: leave %s out.", quoted(e.Token))
	case "recipe name":
		return l.say("%s can't be the name of a recipe: use one to four words, no digits, no cut, cure or command.", quoted(e.Token))
	case "unknown region":
		return l.say("There are no rules here for region %s.", quoted(e.Token))
	case "not a time":
		return l.say("I can't read a time in %s.", quoted(e.Token))
	case "saltpetre":
		return l.say("Saltpetre is dosed on the meat, like  0.5 g/kg saltpetre , and never by the weight of a no. 1 or no. 2.")
	case "celery":
		return l.say("A vegetable powder needs the strength of its lot, from the certificate, like  celery powder 2% .")
	case "nitrite":
		return l.say("Undiluted nitrite never goes onto meat. Name a cure and its strength, like  no 1 6.25% .")
	case "potassium":
		return l.say("No dose of potassium is reckoned here. It is not the same as no. 1 or no. 2, and never goes in by their weight.")
	case "nitrate":
		return l.say("No dose of nitrate is reckoned here. It is not the same as no. 1 or no. 2, and never goes in by their weight.")
	case "amount":
		return l.say("%s is an amount of cure: a dose comes from the meat. Leave it out, and the grams are the answer.", quoted(e.Token))
	case "lacks":
		return lackWords(l, e.Other)
	case "not yet":
		return l.say("That can't be answered here yet.")
	}
	return l.say("I can't make out %s.", quoted(e.Token))
}

// lackWords are what a phrase that asks for figures lacks.
func lackWords(l tongue, what string) string {
	words := map[string]string{"amount": msg("How much? Give the grams."), "cure": msg("Of which cure?"), "weight": msg("How much meat?"), "rate": msg("How much of it on how much meat?"),
		"salt": msg("How much salt?"), "strength": msg("How strong?"), "time": msg("For how long?"), "temperature": msg("At what temperature?"), "day": msg("On which day?")}
	if w, ok := words[what]; ok {
		return l.say(w)
	}
	return l.say("That lacks the %s.", what)
}

func quoted(s string) string { return "“" + strings.TrimSpace(s) + "”" }

// missingWords are what a dose lacks.
func missingWords(l tongue, m *cure.Missing) string {
	switch m.What {
	case "cut":
		return l.say("Which cut?")
	case "pieces":
		return l.say("How much meat? Weigh it first.")
	case "method":
		return l.say("Dry rub, brine or inject?")
	case "water":
		return l.say("How much water does the brine have?")
	case "cover":
		return l.say("How much pickle covers it?")
	case "ppm":
		return l.say("How many ppm? The law here has no figure for what may go in, so none is proposed.")
	case "nitrate":
		return l.say("How many ppm nitrate?")
	case "cure":
		return l.say("Which cure?")
	case "grams":
		return l.say("How many grams? A spoon is not swapped.")
	case "region":
		return l.say("Which region's rules?")
	case "strength":
		return l.say("What strength is the cure? The bag says how many per cent sodium nitrite.")
	}
	return l.say("What is the %s?", m.What)
}

// stopWords say why there is no dose.
func stopWords(l tongue, s *cure.Stop) string {
	switch s.Rule {
	case cure.StopOver:
		return l.say("%s over the limit.", l.say(s.Limit.Agent))
	case cure.StopNitrate:
		return l.say("nitrate is not allowed here: no no. 2.")
	case cure.StopCoupled:
		return l.say("salt and nitrite can't both be met: this cure brings %s %% salt, and %s %% was asked.", trimmed(s.Got, 2), trimmed(s.Max, 2))
	case cure.StopSilent:
		return l.say("above what any region's law allows; this one has no figure of its own.")
	case cure.StopUndiluted:
		return l.say("undiluted nitrite never goes onto meat: a fraction of a gram poisons.")
	case cure.StopNotNitrite:
		return l.say("nitrate is not nitrite: no amount of it is a dose of nitrite.")
	case cure.StopNoNitrate:
		return l.say("there is no figure here to dose nitrate by.")
	case cure.StopSaturated:
		return l.say("so much salt doesn't go into this meat.")
	case cure.StopScale:
		if s.Unit == "g" { // of a mix
			return l.say("the scale is too coarse for this mix: %s is to be weighed, and the least that it weighs to 1 %% is %s.", grams(cure.Gram(s.Got), 0.01), grams(cure.Gram(s.Min), 0.1))
		}
		return l.say("the scale is too coarse for this dose: half a division is %s %% of it.", trimmed(s.Got, 0))
	case cure.StopBrine:
		return l.say("so much salt doesn't dissolve in this pickle.")
	case cure.StopCold:
		if s.Got < s.Min {
			return l.say("it freezes: nothing moves in frozen meat.")
		}
		return l.say("too warm to cure: salting and equalising want 0 to 4.4 °C (40 °F).")
	case cure.StopStrength:
		return l.say("that is no strength of such a cure.")
	case cure.StopAscorbate:
		return l.say("ascorbate and erythorbate go in with nitrite only.")
	case cure.StopTwoTargets:
		return l.say("that is two targets at once.")
	case cure.StopNotMethod:
		return l.say("%s has no place in %s.", valueWords(l, s.What), methodName(l, s.Request.Method.Value.String()))
	case cure.StopNotCut:
		return l.say("%s is not cured by %s.", cutName(l, s.Request.Cut), methodName(l, s.What))
	case cure.StopImplausible:
		if n := len(s.Request.Thicknesses); n > 0 && n != len(s.Request.Pieces) {
			return l.say("%d thicknesses go with as many pieces, each with its weight.", n)
		}
		return l.say("that figure can't be meant: %s.", valueWords(l, s.What))
	}
	return s.Rule + "."
}

// valueWords name a value of a request.
func valueWords(l tongue, what string) string {
	words := map[string]string{"pieces": msg("the weight of the meat"), "nitrite": msg("the ppm"), "rate": msg("the amount of cure"), "salt": msg("the salt"),
		"sugar": msg("the sugar"), "ascorbate": msg("the ascorbate"), "thickness": msg("the thickness"), "sides": msg("the size"), "water": msg("the water"), "cover": msg("the cover pickle"),
		"pump": msg("the pump"), "days": msg("the days"), "scale": msg("the division of the scale"), "skin": msg("the skin"),
		"core": msg("core"), "cure": msg("cure"), "marinade": msg("marinade"), "nitrate": msg("nitrate"), "pickle": msg("pickle"), "spoon": msg("spoon")}
	if w, ok := words[what]; ok {
		return l.say(w)
	}
	return what
}

// stopNext says what would do instead.
func stopNext(l tongue, s *cure.Stop) string {
	switch s.Rule {
	case cure.StopOver:
		return l.say("Ask for less, or leave the ppm out: the usual dose keeps under the limit.")
	case cure.StopNitrate:
		return l.say("Use a no. 1, like  no 1 6.25% .")
	case cure.StopCoupled:
		return l.say("%s %% salt would give %s; %s needs %s %% salt, or a stronger cure.", trimmed(s.Max, 2), ppm(s.PPM), ppm(s.Request.Nitrite.Value), trimmed(s.Got, 2))
	case cure.StopUndiluted:
		return l.say("Make a house cure of it first, like  mix 2 kg house cure, 150 ppm at 2.5% , or use a no. 1.")
	case cure.StopNotNitrite, cure.StopNoNitrate:
		return l.say("Use a cure with nitrite, like  no 1 6.25%  or  no 2 6.25% + 4% .")
	case cure.StopSilent:
		return l.say("Ask for less, and let the approver say why.")
	case cure.StopSaturated:
		return l.say("Ask for less salt.")
	case cure.StopScale:
		next := l.say("Use a finer scale")
		if s.Scale > 0 {
			next += " (" + trimmed(float64(s.Scale), 4) + " g)"
		}
		if s.Unit == "g" {
			return next + l.say(", or make more at once (from %s it is weighed to 0.1 %%).", grams(s.Meat, 1))
		}
		if s.Meat > 0 {
			next += l.say(", or cure more at once (from %s)", grams(s.Meat, 1))
		}
		return l.say("%s. A made-down cure is weighed more surely.", next)
	case cure.StopBrine:
		if s.PPM > 0 {
			return l.say("This pickle carries at most %s with this cure: ask for that, pump more, or take a stronger cure.", ppm(s.PPM))
		}
		if s.Salt > 0 {
			return l.say("At most %s salt goes with this pickle: ask for less, or pump more.", percent(s.Salt, 1))
		}
		return l.say("Pump more, or take a stronger cure.")
	case cure.StopCold:
		return l.say("Cure between 0 and 4.4 °C, and measure it.")
	case cure.StopStrength:
		return l.say("Read the bag once more: no. 1 is about 6 %, European nitrited salt 0.4 to 0.9 %.")
	case cure.StopAscorbate:
		return l.say("Name a cure beside it, or leave it out.")
	case cure.StopTwoTargets:
		return l.say("Give the ppm, or the grams a kilo, not both.")
	case cure.StopNotMethod, cure.StopNotCut:
		return l.say("Leave that out, or name the method that is meant.")
	case cure.StopImplausible:
		if n := len(s.Request.Thicknesses); n > 0 && n != len(s.Request.Pieces) {
			return l.say("Give the weights in the same order, like  1.2 kg + 0.8 kg loin, 7 cm + 5 cm thick .")
		}
		return l.say("Check the decimal mark and the unit.")
	}
	return l.say("Type  help dose .")
}

// warnings word the cautions of a dose.
func warnings(l tongue, d cure.Dose) []Warning { return cautionsIn(l, d.Cautions, d) }

// cautionsIn word cautions about a dose, the gravest first.
func cautionsIn(l tongue, all []cure.Caution, d cure.Dose) (out []Warning) {
	for _, level := range []cure.Level{cure.Hold, cure.Warn, cure.Note} {
		for _, c := range all {
			if c.Level == level {
				out = append(out, Warning{Level: c.Level.String(), Code: c.Code, Text: cautionWords(l, c, d)})
			}
		}
	}
	return out
}

// waysThere are the ways to a cured core in less time.
func waysThere(l tongue, d cure.Dose) string {
	ways := []string{l.say("cut it thinner")}
	if d.Request.SkinOn.Value {
		ways = append(ways, l.say("take the skin off"))
	}
	if m := d.Request.Method.Value; m != cure.Injection && m != cure.InjectionCover {
		ways = append(ways, l.say("inject it"))
	}
	or := l.say(", or ")
	return or + strings.Join(ways, or)
}
