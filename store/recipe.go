package store

import (
	"slices"
	"strings"
)

// Recipe is a named formula in per cent of the green weight. A change is a new version: what
// was once written stays.
type Recipe struct {
	Kitchen  string          `json:"kitchen"`
	Name     string          `json:"name"`     // as it was first written; found whatever its case
	Versions []RecipeVersion `json:"versions"` // Versions[i] is number i+1; never empty
}

// RecipeVersion is one version of a recipe.
type RecipeVersion struct {
	Number          uint32          `json:"number"` // from 1 in each recipe
	Phrase          string          `json:"phrase"` // its clauses, canonical, without a weight
	NitriteMilliPPM int64           `json:"nitrite_milli_ppm"`
	Region          string          `json:"region"`
	Law             string          `json:"law"`            // version of the law table that it was held against
	Hold            bool            `json:"hold,omitempty"` // a caution of level hold: the approver is asked for the reason
	By              string          `json:"by"`             // person id
	Via             string          `json:"via,omitempty"`
	At              Milli           `json:"at"` // when it was noted: it was not on show before
	Approval        *RecipeApproval `json:"approval,omitempty"`
	Withdrawal      *Withdrawal     `json:"withdrawal,omitempty"`
}

// RecipeApproval is who approved a version.
type RecipeApproval struct {
	By  string `json:"by"`
	At  Milli  `json:"at"`
	Own bool   `json:"own,omitempty"`
	Why string `json:"why,omitempty"`
}

// Withdrawal is who took a version out of use, and why.
type Withdrawal struct {
	By  string `json:"by"`
	At  Milli  `json:"at"`
	Why string `json:"why"`
}

// Usable tells whether doses may be made by the version.
func (v RecipeVersion) Usable() bool { return v.Approval != nil && v.Withdrawal == nil }

// Numbered gives a version by its number; false: there is none.
func (r Recipe) Numbered(n uint32) (RecipeVersion, bool) {
	if n == 0 || int(n) > len(r.Versions) {
		return RecipeVersion{}, false
	}
	return r.Versions[n-1], true
}

// Newest is the version that was written last.
func (r Recipe) Newest() RecipeVersion { return r.Versions[len(r.Versions)-1] }

// InUse is the newest version that doses may be made by; false: there is none.
func (r Recipe) InUse() (RecipeVersion, bool) {
	for _, v := range slices.Backward(r.Versions) {
		if v.Usable() {
			return v, true
		}
	}
	return RecipeVersion{}, false
}

// Of a recipe. Name is as it was first written.
type (
	// RecipeWritten is a new recipe, or a new version of one.
	RecipeWritten struct {
		Name            string `json:"name"`
		Version         uint32 `json:"version"` // 1, or one more than the newest
		Phrase          string `json:"phrase"`
		NitriteMilliPPM int64  `json:"nitrite_milli_ppm"`
		Region          string `json:"region"`
		Law             string `json:"law"`
		Hold            bool   `json:"hold,omitempty"`
	}
	// RecipeApproved lets doses be made by a version.
	RecipeApproved struct {
		Name    string `json:"name"`
		Version uint32 `json:"version"`
		Own     bool   `json:"own,omitempty"`
		Why     string `json:"why,omitempty"`
	}
	// RecipeWithdrawn takes a version out of use for good.
	RecipeWithdrawn struct {
		Name    string `json:"name"`
		Version uint32 `json:"version"`
		Why     string `json:"why"`
	}
	// ApprovalVoided takes back the approval of a batch that has not begun, since what it
	// rested on is gone. It lapses like one that was asked for just now.
	ApprovalVoided struct {
		Why   string `json:"why"`
		Lapse Milli  `json:"lapse"`
	}
)

