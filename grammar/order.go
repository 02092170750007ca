package grammar

import (
	"regexp"
	"strings"
	"time"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"salthand/cure"
)

// order is a command that is no dose. The grammar is as flat as that of a clause.
type order struct {
	Did    *did   `parser:"  @@"`
	Bare   string `parser:"| @('approve' | 'never mind' | 'undo' | 'start' | 'finished' | 'decline' | 'hold' | 'release' | 'discard' | 'hanging' | 'held' | 'curing' | 'resting' | 'paused' | 'to approve' | 'to start')"`
	Snooze *delay `parser:"| 'snooze' @@"`
	Remind *todo  `parser:"| 'remind' @@"`
	Due    *due   `parser:"| @@"`
	Who    *who   `parser:"| @@"`
	Export *past  `parser:"| 'export' In? @@"`
	Switch string `parser:"| @('weighing' | 'own approval' | 'own mixes')"`
	To     string `parser:"  @('switch on' | 'switch off')"`
	Scale  *delay `parser:"| 'cure scale' @@"`
}

type (
	did struct { // "turned", "cooked 71 c", "turned yesterday 15:00"
		Step   string `parser:"@Step"`
		Number string `parser:"(@Number"`
		Unit   string `parser:" @Degree)?"`
		When   *when  `parser:"@@?"`
	}
	delay struct { // "2 h", "0.1 g"
		Number string `parser:"@Number"`
		Unit   string `parser:"@(Span | Mass)"`
	}
	todo struct { // "rinse fri 9:00"
		Step string `parser:"@Step"`
		When when   `parser:"@@"`
	}
	due struct {
		Word  string `parser:"@'due'"`
		Until bool   `parser:"@(Until | 'by')?"`
		When  *when  `parser:"@@?"`
		Week  bool   `parser:"@('this' 'week' | 'this week')?"`
	}
	who struct { // "who cured belly last month"
		Word string `parser:"'who cured'"`
		Cut  string `parser:"(@Cut | 'what')?"`
		Span *past  `parser:"(In? @@)?"`
	}
)

// orderParser reads an order.
var orderParser = participle.MustBuild[order](participle.Lexer(kinds{}), participle.UseLookahead(2))

// batch reads "batch 42:" before whatever follows, and returns where that begins.
func (r *reading) batch() (Phrase, int) {
	t := r.toks
	if t[0].kind != verbKind || t[0].value != "batch" || len(t) < 2 {
		return Phrase{}, 0
	}
	at := 1
	if t[1].kind == oddKind && t[1].value == "#" && len(t) > 2 {
		at = 2
	}
	n, ok := batchNumber(t[at])
	if !ok {
		return Phrase{}, 0
	}
	at++
	if at < len(t) && t[at].kind == sepKind {
		at++
	}
	return Phrase{Batch: n}, at
}

func batchNumber(t token) (uint64, bool) {
	if t.kind != numberKind || !isDigits(t.value) || len(t.value) > 9 {
		return 0, false
	}
	n := uint64(0)
	for _, c := range t.value {
		n = n*10 + uint64(c-'0')
	}
	return n, n > 0
}

// order reads toks[from:] as a command. Neither a command nor an error: it is none.
func (r *reading) order(from int) (Command, error) {
	t := r.toks[from]
	if t.kind != verbKind && t.kind != stepKind || t.value == "how much for" {
		return nil, nil
	}
	rest := strings.TrimSpace(r.text[t.end:])
	if cmd := reason(t.value, rest); cmd != nil {
		return cmd, nil
	}
	if cmd, err := r.named(t, rest, from); cmd != nil || err != nil {
		return cmd, err
	}
	if cmd, err := r.ofSteps(t, rest, from); cmd != nil || err != nil {
		return cmd, err
	}
	if cmd, err := r.ofShift(t, rest); cmd != nil || err != nil {
		return cmd, err
	}
	o, ok := parseOrder(r.toks[from:])
	r.work += 1 + len(r.toks) - from
	if !ok {
		return nil, r.badOrder(t, from)
	}
	cmd, err := r.command(o, stretch{t.start, r.toks[len(r.toks)-1].end})
	if err != nil {
		return nil, withExample(err, t.value)
	}
	return cmd, nil
}

// reason reads the verbs that a colon and a reason in free words follow.
func reason(verb, rest string) Command {
	why, ok := strings.CutPrefix(rest, ":")
	if !ok {
		return nil
	}
	why = strings.TrimSpace(why)
	switch verb {
	case "approve":
		return Approve{Why: why}
	case "decline":
		return Decline{why}
	case "hold":
		return HoldIt{Why: why}
	case "release":
		return ReleaseIt{Why: why}
	case "discard":
		return Discard{why}
	}
	return nil
}

