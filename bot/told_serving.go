package bot

import (
	"salthand/grammar"
	"salthand/store"
)

// servingTellers answer what goes out, and to whom.
var servingTellers = map[grammar.Situation]func(*telling){
	grammar.Greened:     (*telling).greened,
	grammar.BrineAgain:  (*telling).brineAgain,
	grammar.GuestAtRisk: (*telling).guestAtRisk,
	grammar.AirlessSale: (*telling).airlessSale,
	grammar.MayServe:    (*telling).mayServe,
}

// greened answers meat that has gone green.
func (t *telling) greened() {
	l := t.l
	t.hold(t.held())
	t.keepCold()
	t.line(l.say("Green can be far too much nitrite, spoilage, or mould; a rainbow on a cut face alone is often only light on the muscle. Nobody can tell from a line of text: show it to the chef."))
	t.line(l.say("Check the dose first: grams on the scale, which cure, on how much meat. Don't add cure, and don't rinse it away: nitrite that is in stays in."))
	t.line(l.say("With slime, gas or a bad smell it is spoilage: likely to be discarded. No smell proves nothing."))
	t.asks(l.say("How many grams of which cure went on how much meat, and how warm was it kept?"))
}

// brineAgain answers a brine that is to be used for another piece.
func (t *telling) brineAgain() {
	l := t.l
	t.says("answer", l.say("No: make it new. A brine that held raw meat is thrown away."))
	t.line(l.say("Nobody knows its strength any more: the meat took cure and salt out of it, and gave juice to it. A full dose on top of it can be far too much, none can be too little."))
	t.line(l.say("It carries the first piece's bacteria, and its allergens."))
	t.asks(l.say("What goes in next, how much meat and how much water? Type it, like  2.5 kg brisket, brine 2 l, 7 days ."))
}

// guestAtRisk answers what a guest may eat who is more at risk than others.
func (t *telling) guestAtRisk() {
	l := t.l
	t.hold(l.say("HOLD: don't serve it to this guest. That it is fit for them can't be confirmed from here."))
	t.line(l.say("Raw cured, dried and cold smoked goods aren't cooked: listeria and toxoplasma are the question. Health services commonly tell pregnant women, small children, the old and the ill to leave them (from memory)."))
	t.line(l.say("Curing, salt or a pH is no proof for such a guest. Offer something cooked, hot from the kitchen."))
	t.asks(l.say("Tell the chef and the guest what it is: raw, cold smoked or cooked through?"))
}

// airlessSale answers vacuum packs that are to be sold.
func (t *telling) airlessSale() {
	l := t.l
	t.hold(l.say("HOLD: no airless pack for sale before the plan and the authority say so."))
	t.line(l.say("Packing without air is a special process, as curing is: as a rule it wants a variance or a written HACCP plan (FDA Food Code 3-502.11 and 3-502.12, seen second-hand). Selling to shops or over a border is another licence again."))
	t.line(l.say("Without air botulism is the question: the plan names the barriers (salt and nitrite, acid, drying, cold), the days and the label. Cold smoked goods are not cooked."))
	t.line(l.say("Keep it at or below 5 °C (41 °F), with the date and the use-by of the plan."))
	t.asks(l.say("Which product is it, is it cooked, and what does the plan say of packing?"))
}

// mayServe answers whether a batch is ready, or may go out: that is never the bot's word.
func (t *telling) mayServe() {
	t.says("answer", t.l.say("Whether it goes out is the word of the chef and of the site's plan, never mine."))
	t.line(t.l.say("What is not noted was not seen: ask who did it."))
}

// standingFor adds to that how far the batch is in the record, and what stands in its way there.
func (t *turn) standingFor(l tongue, b store.Batch, f *figured) {
	next := nextStep(b, t.now)
	switch {
	case b.Ended != 0 && b.State != store.StateFinished:
		f.card.Title = l.say("No: batch %d is %s. %s", b.Number, stateName(l, b.State), f.card.Title)
	case b.Held():
		f.card.Kind, f.answer.Kind = HoldCard, "hold"
		f.card.Title = l.say("HOLD on batch %d: it is not served. %s", b.Number, f.card.Title)
	case b.State != store.StateFinished && b.State != store.StateChilled:
		f.card.Title = l.say("Not by the record: batch %d is %s. %s", b.Number, stateName(l, b.State), f.card.Title)
	}
	lines := []string{t.placeLine(l, b)}
	for _, h := range b.Holds {
		lines = append(lines, t.holdLine(l, h))
	}
	for _, missed := range missedSteps(l, b, t.now, t.zone) {
		lines = append(lines, l.say("not noted: %s", missed))
	}
	if next != nil && b.Ended == 0 {
		lines = append(lines, nextWords(l, next, t.zone))
	}
	lines = append(lines, heatOf(l, b))
	f.card.Batch = b.Number
	f.card.Facts = append(f.card.Facts, Fact{Label: l.say("in the record"), Lines: lines})
	if b.Ended == 0 {
		f.card.Next = l.say("What is still to come:  batch %d: steps", b.Number)
	}
}
