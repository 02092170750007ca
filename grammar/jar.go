package grammar

import (
	"strings"

	"salthand/cure"
)

// The phrases about a jar. Its name is as it was typed, in capitals: it is never forgiven a typo.
type (
	// JarIs says what is in a jar: "jar A7 is no 1, 6.25% nitrite, lot 2291".
	JarIs struct {
		Jar   string
		How   JarHow
		Label JarLabel
		Parts []JarPart             // of a house cure: "made of 96 g jar A7 + 904 g salt"
		Salt  cure.Given[cure.Gram] // beside the Parts
	}
	// JarWeighs is a jar on the scale with all that is in it: "jar A7 842.0 g".
	JarWeighs struct {
		Jar  string
		Mass cure.Gram
		When *When // a late entry
	}
	// JarMarked says whether a jar may be taken from.
	JarMarked struct {
		Jar  string
		Mark JarMark
		Why  string
	}
	// JarSeen is the second reading of a house cure made here: "jar H1 seen 96.0 g jar A7 + 904.0 g salt".
	JarSeen struct {
		Jar   string
		Parts []JarPart
		Salt  cure.Given[cure.Gram]
	}
	// JarApprove lets a house cure made here be used: "jar H1 approved".
	JarApprove struct{ Jar string }
	// JarPhoto goes with a picture of the label: "jar A7 label".
	JarPhoto struct{ Jar string }
	// ShowJar asks for one jar, Jars for all of them.
	ShowJar struct{ Jar string }
	Jars    struct{}
)

// JarHow is how a label came to be said.
type JarHow uint8

// The ways to say what is in a jar.
const (
	JarIsSo   JarHow = iota // "jar A7 is …"
	JarAnew                 // "jar A7 filled anew: …"
	JarReread               // "jar A7 label: …": what was noted before was wrong
)

// JarMark is whether a jar may be taken from.
type JarMark string

// The marks of a jar.
const (
	JarEmpty     JarMark = "empty"
	JarWithdrawn JarMark = "withdrawn"
	JarInUse     JarMark = "back in use"
)

// JarLabel is what was said of what is in a jar; what was not said is unset.
type JarLabel struct {
	Kind    cure.AgentKind
	Nitrite cure.Given[cure.Fraction]
	Nitrate cure.Given[cure.Fraction]
	Lot     string
	Dyed    cure.Given[bool]
	Both    bool // "dyed" and "undyed": the label says two things
}

// JarPart is what a house cure was made of.
type JarPart struct {
	Jar  string
	Mass cure.Gram
}

func (JarIs) command()      {}
func (JarWeighs) command()  {}
func (JarMarked) command()  {}
func (JarSeen) command()    {}
func (JarApprove) command() {}
func (JarPhoto) command()   {}
func (ShowJar) command()    {}
func (Jars) command()       {}

// jarExample is a phrase about a jar that always works.
const jarExample = "jar A7 is no 1, 6.25% nitrite, lot 2291"

// jarWords are the words behind a jar's name.
var jarWords = buildJarWords()

func buildJarWords() *node {
	root := &node{}
	for _, list := range wordLists() {
		for _, s := range list.jars {
			for _, w := range s.ways {
				root.add(w, entry{verbKind, s.value}, false, false, list.language)
			}
		}
	}
	return root
}

