package grammar

import "salthand/cure"

// coldLimit is the temperature that cured and curing meat is kept at or below.
const coldLimit cure.Celsius = 5 // °C, 41 °F; FDA Food Code (secondary)

// warmest is the highest temperature of the line; absolute zero where it has none.
func (f *Facts) warmest() cure.Celsius {
	top := cure.Celsius(-273.15)
	for _, c := range f.Temperatures {
		top = max(top, c)
	}
	return top
}

// Falling are the weights of a line that tells of one piece twice, first and last: "1140 g ->
// 775 g", and "1120 -> 1064" without a unit, which a cook means in grams. false: it doesn't.
func (f Facts) Falling() (first, last cure.Gram, ok bool) {
	all := append(append([]cure.Gram{}, f.Meat.Pieces...), f.Loose...)
	if len(all) == 0 && len(f.Numbers) > 1 && f.Numbers[0] >= Part(least) && f.Numbers[1] >= Part(least)/4 {
		all = []cure.Gram{cure.Gram(f.Numbers[0]), cure.Gram(f.Numbers[1])}
	}
	if len(all) != 2 {
		return 0, 0, false
	}
	return all[0], all[1], all[1] < all[0] && all[1] > all[0]/4
}

func (f *Facts) fallen() bool {
	_, _, ok := f.Falling()
	return ok
}

// ends are words for an end of a piece, beside which a number is its thickness.
var ends = setOf("end", "ends", "other", "thin", "thick", "side", "lado", "extremo", "punta", "fino", "gruesa", "grueso", "bout", "cote", "mince", "epais", "epaisse")

// endAt reads a bare number at an end of the piece as a thickness, in the unit that another
// thickness of the line has: `3 1/2" one end 1 3/4 other`. false: it is none.
func (t *telling) endAt(i int) bool {
	if !ends[t.word(i-1)] && !ends[t.word(i+1)] {
		return false
	}
	for j := range t.toks {
		if t.toks[j].kind != lengthKind {
			continue
		}
		mm, err := t.length(t.value(i), t.value(j), t.at(i, i+1))
		if err != nil {
			return false
		}
		t.Depths = append(t.Depths, mm)
		return true
	}
	return false
}
