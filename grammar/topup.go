package grammar

import (
	"strings"

	"salthand/cure"
)

// Added is cure that went in on top, where too little had: "added 4.5 g no 1, jar A7".
type Added struct {
	Cure cure.Given[cure.Gram]
	Kind cure.AgentKind // where it was named
	Jar  string
	Why  string // "added …: reason"
}

func (Added) command() {}

func (c Added) canonical() string {
	return "added" + strings.TrimPrefix(WeighedIn{Cure: c.Cure, Kind: c.Kind, Jar: c.Jar, Why: c.Why}.canonical(), "weighed")
}

// addedIn reads toks[from:] as cure that was added to a batch. What tells of more is none of that.
func (r *reading) addedIn(from int) (Command, error) {
	c, err := r.weighedIn(from)
	w, ok := c.(WeighedIn)
	if e, is := err.(*Error); is {
		e.Example = "added 4.5 g no 1, jar A7"
	}
	if err != nil || !ok {
		return nil, err
	}
	if w.Salt.Set() || w.Before.Set() || w.After.Set() || w.When != nil || !w.Cure.Set() {
		return nil, nil
	}
	return Added{w.Cure, w.Kind, w.Jar, w.Why}, nil
}
