package grammar

import (
	"slices"
	"strconv"
	"strings"
)

// The holds of several batches at once, and what lifts them.
type (
	// HoldAll holds every batch that something concerns: "hold jar A7: reason", "hold:
	// inspector, coppa and salami".
	HoldAll struct {
		Subject   string // "jar A7", "lot 2291", "meat lot 1123", "recipe house bacon v2", "place walk-in 2"; "" where Cuts and Batches say it
		Authority string // "inspector": they placed it
		Cuts      []string
		Batches   []uint64
		Why       string
	}
	// ShowIncident: "incident 3".
	ShowIncident struct{ Number uint64 }
	// ReleaseIncident lifts what is left of the hold of an incident: "release incident 3: cores at 3 °C".
	ReleaseIncident struct {
		Number         uint64
		Reference, Why string
	}
)

func (HoldAll) command()         {}
func (ShowIncident) command()    {}
func (ReleaseIncident) command() {}

func (c HoldAll) canonical() string {
	scope := c.Subject
	if scope == "" {
		var all []string
		all = append(all, c.Cuts...)
		for _, n := range c.Batches {
			all = append(all, "batch "+strconv.FormatUint(n, 10))
		}
		scope = strings.Join(all, " and ")
	}
	if name, ok := strings.CutPrefix(scope, "place "); ok {
		scope = name
	}
	if c.Authority != "" {
		scope += ", " + c.Authority
	}
	return because("hold "+scope, c.Why)
}

func (c ShowIncident) canonical() string { return "incident " + strconv.FormatUint(c.Number, 10) }
func (c ReleaseIncident) canonical() string {
	return because("release incident "+strconv.FormatUint(c.Number, 10)+reference(c.Reference), c.Why)
}

func canonicalRelease(c ReleaseIt) string {
	out := "release"
	if c.Hold > 0 {
		out += " " + strconv.Itoa(c.Hold)
	}
	return because(out+reference(c.Reference), c.Why)
}

func reference(ref string) string {
	if ref == "" {
		return ""
	}
	return " ref " + ref
}

// inspectors are the words of an authority that places a hold.
const inspector = "inspector"

// colonAt cuts pieces at the first colon: what stands before, and the text behind; false: none.
func (r *reading) colonAt(p []piece) (before []piece, behind string, ok bool) {
	for i := range p {
		if p[i].text == ":" {
			return p[:i], strings.TrimSpace(r.text[p[i].end:]), true
		}
	}
	return p, "", false
}

// holdOf reads what a hold is of, behind the verb. A hold of one batch is left to the verb.
func (r *reading) holdOf(start int, p []piece) (Command, error) {
	before, why, _ := r.colonAt(p)
	before = unmarked(before)
	out := HoldAll{Why: why}
	if len(before) == 0 {
		if cut := len(p) - len(r.after(start)); cut < 0 {
			return r.holdOfAuthority(p, why)
		}
		return nil, nil
	}
	if e, n := partTree.find(before, false, &r.work); e != nil {
		switch e.value {
		case "jar", "lot", "meat lot", "recipe":
			name := r.textOf(before[n:])
			if e.value == "jar" {
				name = jarNamed(name)
			}
			if name == "" || len(name) > longestPlace || strings.ContainsAny(name, ",;") {
				return nil, nil
			}
			out.Subject = e.value + " " + tidy(name)
			return out, nil
		}
	}
	if names, n := r.knownPlaces(before); len(names) > 0 && n[0] == len(before) {
		out.Subject = "place " + names[0]
		return out, nil
	}
	if name, n := r.likePlace(before); n > 0 && n == len(before) {
		out.Subject = "place " + name
		return out, nil
	}
	if name := r.textOf(before); len(before) == 2 && before[0].kind == lettersRaw && len(before[0].text) <= 2 && before[1].kind == numberRaw && touches(before[0], before[1]) {
		out.Subject = "jar " + jarNamed(name)
		return out, nil
	}
	if !r.scope(&out, before) || len(out.Cuts)+len(out.Batches) == 0 {
		return nil, nil
	}
	return out, nil
}

// jarNamed is the name of a jar as it is compared.
func jarNamed(text string) string { return strings.ToUpper(strings.ReplaceAll(text, " ", "")) }

// jarOnly reads pieces that are a jar and nothing else.
func (r *reading) jarOnly(p []piece) (string, bool) {
	e, n := partTree.find(p, false, &r.work)
	if e == nil || e.value != "jar" || n == len(p) {
		return "", false
	}
	name := jarNamed(r.textOf(p[n:]))
	return name, len(name) <= longestPlace && !strings.ContainsAny(name, ",;")
}

