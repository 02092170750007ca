package bot

import (
	"encoding/json"
	"slices"

	"salthand/cure"
	"salthand/store"
)

// limitPart is what the grams come to as they were weighed, beside the limits of the dose card:
// the lines under the sums.
func (t *turn) limitPart(b store.Batch, events []store.Event) (p SheetPart, err error) {
	l := t.ours
	var a Answer
	if err := json.Unmarshal(b.Card.Answer, &a); err != nil || a.BasisG == nil {
		return p, nil // the sums say that there are none
	}
	for _, m := range a.Add {
		if m.Item == "cure" && m.NitritePct != nil && *m.NitritePct > 0 {
			onScale := cure.PPM(m.WeighG * *m.NitritePct / 100 / *a.BasisG * 1e6)
			p.Lines = append(p.Lines, l.say("%s × %s ÷ %s = %s sodium nitrite on %s", weighed(mg(cure.Gram(m.WeighG))), percent(cure.Fraction(*m.NitritePct/100), 3),
				grams(cure.Gram(*a.BasisG), 1), ppm(onScale), l.say(a.Basis)))
		}
	}
	if last := lastCorrected(b, events); last != nil {
		p.Lines = append(p.Lines, l.say("since the weight was corrected: %s nitrite on %s", nitriteOf(l, last.NitriteMilliPPM), grams(gramsOf(last.NewMg), 0)))
	}
	for _, m := range a.Limits {
		p.Lines = append(p.Lines, limitOnPaper(l, m))
	}
	return p, nil
}

// lastCorrected is the newest correction of the weight that stands; nil: there is none.
func lastCorrected(b store.Batch, events []store.Event) (last *store.WeightCorrected) {
	for _, e := range events {
		if body, ok := e.Body.(store.WeightCorrected); ok && !slices.Contains(b.Undone, e.Seq) {
			last = &body
		}
	}
	return last
}

// limitOnPaper is a figure of a dose card beside a limit, with the limit's source.
func limitOnPaper(l tongue, m MachineLimit) string {
	name, what := l.say(m.Agent), limitKind(l, m.Kind)
	if m.Got == nil {
		return l.say("%s: %s %s ppm; a recipe can't tell (%s)", name, what, trimmed(m.PPM, 2), m.Source)
	}
	return l.say("%s: %s, %s %s ppm: %s (%s)", name, ppm(cure.PPM(*m.Got)), what, trimmed(m.PPM, 2), verdictOnPaper(l, m.Verdict), m.Source)
}

// verdictOnPaper words a verdict as the record keeps it.
func verdictOnPaper(l tongue, verdict string) string {
	switch verdict {
	case cure.At.String():
		return verdictWords(l, cure.At)
	case cure.BelowMin.String():
		return verdictWords(l, cure.BelowMin)
	case "not verified":
		return l.say("over, not confirmed")
	}
	return l.say(verdict)
}
