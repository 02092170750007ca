package bot

import (
	"math"
	"slices"
	"strings"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// jarParts are this kitchen's jars on a blank sheet: what is in each, how much of it goes on a
// kilogram, and which are not to be used.
func (t *turn) jarParts() ([]SheetPart, error) {
	l := t.ours
	jars, err := t.tx.Jars(t.kitchen.ID)
	if err != nil {
		return nil, err
	}
	p := SheetPart{Heading: l.say("jars of this kitchen")}
	if len(jars) == 0 {
		p.Lines = []string{l.say("No jar is registered: a chef reads the bag, and writes kind, strength and lot above.")}
		return []SheetPart{p}, nil
	}
	p.Lines = []string{l.say("Read the jar in your hand: where it says anything else than this, write HOLD and ask a chef. Grams are of curing salt and of plain salt beside it, for a kilogram of meat.")}
	p.Grid = &Grid{Widths: []float64{16, 50, 26}, Head: []string{l.say("jar"), l.say("holds"), l.say("lot")}}
	for _, m := range usualMeat {
		p.Grid.Widths, p.Grid.Head = append(p.Grid.Widths, 25), append(p.Grid.Head, l.say("%s: g a kg", cutName(l, m.Cut)+", "+methodName(l, m.Method.Value.String())))
	}
	p.Grid.Widths, p.Grid.Head = append(p.Grid.Widths, 46), append(p.Grid.Head, l.say("mind"))
	for _, j := range jars {
		f := j.Current()
		mind, err := t.mindJar(j)
		if err != nil {
			return nil, err
		}
		label := f.Label
		label.Lot = ""
		row := []string{j.Name, labelWords(l, label), noted(l, f.Label.Lot)}
		for _, m := range usualMeat {
			row = append(row, t.perKilo(j, mind.barred, m))
		}
		p.Grid.Rows = append(p.Grid.Rows, append(row, strings.Join(mind.words, ". ")))
	}
	return []SheetPart{p}, nil
}

// mindOf is what has to be minded of a jar. Of a barred one there are no grams.
type mindOf struct {
	barred bool
	words  []string
}

// mindJar finds out what has to be minded of a jar.
func (t *turn) mindJar(j store.Jar) (m mindOf, err error) {
	l := t.ours
	f := j.Current()
	if why := unusable(f); why != "" {
		m.barred = true
		m.words = append(m.words, l.say("DO NOT USE: %s", l.say(unusableNames[why]))+because(f.Why))
	}
	held, err := t.heldFor(j)
	if err != nil {
		return m, err
	}
	if held != "" {
		m.barred = true
		m.words = append(m.words, l.say("DO NOT USE: %s", l.say("HOLD")+because(held)))
	}
	if kind := agentOfLabel(f.Label).Kind; kind == cure.PureNitrite || kind == cure.PureNitrate || kind == cure.Saltpetre {
		m.barred = true
		m.words = append(m.words, l.say("UNDILUTED: never onto meat, never by this sheet. A chef only"))
	}
	switch f.Label.Dyed {
	case "undyed":
		m.words = append(m.words, l.say("UNDYED: it looks like table salt. NOT FOR SEASONING"))
	case "":
		m.words = append(m.words, l.say("dyed or not: not noted"))
	}
	return m, nil
}

// heldFor is why batches are still held for what is in a jar; "": none is.
func (t *turn) heldFor(j store.Jar) (string, error) {
	events, err := t.tx.Trail(t.kitchen.ID, "jar "+j.Name, 0, 0)
	if err != nil {
		return "", err
	}
	for _, e := range events {
		body, ok := e.Body.(store.Incident)
		if !ok || !strings.EqualFold(body.Subject, "jar "+j.Name) || e.Happened < j.Current().At {
			continue
		}
		for _, h := range body.Held {
			b, _, err := t.tx.Batch(t.kitchen.ID, h.Batch)
			if err != nil {
				return "", err
			}
			if b.Open() && slices.ContainsFunc(b.Holds, func(o store.Hold) bool { return o.Incident == body.Number }) {
				return body.Why, nil
			}
		}
	}
	return "", nil
}

// perKiloOn is the weight that grams a kilogram are reckoned on: large enough that the scale
// takes nothing away from them.
const perKiloOn cure.Gram = 10_000

// perKilo is how much of a jar, and of salt beside it, goes on a kilogram of a product by the
// usual rules; "–" where they give no dose of it.
func (t *turn) perKilo(j store.Jar, barred bool, meat grammar.Dose) string {
	if barred {
		return t.ours.say("DO NOT USE")
	}
	meat.Jar = j.Name
	dose, err := compute(onMeat(meat, perKiloOn), t.settings())
	if err != nil || dose.Nitrite == 0 && dose.Nitrate == 0 {
		return "–"
	}
	return strings.Join(t.perKiloOf(dose, t.ours.say("curing salt")), " + ")
}

// perKiloOf are the things to weigh of a dose on perKiloOn, for a kilogram; salt names the curing
// salt. They are cut, not
// rounded, after two decimals: what is multiplied by hand must not come out over a limit.
func (t *turn) perKiloOf(d cure.Dose, salt string) (parts []string) {
	for _, a := range d.Add {
		g := cure.Gram(math.Floor(float64(a.Exact*1000/perKiloOn)*100+1e-6) / 100)
		switch a.Item {
		case cure.CureItem:
			parts = append(parts, grams(g, 0.01)+" "+salt)
		case cure.WaterItem, cure.BoxSaltItem:
		default:
			parts = append(parts, grams(g, 0.01)+" "+t.ours.say(itemNames[a.Item]))
		}
	}
	return parts
}

// recipeParts are this kitchen's recipes on a blank sheet: nothing, where there is none that may
// be used.
func (t *turn) recipeParts() ([]SheetPart, error) {
	l := t.ours
	recipes, err := t.tx.Recipes(t.kitchen.ID)
	if err != nil {
		return nil, err
	}
	p := SheetPart{Heading: l.say("recipes of this kitchen, approved versions"), Grid: &Grid{Widths: []float64{34, 14, 72, 66},
		Head: []string{l.say("recipe"), l.say("version"), l.say("says"), l.say("for a kilogram of meat")}}}
	for _, r := range recipes {
		v, ok := r.InUse()
		if !ok {
			continue
		}
		formula, err := formulaOf(v)
		if err != nil {
			return nil, err
		}
		dose, err := compute(onMeat(formula, perKiloOn), settingsOf(t.kitchen, t.now))
		agent := dose.Request.Agent.Value
		amounts := strings.Join(t.perKiloOf(dose, agentName(l, agent)+" ("+strengthOf(l, agent)+")"), ", ")
		if err != nil || dose.Basis != cure.GreenMeat && dose.Basis != cure.GreenMeatLessSkin {
			amounts = l.say("by weight of meat and water: a chef reckons it")
		}
		p.Grid.Rows = append(p.Grid.Rows, []string{r.Name, l.say("version %d", v.Number), phraseIn(l, v.Phrase), amounts})
	}
	if len(p.Grid.Rows) == 0 {
		return nil, nil
	}
	return []SheetPart{p}, nil
}

// saltInUse is a curing salt with the jars that hold it.
type saltInUse struct {
	label store.Label // without what tells one jar of it from another
	jars  []string
}

// dose is a phrase that takes the salt; the region's usual one, where no jar is named.
func (s saltInUse) dose() (d grammar.Dose) {
	if len(s.jars) > 0 {
		d.Jar = s.jars[0]
	}
	return d
}

// saltsInUse are the curing salts that may be taken from jars, each once.
func (t *turn) saltsInUse() (salts []saltInUse, err error) {
	jars, err := t.tx.Jars(t.kitchen.ID)
	if err != nil {
		return nil, err
	}
	for _, j := range jars {
		mind, err := t.mindJar(j)
		if err != nil {
			return nil, err
		}
		if mind.barred {
			continue
		}
		f := j.Current().Label
		label := store.Label{AgentKind: f.AgentKind, NitriteMilliPPM: f.NitriteMilliPPM, NitrateMilliPPM: f.NitrateMilliPPM}
		i := slices.IndexFunc(salts, func(s saltInUse) bool { return s.label == label })
		if i < 0 {
			i, salts = len(salts), append(salts, saltInUse{label: label})
		}
		salts[i].jars = append(salts[i].jars, j.Name)
	}
	return salts, nil
}
