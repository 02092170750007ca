package grammar

import "salthand/cure"

// figure is a phrase that asks for figures, under way: what it says beside what a dose says.
type figure struct {
	name                                              string  // the key of examples
	verb                                              stretch // where it was said
	clause                                            int     // the clause that is being read
	amounts                                           []Amount
	named                                             int  // index behind the token that named the last cure
	source                                            bool // "from" was said: what follows is what a mix is made of
	from                                              Amount
	strength, rate, want                              cure.Given[cure.Fraction]
	salt, sugar, ascorbate, spice, marinade, division cure.Given[cure.Gram]
	product                                           string
	per                                               cure.Given[cure.Gram] // of water: "3 oz per gal"
	about                                             bool                  // of the marinade: "~1.6 l"
	perAt                                             int                   // the token of the amount that was so said last
	facts                                             []fact
}

// examples are the phrases that ask for figures, each by one that works.
var examples = map[string]string{
	"check": "check 12 g no 1 + 80 g salt on 3.2 kg belly", "swap": "swap 6.5 g no 1 for nitrited salt 0.6% on 2.6 kg brisket",
	"mix": "mix 2 kg house cure, 150 ppm at 2.5%", "how long": "how long 6 cm ham, dry rub", "which cure": "which cure for 9 month ham",
	"brine": "4 l brine at 60 sal", "soak": "soak 3 kg at 5% salt in 6 l", "rub": "rub 6 lb salt + 1.5 oz saltpetre at 1.5 oz/lb on 12 lb belly",
	"dry": "dry 1000 g, 900 g day 7, to 35%", "ferment": "ferment 24 c 10 h, 30 c 10 h", "cook log": "cook log 58 c 20 min, 60 c 12 min",
	"cold log": "cold log 3 c 12 h, 9 c 2 h", "cooling": "cooling 54 c to 27 c in 4 h, to 7 c in 9 h", "freeze": "freeze -20 c 10 days, 12 cm pork",
	"aw": "aw 3.5% salt 60% water",
}

// isLog reports whether a phrase is a list of readings, and no word about meat in a cure.
func (f *figure) isLog() bool {
	switch f.name {
	case "brine", "dry", "ferment", "cook log", "cold log", "cooling", "freeze", "aw":
		return true
	}
	return false
}

// asks is the kind of figure that toks[from:] ask for, "" for none, and where what is asked
// about begins.
func (r *reading) asks(from int) (name string, first int) {
	t := r.toks[from:]
	if t[0].kind == verbKind && t[0].value == "how much for" && len(t) > 1 && asksBrine(t[1:]) {
		return "brine", from + 1
	}
	typed := fold(r.text[t[0].start:t[0].end])
	rest := t[1:]
	if kindAt(rest, 0) == cutKind && typed == "dry" { // "dry coppa 1120 g, …"
		rest = rest[1:]
	}
	amount := kindAt(rest, 0) == numberKind && kindAt(rest, 1) == massKind
	switch {
	case t[0].kind == verbKind && examples[t[0].value] != "":
		return t[0].value, from + 1
	case t[0].kind == stepKind && typed == "soak" && amount:
		return "soak", from + 1
	case t[0].kind == methodKind && typed == "dry" && amount && (numbersDays(t) || weighsTwice(t) || r.said("to") && !r.has(cutKind)):
		return "dry", from + 1
	case t[0].kind == methodKind && typed == "rub" && amount && namesMix(t[3:]):
		return "rub", from + 1
	case asksBrine(t):
		return "brine", from
	}
	return "", from
}

// numbersDays reports whether "day 7" stands in the line.
func numbersDays(t []token) bool {
	for i := 1; i < len(t); i++ {
		if t[i].kind == numberKind && t[i-1].kind == periodKind && t[i-1].value == "day" {
			return true
		}
	}
	return false
}

// weighsTwice reports whether a second weight of nothing stands in another clause.
func weighsTwice(t []token) bool {
	clause := false
	for i, x := range t {
		clause = clause || x.kind == sepKind
		if clause && x.kind == massKind && kindAt(t, i-1) == numberKind {
			switch kindAt(t, i+1) {
			case eof, sepKind, numberKind, periodKind, wordKind, atKind:
				return true
			}
			return false
		}
	}
	return false
}

