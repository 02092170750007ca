// Package grammar turns one typed line into a command.
package grammar

import "unicode/utf8"

// Setting is what a kitchen's record says of how its people type. The zero Setting reads
// English with either decimal mark.
type Setting struct {
	Thread  bool      // the line stands in a batch's thread
	Dates   DateOrder // of the kitchen
	Recipes string    // the names of the kitchen's recipes, one a line
	Places  string    // the names of the kitchen's places, one a line
}

// Open is a question that waits for an answer.
type Open struct {
	Choices []Choice
	Append  string // not "": a reply that is none of the choices is appended to this phrase as a clause
}

// Choice is one answer to a question and the whole phrase that it makes.
type Choice struct {
	Label  string // what to type: "us gal"
	Phrase string // the asked phrase, corrected
}

// Question is a phrase with two readings, or one that lacks something: one of Choices, to pick.
type Question struct {
	Code          string // "gallon", "thousands", "pink salt", "spoon", "method", …
	Column, Width int    // place in the text, in runes from 1; Width 0: nowhere
	Token         string // the text at the place
	Choices       []Choice
	Append        string // as in Open
}

func (q *Question) Error() string { return "grammar: question: " + q.Code }

// Error is a phrase that can't be read.
type Error struct {
	Code          string   // "unknown word", "twice", "unknown cut", "not a number", "too long", …
	Column, Width int      // place in the text, in runes from 1
	Token         string   // the text at the place
	Other         string   // "twice": the first value
	Suggest       []string // did you mean; only words that are valid in this place
	Example       string   // one phrase that would work here, close to what was typed
	Near          bool     // a weight and a cut, cure or method were understood, or what a jar or a recipe is: worth an answer in the cure channel
}

func (e *Error) Error() string { return "grammar: " + e.Code + " at " + e.Token }

// Parse reads one line. What is no business of the bot is Chatter, without an error. The
// error is a *Question or an *Error.
//
// Words of poisoning come before everything else, then phrases that ask for figures, then
// commands, then doses; what could not be read as one of them, and names a situation of the
// trade in free words, is Told.
func Parse(text string, set Setting) (p Phrase, err error) {
	defer func() {
		if recover() != nil { // a fault in here must cost one line, not the kitchen's bot
			p, err = Phrase{}, &Error{Code: "unread", Column: 1, Width: utf8.RuneCountInString(text), Token: text, Example: example}
		}
	}()
	if len(text) > maxText {
		if poisoned(words(text[:min(len(text), 4*maxText)])) {
			return Phrase{Command: Emergency{}}, nil
		}
		return Phrase{}, &Error{Code: "too long", Column: 1, Width: utf8.RuneCountInString(text), Example: example}
	}
	r := reading{text: text, thread: set.Thread, dates: set.Dates, recipes: recipeNames(set.Recipes), places: set.Places}
	p, err = r.line()
	if e, ok := err.(*Error); ok && e.Code != "too long" && r.defines() {
		e.Near = true
	}
	p.Language = r.language()
	return p, err
}

// example is a phrase that always works.
const example = "3.2 kg pork belly, dry rub, 7 days"
