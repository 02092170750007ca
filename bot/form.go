package bot

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// Names of the fields of forms.
const (
	fieldPhrase = "phrase"
	fieldWhy    = "why"
	fieldCure   = "cure"
	fieldSalt   = "salt"
	fieldJar    = "jar"
	fieldBefore = "before"
	fieldAfter  = "after"
)

// form is the form that a button opens; false: it opens none now, and the press is answered as
// any other. It reads the records and writes none.
func (b *Bot) form(m Message) (f Form, ok bool, err error) {
	r, ok, err := b.look(m)
	if err != nil || !ok || r.foreign {
		return f, false, err
	}
	var batch store.Batch
	err = b.Store.View(func(tx *store.Tx) error {
		batch, ok, err = tx.Batch(r.kitchen.ID, m.Press.Batch)
		return err
	})
	if err != nil || !ok {
		return f, false, err
	}
	f, ok = formOf(r.theirs(m), batch, r.person, *m.Press, r.kitchen.Settings[setWeighing] == "on")
	return f, ok, nil
}

// formOf makes the form of a button, where the batch and the person's role allow what it is for.
func formOf(l tongue, b store.Batch, p store.Person, press Press, weighing bool) (f Form, ok bool) {
	f = Form{Press: press, Lines: []string{l.say("batch %d: %s", b.Number, phraseIn(l, b.Card.Phrase))}, Send: l.say("send")}
	why := Field{Name: fieldWhy, Label: l.say("why")}
	waits := b.State == store.StateAsked
	switch press.Action {
	case DoChange:
		f.Title = l.say("change")
		f.Lines = append(f.Lines, l.say("A change voids the approval. The whole phrase counts."))
		f.Fields = []Field{{Name: fieldPhrase, Label: l.say("phrase"), Value: phraseIn(l, b.Card.Phrase)}}
		return f, waits && press.Revision == b.Revision
	case DoDecline:
		f.Title, f.Fields = l.say("decline"), []Field{why}
		right, _ := rightOf(grammar.Decline{})
		return f, waits && right.may(p)
	case DoHold:
		f.Title, f.Fields = l.say("hold"), []Field{why}
		return f, b.Ended == 0
	case DoWeigh:
		f.Title = l.say("weigh in")
		f.Lines = append(f.Lines, l.say("on the dose card: cure %s, salt %s", weighed(b.Card.CureMg), weighed(b.Card.SaltMg)),
			l.say("Type what the scale shows, not what the card says."))
		grams := l.say("grams, as the scale shows them")
		if b.Card.CureMg > 0 {
			f.Fields = append(f.Fields, Field{Name: fieldCure, Label: l.say("cure"), Hint: grams},
				Field{Name: fieldJar, Label: l.say("jar"), Hint: l.say("the name on the jar")})
		}
		f.Fields = append(f.Fields, Field{Name: fieldSalt, Label: l.say("salt"), Hint: grams, Optional: b.Card.CureMg > 0})
		if b.Card.CureMg > 0 {
			f.Fields = append(f.Fields, Field{Name: fieldBefore, Label: l.say("jar before"), Hint: grams, Optional: true},
				Field{Name: fieldAfter, Label: l.say("jar after"), Hint: grams, Optional: true})
		}
		why.Optional, why.Hint = true, l.say("where it differs from the dose card")
		f.Fields = append(f.Fields, why)
		return f, b.State == store.StateApproved && weighing
	}
	return f, false
}

// Fields hold one thing each, so that what is put together of them reads as it was meant.
var (
	oneAmount = regexp.MustCompile(`^[0-9]+([.,][0-9]+)? ?(g|kg)?$`)
	oneName   = regexp.MustCompile(`^[\pL\pN][\pL\pN .-]*$`)
)

// fill puts a filled form together as the line that would say the same. wrong are the fields
// that can't be taken, and why: nothing is kept then.
func (b *Bot) fill(m *Message) (wrong map[string]string, err error) {
	m.Text = ""
	r, ok, err := b.look(*m)
	if err != nil || !ok || r.foreign {
		return nil, err
	}
	l := r.theirs(*m)
	field := map[string]string{}
	for name, value := range m.Fields {
		field[name] = strings.Join(strings.Fields(value), " ")
	}
	wrong = map[string]string{}
	for _, name := range []string{fieldCure, fieldSalt, fieldBefore, fieldAfter} {
		if v := field[name]; v != "" && !oneAmount.MatchString(v) {
			wrong[name] = l.say("one amount in grams, like 8.0")
		}
	}
	if v := field[fieldJar]; v != "" && !oneName.MatchString(v) {
		wrong[fieldJar] = l.say("the name of one jar, like A7")
	}
	if len(wrong) > 0 {
		return wrong, nil
	}
	var line, at string // at is the field that a fault of the line belongs to
	switch m.Press.Action {
	case DoChange:
		line, at = field[fieldPhrase], fieldPhrase
	case DoDecline, DoHold:
		line, at = string(m.Press.Action)+": "+field[fieldWhy], fieldWhy
	case DoWeigh:
		line, at = weighedLine(field), slices.Concat(present(field, fieldCure), []string{fieldSalt})[0]
	}
	m.Text = fmt.Sprintf("batch %d: %s", m.Press.Batch, line)
	p, err := grammar.Parse(m.Text, settingOf(r.kitchen, true))
	var q *grammar.Question
	var e *grammar.Error
	switch {
	case errors.As(err, &q):
		return map[string]string{at: questionCard(l, m.Text, q).Title}, nil
	case errors.As(err, &e):
		return map[string]string{at: shortErrorCard(l, e).Title}, nil
	case err != nil:
		return nil, err
	}
	if _, dose := p.Command.(grammar.Dose); m.Press.Action == DoChange && !dose {
		return map[string]string{at: l.say("That is no dose phrase.")}, nil
	}
	return nil, nil
}

// weighedLine is what a form of weighing in says: "weighed 8.0 cure, 72.4 salt, jar A7 842 -> 834: reason".
func weighedLine(field map[string]string) string {
	var parts []string
	for _, name := range present(field, fieldCure, fieldSalt) {
		parts = append(parts, field[name]+" "+name)
	}
	if jar := field[fieldJar]; jar != "" {
		jar = "jar " + jar
		switch before, after := field[fieldBefore], field[fieldAfter]; {
		case before != "" && after != "":
			jar += " " + before + " -> " + after
		case after != "":
			jar += " " + after
		}
		parts = append(parts, jar)
	}
	line := "weighed " + strings.Join(parts, ", ")
	if why := field[fieldWhy]; why != "" {
		line += ": " + why
	}
	return line
}

// present are the names of the fields that something stands in.
func present(field map[string]string, names ...string) (out []string) {
	for _, name := range names {
		if field[name] != "" {
			out = append(out, name)
		}
	}
	return out
}
