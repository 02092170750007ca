package store

import "slices"

// Jar gives a jar by its name, whatever its case; false: there is none.
func (tx *Tx) Jar(kitchen, name string) (Jar, bool, error) { return loadJar(tx, kitchen, name) }

// Jars gives every jar of a kitchen, by name.
func (tx *Tx) Jars(kitchen string) ([]Jar, error) {
	var jars []Jar
	prefix := key(nil).text(kitchen)
	err := tx.scan(bucketJars, prefix, prefix, func(_ key, v []byte) (bool, error) {
		var j Jar
		if err := decode(v, &j); err != nil {
			return false, err
		}
		jars = append(jars, j)
		return true, nil
	})
	return jars, err
}

// JarFilling gives one filling of a jar; false: there is none.
func (tx *Tx) JarFilling(kitchen string, of FillingOf) (Filling, bool, error) {
	jar, ok, err := loadJar(tx, kitchen, of.Jar)
	if err != nil || !ok {
		return Filling{}, false, err
	}
	f, ok := jar.Numbered(of.Number)
	return f, ok, nil
}

// Photo is a picture of a label that the events name.
type Photo struct {
	Name    string // of its file
	Jar     string
	Filling uint32
}

// Photos gives every photo of a label that was ever noted, in all kitchens: one that another
// was noted in place of is kept too.
func (tx *Tx) Photos() ([]Photo, error) {
	var photos []Photo
	kitchens, err := tx.Kitchens()
	if err != nil {
		return nil, err
	}
	for _, k := range kitchens {
		jars, err := tx.Jars(k.ID)
		if err != nil {
			return nil, err
		}
		for _, j := range jars {
			events, err := tx.Trail(k.ID, JarSubject(j.Name), 0, 0)
			if err != nil {
				return nil, err
			}
			for _, e := range slices.Backward(events) {
				if p, ok := e.Body.(JarPhotographed); ok {
					photos = append(photos, Photo{p.New, p.Jar, p.Filling})
				}
			}
		}
	}
	return photos, nil
}

// FillingsOfLot gives the fillings that a lot stands on, whatever its case. What was made from
// them here is MadeFrom's.
func (tx *Tx) FillingsOfLot(kitchen, lot string) ([]FillingOf, error) {
	return tx.fillings(bucketLots, pair(kitchen, folded(lot)))
}

// MadeFrom gives the house cures that were made from a filling.
func (tx *Tx) MadeFrom(kitchen string, of FillingOf) ([]FillingOf, error) {
	return tx.fillings(bucketMade, fillingKey(kitchen, of))
}

// fillings reads the fillings that keys with a prefix end in.
func (tx *Tx) fillings(in bucket, prefix key) ([]FillingOf, error) {
	var found []FillingOf
	err := tx.scan(in, prefix, prefix, func(k key, _ []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		found = append(found, FillingOf{Jar: r.text(), Number: uint32(r.num())})
		return true, nil
	})
	return found, err
}

func fillingKey(kitchen string, of FillingOf) key { return key(nil).text(kitchen).filling(of) }

func (k key) filling(of FillingOf) key { return k.text(of.Jar).num(uint64(of.Number)) }

func loadJar(b reader, kitchen, name string) (Jar, bool, error) {
	return load[Jar](b, bucketJars, pair(kitchen, folded(name)))
}

func saveJar(b records, j Jar) error {
	return save(b, bucketJars, pair(j.Kitchen, folded(j.Name)), j)
}
