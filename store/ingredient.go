package store

type (
	// IngredientLabelled is what the label of one lot of an ingredient declares.
	IngredientLabelled struct {
		Ingredient
		Declared []string `json:"declared,omitempty"` // allergens, as on the label; empty: it declares none
		Anew     bool     `json:"anew,omitempty"`     // what was read of this lot before counts no more
	}
	// IngredientAdded says that a lot of an ingredient went into a batch.
	IngredientAdded struct {
		Ingredient
	}
	// Ingredient is one lot of what goes into a batch beside meat, salt and cure.
	Ingredient struct {
		Name string `json:"name"`
		Lot  string `json:"lot"`
	}
)

func (IngredientLabelled) kind() string { return "ingredient labelled" }
func (IngredientAdded) kind() string    { return "ingredient added" }

// IngredientSubject is what the trail calls a lot of an ingredient.
func IngredientSubject(i Ingredient) string { return "ingredient " + folded(i.Name+" lot "+i.Lot) }

func (i IngredientLabelled) pointsTo() []string { return []string{IngredientSubject(i.Ingredient)} }
func (i IngredientAdded) words() []string       { return WordsIn(i.Name + " " + i.Lot) }

func (i IngredientLabelled) fold(_ records, _ *Kitchen, e Event) error {
	if i.Name == "" || i.Lot == "" {
		return misfit(e, "", MisfitReading)
	}
	return texts(IngredientSubject(i.Ingredient))
}

func (IngredientAdded) undoable() bool { return true }

func (i IngredientAdded) apply(b *Batch, e Event) error {
	if i.Name == "" || i.Lot == "" {
		return misfit(e, b.State, MisfitReading)
	}
	for _, in := range b.Ingredients {
		if IngredientSubject(in) == IngredientSubject(i.Ingredient) {
			return nil // typed twice
		}
	}
	b.Ingredients = append(b.Ingredients[:len(b.Ingredients):len(b.Ingredients)], i.Ingredient)
	return nil
}

// Declared gives the allergens that the label of a lot declares; false: nobody noted the label.
func (tx *Tx) Declared(kitchen string, of Ingredient) (allergens []string, known bool, err error) {
	events, err := tx.Trail(kitchen, IngredientSubject(of), 0, 0)
	for _, e := range events {
		read, ok := e.Body.(IngredientLabelled)
		if !ok {
			continue
		}
		allergens, known = append(allergens, read.Declared...), true
		if read.Anew {
			break
		}
	}
	return allergens, known, err
}
