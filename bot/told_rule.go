package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// ruleTellers answer what is asked about records, plans and the law.
var ruleTellers = map[grammar.Situation]func(*telling){
	grammar.MadeUpRecord: (*telling).madeUpRecord,
	grammar.Inspection:   (*telling).inspection,
	grammar.Allergens:    (*telling).allergens,
	grammar.LawAsked:     (*telling).lawAsked,
}

// madeUpRecord refuses to write down what nobody took.
func (t *telling) madeUpRecord() {
	t.says("refusal", t.l.say("No: I write down no reading that nobody took, and no step that nobody did."))
	t.line(t.l.say("What is written stays: a slip is corrected by a new entry, with the old value, the new one, who and why."))
	t.line(t.l.say("A gap stays a gap: enter it as not taken, with the reason:  walk-in 2 not taken sat, sun: phone was dead , in a batch's thread  turn not done sat: nobody in ."))
	t.line(t.l.say("Where there is evidence, a probe's history or a photo, it can be entered late: stamped now, marked late, with who enters it:  walk-in 2 3.1 c sat 7:00 by probe log ."))
	t.line(t.l.say("A check that was missed wants a look at the food and a corrective action, and those are written down too."))
	t.asks(t.l.say("Is there a probe that logged these days, and who can read it out?"))
}

// The bellies that show that a recipe in per cent covers every weight.
var exampleBellies = []cure.Gram{10 * 453.59237, 15 * 453.59237} // 10 and 15 lb; NIST Handbook 44: 1 lb = 453.59237 g

// inspection answers questions about a plan or a variance.
func (t *telling) inspection() {
	t.says("answer", t.l.say("Curing is a special process: as a rule it wants a variance and a written HACCP plan before it starts, also for the restaurant's own use. Your local authority decides."))
	t.line(t.l.say("Source: FDA Food Code 3-502.11 and 8-201.14, seen second-hand; states and cities differ."))
	t.line(t.l.say("One recipe in per cent of the green weight covers every weight; the log of each batch has its own grams."))
	for _, w := range exampleBellies {
		t.said.Meat.Cut, t.said.Meat.Pieces = "pork belly", []cure.Gram{w}
		if right, ok := t.usualDose(cure.No1); ok {
			t.fact(t.l.say("for example"), t.l.say("0.25 %% of %s is %s no. 1", grams(w, 1), grams(right, 0.1)))
		}
	}
	t.said.Meat.Pieces = nil
	t.line(t.l.say("The pack: product and ingredients with allergens, flow chart with its control points, formula with the most ppm, method and days by thickness, limits, checks and who does them, what is done when one is missed, training, labels, the record of each batch."))
	t.asks(t.l.say("Which products, and which authority? Ask it for its form before you start."))
}

// allergens answers what an allergic guest may eat: nothing that can't be shown.
func (t *telling) allergens() {
	t.hold(t.l.say("HOLD: don't serve it to this guest. What is in it can't be confirmed from here."))
	t.line(t.l.say("Only the labels of the ingredient lots in that very batch answer this: the rub (mustard, celery), soy or Worcester sauce (wheat, soy, fish), milk powder as binder, the carrier of a starter, celery powder as cure, the casing."))
	t.line(t.l.say("A recipe is no proof. Unknown or unlabelled means: do not serve."))
	t.asks(t.l.say("Which batch is on the board now, and who has the labels of its lots?"))
}

// lawAsked answers whether a use of a cure keeps to the limit.
func (t *telling) lawAsked() {
	if t.said.Meat.Cut == "" {
		t.said.Meat.Cut = cutOf[t.said.Product]
	}
	if t.said.Meat.Cut == "" {
		t.said.Meat.Cut = "boneless ham"
		t.line(t.l.say("Nobody said which product: it is compared as ham, with the general figure. Say what it is: other products have other figures."))
	}
	if len(t.said.Meat.Pieces) == 0 {
		t.said.Meat.Pieces = []cure.Gram{oneKilo}
	}
	amounts := t.measured()
	if len(amounts) == 0 {
		t.lawByMethod()
		return
	}
	found, ok := t.checked(t.checkOf(amounts[:1]))
	if !ok {
		t.judged(found, false)
		return
	}
	verdict := t.l.say("%s as sodium nitrite. The law's figure, its unit and its source stand below: compare like with like.", ranged(t.l, found.Nitrite))
	if found.Held() {
		t.hold(verdict)
	} else {
		t.says("check", verdict)
	}
	t.fact(t.l.say("as ion"), t.l.say("%s as nitrite ion: times 0.66679", ppm(cure.PPM(float64(found.Nitrite.Likely)*ionShare))))
	t.line(t.l.say("Check the category, the exact text, the limit on what is left in the food, exceptions for traditional products, and the true strength of your bag."))
	t.asks(t.l.say("Which product is it, and what does the bag's certificate say?"))
}

// lawByMethod lists the law's figures for a product, by how the cure gets in.
func (t *telling) lawByMethod() {
	t.says("answer", t.l.say("It depends on how the cure gets in. The law's figures, beside what is proposed here:"))
	d := t.said.Meat
	for _, m := range []cure.Method{cure.DryRub, cure.CoverBrine, cure.Injection} {
		d.Method = cure.Typed(m)
		switch m {
		case cure.CoverBrine:
			d.Water = cure.Typed(t.said.Weight())
		case cure.Injection:
			d.Water = cure.Given[cure.Gram]{}
		}
		dose, err := compute(d, t.s)
		if err != nil {
			continue
		}
		t.fact(methodName(t.l, m.String()), limitFact(t.l, dose).Lines...)
	}
	t.line(t.l.say("A target is no limit: the figure proposed stands under the limit, and a limit counts only on its own basis."))
	t.asks(t.l.say("How is it cured, rubbed, in a brine or pumped, and how much meat?"))
}

// ionShare is the share of nitrite ion in sodium nitrite: 46.0055 of 68.9953, standard atomic
// weights.
const ionShare = 0.66679