func (w RecipeWritten) fold(b records, k *Kitchen, e Event) error {
	if err := texts(folded(w.Name)); err != nil {
		return err
	}
	r, known, err := loadRecipe(b, e.Kitchen, w.Name)
	switch {
	case err != nil:
		return err
	case e.Person == "":
		return misfit(e, "", MisfitPerson)
	case strings.Contains(w.Name, "\n") || w.Phrase == "" || known && r.Name != w.Name || int(w.Version) != len(r.Versions)+1:
		return misfit(e, "", MisfitRecipe)
	case !known:
		r = Recipe{Kitchen: e.Kitchen, Name: w.Name}
		k.Recipes = strings.TrimPrefix(k.Recipes+"\n"+w.Name, "\n")
	}
	r.Versions = append(r.Versions, RecipeVersion{
		Number: w.Version, Phrase: w.Phrase, NitriteMilliPPM: w.NitriteMilliPPM, Region: w.Region, Law: w.Law, Hold: w.Hold,
		By: e.Person, Via: e.Via, At: e.Noted,
	})
	return saveRecipe(b, r)
}

func (a RecipeApproved) fold(b records, _ *Kitchen, e Event) error {
	return inVersion(b, e, a.Name, a.Version, func(v *RecipeVersion) error {
		switch {
		case v.Approval != nil || v.Withdrawal != nil:
			return misfit(e, "", MisfitRecipe)
		case e.Person == v.By && !a.Own:
			return misfit(e, "", MisfitOwn)
		}
		v.Approval = &RecipeApproval{By: e.Person, At: e.Happened, Own: a.Own, Why: a.Why}
		return nil
	})
}

func (w RecipeWithdrawn) fold(b records, _ *Kitchen, e Event) error {
	return inVersion(b, e, w.Name, w.Version, func(v *RecipeVersion) error {
		if v.Withdrawal != nil {
			return misfit(e, "", MisfitRecipe)
		}
		v.Withdrawal = &Withdrawal{By: e.Person, At: e.Happened, Why: w.Why}
		return nil
	})
}

// inVersion changes one version of a recipe that there is, by a person.
func inVersion(b records, e Event, name string, version uint32, change func(v *RecipeVersion) error) error {
	r, known, err := loadRecipe(b, e.Kitchen, name)
	if err != nil {
		return err
	}
	if _, has := r.Numbered(version); !known || !has || r.Name != name {
		return misfit(e, "", MisfitRecipe)
	}
	if e.Person == "" {
		return misfit(e, "", MisfitPerson)
	}
	if err := change(&r.Versions[version-1]); err != nil {
		return err
	}
	return saveRecipe(b, r)
}

func (v ApprovalVoided) apply(b *Batch, e Event) error {
	if b.State != StateApproved {
		return misfit(e, b.State, MisfitState)
	}
	b.State, b.Approval, b.Lapse = StateAsked, nil, v.Lapse
	return nil
}

func (w RecipeWritten) pointsTo() []string   { return []string{recipeSubject(w.Name)} }
func (a RecipeApproved) pointsTo() []string  { return []string{recipeSubject(a.Name)} }
func (w RecipeWithdrawn) pointsTo() []string { return []string{recipeSubject(w.Name)} }

func recipeSubject(name string) string { return "recipe " + folded(name) }

// Recipe gives a recipe by its name, whatever its case; false: there is none.
func (tx *Tx) Recipe(kitchen, name string) (Recipe, bool, error) {
	return loadRecipe(tx, kitchen, name)
}

// Recipes gives all recipes of a kitchen, by name.
func (tx *Tx) Recipes(kitchen string) ([]Recipe, error) {
	var all []Recipe
	prefix := key(nil).text(kitchen)
	err := tx.scan(bucketRecipes, prefix, prefix, func(_ key, v []byte) (bool, error) {
		var r Recipe
		if err := decode(v, &r); err != nil {
			return false, err
		}
		all = append(all, r)
		return true, nil
	})
	return all, err
}

func loadRecipe(b reader, kitchen, name string) (Recipe, bool, error) {
	return load[Recipe](b, bucketRecipes, pair(kitchen, folded(name)))
}

func saveRecipe(b records, r Recipe) error {
	return save(b, bucketRecipes, pair(r.Kitchen, folded(r.Name)), r)
}
