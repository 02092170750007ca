package store

import (
	"fmt"
	"slices"
)

// Jar is one container of curing salt. Filled anew it is a new filling: batches, approvals and
// recall bind to the filling.
type Jar struct {
	Kitchen  string    `json:"kitchen"`
	Name     string    `json:"name"`     // as it was first written; found whatever its case
	Fillings []Filling `json:"fillings"` // Fillings[i] is number i+1; never empty
}

// Filling is what a jar was filled with at one time.
type Filling struct {
	Number   uint32     `json:"number"` // from 1 in each jar
	By       string     `json:"by"`     // person id
	At       Milli      `json:"at"`
	Label    Label      `json:"label"`
	Parts    []Part     `json:"parts,omitempty"`    // of a house cure made here
	SaltMg   int64      `json:"salt_mg,omitempty"`  // plain salt beside the Parts
	Read     *JarSign   `json:"read,omitempty"`     // the second reading of a house cure
	Approved *JarSign   `json:"approved,omitempty"` // of a house cure; nil again where its label is read anew
	Photo    string     `json:"photo,omitempty"`    // of the label: the name of its file
	PhotoBy  string     `json:"photo_by,omitempty"`
	PhotoAt  Milli      `json:"photo_at,omitempty"`
	Weight   *JarWeight `json:"weight,omitempty"`
	State    JarState   `json:"state"`
	Why      string     `json:"why,omitempty"` // it is in that state
}

// Label is what is known of what is in a jar.
type Label struct {
	AgentKind       string `json:"agent_kind,omitempty"`        // as on a dose card; "": not said
	NitriteMilliPPM int64  `json:"nitrite_milli_ppm,omitempty"` // nitrite and nitrate in the salt itself
	NitrateMilliPPM int64  `json:"nitrate_milli_ppm,omitempty"`
	Known           string `json:"known,omitempty"` // how the strength is known: "bag", "photo", "made here"; "": it is not
	Dyed            string `json:"dyed,omitempty"`  // "dyed", "undyed"; "": not said
	Lot             string `json:"lot,omitempty"`
	Doubt           string `json:"doubt,omitempty"` // what in it can't be right, a code of the bot's; "": nothing
}

// FillingOf names one filling of a jar.
type FillingOf struct {
	Jar    string `json:"jar"`
	Number uint32 `json:"filling"`
}

// Part is what a house cure was made of, beside plain salt.
type Part struct {
	FillingOf
	Mg int64 `json:"mg"` // taken from there
}

// JarWeight is what a jar weighed, with all that is in it.
type JarWeight struct {
	Mg int64  `json:"mg"`
	By string `json:"by"`
	At Milli  `json:"at"`
}

// JarState is whether a filling may be taken from.
type JarState string

// The states of a filling.
const (
	JarInUse     JarState = "in use"
	JarEmpty     JarState = "empty"
	JarWithdrawn JarState = "withdrawn"
	JarHeld      JarState = "held"
)

// Current is the filling that is in the jar now.
func (j Jar) Current() Filling { return j.Fillings[len(j.Fillings)-1] }

// Numbered gives a filling by its number; false: there is none.
func (j Jar) Numbered(n uint32) (Filling, bool) {
	if n == 0 || int(n) > len(j.Fillings) {
		return Filling{}, false
	}
	return j.Fillings[n-1], true
}

// Of a jar. Jar is its name as it was first written.
type (
	// JarFilled registers a jar, or fills it anew.
	JarFilled struct {
		Jar     string `json:"jar"`
		Filling uint32 `json:"filling"` // 1, or one more than the current
		Label   Label  `json:"label"`
		Parts   []Part `json:"parts,omitempty"`
		SaltMg  int64  `json:"salt_mg,omitempty"`
	}
	// JarLabelled is the label of the current filling read again; Old is what was known of it.
	JarLabelled struct {
		Jar     string `json:"jar"`
		Filling uint32 `json:"filling"`
		Old     Label  `json:"old"`
		New     Label  `json:"new"`
		Why     string `json:"why,omitempty"`
	}
	// JarPhotographed is a photo of the label. Its bytes are a file beside the store.
	JarPhotographed struct {
		Jar     string `json:"jar"`
		Filling uint32 `json:"filling"`
		Old     string `json:"old,omitempty"` // the photo before it
		New     string `json:"new"`
	}
	// JarWeighed is a jar put on the scale, with all that is in it.
	JarWeighed struct {
		Jar     string `json:"jar"`
		Filling uint32 `json:"filling"`
		Mg      int64  `json:"mg"`
		Batch   uint64 `json:"batch,omitempty"` // that was being weighed in; 0: none
	}
	// JarMarked says whether a filling may be taken from.
	JarMarked struct {
		Jar     string   `json:"jar"`
		Filling uint32   `json:"filling"`
		Old     JarState `json:"old"`
		New     JarState `json:"new"`
		Why     string   `json:"why,omitempty"`
	}
)

