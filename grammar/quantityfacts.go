package grammar

import (
	"slices"
	"strings"
	"time"

	"salthand/cure"
)

// bare is a number without a unit: of a day, a pH, or of nothing.
func (t *telling) bare(i int, n number) {
	v := n.times(1)
	before := t.word(i - 1)
	switch {
	case t.kind(i-1) == periodKind && t.value(i-1) == "day" || before == "dia" || before == "jour":
		t.Age = cure.Typed(time.Duration(v * 24 * float64(time.Hour)))
	case (v == 1 || v == 2) && t.contrasted(i) && len(t.Meant) == 0: // "cure 2 au lieu de 1"
		t.Meant = append(t.Meant, Amount{Kind: map[bool]cure.AgentKind{true: cure.No1, false: cure.No2}[v == 1]})
	case t.acid(i) && v <= 14:
		t.PH = cure.Typed(PH(v))
	case t.kind(i-1) == injectKind || t.kind(i-2) == injectKind:
		t.Pumps = append(t.Pumps, cure.Fraction(n.times(0.01)))
	case t.endAt(i):
	case t.byParts() && t.put(t.subjectAt(i+1), cure.Gram(v)): // "brine 1200 h2o 130 salt 36 cure #1, pump 10%", "mix of 1000 salt 60 cure": parts by weight
		t.take(i, t.subjectAt(i+1).next)
	default:
		t.Numbers = append(t.Numbers, Part(v))
	}
}

// acid reports whether the number at toks[i] is a pH: "ph 5.6", "ph of salami still 5.6".
func (t *telling) acid(i int) bool {
	for j := i - 1; j >= max(0, i-4); j-- {
		if t.word(j) == "ph" {
			return true
		}
		if t.kind(j) == numberKind {
			return false
		}
	}
	return false
}

// byParts reports whether the line is about a pickle to be pumped, or about a mix: what is
// given of it without a unit are parts by weight.
func (t *telling) byParts() bool {
	for i := range t.toks {
		if t.kind(i) == injectKind || mixes[t.word(i)] {
			return true
		}
	}
	return false
}

// parts reads "450/425/75": the scanner leaves a number, a mark and a number.
func (t *telling) parts(i int) int {
	n := 0
	var out []Part
	for j := i; t.kind(j) == numberKind; j += 2 {
		for _, one := range strings.Split(t.value(j), "/") {
			v, ok := readNumber(strings.TrimSpace(one))
			if !ok {
				return 0
			}
			out = append(out, Part(v.times(1)))
		}
		n = j + 1 - i
		if t.kind(j+1) != oddKind || t.value(j+1) != "/" {
			break
		}
	}
	if len(out) < 3 || t.Parts != nil {
		return 0
	}
	t.Parts = out
	return n
}

// weight reads "3 lb 5 oz" and what it is of.
func (t *telling) weight(i int) int {
	end := i + 2
	p := part{Number: t.value(i), Mass: t.value(i + 1)}
	if t.kind(i+2) == numberKind && t.kind(i+3) == massKind && (p.Mass == "lb" && t.value(i+3) == "oz" || p.Mass == "kg" && t.value(i+3) == "g" && t.joined(i)) {
		p.Small, p.Ounces, end = t.value(i+2), t.value(i+3), i+4
	}
	g, err := t.mass(p, i, end)
	if err != nil {
		t.doubt(err)
		t.take(i, end)
		return end - i
	}
	if n := t.perVolume(i, end, Amount{Grams: cure.Typed(g)}); n > 0 {
		return n
	}
	if t.word(end) == "off" || cutAway[t.word(i-1)] { // "trimmed 600 g off the belly"
		t.take(i, end)
		t.Off = cure.Typed(g)
		return end - i
	}
	s := t.of(i, end)
	if s.of == "cure" && t.subjectAt(end).of != "cure" && g >= least { // "double dosed 15 lb of kielbasa with cure": so much cure is no dose
		s = subject{next: end}
	}
	if t.isFor(i) && g >= least && (t.cureBefore(i) || t.pickleBefore(i)) && t.otherMeat(i, end) { // "the cure for 8 kg in 5 kg of loin"
		t.take(i, end)
		t.For = cure.Typed(g)
		return end - i
	}
	t.take(i, max(end, s.next))
	if s.of == "cure" && s.next == end && g >= least { // "cure for 40 lb"
		if t.isFor(i) {
			t.For = cure.Typed(g)
		} else {
			t.Meat.Pieces = append(t.Meat.Pieces, g)
		}
		return end - i
	}
	if s.of == "cure" && t.contrasted(i) { // "0.25 g instead of 2.5 g cure"
		s.amount.Grams = cure.Typed(g)
		t.Meant = append(t.Meant, s.amount)
		return max(end, s.next) - i
	}
	switch {
	case s.of == "" && len(t.Amounts) > 0 && g < least && (again[t.word(i-1)] || again[t.word(end)]): // "then another 8 g"
		t.Again = cure.Typed(t.Again.Value + g)
	case !t.put(s, g):
		t.Loose = append(t.Loose, g)
		if t.cardSays(i) {
			t.Card = cure.Typed(g)
		}
	}
	return max(end, s.next) - i
}