// named reads the verbs that a name follows, in the letters that were typed.
func (r *reading) named(t token, rest string, from int) (Command, error) {
	one := rest != "" && !strings.ContainsAny(rest, " \t\n,;")
	switch t.value {
	case "region":
		if name := fold(rest); one && (len(name) == 2 && isLetters(name) || regions[name] == cure.Region(name)) {
			return SetRegion{cure.Region(name)}, nil
		}
		if one {
			start := t.end + strings.Index(r.text[t.end:], rest)
			e := r.fail("unknown region", stretch{start, start + len(rest)})
			e.Example = "region us"
			return nil, e
		}
	case "who cured":
		return r.whoBy(rest, from)
	case "approve":
		if rest != "" {
			return r.approved(t)
		}
	case "correct weight", "correct green weight":
		return r.corrected(t)
	case "correct":
		return r.correction(t)
	case "date order":
		switch fold(rest) {
		case "day first":
			return SetDateOrder{DayFirst}, nil
		case "month first":
			return SetDateOrder{MonthFirst}, nil
		}
	case "zone":
		if one && strings.ContainsAny(rest, "/") || fold(rest) == "utc" {
			return Zone{rest}, nil
		}
	case "language", "kitchen language":
		if code, ok := languageNames[fold(strings.Trim(rest, " ?!.:"))]; ok {
			return Language{Code: code, Kitchen: t.value == "kitchen language"}, nil
		}
	case "help":
		if topic := strings.Trim(rest, " ?!."); !strings.ContainsAny(topic, " \t\n,;") {
			return Help{fold(topic)}, nil
		}
		return Chatter{}, nil
	}
	if c := ofPeople(t.value, rest); c != nil {
		return c, nil
	}
	return r.ofSetup(t, rest)
}

// by ends a "who cured …" with a person's name.
var by = regexp.MustCompile(`(?i)\s+by\s+@?([^\s,;:?!]+)\s*[?!.]*$`)

// whoBy reads a "who cured …" that names a person at its end.
func (r *reading) whoBy(rest string, from int) (Command, error) {
	at := by.FindStringSubmatchIndex(rest)
	if at == nil {
		return nil, nil
	}
	start := r.toks[from].start
	again := reading{text: r.text[start : len(r.text)-len(rest)+at[0]], thread: r.thread, dates: r.dates, recipes: r.recipes}
	p, err := again.line()
	who, ok := p.Command.(Who)
	if err != nil || !ok {
		return nil, err
	}
	who.Person = rest[at[2]:at[3]]
	return who, nil
}

func isLetters(s string) bool {
	for i := range len(s) {
		if s[i] < 'a' || s[i] > 'z' {
			return false
		}
	}
	return true
}

func parseOrder(toks []token) (o *order, ok bool) {
	defer func() {
		if recover() != nil { // a fault in the grammar must cost one phrase, not the kitchen's bot
			o, ok = nil, false
		}
	}()
	lex, err := lexer.Upgrade(&replay{toks: toks, end: toks[len(toks)-1].end})
	if err != nil {
		return nil, false // cannot happen: replay never fails
	}
	o, err = orderParser.ParseFromLexer(lex)
	return o, err == nil
}

// command makes the command of an order, which stands at a place.
func (r *reading) command(o *order, at stretch) (Command, error) {
	switch {
	case o.Did != nil:
		return r.did(o.Did, at)
	case o.Bare != "":
		return map[string]Command{"approve": Approve{}, "never mind": NeverMind{}, "undo": Undo{}, "start": Start{}, "finished": Finish{},
			"decline": Decline{}, "hold": HoldIt{}, "release": ReleaseIt{}, "discard": Discard{},
			"hanging": Who{State: "drying"}, "held": Who{State: "held"}, "curing": Who{State: "curing"}, "resting": Who{State: "resting"}, "paused": Who{State: "paused"},
			"to approve": Who{State: "asked"}, "to start": Who{State: "approved"}}[o.Bare], nil
	case o.Snooze != nil:
		d, err := r.span(o.Snooze.Number, o.Snooze.Unit, at)
		return Snooze{d}, err
	case o.Remind != nil:
		w, err := r.when(&o.Remind.When, at)
		if err != nil {
			return nil, err
		}
		if w == nil || w.Last || w.In < 0 || w.Days < 0 {
			return nil, r.fail("not a time", at)
		}
		return Remind{stepName(o.Remind.Step), *w}, nil
	case o.Due != nil:
		w, err := r.when(o.Due.When, at)
		if o.Due.Week {
			sunday := time.Sunday
			w, o.Due.Until = &When{Weekday: &sunday}, true
		}
		if w == nil && o.Due.Until {
			return nil, r.fail("not a time", at)
		}
		return Due{w, o.Due.Until}, err
	case o.Who != nil:
		if o.Who.Cut == minced || doubtfulCuts[o.Who.Cut] != nil {
			return nil, r.ask(o.Who.Cut, r.place(cutKind, 0, len(r.toks)))
		}
		s, err := r.past(o.Who.Span, at)
		return Who{Cut: o.Who.Cut, Span: s}, err
	case o.Export != nil:
		s, err := r.past(o.Export, at)
		if err != nil {
			return nil, err
		}
		return Export{*s}, nil
	case o.Switch == "weighing":
		return Weighing{o.To == "switch on"}, nil
	case o.Switch != "":
		if o.Switch == "own mixes" {
			return OwnMixes{o.To == "switch on"}, nil
		}
		return OwnOK{o.To == "switch on"}, nil
	}
	n, err := r.number(o.Scale.Number, at)
	if err != nil {
		return nil, err
	}
	f, ok := factors[o.Scale.Unit]
	if g := n.times(f); ok && g <= 1000 {
		return CureScale{cure.Gram(g)}, nil
	}
	return nil, r.fail("unit", at)
}

