package bot

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// holdAll holds every open batch that something concerns.
func (t *turn) holdAll(c grammar.HoldAll) error {
	l := t.theirs
	if c.Why == "" && c.Authority == "" {
		return t.note(l.say("Why is it held?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	}
	if name, ok := strings.CutPrefix(c.Subject, "place "); ok {
		p, ok, err := t.known(name, func(name string) grammar.Command {
			c.Subject = store.PlaceSubject(name)
			return c
		})
		if err != nil || !ok {
			return err
		}
		c.Subject = store.PlaceSubject(p.Name)
	}
	concerned, ok, err := t.concerned(c)
	if err != nil || !ok {
		return err
	}
	var here, gone []store.Batch
	for _, b := range concerned {
		if b.Open() {
			here = append(here, b)
		} else if b.StartedAt != 0 {
			gone = append(gone, b)
		}
	}
	scope := scopeOf(t.ours, c)
	var jars []string
	if kind, name, _ := strings.Cut(c.Subject, " "); kind == "jar" || kind == "lot" {
		if jars, err = t.holdJars(kind, name, holdWhy(t.ours, c)); err != nil {
			return err
		}
	}
	if len(here) == 0 {
		return t.post(t.both(func(l tongue) Card {
			card := noteCard(l.say("No open batch is concerned by %s: nothing is held.", scope))
			if len(jars) > 0 {
				card.Kind, card.Title = HoldCard, l.say("HOLD: %s. No open batch is concerned.", holdWhy(l, c))
			}
			card.Lines = recipeStays(l, c)
			card.Facts = append(heldJars(l, jars), t.besideFacts(l, wereIn{gone: gone})...)
			return card
		}))
	}
	subject := c.Subject
	if subject == "" {
		subject = scope
	}
	number, err := t.holdThem(store.Incident{Subject: subject, Authority: c.Authority, Why: holdWhy(t.ours, c), Gone: numbersOf(gone)}, here)
	if err != nil {
		return err
	}
	card := t.both(func(l tongue) Card {
		card := Card{Kind: HoldCard, Title: l.say("HOLD, incident %d: %s. %d held: %s.", number, holdWhy(l, c), len(here), numbered(here)), Lines: append([]string{heldLine(l, t.person.Name)}, recipeStays(l, c)...)}
		var lines []string
		for _, b := range here {
			line := t.placeLine(l, b)
			if b.Where != "" {
				line += l.say(", in %s", b.Where)
			}
			lines = append(lines, line)
		}
		card.Facts = append(append([]Fact{{Label: l.say("held"), Lines: lines}}, heldJars(l, jars)...), t.besideFacts(l, wereIn{gone: gone})...)
		card.Next = t.releaseWords(l, here[0], number, c.Authority)
		return card
	})
	if err := t.post(card); err != nil {
		return err
	}
	return t.tellThreads(here, number, func(l tongue) string { return holdWhy(l, c) })
}

// heldJars say which jars nothing is taken from until a chef releases them.
func heldJars(l tongue, jars []string) []Fact {
	if len(jars) == 0 {
		return nil
	}
	return []Fact{{Label: l.say("jars held"), Lines: []string{l.say("%s: nothing is taken from them until a chef types  %s", strings.Join(jars, ", "), fmt.Sprintf("release jar %s: reason", jars[0]))}}}
}

// stillHeld are the jars that an incident of a jar or a lot left on hold: a chef releases each
// by itself.
func (t *turn) stillHeld(l tongue, subject string) ([]Fact, error) {
	kind, name, _ := strings.Cut(subject, " ")
	if kind != "jar" && kind != "lot" {
		return nil, nil
	}
	fillings, err := t.fillingsOf(kind, name)
	if err != nil {
		return nil, err
	}
	var jars []string
	for _, of := range fillings {
		jar, _, err := t.tx.Jar(t.kitchen.ID, of.Jar)
		if err != nil {
			return nil, err
		}
		if f := jar.Current(); f.Number == of.Number && f.State == store.JarHeld {
			jars = append(jars, jar.Name)
		}
	}
	return heldJars(l, jars), nil
}

// recipeStays says that a recipe can be used although batches of it are held.
func recipeStays(l tongue, c grammar.HoldAll) (lines []string) {
	if strings.HasPrefix(c.Subject, "recipe ") {
		lines = []string{l.say("New doses can still be made by it; a chef stops that:  %s", "withdraw "+c.Subject+": reason")}
	}
	return lines
}

// releaseWords say what lifts the hold of an incident.
func (t *turn) releaseWords(l tongue, b store.Batch, number uint64, authority string) string {
	if authority != "" {
		return l.say("Only a chef lifts it, with the reference of the inspector's paper:  release incident %d ref A-118: reason .", number)
	}
	return l.say("A chef decides, batch by batch:  batch %d: release: reason  or  batch %d: discard: reason ; all that is left:  release incident %d: reason .", b.Number, b.Number, number)
}

// scopeOf is what is held: "jar A7".
func scopeOf(l tongue, c grammar.HoldAll) string {
	c.Why, c.Authority = "", ""
	_, scope, _ := strings.Cut(grammar.CanonicalIn(string(l), c), " ")
	return scope
}

// holdWhy is why all of it is held.
func holdWhy(l tongue, c grammar.HoldAll) string {
	words := scopeOf(l, c)
	if c.Authority != "" {
		words = l.say("the inspector holds %s", words)
	}
	return words + because(c.Why)
}

// concerned are the batches that a hold is about, ended ones too where it is about what went
// into them.
func (t *turn) concerned(c grammar.HoldAll) (all []store.Batch, ok bool, err error) {
	kind, name, _ := strings.Cut(c.Subject, " ")
	switch {
	case strings.HasPrefix(c.Subject, "meat lot "):
		all, err = t.ofMeat(strings.TrimPrefix(c.Subject, "meat lot "))
	case kind == "place":
		all, err = t.inPlace(name)
	case kind == "jar":
		jar, ok, err := t.tx.Jar(t.kitchen.ID, name)
		if err != nil {
			return nil, false, err
		}
		if !ok {
			return nil, false, t.note(t.theirs.say("No jar here is called %s: nothing is held.", name), t.theirs.say("Type  jars  to see which there are."))
		}
		all, err = t.ofCure(kind, jar.Name)
		return all, err == nil, err
	case kind == "lot":
		all, err = t.ofCure(kind, name)
	case kind == "recipe":
		q := store.Query{Recipe: name}
		if i := strings.LastIndex(name, " v"); i > 0 {
			if v, err := strconv.ParseUint(name[i+2:], 10, 32); err == nil {
				q.Recipe, q.Version = name[:i], uint32(v)
			}
		}
		all, err = t.all(q)
	default:
		return t.named(c)
	}
	return all, err == nil, err
}

// named are the batches that a hold names by their cuts, those that are open, and by number.
func (t *turn) named(c grammar.HoldAll) (all []store.Batch, ok bool, err error) {
	for _, cut := range c.Cuts {
		of, err := t.all(store.Query{Cut: cut})
		if err != nil {
			return nil, false, err
		}
		for _, b := range of {
			if b.Open() {
				all = append(all, b)
			}
		}
	}
	for _, n := range c.Batches {
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if err != nil {
			return nil, false, err
		}
		if !ok {
			return nil, false, t.note(t.theirs.say("There is no batch %d.", n), t.theirs.say("Nothing is held yet: type the line again with the right numbers."))
		}
		if !slices.ContainsFunc(all, func(one store.Batch) bool { return one.Number == n }) {
			all = append(all, b)
		}
	}
	return all, true, nil
}

// ofMeat are the batches that a lot of meat went into.
func (t *turn) ofMeat(lot string) (all []store.Batch, err error) {
	events, err := t.tx.Trail(t.kitchen.ID, store.MeatLotSubject(lot), 0, 0)
	if err != nil {
		return nil, err
	}
	for _, e := range slices.Backward(events) {
		b, ok, err := t.tx.Batch(t.kitchen.ID, e.Batch)
		if err != nil {
			return nil, err
		}
		in := slices.ContainsFunc(b.Meat, func(m store.MeatLot) bool { return store.MeatLotSubject(m.Lot) == store.MeatLotSubject(lot) })
		if ok && in && !slices.ContainsFunc(all, func(one store.Batch) bool { return one.Number == b.Number }) {
			all = append(all, b)
		}
	}
	return all, nil
}

// showIncident answers what an incident was, and how each batch of it stands.
func (t *turn) showIncident(n uint64) error {
	l := t.theirs
	e, ok, err := t.tx.Incident(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	if !ok {
		return t.note(l.say("There is no incident %d.", n), l.say("Type  held  to see what is held."))
	}
	body := e.Body.(store.Incident)
	by, err := t.nameOf(e.Person)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: l.say("Incident %d: %s", n, body.Why), Lines: []string{l.say("noted by %s, %s", by, moment(l, timeOf(e.Noted), t.zone))}}
	held, left := Fact{Label: l.say("held")}, 0
	for _, h := range body.Held {
		b, ok, err := t.tx.Batch(t.kitchen.ID, h.Batch)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		line := t.placeLine(l, b)
		if _, still := holdOf(b, n); still && b.Open() {
			left++
			line += l.say(": still held")
		} else {
			line += l.say(": no longer held by it")
		}
		held.Lines = append(held.Lines, line)
	}
	card.Facts = append(card.Facts, held)
	if len(body.Gone) > 0 {
		var gone []string
		for _, b := range body.Gone {
			gone = append(gone, strconv.FormatUint(b, 10))
		}
		card.Facts = append(card.Facts, Fact{Label: l.say("had ended before"), Lines: []string{strings.Join(gone, ", ")}})
	}
	if left > 0 {
		card.Next = l.say("All that is left:  release incident %d: reason .", n)
		if body.Authority != "" {
			card.Next = t.releaseWords(l, store.Batch{}, n, body.Authority)
		}
	}
	return t.post(card)
}

// holdOf is the hold that an incident put on a batch; false: it is lifted.
func holdOf(b store.Batch, incident uint64) (store.Hold, bool) {
	i := slices.IndexFunc(b.Holds, func(h store.Hold) bool { return h.Incident == incident })
	if i < 0 {
		return store.Hold{}, false
	}
	return b.Holds[i], true
}

// releaseIncident lifts what is left of an incident, batch by batch in one go.
func (t *turn) releaseIncident(c grammar.ReleaseIncident) error {
	l := t.theirs
	e, ok, err := t.tx.Incident(t.kitchen.ID, c.Number)
	if err != nil {
		return err
	}
	body, _ := e.Body.(store.Incident)
	switch {
	case !ok:
		return t.note(l.say("There is no incident %d.", c.Number), l.say("Type  held  to see what is held."))
	case c.Why == "":
		return t.note(l.say("Why is it released?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	case body.Authority != "" && c.Reference == "":
		return t.note(l.say("The inspector placed that hold: it is lifted with the reference of their paper."), t.releaseWords(l, store.Batch{}, c.Number, body.Authority))
	}
	var lifted, still []store.Batch
	for _, h := range body.Held {
		b, ok, err := t.tx.Batch(t.kitchen.ID, h.Batch)
		if err != nil {
			return err
		}
		hold, held := holdOf(b, c.Number)
		if !ok || !held || !b.Open() {
			continue
		}
		if err := t.append(b.Number, store.Released{Why: c.Why, Reference: c.Reference, Number: hold.Number}); err != nil {
			return err
		}
		lifted = append(lifted, b)
		if len(b.Holds) > 1 {
			still = append(still, b)
		}
	}
	if len(lifted) == 0 {
		return t.note(l.say("Incident %d holds nothing any more.", c.Number))
	}
	jars := map[tongue][]Fact{}
	for _, l := range []tongue{t.ours, t.theirs} {
		if jars[l], err = t.stillHeld(l, body.Subject); err != nil {
			return err
		}
	}
	err = t.announce(func(l tongue) Card {
		card := noteCard(l.say("Incident %d is released by %s: %s. Batches: %s.", c.Number, t.person.Name, c.Why+refWords(l, c.Reference), numbered(lifted)))
		if len(still) > 0 {
			card.Lines = append(card.Lines, l.say("Still on HOLD for another reason: %s.", numbered(still)))
		}
		card.Facts = jars[l]
		return card
	})
	if err != nil {
		return err
	}
	for _, b := range lifted {
		hold, _ := holdOf(b, c.Number)
		if err := t.released(b.Number, hold.At); err != nil {
			return err
		}
	}
	return nil
}

// refWords are the paper that lifted a hold.
func refWords(l tongue, ref string) string {
	if ref == "" {
		return ""
	}
	return l.say(" (reference %s)", ref)
}