// holdOfAuthority reads ": inspector, coppa and salami": what stands behind the scope is the reason.
func (r *reading) holdOfAuthority(p []piece, why string) (Command, error) {
	if len(p) < 2 {
		return nil, nil
	}
	p = p[1:]
	e, n := partTree.find(p, false, &r.work)
	if e == nil || e.value != inspector {
		return nil, nil
	}
	rest, because, _ := r.colonAt(p[n:])
	rest = unmarked(rest)
	for len(rest) > 0 && (rest[0].text == "," || rest[0].text == "-" || rest[0].word == "hold" || rest[0].word == "on") {
		rest = rest[1:]
	}
	out := HoldAll{Authority: inspector, Why: because}
	if r.scope(&out, rest) && len(out.Cuts)+len(out.Batches) > 0 {
		return out, nil
	}
	return HoldIt{Why: why, Authority: inspector}, nil
}

// inspectorHolds begin a line that says that an inspector holds the batch of its thread.
var inspectorHolds = phrasesOf("inspector hold", "inspector's hold", "inspectors hold", "hold by inspector", "hold by the inspector", "held by inspector", "held by the inspector", "on hold by the inspector", "inspector put it on hold",
	"inspector holds it", "retenido por el inspector", "retenida por el inspector", "retencion del inspector", "bloque par l'inspecteur", "bloque par l'inspectrice", "blocage de l'inspecteur", "blocage de l'inspectrice")

// heldByInspector reads "inspector hold: no variance". nil: it is none.
func (r *reading) heldByInspector(from int) Command {
	p := r.after(r.toks[from].start)
	n := leading(p, inspectorHolds)
	if n == 0 {
		return nil
	}
	if rest := unmarked(p[n:]); len(rest) == 0 && p[len(p)-1].text != "?" {
		return HoldIt{Authority: inspector}
	}
	if before, why, ok := r.colonAt(p[n:]); ok && len(before) == 0 {
		return HoldIt{Why: strings.TrimSuffix(inspector+", "+why, ", "), Authority: inspector}
	}
	return nil
}

// scope reads cuts and numbers of batches, and who placed the hold; false: something else is said.
func (r *reading) scope(out *HoldAll, p []piece) bool {
	for i := 0; i < len(p); {
		if e, n := partTree.find(p[i:], false, &r.work); e != nil && e.value == inspector {
			out.Authority = inspector
			i += n
			continue
		}
		e, n := lexicon.find(p[i:], false, &r.work)
		number, isNumber := batchNumber(token{kind: numberKind, value: p[i].text})
		switch {
		case e != nil && e.kind == cutKind && doubtfulCuts[e.value] == nil && e.value != minced:
			if !slices.Contains(out.Cuts, e.value) {
				out.Cuts = append(out.Cuts, e.value)
			}
			i += n
		case p[i].kind == numberRaw && isNumber && !(i > 0 && p[i-1].kind == lettersRaw && touches(p[i-1], p[i])): // "A7" is no batch
			out.Batches = append(out.Batches, number)
			i++
		case p[i].text == "," || p[i].text == "#" || p[i].text == "&" || p[i].text == "+", e != nil && e.kind == fillerKind, e != nil && e.value == "batch",
			slices.Contains([]string{"all", "batches", "todo", "toda", "lotes", "et", "tous", "toutes", "lots"}, p[i].word):
			i += max(n, 1)
		default:
			return false
		}
	}
	return true
}

// releaseOf reads which hold is released and by which paper, behind the verb: "2", "hold 2",
// "incident 3", "ref A-118". Without any it is left to the verb.
func (r *reading) releaseOf(p []piece) Command {
	before, why, _ := r.colonAt(p)
	before = unmarked(before)
	if len(before) == 0 {
		return nil
	}
	ref := ""
	for i := range before {
		if e, n := partTree.find(before[i:], false, &r.work); e != nil && e.value == "ref" {
			if ref = strings.TrimSpace(r.textOf(before[i+n:])); ref == "" || len(ref) > longestPlace {
				return nil
			}
			before = unmarked(before[:i])
			break
		}
	}
	if name, ok := r.jarOnly(before); ok && ref == "" {
		return JarMarked{Jar: name, Mark: JarInUse, Why: why}
	}
	incident := false
	if len(before) > 0 {
		if e, n := alongTree.find(before, false, &r.work); e != nil && (e.value == "incident" || e.value == "hold") {
			incident, before = e.value == "incident", before[n:]
		}
	}
	n, ok := lone(before)
	switch {
	case ok && incident:
		return ReleaseIncident{n, ref, why}
	case ok && n < 1000:
		return ReleaseIt{Hold: int(n), Reference: ref, Why: why}
	case len(before) == 0 && ref != "" && !incident:
		return ReleaseIt{Reference: ref, Why: why}
	}
	return nil
}
