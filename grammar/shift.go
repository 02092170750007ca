package grammar

import (
	"regexp"
	"slices"
	"strings"
	"time"
)

// The commands of who looks after what, and when the kitchen is there.
type (
	SetOwner  struct{ Who string } // "owner @ana": of a batch
	SetBackup struct {
		Who     string
		Kitchen bool // "kitchen backup @luis": of every batch that has none of its own
	}
	Away struct { // "away ana mon-wed"
		Who      string // "": who types it
		From, To *When  // nil: from now; until further notice
		Off      bool   // "away ana off": back again
	}
	HandOver struct { // "hand over to luis", "give ana's batches to luis"
		From string // "": who types it
		To   string
	}
	Accept    struct{} // a hand-over
	Digest    struct{} // "digest": shown now
	SetDigest struct { // "digest 7:00", "digest off"
		At *Clock // nil: off
	}
	Quiet struct { // "quiet 23:00-6:00", "quiet off"
		Off      bool
		From, To Clock
	}
	Closed struct { // "closed sunday monday", "closed 25 dec", "closed never"
		Days  []time.Weekday
		Dates []Dates
	}
	Escalate struct{ After time.Duration } // "escalate after 1 h"; 0: "escalate off"
)

// Dates are days from one to another, both included.
type Dates struct{ From, To Date }

func (SetOwner) command()  {}
func (SetBackup) command() {}
func (Away) command()      {}
func (HandOver) command()  {}
func (Accept) command()    {}
func (Digest) command()    {}
func (SetDigest) command() {}
func (Quiet) command()     {}
func (Closed) command()    {}
func (Escalate) command()  {}

func (c SetOwner) canonical() string { return "owner " + c.Who }
func (c SetBackup) canonical() string {
	if c.Kitchen {
		return "kitchen backup " + c.Who
	}
	return "backup " + c.Who
}
func (c Away) canonical() string {
	out := strings.TrimSpace("away " + c.Who)
	switch {
	case c.Off:
		return out + " off"
	case c.From != nil:
		return out + canonicalWhen(c.From) + " to" + canonicalWhen(c.To)
	case c.To != nil:
		return out + " until" + canonicalWhen(c.To)
	}
	return out
}
func (c HandOver) canonical() string {
	if c.From != "" {
		return "give " + c.From + "'s batches to " + c.To
	}
	return "hand over to " + c.To
}
func (Accept) canonical() string { return "accept" }
func (Digest) canonical() string { return "digest" }
func (c SetDigest) canonical() string {
	if c.At == nil {
		return "digest off"
	}
	return "digest" + canonicalWhen(&When{Clock: c.At})
}
func (c Quiet) canonical() string {
	if c.Off {
		return "quiet off"
	}
	from, to := canonicalWhen(&When{Clock: &c.From}), canonicalWhen(&When{Clock: &c.To})
	return "quiet" + from + "-" + to[1:]
}
func (c Closed) canonical() string {
	var out []string
	for _, d := range c.Days {
		out = append(out, weekdays[d])
	}
	for _, d := range c.Dates {
		said := canonicalDate(d.From)
		if d.To != d.From {
			said += " to " + canonicalDate(d.To)
		}
		out = append(out, said)
	}
	if len(out) == 0 {
		return "closed never"
	}
	return "closed " + strings.Join(out, ", ")
}
func (c Escalate) canonical() string {
	if c.After == 0 {
		return "escalate off"
	}
	return "escalate after " + canonicalSpan(c.After)
}

