package bot

import (
	"slices"
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// blankSheet answers "blank sheet": what a batch's record asks for, to fill in by hand on a day
// without a net, this kitchen's jars and recipes, and the grams for usual weights.
func (t *turn) blankSheet() error {
	l := t.ours
	p := t.paper("blank-sheet")
	parts := t.handParts()
	for _, part := range []func() ([]SheetPart, error){t.jarParts, t.recipeParts, t.gramsParts} {
		more, err := part()
		if err != nil {
			return err
		}
		parts = append(parts, more...)
	}
	p.Sheet = &Sheet{
		Letter: t.letter(), Title: l.say("Batch sheet to fill in by hand"),
		Under: l.say("%s, region %s. For a day without the net; type it in afterwards, as late entries.", t.kitchen.Name, t.kitchen.Region),
		Foot:  t.printed(), Page: l.say(msg("page %d of %d")),
		Parts: parts,
	}
	return t.post(Card{Kind: ListCard, Title: t.theirs.say("Blank sheet"), Papers: []Paper{p},
		Next: t.theirs.say("Print a few and keep them where the curing salt is. A new jar, recipe or scale needs a new sheet.")})
}

// handParts are the fields to fill in.
func (t *turn) handParts() []SheetPart {
	l := t.ours
	blank := func(names ...string) (fields []PaperField) {
		for _, n := range names {
			fields = append(fields, PaperField{Name: l.say(n)})
		}
		return fields
	}
	grid := func(empty int, widths []float64, heads ...string) *Grid {
		g := &Grid{Widths: widths, Empty: empty}
		for _, h := range heads {
			g.Head = append(g.Head, l.say(h))
		}
		return g
	}
	return []SheetPart{
		{Lines: []string{
			l.say("Curing salt is weighed on the fine scale, never by the spoon. It is not table salt, and table salt is not curing salt."),
			l.say("Nothing goes onto the meat before a second person has read the scale and the jar, and a chef has signed."),
			l.say("In doubt, or where anything was weighed wrong: write HOLD on the bag, keep it cold, ask. Never add or rinse by guess."),
			l.say("Write down what was read when it was read. A mistake is crossed out once, with initials; a gap stays a gap."),
		}},
		{Heading: l.say("meat"), Fields: blank(msg("product"), msg("recipe, version"), msg("date and time in"), msg("made by"), msg("supplier, lot"), msg("temperature on arrival °C"),
			msg("cut, pieces"), msg("skin, bone"), msg("green weight, trimmed, g"), msg("thickest point, cm"), msg("method"), msg("water or pickle, g"), msg("before / after injection, g"), msg("place, container"))},
		{Heading: l.say("cure"), Fields: blank(msg("curing salt"), msg("% nitrite / % nitrate"), msg("jar, lot"), msg("jar before / after, g"), msg("cure scale, check weight"), msg("meat scale, check weight")),
			Grid: grid(5, []float64{30, 50, 20, 22, 24}, msg("to weigh"), msg("weight × dose = grams"), msg("weighed g"), msg("second reading g"), msg("initials, time"))},
		{Heading: l.say("approval"), Fields: blank(msg("approved by"), msg("date and time"), msg("second reading by"), msg("into the cure at"))},
		{Heading: l.say("steps"), Grid: grid(7, []float64{36, 34, 34, 20, 30}, msg("step"), msg("due"), msg("done"), msg("initials"), msg("remark"))},
		{Heading: l.say("readings"), Grid: grid(6, []float64{32, 22, 16, 20, 36, 20}, msg("when"), msg("weight g"), msg("pH"), msg("°C, of what"), msg("place"), msg("initials"))},
		{Heading: l.say("end"), Fields: blank(msg("hold: who, why, when"), msg("released by, why"), msg("core °C, time"), msg("chilled to °C, time"), msg("allergens"), msg("use by"), msg("went to"), msg("reviewed by, date"))},
	}
}

// usualMeat are the products that a sheet has grams for.
var usualMeat = []grammar.Dose{
	{Cut: "pork belly", Method: cure.Typed(cure.DryRub)},
	{Cut: "pork loin", Method: cure.Typed(cure.DryRub)},
	{Cut: "ground pork", Method: cure.Typed(cure.Ground)},
}

// usualKilos and usualPounds are the weights on it.
var (
	usualKilos  = []float64{0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10}
	usualPounds = []float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20}
)

