package bot

import (
	"strings"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// noRecipe answers a name that no recipe has.
func (t *turn) noRecipe(name string) error {
	return t.note(t.theirs.say("There is no recipe %s.", name), t.theirs.say("Type  recipes  to see what there is, or write it:  recipe %s: belly, dry rub, 2.5%% salt, 7 days", name))
}

func (t *turn) noRecipeUnless(err error, name string) error {
	if err != nil {
		return nil
	}
	return t.noRecipe(name)
}

// unusable answers why no dose is made by a version.
func (t *turn) unusable(r store.Recipe, v store.RecipeVersion) error {
	l := t.theirs
	if w := v.Withdrawal; w != nil {
		return t.note(l.say("Recipe %s, version %d is withdrawn: %s. No dose is made by it.", r.Name, v.Number, w.Why), l.say("Type  recipe %s  to see what is in use.", r.Name))
	}
	return t.note(l.say("Recipe %s, version %d is not approved: no dose is made by it.", r.Name, v.Number), l.say("A chef types  approve recipe %s v%d .", r.Name, v.Number))
}

// nameOf is the name of a person; "salthand" where nobody did it.
func (t *turn) nameOf(id string) (string, error) {
	p, ok, err := t.tx.Person(t.kitchen.ID, id)
	if err != nil || !ok {
		return "salthand", err
	}
	return p.Name, nil
}

// recipeFact says by which recipe a dose was made, and what was typed beside it.
func (r byRecipe) fact(t *turn, l tongue) (f Fact, ok bool) {
	if r.typed.Recipe == "" {
		return f, false
	}
	line := l.say("%s, version %d, written by %s", r.recipe.Name, r.version.Number, r.writer)
	if a := r.version.Approval; a != nil {
		line += l.say(", approved by %s on %s", r.chef, day(l, timeOf(a.At), t.zone))
	}
	f = Fact{Label: l.say("recipe"), Lines: []string{line, phraseIn(l, r.version.Phrase)}}
	beside := r.typed
	beside.Recipe, beside.RecipeVersion, beside.Pieces, beside.JustAsking = "", 0, nil, false
	if typed := grammar.CanonicalIn(string(l), beside); typed != "" {
		f.Lines = append(f.Lines, l.say("typed beside it, and used where the recipe says otherwise: %s", typed))
	}
	return f, true
}

// weighsOn is what a formula comes to on a weight, in a line.
func weighsOn(l tongue, d grammar.Dose, w cure.Gram, s Settings) string {
	dose, err := compute(onMeat(d, w), s)
	if err != nil {
		return l.say("%s: no dose as things stand: ask with the weight to see why", kilos(w))
	}
	var items []string
	for _, line := range weighLines(l, dose) {
		items = append(items, line.Amount+" "+line.Item)
	}
	if d.Method.Value == cure.CoverBrine || d.Method.Value == cure.InjectionCover {
		return l.say("%s in as much water: %s", kilos(w), strings.Join(items, ", "))
	}
	return l.say("%s: %s", kilos(w), strings.Join(items, ", "))
}

// writtenCard says what was written, what it comes to, and that it waits for approval.
func (t *turn) writtenCard(l tongue, r store.Recipe, body store.RecipeWritten, d grammar.Dose, dose cure.Dose, s Settings) Card {
	c := Card{Kind: NoteCard, Title: l.say("Recipe %s, version %d, written by %s", r.Name, body.Version, t.person.Name), Lines: []string{grammar.CanonicalIn(string(l), d)}}
	if body.Version > 1 {
		c.Facts = append(c.Facts, Fact{Label: l.say("changed"), Lines: []string{phraseIn(l, r.Newest().Phrase) + " → " + grammar.CanonicalIn(string(l), d)}})
	}
	c.Facts = append(c.Facts, Fact{Label: l.say("for example"), Lines: []string{weighsOn(l, d, shownOn, s)}})
	of := comesTo(l, dose)
	if d.Method.Value == cure.CoverBrine || d.Method.Value == cure.InjectionCover {
		of.Lines = append(of.Lines, l.say("reckoned with as much water as meat: the water is said with each weight"))
	}
	c.Facts = append(c.Facts, of, limitFact(l, dose))
	c.Warnings = warnings(l, dose)
	c.Small = l.say(shortCaution)
	c.Next = l.say("A second person with the chef role types  approve recipe %s . Until then no dose is made by it.", r.Name)
	return c
}

// withdrawnCard says what was withdrawn, and which batches that stops.
func (t *turn) withdrawnCard(l tongue, r store.Recipe, gone []store.RecipeVersion, waiting []store.Batch, why string) Card {
	c := Card{Kind: NoteCard, Title: l.say("Recipe %s is withdrawn by %s, %s: %s. The record stays.", r.Name, t.person.Name, versionList(l, gone), why)}
	for _, b := range waiting {
		c.Lines = append(c.Lines, stoppedLine(l, b))
	}
	for _, v := range gone {
		c.Lines = append(c.Lines, l.say("What was made by it:  where did recipe %s v%d go", r.Name, v.Number))
	}
	c.Next = l.say("No dose is made by it any more. A new version:  recipe %s: …", r.Name)
	return c
}

func versionList(l tongue, vs []store.RecipeVersion) string {
	var names []string
	for _, v := range vs {
		names = append(names, l.say("version %d", v.Number))
	}
	return strings.Join(names, ", ")
}

// stoppedLine is a batch that had not begun when its recipe was withdrawn.
func stoppedLine(l tongue, b store.Batch) string {
	switch b.State {
	case store.StateAsked:
		return l.say("batch %d waits: it can't be approved as it is", b.Number)
	case store.StateApproved:
		return l.say("batch %d: its approval is void", b.Number)
	}
	return l.say("batch %d: what is weighed out is on HOLD", b.Number)
}

// stoppedCard tells the thread of a batch.
func stoppedCard(l tongue, b store.Batch, reason string) Card {
	return Card{Kind: HoldCard, Batch: b.Number, Title: reason, Lines: []string{stoppedLine(l, b) + ". " + l.say("Put no cure in.")},
		Next: l.say("Type the whole dose here, without the recipe, or  make it recipe %s  once a new version is approved, or  never mind .", b.Card.Recipe)}
}

// showRecipe answers "recipe house bacon": its versions, newest first.
func (t *turn) showRecipe(name string) error {
	l := t.theirs
	r, ok, err := t.tx.Recipe(t.kitchen.ID, name)
	if err != nil || !ok {
		if err != nil {
			return err
		}
		return t.noRecipe(name)
	}
	c := Card{Kind: ListCard, Title: l.say("Recipe %s", r.Name)}
	inUse, used := r.InUse()
	s := settingsOf(t.kitchen, t.now)
	for i := len(r.Versions) - 1; i >= 0; i-- {
		v := r.Versions[i]
		state, err := t.versionState(l, v, used && v.Number == inUse.Number)
		if err != nil {
			return err
		}
		f := Fact{Label: l.say("version %d", v.Number), Lines: append([]string{phraseIn(l, v.Phrase), l.say("%s sodium nitrite; region %s", nitriteOf(l, v.NitriteMilliPPM), v.Region)}, state...)}
		if used && v.Number == inUse.Number || !used && i == len(r.Versions)-1 {
			d, err := formulaOf(v)
			if err != nil {
				return err
			}
			f.Lines = append(f.Lines, weighsOn(l, d, shownOn, s))
		}
		c.Facts = append(c.Facts, f)
	}
	c.Next = l.say("Batches by it:  where did recipe %s v%d go", r.Name, r.Newest().Number)
	return t.post(c)
}

// versionState says who wrote, approved and withdrew a version, and when.
func (t *turn) versionState(l tongue, v store.RecipeVersion, inUse bool) (lines []string, err error) {
	say := func(words, id string, at store.Milli, why string) {
		name, problem := t.nameOf(id)
		if err == nil {
			err = problem
		}
		lines = append(lines, l.say(words, name, moment(l, timeOf(at), t.zone))+because(why))
	}
	say(msg("written by %s, %s"), v.By, v.At, "")
	switch a := v.Approval; {
	case a == nil:
		lines = append(lines, l.say("not approved"))
	case a.Own:
		say(msg("approved own by %s, %s"), a.By, a.At, a.Why)
	default:
		say(msg("approved by %s, %s"), a.By, a.At, a.Why)
	}
	if w := v.Withdrawal; w != nil {
		say(msg("withdrawn by %s, %s"), w.By, w.At, w.Why)
	}
	if inUse {
		lines = append(lines, l.say("in use"))
	}
	return lines, err
}

// listRecipes answers "recipes".
func (t *turn) listRecipes() error {
	l := t.theirs
	all, err := t.tx.Recipes(t.kitchen.ID)
	if err != nil {
		return err
	}
	c := Card{Kind: ListCard, Title: l.say("Recipes"), Next: l.say("Type  recipe NAME  to see its versions, or  3.2 kg recipe NAME  for a dose.")}
	var rows []row
	for _, r := range all {
		v, ok := r.InUse()
		if ok {
			rows = append(rows, row{r.Name, l.say("%s, version %d: %s", r.Name, v.Number, phraseIn(l, v.Phrase))})
			continue
		}
		v = r.Newest()
		state := l.say("not approved")
		if v.Withdrawal != nil {
			state = l.say("withdrawn")
		}
		rows = append(rows, row{r.Name, l.say("%s, version %d: %s", r.Name, v.Number, state)})
	}
	if len(all) == 0 {
		c.Title, c.Next = l.say("No recipe is written yet."), l.say("Write one like  recipe house bacon: belly, dry rub, no 1, 2.5% salt, 7 days")
	}
	return t.paged(c, rows, 2*pageOf)
}
