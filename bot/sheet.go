package bot

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"salthand/cure"
	"salthand/store"
)

// sheet is the record of a batch on paper: what an inspector asks for, and all of its events.
func (t *turn) sheet(b store.Batch) (Sheet, error) {
	l := t.ours
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return Sheet{}, err
	}
	out := Sheet{
		Letter: t.letter(), Title: l.say("Batch %d: %s", b.Number, cutName(l, b.Card.Cut)), Under: phraseIn(l, b.Card.Phrase),
		Code: t.codeOf(b), Foot: t.printed(), Page: l.say(msg("page %d of %d")),
	}
	out.Foot += ". " + l.say("Times: %s; year %d where none stands.", t.zone.String(), t.at().In(t.zone).Year())
	out.Banner, out.Why = t.bannerOf(b)
	for _, part := range []func(store.Batch, []store.Event) (SheetPart, error){t.batchPart, t.sumPart, t.limitPart, t.approvalPart, t.weighingPart,
		t.stepPart, t.readingPart, t.changePart, t.stopPart, t.carePart, t.recordPart, t.reviewPart} {
		p, err := part(b, events)
		if err != nil {
			return Sheet{}, err
		}
		if p.Heading != "" || p.Lines != nil {
			out.Parts = append(out.Parts, p)
		}
	}
	return out, nil
}

// short is an instant in the record of a batch: without the year, where it is the paper's own.
func (t *turn) short(m store.Milli) string {
	if m == 0 {
		return ""
	}
	at := timeOf(m).In(t.zone)
	words := strconv.Itoa(at.Day()) + " " + monthName(t.ours, at.Month())
	if at.Year() != t.at().In(t.zone).Year() {
		words += " " + strconv.Itoa(at.Year())
	}
	return words + " " + at.Format("15:04")
}

// letter reports whether the kitchen prints on the paper of the US and Canada.
func (t *turn) letter() bool { return t.kitchen.Region == "us" || t.kitchen.Region == "ca" }

// noted is a value of the record, or that there is none.
func noted(l tongue, value string) string {
	if value == "" {
		return l.say("not noted")
	}
	return value
}

// batchPart is what the batch is and where it stands.
func (t *turn) batchPart(b store.Batch, _ []store.Event) (p SheetPart, err error) {
	l := t.ours
	p.Heading = l.say("batch")
	field := func(name, value string) {
		p.Fields = append(p.Fields, PaperField{Name: name, Value: noted(l, value)})
	}
	by := func(name, id string, at store.Milli) error {
		who, err := t.called(id)
		field(name, strings.TrimSpace(who+" "+t.dated(at)))
		return err
	}
	field(l.say("green weight"), grams(gramsOf(b.Card.WeightMg), 0))
	field(l.say("state"), stateWords(l, b))
	field(l.say("method"), methodName(l, b.Card.Method))
	field(l.say("rule"), b.Card.Region+", "+l.say(b.Card.Class))
	field(l.say("cure"), t.cureOf(b))
	field(l.say("raw or cooked"), heatOf(l, b))
	field(l.say("meat"), meatOf(l, b))
	field(l.say("place"), b.Where)
	if recipe := recipeOf(l, b); recipe != "" {
		field(l.say("recipe"), recipe)
	}
	allergens, err := t.allergensLine(b)
	if err != nil {
		return p, err
	}
	field(l.say("allergens"), allergens)
	if with := withOf(l, b); with != "" {
		field(l.say("ingredients"), with)
	}
	if err = by(l.say("asked by"), b.AskedBy, b.AskedAt); err != nil {
		return p, err
	}
	approved, err := t.approvedBy(b)
	if err != nil {
		return p, err
	}
	field(l.say("approved by"), approved)
	if err = by(l.say("into the cure"), b.StartedBy, b.StartedAt); err != nil {
		return p, err
	}
	field(l.say("next"), t.nextOf(b))
	owner, err := t.called(ownerOf(b))
	if err != nil {
		return p, err
	}
	field(l.say("looked after by"), owner)
	if b.Ended != 0 {
		err = by(stateName(l, b.State), b.EndedBy, b.Ended)
	}
	return p, err
}

// withOf are the lots of what is in a batch beside meat, salt and cure; "": none is noted.
func withOf(l tongue, b store.Batch) string {
	lots := make([]string, len(b.Ingredients))
	for i, in := range b.Ingredients {
		lots[i] = lotWords(l, in)
	}
	return strings.Join(lots, "; ")
}

