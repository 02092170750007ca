package heat

import (
	"errors"
	"time"

	"salthand/cure"
)

// Species is whose meat it is, as far as trichinae go.
type Species uint8

// The species. All but Pork, which is domestic pork, may carry trichinae that survive
// freezing: they are cooked.
const (
	Unknown Species = iota
	Pork
	Boar
	Bear
	Walrus
	Horse
	Game // any other wild animal
)

// Errors of trichinae.
var (
	ErrSpecies = errors.New("heat: no such treatment for this species")
	ErrThick   = errors.New("heat: no freezing table for a piece of this thickness")
)

// Standing is whether a rule is law.
type Standing struct {
	Section string
	Until   time.Time // last day in force
	Since   string    // what stands in its place
	Source  string
	Seen    string
}

// TrichinaeLaw is how the tables here stand: they were law in the us until 2018 and are
// guidance since; some states keep them.
func TrichinaeLaw() Standing {
	return Standing{
		Section: "9 CFR 318.10",
		Until:   time.Date(2018, 7, 29, 0, 0, 0, 0, time.UTC), // removed with effect from 30 July 2018 (text)
		Since:   "HACCP, 9 CFR 417, with a compliance guideline",
		Source:  "FSIS final rule of 31 May 2018, industry notices; legal mirror: [Reserved]", Seen: "text",
	}
}

// Heating is the heat that kills trichinae in domestic pork, at the core. The error is
// ErrSpecies.
//
// Source: former 9 CFR 318.10(c)(1) in a copy (secondary).
func Heating(s Species) (Table, error) {
	if s != Pork {
		return Table{}, ErrSpecies
	}
	const h, m = time.Hour, time.Minute
	return Table{
		Against: "trichinae", Meat: "domestic pork",
		Rows: []Row{
			{fahrenheit(120), 21 * h}, {fahrenheit(122), 19 * h / 2}, {fahrenheit(124), 9 * h / 2}, {fahrenheit(126), 2 * h},
			{fahrenheit(128), h}, {fahrenheit(130), 30 * m}, {fahrenheit(132), 15 * m}, {fahrenheit(134), 6 * m},
			{fahrenheit(136), 3 * m}, {fahrenheit(138), 2 * m}, {fahrenheit(140), m}, {fahrenheit(142), m}, {fahrenheit(144), 0},
		},
		Source: "former 9 CFR 318.10(c)(1), a second-hand copy", Seen: "secondary",
	}, nil
}

// Freezing is the cold that kills trichinae in pieces of domestic pork that lie apart, by
// the temperature of the room. It begins when the piece has that temperature. The errors are
// ErrSpecies, and ErrThick for no thickness or above 685 mm.
//
// Source: former 9 CFR 318.10(c)(2) in two copies (secondary).
func Freezing(s Species, thickness cure.Millimetre) (Table, error) {
	const (
		thin  = 150 // mm, 6 in; former 9 CFR 318.10 (secondary)
		thick = 685 // mm, 27 in; former 9 CFR 318.10 (secondary)
	)
	t := Table{
		Against: "trichinae", Meat: "domestic pork, up to 15 cm", Cold: true,
		Rows:   []Row{{-15, 20 * day}, {-23.3, 10 * day}, {-28.9, 6 * day}},
		Source: "former 9 CFR 318.10(c)(2), two second-hand copies", Seen: "secondary",
	}
	switch {
	case s != Pork:
		return Table{}, ErrSpecies
	case !(thickness > 0 && thickness <= thick):
		return Table{}, ErrThick
	case thickness > thin:
		t.Meat = "domestic pork, above 15 cm, up to 68 cm"
		t.Rows = []Row{{-15, 30 * day}, {-23.3, 20 * day}, {-28.9, 12 * day}}
	}
	return t, nil
}

// FreezingInside is the cold that kills trichinae in domestic pork, by the temperature at
// the core. The error is ErrSpecies.
//
// Source: former 9 CFR 318.10, quoted in an OIE Scientific and Technical Review (secondary).
func FreezingInside(s Species) (Table, error) {
	if s != Pork {
		return Table{}, ErrSpecies
	}
	const h = time.Hour
	return Table{
		Against: "trichinae", Meat: "domestic pork, at the core", Cold: true,
		Rows: []Row{
			{-17.8, 106 * h}, {-20.6, 82 * h}, {-23.3, 63 * h}, {-26.1, 48 * h},
			{-28.9, 35 * h}, {-31.7, 22 * h}, {-34.5, 8 * h}, {-37.2, h / 2},
		},
		Source: "former 9 CFR 318.10, quoted in an OIE review", Seen: "secondary",
	}, nil
}

// Sausage is a way of salting and drying a sausage of domestic pork against trichinae. It
// does nothing against Salmonella, Toxoplasma, E. coli and Listeria.
type Sausage struct {
	Method      string          // "1", "1 pepperoni", "2"
	Above, UpTo cure.Millimetre // diameter
	Grind       cure.Millimetre // pieces of meat at most
	Salt        cure.Fraction   // of the weight before stuffing, at least
	Smoke       time.Duration   // at least, at SmokeAt or warmer; 0: none
	SmokeAt     cure.Celsius
	Dry         time.Duration // at least, at DryAt or warmer
	DryAt       cure.Celsius
	Total       time.Duration // from the salting on, at least
	Source      string
	Seen        string
}

// Sausages are the ways. Salt is 3 1/3 lb per 100 lb.
//
// Source: New York 1 NYCRR 318.10 (text); CFIA control recommendations for Trichinella (text).
func Sausages() []Sausage {
	const (
		ny   = "New York 1 NYCRR 318.10, method 1"
		cfia = "CFIA control recommendations for Trichinella, method 2"
		salt = 1.0 / 30 // 3 1/3 lb per 100 lb (text)
		inch = 25.4     // mm, exact
	)
	cool := fahrenheit(45)
	return []Sausage{
		{"1 pepperoni", 0, 1.375 * inch, 0.75 * inch, salt, 0, 0, 15 * day, cool, 20 * day, ny, "text"},
		{"1", 0, 3.5 * inch, 0.75 * inch, salt, 0, 0, 20 * day, cool, 25 * day, ny, "text"},
		{"1", 3.5 * inch, 4 * inch, 0.75 * inch, salt, 0, 0, 35 * day, cool, 40 * day, ny, "text"},
		{"2", 0, 88, 19, salt, 40 * time.Hour, 26.7, 10 * day, 7.3, 18 * day, cfia, "text"},
		{"2", 88, 102, 19, salt, 40 * time.Hour, 26.7, 25 * day, 7.3, 33 * day, cfia, "text"},
	}
}
