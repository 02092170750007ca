package bot

import (
	"errors"
	"fmt"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// A recipe is held against the limits on weights that no scale rounds, and shown on one that
// a cook can picture.
const (
	checkedOn cure.Gram = 10_000
	shownOn   cure.Gram = 3200
)

// byRecipe is a dose phrase with the clauses of the recipe that it names.
type byRecipe struct {
	typed   grammar.Dose // as it was typed, with the version
	full    grammar.Dose // and with what the recipe says
	recipe  store.Recipe
	version store.RecipeVersion
	writer  string // names
	chef    string
}

// withRecipe fills in what the recipe of a phrase says. usable: its version has to be one that
// doses may be made by; where it is not, that is answered and ok is false.
func (t *turn) withRecipe(d grammar.Dose, usable bool) (r byRecipe, ok bool, err error) {
	r = byRecipe{typed: d, full: d}
	if d.Recipe == "" {
		return r, true, nil
	}
	l := t.theirs
	r.recipe, ok, err = t.tx.Recipe(t.kitchen.ID, d.Recipe)
	if err != nil {
		return r, false, err
	}
	if !ok {
		return r, false, t.noRecipe(d.Recipe)
	}
	if d.RecipeVersion == 0 {
		if r.version, ok = r.recipe.InUse(); !ok {
			return r, false, t.note(l.say("No version of recipe %s may be used: none is approved, or all are withdrawn.", r.recipe.Name), l.say("Type  recipe %s  to see them.", r.recipe.Name))
		}
	} else if r.version, ok = r.recipe.Numbered(d.RecipeVersion); !ok {
		return r, false, t.note(l.say("Recipe %s has no version %d.", r.recipe.Name, d.RecipeVersion), l.say("Type  recipe %s  to see them.", r.recipe.Name))
	}
	if usable && !r.version.Usable() {
		return r, false, t.unusable(r.recipe, r.version)
	}
	formula, err := formulaOf(r.version)
	if err != nil {
		return r, false, err
	}
	r.typed.Recipe, r.typed.RecipeVersion = r.recipe.Name, r.version.Number
	r.full = laid(formula, d)
	if r.writer, err = t.nameOf(r.version.By); err == nil && r.version.Approval != nil {
		r.chef, err = t.nameOf(r.version.Approval.By)
	}
	return r, err == nil, err
}

// formulaOf is what a version of a recipe says, as from a recipe.
func formulaOf(v store.RecipeVersion) (grammar.Dose, error) {
	p, _ := grammar.Parse(v.Phrase, grammar.Setting{}) // one without a cut is no phrase of its own
	d, ok := p.Command.(grammar.Dose)
	if !ok {
		p, err := grammar.Parse("make it "+v.Phrase, grammar.Setting{Thread: true})
		a, amends := p.Command.(grammar.Amend)
		if !amends {
			return d, errors.Join(fmt.Errorf("bot: recipe version %d can't be read: %q", v.Number, v.Phrase), err)
		}
		d = a.Clauses
	}
	return fromRecipe(d), nil
}

// fromRecipe marks every value of a dose as one that a recipe gave.
func fromRecipe(d grammar.Dose) grammar.Dose {
	marked(&d.Method)
	marked(&d.Days)
	marked(&d.Nitrite)
	marked(&d.Nitrate)
	marked(&d.Rate)
	marked(&d.Target)
	marked(&d.Salt)
	marked(&d.Sugar)
	marked(&d.Ascorbate)
	marked(&d.Thickness)
	marked(&d.SkinOn)
	marked(&d.Heated)
	marked(&d.Temperature)
	marked(&d.Pump)
	return d
}

func marked[T any](g *cure.Given[T]) {
	if g.Set() {
		g.Origin = cure.FromRecipe
	}
}

// laid is a formula with what was typed beside its name over it.
func laid(formula, typed grammar.Dose) grammar.Dose {
	clauses := typed
	clauses.Recipe, clauses.RecipeVersion = "", 0
	full := formula.With(grammar.Amend{Clauses: clauses})
	full.JustAsking, full.Recipe, full.RecipeVersion = typed.JustAsking, "", 0
	return full
}

// cureFrom is where the curing salt of a dose comes from.
func (r byRecipe) cureFrom() cure.Origin {
	if r.typed.Recipe != "" && r.typed.Kind == cure.NoAgent && r.typed.Jar == "" {
		return cure.FromRecipe
	}
	return cure.Asked
}

// writeRecipe keeps a recipe, or a new version of one, that a second person approves.
func (t *turn) writeRecipe(c grammar.WriteRecipe) error {
	l := t.theirs
	s := settingsOf(t.kitchen, t.now)
	dose, err := compute(onMeat(c.Clauses, checkedOn), s)
	if err != nil {
		refused := func(l tongue) figured { return refusedRecipe(l, c, s, err) }
		return t.reply(refused(l), refused)
	}
	r, known, err := t.tx.Recipe(t.kitchen.ID, c.Name)
	if err != nil {
		return err
	}
	if !known {
		r = store.Recipe{Name: c.Name}
	}
	phrase := grammar.Canonical(c.Clauses)
	body := store.RecipeWritten{Name: r.Name, Version: uint32(len(r.Versions) + 1), Phrase: phrase,
		NitriteMilliPPM: int64(float64(dose.Nitrite)*1000 + 0.5), Region: string(s.Region.Value), Law: cure.LawVersion}
	for _, w := range dose.Cautions {
		body.Hold = body.Hold || w.Level == cure.Hold
	}
	if known && r.Newest().Phrase == phrase && r.Newest().Withdrawal == nil {
		return t.note(l.say("Nothing changes: recipe %s, version %d says the same.", r.Name, r.Newest().Number))
	}
	if err := t.append(0, body); err != nil {
		return err
	}
	return t.post(t.both(func(l tongue) Card { return t.writtenCard(l, r, body, c.Clauses, dose, s) }))
}

// onMeat is a formula on a weight of meat, in as much water where it is a brine: a recipe has
// no weights of its own.
func onMeat(d grammar.Dose, w cure.Gram) grammar.Dose {
	d.Pieces = []cure.Gram{w}
	switch d.Method.Value {
	case cure.CoverBrine:
		d.Water = cure.Given[cure.Gram]{Value: w, Origin: cure.FromRecipe}
	case cure.InjectionCover:
		d.Cover = cure.Given[cure.Gram]{Value: w, Origin: cure.FromRecipe}
	}
	return d
}

// refusedRecipe is the stop or the question that a recipe meets when it is written.
func refusedRecipe(l tongue, c grammar.WriteRecipe, s Settings, err error) figured {
	f := asked(l, "recipe", c, s)
	var missing *cure.Missing
	if errors.As(err, &missing) && missing.What == "strength" { // the answer names the cure anew
		kind := c.Clauses.Kind
		c.Clauses.Kind, c.Clauses.Nitrite, c.Clauses.Nitrate = cure.NoAgent, cure.Given[cure.Fraction]{}, cure.Given[cure.Fraction]{}
		f = asked(l, "recipe", c, s)
		for _, clause := range strengthChoices(kind) {
			f.choices = append(f.choices, grammar.Choice{Label: clause, Phrase: f.answer.Phrase + ", " + clause})
		}
	}
	f = f.refused(err, c.Clauses)
	for _, choice := range f.choices {
		f.card.Choices = append(f.card.Choices, choice.Label)
	}
	return f
}

// approveRecipe binds a chef's approval to a version that was on show when it was typed.
func (t *turn) approveRecipe(c grammar.ApproveRecipe) error {
	l := t.theirs
	r, ok, err := t.tx.Recipe(t.kitchen.ID, c.Name)
	if err != nil || !ok {
		return errors.Join(err, t.noRecipeUnless(err, c.Name))
	}
	v := r.Newest()
	switch {
	case c.Version != 0:
		if v, ok = r.Numbered(c.Version); !ok {
			return t.note(l.say("Recipe %s has no version %d.", r.Name, c.Version), l.say("Type  recipe %s  to see them.", r.Name))
		}
	case v.At > milli(t.m.At):
		return t.note(l.say("Version %d of recipe %s came in meanwhile: %s", v.Number, r.Name, phraseIn(l, v.Phrase)), l.say("Type  approve recipe %s v%d  to approve that one.", r.Name, v.Number))
	}
	own := v.By == t.person.ID || v.Via != "" && v.Via == t.m.Via
	writer, _, err := t.tx.Person(t.kitchen.ID, v.By)
	switch {
	case err != nil:
		return err
	case v.Withdrawal != nil:
		return t.unusable(r, v)
	case v.Approval != nil:
		return t.note(l.say("Version %d of recipe %s is approved already.", v.Number, r.Name))
	case !t.person.Has(roleChef) && !writer.Has(roleChef):
		return t.note(l.say("%s approves only what a chef wrote.", t.person.Name), l.say("A chef types  approve recipe %s .", r.Name))
	case own && t.kitchen.Settings[setOwnApproval] != "on":
		return t.note(l.say("%s wrote version %d of recipe %s and can't approve it: a second person does.", t.person.Name, v.Number, r.Name), l.say("A chef types  approve recipe %s .", r.Name))
	case v.Hold && c.Why == "":
		return t.note(l.say("Recipe %s, version %d carries a HOLD.", r.Name, v.Number), l.say("To approve it all the same, say why:  approve recipe %s: reason .", r.Name))
	}
	if err := t.append(0, store.RecipeApproved{Name: r.Name, Version: v.Number, Own: own, Why: c.Why}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		words := l.say("Recipe %s, version %d is approved by %s.", r.Name, v.Number, t.person.Name)
		if own {
			words += " " + l.say("Approved own.")
		}
		return noteCard(words, l.say("Doses are made by it:  3.2 kg recipe %s", r.Name))
	})
}

