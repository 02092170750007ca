package grammar

import (
	"regexp"
	"strings"
)

// The commands about people.
type (
	// GiveRole names a chef, a second or a cook: "chef @ana". A cook has no other role.
	GiveRole struct{ Role, Who string } // Role is "chef", "second" or "cook"
	// TakeRole: "no longer chef @ana".
	TakeRole struct{ Role, Who string } // "chef" or "second"
	// Join asks for a code, or types one: "join", "join team", "join K7Q-M2X-RTB".
	Join struct {
		Team bool   // the code is for a team of another platform
		Code string // as NormalCode has it; "": one is asked for
	}
	// People lists who is known here.
	People struct{}
	// MyName is what the typist wants to be called: "my name is luis".
	MyName struct{ Name string }
)

func (GiveRole) command() {}
func (TakeRole) command() {}
func (Join) command()     {}
func (People) command()   {}
func (MyName) command()   {}

func (c GiveRole) canonical() string { return c.Role + " @" + c.Who }
func (c TakeRole) canonical() string { return "no longer " + c.Role + " @" + c.Who }
func (People) canonical() string     { return "people" }
func (c MyName) canonical() string   { return "my name is " + c.Name }

func (c Join) canonical() string {
	switch {
	case c.Team:
		return "join team"
	case c.Code != "":
		return "join " + c.Code
	}
	return "join"
}

// roleWords lead from the words for a role behind "no longer" to its name.
var roleWords = map[string]string{"chef": "chef", "jefe": "chef", "jefa": "chef", "cheffe": "chef", "second": "second", "segundo": "second", "segunda": "second", "seconde": "second"}

// nameOf is the one name that text is, with or without an at sign; "" where it is none.
func nameOf(text string) string {
	name := strings.TrimPrefix(strings.TrimSpace(text), "@")
	if strings.ContainsAny(name, " \t\n,;?!:@") || len(name) > 60 {
		return ""
	}
	return name
}

// ofPeople reads the verbs about people, in the letters that were typed.
func ofPeople(verb, rest string) Command {
	switch verb {
	case "chef", "second":
		if name := nameOf(rest); name != "" {
			return GiveRole{verb, name}
		}
	case "cook":
		if name := nameOf(rest); name != "" && strings.HasPrefix(strings.TrimSpace(rest), "@") { // "cook 71 c" is a step
			return GiveRole{"cook", name}
		}
	case "no longer":
		role, who, _ := strings.Cut(strings.TrimSpace(rest), " ")
		if name := nameOf(who); roleWords[fold(role)] != "" && name != "" {
			return TakeRole{roleWords[fold(role)], name}
		}
	case "join":
		switch word := fold(strings.Trim(rest, " .!")); word {
		case "":
			return Join{}
		case "team", "equipo", "equipe":
			return Join{Team: true}
		}
		if code, ok := NormalCode(rest); ok {
			return Join{Code: code}
		}
	case "people":
		if strings.Trim(rest, " ?!.") == "" {
			return People{}
		}
	case "my name is":
		if name := nameOf(strings.TrimRight(rest, " .!")); name != "" {
			return MyName{name}
		}
	}
	return nil
}

// codeShape is a one-time code as people type it: three groups of three, apart or not.
var codeShape = regexp.MustCompile(`(?:^|\s)([0-9A-Za-z]{3})[- ]?([0-9A-Za-z]{3})[- ]?([0-9A-Za-z]{3})(?:\s|$)`)

// alike are the letters that look like a digit which a code may have.
var alike = strings.NewReplacer("O", "0", "I", "1", "L", "1")

// NormalCode finds a one-time code in what was typed and writes it in one form: "K7Q-M2X-RTB".
// Nine letters in a row without a digit are a word.
func NormalCode(text string) (code string, ok bool) {
	m := codeShape.FindStringSubmatch(text)
	if m == nil || !strings.ContainsAny(m[0], "0123456789-") {
		return "", false
	}
	return alike.Replace(strings.ToUpper(m[1] + "-" + m[2] + "-" + m[3])), true
}
