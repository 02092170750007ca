package bot

import (
	"errors"
	"fmt"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// weighingOn reports whether batches are weighed in before the clock starts.
func (t *turn) weighingOn() bool { return t.kitchen.Settings[setWeighing] == "on" }

// mustCheck reports whether another person has to read scale and jar. It can't be switched off
// for undiluted nitrite, nor for a house cure of it.
func (t *turn) mustCheck(of store.FillingOf) (bool, error) {
	if t.kitchen.Settings[setSecondReading] != "off" {
		return true, nil
	}
	return t.undilutedIn(of, 0)
}

// houseCuresDeep is how many house cures, each made of the one before, are looked into.
const houseCuresDeep = 8

// undilutedIn reports whether a filling is undiluted nitrite or was made here of it.
func (t *turn) undilutedIn(of store.FillingOf, depth int) (bool, error) {
	f, ok, err := t.tx.JarFilling(t.kitchen.ID, of)
	if err != nil || !ok {
		return false, err
	}
	if f.Label.AgentKind == jarKinds[cure.PureNitrite] || depth == houseCuresDeep {
		return true, nil
	}
	for _, p := range f.Parts {
		if found, err := t.undilutedIn(p.FillingOf, depth+1); found || err != nil {
			return found, err
		}
	}
	return false, nil
}

// weighedIn takes what was weighed out for a batch: from the jar that was approved, as much as
// was approved.
func (t *turn) weighedIn(b store.Batch, c grammar.WeighedIn) error {
	l := t.theirs
	switch {
	case len(b.Holds) > 0:
		return t.note(l.say("Batch %d is on HOLD: %s. Nothing is weighed in for it.", b.Number, holdReasons(b)), l.say("A chef can  release: reason ."))
	case b.State != store.StateApproved && b.State != store.StateWeighed:
		return t.notNow(b, "weighed")
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	if ok, err := t.scaleReady(b); !ok || err != nil {
		return err
	}
	if ok, err := t.jarStands(b); !ok || err != nil {
		return err
	}
	body := store.Weighed{Revision: b.Revision, CureMg: mg(c.Cure.Value), SaltMg: mg(c.Salt.Value), Why: c.Why}
	if b.Card.CureMg > 0 {
		jar, f, ok, err := t.weighedFrom(b, c)
		if !ok || err != nil {
			return err
		}
		body.Jar, body.Filling, body.Lot = jar.Name, f.Number, f.Label.Lot
	} else if c.Cure.Set() {
		return t.note(l.say("Dose card %d has no cure in it: none is weighed in.", b.Number), l.say("To put cure in, type the phrase with it in this thread."))
	}
	off, ok, err := t.asApproved(b, c)
	if !ok || err != nil {
		return err
	}
	return t.weigh(b, c, body, off, happened)
}

// weighedFrom is the jar that the cure came from: it must hold what the dose card says. What
// is not so has been answered.
func (t *turn) weighedFrom(b store.Batch, c grammar.WeighedIn) (jar store.Jar, f store.Filling, ok bool, err error) {
	l := t.theirs
	name := c.Jar
	if name == "" {
		name = b.Card.Jar
	}
	if name == "" {
		card := Card{Kind: QuestionCard, Title: l.say("From which jar was it weighed?"),
			Lines: []string{l.say("A name is not a strength: nothing is weighed in until the strength was read off a bag or a jar once.")},
			Next:  l.say("Answer with its name, like  jar A7 .")}
		return jar, f, false, t.ask(card, nil, grammar.Canonical(c))
	}
	jar, f, err = t.jar(name)
	var refused *jarRefused
	if errors.As(err, &refused) {
		return jar, f, false, t.post(jarRefusedCard(l, refused))
	}
	if err != nil {
		return jar, f, false, err
	}
	if b.Card.Jar != "" && b.Card.Jar != jar.Name || agentOfLabel(f.Label) != agentKept(b.Card) {
		was := jarOfCard(l, b.Card)
		if was == "" {
			was = agentOfCard(l, b.Card)
		}
		return jar, f, false, t.post(Card{Kind: StopCard, Batch: b.Number, Title: l.say("That is another cure than the approved one: don't put it in."),
			Facts: []Fact{{Label: l.say("changed"), Lines: []string{was + " → " + fillingWords(l, jar)}}},
			Next:  l.say("Put it back and weigh from the approved jar, or type  use jar %s : the dose is reckoned anew and approved anew.", jar.Name)})
	}
	if a := agentOfLabel(f.Label); c.Kind != cure.NoAgent && c.Kind != a.Kind {
		return jar, f, false, t.post(jarRefusedCard(l, &jarRefused{name: jar.Name, why: jarOther, asked: cure.Agent{Kind: c.Kind}, holds: a}))
	}
	return jar, f, true, nil
}

// asApproved compares what was weighed with the dose card. It gives in words what is off, ""
// for nothing, which a reason was given for; ok is false where it was answered instead.
func (t *turn) asApproved(b store.Batch, c grammar.WeighedIn) (off string, ok bool, err error) {
	l := t.theirs
	d, err := doseOf(b)
	if err != nil {
		return "", false, err
	}
	if agent, kept := agentOnCard(b.Card); kept {
		d = withAgent(d, agent) // the kitchen's usual one may be another by now
	}
	s := t.settings()
	s.Region = cure.Given[cure.Region]{Value: cure.Region(b.Card.Region), Origin: cure.FromKitchen}
	division := s.CureScale.Value
	if division == 0 {
		division = usualDivision
	}
	if b.Card.CureMg > 0 && !c.Cure.Set() {
		return "", false, t.note(l.say("How many grams of cure did the scale show?"), l.say("Type it all:  %s", "weighed CURE cure, SALT salt, jar NAME"))
	}
	var lines, ours []string // for who typed it, and for the record
	if c.Cure.Set() {
		r, err := requestFor(d, s)
		if err != nil {
			return "", false, t.jarOr(err)
		}
		w, err := cure.Weigh(r, c.Cure.Value)
		if err != nil {
			refused := func(l tongue) figured { return asked(l, "dose", d, s).refused(err, d) }
			return "", false, t.reply(refused(l), refused)
		}
		w.Want = cure.Gram(b.Card.CureMg) / 1000
		w.Off = c.Cure.Value - w.Want
		if over, is := w.Over(); is && !w.Within {
			return "", false, t.post(t.both(func(l tongue) Card { return t.overWeighed(l, b, c, w, over) }))
		}
		if !w.Within {
			lines, ours = offLines(l, w, c.Cure.Value), offLines(t.ours, w, c.Cure.Value)
		}
	}
	if salt := cure.Gram(b.Card.SaltMg) / 1000; c.Salt.Set() && !cure.SaltWithin(c.Salt.Value, salt, division) {
		off := func(l tongue) string {
			return l.say("salt: %s on the scale, %s on the dose card", grams(c.Salt.Value, division), grams(salt, division))
		}
		lines, ours = append(lines, off(l)), append(ours, off(t.ours))
	}
	if len(lines) == 0 {
		return "", true, nil
	}
	if c.Why == "" {
		return "", false, t.post(Card{Kind: QuestionCard, Batch: b.Number, Title: l.say("That is not what was approved. Nothing was noted."), Lines: lines,
			Next: l.say("Weigh it again and type what the scale shows. If it stays so, say why:  %s: reason . The batch is then held for the chef.", grammar.Canonical(c))})
	}
	return ours[0], true, nil
}

// usualDivision is the division of a cure scale that nobody said anything of: cure's own.
const usualDivision cure.Gram = 0.1

// jarOr answers a jar that is refused; any other error stays one.
func (t *turn) jarOr(err error) error {
	var refused *jarRefused
	if errors.As(err, &refused) {
		return t.post(jarRefusedCard(t.theirs, refused))
	}
	return err
}

// offLines say how far the cure on the scale is from the dose card, and what it comes to.
func offLines(l tongue, w cure.Weighed, got cure.Gram) []string {
	lines := []string{l.say("cure: %s on the scale, %s on the dose card", grams(got, 0.01), grams(w.Want, 0.01))}
	switch w.Slip {
	case 1:
		lines = append(lines, l.say("That is ten times as much: did the decimal point slip?"))
	case -1:
		lines = append(lines, l.say("That is a tenth of it: did the decimal point slip?"))
	}
	if w.Nitrite > 0 {
		lines = append(lines, l.say("it would come to %s sodium nitrite on %s", ppm(w.Nitrite), l.say(w.Basis.String())))
	}
	return lines
}

// overWeighed refuses cure on the scale that is above the limit.
func (t *turn) overWeighed(l tongue, b store.Batch, c grammar.WeighedIn, w cure.Weighed, over cure.Check) Card {
	lines := append(offLines(l, w, c.Cure.Value), limitLine(l, over))
	return Card{Kind: StopCard, Batch: b.Number, Title: l.say("STOP: %s of cure is above the limit. Don't put it on the meat.", grams(c.Cure.Value, 0.01)), Lines: lines,
		Warnings: []Warning{{Level: "stop", Code: "weighed", Text: l.say("nothing was noted: batch %d is not weighed in", b.Number)}},
		Next:     l.say("Set that cure apart and weigh again. If any of it is on the meat already:  hold: what happened .")}
}

// weigh notes what was weighed, the jar before and after, and what comes next.
func (t *turn) weigh(b store.Batch, c grammar.WeighedIn, body store.Weighed, off string, happened time.Time) error {
	for _, reading := range []cure.Given[cure.Gram]{c.Before, c.After} {
		if reading.Set() && body.Jar != "" {
			at := milli(happened)
			if reading == c.Before && c.After.Set() {
				at-- // before it
			}
			if err := t.appendAt(0, store.JarWeighed{Jar: body.Jar, Filling: body.Filling, Mg: mg(reading.Value), Batch: b.Number}, at); err != nil {
				return err
			}
		}
	}
	if err := t.appendAt(b.Number, body, milli(happened)); err != nil {
		return err
	}
	late := t.at().Sub(happened) > lateAfter
	held := ""
	switch {
	case off != "":
		held = t.ours.say("weighed otherwise than approved, %s: %s", off, c.Why)
	case late && b.Approval != nil && milli(happened) < b.Approval.At:
		held = t.ours.say("noted late that the cure went in, before the dose was approved: the chef decides")
	case late:
		held = t.ours.say("noted late that the cure went in: the chef decides by the jar's weights")
	}
	if held != "" {
		if err := t.append(b.Number, store.Held{Why: held}); err != nil {
			return err
		}
	}
	check, err := t.mustCheck(store.FillingOf{Jar: body.Jar, Number: body.Filling})
	if err != nil {
		return err
	}
	b, _, err = t.tx.Batch(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	if held == "" && (!check || body.Jar == "") {
		return t.startClock(b)
	}
	return t.announce(func(l tongue) Card {
		card := Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d: %s, noted for %s.", b.Number, weighedWords(l, body), t.person.Name), Warnings: t.weighedWarnings(l, b, c)}
		switch {
		case held != "":
			card.Kind, card.Lines = HoldCard, []string{l.say("HOLD: %s", held)}
			card.Next = l.say("A chef decides:  release: reason  or  discard: reason .")
		default:
			card.Next = l.say("Before it goes in, another person types what the scale and the jar show:  seen , the grams, the jar's name.")
		}
		return card
	})
}

// weighedWords are what was weighed, as a record shows it.
func weighedWords(l tongue, w store.Weighed) string {
	switch {
	case w.Jar == "":
		return l.say("weighed %s salt, no cure", weighed(w.SaltMg))
	case w.SaltMg == 0:
		return l.say("weighed %s cure from jar %s, filling %d", weighed(w.CureMg), w.Jar, w.Filling)
	}
	return l.say("weighed %s cure from jar %s, filling %d, and %s salt", weighed(w.CureMg), w.Jar, w.Filling, weighed(w.SaltMg))
}

// weighedWarnings are about the weighing itself: the jar's two weights, the scale, the colour.
func (t *turn) weighedWarnings(l tongue, b store.Batch, c grammar.WeighedIn) (ws []Warning) {
	warn := func(code, text string) { ws = append(ws, Warning{Level: cure.Warn.String(), Code: code, Text: text}) }
	if c.Before.Set() && c.After.Set() {
		fall := cure.JarFall{Before: c.Before.Value, After: c.After.Value, Dose: c.Cure.Value, Division: t.division()}
		if fall.Says() != cure.EvidenceTaken {
			warn("jar", l.say("the jar lost %s, and the scale showed %s", grams(fall.Left(), 0.01), grams(c.Cure.Value, 0.01)))
		}
	}
	ws = append(ws, t.scaleWarnings(l, b.Card.CureMg > 0)...)
	if b.Card.Undyed {
		ws = append(ws, undyedWarning(l))
	}
	return ws
}

// seen takes the second reading of scale and jar. It starts the clock; where it disagrees, the
// batch is held.
func (t *turn) seen(b store.Batch, c grammar.Seen) error {
	l := t.theirs
	switch {
	case b.TopUp != nil && b.TopUp.Added != nil && b.Ended == 0:
		return t.seenAdded(b, c)
	case len(b.Holds) > 0:
		return t.note(l.say("Batch %d is on HOLD: %s. It doesn't start.", b.Number, holdReasons(b)), l.say("A chef can  release: reason ."))
	case b.State != store.StateWeighed:
		return t.notNow(b, "seen")
	case b.Weighing.Disputed:
		return t.weighAnew(b)
	case !c.Cure.Set() || c.Jar == "":
		return t.ask(Card{Kind: QuestionCard, Batch: b.Number, Title: l.say("What do the scale and the jar show?"),
			Lines: []string{l.say("A second reading is the figures that you read yourself.")}, Next: l.say("Type  seen , the grams on the scale, and the name on the jar.")}, nil, "seen")
	}
	own := b.Weighing.By == t.person.ID || b.Weighing.Via != "" && b.Weighing.Via == t.m.Via
	if own && t.kitchen.Settings[setOwnApproval] != "on" {
		return t.note(l.say("%s weighed it for batch %d: another person reads scale and jar.", t.person.Name, b.Number), l.say("Let somebody else look and type what they see."))
	}
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	if !known || jar.Name != b.Jar || jar.Current().Number != b.Filling || mg(c.Cure.Value) != b.Weighing.CureMg {
		return t.disagree(b, c)
	}
	if err := t.append(b.Number, store.Checked{CureMg: b.Weighing.CureMg, Jar: b.Jar, Filling: b.Filling, Own: own}); err != nil {
		return err
	}
	if b, _, err = t.tx.Batch(t.kitchen.ID, b.Number); err != nil {
		return err
	}
	return t.startClock(b)
}

// disagree holds a batch whose second reading is another than the first.
func (t *turn) disagree(b store.Batch, c grammar.Seen) error {
	first := fmt.Sprintf("%s, %s", weighed(b.Weighing.CureMg), b.Jar)
	second := fmt.Sprintf("%s, %s", grams(c.Cure.Value, 0.1), c.Jar)
	why := t.ours.say("the second reading is another: weighed %s, seen %s", first, second)
	if err := t.append(b.Number, store.Held{Why: why, Reading: true}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD on batch %d: %s", b.Number, why),
			Lines: []string{l.say("Nothing goes on the meat. Leave scale and jar as they are, and look at both together.")},
			Next:  l.say("A chef types  release: reason ; then it is weighed and read anew.")}
	})
}

// weighAnew asks for another weighing after two readings that differ.
func (t *turn) weighAnew(b store.Batch) error {
	return t.note(t.theirs.say("Batch %d was read otherwise than weighed: it is weighed anew first.", b.Number),
		t.theirs.say("Type what the scale shows:  weighed CURE cure, SALT salt, jar NAME ."))
}

// notWeighed answers "start" where the cure has to be weighed or read first; ok: nothing has.
func (t *turn) notWeighed(b store.Batch) (ok bool, err error) {
	l := t.theirs
	switch b.State {
	case store.StateApproved:
		if t.weighingOn() {
			return false, t.note(l.say("Batch %d is not weighed in: it doesn't start.", b.Number), l.say("Type what the scale shows:  weighed CURE cure, SALT salt, jar NAME ."))
		}
	case store.StateWeighed:
		if b.Weighing.Disputed {
			return false, t.weighAnew(b)
		}
		check, err := t.mustCheck(store.FillingOf{Jar: b.Jar, Number: b.Filling})
		if err != nil || !check || b.Jar == "" {
			return err == nil, err
		}
		if b.Weighing.Late && t.person.Has(roleChef) {
			return true, nil // nobody can read the scale any more: the chef decides
		}
		return false, t.note(l.say("Batch %d waits for the second reading: it doesn't start.", b.Number), l.say("Another person types  seen , the grams on the scale, and the name on the jar."))
	}
	return true, nil
}

// approvedNext says what comes after an approval.
func (t *turn) approvedNext(l tongue) string {
	if t.weighingOn() {
		return l.say("Weigh it and type what the scale shows within 24 h:  weighed CURE cure, SALT salt, jar NAME .")
	}
	return l.say("Weigh it, put it in, and type  start  within 24 h: the clock runs from then.")
}

// withWeighing says what was weighed in and who read it, on the card of the start.
func (t *turn) withWeighing(l tongue, c Card, b store.Batch) Card {
	if b.Weighing == nil {
		return c
	}
	w := store.Weighed{CureMg: b.Weighing.CureMg, SaltMg: b.Weighing.SaltMg, Jar: b.Jar, Filling: b.Filling}
	c.Lines = append(c.Lines, weighedWords(l, w))
	switch {
	case b.Check == nil:
		c.Lines = append(c.Lines, l.say("no second reading"))
	case b.Check.Own:
		c.Lines = append(c.Lines, l.say("read again by whoever weighed it: the record says so"))
	default:
		c.Lines = append(c.Lines, l.say("read again by another person: the figures agree"))
	}
	c.Warnings = append(c.Warnings, t.weighedWarnings(l, b, grammar.WeighedIn{})...)
	return c
}