// sumPart shows how the grams come from the weight, and what they come to.
func (t *turn) sumPart(b store.Batch, _ []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("the sums of dose card revision %d, and what they come to", b.Card.Revision)}
	var a Answer
	if err := json.Unmarshal(b.Card.Answer, &a); err != nil || a.BasisG == nil {
		p.Lines = []string{l.say("not noted")}
		return p, nil
	}
	p.Grid = &Grid{Widths: []float64{45, 105, 20, 20}, Head: []string{l.say("to weigh"), l.say("weight × dose = grams"), l.say("exact"), l.say("on the scale")}}
	for _, m := range a.Add {
		p.Grid.Rows = append(p.Grid.Rows, []string{t.itemOf(b, m), t.sumOf(a, m), grams(cure.Gram(m.Grams), 0.001), weighed(mg(cure.Gram(m.WeighG)))})
	}
	return p, nil
}

// itemOf names a thing to weigh.
func (t *turn) itemOf(b store.Batch, m MachineAmount) string {
	if m.Item == "cure" {
		return agentOfCard(t.ours, b.Card)
	}
	for item, code := range itemCodes {
		if code == m.Item {
			return t.ours.say(itemNames[item])
		}
	}
	return m.Item
}

// sumOf is the sum that a thing to weigh comes from; "" where the card keeps none.
func (t *turn) sumOf(a Answer, m MachineAmount) string {
	l := t.ours
	exact := grams(cure.Gram(m.Grams), 0.001)
	switch {
	case m.Item == "cure" && a.NitritePPM != nil && *a.NitritePPM > 0 && m.NitritePct != nil && *m.NitritePct > 0:
		return l.say("%s %s × %s ÷ %s = %s", grams(cure.Gram(*a.BasisG), 1), l.say(a.Basis), ppm(cure.PPM(*a.NitritePPM)), percent(cure.Fraction(*m.NitritePct/100), 3), exact)
	case m.Item == "salt" && a.SaltBasisG != nil && a.SaltPct != nil && a.SaltTotalG != nil && a.SaltCureG != nil:
		sum := l.say("%s %s × %s = %s in all", grams(cure.Gram(*a.SaltBasisG), 1), l.say(a.SaltBasis), percent(cure.Fraction(*a.SaltPct/100), 3), grams(cure.Gram(*a.SaltTotalG), 0.001))
		if *a.SaltCureG > 0 {
			sum += l.say(", less %s in the cure = %s", grams(cure.Gram(*a.SaltCureG), 0.001), exact)
		}
		return sum
	}
	return ""
}

// toldNames say who was told of a step that nobody acted on.
var toldNames = map[string]string{toldBackup: msg("the backup was told"), toldChefs: msg("the chefs were told")}

// approvalPart is who approved what, and whether it still counts.
func (t *turn) approvalPart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("approvals"), Half: true, Grid: &Grid{Widths: []float64{19, 13, 47, 12}, Head: []string{l.say("when"), l.say("who"), l.say("what"), l.say("counts")}}}
	last := uint64(0)
	for _, e := range events {
		if _, ok := e.Body.(store.Approved); ok {
			last = e.Seq
		}
	}
	for _, e := range events {
		a, ok := e.Body.(store.Approved)
		if !ok {
			continue
		}
		who, err := t.called(e.Person)
		if err != nil {
			return p, err
		}
		counts := l.say("void")
		switch {
		case e.Seq == last && b.State == store.StateLapsed:
			counts = stateName(l, b.State)
		case e.Seq == last && b.Approval != nil:
			counts = l.say("yes")
		}
		salt := a.Strength
		if salt == b.Card.Agent {
			salt = agentOfCard(l, b.Card)
		}
		if a.CureMg > 0 {
			salt = weighed(a.CureMg) + " " + salt
		}
		what := l.say("revision %d: %s on %s, law table %s", a.Revision, salt, grams(gramsOf(a.WeightMg), 0), a.Law)
		if a.Own {
			what += " " + l.say("(own)")
		}
		p.Grid.Rows = append(p.Grid.Rows, []string{t.short(e.Happened), who, what + because(a.Why) + t.lateOn(e), counts})
	}
	if len(p.Grid.Rows) == 0 {
		p.Grid, p.Lines = nil, []string{l.say("nobody yet")}
	}
	return p, nil
}

