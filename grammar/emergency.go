package grammar

import "strings"

// A sign is a set of the lists of words below that a word stands in.
type sign uint32

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
	gasping // no breath, in several words
	fallen  // down, or sick to the stomach
	blued   // turned blue
	person
	mouth
	skin
	afterwards
	dish
	painted
	faced // "face it"
)

// poisoned reports whether a line has words of poisoning in it: a sign on a body, cure that
// was eaten or drunk, somebody unwell after eating, or the word itself. A false alarm costs
// a card; a missed one may cost more. "Blue mould" and "dizzying" say nothing.
func poisoned(p []piece) bool {
	var all sign
	for i := range p {
		if p[i].word != "" {
			all |= signOf(p[i].word) | signInRow(p[i:])
		}
	}
	has := func(s sign) bool { return all&s == s }
	switch {
	case has(poison), has(gasping), has(unwell | eating),
		has(fallen | afterwards), has(fallen | eating), has(fallen | person), has(blued | person),
		has(body|badColour) && all&painted == 0 && near(p, body, badColour, 4),
		has(mouth|blue) && near(p, mouth, blue, 4),
		has(skin|blue|eating) && near(p, skin, blue, 3),
		has(face|blue) && all&faced == 0 && near(p, face, blue, 4),
		has(dish | swallowed | nitrite),
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

// signInRow is what the words that p begins with say together.
func signInRow(p []piece) (all sign) {
	for _, w := range signRows[p[0].word] {
		n := 0
		for n < len(w.rest) && n+1 < len(p) && p[n+1].word == w.rest[n] {
			n++
		}
		if n == len(w.rest) {
			all |= w.sign
		}
	}
	return all
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
		case "pink salt", "pink cure", "pink stuff", "pink powder", "curing salt", "sal rosa", "sel rose", "de cura", "sal nitrada":
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
	unwell: {"dizzy", "dizziness", "fainted", "fainting", "collapsed", "vomiting", "vomited", "lightheaded", "nausea", "nauseous",
		"mareado", "mareada", "mareados", "mareo", "desmayo", "desmayado", "desmayada", "vomitando", "vomito", "vomitan", "nauseas", "enfermo", "enferma", "enfermos",
		"etourdi", "etourdie", "vertige", "vertiges", "malaise", "evanoui", "evanouie", "vomi", "vomit", "vomissent", "nausee", "nausees", "malade", "malades"},
	eating: {"ate", "eat", "eats", "eaten", "eating", "swallowed", "drank", "drinking", "tasted",
		"comio", "comido", "comer", "comieron", "comimos", "trago", "tragaron", "bebio", "bebido", "bebieron", "probo", "probaron",
		"mange", "mangee", "manger", "mangent", "avale", "bu", "goute", "goutee"},
	swallowed: {"ate", "eaten", "swallowed", "drank", "tasted", "licked",
		"comio", "comido", "comieron", "trago", "tragado", "tragaron", "bebio", "bebido", "bebieron", "probo", "probaron",
		"mange", "mangee", "avale", "avalee", "bu", "goute", "goutee"},
	nitrite:   {"cure", "nitrite", "nitrites", "nitrate", "nitrito", "nitritos", "saltpetre", "saltpeter", "salitre", "salpetre"},
	gulped:    {"swallowed", "drank", "gulped", "sipped", "bebio", "bebieron", "trago", "bu", "avale"},
	brining:   {"brine", "pickle", "salmuera", "saumure"},
	breathing: {"breathe", "breathing", "breath", "respirar", "respirer"},
	cannot:    {"can't", "cant", "cannot", "difficulty", "trouble", "struggling", "short", "puede", "pueden", "dificultad", "n'arrive", "peut", "mal"},
	fallen:    {"fainted", "vomiting", "vomited", "desmayo", "desmayado", "desmayada", "vomitando", "evanoui", "evanouie", "vomit", "vomissent"},
	person: {"guest", "guests", "customer", "customers", "kid", "kids", "child", "children", "baby", "cook", "dishwasher", "he", "she",
		"cliente", "clientes", "comensal", "nino", "nina", "ninos", "cocinero", "client", "clients", "enfant", "enfants", "commis", "cuisinier", "il", "elle"},
	mouth:      {"mouth", "boca", "bouche"},
	skin:       {"skin", "piel", "peau"},
	afterwards: {"after", "despues", "apres"},
	dish: {"soup", "fries", "salad", "eggs", "pasta", "rice", "steak", "steaks", "sopa", "papas", "patatas", "ensalada", "huevos", "arroz",
		"soupe", "frites", "salade", "oeufs", "pates", "riz"},
	painted: {"painted", "polish", "varnish", "pintadas", "pintado", "esmalte", "vernis", "maquillage"},
})

// signRows are the words in a row that say more than each of them, by the first.
var signRows = signRowsOf(map[sign][]string{
	gasping: {"not breathing", "isn't breathing", "stopped breathing", "barely breathing", "hardly breathe", "hardly breathing", "gasping for air",
		"no respira", "respira mal", "respire mal", "respire plus", "ne respire"},
	fallen: {"passed out", "tombe dans les pommes", "perdu connaissance", "perdio el conocimiento"},
	unwell: {"throwing up", "threw up", "got sick", "feel sick", "feels sick", "feeling sick", "felt sick", "fell ill", "feels ill", "feel ill",
		"se siente mal", "se sienten mal", "se puso malo", "se puso mala", "se sent mal", "se sentent mal"},
	blued: {"turned blue", "turning blue", "turns blue", "went blue", "going blue", "gone blue", "puso azul", "poniendo azul", "devient bleu", "devient bleue", "est tout bleu", "est toute bleue"},
	faced: {"face it"},
})

// signRow is what follows a first word, and what the row is a sign of.
type signRow struct {
	rest []string
	sign sign
}

func signRowsOf(lists map[sign][]string) map[string][]signRow {
	out := map[string][]signRow{}
	for s, rows := range lists {
		for _, row := range rows {
			ws := strings.Fields(row)
			out[ws[0]] = append(out[ws[0]], signRow{ws[1:], s})
		}
	}
	return out
}

func signsOf(lists map[sign][]string) map[string]sign {
	out := map[string]sign{}
	for s, ws := range lists {
		for _, w := range ws {
			out[w] |= s
		}
	}
	return out
}
