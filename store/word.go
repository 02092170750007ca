package store

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
)

// worded is a body with words of people in it: a phrase, a reason, a name.
type worded interface{ words() []string }

func (a Asked) words() []string           { return a.Card.words() }
func (r Revised) words() []string         { return append(r.Card.words(), WordsIn(r.Why)...) }
func (c WeightCorrected) words() []string { return WordsIn(c.Why) }
func (a Approved) words() []string        { return WordsIn(a.Why) }
func (v ApprovalVoided) words() []string  { return WordsIn(v.Why) }
func (d Declined) words() []string        { return WordsIn(d.Why) }
func (h Held) words() []string            { return WordsIn(h.Why) }
func (r Released) words() []string        { return WordsIn(r.Why) }
func (d Discarded) words() []string       { return WordsIn(d.Why) }

// words of a dose card are those that not every card has.
func (c Card) words() []string {
	words := WordsIn(c.Phrase + " " + c.Jar + " " + c.Recipe)
	return slices.DeleteFunc(words, func(w string) bool { return slices.Contains(ofEveryCard, w) })
}

// ofEveryCard are words that find nothing, since nearly every phrase has them.
var ofEveryCard = []string{"kg", "lb", "oz", "day", "days", "dry", "rub", "salt", "no", "ppm", "recipe"}

// longestWord is the most bytes of a word that is kept; mostWords the most of one event.
const (
	longestWord = 32
	mostWords   = 64
)

// WordsIn gives the words of a text as they are found by: in lower case, without accents, each
// once. What has one letter, or is a number below a thousand, finds nothing and is left out.
func WordsIn(text string) []string {
	var words []string
	for _, w := range strings.FieldsFunc(plain.Replace(strings.ToLower(text)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		number := strings.Trim(w, "0123456789") == ""
		if len(w) < 2 || number && len(w) < 4 || len(w) > longestWord || slices.Contains(words, w) {
			continue
		}
		if words = append(words, w); len(words) == mostWords {
			break
		}
	}
	return words
}

var plain = strings.NewReplacer("á", "a", "à", "a", "â", "a", "ä", "a", "ç", "c", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "î", "i", "ï", "i",
	"ñ", "n", "ó", "o", "ô", "o", "ö", "o", "ú", "u", "ù", "u", "û", "u", "ü", "u", "œ", "oe")

// wordKey is the beginning of the keys of all words that begin so; ended, of that word alone.
func wordKey(kitchen, word string) key {
	return append(key(nil).kind(lookWord).text(kitchen), word...)
}

const wordEnd = 0

// indexWords makes a batch findable by the words of an event and by the name of whose it is.
// Like the event, that is never taken back: what was undone is still found.
func indexWords(b records, e Event, t key) error {
	var words []string
	if body, ok := e.Body.(worded); ok {
		words = body.words()
	}
	if e.Person != "" {
		p, known, err := loadPerson(b, e.Kitchen, e.Person)
		if err != nil {
			return err
		}
		if known {
			words = append(words, WordsIn(p.Name)...)
		}
	}
	for _, w := range words {
		if err := b.put(bucketLook, append(wordKey(e.Kitchen, w), wordEnd).join(t), present); err != nil {
			return err
		}
	}
	return nil
}

// mostForms is how many words that begin as the one that was typed are looked for.
const mostForms = 8

// forms gives the index of the word that was typed, and of those that begin with it.
func (tx *Tx) forms(kitchen, word string) (found []key) {
	begin := wordKey(kitchen, word)
	for from := begin; len(found) < mostForms; {
		k, _ := tx.seek(bucketLook, from)
		if !bytes.HasPrefix(k, begin) {
			break
		}
		end := bytes.IndexByte(k[len(begin):], wordEnd)
		if end < 0 {
			break
		}
		one := key(bytes.Clone(k[:len(begin)+end+1]))
		found = append(found, one)
		from = append(bytes.Clone(one[:len(one)-1]), wordEnd+1)
	}
	return found
}
