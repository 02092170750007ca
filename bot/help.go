package bot

// exampleDose is the phrase that everybody is shown first.
const exampleDose = "3.2 kg belly, dry rub, 7 days"

// helpLine answers what the bot was told and can't make anything of.
func helpLine(l tongue) Card {
	return Card{Kind: HelpCard, Title: l.say("I didn't get that."), Next: l.say("A dose:  %s   More:  help", exampleDose)}
}

// helpCard answers "help" and "help TOPIC".
func helpCard(l tongue, topic string) Card {
	c := Card{Kind: HelpCard, Title: l.say("What you can type")}
	switch topic {
	case "dose":
		c.Title = l.say("A dose: weight, cut, method, days, in any order")
		c.Lines = []string{
			exampleDose, "4.5 lb brisket, brine 1 us gal, 10 days, 2% salt", "6 kg boneless ham, inject 10%", "6 kg boneless ham, inject 10%, cover 4 l",
			"10 kg ground pork, no 2, 30 days", l.say("more: %s", "2.5% salt on top · 1% sugar · 120 ppm · no 1 6.25% · nitrited salt 0.6% · no cure · 4 cm thick · skin on · heated · at 3 c"),
			l.say("%s  (answers, makes no batch)", "how much for 3.2 kg belly, dry rub"),
		}
	case "batch":
		c.Title = l.say("A batch, in its thread or as  batch 3: …")
		c.Lines = []string{
			"approve · decline: too salty · never mind · start", "turned · out of the cure · rinsed · rested · smoked · cooked 71 c · chilled · hung · done · finished",
			"turned yesterday 15:00 · snooze 2 h · remind rinse fri 9:00", "hold: bag leaks · release: probe log checked · discard: slimy",
			"in walk-in 2 · now 2.1 kg · ph 5.2 at 24 c · core 61 c · aw 0.89 · meat lot 1123 from North Farm, received at 3 c · served 12 portions",
			l.say("make it 2% salt · actually 3.4 kg · skin on · correct weight 4.2 kg: typed wrong · undo"),
		}
	case "look":
		c.Title = l.say("Looking back")
		c.Lines = []string{"batch 3 · due · due tomorrow · to approve · to start · curing · resting · hanging · held", "who cured belly last month · who cured what this week", "where is 3 · walk-in 2 · walk-in 2 3.1 c · walk-in 2 was at 9 c since 3:00 · hold jar A7: wrong label · incident 1", "label 3 · sheet 3 · chart 3 · export october · blank sheet"}
	case "figures":
		c.Title = l.say("Figures, without a batch")
		c.Lines = []string{
			"check 12 g no 1 + 80 g salt on 3.2 kg belly · how long 6 cm ham, dry rub · which cure for 9 month ham",
			"swap 6.5 g no 1 for nitrited salt 0.6% on 2.6 kg brisket · mix 2 kg house cure, 150 ppm at 2.5%",
			"4 l brine at 60 sal · soak 3 kg at 5% salt in 6 l · aw 3.5% salt 60% water",
			"dry 1000 g, 900 g day 7, 830 g day 14, to 30% · ferment 24 c 10 h, 30 c 10 h, ph 5.5",
			"cook log 58 c 20 min, 60 c 12 min · cooling 54 c to 27 c in 4 h, to 7 c in 9 h · cold log 3 c 12 h, 9 c 2 h · freeze -20 c 20 days, 12 cm pork",
		}
	case "kitchen":
		c.Title = l.say("Setting up (chefs)")
		c.Lines = []string{"region us · region eu · zone Europe/Paris · date order day first · cure scale 0.1 g · chef @ana · own approval on · own mixes on"}
	default:
		c.Lines = []string{l.say("a dose:  %s", exampleDose), l.say("a batch:  approve · start · turned · done · snooze 2 h   (help batch)"), l.say("look back:  due · batch 3 · who cured belly last month   (help look)")}
		c.Next = l.say("More:  help dose · help figures · help batch · help look · help kitchen")
	}
	return c
}

// emergencyNumbers are the number to call, by region, with its source.
var emergencyNumbers = map[string]struct{ call, source string }{
	"us":    {msg("911; poison centre 1-800-222-1222"), msg("national numbers, from memory")},
	"eu":    {"112", msg("Directive (EU) 2018/1972, art. 109: single European emergency number, from memory")},
	"gb":    {msg("999 or 112"), msg("national numbers, from memory")},
	"ca":    {"911", msg("national number, from memory")},
	"au-nz": {msg("000 in Australia, 111 in New Zealand"), msg("national numbers, from memory")},
	"jp":    {"119", msg("national number, from memory")},
	"cn":    {"120", msg("national number, from memory")},
}

// emergencyCards are in the language of who calls for help, and in the kitchen's beneath.
func emergencyCards(theirs, ours tongue, region string) Card {
	c := emergencyCard(theirs, region)
	if theirs == ours {
		return c
	}
	return above(theirs, c, ours, emergencyCard(ours, region))
}

// emergencyCard comes before everything else. No sums of doses stand on it. In English it has
// a short line for those who read another language.
func emergencyCard(l tongue, region string) Card {
	n, ok := emergencyNumbers[region]
	if !ok {
		n.call = msg("your emergency number")
	}
	c := Card{Kind: EmergencyCard, Title: l.say("EMERGENCY. Call %s now.", l.say(n.call)),
		Lines: []string{
			l.say("Say: suspected nitrite poisoning, methaemoglobinaemia."),
			l.say("Nobody else eats it. Keep the food, the bag and its label for the medics."),
			l.say("Stay with the person. Tell whoever is in charge."),
		}}
	if l == english {
		c.Lines = append(c.Lines,
			"ES: llama ya al "+n.call+": posible intoxicación por nitrito. Que nadie más coma; guarda la comida.",
			"FR : appelez tout de suite le "+n.call+" : intoxication au nitrite possible. Que personne n'en mange ; gardez les restes.")
	}
	if n.source != "" {
		c.Small = l.say("Number: %s.", l.say(n.source))
	}
	return c
}
