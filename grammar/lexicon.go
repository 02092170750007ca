package grammar

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// node is a place in a tree of words: what the words so far mean, and what may follow.
type node struct {
	next    map[string]*node
	entry   *entry
	typable []string // keys of next that a typo in cuts, methods and verbs may lead to
	verb    bool
	// language is the one that says the entry so, "" where several do.
	language string
}

// ambiguous are the ways that mean two things, by two languages: the first stands.
var ambiguous []string

// add makes a way of saying something known. language is the one that says it so, "" where
// several do.
func (n *node) add(way string, e entry, forgiving, verb bool, language string) {
	for _, w := range strings.Fields(way) {
		w = fold(w)
		if n.next == nil {
			n.next = map[string]*node{}
		}
		child := n.next[w]
		if child == nil {
			child = &node{}
			n.next[w] = child
		}
		if forgiving && len(w) >= 5 && !slices.Contains(n.typable, w) {
			n.typable = append(n.typable, w)
			child.verb = verb
		}
		n = child
	}
	if old := n.entry; old != nil {
		if n.language != language {
			n.language = "" // it says nothing of the language
		}
		if *old != e {
			ambiguous = append(ambiguous, way)
		}
		return
	}
	n.entry, n.language = &e, language
}

// lexicon is all the words; unitWords those that stand right after a number.
var (
	lexicon   = buildLexicon()
	unitWords = buildUnits()
)

func buildLexicon() *node {
	root := &node{}
	for _, list := range wordLists() {
		addWords(root, list)
	}
	root.add(minced, entry{cutKind, minced}, true, false, "")
	for cut := range doubtfulCuts {
		root.add(cut, entry{cutKind, cut}, false, false, "")
	}
	for _, s := range dayWords {
		for _, w := range s.ways {
			root.add(w, entry{s.kind, s.value}, false, false, "")
		}
	}
	addSpoons(root)
	return root
}

// addWords adds the words of one language. In cuts, methods, steps and verbs a typo is
// forgiven, and in brine and injection.
func addWords(root *node, list wordList) {
	for _, group := range []struct {
		kind lexer.TokenType
		said []said
		verb bool
	}{{cutKind, list.cuts, false}, {methodKind, list.methods, false}, {stepKind, list.steps, true}, {verbKind, list.verbs, true}} {
		for _, s := range group.said {
			for _, w := range s.ways {
				root.add(w, entry{group.kind, s.value}, true, group.verb, list.language)
			}
		}
	}
	for _, group := range [][]kindSaid{list.salts, list.plain} {
		for _, s := range group {
			forgiving := s.kind == brineKind || s.kind == injectKind
			for _, w := range s.ways {
				root.add(w, entry{s.kind, s.value}, forgiving, false, list.language)
			}
		}
	}
}

func buildUnits() *node {
	root := &node{}
	for _, s := range units {
		for _, w := range s.ways {
			root.add(w, entry{s.kind, s.value}, false, false, "")
		}
	}
	addSpoons(root)
	return root
}

func addSpoons(root *node) {
	for _, s := range spoons {
		for _, w := range s.ways {
			root.add(w, entry{spoonKind, s.value}, false, false, "")
		}
	}
}

// find is the longest entry whose words begin at pieces[0], and how many pieces it takes.
// A hyphen between two words counts for nothing. compared counts the words that a possible
// typo was held against.
func (n *node) find(pieces []piece, forgive bool, compared *int) (*entry, int) {
	e, used, _ := n.findIn(pieces, forgive, compared)
	return e, used
}

// findIn is find with the language of the entry.
func (n *node) findIn(pieces []piece, forgive bool, compared *int) (best *entry, used int, language string) {
	for i := 0; i < len(pieces); i++ {
		p := &pieces[i]
		if i > 0 && p.text == "-" && i+1 < len(pieces) && touches(pieces[i-1], *p) && touches(*p, pieces[i+1]) {
			continue
		}
		if p.kind != lettersRaw || i > 0 && p.line {
			break
		}
		child := n.next[p.word]
		if child == nil && forgive {
			child = n.typo(p.word, i == 0, compared)
		}
		if child == nil {
			break
		}
		n = child
		if n.entry != nil {
			best, used, language = n.entry, i+1, n.language
		}
	}
	return best, used, language
}

// typo is the one child that word is a typo of, or nil. The first letter must be right, or
// have changed places with the second; in a verb no letter may be exchanged for another
// ("burned" and "smart" do nothing to a batch).
func (n *node) typo(word string, root bool, compared *int) *node {
	if len(word) < 4 || root && (lookAlike(word) != "" || unforgiven[word]) {
		return nil
	}
	var found *node
	for _, w := range n.typable {
		if len(w)-len(word) > 1 || len(word)-len(w) > 1 || w[0] != word[0] && (w[0] != word[1] || w[1] != word[0]) {
			continue
		}
		*compared++
		child := n.next[w]
		if !oneTypo(word, w) || child.verb && (len(word) < 5 || len(word) == len(w) && !swapped(word, w)) {
			continue
		}
		if found != nil && found != child && !sameMeaning(found, child) {
			return nil
		}
		found = child
	}
	return found
}

// unforgiven are English words that are one letter from a word of the trade.
var unforgiven = setOf("bully", "smoker", "tuned", "crooked", "freezer", "freezers", "coolings",
	"lounge", "longue", "suspend", "suspends", "pallet", "hatch", "gorges")

func sameMeaning(a, b *node) bool {
	return a.entry != nil && b.entry != nil && a.entry.value == b.entry.value && len(a.next) == 0 && len(b.next) == 0
}

// swapped reports whether two words of one length have the same letters.
func swapped(a, b string) bool {
	sum := 0
	for i := range len(a) {
		sum += int(a[i]) - int(b[i])
	}
	return sum == 0
}

// lookAlike is the salt that word may be a misspelling of, "" if none or if it is spelt right.
func lookAlike(word string) string {
	if len(word) < 5 {
		return ""
	}
	for _, s := range saltNames {
		if word == s {
			return ""
		}
	}
	for _, s := range saltNames {
		if d := distance(word, s, 2); d == 1 || d == 2 && len(word) >= 6 && word[0] == s[0] {
			return s
		}
	}
	return ""
}

// touches reports whether nothing stands between a and b.
func touches(a, b piece) bool { return a.end == b.start }

// Words lists what may be typed: the cuts, the methods, the verbs. A new slice each time.
func Words() []string {
	var out []string
	for _, c := range cuts {
		out = append(out, c.ways...)
	}
	for _, list := range [][]said{methods, steps, verbs} {
		for _, s := range list {
			out = append(out, s.ways[0])
		}
	}
	out = append(out, "brine", "inject", "cover", no1, no2, nitritedSalt, noCure, houseCure, "skin on", "skin off", "heated", "not heated")
	slices.Sort(out)
	return slices.Compact(out)
}
