package heat

import (
	"slices"
	"time"

	"salthand/cure"
)

// Ratio is a dimensionless ratio.
type Ratio float64

// Row is a temperature and how long it has to be held; 0 is at once.
type Row struct {
	At   cure.Celsius
	Hold time.Duration
}

// Table is what heat, or cold, does against one thing. Rows go from the weakest to the
// strongest.
type Table struct {
	Against string // "salmonella, 6.5 log10", "trichinae", …
	Meat    string // what it is for
	Cold    bool   // a temperature has to be held from above, frozen
	Rows    []Row
	Source  string
	Seen    string // "text", "secondary", "memory, sure", "memory, fairly sure"
}

// Hold is how long a temperature has to be held: the row at it, or the next weaker one. It
// is false where the temperature is weaker than all rows: there is no credit then.
func (t Table) Hold(at cure.Celsius) (time.Duration, bool) {
	i := t.row(at)
	if i < 0 {
		return 0, false
	}
	return t.Rows[i].Hold, true
}

// row is the strongest row that a temperature reaches, −1 for none.
func (t Table) row(at cure.Celsius) int {
	if !sane(at) {
		return -1
	}
	i := len(t.Rows) - 1
	for ; i >= 0; i-- {
		if row, is := grains(t.Rows[i].At), grains(at); is >= row && !t.Cold || is <= row && t.Cold {
			return i
		}
	}
	return -1
}

// Credit is how much of what a table asks for is in a log: 1 or more is all of it.
//
// Heat adds up: each time between two readings counts as a share of the row of the cooler
// one. That shares of rows add up is the usual reckoning of lethality, and ours here; slow
// heating up is not judged. Cold doesn't add up: of each row only the longest stretch at or
// below it counts, between readings. A reading that reaches a row of "at once" is all of it.
// The error is ErrLog.
func (t Table) Credit(l Log) (Ratio, error) {
	if err := l.check(); err != nil {
		return 0, err
	}
	spent, stretch := make([]time.Duration, len(t.Rows)), make([]time.Duration, len(t.Rows))
	before := -1
	for i, r := range l {
		row := t.row(r.Probe)
		if row >= 0 && t.Rows[row].Hold == 0 {
			return 1, nil
		}
		weaker := min(row, before) // at i = 0 none
		for j := range t.Rows {
			switch {
			case t.Cold && j <= weaker:
				stretch[j] += r.After - l[i-1].After
				spent[j] = max(spent[j], stretch[j])
			case t.Cold:
				stretch[j] = 0
			case j == weaker:
				spent[j] += r.After - l[i-1].After
			}
		}
		before = row
	}
	shares := make([]Ratio, len(t.Rows))
	for j, row := range t.Rows {
		if row.Hold > 0 {
			shares[j] = Ratio(spent[j]) / Ratio(row.Hold)
		}
	}
	if t.Cold {
		return slices.Max(shares), nil
	}
	var sum Ratio
	for _, s := range shares {
		sum += s
	}
	return sum, nil
}

// Salmonella is the lethality table for whole cuts of beef at 6.5 log10. It is the older
// edition; plants use that of December 2021. Tests found its times right at 60 to 71 °C, but
// not at 54.4 °C, and Listeria stands more. Not for poultry.
//
// Source: FSIS Appendix A, 1999, in copies (secondary); Meat and Muscle Biology 9048 (text)
// for the doubts.
func Salmonella() Table {
	const m, s = time.Minute, time.Second
	t := Table{Against: "salmonella, 6.5 log10", Meat: "beef", Source: "FSIS Appendix A, 1999, a copy", Seen: "secondary"}
	for i, hold := range []time.Duration{ // from 130 °F, a row each °F
		112 * m, 89 * m, 71 * m, 56 * m, 45 * m, 36 * m, 28 * m, 23 * m, 18 * m, 15 * m,
		12 * m, 9 * m, 8 * m, 6 * m, 5 * m, 4 * m, 169 * s, 134 * s, 107 * s, 85 * s,
		67 * s, 54 * s, 43 * s, 34 * s, 27 * s, 22 * s, 17 * s, 14 * s, 0,
	} {
		t.Rows = append(t.Rows, Row{fahrenheit(float64(130 + i)), hold})
	}
	return t
}

// Salmonella7 is the table at 7.0 log10, of which six rows were seen.
//
// Source: FSIS Appendix A, 1999, in copies (secondary).
func Salmonella7() Table {
	const m, s = time.Minute, time.Second
	return Table{
		Against: "salmonella, 7.0 log10", Meat: "beef",
		Rows: []Row{
			{fahrenheit(130), 121 * m}, {fahrenheit(135), 37 * m}, {fahrenheit(140), 12 * m},
			{fahrenheit(145), 4 * m}, {fahrenheit(150), 72 * s}, {fahrenheit(155), 23 * s},
		},
		Source: "FSIS Appendix A, 1999, a copy", Seen: "secondary",
	}
}
