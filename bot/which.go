package bot

import (
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// cutOf is the cut that a product is made of, where only the product was said. Common
// practice, no source.
var cutOf = map[string]string{"bacon": "pork belly", "pancetta": "pork belly", "salami": "ground pork", "sausage": "ground pork", "bresaola": "eye of round",
	"corned beef": "beef brisket", "pastrami": "beef brisket", "ham": "boneless ham", "prosciutto": "bone-in ham",
	"guanciale": "pork jowl", "summer sausage": "ground pork", "pepperoni": "ground pork", "capocollo": "coppa", "lox": "salmon", "gravlax": "salmon"}

// which answers which cure goes with a product, and why.
func (f figured) which(c grammar.WhichCure, s Settings) figured {
	o := cure.Occasion{Region: s.Region, On: s.Today, Cut: c.Meat.Cut, Method: c.Meat.Method, Heated: c.Meat.Heated, Hanging: c.Hang.Value}
	if o.Cut == "" {
		o.Cut = cutOf[c.Product]
	}
	a, err := cure.Which(o)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	var kinds, names []string
	for _, k := range a.Kinds {
		kinds, names = append(kinds, k.String()), append(names, kindWords(f.l, k))
	}
	f.answer.Cut, f.answer.Class, f.answer.Answer = a.Occasion.Cut, a.Class, strings.Join(kinds, " or ")
	f.answer.Assumed = append(f.answer.Assumed, assumed(f.l, cure.Dose{Request: cure.Request{Region: o.Region, Method: a.Occasion.Method, Heated: a.Occasion.Heated}})...)
	f.card.Title = f.l.say("%s, for %s", strings.Join(names, f.l.say(" or ")), f.answer.Phrase[len("which cure for "):])
	var why []string
	for _, r := range a.Reasons {
		why = append(why, reasonWords(f.l, r))
	}
	f.fact(f.l.say("why"), why...)
	var barred []string
	for _, b := range a.Barred {
		line := f.l.say("%s: %s", kindWords(f.l, b.Kind), barredWords(f.l, b))
		barred = append(barred, line)
	}
	f.fact(f.l.say("not"), barred...)
	f.fact(f.l.say("rule"), f.l.say("region %s, %s", a.Occasion.Region.Value, f.l.say(a.Class)))
	f.fact(f.l.say("assumed"), assumedByOrigin(f.l, cure.Dose{Request: cure.Request{Region: o.Region, Method: a.Occasion.Method, Heated: a.Occasion.Heated}})...)
	f.card.Next = f.l.say("For the grams, name the meat, like  %s .", exampleDose)
	f.card.Small = f.l.say(shortCaution)
	return f
}

// The kinds, as cure names them: said by those names.
var _ = []string{
	msg("no cure"), msg("no. 1"), msg("no. 2"), msg("nitrited salt"), msg("house cure"), msg("sodium nitrite"), msg("sodium nitrate"), msg("saltpetre"),
	msg("vegetable powder"),
}

// kindWords are what a kind of cure is called.
func kindWords(l tongue, k cure.AgentKind) string {
	return l.say(k.String())
}

func reasonWords(l tongue, r cure.Reason) string {
	bound := trimmed(r.Bound, 2)
	words := map[string]string{
		cure.WhyTaste:      l.say("it is salted for taste and cooked or eaten soon: nitrite is not what keeps it"),
		cure.WhySilent:     l.say("the law here says how much may be left in the food, and not how much may go in: nothing is proposed"),
		cure.WhyHeated:     l.say("it is heated: nitrate has no time to turn into nitrite before that"),
		cure.WhyShort:      l.say("it is eaten within %s days: nitrite alone lasts as long", bound),
		cure.WhyLong:       l.say("it hangs %s days: nitrite alone is spent by then, and nitrate slowly makes more of it", trimmed(r.Got, 0)),
		cure.WhyNoNitrate:  l.say("it hangs long, and yet nitrate is not allowed here"),
		cure.WhyLimit:      l.say("at most %s ppm sodium nitrite goes in", bound),
		cure.WhyTotal:      l.say("nitrite and nitrate count together, at most %s ppm", bound),
		cure.WhyUnverified: l.say("the figure that lets nitrate in, %s ppm, is from memory: confirm it", bound),
	}[r.Code]
	if words == "" {
		words = r.Code
	}
	if r.Limit != nil {
		words += " (" + r.Limit.Source + ", " + seenWords(l, r.Limit.Seen) + ")"
	}
	return words
}

func barredWords(l tongue, b cure.Barred) string {
	words := map[string]string{
		cure.WhyNoNitrate: l.say("nitrate is not allowed here"),
		cure.WhyNoFigure:  l.say("there is no figure to dose it by"),
		cure.WhyUndiluted: l.say("undiluted nitrite never goes onto meat: a fraction of a gram poisons"),
		cure.WhyHeated:    l.say("heat comes before nitrate has turned into nitrite"),
		cure.WhyShort:     l.say("too short for nitrate"),
		cure.WhyTaste:     l.say("it is salted for taste"),
	}[b.Code]
	if words == "" {
		words = b.Code
	}
	if b.Limit != nil {
		words += " (" + b.Limit.Source + ", " + seenWords(l, b.Limit.Seen) + ")"
	}
	return words
}
