package grammar

import (
	"slices"
	"strings"
)

// NotTaken says that a temperature of a place was not read, or that a step or a reading of a
// batch was missed, and why: "walk-in 2 not taken sat: phone was dead", "turn not done: nobody
// in". It never carries a value.
type NotTaken struct {
	Place string  // "": of a batch
	Step  string  // as in Did; "" where Place is said
	When  []*When // "sat, sun"; none: the last that was due, or today
	Why   string  // "": not said
}

func (NotTaken) command() {}

func (c NotTaken) canonical() string {
	out := c.Place + " not taken"
	if c.Place == "" {
		out = stepNoun(c.Step) + " not done"
	}
	for i, w := range c.When {
		if i > 0 {
			out += ","
		}
		out += canonicalWhen(w)
	}
	return because(out, c.Why)
}

func stepNoun(step string) string {
	if step == "ph test" {
		return "ph"
	}
	return step
}

// Their words, folded, in English, Spanish and French.
var (
	missedWords = phrasesOf("not taken", "not done", "not read", "not measured", "not checked", "wasn't taken", "wasn't done", "wasnt done", "weren't done", "missed",
		"no tomada", "no tomado", "no leida", "no leido", "no hecha", "no hecho", "no hechos", "no medida", "no medido", "sin hacer", "sin tomar", "sin leer",
		"pas prise", "pas pris", "non prise", "non pris", "pas relevee", "pas releve", "non relevee", "non releve", "pas faite", "pas fait", "pas faits", "non faite", "non fait", "non faits", "pas mesure", "non mesure")
	nobodyWords = phrasesOf("not", "nobody", "no one", "didn't", "no", "nadie", "pas", "non", "personne n'a")
	// missedNouns name steps and readings as they are spoken of when they were missed.
	missedNouns = map[string]string{"turns": "turn", "flips": "turn", "volteo": "turn", "volteos": "turn", "retournement": "turn", "retournements": "turn",
		"overhauls": "overhaul", "ph": "ph test", "weight": "weigh", "weighing": "weigh", "peso": "weigh", "pesada": "weigh", "poids": "weigh", "pesee": "weigh",
		"enjuague": "rinse", "rincage": "rinse", "ahumado": "smoke", "fumage": "smoke", "coccion": "cook", "cuisson": "cook", "remojo": "soak", "trempage": "soak",
		"core": "chill check", "enfriado": "chill check", "refroidissement": "chill check"}
	participles = []string{"ed", "hung", "ado", "ada", "ados", "adas", "ido", "ida", "e", "ee", "es", "ees", "cuit", "cuite"}
)

// notTaken reads toks[from:] as one. nil: it is none.
func (r *reading) notTaken(from int) Command {
	p := r.after(r.toks[from].start)
	if len(p) == 0 || p[len(p)-1].text == "?" || !strings.Contains(r.text, ":") && len(p) > 12 {
		return nil
	}
	if n := leading(p, nobodyWords); n > 0 && n < len(p) && slices.ContainsFunc(participles, func(end string) bool { return strings.HasSuffix(p[n].word, end) }) {
		if e, m := lexicon.find(p[n:], false, &r.work); e != nil && e.kind == stepKind && e.value != "done" {
			return r.missed(NotTaken{Step: e.value}, p[n+m:])
		}
	}
	for i := 1; i < len(p) && i <= 2*mostPlaceWords; i++ {
		n := leading(p[i:], missedWords)
		if n == 0 {
			continue
		}
		if step := r.stepMissed(p[:i]); step != "" {
			return r.missed(NotTaken{Step: step}, p[i+n:])
		}
		names, lengths := r.knownPlaces(p[:i])
		if name, m := r.likePlace(p[:i]); m > 0 {
			names, lengths = append(names, name), append(lengths, m)
		}
		for k, m := range lengths {
			if m == i {
				return r.missed(NotTaken{Place: names[k]}, p[i+n:])
			}
		}
	}
	return nil
}