// jarOrder reads toks[from:], which begin with a jar. Neither a command nor an error: it is
// none, a dose phrase perhaps. ofBatch: it stands where "jar A7" alone changes a dose.
func (r *reading) jarOrder(from int, ofBatch bool) (Command, error) {
	t := r.toks[from:]
	if len(t) < 2 || t[1].kind != nameKind {
		return nil, nil
	}
	name, rest := t[1].value, t[2:]
	i := r.pieceAt(t[1].end)
	for i < len(r.pieced) && strings.Contains("?!.", r.pieced[i].text) {
		i++
	}
	if i == len(r.pieced) {
		if ofBatch {
			return nil, nil
		}
		return ShowJar{name}, nil
	}
	i = r.pieceAt(t[1].end)
	for i < len(r.pieced) && (r.pieced[i].text == ":" || r.pieced[i].text == "=") {
		i++
	}
	word, used := r.jarWord(i)
	if word == "weighs" {
		i += used
		rest = r.tokensFrom(i)
	}
	if len(rest) > 0 && rest[0].kind == numberKind && (word == "" || word == "weighs") {
		return r.jarWeighs(name, rest)
	}
	why := ""
	if used > 0 && i+used < len(r.pieced) && r.pieced[i+used].text == ":" {
		why = strings.TrimSpace(r.text[r.pieced[i+used].end:])
	}
	ends := i+used == len(r.pieced) || why != ""
	switch word {
	case "is":
		return r.jarIs(JarIs{Jar: name}, i+used)
	case "anew":
		return r.jarIs(JarIs{Jar: name, How: JarAnew}, i+used)
	case "label":
		if ends && why == "" {
			return JarPhoto{name}, nil
		}
		return r.jarIs(JarIs{Jar: name, How: JarReread}, i+used)
	case "made of":
		return r.jarIs(JarIs{Jar: name}, i)
	case "held":
		if ends {
			return HoldAll{Subject: "jar " + name, Why: why}, nil
		}
	case "seen":
		return r.jarSeen(name, i+used)
	case "approved":
		if ends && why == "" {
			return JarApprove{name}, nil
		}
	case "photo":
		if ends && why == "" {
			return JarPhoto{name}, nil
		}
	case string(JarEmpty), string(JarWithdrawn), string(JarInUse):
		if ends {
			return JarMarked{Jar: name, Mark: JarMark(word), Why: why}, nil
		}
	}
	return nil, nil
}

// jarWord is the word of jarWords that begins at pieced[i], and how many pieces it takes.
func (r *reading) jarWord(i int) (string, int) {
	if i >= len(r.pieced) {
		return "", 0
	}
	compared := 0
	e, n := jarWords.find(r.pieced[i:], false, &compared)
	if e == nil {
		return "", 0
	}
	return e.value, n
}

// pieceAt is the first piece at or behind a byte of the text.
func (r *reading) pieceAt(at int) int {
	i := 0
	for i < len(r.pieced) && r.pieced[i].start < at {
		i++
	}
	return i
}

// tokensFrom are the tokens from a piece on.
func (r *reading) tokensFrom(i int) []token {
	if i >= len(r.pieced) {
		return nil
	}
	for n, t := range r.toks {
		if t.start >= r.pieced[i].start {
			return r.toks[n:]
		}
	}
	return nil
}

// jarWeighs reads "842.0 g" and when it was read. Without a unit it is grams.
func (r *reading) jarWeighs(name string, t []token) (Command, error) {
	mass, n, err := r.gramsAt(t)
	if err != nil {
		return nil, err
	}
	out := JarWeighs{Jar: name, Mass: mass}
	if n == len(t) {
		return out, nil
	}
	if out.When = r.whenAt(t[n:]); out.When == nil {
		return nil, nil // "jar A7 3.2 kg belly"
	}
	return out, nil
}

// gramsAt reads a weight at the beginning of some tokens, in grams where no unit stands
// behind it, and how many tokens it takes.
func (r *reading) gramsAt(t []token) (cure.Gram, int, error) {
	n, unit := 1, "g"
	if len(t) > 1 && t[1].kind == massKind {
		n, unit = 2, t[1].value
	}
	from := 0
	for from < len(r.toks) && r.toks[from].start < t[0].start {
		from++
	}
	mass, err := r.mass(part{Number: t[0].value, Mass: unit}, from, from+n)
	return mass, n, err
}

func (c JarWeighs) canonical() string {
	return "jar " + c.Jar + " " + weighed(c.Mass) + canonicalWhen(c.When)
}
func (c JarMarked) canonical() string { return because("jar "+c.Jar+" "+string(c.Mark), c.Why) }
func (c JarSeen) canonical() string {
	return strings.TrimRight("jar "+c.Jar+" seen "+partsWords(c.Parts, c.Salt), " ")
}
func (c JarApprove) canonical() string { return "jar " + c.Jar + " approved" }
func (c JarPhoto) canonical() string   { return "jar " + c.Jar + " photo" }
func (c ShowJar) canonical() string    { return "jar " + c.Jar }
func (c Jars) canonical() string       { return "jars" }
