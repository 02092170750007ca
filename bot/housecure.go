package bot

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// mayMake reports whether the person may note a house cure in a jar: anybody one of a diluted
// cure, in a jar of its own. Where not, it has been answered.
func (t *turn) mayMake(jar store.Jar, known bool, parts []store.Part) (bool, error) {
	l := t.theirs
	of := false
	for _, p := range parts {
		f, _, err := t.tx.JarFilling(t.kitchen.ID, p.FillingOf)
		if err != nil {
			return false, err
		}
		of = of || isUndiluted(f)
	}
	switch {
	case of && !t.person.Has(roleChef):
		return false, t.note(l.say(undilutedNo), l.say(undilutedNext))
	case of && t.kitchen.Settings[setOwnMixes] != "on":
		return false, t.noOwnMixes()
	case t.person.Has(roleChef) || !known || jar.Current().State == store.JarEmpty || len(jar.Current().Parts) > 0:
		return true, nil
	}
	no := rights["JarIs"]
	return false, t.note(l.say(no.no), l.say("A house cure goes into a jar of its own: say another name, or  jar %s empty  first.", jar.Name))
}

// noOwnMixes answers where the kitchen makes nothing of undiluted nitrite.
func (t *turn) noOwnMixes() error {
	return t.note(t.theirs.say("This kitchen has not switched mixes of its own on."), t.theirs.say("A chef can type  own mixes on , or use a labelled no. 1."))
}

// mayMix reports whether a mix may be reckoned for the person: of undiluted nitrite, in a jar
// or not, only for a chef where own mixes are on. Where not, it has been answered.
func (t *turn) mayMix(c grammar.Mix) (bool, error) {
	of := undiluted(c)
	if c.From.Jar != "" && !of {
		jar, known, err := t.tx.Jar(t.kitchen.ID, c.From.Jar)
		if err != nil {
			return false, err
		}
		of = known && isUndiluted(jar.Current())
	}
	switch {
	case of && !t.person.Has(roleChef):
		return false, t.note(t.theirs.say(undilutedNo), t.theirs.say(undilutedNext))
	case of && t.kitchen.Settings[setOwnMixes] != "on":
		return false, t.noOwnMixes()
	}
	return true, nil
}

// houseCure is the current filling of a jar that was made here; ok is false where it is none,
// which has been answered.
func (t *turn) houseCure(name string) (jar store.Jar, ok bool, err error) {
	l := t.theirs
	jar, known, err := t.tx.Jar(t.kitchen.ID, name)
	switch {
	case err != nil:
		return jar, false, err
	case !known:
		_, _, err := t.jar(name)
		return jar, false, t.jarOr(err)
	case len(jar.Current().Parts) == 0:
		return jar, false, t.note(l.say("Jar %s is no house cure made here: its label is read off the bag.", jar.Name),
			l.say("A house cure is noted by what it was made of:  %s", "jar H1 is house cure, made of 96.0 g jar A7 + 904.0 g salt"))
	}
	return jar, true, nil
}

// madeByMe reports whether the person, or whoever sits at the same terminal, noted what is in
// the jar now.
func (t *turn) madeByMe(jar store.Jar) (bool, error) {
	f := jar.Current()
	if mine, err := t.same(f.By); mine || err != nil {
		return mine, err
	}
	events, err := t.tx.Trail(t.kitchen.ID, store.JarSubject(jar.Name), 0, 0)
	if err != nil {
		return false, err
	}
	return slices.ContainsFunc(events, func(e store.Event) bool {
		made, ok := e.Body.(store.JarFilled)
		return ok && made.Jar == jar.Name && made.Filling == f.Number && e.Via != "" && e.Via == t.m.Via
	}), nil
}

// jarSeen takes the second reading of a house cure. It can't be switched off: what is wrong in
// a jar is wrong in every batch from it.
func (t *turn) jarSeen(c grammar.JarSeen) error {
	l := t.theirs
	jar, ok, err := t.houseCure(c.Jar)
	if !ok || err != nil {
		return err
	}
	f := jar.Current()
	own, err := t.madeByMe(jar)
	if err != nil {
		return err
	}
	switch {
	case f.Read != nil:
		return t.note(l.say("Nothing changes: jar %s is noted so.", jar.Name))
	case len(c.Parts) == 0:
		return t.note(l.say("What do the scale and the jars show?"), l.say("Type the figures that you read yourself:  %s", fmt.Sprintf("jar %s seen GRAMS g jar NAME + GRAMS g salt", jar.Name)))
	case own && t.kitchen.Settings[setOwnApproval] != "on":
		return t.note(l.say("%s made it: another person reads scale and jars.", t.person.Name), l.say("Let somebody else look and type what they see."))
	}
	seen := make([]string, 0, len(c.Parts))
	for _, p := range c.Parts {
		seen = append(seen, fmt.Sprintf("%s %d", strings.ToLower(p.Jar), mg(p.Mass)))
	}
	made := make([]string, 0, len(f.Parts))
	for _, p := range f.Parts {
		made = append(made, fmt.Sprintf("%s %d", strings.ToLower(p.Jar), p.Mg))
	}
	slices.Sort(seen)
	slices.Sort(made)
	if !slices.Equal(seen, made) || mg(c.Salt.Value) != f.SaltMg {
		return t.jarDisagreed(jar, c)
	}
	if err := t.append(0, store.JarRead{Jar: jar.Name, Filling: f.Number, Own: own}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		words := l.say("Jar %s is read again by %s: the figures agree.", jar.Name, t.person.Name)
		if own {
			words = l.say("Jar %s is read again by %s, who made it: the record says so.", jar.Name, t.person.Name)
		}
		return noteCard(words, l.say("A chef who did not make it types  jar %s approved .", jar.Name))
	})
}

