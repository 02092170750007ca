package store

import "strings"

type (
	// PlaceNamed makes a place known: "walk-in 2".
	PlaceNamed struct {
		Name string `json:"name"`
	}
	// PlaceRead is a temperature read in a place.
	PlaceRead struct {
		Place  string `json:"place"`
		MilliC int64  `json:"milli_c"`
		Unit   string `json:"unit"` // as it was typed: "c", "f"
		// Evidence is what a late one rests on: "probe log"; "": nothing was said.
		Evidence string `json:"evidence,omitempty"`
	}
	// Moved is a batch put into a place.
	Moved struct {
		From string `json:"from,omitempty"` // "": it was not known
		To   string `json:"to,omitempty"`   // "": taken out, to a place that is not known
	}
)

func (PlaceNamed) kind() string { return "place named" }
func (PlaceRead) kind() string  { return "place read" }
func (Moved) kind() string      { return "moved" }

// Place is a place of a kitchen, with the last temperature read there.
type Place struct {
	Name    string     `json:"name"`
	NamedBy string     `json:"named_by,omitempty"`
	NamedAt Milli      `json:"named_at"`
	Last    *PlaceLast `json:"last,omitempty"` // by when it was read; nil: none was
}

// PlaceLast is when a place had which temperature.
type PlaceLast struct {
	At     Milli  `json:"at"`
	MilliC int64  `json:"milli_c"`
	By     string `json:"by"`
}

// PlaceSubject is what the trail calls a place.
func PlaceSubject(name string) string { return "place " + name }

func (m Moved) words() []string { return WordsIn(m.To) }

func (n PlaceNamed) pointsTo() []string { return []string{PlaceSubject(n.Name)} }
func (r PlaceRead) pointsTo() []string  { return []string{PlaceSubject(r.Place)} }
func (m Moved) pointsTo() []string      { return placeSubjects(m.From, m.To) }
func (d Discarded) pointsTo() []string  { return placeSubjects(d.Place) }
func (f Finished) pointsTo() []string   { return placeSubjects(f.Place) }

func placeSubjects(names ...string) (subjects []string) {
	for _, n := range names {
		if n != "" {
			subjects = append(subjects, PlaceSubject(n))
		}
	}
	return subjects
}

func (n PlaceNamed) fold(b records, k *Kitchen, e Event) error {
	if err := texts(folded(n.Name)); err != nil || strings.Contains(n.Name, "\n") {
		return misfit(e, "", MisfitPlace)
	}
	_, known, err := loadPlace(b, e.Kitchen, n.Name)
	switch {
	case err != nil:
		return err
	case known:
		return misfit(e, "", MisfitPlace)
	}
	k.Places = strings.TrimPrefix(k.Places+"\n"+n.Name, "\n")
	return savePlace(b, e.Kitchen, Place{Name: n.Name, NamedBy: e.Person, NamedAt: e.Happened})
}

func (r PlaceRead) fold(b records, _ *Kitchen, e Event) error {
	p, known, err := loadPlace(b, e.Kitchen, r.Place)
	switch {
	case err != nil:
		return err
	case !known || p.Name != r.Place:
		return misfit(e, "", MisfitPlace)
	}
	if p.Last == nil || p.Last.At <= e.Happened {
		p.Last = &PlaceLast{At: e.Happened, MilliC: r.MilliC, By: e.Person}
	}
	return savePlace(b, e.Kitchen, p)
}

func (Moved) undoable() bool { return true }

func (m Moved) apply(b *Batch, e Event) error {
	if m.From != b.Where || m.From == m.To {
		return misfit(e, b.State, MisfitPlace)
	}
	b.Where, b.WhereSince = m.To, e.Happened
	if m.To == "" {
		b.WhereSince = 0
	}
	return nil
}

// Place gives a place by its name, whatever its case; false: there is none.
func (tx *Tx) Place(kitchen, name string) (Place, bool, error) { return loadPlace(tx, kitchen, name) }

// Places gives all places of a kitchen, by name.
func (tx *Tx) Places(kitchen string) (places []Place, err error) {
	prefix := key(nil).text(kitchen)
	err = tx.scan(bucketPlaces, prefix, prefix, func(_ key, v []byte) (bool, error) {
		var p Place
		if err := decode(v, &p); err != nil {
			return false, err
		}
		places = append(places, p)
		return true, nil
	})
	return places, err
}

func loadPlace(b reader, kitchen, name string) (Place, bool, error) {
	return load[Place](b, bucketPlaces, pair(kitchen, folded(name)))
}

func savePlace(b records, kitchen string, p Place) error {
	return save(b, bucketPlaces, pair(kitchen, folded(p.Name)), p)
}