// What is said beside a weight that went in on top of another.
var again = setOf("another", "extra", "again", "more", "otro", "otra", "otros", "otras", "mas", "encore", "autre", "autres")

// cardSays reports whether the weight at toks[i] is what the card says: "the card said 7.5 g".
func (t *telling) cardSays(i int) bool {
	if !betweenThem[t.word(i-1)] {
		return false
	}
	for j := i - 2; j >= max(0, i-3); j-- {
		if cards[t.word(j)] {
			return true
		}
	}
	return false
}

// What kitchens call the card that a dose stands on.
var cards = setOf("card", "bot", "recipe", "sheet", "tarjeta", "receta", "ficha", "carte", "fiche", "recette")

// What is said before a weight that was cut away.
var cutAway = setOf("trimmed", "removed", "recorte", "recortamos", "pare", "enleve", "retire")

// pieces reads "3 x 1.4 kg".
func (t *telling) pieces(i int) int {
	n, ok := readNumber(t.value(i))
	g, err := t.mass(part{Number: t.value(i + 2), Mass: t.value(i + 3)}, i+2, i+4)
	count := n.times(1)
	if !ok || err != nil || count != float64(int(count)) || count < 1 || count > 200 {
		t.doubt(err)
		return 4
	}
	t.take(i, i+4)
	t.Meat.Pieces = append(t.Meat.Pieces, slices.Repeat([]cure.Gram{g}, int(count))...)
	return 4
}

// volume reads "1 gal" as water; a gallon, quart or fluid ounce that wasn't said to be either
// is read both ways.
func (t *telling) volume(i int) int {
	unit := t.value(i + 1)
	n, err := t.number(t.value(i), t.at(i, i+1))
	if err != nil {
		return 2
	}
	g, also, ok := bothVolumes(n, unit)
	if !ok {
		return 2
	}
	t.take(i, i+2)
	t.Liquid = cure.Typed(g + t.Liquid.Value)
	if also > 0 {
		t.Imperial = cure.Typed(also + t.Imperial.Value)
	}
	return 2
}

// bothVolumes is a volume of water in grams; also is the imperial reading where the unit has
// two.
func bothVolumes(n number, unit string) (g, also cure.Gram, ok bool) {
	f, plain := factors[unit]
	if !plain {
		us, two := factors["us "+unit]
		if !two {
			return 0, 0, false
		}
		f, also = us, cure.Gram(n.times(factors["imp "+unit]))
	}
	g = cure.Gram(n.times(f))
	return g, also, g <= maxMass
}

