package grammar

import (
	"slices"
	"strings"
	"unicode"

	"salthand/cure"
)

// The phrases about places. A name stands as the kitchen has it, or as it was typed where the
// kitchen has none like it: it is never forgiven a typo.
type (
	// NamePlace makes a place known: "place walk-in 2"; New where one that looks alike is there.
	NamePlace struct {
		Name string
		New  bool // "new place walk-in 22"
	}
	// PutIn says where a batch was put: "in walk-in 2", "moved to the cave yesterday 9:00".
	PutIn struct {
		Place string
		When  *When
	}
	// WhereIs asks where a batch is: "where is 42".
	WhereIs struct{}
	// ShowPlace asks what is in a place: "walk-in 2", "what is in walk-in 2".
	ShowPlace struct{ Place string }
	// ReadPlace is a temperature read in a place: "walk-in 2 3.1 c", "walk-in 2 38 f 7:00".
	ReadPlace struct {
		Place       string
		Temperature cure.Celsius
		Fahrenheit  bool // as it was typed
		When        *When
		Evidence    string // what a late one rests on: "probe log"
	}
	// WasWarm tells that a place was not cold: "walk-in 2 was at 9 c since 3:00", "power out
	// walk-in 2 since 3:00".
	WasWarm struct {
		Place       string // "": not said
		Temperature cure.Given[cure.Celsius]
		Since       *When // nil: not said
		Power       bool  // the power was out
	}
)

func (NamePlace) command() {}
func (PutIn) command()     {}
func (WhereIs) command()   {}
func (ShowPlace) command() {}
func (ReadPlace) command() {}
func (WasWarm) command()   {}

func (c NamePlace) canonical() string {
	if c.New {
		return "new place " + c.Name
	}
	return "place " + c.Name
}
func (c PutIn) canonical() string     { return "moved to " + c.Place + canonicalWhen(c.When) }
func (WhereIs) canonical() string     { return "where is it" }
func (c ShowPlace) canonical() string { return "what is in " + c.Place }
func (c ReadPlace) canonical() string {
	return c.Place + " " + degreesWord(c.Temperature, c.Fahrenheit) + canonicalWhen(c.When) + evident(c.Evidence)
}
func (c WasWarm) canonical() string {
	out := strings.TrimSpace("power out " + c.Place)
	if !c.Power {
		out = c.Place + " was"
	}
	if c.Temperature.Set() {
		out += " at " + degreesWord(c.Temperature.Value, false)
	} else if !c.Power {
		out += " warm"
	}
	if c.Since != nil {
		out += " since" + canonicalWhen(c.Since)
	}
	return out
}

func degreesWord(t cure.Celsius, fahrenheit bool) string {
	if fahrenheit {
		return plainNumber(clean(float64(t)*9/5+32)) + " f"
	}
	return plainNumber(float64(t)) + " c"
}

// longestPlace is the most bytes of a place's name, mostPlaceWords the most words.
const (
	longestPlace   = 40
	mostPlaceWords = 4
)

// placeKey is how names of places are compared: letters and digits alone, without case.
func placeKey(p []piece) string {
	var b strings.Builder
	for i := range p {
		switch {
		case p[i].word != "":
			b.WriteString(p[i].word)
		case p[i].kind == numberRaw:
			b.WriteString(p[i].text)
		}
	}
	return b.String()
}

// PlaceKey is how names of places are compared: "Walk-in 2" and "walkin 2" are one.
func PlaceKey(name string) string { return placeKey(words(name)) }

// knownPlaces are the names that the kitchen knows which stand at the beginning, the longest
// first, with how many pieces each takes.
func (r *reading) knownPlaces(p []piece) (names []string, lengths []int) {
	if r.places == "" {
		return nil, nil
	}
	for n := min(len(p), 2*mostPlaceWords); n > 0; n-- {
		if last := p[n-1]; last.word == "" && last.kind != numberRaw {
			continue
		}
		key := placeKey(p[:n])
		for name := range strings.SplitSeq(r.places, "\n") {
			if PlaceKey(name) == key {
				names, lengths = append(names, name), append(lengths, n)
			}
		}
	}
	return names, lengths
}