// stepMissed is the step that pieces name as a whole; "": none.
func (r *reading) stepMissed(p []piece) string {
	if len(p) == 1 && missedNouns[p[0].word] != "" {
		return missedNouns[p[0].word]
	}
	if e, n := lexicon.find(p, false, &r.work); e != nil && e.kind == stepKind && e.value != "done" && n == len(p) {
		return e.value
	}
	return ""
}

// missed reads the days and the reason that follow. nil: something else follows.
func (r *reading) missed(out NotTaken, p []piece) Command {
	end := len(r.text)
	if len(p) > 0 {
		end = p[0].start
	}
	rest := r.text[end:]
	for _, at := range colons(rest) {
		days, ok := r.days(rest[:at])
		if !ok {
			continue
		}
		out.When, out.Why = days, strings.TrimSpace(strings.TrimPrefix(rest[at:], ":"))
		return out
	}
	for i, x := range rest { // "turn not done sat, nobody in"
		if x != ',' && x != '-' {
			continue
		}
		if days, ok := r.days(rest[:i]); ok {
			if _, more := r.days(rest[i+1:]); !more {
				out.When, out.Why = days, strings.TrimSpace(rest[i+1:])
				return out
			}
		}
	}
	return nil
}

// days reads "sat", "sat 9:00 + sun", "sábado y domingo"; no text is no day, and true.
func (r *reading) days(text string) (days []*When, ok bool) {
	for _, and := range []string{" and ", " y ", " et ", "+", "&"} {
		text = strings.ReplaceAll(text, and, ",")
	}
	if text = strings.Trim(text, " ,.!"); text == "" {
		return nil, true
	}
	for one := range strings.SplitSeq(text, ",") {
		w, ok := r.moment(one, false)
		if !ok || len(days) == mostDays {
			return nil, false
		}
		days = append(days, w)
	}
	return days, true
}

// mostDays is how many days one line says that something was missed on.
const mostDays = 14

// What an entry that is noted late rests on: "turned sat 9:00 by camera".
var (
	evidenceLeads = setOf("by", "per", "from", "por", "segun", "par", "selon")
	evidenceWords = setOf("log", "logger", "probe", "photo", "picture", "camera", "chart", "history", "recorder", "video",
		"registro", "registrador", "sonda", "foto", "camara", "grafica", "historial", "releve", "enregistreur", "sonde", "courbe", "historique")
)

// witnessed reads a line that ends with what its entry rests on: "walk-in 2 3.1 c sat 7:00 by
// probe log". nil: it is none.
func (r *reading) witnessed() (Phrase, bool) {
	p := unmarked(r.pieced)
	at := -1
	for i := max(1, len(p)-mostEvidence); i < len(p)-1; i++ {
		if evidenceLeads[p[i].word] && slices.ContainsFunc(p[i+1:], func(x piece) bool { return evidenceWords[x.word] }) {
			at = i
			break
		}
	}
	if at < 0 || slices.ContainsFunc(p[at:], func(x piece) bool {
		return x.kind != lettersRaw && x.kind != numberRaw && x.text != "'" && x.text != "-"
	}) {
		return Phrase{}, false
	}
	again := reading{text: strings.TrimRight(r.text[:p[at].start], " ,;"), thread: r.thread, dates: r.dates, recipes: r.recipes, places: r.places, plain: true}
	said, err := again.line()
	r.work += again.work
	evidence := tidy(r.textOf(p[at+1:]))
	if err != nil || len(evidence) > longestPlace {
		return Phrase{}, false
	}
	switch c := said.Command.(type) {
	case ReadPlace:
		c.Evidence = evidence
		said.Command = c
	case Did:
		c.Evidence = evidence
		said.Command = c
		if c.Step == "" || c.When == nil {
			return Phrase{}, false
		}
	default:
		return Phrase{}, false
	}
	return said, true
}

// mostEvidence is how many pieces of a line may say what it rests on, with the word before.
const mostEvidence = 6
