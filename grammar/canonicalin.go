package grammar

import (
	"reflect"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// CanonicalIn is the canonical phrase in a language, "es" or "fr", to be shown and typed back:
// its words are the first ways of that language's list. English where the language has no word
// for something, or where the phrase would not be read as the same command.
func CanonicalIn(language string, c Command) string {
	english := Canonical(c)
	list := listOf(language)
	if list == nil || english == "" {
		return english
	}
	pieces, _ := cut(english)
	s := scan{text: english, pieces: pieces}
	var out strings.Builder
	done := 0
	for _, t := range s.run() {
		word := list.word(t.kind, t.value)
		if word == "" || t.start < done {
			continue
		}
		out.WriteString(english[done:t.start])
		out.WriteString(word)
		done = t.end
	}
	out.WriteString(english[done:])
	again, err := Parse(out.String(), Setting{})
	if err != nil || !reflect.DeepEqual(again.Command, c) {
		return english
	}
	return out.String()
}

// listOf is the words of a language; nil: English, or none that there is.
func listOf(language string) *wordList {
	switch language {
	case "es":
		return &spanish
	case "fr":
		return &french
	}
	return nil
}

// unitsIn are units as other languages write them; those that are missing are written the same.
var unitsIn = map[string]map[string]string{
	"es": {"d": "días", "w": "semanas"},
	"fr": {"d": "jours", "w": "semaines"},
}

// word is the first way of saying a token's value; "" where it stays as it is.
func (l *wordList) word(kind lexer.TokenType, value string) string {
	switch kind {
	case spanKind:
		return unitsIn[l.language][value]
	case recipeKind:
		return l.word(verbKind, "recipe") + " " + value
	}
	plain := map[lexer.TokenType][]said{cutKind: l.cuts, methodKind: l.methods, stepKind: l.steps, verbKind: l.verbs}[kind]
	for _, s := range plain {
		if s.value == value {
			return s.ways[0]
		}
	}
	for _, s := range append(l.plain[:len(l.plain):len(l.plain)], l.salts...) {
		if s.kind == kind && s.value == value && kind != fillerKind && kind != vagueKind {
			return s.ways[0]
		}
	}
	return ""
}
