package grammar

// poisoned reports whether a line has words of poisoning in it: a sign on a body, cure that
// was eaten or drunk, somebody unwell after eating, or the word itself. A false alarm costs
// a card; a missed one may cost more. "Blue mould" and "dizzying" say nothing.
func poisoned(p []piece) bool {
	switch {
	case anyOf(p, poisonWords),
		near(p, bodyParts, badColours, 4),
		near(p, faces, blues, 4),
		anyOf(p, faintWords) && anyOf(p, eatWords),
		near(p, swallowWords, nitriteWords, 5),
		near(p, gulpWords, brineWords, 3),
		near(p, breathWords, cannotWords, 3),
		anyOf(p, swallowWords) && pinkSalt(p):
		return true
	}
	for i := range p {
		switch w := p[i].word; {
		case len(w) < 7:
		case oneTypo(w, "poisoned"), oneTypo(w, "poisoning"), oneTypo(w, "unconscious"):
			return true
		case oneTypo(w, "swallowed") && (anyOf(p, nitriteWords) || pinkSalt(p)):
			return true
		}
	}
	return false
}

func anyOf(p []piece, list map[string]bool) bool {
	for i := range p {
		if p[i].word != "" && list[p[i].word] {
			return true
		}
	}
	return false
}

// near reports whether a word of a and a word of b stand at most so many pieces apart.
func near(p []piece, a, b map[string]bool, apart int) bool {
	for i := range p {
		if p[i].word == "" || !a[p[i].word] {
			continue
		}
		for j := max(0, i-apart); j < min(len(p), i+apart+1); j++ {
			if j != i && p[j].word != "" && b[p[j].word] {
				return true
			}
		}
	}
	return false
}

// pinkSalt reports whether curing salt is named in two words.
func pinkSalt(p []piece) bool {
	for i := 1; i < len(p); i++ {
		switch p[i-1].word + " " + p[i].word {
		case "pink salt", "pink cure", "pink stuff", "pink powder", "curing salt", "sal rosa", "sel rose", "de cura":
			return true
		}
	}
	return false
}

func setOf(ws ...string) map[string]bool {
	m := make(map[string]bool, len(ws))
	for _, w := range ws {
		m[w] = true
	}
	return m
}

// The words, folded: English, Spanish, French.
var (
	poisonWords = setOf("poisoned", "poisoning", "unconscious", "methemoglobinemia", "methaemoglobinaemia", "cyanosis", "cyanotic", "convulsing", "convulsions", "seizure",
		"envenenado", "envenenada", "envenenados", "envenenamiento", "intoxicado", "intoxicada", "intoxicados", "intoxicacion", "inconsciente", "convulsiones",
		"empoisonne", "empoisonnee", "empoisonnes", "empoisonnement", "intoxique", "intoxiquee", "intoxiques", "inconscient", "inconsciente")
	bodyParts  = setOf("lips", "lip", "lipped", "fingers", "fingernails", "nails", "labios", "unas", "levres", "ongles")
	badColours = setOf("blue", "bluish", "grey", "greyish", "gray", "grayish", "purple", "azul", "azules", "gris", "grises",
		"morado", "morados", "morada", "moradas", "bleu", "bleus", "bleue", "bleues", "violet", "violets", "violette", "violettes")
	faces      = setOf("face", "cara", "visage")
	blues      = setOf("blue", "bluish", "azul", "bleu")
	faintWords = setOf("dizzy", "dizziness", "fainted", "fainting", "collapsed", "vomiting", "vomited", "lightheaded",
		"mareado", "mareada", "mareados", "mareo", "desmayo", "desmayado", "desmayada", "vomitando", "vomito",
		"etourdi", "etourdie", "vertige", "vertiges", "malaise", "evanoui", "evanouie", "vomi")
	eatWords = setOf("ate", "eat", "eats", "eaten", "eating", "swallowed", "drank", "drinking", "tasted",
		"comio", "comido", "comer", "comieron", "trago", "bebio", "bebido", "probo",
		"mange", "manger", "mangent", "avale", "bu", "goute")
	swallowWords = setOf("ate", "eaten", "swallowed", "drank", "tasted", "licked",
		"comio", "comido", "trago", "tragado", "bebio", "bebido", "probo", "mange", "avale", "bu", "goute")
	nitriteWords = setOf("cure", "nitrite", "nitrites", "nitrate", "nitrito", "nitritos", "saltpetre", "saltpeter", "salitre", "salpetre")
	gulpWords    = setOf("swallowed", "drank", "bebio", "trago", "bu", "avale")
	brineWords   = setOf("brine", "pickle", "salmuera", "saumure")
	breathWords  = setOf("breathe", "breathing", "breath", "respirar", "respirer")
	cannotWords  = setOf("can't", "cant", "cannot", "difficulty", "trouble", "struggling", "short", "puede", "dificultad", "n'arrive", "peut")
)
