package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

const bacon = "House bacon"

func written(version uint32) RecipeWritten {
	return RecipeWritten{Name: bacon, Version: version, Phrase: "pork belly, dry rub, 7 days, 2.5% salt", NitriteMilliPPM: 156_250, Region: "us", Law: "1"}
}

// of the kitchen, at an instant.
func kitchenEvent(person string, at Milli, body Body) Event { return of(0, person, at, body) }

func madeBy(cut, recipe string, version uint32) Asked {
	a := asked(cut, "c", 0)
	a.Card.Recipe, a.Card.RecipeVersion = recipe, version
	return a
}

func TestRecipe(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	steps := []struct {
		who  string
		body Body
		want Misfit // "": it fits
	}{
		{ana, RecipeApproved{Name: bacon, Version: 1}, MisfitRecipe},
		{ana, written(2), MisfitRecipe},
		{"", written(1), MisfitPerson},
		{ana, written(1), ""},
		{ana, written(1), MisfitRecipe},
		{ana, RecipeWritten{Name: "house bacon", Version: 2, Phrase: "x"}, MisfitRecipe}, // it is written otherwise
		{ana, RecipeApproved{Name: bacon, Version: 1}, MisfitOwn},
		{ben, RecipeApproved{Name: bacon, Version: 1}, ""},
		{ben, RecipeApproved{Name: bacon, Version: 1}, MisfitRecipe},
		{ben, written(2), ""},
		{ben, RecipeApproved{Name: bacon, Version: 2, Own: true, Why: "alone"}, ""},
		{ben, written(3), ""},
		{ana, RecipeWithdrawn{Name: bacon, Version: 2, Why: "too salty"}, ""},
		{ana, RecipeWithdrawn{Name: bacon, Version: 2, Why: "too salty"}, MisfitRecipe},
		{ana, RecipeWithdrawn{Name: bacon, Version: 3, Why: "a slip"}, ""},
		{ana, RecipeApproved{Name: bacon, Version: 3}, MisfitRecipe},
	}
	for i, step := range steps {
		err := s.Update(context.Background(), func(tx *Tx) error {
			_, err := tx.Append(kitchenEvent(step.who, Milli(i+10), step.body))
			return err
		})
		var misfit *FoldError
		if errors.As(err, &misfit); step.want == "" && err != nil || step.want != "" && (misfit == nil || misfit.Why != step.want) {
			t.Errorf("%d %+v: got %v, want %q", i, step.body, err, step.want)
		}
	}
	see(t, s, func(tx *Tx) error {
		r, ok, err := tx.Recipe(kitchen, " HOUSE bacon")
		if err != nil || !ok || r.Name != bacon || len(r.Versions) != 3 {
			t.Fatalf("recipe: %v %+v (%v)", ok, r, err)
		}
		if v, ok := r.InUse(); !ok || v.Number != 1 || v.Approval.By != ben || v.At != 13+1000 {
			t.Errorf("in use: %v %+v", ok, v)
		}
		if w := r.Versions[1].Withdrawal; w == nil || w.Why != "too salty" || !r.Versions[1].Approval.Own {
			t.Errorf("version 2: %+v", r.Versions[1])
		}
		k, _, err := tx.Kitchen(kitchen)
		if k.Recipes != bacon {
			t.Errorf("names: %q", k.Recipes)
		}
		trail, err2 := tx.Trail(kitchen, "recipe house bacon", 0, 0)
		if len(trail) != 7 {
			t.Errorf("a trail of %d", len(trail))
		}
		return errors.Join(err, err2)
	})
}

// A batch is found by the recipe, the version and the words that stand on its card now, or
// were ever said of it.
func TestFound(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	two := card(2, "belly")
	two.Recipe, two.RecipeVersion = "ham cure", 12
	appended(t, s,
		of(1, ana, 1*day, madeBy("belly", bacon, 1)),
		of(2, ana, 2*day, madeBy("belly", bacon, 2)),
		of(3, ben, 3*day, madeBy("loin", bacon, 1)),
		of(4, ben, 4*day, madeBy("loin", bacon, 2)), of(4, ben, 4*day, Revised{Card: two, Why: "jamón con más sal"}),
		of(5, ben, 5*day, asked("ham", "c", 0)),
		of(1, ben, 6*day, Held{Why: "bag LEAKS, lot 2291"}), of(1, ben, 6*day, Released{Why: "new bag"}),
		of(2, ben, 6*day, Held{Why: "leaking"}), of(2, ben, 6*day, Undone{Events: []uint64{13}}),
	)
	for _, test := range []struct {
		query Query
		want  []uint64
	}{
		{Query{Recipe: "house BACON"}, []uint64{3, 2, 1}},
		{Query{Recipe: bacon, Version: 1}, []uint64{3, 1}},
		{Query{Recipe: bacon, Version: 2}, []uint64{2}},
		{Query{Recipe: bacon, Version: 1, Cut: "belly"}, []uint64{1}},
		{Query{Recipe: "ham cure", Version: 1}, nil},
		{Query{Recipe: "ham cure", Version: 12}, []uint64{4}},
		{Query{Recipe: "house"}, nil},
		{Query{Words: []string{"leaks"}}, []uint64{1}},
		{Query{Words: []string{"leak"}}, []uint64{2, 1}}, // what was undone is still found
		{Query{Words: []string{"leak"}, From: 2 * day}, []uint64{2}},
		{Query{Words: []string{"bag", "2291"}}, []uint64{1}},
		{Query{Words: []string{"bag", "leaking"}}, nil},
		{Query{Words: []string{"jamon"}}, []uint64{4}},
		{Query{Words: []string{"ben", "belly"}}, []uint64{4, 2, 1}},
		{Query{Words: []string{"ana"}, Cut: "belly"}, []uint64{2, 1}},
		{Query{Words: []string{"salt"}}, nil},
	} {
		for limit := range 4 {
			q := test.query
			q.Limit = limit
			if got := looked(t, s, q); !slices.Equal(got, test.want) {
				t.Errorf("%+v: got %v, want %v", q, got, test.want)
			}
		}
	}
	if got := WordsIn("Bag LEAKS: 3,5 % of lot 2291, à côté, A7 bag"); !slices.Equal(got, []string{"bag", "leaks", "of", "lot", "2291", "cote", "a7"}) {
		t.Errorf("words: %q", got)
	}
}

