package grammar

// languages counts the words of a line that only one language has.
type languages struct{ en, es, fr int }

func (l *languages) add(language string) {
	switch language {
	case "en":
		l.en++
	case "es":
		l.es++
	case "fr":
		l.fr++
	}
}

// most is the language of most words, "" where nothing tells or two tell the same.
func (l languages) most() string {
	switch {
	case l.es > l.en && l.es > l.fr:
		return "es"
	case l.fr > l.en && l.fr > l.es:
		return "fr"
	case l.en > l.es && l.en > l.fr:
		return "en"
	}
	return ""
}

// telling words are ordinary words of one language, by the word.
var tellingWords = buildTells()

func buildTells() map[string][]string {
	out := map[string][]string{}
	for _, list := range wordLists() {
		for _, w := range list.tells {
			out[w] = append(out[w], list.language)
		}
	}
	return out
}

// language is the language that a line is in, "" where nothing tells. Words of the trade count,
// and in a line with other words the ordinary ones too.
func (r *reading) language() string {
	said := r.languages
	for i := range r.pieced {
		if all := tellingWords[r.pieced[i].word]; len(all) == 1 {
			said.add(all[0])
		}
	}
	return said.most()
}

// languageNames are the languages that can be chosen, by their codes and in their own words.
var languageNames = map[string]string{
	"en": "en", "english": "en", "ingles": "en", "anglais": "en",
	"es": "es", "spanish": "es", "espanol": "es", "castellano": "es", "espagnol": "es",
	"fr": "fr", "french": "fr", "frances": "fr", "francais": "fr",
}
