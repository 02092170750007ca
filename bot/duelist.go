package bot

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"salthand/store"
)

// dueGroup is what stands in one line of a due list: a step of one batch or of several of the
// same cut, or the times that it was missed.
type dueGroup struct {
	kind        string // of the step; "": a lapse
	words       string // of a lapse
	cut         string
	first, last store.Milli
	times       int
	held        bool
	batches     []uint64
}

// dueGroups gathers what falls due: what was missed again and again of a batch is one, and
// batches of one cut that stand alike are one. The order is that of their first times.
func (t *turn) dueGroups(l tongue, entries []store.DueEntry, pass func(store.Batch) bool) (groups []dueGroup, err error) {
	type missed struct {
		batch uint64
		kind  string
	}
	seen := map[missed]int{}
	for _, d := range entries {
		b, ok, err := t.tx.Batch(t.kitchen.ID, d.Batch)
		if err != nil {
			return nil, err
		}
		if !ok || !pass(b) || d.What == store.DueStep && !listedAsDue(b, d.Step) {
			continue
		}
		g := dueGroup{kind: d.Kind, cut: b.Card.Cut, first: d.At, last: d.At, times: 1, held: b.Held(), batches: []uint64{b.Number}}
		if d.What == store.DueLapse {
			g.kind, g.words = "", lapseWords(l, b)
		}
		key := missed{b.Number, g.kind}
		if i, again := seen[key]; again && g.overdue(t.now) {
			groups[i].last, groups[i].times = d.At, groups[i].times+1
			continue
		}
		seen[key] = len(groups)
		groups = append(groups, g)
	}
	return alike(groups), nil
}

// near tells whether two times are as good as one for whoever goes round.
func near(a, b store.Milli) bool { return (a - b).Duration().Abs() <= lateAfter }

// alike puts the groups together that differ in their batch alone, due within minutes.
func alike(groups []dueGroup) (out []dueGroup) {
	for _, g := range groups {
		i := slices.IndexFunc(out, func(o dueGroup) bool {
			return o.kind == g.kind && o.words == g.words && o.cut == g.cut && o.times == g.times && o.held == g.held &&
				near(o.first, g.first) && near(o.last, g.last)
		})
		if i < 0 {
			out = append(out, g)
		} else {
			out[i].batches = append(out[i].batches, g.batches...)
		}
	}
	for _, g := range out {
		slices.Sort(g.batches)
	}
	slices.SortStableFunc(out, func(a, b dueGroup) int { return cmp.Compare(a.first, b.first) })
	return out
}

// overdue tells whether its time is past. A lapse is done with when it is.
func (g dueGroup) overdue(now store.Milli) bool { return g.kind != "" && now-g.first >= overdueAfter }

// lapseWords say what a batch waits for.
func lapseWords(l tongue, b store.Batch) string {
	if b.State == store.StateApproved {
		return l.say("waits for start until then")
	}
	return l.say("waits for approval until then")
}

// line words a group.
func (g dueGroup) line(l tongue, now store.Milli, zone *time.Location) string {
	what := g.words
	if g.kind != "" {
		what = stepName(l, g.kind)
	}
	line := l.say("%s  %s, %s: %s", moment(l, timeOf(g.first), zone), batchesNamed(l, g.batches), cutName(l, g.cut), what)
	switch {
	case g.times > 1:
		line += l.say(" (missed %d times since then)", g.times)
	case g.overdue(now):
		line += l.say(" (overdue by %s)", span(l, (now-g.first).Duration()))
	}
	if g.held {
		line += " " + l.say("HOLD")
	}
	return line
}

// row is the row of a group in a list that is shown in pages.
func (g dueGroup) row(l tongue, now store.Milli, zone *time.Location) row {
	return row{fmt.Sprint(g.batches[0], g.kind, g.first), g.line(l, now, zone)}
}

// batchesNamed are the numbers of one batch or more for people.
func batchesNamed(l tongue, all []uint64) string {
	if len(all) == 1 {
		return l.say("batch %d", all[0])
	}
	return l.say("batches %s", numbersShort(all))
}

// numbersShort are numbers in a row; three or more that follow are said from the first to the last.
func numbersShort(all []uint64) string {
	var parts []string
	for i := 0; i < len(all); {
		j := i
		for j+1 < len(all) && all[j+1] == all[j]+1 {
			j++
		}
		if j < i+2 {
			parts = append(parts, strconv.FormatUint(all[i], 10))
			i++
			continue
		}
		parts = append(parts, strconv.FormatUint(all[i], 10)+"–"+strconv.FormatUint(all[j], 10))
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// missedKinds name steps of one batch: each kind once, how often and since when.
func missedKinds(l tongue, steps []store.StepState, zone *time.Location) (words []string) {
	for i, s := range steps {
		same := func(o store.StepState) bool { return o.Kind == s.Kind }
		if slices.IndexFunc(steps, same) < i {
			continue
		}
		times := 0
		for _, o := range steps {
			if same(o) {
				times++
			}
		}
		at := moment(l, timeOf(s.Due), zone)
		if times == 1 {
			words = append(words, stepName(l, s.Kind)+" "+at)
		} else {
			words = append(words, l.say("%s %d times since %s", stepName(l, s.Kind), times, at))
		}
	}
	return words
}