func TestTotals(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	jar := asked("loin", "c", 0)
	jar.Card.Jar = "A7"
	ok := approved(1, 0)
	withJar := ok
	withJar.Jar = "A7"
	appended(t, s,
		of(1, ana, 1*day, asked("belly", "c", 0)), of(1, ben, 1*day, ok), of(1, ana, 2*day, started()),
		of(2, ana, 1*day, jar), of(2, ben, 1*day, withJar), of(2, ana, 3*day, started()), of(2, ana, 3*day, Held{Why: "w"}),
		of(3, ana, 1*day, asked("belly", "c", 0)), of(3, ben, 1*day, ok), of(3, ana, 3*day, started()), of(3, ana, 4*day, Discarded{Why: "w"}),
		of(4, ana, 1*day, asked("belly", "c", 0)), of(4, ben, 1*day, ok), of(4, ana, 5*day, started()),
		of(5, ana, 1*day, asked("belly", "c", 0)),
	)
	see(t, s, func(tx *Tx) error {
		got, err := tx.Totals(kitchen, 2*day, 5*day)
		want := Totals{Batches: 3, ByCut: map[string]CutTotal{"belly": {2, 6_400_000}, "loin": {1, 3_200_000}},
			ByJar: map[string]int64{"": 16_000, "A7": 8_000}, Held: 1, Discarded: 1}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("(-want +got):\n%s", d)
		}
		none, err2 := tx.Totals(kitchen, 6*day, 7*day)
		if none.Batches != 0 {
			t.Errorf("batches in no time: %+v", none)
		}
		return errors.Join(err, err2)
	})
}

// An approval that rested on a withdrawn recipe is taken back, and the batch can be approved anew.
func TestApprovalVoided(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	void := ApprovalVoided{Why: "withdrawn", Lapse: 3 * day}
	appended(t, s, of(1, ana, day, madeBy("belly", bacon, 1)))
	var misfit *FoldError
	err := s.Update(context.Background(), func(tx *Tx) error { _, err := tx.Append(of(1, ben, day, void)); return err })
	if !errors.As(err, &misfit) || misfit.Why != MisfitState {
		t.Errorf("an approval that never was: %v", err)
	}
	appended(t, s, of(1, ben, day+1, approved(1, 2*day)), of(1, ben, day+2, void))
	if b := batchOf(t, s, 1); b.State != StateAsked || b.Approval != nil || b.Lapse != 3*day {
		t.Errorf("voided: %+v", b)
	}
	appended(t, s, of(1, ben, day+3, approved(1, 2*day)))
}

// modelRecipe is a version of a recipe in the plain model.
type modelRecipe struct{ by, approved, withdrawn string }

// recipe draws a command of a recipe, and runs it against the store and the model.
func (m *model) recipe(t *rapid.T, s *Store) {
	who := rapid.SampledFrom(modelPeople).Draw(t, "who")
	n := uint32(rapid.IntRange(0, len(m.recipes)+1).Draw(t, "version"))
	own := rapid.Bool().Draw(t, "own")
	there := n > 0 && int(n) <= len(m.recipes)
	var v *modelRecipe
	if there {
		v = &m.recipes[n-1]
	}
	var body Body
	var fits bool
	var change func()
	switch rapid.SampledFrom([]string{"write", "approve", "withdraw"}).Draw(t, "kind") {
	case "write":
		body, fits = written(n), int(n) == len(m.recipes)+1
		change = func() { m.recipes = append(m.recipes, modelRecipe{by: who}) }
	case "approve":
		body, fits = RecipeApproved{Name: bacon, Version: n, Own: own}, there && v.approved == "" && v.withdrawn == "" && (own || v.by != who)
		change = func() { v.approved = who }
	case "withdraw":
		body, fits = RecipeWithdrawn{Name: bacon, Version: n, Why: "w"}, there && v.withdrawn == ""
		change = func() { v.withdrawn = who }
	}
	err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(kitchenEvent(who, m.now, body))
		return err
	})
	var misfit *FoldError
	switch {
	case fits && err != nil || !fits && !errors.As(err, &misfit):
		t.Fatalf("%+v: %v, fits %v", body, err, fits)
	case fits:
		change()
	}
}

func (m *model) compareRecipes(tx *Tx) error {
	all, err := tx.Recipes(kitchen)
	if err != nil {
		return err
	}
	var got []modelRecipe
	for _, r := range all {
		for _, v := range r.Versions {
			one := modelRecipe{by: v.By}
			if v.Approval != nil {
				one.approved = v.Approval.By
			}
			if v.Withdrawal != nil {
				one.withdrawn = v.Withdrawal.By
			}
			got = append(got, one)
		}
	}
	if d := cmp.Diff(m.recipes, got, cmp.AllowUnexported(modelRecipe{}), cmpopts.EquateEmpty()); d != "" {
		return fmt.Errorf("recipes (-want +got):\n%s", d)
	}
	return nil
}
