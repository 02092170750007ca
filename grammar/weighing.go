package grammar

import (
	"slices"
	"strings"

	"salthand/cure"
)

// The phrases of weighing in.
type (
	// WeighedIn is what was weighed out for a batch: "weighed 8.0 cure, 72.4 salt, jar A7".
	WeighedIn struct {
		Cure   cure.Given[cure.Gram]
		Salt   cure.Given[cure.Gram]
		Kind   cure.AgentKind // of the cure, where it was named
		Jar    string
		Before cure.Given[cure.Gram] // "jar A7 842.0 -> 834.0"
		After  cure.Given[cure.Gram]
		When   *When  // a late entry
		Why    string // "weighed …: reason"
	}
	// Seen is a second reading of scale and jar: "seen 8.0 A7". Without figures it is asked back.
	Seen struct {
		Cure cure.Given[cure.Gram]
		Jar  string
	}
)

func (WeighedIn) command() {}
func (Seen) command()      {}

const (
	weighedExample = "weighed 8.0 cure, 72.4 salt, jar A7"
	seenExample    = "seen 8.0 A7"
)

// weighedIn reads toks[from:] as what was weighed out. Neither a command nor an error: it is
// none of that; "weighed 2.1 kg" says nothing of an ingredient.
func (r *reading) weighedIn(from int) (Command, error) {
	t, why := r.toks[from+1:], ""
	if i := strings.Index(r.text[r.toks[from].end:], ": "); i >= 0 {
		at := r.toks[from].end + i
		why = strings.TrimSpace(r.text[at+1:])
		for n := range t {
			if t[n].start > at {
				t = t[:n]
				break
			}
		}
	}
	if !slices.ContainsFunc(t, func(x token) bool { return x.kind == numberKind }) ||
		!slices.ContainsFunc(t, func(x token) bool { return isIngredient(x) || x.kind == jarKind }) {
		return nil, nil
	}
	if talks(t) {
		return nil, nil // "weighed cure for 5 kg then trimmed it"
	}
	out := WeighedIn{Why: why}
	for n := 0; n < len(t); {
		switch {
		case t[n].kind == sepKind || t[n].kind == plusKind:
			n++
		case t[n].kind == jarKind && n+1 < len(t) && t[n+1].kind == nameKind && out.Jar == "":
			out.Jar = t[n+1].value
			used, err := r.jarReadings(&out, t[n+2:])
			if err != nil {
				return nil, err
			}
			n += 2 + used
		case t[n].kind == agentKind && t[n].value == noCure:
			n++
		case isIngredient(t[n]) && n+1 < len(t) && t[n+1].kind == numberKind: // "cure 8.0"
			used, err := r.ingredient(&out, t[n], t[n+1:])
			if err != nil {
				return nil, err
			}
			n += 1 + used
		case t[n].kind == numberKind:
			_, used, err := r.gramsAt(t[n:])
			if err != nil {
				return nil, err
			}
			of := token{kind: vagueKind, value: "pink salt", start: t[n].start, end: t[n].end}
			next := n + used
			switch {
			case next < len(t) && isIngredient(t[next]):
				of = t[next]
				next++
			case next < len(t) && t[next].kind == jarKind: // "8.0 g jar A7"
			default:
				return nil, r.notWeighed("of what", t[n])
			}
			if _, err := r.ingredient(&out, of, t[n:]); err != nil {
				return nil, err
			}
			n = next
		default:
			if out.When = r.whenAt(t[n:]); out.When == nil {
				return nil, r.notWeighed("unknown word", t[n])
			}
			n = len(t)
		}
	}
	return out, nil
}

// whenAt reads some tokens as the time of a late entry; nil: they are none.
func (r *reading) whenAt(t []token) *When {
	again := reading{text: "turned " + r.text[t[0].start:t[len(t)-1].end], dates: r.dates, plain: true}
	p, err := again.line()
	r.work += again.work
	if did, ok := p.Command.(Did); ok && err == nil {
		return did.When
	}
	return nil
}

func (r *reading) notWeighed(code string, t token) error {
	e := r.fail(code, stretch{t.start, t.end})
	e.Example = weighedExample
	return e
}

// isIngredient reports whether a token names what is weighed in: a curing salt or salt. Behind
// a number the Spanish "sal" is read as a salometer's degree first.
func isIngredient(t token) bool { return isSalt(t.kind) || isPlainSalt(t) }

func isPlainSalt(t token) bool {
	return t.kind == stuffKind && t.value == "salt" || t.kind == saltyKind && t.value == "sal"
}

// talks reports whether tokens tell of more than what was weighed out.
func talks(t []token) bool {
	strange := 0
	for _, x := range t {
		switch x.kind {
		case wordKind, verbKind, stepKind:
			strange++
		case cutKind, spanKind, flagKind:
			return true
		}
	}
	return strange > 1
}