// likePlace is a name that the kitchen does not know and that a place may be called by:
// "fridge 3", "the back walk-in"; 0: there is none.
func (r *reading) likePlace(p []piece) (string, int) {
	for lead := 0; lead < 2 && lead < len(p); lead++ {
		if e, n := placeTree.find(p[lead:], false, &r.work); e != nil {
			n += lead
			if n < len(p) && !p[n].line && (isPlaceNumber(p, n) || len(p[n].word) == 1 && !isDegreeWord(p[n].word)) {
				n++
			}
			return tidy(r.textOf(p[:n])), n
		}
		if p[lead].word == "" {
			break
		}
	}
	return "", 0
}

// isPlaceNumber reports whether p[n] is the number of a place, and no temperature.
func isPlaceNumber(p []piece, n int) bool {
	if p[n].kind != numberRaw || !isDigits(p[n].text) || len(p[n].text) > 3 {
		return false
	}
	return n+1 >= len(p) || !isDegreeWord(p[n+1].word) && p[n+1].text != "°" && p[n+1].text != "º"
}

func isDegreeWord(w string) bool {
	return w == "c" || w == "f" || strings.HasPrefix(w, "deg") || strings.HasPrefix(w, "grad")
}

// anyPlace is the name at the beginning of what must be one: known, like one, or any words.
func (r *reading) anyPlace(p []piece) (string, int) {
	if len(p) > 0 && slices.Contains([]string{"the", "la", "el", "le"}, p[0].word) {
		name, n := r.anyPlace(p[1:])
		if n > 0 {
			n++
		}
		return name, n
	}
	if names, n := r.knownPlaces(p); len(names) > 0 {
		return names[0], n[0]
	}
	if name, n := r.likePlace(p); n > 0 {
		return name, n
	}
	n := 0
	for n < len(p) && n < mostPlaceWords && !p[n].line && p[n].kind == lettersRaw {
		if e, _ := lexicon.find(p[n:], false, &r.work); e != nil && n > 0 && (e.kind == dayKind || e.kind == weekdayKind || e.kind == atKind) {
			break
		}
		n++
	}
	if n > 0 && n < len(p) && isPlaceNumber(p, n) && !p[n].line {
		n++
	}
	if n == 0 || len(r.textOf(p[:n])) > longestPlace {
		return "", 0
	}
	return tidy(r.textOf(p[:n])), n
}

// namePlace reads the name behind "place".
func (r *reading) namePlace(p []piece, fresh bool) Command {
	p = unmarked(p)
	text := r.textOf(p)
	if text == "" || len(text) > longestPlace || strings.ContainsAny(text, ":,;?!\n") || len(strings.Fields(text)) > mostPlaceWords || PlaceKey(text) == "" || p[0].kind != lettersRaw {
		return nil
	}
	return NamePlace{tidy(text), fresh}
}

// putIn reads the place behind "in" or "moved to"; behind "in" alone it has to be known or to
// look like one.
func (r *reading) putIn(p []piece, plain bool) (Command, error) {
	if len(p) > 0 && slices.Contains([]string{"the", "la", "el", "le"}, p[0].word) {
		p = p[1:]
	}
	names, lengths := r.knownPlaces(p)
	if name, n := r.likePlace(p); n > 0 && !slices.Contains(lengths, n) {
		names, lengths = append(names, name), append(lengths, n)
	}
	if name, n := r.anyPlace(p); plain && n > 0 && len(names) == 0 {
		names, lengths = append(names, name), append(lengths, n)
	}
	for i, n := range lengths {
		if w, ok := r.momentIn(p[n:]); ok {
			return PutIn{names[i], w}, nil
		}
	}
	return nil, nil
}

// momentIn reads pieces as a moment that is past: nil and true where there is nothing.
func (r *reading) momentIn(p []piece) (*When, bool) {
	if len(unmarked(p)) == 0 {
		return nil, true
	}
	return r.part(p).momentFrom(0)
}

// ofPlace reads a line that begins with a place: one that the kitchen knows, or that has a
// number. "the cave is cold" is talk where nobody named a place so.
func (r *reading) ofPlace(p []piece) (Command, error) {
	names, lengths := r.knownPlaces(p)
	if name, n := r.likePlace(p); n > 0 && (p[n-1].kind == numberRaw || len(p[n-1].word) == 1) && !slices.Contains(lengths, n) {
		names, lengths = append(names, name), append(lengths, n)
	}
	for i, n := range lengths {
		rest := p[n:]
		if len(unmarked(rest)) == 0 {
			return ShowPlace{names[i]}, nil
		}
		if len(rest) == 1 && isDegreeWord(rest[0].word) { // "walk-in 2 c": of walk-in 2, or 2 °C?
			return nil, r.fail("not a number", stretch{p[0].start, rest[0].end})
		}
		if cmd, err := r.placeIs(names[i], rest); cmd != nil || err != nil {
			return cmd, err
		}
	}
	return nil, nil
}

