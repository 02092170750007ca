package grammar

import "unicode/utf8"

// blanks are the words that cards put where a figure is to be read, each with a phrase that
// has one.
var blanks = map[string]string{
	"GRAMS": "jar A7 842.0 g", "CURE": "weighed 8.0 cure, 72.4 salt, jar A7", "SALT": "weighed 8.0 cure, 72.4 salt, jar A7",
	"TEMP": "walk-in 2 3.1 c", "PERCENT": "jar A7 is no 1, 6.25% nitrite, lot 2291",
}

// blank is the error of a line that was copied from a card with the blank still in it; nil: it
// has none, or it is all in capitals anyway.
func (r *reading) blank() *Error {
	var found piece
	small := false
	for _, p := range r.pieced {
		if blanks[p.text] != "" && found.text == "" {
			found = p
		}
		small = small || p.word != "" && p.text == p.word
	}
	if found.text == "" || !small {
		return nil
	}
	return &Error{Code: "blank", Column: column(r.text, found.start), Width: utf8.RuneCountInString(found.text), Token: found.text,
		Example: blanks[found.text], Near: true}
}