// ingredient notes the weight of one ingredient, which t begins with.
func (r *reading) ingredient(out *WeighedIn, of token, t []token) (int, error) {
	mass, used, err := r.gramsAt(t)
	if err != nil {
		return 0, err
	}
	into := &out.Cure
	switch {
	case isPlainSalt(of):
		into = &out.Salt
	case of.value == misspelt:
		return 0, r.ask(misspelt, stretch{of.start, of.end})
	default:
		out.Kind = cureKinds[of.value]
	}
	if into.Set() {
		return 0, r.notWeighed("twice", t[0])
	}
	*into = cure.Typed(mass)
	return used, nil
}

// jarReadings reads "842.0 -> 834.0" behind a jar's name; one weight alone is the jar as it
// stands now.
func (r *reading) jarReadings(out *WeighedIn, t []token) (used int, err error) {
	into := []*cure.Given[cure.Gram]{&out.Before, &out.After}
	for len(into) > 0 && used < len(t) {
		switch {
		case t[used].kind == oddKind && (t[used].value == "-" || t[used].value == ">" || t[used].value == "→"):
			used++
		case t[used].kind == numberKind:
			mass, n, err := r.gramsAt(t[used:])
			if err != nil {
				return used, err
			}
			if next := used + n; next < len(t) && isIngredient(t[next]) {
				return used, nil // "jar A7 8.0 cure"
			}
			*into[0], into, used = cure.Typed(mass), into[1:], used+n
		default:
			into = nil
		}
	}
	if out.Before.Set() && !out.After.Set() {
		out.Before, out.After = out.After, out.Before
	}
	return used, nil
}

// seen reads what follows "seen", as it was typed: numbers and the name of a jar. Neither a
// command nor an error: it is talk.
func (r *reading) seen(from int) (Command, error) {
	out := Seen{}
	rest := strings.TrimRight(strings.TrimSpace(r.text[r.toks[from].end:]), ".!")
	if rest == "" {
		return out, nil
	}
	named := false
	for _, word := range strings.Fields(strings.NewReplacer(", ", " ", ";", " ").Replace(rest)) {
		name := strings.ToUpper(word)
		plain := fold(word)
		n, isNumber := readNumber(strings.TrimSuffix(plain, "g"))
		switch {
		case plain == "g" || plain == "gr" || jarSaid(plain) || plain == "cure":
			named = named || jarSaid(plain)
			continue
		case isNumber && !named && !out.Cure.Set():
			if n.other != "" {
				at := strings.Index(r.text, word)
				return nil, r.thousandsAt(n, stretch{at, at + len(word)})
			}
			out.Cure = cure.Typed(cure.Gram(n.times(1)))
		case out.Jar == "" && (named || isJarName(name)):
			out.Jar = name
		default:
			if out.Cure.Set() {
				at := r.toks[from].end + strings.Index(r.text[r.toks[from].end:], word)
				e := r.fail("unknown word", stretch{at, at + len(word)})
				e.Example = seenExample
				return nil, e
			}
			return nil, nil
		}
		named = false
	}
	if !out.Cure.Set() && out.Jar == "" {
		return nil, nil
	}
	return out, nil
}

// thousandsAt asks which of two numbers of grams "1.250" is.
func (r *reading) thousandsAt(n number, at stretch) error {
	q := r.ask("thousands", at)
	for _, v := range []string{plainNumber(n.times(1)) + "0", n.other} {
		q.Choices = append(q.Choices, Choice{v + " g", r.replaced(at, v)})
	}
	return q
}

// jarSaid reports whether a word is "jar" in any language.
func jarSaid(word string) bool {
	compared := 0
	e, _ := lexicon.find([]piece{{kind: lettersRaw, text: word, word: word}}, false, &compared)
	return e != nil && e.kind == jarKind
}

// isJarName reports whether a word in capitals is a name that nobody takes for a word: a
// letter or more and digits.
func isJarName(word string) bool {
	letters := strings.TrimRight(word, "0123456789")
	return letters != "" && letters != word && len(letters) <= 8 && strings.Trim(letters, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

func (c WeighedIn) canonical() string {
	var out []string
	name := agentNames[c.Kind]
	if name == "" {
		name = "cure"
	}
	if c.Cure.Set() {
		out = append(out, weighed(c.Cure.Value)+" "+name)
	}
	if c.Salt.Set() {
		out = append(out, weighed(c.Salt.Value)+" salt")
	}
	if c.Jar != "" {
		jar := "jar " + c.Jar
		if c.Before.Set() {
			jar += " " + weighed(c.Before.Value) + " ->"
		}
		if c.After.Set() {
			jar += " " + weighed(c.After.Value)
		}
		out = append(out, jar)
	}
	if c.When != nil {
		out = append(out, strings.TrimSpace(canonicalWhen(c.When)))
	}
	return because("weighed "+strings.Join(out, ", "), c.Why)
}

func (c Seen) canonical() string {
	out := "seen"
	if c.Cure.Set() {
		out += " " + unmistaken(float64(c.Cure.Value)) + " g"
	}
	if c.Jar != "" {
		out += " jar " + c.Jar
	}
	return out
}