// placeIs reads what follows a place: a temperature now, or how warm it was.
func (r *reading) placeIs(name string, p []piece) (Command, error) {
	e, n := partTree.find(p, false, &r.work)
	switch {
	case e != nil && e.value == "was at":
		return r.warmSince(WasWarm{Place: name}, p[n:])
	case e != nil && e.value == "is at":
		p = p[n:]
	}
	if e, n := alongTree.find(p, false, &r.work); e != nil && e.value == "power out" {
		return r.warmSince(WasWarm{Place: name, Power: true}, p[n:])
	}
	if len(p) > 0 && (p[0].text == ":" || p[0].text == "," || p[0].text == "=") {
		p = p[1:]
	}
	part := r.part(p)
	first := 0
	if kindAt(part.toks, 0) == atKind {
		first++
	}
	t, next, err := part.degreesAt(first)
	if err != nil {
		return nil, r.whole(err, p)
	}
	if next == first {
		return nil, nil
	}
	w, ok := part.momentFrom(next)
	if !ok {
		return nil, nil
	}
	return ReadPlace{Place: name, Temperature: t, Fahrenheit: part.toks[next-1].value == "f", When: w}, nil
}

// warmSince reads how warm it was, and since when or for how long.
func (r *reading) warmSince(out WasWarm, p []piece) (Command, error) {
	p = unmarked(p)
	if len(p) == 0 {
		return out, nil
	}
	part := r.part(p)
	i := 0
	for kindAt(part.toks, i) == atKind || kindAt(part.toks, i) == sepKind {
		i++
	}
	t, next, err := part.degreesAt(i)
	if err != nil {
		return nil, r.whole(err, p)
	}
	if next > i {
		out.Temperature = cure.Typed(t)
	}
	for kindAt(part.toks, next) == sepKind {
		next++
	}
	switch {
	case next >= len(part.toks):
		return out, nil
	case kindAt(part.toks, next) == numberKind && kindAt(part.toks, next+1) == spanKind && next+2 == len(part.toks): // "for 5 h"
		d, err := part.span(part.toks[next].value, part.toks[next+1].value, stretch{part.toks[next].start, part.toks[next+1].end})
		if err != nil {
			return nil, r.whole(err, p)
		}
		out.Since = agoOf(d)
		return out, nil
	case kindAt(part.toks, next) == sinceKind:
		if w, ok := part.momentFrom(next + 1); ok && w != nil {
			out.Since = w
			return out, nil
		}
		return nil, part.fail("not a time", stretch{part.toks[next].start, part.toks[len(part.toks)-1].end})
	}
	return nil, nil
}

// powerOut reads "power out walk-in 2 since 3:00". Without a time it is left to free words.
func (r *reading) powerOut(p []piece, n int) (Command, error) {
	rest := p[n:]
	if len(rest) > 0 && slices.Contains([]string{"in", "at", "en", "dans"}, rest[0].word) {
		rest = rest[1:]
	}
	out := WasWarm{Power: true}
	if names, m := r.knownPlaces(rest); len(names) > 0 {
		out.Place, rest = names[0], rest[m[0]:]
	} else if name, m := r.likePlace(rest); m > 0 {
		out.Place, rest = name, rest[m:]
	}
	cmd, err := r.warmSince(out, rest)
	if c, ok := cmd.(WasWarm); ok && c.Since == nil {
		return nil, nil
	}
	return cmd, err
}

// NearPlaces are the known names that differ from one in a letter or two. With another number it
// is another place.
func NearPlaces(name string, known []string) (near []string) {
	const typos = 2
	digits, letters := apart(name)
	for _, k := range known {
		if d, l := apart(k); d == digits && distance(l, letters, typos) <= typos {
			near = append(near, k)
		}
	}
	return near
}

// apart are the digits and the letters of a name, as names of places are compared.
func apart(name string) (digits, letters string) {
	for _, r := range PlaceKey(name) {
		if unicode.IsDigit(r) {
			digits += string(r)
		} else {
			letters += string(r)
		}
	}
	return digits, letters
}