func (j JarFilled) fold(b records, _ *Kitchen, e Event) error {
	if err := texts(folded(j.Jar)); err != nil {
		return err
	}
	jar, known, err := loadJar(b, e.Kitchen, j.Jar)
	switch {
	case err != nil:
		return err
	case !known:
		jar = Jar{Kitchen: e.Kitchen, Name: j.Jar}
	case jar.Name != j.Jar:
		return misfit(e, "", MisfitJar)
	}
	if e.Person == "" {
		return misfit(e, "", MisfitPerson)
	}
	if int(j.Filling) != len(jar.Fillings)+1 {
		return misfit(e, "", MisfitJar)
	}
	for _, p := range j.Parts {
		from, ok, err := loadJar(b, e.Kitchen, p.Jar)
		if err != nil {
			return err
		}
		if _, has := from.Numbered(p.Number); !ok || !has || from.Name != p.Jar || p.Mg <= 0 {
			return misfit(e, "", MisfitJar)
		}
		if err := b.put(bucketMade, fillingKey(e.Kitchen, p.FillingOf).filling(FillingOf{j.Jar, j.Filling}), present); err != nil {
			return err
		}
	}
	jar.Fillings = append(slices.Clip(jar.Fillings), Filling{
		Number: j.Filling, By: e.Person, At: e.Happened, Label: j.Label, Parts: j.Parts, SaltMg: j.SaltMg, State: JarInUse,
	})
	if err := relot(b, e.Kitchen, FillingOf{j.Jar, j.Filling}, "", j.Label.Lot); err != nil {
		return err
	}
	return saveJar(b, jar)
}

func (j JarLabelled) fold(b records, _ *Kitchen, e Event) error {
	return inFilling(b, e, FillingOf{j.Jar, j.Filling}, func(jar Jar, f *Filling) error {
		if int(j.Filling) != len(jar.Fillings) || f.Label != j.Old {
			return misfit(e, "", MisfitJar)
		}
		f.Label, f.Approved = j.New, nil
		return relot(b, e.Kitchen, FillingOf{j.Jar, j.Filling}, j.Old.Lot, j.New.Lot)
	})
}

func (j JarPhotographed) fold(b records, _ *Kitchen, e Event) error {
	return inFilling(b, e, FillingOf{j.Jar, j.Filling}, func(_ Jar, f *Filling) error {
		if f.Photo != j.Old || j.New == "" {
			return misfit(e, "", MisfitJar)
		}
		f.Photo, f.PhotoBy, f.PhotoAt = j.New, e.Person, e.Happened
		return nil
	})
}

// fold keeps the weight that was taken last, whenever it was noted.
func (j JarWeighed) fold(b records, _ *Kitchen, e Event) error {
	return inFilling(b, e, FillingOf{j.Jar, j.Filling}, func(_ Jar, f *Filling) error {
		if j.Mg <= 0 {
			return misfit(e, "", MisfitJar)
		}
		if f.Weight == nil || e.Happened >= f.Weight.At {
			f.Weight = &JarWeight{Mg: j.Mg, By: e.Person, At: e.Happened}
		}
		return nil
	})
}

func (j JarMarked) fold(b records, _ *Kitchen, e Event) error {
	return inFilling(b, e, FillingOf{j.Jar, j.Filling}, func(_ Jar, f *Filling) error {
		if f.State != j.Old || j.New == j.Old || !slices.Contains([]JarState{JarInUse, JarEmpty, JarWithdrawn, JarHeld}, j.New) {
			return misfit(e, "", MisfitJar)
		}
		f.State, f.Why = j.New, j.Why
		return nil
	})
}

// inFilling changes one filling of a jar that there is, by a person.
func inFilling(b records, e Event, of FillingOf, change func(jar Jar, f *Filling) error) error {
	jar, known, err := loadJar(b, e.Kitchen, of.Jar)
	if err != nil {
		return err
	}
	if _, has := jar.Numbered(of.Number); !known || !has || jar.Name != of.Jar {
		return misfit(e, "", MisfitJar)
	}
	if e.Person == "" {
		return misfit(e, "", MisfitPerson)
	}
	if err := change(jar, &jar.Fillings[of.Number-1]); err != nil {
		return err
	}
	return saveJar(b, jar)
}

// relot makes a filling findable by its lot.
func relot(b records, kitchen string, of FillingOf, old, lot string) error {
	at := func(lot string) key { return pair(kitchen, folded(lot)).filling(of) }
	if old != "" {
		if err := b.del(bucketLots, at(old)); err != nil {
			return err
		}
	}
	if lot == "" {
		return nil
	}
	if err := texts(folded(lot)); err != nil {
		return err
	}
	return b.put(bucketLots, at(lot), present)
}

func (j JarFilled) pointsTo() []string {
	to := []string{JarSubject(j.Jar)}
	if j.Label.Lot != "" {
		to = append(to, lotSubject(j.Label.Lot))
	}
	for _, p := range j.Parts {
		to = append(to, JarSubject(p.Jar))
	}
	return to
}

func (j JarLabelled) pointsTo() []string {
	to := []string{JarSubject(j.Jar)}
	for _, lot := range []string{j.Old.Lot, j.New.Lot} {
		if lot != "" {
			to = append(to, lotSubject(lot))
		}
	}
	return to
}

func (j JarPhotographed) pointsTo() []string { return []string{JarSubject(j.Jar)} }
func (j JarWeighed) pointsTo() []string      { return []string{JarSubject(j.Jar)} }
func (j JarMarked) pointsTo() []string       { return []string{JarSubject(j.Jar)} }

// JarSubject is what the trail of a jar stands under.
func JarSubject(name string) string { return "jar " + name }
func lotSubject(lot string) string  { return "lot " + folded(lot) }

func (o FillingOf) String() string { return fmt.Sprintf("%s#%d", o.Jar, o.Number) }