func stepName(s string) string {
	if s == "done" {
		return ""
	}
	return s
}

func (r *reading) did(d *did, at stretch) (Command, error) {
	out := Did{Step: stepName(d.Step)}
	if d.Number != "" {
		t, err := r.degrees(d.Number, d.Unit, at)
		if err != nil {
			return nil, err
		}
		if d.Step != "cook" && d.Step != "smoke" && d.Step != "chill" && d.Step != "chill check" && d.Step != "ferment" {
			return nil, r.fail("unit", at)
		}
		out.Core = cure.Typed(t)
	}
	w, err := r.when(d.When, at)
	out.When = w
	return out, err
}

// badOrder is the error of a command with a bad ending, nil where the line is talk that
// begins with such a word.
func (r *reading) badOrder(t token, from int) error {
	at := stretch{t.start, t.end}
	if from+1 < len(r.toks) {
		at = stretch{r.toks[from+1].start, r.toks[from+1].end}
	}
	short := len(r.toks)-from <= 4
	example, ok := endings[t.value]
	if !ok || !short && t.value != "who cured" {
		return nil
	}
	code := "unknown word"
	var suggest []string
	switch t.value {
	case "who cured":
		for i := from + 1; i < len(r.toks); i++ {
			if next := r.toks[i]; next.kind == wordKind {
				at = stretch{next.start, next.end}
				code, suggest = "unknown cut", nearest(next.value, cutNames())
				break
			}
		}
		if code != "unknown cut" {
			return nil
		}
	case "snooze", "cure scale":
		code = "unit"
	case "remind":
		code = "not a time"
	}
	e := r.fail(code, at)
	e.Suggest, e.Example = suggest, example
	if len(suggest) > 0 && !r.plain {
		again := reading{text: r.replaced(at, suggest[0]), recipes: r.recipes, plain: true}
		if p, err := again.line(); err == nil && p.Command != (Chatter{}) {
			e.Example = again.text
		}
	}
	return e
}

// endings are the commands that lack something when they stand alone, each with an example.
var endings = map[string]string{
	"snooze": "snooze 2 h", "remind": "remind rinse fri 9:00", "who cured": "who cured belly last month",
	"correct weight": "correct weight 4.2 kg: typed wrong",
	"export":         "export october",
	"cure scale":     "cure scale 0.1 g", "date order": "date order day first", "weighing": "weighing on", "own approval": "own approval on", "own mixes": "own mixes on",
	"approval reminder": "approval reminder 30 min", "approval passed on": "approval passed on 60 min", "no longer": "no longer chef @ana",
	"default": "default cure no 1 6.25%", "units": "units us", "cure channel": "cure channel here", "home channel": "home channel here",
	"language": "language es", "kitchen language": "kitchen language fr",
	"now": "now 2.1 kg", "ph": "ph 5.2 at 24 c", "core": "core 61 c", "aw": "aw 0.89", "served": "served 12 portions", "meat lot": "meat lot 1123",
	"power out": "walk-in 2 was at 9 c since 3:00", "in": "in walk-in 2", "moved to": "moved to walk-in 2",
}

// withExample gives an error of a command the example that it lacks.
func withExample(err error, verb string) error {
	e, ok := err.(*Error)
	if !ok || e.Example != "" {
		return err
	}
	e.Example = endings[verb]
	if verb == "due" {
		e.Example = "due tomorrow"
	}
	if e.Example == "" {
		e.Example = "turned yesterday 15:00"
	}
	return e
}
