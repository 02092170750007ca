package grammar

// A sign is a set of the lists of words below that a word stands in.
type sign uint16

const (
	poison sign = 1 << iota
	body
	badColour
	face
	blue
	unwell
	eating
	swallowed
	nitrite
	gulped
	brining
	breathing
	cannot
)

// poisoned reports whether a line has words of poisoning in it: a sign on a body, cure that
// was eaten or drunk, somebody unwell after eating, or the word itself. A false alarm costs
// a card; a missed one may cost more. "Blue mould" and "dizzying" say nothing.
func poisoned(p []piece) bool {
	var all sign
	for i := range p {
		if p[i].word == "" {
			continue
		}
		all |= signs[p[i].word]
		if len(p[i].word) >= 7 {
			all |= misspeltSign(p[i].word)
		}
	}
	has := func(s sign) bool { return all&s == s }
	switch {
	case has(poison), has(unwell | eating),
		has(body|badColour) && near(p, body, badColour, 4),
		has(face|blue) && near(p, face, blue, 4),
		has(swallowed|nitrite) && near(p, swallowed, nitrite, 5),
		has(gulped|brining) && near(p, gulped, brining, 3),
		has(breathing|cannot) && near(p, breathing, cannot, 3),
		has(swallowed) && pinkSalt(p):
		return true
	}
	return false
}

// misspeltSign is the sign of a long word with one letter wrong.
func misspeltSign(w string) sign {
	for _, right := range []string{"poisoned", "poisoning", "unconscious", "swallowed"} {
		if oneTypo(w, right) {
			return signs[right]
		}
	}
	return 0
}

// near reports whether a word of one sign and a word of another stand at most so many
// pieces apart. A misspelt word has the signs of the right one.
func near(p []piece, a, b sign, apart int) bool {
	for i := range p {
		if signOf(p[i].word)&a == 0 {
			continue
		}
		for j := max(0, i-apart); j < min(len(p), i+apart+1); j++ {
			if j != i && signOf(p[j].word)&b != 0 {
				return true
			}
		}
	}
	return false
}

func signOf(w string) sign {
	if s := signs[w]; s != 0 || len(w) < 7 {
		return s
	}
	return misspeltSign(w)
}

func anyOf(p []piece, list map[string]bool) bool {
	for i := range p {
		if p[i].word != "" && list[p[i].word] {
			return true
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

// signs are the words, folded: English, Spanish, French.
var signs = signsOf(map[sign][]string{
	poison: {"poisoned", "poisoning", "unconscious", "methemoglobinemia", "methaemoglobinaemia", "cyanosis", "cyanotic", "convulsing", "convulsions", "seizure",
		"envenenado", "envenenada", "envenenados", "envenenamiento", "intoxicado", "intoxicada", "intoxicados", "intoxicacion", "inconsciente", "convulsiones",
		"empoisonne", "empoisonnee", "empoisonnes", "empoisonnement", "intoxique", "intoxiquee", "intoxiques", "inconscient", "inconsciente"},
	body: {"lips", "lip", "lipped", "fingers", "fingernails", "nails", "labios", "unas", "levres", "ongles"},
	badColour: {"blue", "bluish", "grey", "greyish", "gray", "grayish", "purple", "azul", "azules", "gris", "grises",
		"morado", "morados", "morada", "moradas", "bleu", "bleus", "bleue", "bleues", "violet", "violets", "violette", "violettes"},
	face: {"face", "cara", "visage"},
	blue: {"blue", "bluish", "azul", "bleu"},
	unwell: {"dizzy", "dizziness", "fainted", "fainting", "collapsed", "vomiting", "vomited", "lightheaded",
		"mareado", "mareada", "mareados", "mareo", "desmayo", "desmayado", "desmayada", "vomitando", "vomito",
		"etourdi", "etourdie", "vertige", "vertiges", "malaise", "evanoui", "evanouie", "vomi"},
	eating: {"ate", "eat", "eats", "eaten", "eating", "swallowed", "drank", "drinking", "tasted",
		"comio", "comido", "comer", "comieron", "trago", "bebio", "bebido", "probo",
		"mange", "manger", "mangent", "avale", "bu", "goute"},
	swallowed: {"ate", "eaten", "swallowed", "drank", "tasted", "licked",
		"comio", "comido", "trago", "tragado", "bebio", "bebido", "probo", "mange", "avale", "bu", "goute"},
	nitrite:   {"cure", "nitrite", "nitrites", "nitrate", "nitrito", "nitritos", "saltpetre", "saltpeter", "salitre", "salpetre"},
	gulped:    {"swallowed", "drank", "bebio", "trago", "bu", "avale"},
	brining:   {"brine", "pickle", "salmuera", "saumure"},
	breathing: {"breathe", "breathing", "breath", "respirar", "respirer"},
	cannot:    {"can't", "cant", "cannot", "difficulty", "trouble", "struggling", "short", "puede", "dificultad", "n'arrive", "peut"},
})

func signsOf(lists map[sign][]string) map[string]sign {
	out := map[string]sign{}
	for s, ws := range lists {
		for _, w := range ws {
			out[w] |= s
		}
	}
	return out
}