var (
	awayWho  = regexp.MustCompile(`^@?(\S+)(?:\s+(.*))?$`)
	to       = regexp.MustCompile(`(?i)^(.*\S)\s*(?:-|–| to | until | till | a | al | à | au )\s*(\S.*)$`)
	until    = regexp.MustCompile(`(?i)^(?:until|till|hasta|jusqu'a|jusqu'à|jusqu’à|hasta el|hasta la|jusqu'au|jusqu’au)\s+(\S.*)$`)
	handTo   = regexp.MustCompile(`(?i)^(?:to|a|à)\s+@?(\S+)$`)
	handFrom = regexp.MustCompile(`(?i)^@?(\S+)\s+(?:to|a|à)\s+@?(\S+)$`)
	giveTo   = regexp.MustCompile(`(?i)^@?(\S+?)(?:'s|’s)?\s+batches\s+to\s+@?(\S+)$`)
	lotsTo   = regexp.MustCompile(`(?i)^(?:los\s+lotes\s+de|les\s+lots\s+(?:de\s|d'|d’))\s*@?(\S+)\s+(?:a|à)\s+@?(\S+)$`)
	listed   = regexp.MustCompile(`\s*(?:,|;|\band\b|\by\b|\bet\b)\s*`)
)

// Who is away, and who covers for whom, as people say it: the name comes first.
var (
	offDuty = regexp.MustCompile(`(?i)^@?([\p{L}][\p{L}\d_.-]*)\s*(?::|\s(?:is|'s|will be|está|esta|est|sera)\s|\s)\s*(?:away|off|ausente|fuera|libre|absent|absente|en congé|en conge)(?:\s+(.*))?$`)
	covers  = regexp.MustCompile(`(?i)^@?([\p{L}][\p{L}\d_.-]*)\s+(?:covers for|is covering for|cubre a|sustituye a|reemplaza a|remplace|couvre)\s+@?([\p{L}][\p{L}\d_.-]*)$`)
)

// things are what is off or away and is nobody's name.
var things = []string{"i", "im", "he", "she", "they", "we", "it", "that", "this", "all", "everyone", "nobody", "power", "gas", "water", "fridge", "freezer", "oven", "smoker", "fan", "heat", "light", "lights", "alarm", "milk", "day", "todo", "nadie", "tout", "personne", "luz", "agua", "horno"}

// nameFirst reads who is away, or who covers for whom, where the name comes first; nil: it is neither.
func (r *reading) nameFirst(from int) Command {
	if t := r.toks[from]; t.kind != wordKind && t.kind != oddKind {
		return nil
	}
	text := strings.TrimRight(r.text[r.toks[from].start:], " .!")
	if m := covers.FindStringSubmatch(text); m != nil {
		if me := fold(m[2]); me == "me" || me == "mi" || me == "moi" {
			return HandOver{To: m[1]}
		}
		return HandOver{From: m[2], To: m[1]}
	}
	m := offDuty.FindStringSubmatch(text)
	if m == nil || slices.Contains(things, fold(m[1])) {
		return nil
	}
	if m[2] == "" {
		if !strings.Contains(text, ":") {
			return nil // "luis off" may be anything
		}
		return Away{Who: m[1]}
	}
	c, ok := r.stretchOff(m[2])
	if !ok {
		return nil
	}
	c.Who = m[1]
	return c
}

// ofShift reads the commands of who looks after what. rest is what follows the verb. Neither a
// command nor an error: it is none of them.
func (r *reading) ofShift(t token, rest string) (Command, error) {
	rest = strings.Trim(rest, " .!?")
	name := strings.TrimLeft(rest, "@")
	one := name != "" && !strings.ContainsAny(name, " \t\n,;:?!")
	off := fold(rest) == "off" || fold(rest) == "no" || fold(rest) == "non"
	switch t.value {
	case "owner":
		if one {
			return SetOwner{name}, nil
		}
	case "backup", "kitchen backup":
		if one {
			return SetBackup{name, t.value == "kitchen backup"}, nil
		}
	case "away":
		return r.away(rest), nil
	case "hand over":
		if m := handTo.FindStringSubmatch(rest); m != nil {
			return HandOver{To: m[1]}, nil
		}
		if m := handFrom.FindStringSubmatch(rest); m != nil {
			return HandOver{m[1], m[2]}, nil
		}
	case "give my batches to":
		if one {
			return HandOver{To: name}, nil
		}
	case "give":
		if m := giveTo.FindStringSubmatch(rest); m != nil {
			return HandOver{m[1], m[2]}, nil
		}
		if m := lotsTo.FindStringSubmatch(rest); m != nil {
			return HandOver{m[1], m[2]}, nil
		}
	case "accept":
		if rest == "" {
			return Accept{}, nil
		}
	case "digest":
		if rest == "" {
			return Digest{}, nil
		}
		if off {
			return SetDigest{}, nil
		}
		if c := r.clock(rest); c != nil {
			return SetDigest{c}, nil
		}
	case "quiet":
		if off {
			return Quiet{Off: true}, nil
		}
		if m := to.FindStringSubmatch(rest); m != nil {
			if from, till := r.clock(m[1]), r.clock(m[2]); from != nil && till != nil && *from != *till {
				return Quiet{From: *from, To: *till}, nil
			}
		}
	case "closed":
		return r.closed(rest), nil
	case "escalate":
		if off {
			return Escalate{}, nil
		}
		rest = strings.TrimPrefix(rest, "after ")
		if w, ok := r.moment("in "+rest, false); ok && w.In > 0 && w.In <= 24*time.Hour {
			return Escalate{w.In}, nil
		}
	}
	return nil, nil
}

