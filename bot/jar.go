package bot

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// jarOrder takes a command about a jar; ok is false for every other.
func (t *turn) jarOrder(c grammar.Command) (ok bool, err error) {
	switch c := c.(type) {
	case grammar.JarIs:
		return true, t.jarIs(c)
	case grammar.JarWeighs:
		return true, t.jarWeighs(c)
	case grammar.JarMarked:
		return true, t.jarMarked(c)
	case grammar.JarSeen:
		return true, t.jarSeen(c)
	case grammar.JarApprove:
		return true, t.jarApprove(c)
	case grammar.JarPhoto:
		return true, t.jarPhoto(c)
	case grammar.ShowJar:
		if len(t.m.Files) > 0 {
			return true, t.jarPhoto(grammar.JarPhoto(c))
		}
		return true, t.showJar(c.Jar)
	case grammar.Jars:
		return true, t.listJars()
	case grammar.MeatScale, grammar.ScaleChecked, grammar.SecondReading, grammar.CheckWeight:
		return true, t.scaleOrder(c)
	}
	return false, nil
}

// jarIs registers a jar, fills it anew, or notes its label. What stands against what is known
// of it is asked back: the jar was filled anew, or the label was read wrong.
func (t *turn) jarIs(c grammar.JarIs) error {
	l := t.theirs
	if c.Label.Kind == cure.PureNitrite && t.kitchen.Settings[setOwnMixes] != "on" {
		return t.noOwnMixes()
	}
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	said, parts, err := t.labelSaid(c)
	var refused *jarRefused
	switch {
	case errors.As(err, &refused):
		card := jarRefusedCard(l, refused)
		card.Lines = append(card.Lines, t.photoAgain(l, c.Jar)...)
		return t.post(card)
	case err != nil:
		return err
	}
	if len(parts) > 0 {
		if may, err := t.mayMake(jar, known, parts); !may || err != nil {
			return err
		}
	}
	switch {
	case !known && c.How == grammar.JarReread:
		_, _, err := t.jar(c.Jar)
		return t.jarOr(err)
	case !known:
		return t.fillJar(store.JarFilled{Jar: c.Jar, Filling: 1, Label: said, Parts: parts, SaltMg: mg(c.Salt.Value)}, store.Jar{})
	case c.How == grammar.JarAnew:
		return t.fillJar(store.JarFilled{Jar: jar.Name, Filling: uint32(len(jar.Fillings) + 1), Label: said, Parts: parts, SaltMg: mg(c.Salt.Value)}, jar)
	}
	cur := jar.Current()
	now := laidOver(cur.Label, said)
	if c.How == grammar.JarIsSo && (cur.State != store.JarInUse || len(parts) > 0 || !adds(cur.Label, said)) {
		return t.anewOrReread(c, jar)
	}
	if now == cur.Label {
		photo, err := t.photographed(jar)
		if err != nil {
			return err
		}
		return t.post(Card{Kind: NoteCard, Title: l.say("Nothing changes: jar %s is noted so.", jar.Name), Lines: photo(l)})
	}
	if err := t.append(0, store.JarLabelled{Jar: jar.Name, Filling: cur.Number, Old: cur.Label, New: now}); err != nil {
		return err
	}
	return t.jarNoted(jar, l.say("the label of jar %s was read again", jar.Name))
}

// labelSaid is a label as it was typed, with what can't be right in it.
func (t *turn) labelSaid(c grammar.JarIs) (store.Label, []store.Part, error) {
	said := store.Label{AgentKind: jarKinds[c.Label.Kind], NitriteMilliPPM: keptStrength(c.Label.Nitrite.Value), NitrateMilliPPM: keptStrength(c.Label.Nitrate.Value), Lot: c.Label.Lot}
	if said.NitriteMilliPPM > 0 || said.NitrateMilliPPM > 0 {
		said.Known = "bag"
	}
	if c.Label.Dyed.Set() {
		said.Dyed = map[bool]string{true: "dyed", false: "undyed"}[c.Label.Dyed.Value]
	}
	var parts []store.Part
	var made []cure.Part
	for _, p := range c.Parts {
		jar, f, err := t.jar(p.Jar)
		if err != nil {
			return said, nil, err
		}
		parts = append(parts, store.Part{FillingOf: store.FillingOf{Jar: jar.Name, Number: f.Number}, Mg: mg(p.Mass)})
		made = append(made, cure.Part{Agent: agentOfLabel(f.Label), Grams: p.Mass})
		if f.Label.Dyed == "undyed" && said.Dyed == "" {
			said.Dyed = "undyed"
		}
	}
	a := agentOfLabel(said)
	if len(parts) > 0 {
		mix := cure.MadeOf(made, c.Salt.Value)
		if said.AgentKind == "" {
			said.AgentKind = jarKinds[cure.HouseCure]
		}
		if a.Nitrite > 0 && math.Abs(float64(mix.Nitrite/a.Nitrite)-1) > madeWithin || said.AgentKind != jarKinds[cure.HouseCure] {
			said.Doubt = doubtMade
		} else {
			said.NitriteMilliPPM, said.NitrateMilliPPM = keptStrength(mix.Nitrite), keptStrength(mix.Nitrate)
		}
		said.Known = "made here"
	}
	said.Doubt = doubtOf(said, c.Label.Both)
	return said, parts, nil
}

