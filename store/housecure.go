package store

// JarSign is that somebody stands by a house cure.
type JarSign struct {
	By  string `json:"by"`
	At  Milli  `json:"at"`
	Own bool   `json:"own,omitempty"` // of what they made
}

// Of a house cure made here.
type (
	// JarRead is its second reading: somebody read scale and jars again, and found the same.
	JarRead struct {
		Jar     string `json:"jar"`
		Filling uint32 `json:"filling"`
		Own     bool   `json:"own,omitempty"`
	}
	// JarApproved lets it be used.
	JarApproved struct {
		Jar     string `json:"jar"`
		Filling uint32 `json:"filling"`
		Own     bool   `json:"own,omitempty"`
	}
)

func (JarRead) kind() string     { return "jar read" }
func (JarApproved) kind() string { return "jar approved" }

func (j JarRead) pointsTo() []string     { return []string{JarSubject(j.Jar)} }
func (j JarApproved) pointsTo() []string { return []string{JarSubject(j.Jar)} }

func (j JarRead) fold(b records, _ *Kitchen, e Event) error {
	return signed(b, e, FillingOf{j.Jar, j.Filling}, func(f *Filling) **JarSign { return &f.Read }, j.Own)
}

func (j JarApproved) fold(b records, _ *Kitchen, e Event) error {
	return signed(b, e, FillingOf{j.Jar, j.Filling}, func(f *Filling) **JarSign { return &f.Approved }, j.Own)
}

// signed puts a sign where none is, on a house cure made here.
func signed(b records, e Event, of FillingOf, at func(f *Filling) **JarSign, own bool) error {
	return inFilling(b, e, of, func(_ Jar, f *Filling) error {
		if len(f.Parts) == 0 || *at(f) != nil {
			return misfit(e, "", MisfitJar)
		}
		*at(f) = &JarSign{By: e.Person, At: e.Happened, Own: own}
		return nil
	})
}