// perVolume reads the "per gal" behind an amount of cure in toks[from:to]. 0: there is none.
func (t *telling) perVolume(from, to int, a Amount) int {
	i := to
	if s := t.subjectAt(i); s.of == "cure" {
		quantity := a
		a, i = s.amount, s.next
		a.Grams, a.Spoons = quantity.Grams, quantity.Spoons
	}
	per := t.word(i)
	if per != "per" && per != "/" && per != "por" && per != "par" {
		return 0
	}
	i++
	n := number{digits: "1"}
	if t.kind(i) == numberKind {
		var err error
		if n, err = t.number(t.value(i), t.at(i, i+1)); err != nil {
			return 0
		}
		i++
	}
	e, _ := unitWords.find(words(t.word(i)), false, &t.work)
	if e == nil {
		return 0
	}
	if factor, ok := factors[e.value]; ok && e.kind == massKind && a.Grams.Set() { // "3 g cure per kg", "12 g/100kg"
		share := cure.Fraction(clean(float64(a.Grams.Value) / n.times(factor)))
		if share > 1 {
			return 0
		}
		t.take(from, i+1)
		a.Grams, a.Rate = cure.Given[cure.Gram]{}, cure.Typed(share)
		t.add(from, a)
		return i + 1 - from
	}
	if e.kind != volumeKind {
		return 0
	}
	in, also, ok := bothVolumes(n, e.value)
	if !ok {
		return 0
	}
	t.take(from, i+1)
	t.Rates = append(t.Rates, PerVolume{Of: a, In: in, Also: also})
	return i + 1 - from
}

// measure reads what a spoon in toks[from:to] is of. A spoon of nothing is of cure: that is
// the careful reading.
func (t *telling) measure(from, to int, sp *Spoons) int {
	a := Amount{Spoons: cure.Typed(*sp)}
	if n := t.perVolume(from, to, a); n > 0 {
		return n
	}
	s := t.of(from, to)
	if s.of != "cure" && s.of != "" {
		if s.of == "liquid" && sp.Unit == "cup" {
			t.Liquid = cure.Typed(cure.Gram(sp.Count)*cup + t.Liquid.Value)
		}
		s.next = to
		if s.of == "salt" || s.of == "sugar" || s.of == "liquid" {
			t.take(from, to)
			return to - from
		}
	}
	s.amount.Spoons = a.Spoons
	t.take(from, max(to, s.next))
	t.add(from, s.amount)
	return max(to, s.next) - from
}

// level reads a per cent, a g/kg or a ppm, and what it is of.
func (t *telling) level(i int, n number) int {
	unit := t.value(i + 1)
	if unit == "ppm" {
		t.Targets = append(t.Targets, cure.PPM(n.times(1)))
		t.take(i, i+2)
		return 2
	}
	share := cure.Fraction(n.times(shareOf(unit)))
	if share > 1 {
		return 2
	}
	if i > 0 && isSalt(t.kind(i-1)) && !t.used[i-1] { // "nitrited salt 0.6%": its strength
		if a, next := t.cureAt(i - 1); next > i {
			t.take(i-1, next)
			t.add(i-1, a)
			return next - i
		}
	}
	s := t.of(i, i+2)
	switch s.of {
	case "cure":
		strength := cure.Typed(share)
		if s.amount.Kind == cure.NitritedSalt && (!s.amount.Nitrite.Set() || s.amount.Nitrite == strength) && !doubtful(cure.NitritedSalt, strength, cure.Given[cure.Fraction]{}) { // "0.6% nitrited salt"
			s.amount.Nitrite = strength
			t.Amounts = append(t.Amounts, s.amount)
			break
		}
		s.amount.Rate = cure.Typed(share)
		if t.contrasted(i) && len(t.Shares) > 0 { // "0.025% instead of 0.25% cure 1"
			t.Meant = append(t.Meant, s.amount)
			break
		}
		t.Amounts = append(t.Amounts, s.amount)
	case "salt":
		t.SaltShare = cure.Typed(share)
	case "sugar":
		t.SugarShare = cure.Typed(share)
	case "pump":
		t.Pumps = append(t.Pumps, share)
	default:
		s.next = i + 2
		t.Shares = append(t.Shares, share)
	}
	t.take(i, max(i+2, s.next))
	return max(i+2, s.next) - i
}