// madeWithin is how far the strength that is typed for a house cure may lie from what its
// parts come to: the usual rounding of a label to two figures. Common practice, no source.
const madeWithin = 0.02

// doubtOf is what in a label can't be right; "": nothing.
func doubtOf(label store.Label, both bool) string {
	a := agentOfLabel(label)
	switch {
	case label.Doubt == doubtMade:
		return doubtMade
	case both:
		return doubtDyed
	case a.Kind != cure.NoAgent && (a.Nitrite > 0 || a.Nitrate > 0) && !a.Fits():
		return doubtStrength
	}
	return ""
}

// laidOver is a label with what was said of it now in the place of what was noted before.
func laidOver(old, said store.Label) store.Label {
	now := old
	now.Doubt = ""
	if said.AgentKind != "" && said.AgentKind != old.AgentKind {
		now.AgentKind, now.NitriteMilliPPM, now.NitrateMilliPPM, now.Known = said.AgentKind, 0, 0, ""
	}
	if said.Known != "" {
		now.NitriteMilliPPM, now.NitrateMilliPPM, now.Known = said.NitriteMilliPPM, said.NitrateMilliPPM, said.Known
	}
	if said.Lot != "" {
		now.Lot = said.Lot
	}
	if said.Dyed != "" {
		now.Dyed = said.Dyed
	}
	if now.Doubt = said.Doubt; now.Doubt == "" {
		now.Doubt = doubtOf(now, false)
	}
	return now
}

// adds reports whether what was said of a label stands against nothing that is known.
func adds(old, said store.Label) bool {
	same := func(was, is string) bool { return was == "" || is == "" || was == is }
	strong := old.Known == "" || said.Known == "" || old.NitriteMilliPPM == said.NitriteMilliPPM && old.NitrateMilliPPM == said.NitrateMilliPPM
	return same(old.AgentKind, said.AgentKind) && strong && same(old.Lot, said.Lot) && same(old.Dyed, said.Dyed) && old.Doubt == ""
}

// anewOrReread asks which of the two it is.
func (t *turn) anewOrReread(c grammar.JarIs, jar store.Jar) error {
	l := t.theirs
	anew, again := c, c
	anew.How, again.How = grammar.JarAnew, grammar.JarReread
	choices := []grammar.Choice{{Label: "filled anew", Phrase: grammar.Canonical(anew)}}
	if jar.Current().State == store.JarInUse && len(c.Parts) == 0 {
		choices = append(choices, grammar.Choice{Label: "label read wrong", Phrase: grammar.Canonical(again)})
	}
	card := Card{Kind: QuestionCard, Title: l.say("Jar %s is noted as %s. Was it filled anew, or was the label read wrong?", jar.Name, labelWords(l, jar.Current().Label))}
	for _, one := range choices {
		card.Choices = append(card.Choices, one.Label)
	}
	card.Lines = t.photoAgain(l, jar.Name)
	card.Next = answerWith(l, card.Choices, "")
	return t.ask(card, choices, "")
}

func (t *turn) fillJar(f store.JarFilled, before store.Jar) error {
	if err := t.append(0, f); err != nil {
		return err
	}
	if len(before.Fillings) == 0 {
		before.Name = f.Jar
		return t.jarNoted(before, "")
	}
	return t.jarNoted(before, t.ours.say("jar %s was filled anew", f.Jar))
}

