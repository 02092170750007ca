package bot

import (
	"fmt"
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// Words are what a terminal completes.
func Words() []string { return grammar.Words() }

// questionWords are a question of the grammar; token is what was typed at the place.
func questionWords(l tongue, code, token string) string {
	switch code {
	case "gallon", "quart", "fluid ounce":
		return "US or imperial " + code + "? They differ by a fifth."
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
		return "Ounces by volume or by weight?"
	case "thousands":
		return "Is the mark in " + token + " for decimals or for thousands?"
	case "pink salt":
		return "Which curing salt is " + quoted(token) + "? Read the bag; table, rock or sea salt that is pink is no cure."
	case "misspelt":
		return "Which curing salt is " + quoted(token) + "? Names of salts are never guessed."
	case "spoon":
		return "How many grams? Curing salt is weighed: level teaspoons of no. 1 have held anything from 5 to 7 g."
	case "hash":
		return "Is the # in " + quoted(token) + " for pounds, or the number of the cure?"
	case "t":
		return "Tonne, ton, teaspoon or tablespoon? Type the amount with kg, g, lb or oz."
	case "ppm":
		return "ppm of what is " + quoted(token) + "?"
	case "cover":
		return "Is " + quoted(token) + " the cover pickle of an injected piece, or the water of a brine?"
	case "strength":
		return "Is the strength in " + quoted(token) + " right? No. 1 is usually 6.25 % sodium nitrite; a slip of the decimal mark is a factor of ten."
	}
	return "Which is meant by " + quoted(token) + "?"
}

// errorWords are a phrase that can't be read.
func errorWords(l tongue, e *grammar.Error) string {
	switch e.Code {
	case "too long":
		return "That line is too long: one phrase at a time, up to 512 letters."
	case "twice":
		return "That is there twice: " + quoted(e.Other) + " and " + quoted(e.Token) + "."
	case "which salt":
		return quoted(e.Token) + " may be several curing salts: read the bag, and say no 1, no 2 or nitrited salt beside a weight and a cut."
	case "unknown cut":
		return "I know no cut " + quoted(e.Token) + "."
	case "unknown unit":
		return quoted(e.Token) + " is no unit that I know."
	case "no unit":
		return quoted(e.Token) + " needs a unit: kg, g, lb, oz, days, cm, %."
	case "unit":
		return quoted(e.Token) + " has a unit that doesn't fit here."
	case "not a number":
		return quoted(e.Token) + " is no number that I can read."
	case "per volume":
		return l.say("%s goes by the water. A dose comes from the meat; a check says what a pickle comes to.", quoted(e.Token))
	case "how many":
		return l.say("How many pieces, with %s?", quoted(e.Token))
	case "too big":
		return quoted(e.Token) + " is more than can be meant."
	case "zero", "negative":
		return quoted(e.Token) + " has to be more than nothing."
	case "of what":
		return quoted(e.Token) + " of what?"
	case "unknown region":
		return "There are no rules here for region " + quoted(e.Token) + "."
	case "not a time":
		return "I can't read a time in " + quoted(e.Token) + "."
	case "saltpetre":
		return "Saltpetre is dosed on the meat, like  0.5 g/kg saltpetre , and never by the weight of a no. 1 or no. 2."
	case "celery":
		return "A vegetable powder needs the strength of its lot, from the certificate, like  celery powder 2% ."
	case "nitrite":
		return "Undiluted nitrite never goes onto meat. Name a cure and its strength, like  no 1 6.25% ."
	case "potassium", "nitrate":
		return "No dose of " + e.Code + " is reckoned here. It is not the same as no. 1 or no. 2, and never goes in by their weight."
	case "amount":
		return quoted(e.Token) + " is an amount of cure: a dose comes from the meat. Leave it out, and the grams are the answer."
	case "lacks":
		return lackWords(l, e.Other)
	case "not yet":
		return "That can't be answered here yet."
	}
	return "I can't make out " + quoted(e.Token) + "."
}

// lackWords are what a phrase that asks for figures lacks.
func lackWords(l tongue, what string) string {
	words := map[string]string{"amount": "How much? Give the grams.", "cure": "Of which cure?", "weight": "How much meat?", "rate": "How much of it on how much meat?",
		"salt": "How much salt?", "strength": "How strong?", "time": "For how long?", "temperature": "At what temperature?", "day": "On which day?"}
	if w, ok := words[what]; ok {
		return w
	}
	return "That lacks the " + what + "."
}

func quoted(s string) string { return "“" + strings.TrimSpace(s) + "”" }

// missingWords are what a dose lacks.
func missingWords(l tongue, m *cure.Missing) string {
	switch m.What {
	case "cut":
		return "Which cut?"
	case "pieces":
		return "How much meat? Weigh it first."
	case "method":
		return "Dry rub, brine or inject?"
	case "water":
		return "How much water does the brine have?"
	case "cover":
		return "How much pickle covers it?"
	case "ppm":
		return "How many ppm? The law here has no figure for what may go in, so none is proposed."
	case "nitrate":
		return "How many ppm nitrate?"
	case "cure":
		return "Which cure?"
	case "grams":
		return "How many grams? A spoon is not swapped."
	case "region":
		return "Which region's rules?"
	case "strength":
		return "What strength is the cure? The bag says how many per cent sodium nitrite."
	}
	return "What is the " + m.What + "?"
}

// stopWords say why there is no dose.
func stopWords(l tongue, s *cure.Stop) string {
	switch s.Rule {
	case cure.StopOver:
		return s.Limit.Agent + " over the limit."
	case cure.StopNitrate:
		return "nitrate is not allowed here: no no. 2."
	case cure.StopCoupled:
		return fmt.Sprintf("salt and nitrite can't both be met: this cure brings %s %% salt, and %s %% was asked.", trimmed(s.Got, 2), trimmed(s.Max, 2))
	case cure.StopSilent:
		return "above what any region's law allows; this one has no figure of its own."
	case cure.StopUndiluted:
		return "undiluted nitrite never goes onto meat: a fraction of a gram poisons."
	case cure.StopNotNitrite:
		return "nitrate is not nitrite: no amount of it is a dose of nitrite."
	case cure.StopNoNitrate:
		return "there is no figure here to dose nitrate by."
	case cure.StopSaturated:
		return "so much salt doesn't go into this meat."
	case cure.StopScale:
		return "the scale is too coarse for this dose: half a division is " + trimmed(s.Got, 0) + " % of it."
	case cure.StopBrine:
		return "so much salt doesn't dissolve in this pickle."
	case cure.StopCold:
		if s.Got < s.Min {
			return "it freezes: nothing moves in frozen meat."
		}
		return "too warm to cure: salting and equalising want 0 to 4.4 °C (40 °F)."
	case cure.StopStrength:
		return "that is no strength of such a cure."
	case cure.StopAscorbate:
		return "ascorbate and erythorbate go in with nitrite only."
	case cure.StopTwoTargets:
		return "that is two targets at once."
	case cure.StopNotMethod:
		return valueWords(l, s.What) + " has no place in " + s.Request.Method.Value.String() + "."
	case cure.StopNotCut:
		return s.Request.Cut + " is not cured by " + s.What + "."
	case cure.StopImplausible:
		if n := len(s.Request.Thicknesses); n > 0 && n != len(s.Request.Pieces) {
			return fmt.Sprintf("%d thicknesses go with as many pieces, each with its weight.", n)
		}
		return "that figure can't be meant: " + valueWords(l, s.What) + "."
	}
	return s.Rule + "."
}

// valueWords name a value of a request.
func valueWords(l tongue, what string) string {
	words := map[string]string{"pieces": "the weight of the meat", "nitrite": "the ppm", "rate": "the amount of cure", "salt": "the salt",
		"sugar": "the sugar", "ascorbate": "the ascorbate", "thickness": "the thickness", "sides": "the size", "water": "the water", "cover": "the cover pickle",
		"pump": "the pump", "days": "the days", "scale": "the division of the scale", "skin": "the skin"}
	if w, ok := words[what]; ok {
		return w
	}
	return what
}

// stopNext says what would do instead.
func stopNext(l tongue, s *cure.Stop) string {
	switch s.Rule {
	case cure.StopOver:
		return "Ask for less, or leave the ppm out: the usual dose keeps under the limit."
	case cure.StopNitrate:
		return "Use a no. 1, like  no 1 6.25% ."
	case cure.StopCoupled:
		return fmt.Sprintf("%s %% salt would give %s; %s needs %s %% salt, or a stronger cure.", trimmed(s.Max, 2), ppm(s.PPM), ppm(s.Request.Nitrite.Value), trimmed(s.Got, 2))
	case cure.StopUndiluted:
		return "Make a house cure of it first, like  mix 2 kg house cure, 150 ppm at 2.5% , or use a no. 1."
	case cure.StopNotNitrite, cure.StopNoNitrate:
		return "Use a cure with nitrite, like  no 1 6.25%  or  no 2 6.25% + 4% ."
	case cure.StopSilent:
		return "Ask for less, and let the approver say why."
	case cure.StopSaturated:
		return "Ask for less salt."
	case cure.StopScale:
		next := "Use a finer scale"
		if s.Scale > 0 {
			next += " (" + trimmed(float64(s.Scale), 4) + " g)"
		}
		if s.Meat > 0 {
			next += ", or cure more at once (from " + grams(s.Meat, 1) + ")"
		}
		return next + ". A made-down cure is weighed more surely."
	case cure.StopBrine:
		if s.PPM > 0 {
			return "This pickle carries at most " + ppm(s.PPM) + " with this cure: ask for that, pump more, or take a stronger cure."
		}
		if s.Salt > 0 {
			return "At most " + percent(s.Salt, 1) + " salt goes with this pickle: ask for less, or pump more."
		}
		return "Pump more, or take a stronger cure."
	case cure.StopCold:
		return "Cure between 0 and 4.4 °C, and measure it."
	case cure.StopStrength:
		return "Read the bag once more: no. 1 is about 6 %, European nitrited salt 0.4 to 0.9 %."
	case cure.StopAscorbate:
		return "Name a cure beside it, or leave it out."
	case cure.StopTwoTargets:
		return "Give the ppm, or the grams a kilo, not both."
	case cure.StopNotMethod, cure.StopNotCut:
		return "Leave that out, or name the method that is meant."
	case cure.StopImplausible:
		if n := len(s.Request.Thicknesses); n > 0 && n != len(s.Request.Pieces) {
			return "Give the weights in the same order, like  1.2 kg + 0.8 kg loin, 7 cm + 5 cm thick ."
		}
		return "Check the decimal mark and the unit."
	}
	return "Type  help dose ."
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
	ways := []string{"cut it thinner"}
	if d.Request.SkinOn.Value {
		ways = append(ways, "take the skin off")
	}
	if m := d.Request.Method.Value; m != cure.Injection && m != cure.InjectionCover {
		ways = append(ways, "inject it")
	}
	return ", or " + strings.Join(ways, ", or ")
}

// cantWrite is posted when nothing can be kept.
const cantWrite = "I can't write my records: nothing you type is kept."
