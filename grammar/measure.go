package grammar

import (
	"slices"
	"strings"

	"salthand/cure"
)

// The readings of a batch along its way, and where its meat came from and where it went.
type (
	// WeighsNow is a weight along the way: "now 2.1 kg", "now 2140 g, netting 40 g".
	WeighsNow struct {
		Pieces []cure.Gram           // as the scale said
		Tare   cure.Given[cure.Gram] // of netting, string and hook in it; 0: it was said that there is none
		When   *When
	}
	// Measured is a pH, a core temperature or a water activity: "ph 5.2 at 24 c", "core 61 c".
	Measured struct {
		What       string // "ph", "core", "aw"
		Value      Read   // as it was read; °C of a core
		Fahrenheit bool   // a core, as it was typed
		At         cure.Given[cure.Celsius]
		When       *When
	}
	// ServedIt is some of a batch that left: "served 12 portions", "sent 4 kg to the bar".
	ServedIt struct {
		Portions int
		Pieces   []cure.Gram
		To       string // "": not said
		When     *When
	}
	// MeatFrom is where meat came from: "meat lot 1123 from North Farm, est 1620, received at 3 c".
	MeatFrom struct {
		Lot, Supplier, Establishment string
		Received                     cure.Given[cure.Celsius]
	}
)

// Read is a number as an instrument showed it: a pH, a water activity, or °C.
type Read float64

func (WeighsNow) command() {}
func (Measured) command()  {}
func (ServedIt) command()  {}
func (MeatFrom) command()  {}

func (c WeighsNow) canonical() string {
	out := "now " + canonicalDose(Dose{Pieces: c.Pieces})
	switch {
	case c.Tare.Set() && c.Tare.Value == 0:
		out += ", no netting"
	case c.Tare.Set():
		out += ", netting " + canonicalDose(Dose{Pieces: []cure.Gram{c.Tare.Value}})
	}
	if c.When != nil {
		out += "," + canonicalWhen(c.When)
	}
	return out
}

func (c Measured) canonical() string {
	out := c.What + " " + plainNumber(float64(c.Value))
	if c.What == "core" {
		out = "core " + degreesWord(cure.Celsius(c.Value), c.Fahrenheit)
	}
	if c.At.Set() {
		out += " at " + degreesWord(c.At.Value, false)
	}
	return out + canonicalWhen(c.When)
}

func (c ServedIt) canonical() string {
	out := "served"
	switch {
	case c.Portions > 0:
		out += " " + plainNumber(float64(c.Portions)) + " portions"
	case len(c.Pieces) > 0:
		out += " " + canonicalDose(Dose{Pieces: c.Pieces})
	}
	if c.To != "" {
		out += " to " + c.To
	}
	if c.When != nil {
		out += "," + canonicalWhen(c.When)
	}
	return out
}

func (c MeatFrom) canonical() string {
	out := "meat lot " + c.Lot
	if c.Supplier != "" {
		out += " from " + c.Supplier
	}
	if c.Establishment != "" {
		out += ", est " + c.Establishment
	}
	if c.Received.Set() {
		out += ", received at " + degreesWord(c.Received.Value, false)
	}
	return out
}

// segments cuts pieces at commas and semicolons.
func segments(p []piece) (all [][]piece) {
	from := 0
	for i := 0; i <= len(p); i++ {
		if i == len(p) || p[i].kind != lettersRaw && (p[i].text == "," || p[i].text == ";") {
			if i > from {
				all = append(all, p[from:i])
			}
			from = i + 1
		}
	}
	return all
}

// weighsNow reads the weight behind "now".
func (r *reading) weighsNow(p []piece) (Command, error) {
	var out WeighsNow
	for i, s := range segments(unmarked(p)) {
		tare := r.tareAt(s)
		switch {
		case i == 0:
			head := s
			if tare >= 0 {
				head = s[:tare]
			}
			n := r.massEnds(head)
			pieces, err := r.weightOf(head[:n])
			if err != nil || pieces == nil {
				return nil, err
			}
			out.Pieces = pieces
			if tare < 0 && n < len(s) {
				w, ok := r.momentIn(s[n:])
				if !ok {
					return nil, nil
				}
				out.When = w
			}
			if tare >= 0 && !r.tare(&out, s[tare:]) {
				return nil, nil
			}
		case tare >= 0:
			if !r.tare(&out, s) {
				return nil, nil
			}
		default:
			w, ok := r.momentIn(s)
			if !ok || out.When != nil {
				return nil, nil
			}
			out.When = w
		}
	}
	if out.Pieces == nil {
		return nil, nil
	}
	return out, nil
}

// massEnds is how many pieces a weight at the beginning takes.
func (r *reading) massEnds(p []piece) int {
	part, end := r.part(p), 0
	for i, t := range part.toks {
		if t.kind == massKind && i > 0 && part.toks[i-1].kind == numberKind {
			end = t.end
		}
	}
	if end == 0 {
		return len(p)
	}
	shift := p[0].start - part.after(0)[0].start // bytes: the part counts columns
	n := 0
	for n < len(p) && p[n].end <= end+shift {
		n++
	}
	return n
}

// tareAt is where a tare begins in a segment, at the word before it; -1: none is named.
func (r *reading) tareAt(p []piece) int {
	for i := range p {
		e, _ := partTree.find(p[i:], false, &r.work)
		if e == nil || e.value != "netting" && e.value != "with" && e.value != "without" {
			continue
		}
		for j := i; j < len(p); j++ {
			if e, _ := partTree.find(p[j:], false, &r.work); e != nil && e.value == "netting" {
				return i
			}
		}
	}
	return -1
}

