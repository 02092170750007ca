package bot

import (
	"errors"
	"slices"

	"salthand/grammar"
	"salthand/store"
)

// showJar answers "jar A7": what is in it, and what was taken from it.
func (t *turn) showJar(name string) error {
	l := t.theirs
	jar, known, err := t.tx.Jar(t.kitchen.ID, name)
	if err != nil {
		return err
	}
	if !known {
		_, _, err := t.jar(name)
		var refused *jarRefused
		if errors.As(err, &refused) {
			return t.post(jarRefusedCard(l, refused))
		}
		return err
	}
	f := jar.Current()
	c := Card{Kind: ListCard, Title: l.say("Jar %s, filling %d: %s.", jar.Name, f.Number, labelWords(l, f.Label))}
	if why := unusable(f); why != "" {
		no := jarRefusedCard(l, &jarRefused{name: jar.Name, why: why, jar: jar})
		c.Lines, c.Next = append([]string{no.Title}, no.Lines...), no.Next
	}
	filler, _, err := t.tx.Person(t.kitchen.ID, f.By)
	if err != nil {
		return err
	}
	c.Lines = append(c.Lines, l.say("filled %s by %s; strength: %s", moment(l, timeOf(f.At), t.zone), filler.Name, knownWords(l, f.Label.Known)))
	if f.Weight != nil {
		c.Lines = append(c.Lines, l.say("weighed %s on %s", weighed(f.Weight.Mg), moment(l, timeOf(f.Weight.At), t.zone)))
	}
	photo, err := t.photoLine(f)
	if err != nil {
		return err
	}
	if photo != "" {
		c.Lines = append(c.Lines, photo)
	}
	if len(f.Parts) > 0 {
		lines, err := t.partLines(l, f, 0)
		if err != nil {
			return err
		}
		c.Facts = append(c.Facts, Fact{Label: l.say("made of"), Lines: lines}, Fact{Label: l.say("label"), Lines: []string{jarLabel(l, jar)}})
		for _, sign := range []struct {
			by    *store.JarSign
			words string
		}{{f.Read, msg("read again by %s, %s")}, {f.Approved, msg("approved by %s, %s")}} {
			if sign.by == nil {
				continue
			}
			by, err := t.nameOf(sign.by.By)
			if err != nil {
				return err
			}
			c.Lines = append(c.Lines, l.say(sign.words, by, moment(l, timeOf(sign.by.At), t.zone)))
		}
	}
	uses, err := t.jarUses(store.FillingOf{Jar: jar.Name, Number: f.Number})
	if err != nil {
		return err
	}
	var lines []string
	for _, u := range slices.Backward(uses) {
		if len(lines) == pageOf {
			lines = append(lines, l.say("and %d more before:  %s", len(uses)-pageOf, grammar.CanonicalIn(string(l), grammar.Recall{Of: "jar", Name: jar.Name})))
			break
		}
		lines = append(lines, u.words(l, t.zone))
	}
	if len(lines) > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("taken from it"), Lines: lines})
	}
	c.Warnings = undyedOf(l, f.Label)
	return t.post(c)
}

func knownWords(l tongue, known string) string {
	switch known {
	case "bag":
		return l.say("read off the bag or label")
	case "photo":
		return l.say("read off a photo")
	case "made here":
		return l.say("reckoned from what it was made of")
	}
	return l.say("not read")
}

// listJars answers "jars".
func (t *turn) listJars() error {
	l := t.theirs
	all, err := t.tx.Jars(t.kitchen.ID)
	if err != nil {
		return err
	}
	c := Card{Kind: ListCard, Title: l.say("Jars")}
	var rows []row
	for _, j := range all {
		f := j.Current()
		line := j.Name + ": " + labelWords(l, f.Label)
		if f.Weight != nil {
			line += ", " + weighed(f.Weight.Mg)
		}
		if why := unusable(f); why != "" {
			line += " · " + l.say("nothing is taken from it (%s)", l.say(unusableNames[why]))
		}
		rows = append(rows, row{j.Name, line})
	}
	if len(all) == 0 {
		c.Title = l.say("No jar is registered yet.")
		c.Next = l.say("A chef types what stands on the bag:  %s", "jar A7 is no 1, 6.25% nitrite, lot 2291")
	}
	return t.paged(c, rows, 2*pageOf)
}

// unusableNames say in a word why nothing is taken from a jar.
var unusableNames = map[string]string{jarEmpty: msg("empty"), jarWithdrawn: msg("withdrawn"), jarHeld: msg("held"), jarUnread: msg("no second reading yet"), jarUnapproved: msg("not approved yet"), jarUnlabelled: msg("label not read"), jarDoubtful: msg("its label can't be right")}