// jarNoted says what is in a jar now. Approvals that rested on what it was before are void,
// for the reason given.
func (t *turn) jarNoted(before store.Jar, why string) error {
	voided := []uint64{}
	if len(before.Fillings) > 0 {
		var err error
		if voided, err = t.voidForJar(before, why); err != nil {
			return err
		}
	}
	jar, _, err := t.tx.Jar(t.kitchen.ID, before.Name)
	if err != nil {
		return err
	}
	photo, err := t.photographed(jar)
	if err != nil {
		return err
	}
	f := jar.Current()
	made := map[tongue][]string{}
	for _, l := range []tongue{t.ours, t.theirs} {
		if made[l], err = t.partLines(l, f, 0); err != nil {
			return err
		}
	}
	return t.post(t.both(func(l tongue) Card {
		c := Card{Kind: NoteCard, Title: l.say("Jar %s, filling %d: %s.", jar.Name, f.Number, labelWords(l, f.Label)),
			Lines: append([]string{l.say("noted by %s", t.person.Name)}, photo(l)...),
			Next:  l.say("Weigh it as it stands now:  %s", fmt.Sprintf("jar %s GRAMS g", jar.Name))}
		if len(f.Parts) > 0 {
			c.Facts = append(c.Facts, Fact{Label: l.say("made of"), Lines: made[l]}, Fact{Label: l.say("label"), Lines: []string{jarLabel(l, jar)}})
		}
		if len(voided) > 0 {
			c.Facts = append(c.Facts, Fact{Label: l.say("no longer approved"), Lines: []string{commas(voided)}})
		}
		c.Warnings = undyedOf(l, f.Label)
		if why := unusable(f); why != "" {
			no := jarRefusedCard(l, &jarRefused{name: jar.Name, why: why, jar: jar})
			c.Lines, c.Next = append(append(c.Lines, no.Title), no.Lines...), no.Next
		}
		return c
	}))
}

// commas are the numbers of batches: "41, 42".
func commas(batches []uint64) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(batches), " ", ", "), "[]")
}

// jarWeighs notes a jar on the scale.
func (t *turn) jarWeighs(c grammar.JarWeighs) error {
	l := t.theirs
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	if !known {
		_, _, err := t.jar(c.Jar)
		return t.jarOr(err)
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	f := jar.Current()
	if milli(happened) < f.At && len(jar.Fillings) > 1 {
		return t.note(l.say("Jar %s was filled anew only on %s.", jar.Name, moment(l, timeOf(f.At), t.zone)))
	}
	if err := t.appendAt(0, store.JarWeighed{Jar: jar.Name, Filling: f.Number, Mg: mg(c.Mass)}, milli(happened)); err != nil {
		return err
	}
	words := l.say("Jar %s weighs %s, noted for %s.", jar.Name, weighed(mg(c.Mass)), t.person.Name)
	if w := f.Weight; w != nil && w.At <= milli(happened) {
		words += " " + l.say("Before it was %s, on %s.", weighed(w.Mg), moment(l, timeOf(w.At), t.zone))
	}
	return t.note(words)
}

// jarMarked says whether a jar may be taken from.
func (t *turn) jarMarked(c grammar.JarMarked) error {
	l := t.theirs
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	if !known {
		_, _, err := t.jar(c.Jar)
		return t.jarOr(err)
	}
	f := jar.Current()
	to := map[grammar.JarMark]store.JarState{grammar.JarEmpty: store.JarEmpty, grammar.JarWithdrawn: store.JarWithdrawn, grammar.JarInUse: store.JarInUse}[c.Mark]
	switch {
	case f.State == to:
		return t.note(l.say("Nothing changes: jar %s is noted so.", jar.Name))
	case c.Why == "" && to != store.JarEmpty:
		return t.note(l.say("Why?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	}
	if err := t.append(0, store.JarMarked{Jar: jar.Name, Filling: f.Number, Old: f.State, New: to, Why: c.Why}); err != nil {
		return err
	}
	reason := map[store.JarState]string{store.JarEmpty: t.ours.say("jar %s is empty", jar.Name), store.JarWithdrawn: t.ours.say("jar %s is withdrawn", jar.Name)}[to]
	voided, err := t.voidForJar(jar, reason)
	if err != nil {
		return err
	}
	return t.post(t.both(func(l tongue) Card {
		words := map[store.JarState]string{
			store.JarEmpty: l.say("Jar %s is empty, noted for %s. Rinse it out; it is no jar for salt.", jar.Name, t.person.Name), store.JarInUse: l.say("Jar %s is back in use: %s.", jar.Name, c.Why),
			store.JarWithdrawn: l.say("Jar %s is withdrawn by %s: %s. Set it apart, closed and labelled.", jar.Name, t.person.Name, c.Why),
		}[to]
		card := Card{Kind: NoteCard, Title: words}
		if len(voided) > 0 {
			card.Facts = append(card.Facts, Fact{Label: l.say("no longer approved"), Lines: []string{commas(voided)}})
		}
		if to == store.JarWithdrawn {
			card.Next = l.say("What was made from it:  where did jar %s go .", jar.Name)
		}
		return card
	}))
}
