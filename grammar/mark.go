package grammar

import "github.com/alecthomas/participle/v2/lexer"

// marked are toks as a phrase that asks for figures means them: "on" ends a clause, and so
// does a "+" between two substances; "day 7", "to", "from", "ph" are marks; saltpetre and
// vegetable powder are cures that may be asked about.
func (r *reading) marked(toks []token) []token {
	out := make([]token, 0, len(toks)+4)
	p := 0
	for i, t := range toks {
		for ; p < len(r.pieced) && r.pieced[p].start < t.end; p++ {
			word := &r.pieced[p]
			if word.start < r.fig.verb.end || word.start >= t.start {
				continue
			}
			switch {
			case word.word == "to" && r.fig.goesTo():
				out = append(out, token{markKind, "to", word.start, word.end})
			case r.fig.name == "swap" && exchanges[word.word]: // "2 g/kg for no 1" is no rate of no. 1
				out = append(out, token{sepKind, "", word.start, word.start})
			}
		}
		if t = r.remark(toks, i); t.kind == fillerKind {
			continue
		}
		if t.kind == productKind && t.value == "" { // the second word of the one before
			out[len(out)-1].end = t.end
			continue
		}
		out = append(out, t)
	}
	return out
}

// exchanges stand between the two sides of a swap.
var exchanges = setOf("for", "with", "to")

// goesTo reports whether "to" says something.
func (f *figure) goesTo() bool { return f.name == "dry" || f.name == "soak" || f.name == "cooling" }

// remark is toks[i] as r.fig means it; a filler where it means nothing.
func (r *reading) remark(toks []token, i int) token {
	t := toks[i]
	end := token{kind: sepKind, start: t.start, end: t.start}
	if t.kind == wordKind || t.kind == cutKind || t.kind == methodKind {
		if p, ok := r.product(toks, i); ok {
			return p
		}
	}
	switch {
	case t.kind == verbKind && t.value == "switch on":
		return end
	case t.kind == plusKind && !r.joins(toks, i):
		return end
	case t.kind == inKind && i+1 < len(toks) && toks[i+1].kind == wordKind && regions[toks[i+1].value] != "":
		return end
	case t.kind == inKind && (kindAt(toks, i+1) == brineKind || kindAt(toks, i+1) == methodKind),
		t.kind == stuffKind && t.value == "salt" && r.fig.name == "brine":
		t.kind = fillerKind
	case t.kind == periodKind && t.value == "day" && kindAt(toks, i+1) == numberKind:
		t.kind = markKind
	case t.kind == periodKind && kindAt(toks, i-1) == numberKind && hours[t.value] > 0:
		t.kind = spanKind
	case t.kind == vagueKind && cureNames[t.value] != "":
		t.kind, t.value = agentKind, cureNames[t.value]
	case t.kind == wordKind && kindAt(toks, i-1) == numberKind && hours[longSpans[t.value]] > 0:
		t.kind, t.value = spanKind, longSpans[t.value]
	case t.kind == wordKind:
		if m, ok := markWords[r.fig.name][t.value]; ok {
			t.kind, t.value = m.kind, m.value
		}
	}
	return t
}

// joins reports whether the "+" at toks[i] stands within one amount: "2.1 kg + 3.3 kg",
// "6.25% + 4%".
func (r *reading) joins(toks []token, i int) bool {
	switch kindAt(toks, i-1) {
	case massKind:
		return true
	case lengthKind:
		return kindAt(toks, i+2) == lengthKind
	case percentKind, ionKind:
		return kindAt(toks, i+2) == percentKind
	}
	return false
}

func kindAt(toks []token, i int) lexer.TokenType {
	if i < 0 || i >= len(toks) {
		return eof
	}
	return toks[i].kind
}

// longSpans are units of time that only a phrase about hanging uses.
var longSpans = map[string]string{"months": "month", "mo": "month", "mos": "month", "years": "year", "yr": "year", "yrs": "year"}

// cureNames lead from a name that no dose is reckoned of to the cure that it means.
var cureNames = map[string]string{"saltpetre": saltpetre, "potassium nitrate": saltpetre, "celery": vegetablePowder}