// namesMix reports whether a rub of weighed parts and its rate are named: toks stand behind
// the first weight.
func namesMix(t []token) bool {
	if len(t) > 1 && t[0].kind == numberKind && t[1].kind == massKind {
		t = t[2:] // "6 lb 4 oz salt"
	}
	if len(t) == 0 || t[0].kind != stuffKind && !isSalt(t[0].kind) {
		return false
	}
	for _, x := range t {
		if x.kind == levelKind || x.kind == percentKind {
			return true
		}
	}
	return false
}

// asksBrine reports whether t is about a brine and no meat: a salometer's degrees, or a
// measure of brine or water and a per cent.
func asksBrine(t []token) bool {
	salty, percent, water := false, false, t[0].kind == brineKind || t[0].kind == waterKind
	for i := range t {
		switch t[i].kind {
		case saltyKind:
			salty = true
		case perKind:
			salty = salty || kindAt(t, i+1) == volumeKind || kindAt(t, i+2) == volumeKind
		case degreeKind:
			percent = percent || t[i].value == bareDegree
		case percentKind:
			percent = true
		case brineKind, waterKind:
			water = water || i == 2
		case cutKind, agentKind, vagueKind, ionKind, methodKind, spanKind, injectKind, spoonKind, verbKind, stepKind:
			return false
		}
	}
	return salty || percent && water
}

// figure reads toks[first:] as a phrase that asks for a figure. Chatter, without an error,
// where it is talk that begins with such a word.
func (r *reading) figure(name string, from, first int, batch uint64) (Command, error) {
	all := r.toks
	defer func() { r.toks, r.fig = all, nil }()
	r.fig = &figure{name: name, verb: stretch{all[from].start, all[from].end}, named: -1}
	r.toks = r.marked(all[first:])
	if len(r.toks) == 0 {
		return Chatter{}, nil
	}
	r.clauses(0)
	cmd := r.settled()
	if cmd != nil && len(r.wrong) == 0 && len(r.doubts) == 0 {
		return cmd, nil
	}
	marked, fig := r.toks, r.fig
	r.toks, r.fig = all, nil
	wrong, isWrong := r.somethingWrong(batch)
	told, isTold := r.told(batch)
	amount := r.hasAmount() || r.has(degreeKind, lengthKind, spanKind, saltyKind)
	r.toks, r.fig = marked, fig
	if cmd == nil && len(r.wrong) == 0 && len(r.doubts) == 0 || r.chatters(amount) {
		if isTold {
			return told, nil
		}
		return Chatter{}, nil
	}
	if isWrong {
		return wrong, nil
	}
	if isTold && (r.unknownWords() > 1 || told.Of == Souring && r.unknownWords() > 0) { // "swap #1 for sel nitrité on 3 kg loin same grams ok?"
		return told, nil
	}
	err := r.worst()
	if e, ok := err.(*Error); ok {
		e.Near = amount
	}
	return nil, err
}

// chatters reports whether a line that begins with a word that asks is talk all the same:
// much is strange in it, or what such a phrase is about is missing. amount: one stands in it.
func (r *reading) chatters(amount bool) bool {
	strange, known := r.strange()
	salts := r.has(agentKind, vagueKind, ionKind, stuffKind, jarKind)
	switch {
	case r.fig.name == "which cure":
		return strange > 1 || r.has(jarKind)
	case 2*strange > known, !amount && !salts:
		return true
	case r.fig.takesCures():
		return !salts && (strange > 0 || r.fig.name == "mix")
	}
	return false
}

// again forgets what was read of a line, so that it can be read as something else.
func (r *reading) again() {
	*r = reading{text: r.text, thread: r.thread, dates: r.dates, recipes: r.recipes, pieced: r.pieced, toks: r.toks, plain: r.plain, languages: r.languages, work: r.work}
}

// lacks is the error of a phrase that asks for a figure and lacks what.
func (r *reading) lacks(what string, at stretch) {
	e := r.fail("lacks", at)
	e.Other, e.Example = what, examples[r.fig.name]
	r.doubts = append(r.doubts, e)
}