// clock reads a text as a time of day; nil: it is none.
func (r *reading) clock(text string) *Clock {
	w, ok := r.moment(text, false)
	if !ok || w.Clock == nil || w.Date != nil || w.Weekday != nil || w.Days != 0 || w.Last {
		return nil
	}
	return w.Clock
}

// away reads what follows "away"; nil: it is talk.
func (r *reading) away(rest string) Command {
	if c, ok := r.stretchOff(rest); ok {
		return c
	}
	m := awayWho.FindStringSubmatch(rest)
	switch {
	case m == nil || strings.ContainsAny(m[1], ",;:"):
		return nil
	case m[2] == "":
		return Away{Who: m[1]}
	case fold(m[2]) == "off":
		return Away{Who: m[1], Off: true}
	}
	c, ok := r.stretchOff(m[2])
	if !ok {
		return nil
	}
	c.Who = m[1]
	return c
}

// stretchOff reads a day, days from one to another, or "until" a day.
func (r *reading) stretchOff(text string) (c Away, ok bool) {
	if m := until.FindStringSubmatch(text); m != nil {
		c.To, ok = r.moment(m[1], false)
		return c, ok
	}
	if c.From, ok = r.moment(text, false); ok {
		c.To = c.From
		return c, true
	}
	m := to.FindStringSubmatch(text)
	if m == nil {
		return c, false
	}
	var too bool
	c.From, ok = r.moment(m[1], false)
	c.To, too = r.moment(m[2], false)
	return c, ok && too
}

// closed reads the days on which nobody is there; nil: it is talk.
func (r *reading) closed(rest string) Command {
	var c Closed
	if word := fold(rest); word == "never" || word == "nunca" || word == "jamais" {
		return c
	}
	for _, part := range listed.Split(rest, -1) {
		if !r.closedOn(part, &c) {
			return nil
		}
	}
	return c
}

// closedOn adds one part of a list of closed days: weekdays, a date, or dates from one to
// another.
func (r *reading) closedOn(part string, c *Closed) bool {
	if w, ok := r.moment(part, false); ok && w.Date != nil && w.Clock == nil {
		c.Dates = append(c.Dates, Dates{*w.Date, *w.Date})
		return true
	}
	if m := to.FindStringSubmatch(part); m != nil {
		from, ok := r.moment(m[1], false)
		till, too := r.moment(m[2], false)
		if ok && too && from.Date != nil && till.Date != nil {
			c.Dates = append(c.Dates, Dates{*from.Date, *till.Date})
			return true
		}
	}
	days := strings.Fields(part)
	for _, word := range days {
		w, ok := r.moment(word, false)
		if !ok {
			w, ok = r.moment(strings.TrimSuffix(word, "s"), false)
		}
		if !ok || w.Weekday == nil || w.Clock != nil || w.Last {
			return false
		}
		c.Days = append(c.Days, *w.Weekday)
	}
	return len(days) > 0
}