const gramsPerPound = 453.59237 // exact: international pound, 1959

// gramsParts are the tables of grams, one for each curing salt that the jars hold, or for the
// region's usual one where no jar is registered. Without either the table is empty, to be filled
// in by whoever reads the bag.
func (t *turn) gramsParts() ([]SheetPart, error) {
	l := t.ours
	jars, err := t.saltsInUse()
	if err != nil {
		return nil, err
	}
	if len(jars) == 0 {
		jars = []saltInUse{{}}
	}
	var parts []SheetPart
	for _, j := range jars {
		heading := l.say("grams for usual weights")
		if len(j.jars) > 0 {
			heading = l.say("grams for usual weights: jar %s", strings.Join(j.jars, ", "))
		}
		grid, notes := t.gramsTable(j.dose())
		parts = append(parts, SheetPart{Heading: heading, Lines: notes, Grid: grid})
	}
	return parts, nil
}

// gramsTable is the table of grams of one curing salt, and what has to be known to use it.
func (t *turn) gramsTable(salt grammar.Dose) (*Grid, []string) {
	l := t.ours
	s := t.settings()
	weights, unit, size := usualKilos, "kg", 1000.0
	if t.letter() {
		weights, unit, size = usualPounds, "lb", gramsPerPound
	}
	type column struct {
		names []string
		cells []string
		dose  cure.Dose
	}
	var columns []column
	for _, meat := range usualMeat {
		c := column{names: []string{cutName(l, meat.Cut) + ", " + methodName(l, meat.Method.Value.String())}}
		meat.Jar = salt.Jar
		for _, w := range weights {
			meat.Pieces = []cure.Gram{cure.Gram(w * size)}
			dose, err := compute(meat, s)
			if err != nil || dose.Nitrite == 0 {
				c.cells = nil
				break
			}
			c.dose = dose
			for _, a := range dose.Add {
				if a.Item == cure.CureItem || a.Item == cure.SaltItem {
					c.cells = append(c.cells, grams(a.Weigh, dose.Request.CureScale.Value))
				}
			}
		}
		same := slices.IndexFunc(columns, func(o column) bool { return slices.Equal(o.cells, c.cells) })
		switch {
		case len(c.cells) != 2*len(weights):
		case same >= 0:
			columns[same].names = append(columns[same].names, c.names...)
		default:
			columns = append(columns, c)
		}
	}
	g := &Grid{Widths: []float64{30}, Head: []string{l.say("green weight")}}
	if len(columns) == 0 {
		g.Widths, g.Head, g.Empty = append(g.Widths, 30, 30, 30), append(g.Head, l.say("curing salt"), l.say("salt"), l.say("initials")), 8
		if salt.Jar != "" {
			return g, []string{l.say("No dose of this curing salt for these goods by the usual rules: a chef decides and fills this in.")}
		}
		return g, []string{l.say("This region has no usual curing salt: a chef reads the strength off the bag and fills this in.")}
	}
	notes := []string{l.say("Only for a curing salt of the strength below: read the bag. Another strength is another dose.")}
	for _, c := range columns {
		name := strings.Join(c.names, "; ")
		notes = append(notes, l.say("%s: %s, %s; %s sodium nitrite, %s salt in all on %s", name, agentName(l, c.dose.Request.Agent.Value), strengthOf(l, c.dose.Request.Agent.Value),
			ppm(c.dose.Nitrite), percent(c.dose.Salt, 2), l.say(c.dose.Basis.String())))
		g.Widths = append(g.Widths, 40, 40)
		g.Head = append(g.Head, l.say("%s: curing salt", name), l.say("%s: salt beside it", name))
	}
	for i, w := range weights {
		row := []string{trimmed(w, 1) + " " + unit}
		if unit != "kg" {
			row[0] += " = " + grams(cure.Gram(w*size), 1)
		}
		for _, c := range columns {
			row = append(row, c.cells[2*i], c.cells[2*i+1])
		}
		g.Rows = append(g.Rows, row)
	}
	return g, notes
}