// tare reads "netting 40 g", "with 40 g netting", "no netting".
func (r *reading) tare(out *WeighsNow, p []piece) bool {
	if out.Tare.Set() {
		return false
	}
	var amount []piece
	none := false
	for i := 0; i < len(p); {
		if e, n := partTree.find(p[i:], false, &r.work); e != nil {
			none = none || e.value == "without"
			i += n
			continue
		}
		amount = append(amount, p[i])
		i++
	}
	if none || len(amount) == 0 {
		out.Tare = cure.Typed(cure.Gram(0))
		return none && len(amount) == 0
	}
	pieces, err := r.weightOf(amount)
	if err != nil || len(pieces) != 1 {
		return false
	}
	out.Tare = cure.Typed(pieces[0])
	return true
}

// measured reads what a meter or a probe showed.
func (r *reading) measured(what string, p []piece) (Command, error) {
	for len(p) > 0 && (p[0].text == ":" || p[0].text == "=") {
		p = p[1:]
	}
	p = unmarked(p)
	part := r.part(p)
	out := Measured{What: what}
	next := 0
	if what == "core" {
		t, n, err := part.degreesAt(0)
		if err != nil {
			return nil, r.whole(err, p)
		}
		if n == 0 {
			return nil, nil
		}
		out.Value, out.Fahrenheit, next = Read(t), part.toks[1].value == "f", n
	} else {
		if kindAt(part.toks, 0) != numberKind {
			return nil, nil
		}
		n, err := part.number(part.toks[0].value, stretch{part.toks[0].start, part.toks[0].end})
		if err != nil {
			return nil, r.whole(err, p)
		}
		out.Value, next = Read(n.times(1)), 1
		i := next
		if kindAt(part.toks, i) == atKind {
			i++
		}
		t, after, err := part.degreesAt(i)
		if err != nil {
			return nil, r.whole(err, p)
		}
		if after > i && what == "ph" {
			out.At, next = cure.Typed(t), after
		}
	}
	w, ok := part.momentFrom(next)
	if !ok {
		return nil, nil
	}
	out.When = w
	return out, nil
}

// served reads what left: a number of portions or a weight, and where to.
func (r *reading) served(p []piece) (Command, error) {
	var out ServedIt
	p = unmarked(p)
	all := segments(p)
	if len(all) == 0 {
		return out, nil // how much is asked
	}
	head := all[0]
	for i := range head {
		if e, n := partTree.find(head[i:], false, &r.work); e != nil && e.value == "to" && i > 0 {
			out.To = tidy(r.textOf(head[i+n:]))
			if out.To == "" || len(out.To) > longestPlace {
				return nil, nil
			}
			head = head[:i]
			break
		}
	}
	for _, s := range all[1:] {
		w, ok := r.momentIn(s)
		if !ok || out.When != nil {
			return nil, nil
		}
		out.When = w
	}
	if head[0].kind == numberRaw && isDigits(head[0].text) && len(head[0].text) <= 5 {
		e, n := partTree.find(head[1:], false, &r.work)
		if len(head) == 1 || e != nil && e.value == "portions" && n == len(head)-1 {
			out.Portions = portions(head[0].text)
			return out, nil
		}
	}
	pieces, err := r.weightOf(head)
	if err != nil || pieces == nil {
		return nil, err
	}
	out.Pieces = pieces
	return out, nil
}

// portions is the number that at most five digits make.
func portions(digits string) int { return small(digits) }

// meatFrom reads a lot of meat, its supplier, the establishment and how warm it came in.
func (r *reading) meatFrom(p []piece) (Command, error) {
	var out MeatFrom
	for i, s := range segments(unmarked(p)) {
		e, n := partTree.find(s, false, &r.work)
		switch {
		case i == 0:
			cut := slices.IndexFunc(s, func(x piece) bool {
				e, _ := partTree.find([]piece{x}, false, &r.work)
				return e != nil && e.value == "from"
			})
			lot := s
			if cut >= 0 {
				lot, out.Supplier = s[:cut], tidy(r.textOf(s[cut+1:]))
				if out.Supplier == "" {
					return nil, nil
				}
			}
			if len(lot) > 0 && lot[0].text == "#" {
				lot = lot[1:]
			}
			out.Lot = strings.TrimSpace(r.textOf(lot))
			if out.Lot == "" || strings.ContainsAny(out.Lot, " \t\n:?") {
				return nil, nil
			}
		case e != nil && e.value == "establishment" && n < len(s) && out.Establishment == "":
			out.Establishment = tidy(r.textOf(s[n:]))
		case e != nil && e.value == "from" && n < len(s) && out.Supplier == "":
			out.Supplier = tidy(r.textOf(s[n:]))
		case e != nil && e.value == "received" && n < len(s):
			part := r.part(s[n:])
			i := 0
			if kindAt(part.toks, 0) == atKind {
				i = 1
			}
			t, next, err := part.degreesAt(i)
			if err != nil {
				return nil, r.whole(err, s[n:])
			}
			if next != len(part.toks) || next == i {
				return nil, nil
			}
			out.Received = cure.Typed(t)
		default:
			return nil, nil
		}
	}
	if out.Lot == "" || len(out.Lot) > longestPlace || len(out.Supplier) > 80 || len(out.Establishment) > longestPlace {
		return nil, nil
	}
	return out, nil
}
