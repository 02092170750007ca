package grammar

import (
	"strings"

	"salthand/cure"
)

// subject is what an amount is of.
type subject struct {
	of     string // "meat", "cure", "salt", "sugar", "liquid", "pump", "mix"; "" nothing
	amount Amount // of a cure: its kind and strength
	next   int    // index behind it
}

// subjectAt is the subject that is named at toks[i].
func (t *telling) subjectAt(i int) subject {
	s := subject{next: i + 1}
	if i < 0 {
		return s
	}
	switch t.kind(i) {
	case cutKind:
		s.of = "meat"
	case agentKind, vagueKind, ionKind:
		s.of = "cure"
		s.amount, s.next = t.cureAt(i)
	case stuffKind:
		s.of = t.value(i)
	case waterKind, brineKind:
		s.of = "liquid"
	case injectKind:
		s.of = "pump"
	case wordKind:
		switch w := t.value(i); {
		case w == cura:
			s.of = "cure"
			s.amount, s.next = t.cureAt(i)
		case w == "sug" || w == "dextrose" || w == "dextrosa":
			s.of = "sugar"
		case liquids[w]:
			s.of = "liquid"
		case mixes[w]:
			s.of = "mix"
		case w == "pompe" || w == "pompage":
			s.of = "pump"
		case meats[w] || products[w] != "":
			s.of = "meat"
		}
	}
	return s
}

// Words for meat that is no cut, for liquids that are no water, and for mixes.
var (
	meats = setOf("meat", "chicken", "goose", "hen", "pork", "beef", "lamb", "veal", "pollo", "cerdo", "ternera", "cordero", "poulet", "porc", "boeuf", "agneau", "veau", "links", "link", "tubs", "bird", "birds", "piece", "pieces", "slab", "slabs", "chops", "deer", "venison", "links", "leg", "legs", "turkey", "trial", "batch",
		"carne", "pieza", "piezas", "pavo", "viande", "piece", "pieces", "dinde", "morceau", "morceaux",
		"kielbasa", "brats", "bratwurst", "andouille", "sticks", "snack", "soppressata", "sopressata", "salchichas", "salchicha", "longaniza", "saucisses", "saucisse", "lard", "echine", "lomo", "tocino", "lonza", "cecina")
	liquids = setOf("marinade", "liquid", "liquids", "sauce", "hot", "soy", "teriyaki", "syrup", "bourbon", "wine", "beer", "pickle", "vinegar", "juice", "h2o", "stock",
		"marinada", "liquido", "vino", "vinagre", "cerveza", "vin", "vinaigre", "biere", "liquide", "soja")
	mixes = setOf("mix", "blend", "rub", "kit", "premix", "mezcla", "melange")
)

// cureAt is the curing salt named at toks[i] with the strength beside it, and the index
// behind it. A vague name has the kind NoAgent.
func (t *telling) cureAt(i int) (Amount, int) {
	a, next := Amount{}, i+1
	switch t.kind(i) {
	case wordKind, vagueKind:
		if t.cureNumber(next) {
			a.Kind = map[string]cure.AgentKind{"1": cure.No1, "2": cure.No2}[t.value(next)]
			return a, next + 1
		}
	}
	switch t.kind(i) {
	case agentKind:
		a.Kind = agentKinds[t.value(i)]
	case ionKind:
		if t.value(i) == "nitrite" {
			a.Kind = cure.PureNitrite
		} else {
			a.Kind = cure.PureNitrate
		}
	default:
		switch cureNames[t.value(i)] {
		case saltpetre:
			a.Kind = cure.Saltpetre
		case vegetablePowder:
			a.Kind = cure.VegetablePowder
		}
	}
	j := next
	if t.kind(j) == atKind && a.Kind != cure.NoAgent { // "nitrited salt at 0.6%"
		j++
	}
	if t.kind(j) == numberKind && t.kind(j+1) == percentKind && !isSalt(t.kind(j+2)) && t.kind(j+2) != stuffKind {
		if n, err := t.number(t.value(j), t.at(j, j+1)); err == nil {
			share := cure.Typed(cure.Fraction(n.times(0.01)))
			if a.Kind == cure.NoAgent || !doubtful(a.Kind, share, cure.Given[cure.Fraction]{}) {
				a.Nitrite = share
				next = j + 2
			}
		}
	}
	return a, next
}

// of is the subject that an amount in toks[from:to] is of: named behind it, or before it.
func (t *telling) of(from, to int) subject {
	if s := t.subjectAt(from - 1); s.of == "pump" { // "pump 10% ham"
		s.next = to
		return s
	}
	for i := to; i < len(t.toks) && i <= to+1; i++ {
		if s := t.subjectAt(i); s.of != "" {
			return s
		}
		if t.kind(i) != wordKind {
			break
		}
	}
	for i := from - 1; i >= 0 && i >= from-2 && !t.used[i]; i-- {
		if strings.ContainsAny(t.text[t.toks[i].end:t.toks[i+1].start], "?!") { // another sentence
			break
		}
		if s := t.subjectAt(i); s.of != "" && s.of != "pump" {
			s.next = to
			return s
		}
		if k := t.kind(i); k != wordKind && k != atKind && k != thickKind {
			break
		}
	}
	return subject{next: to}
}

// isFor reports whether "for" stands right before toks[i].
func (t *telling) isFor(i int) bool {
	if i == 0 {
		return false
	}
	switch strings.TrimSpace(fold(t.text[t.toks[i-1].end:t.toks[i].start])) {
	case "for", "para", "pour":
		return true
	}
	return t.word(i-1) == "for" || t.word(i-1) == "para" || t.word(i-1) == "pour"
}

// put notes a weight of a subject; false: of none.
func (t *telling) put(s subject, g cure.Gram) bool {
	switch s.of {
	case "meat":
		t.Meat.Pieces = append(t.Meat.Pieces, g)
	case "cure":
		s.amount.Grams = cure.Typed(g)
		t.Amounts = append(t.Amounts, s.amount)
	case "salt":
		t.Salt = cure.Typed(g + t.Salt.Value)
	case "sugar":
		t.Sugar = cure.Typed(g + t.Sugar.Value)
	case "liquid":
		t.Liquid = cure.Typed(g + t.Liquid.Value)
	default:
		return false
	}
	return true
}

// add notes a curing salt that is named at toks[at]: as what went in, or, behind "not" or
// "instead of", as what was meant.
func (t *telling) add(at int, a Amount) {
	if t.contrasted(at) {
		t.Meant = append(t.Meant, a)
		return
	}
	t.Amounts = append(t.Amounts, a)
}

// contrasted reports whether "not" or "instead of" stands before toks[at].
func (t *telling) contrasted(at int) bool {
	for i := at - 1; i >= max(0, at-2); i-- {
		if contrasts[t.word(i)] || t.word(i) == "been" && t.said("should have been") {
			return true
		}
	}
	return false
}
