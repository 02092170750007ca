package ferment

import (
	"time"

	"salthand/cure"
)

// Row is a line of a log sheet: the hours within which pH 5.3 has to be reached at a
// constant temperature.
type Row struct {
	At     cure.Celsius
	Within time.Duration
}

// Sheet is a printed table of hours for the us set; it rounds some of them down.
//
// Source: University of Wisconsin, fermentation log sheet, 23 Nov 2012, seen in text.
func Sheet() []Row {
	const h = time.Hour
	return []Row{
		{fahrenheit(75), 80 * h}, {fahrenheit(80), 60 * h}, {fahrenheit(85), 48 * h}, {fahrenheit(90), 33 * h},
		{fahrenheit(95), 28 * h}, {fahrenheit(100), 25 * h}, {fahrenheit(105), 20 * h}, {fahrenheit(110), 18 * h},
	}
}

// Printed is the row of the sheet for a constant temperature: between two rows the warmer
// one, since the sheet has nothing to say in between. Exactly the printed hours counts as
// reached. It is false above 110 °F, and out of the range of a Reading.
func Printed(at cure.Celsius) (Row, bool) {
	if !sane(at) {
		return Row{}, false
	}
	for _, r := range Sheet() {
		if grains(at) <= grains(r.At) {
			return r, true
		}
	}
	return Row{}, false
}

// PrintedLeft is how long the sheet leaves to a chamber: the hours of the row for the highest
// temperature of its log, less what has gone since its beginning; 0 where they are over. It
// never leaves more than the us set itself does, and less where the chamber was cooler
// before. It is false where the sheet has no row. The error is ErrLog.
func PrintedLeft(l Log) (left time.Duration, ok bool, err error) {
	if err := l.check(); err != nil {
		return 0, false, err
	}
	row, ok := Printed(l.highest())
	return max(0, row.Within-(l[len(l)-1].After-l[0].After)), ok, nil
}