// jarDisagreed holds a house cure whose second reading is another.
func (t *turn) jarDisagreed(jar store.Jar, c grammar.JarSeen) error {
	f := jar.Current()
	was := grammar.JarSeen{Jar: jar.Name}
	for _, p := range f.Parts {
		was.Parts = append(was.Parts, grammar.JarPart{Jar: p.Jar, Mass: gramsOf(p.Mg)})
	}
	was.Salt.Value, was.Salt.Origin = gramsOf(f.SaltMg), c.Salt.Origin
	why := t.ours.say("the second reading is another: made of %s, seen %s", partsOf(was), partsOf(c))
	if f.State == store.JarInUse {
		if err := t.append(0, store.JarMarked{Jar: jar.Name, Filling: f.Number, Old: f.State, New: store.JarHeld, Why: why}); err != nil {
			return err
		}
	}
	return t.announce(func(l tongue) Card {
		return Card{Kind: HoldCard, Title: l.say("HOLD on jar %s: %s", jar.Name, why),
			Lines: []string{l.say("Nothing is taken from it. Look at jars, scale and notes together; what can't be told for sure is thrown away.")},
			Next:  l.say("Made or weighed anew, type  %s", fmt.Sprintf("jar %s filled anew: made of GRAMS g jar NAME + GRAMS g salt", jar.Name))}
	})
}

// partsOf are the figures of a reading: "96 g jar A7 + 904 g salt".
func partsOf(c grammar.JarSeen) string {
	_, parts, _ := strings.Cut(grammar.Canonical(c), " seen ")
	return parts
}

// jarApprove lets a house cure be used.
func (t *turn) jarApprove(c grammar.JarApprove) error {
	l := t.theirs
	jar, ok, err := t.houseCure(c.Jar)
	if !ok || err != nil {
		return err
	}
	f := jar.Current()
	own, err := t.madeByMe(jar)
	if err != nil {
		return err
	}
	switch why := unusable(f); {
	case f.Approved != nil:
		return t.note(l.say("Nothing changes: jar %s is noted so.", jar.Name))
	case own && t.kitchen.Settings[setOwnApproval] != "on":
		return t.note(l.say("%s made jar %s and can't approve it: another chef does.", t.person.Name, jar.Name), l.say("Another chef types  jar %s approved .", jar.Name))
	case why != jarUnapproved:
		return t.post(jarRefusedCard(l, &jarRefused{name: jar.Name, why: why, jar: jar}))
	}
	if err := t.append(0, store.JarApproved{Jar: jar.Name, Filling: f.Number, Own: own}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		words := l.say("Jar %s is approved by %s: %s.", jar.Name, t.person.Name, labelWords(l, f.Label))
		if own {
			words += " " + l.say("Approved own.")
		}
		return Card{Kind: NoteCard, Title: words, Facts: []Fact{{Label: l.say("label"), Lines: []string{jarLabel(l, jar)}}}, Warnings: undyedOf(l, f.Label),
			Next: l.say("Doses are made with it:  3.2 kg belly, dry rub, 7 days, jar %s", jar.Name)}
	})
}

// jarLabel is what has to stand on a jar of house cure.
func jarLabel(l tongue, jar store.Jar) string {
	f := jar.Current()
	dyed := map[string]string{"dyed": l.say("dyed"), "undyed": l.say("UNDYED")}[f.Label.Dyed]
	var from []string
	for _, p := range f.Parts {
		from = append(from, l.say("jar %s", p.Jar))
	}
	return l.say("NOT FOR SEASONING. Jar %s: house cure, %s, %s, made of %s and plain salt, lot, date, made by, checked by", jar.Name,
		strengthOf(l, agentOfLabel(f.Label)), cmp.Or(dyed, l.say("dyed or undyed: say which")), strings.Join(from, ", "))
}

// undyedOf warns of a label that says undyed.
func undyedOf(l tongue, label store.Label) []Warning {
	if label.Dyed == "undyed" {
		return []Warning{undyedWarning(l)}
	}
	return nil
}