// withdrawRecipe takes versions out of use, and the approvals that rested on them back.
func (t *turn) withdrawRecipe(c grammar.WithdrawRecipe) error {
	l := t.theirs
	r, ok, err := t.tx.Recipe(t.kitchen.ID, c.Name)
	if err != nil || !ok {
		return errors.Join(err, t.noRecipeUnless(err, c.Name))
	}
	if c.Why == "" {
		return t.note(l.say("Why is the recipe withdrawn?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	}
	var gone []store.RecipeVersion
	for _, v := range r.Versions {
		if v.Withdrawal == nil && (c.Version == 0 || c.Version == v.Number) {
			gone = append(gone, v)
		}
	}
	if len(gone) == 0 {
		return t.note(l.say("Recipe %s has no such version in use.", r.Name), l.say("Type  recipe %s  to see them.", r.Name))
	}
	var waiting []store.Batch
	for _, v := range gone {
		if err := t.append(0, store.RecipeWithdrawn{Name: r.Name, Version: v.Number, Why: c.Why}); err != nil {
			return err
		}
		stopped, err := t.stopWaiting(r.Name, v.Number, c.Why)
		if err != nil {
			return err
		}
		waiting = append(waiting, stopped...)
	}
	return t.announce(func(l tongue) Card { return t.withdrawnCard(l, r, gone, waiting, c.Why) })
}

// stopWaiting stops the batches by a version that have not begun: an approval is taken back,
// what is weighed out is held, and each thread is told.
func (t *turn) stopWaiting(name string, version uint32, why string) (stopped []store.Batch, err error) {
	for _, state := range []store.State{store.StateAsked, store.StateApproved, store.StateWeighed, store.StateChecked} {
		found, err := t.all(store.Query{Recipe: name, Version: version, State: state})
		if err != nil {
			return nil, err
		}
		for _, b := range found {
			reason := t.ours.say("recipe %s, version %d is withdrawn: %s", name, version, why)
			switch state {
			case store.StateApproved:
				err = t.voidApproval(b.Number, reason)
			case store.StateWeighed, store.StateChecked:
				err = t.append(b.Number, store.Held{Why: reason})
			}
			if err != nil {
				return nil, err
			}
			at, err := placeOfBatch(b)
			if err != nil {
				return nil, err
			}
			if err := t.postAt(at, stoppedCard(t.ours, b, reason)); err != nil {
				return nil, err
			}
			stopped = append(stopped, b)
		}
	}
	return stopped, nil
}

// withdrawn is the version of a batch's recipe, where that was withdrawn.
func (t *turn) withdrawn(b store.Batch) (bool, error) {
	if b.Card.Recipe == "" {
		return false, nil
	}
	r, _, err := t.tx.Recipe(t.kitchen.ID, b.Card.Recipe)
	v, ok := r.Numbered(b.Card.RecipeVersion)
	return ok && v.Withdrawal != nil, err
}