// stepPart is what was due, what was done and what was missed.
func (t *turn) stepPart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("steps"), Half: true, Grid: &Grid{Widths: []float64{25, 19, 19, 28}, Head: []string{l.say("step"), l.say("due"), l.say("done"), l.say("who, remark")}}}
	var ahead []store.Step
	steps := slices.SortedStableFunc(slices.Values(b.Steps), func(a, b store.StepState) int { return cmp.Compare(cmp.Or(a.DoneAt, a.Due), cmp.Or(b.DoneAt, b.Due)) })
	for _, s := range steps {
		if s.Undone {
			continue
		}
		if !s.Done && !s.Dropped && s.Due > t.now {
			ahead = append(ahead, s.Step)
			continue
		}
		who, err := t.called(s.DoneBy)
		if err != nil {
			return p, err
		}
		done := t.short(s.DoneAt)
		if s.Done && s.MissedWhy != "" {
			who += "; " + l.say("first noted as not done: %s", s.MissedWhy)
		}
		switch {
		case s.Dropped:
			done, who = l.say("dropped"), who+because(s.DropWhy)
		case s.MissedWhy != "" && !s.Done:
			done, who = l.say("NOT DONE"), strings.TrimPrefix(who+because(s.MissedWhy), ": ")
		case !s.Done:
			who = l.say("NOT NOTED")
			if s.Told != "" {
				who += "; " + l.say(toldNames[s.Told])
			}
		}
		if s.CoreMilliC != 0 {
			who += ", " + l.say("core %s °C", trimmed(float64(s.CoreMilliC)/1000, 1))
		}
		if s.Unlisted {
			who += ", " + l.say("was not planned")
		}
		for _, e := range events {
			if body, ok := e.Body.(store.StepDone); ok && body.Kind == s.Kind && e.Happened == s.DoneAt && !slices.Contains(b.Undone, e.Seq) {
				who += restsWords(l, body.Evidence) + t.lateOn(e)
			}
		}
		p.Grid.Rows = append(p.Grid.Rows, []string{stepName(l, s.Kind), t.short(s.Due), done, who})
	}
	if len(p.Grid.Rows) == 0 {
		p.Grid, p.Lines = nil, []string{l.say("none yet")}
	}
	if len(ahead) > 0 {
		p.Lines = append(p.Lines, l.say("to come: %s", strings.Join(t.aheadLines(ahead), "; ")))
	}
	return p, nil
}

// aheadLines are steps to come, those of one kind after each other as one.
func (t *turn) aheadLines(steps []store.Step) (lines []string) {
	for i := 0; i < len(steps); {
		j := i
		for j+1 < len(steps) && steps[j+1].Kind == steps[i].Kind {
			j++
		}
		line := stepName(t.ours, steps[i].Kind) + " " + t.short(steps[i].Due)
		if j > i {
			line = t.ours.say("%s %d times, %s to %s", stepName(t.ours, steps[i].Kind), j-i+1, t.short(steps[i].Due), t.short(steps[j].Due))
		}
		lines, i = append(lines, line), j+1
	}
	return lines
}

// recordPart is what stands in none of the other parts; nothing, where there is none of it.
func (t *turn) recordPart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("other entries"), Half: true, Grid: &Grid{Widths: []float64{19, 72}, Head: []string{l.say("when"), l.say("what")}}}
	for _, e := range events {
		if apart(e) || slices.Contains(b.Undone, e.Seq) {
			continue
		}
		words, err := t.entryWords(e)
		if err != nil {
			return p, err
		}
		if words != "" {
			p.Grid.Rows = append(p.Grid.Rows, []string{t.short(e.Happened), struck(l, b, e.Seq, words)})
		}
	}
	if len(p.Grid.Rows) == 0 {
		return SheetPart{}, nil
	}
	return p, nil
}

// entryWords are an event as the record says it, marked where it is late.
func (t *turn) entryWords(e store.Event) (string, error) {
	onTime := e
	onTime.Late = false
	words, err := t.eventWords(t.ours, onTime, t.zone)
	if words == "" || err != nil {
		return "", err
	}
	return words + t.lateOn(e), nil
}

// apart reports whether an event stands in a part of its own.
func apart(e store.Event) bool {
	switch body := e.Body.(type) {
	case store.NotTaken:
		return body.Step >= 0 // beside its step
	case store.Asked, store.Started, store.Approved, store.StepDone, store.Weighed, store.Checked, store.Measured, store.Served:
		return true
	case store.Revised, store.WeightCorrected, store.Corrected, store.ApprovalVoided, store.StepMoved, store.StepDropped, store.Undone:
		return true // changes.go
	case store.Held, store.Incident, store.Released, store.Paused, store.Resumed, store.Thawed:
		return true // stops.go
	case store.OwnerSet, store.BackupSet, store.Acknowledged, store.Escalated:
		return true // care.go
	}
	return false
}

// reviewPart is for the hand of who looks the record through before the batch is released.
func (t *turn) reviewPart(store.Batch, []store.Event) (SheetPart, error) {
	l := t.ours
	return SheetPart{Heading: l.say("review before release, by somebody who made none of these entries"),
		Fields: []PaperField{{Name: l.say("name")}, {Name: l.say("date and time")}, {Name: l.say("signature")}, {Name: l.say("remark")}}}, nil
}