const (
	houseCure       = "house cure"
	saltpetre       = "saltpetre"
	vegetablePowder = "vegetable powder"
)

// markWords are words that mean something in one phrase only.
var markWords = map[string]map[string]entry{
	"mix":      {"from": {markKind, "from"}, "scale": {markKind, "scale"}, "using": {markKind, "from"}},
	"cooling":  {"from": {fillerKind, ""}, "core": {fillerKind, ""}},
	"ferment":  {"ph": {markKind, "ph"}, "still": {fillerKind, ""}, "then": {sepKind, ""}},
	"cook log": {"core": {fillerKind, ""}, "then": {sepKind, ""}},
	"cold log": {"then": {sepKind, ""}},
	"dry":      {"after": {fillerKind, ""}, "loss": {fillerKind, ""}, "lost": {fillerKind, ""}, "target": {markKind, "to"}},
	"soak":     {"down": {fillerKind, ""}},
	"check": {"marinade": {waterKind, "marinade"}, "marinated": {fillerKind, ""}, "used": {fillerKind, ""},
		"into": {sepKind, ""}, "onto": {sepKind, ""}, "over": {sepKind, ""}},
	"aw":         {"solution": {markKind, "solution"}},
	"brine":      {"solution": {brineKind, "brine"}, "hydrometer": {fillerKind, ""}, "reads": {fillerKind, ""}},
	"rub":        {"pepper": {stuffKind, "spice"}, "spice": {stuffKind, "spice"}, "spices": {stuffKind, "spice"}, "paprika": {stuffKind, "spice"}, "garlic": {stuffKind, "spice"}},
	"how long":   asksWords,
	"which cure": asksWords,
}

// asksWords are what a question is made of.
var asksWords = map[string]entry{"does": {fillerKind, ""}, "do": {fillerKind, ""}, "take": {fillerKind, ""}, "takes": {fillerKind, ""},
	"need": {fillerKind, ""}, "needs": {fillerKind, ""}, "i": {fillerKind, ""}, "we": {fillerKind, ""}, "use": {fillerKind, ""},
	"is": {fillerKind, ""}, "should": {fillerKind, ""}, "hung": {fillerKind, ""}}

// products are what is made of meat, and animals, by the words that a cook says.
var products = map[string]string{
	"bacon": "bacon", "salami": "salami", "salame": "salami", "salamis": "salami", "saucisson": "salami", "chorizo": "chorizo", "pepperoni": "pepperoni",
	"summer sausage": "summer sausage", "dry sausage": "dry sausage", "fresh sausage": "fresh sausage", "hot dogs": "hot dogs", "frankfurters": "hot dogs",
	"mortadella": "mortadella", "bologna": "bologna", "pancetta": "pancetta", "panceta": "pancetta", "guanciale": "guanciale", "lardo": "lardo",
	"prosciutto": "prosciutto", "speck": "speck", "bresaola": "bresaola", "pastrami": "pastrami", "corned beef": "corned beef", "jerky": "jerky",
	"biltong": "biltong", "gravlax": "gravlax", "gammon": "gammon", "jamon": "jamon", "confit": "confit",
}

// animals are what a freezing is about.
var animals = map[string]string{"pork": "pork", "boar": "wild boar", "wild boar": "wild boar", "bear": "bear", "horse": "horse", "venison": "venison", "fish": "fish", "salmon": "salmon"}

// product reads the name of a product or an animal at toks[i]. The second word of one is a
// product without a value.
func (r *reading) product(toks []token, i int) (token, bool) {
	list := products
	switch r.fig.name {
	case "freeze":
		list = animals
	case "which cure", "soak":
	default:
		return token{}, false
	}
	word := func(i int) string { return fold(r.text[toks[i].start:toks[i].end]) }
	t := toks[i]
	if i > 0 && list[word(i-1)+" "+word(i)] != "" {
		return token{productKind, "", t.start, t.end}, true
	}
	if i+1 < len(toks) && list[word(i)+" "+word(i+1)] != "" {
		return token{productKind, list[word(i)+" "+word(i+1)], t.start, t.end}, true
	}
	name := list[word(i)]
	return token{productKind, name, t.start, t.end}, name != ""
}
