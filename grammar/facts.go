package grammar

import (
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/participle/v2/lexer"

	"salthand/cure"
)

// telling gathers the facts of a line in free words. It walks the tokens once and skips what
// says nothing. An amount is of what stands behind it ("12 g no 1"), else of what stands
// before it ("belly 2.3 kg"), else of nothing.
type telling struct {
	*reading
	Facts
	used []bool // tokens that are part of an amount
}

// facts reads all that the tokens say.
func (r *reading) facts() Facts {
	t := telling{reading: r, used: make([]bool, len(r.toks))}
	for i := range r.toks {
		if r.toks[i].kind == cutKind && t.Meat.Cut == "" {
			t.Meat.Cut = r.toks[i].value
		}
	}
	for i := 0; i < len(r.toks); {
		i += t.fact(i)
	}
	for i := range r.toks {
		t.named(i)
	}
	t.Product = t.product()
	t.settle()
	t.logged()
	return t.Facts
}

func (t *telling) kind(i int) lexer.TokenType { return kindAt(t.toks, i) }

func (t *telling) value(i int) string {
	if i < 0 || i >= len(t.toks) {
		return ""
	}
	return t.toks[i].value
}

func (t *telling) take(from, to int) {
	for i := from; i < to && i < len(t.used); i++ {
		t.used[i] = true
	}
}

// fact reads what begins at toks[i] and returns how many tokens it took, at least one.
func (t *telling) fact(i int) int {
	switch t.kind(i) {
	case spoonKind: // "a tsp", "tsp per 5 lb"
		return t.measure(i, i+1, &Spoons{Count: 1, Unit: t.value(i)})
	case numberKind:
	default:
		return 1
	}
	if n := t.parts(i); n > 0 {
		return n
	}
	if t.cureNumber(i) {
		return 1
	}
	number, err := t.number(t.value(i), t.at(i, i+1))
	if err != nil {
		return 1
	}
	switch t.kind(i + 1) {
	case massKind:
		if t.value(i+1) == "t" && t.subjectAt(i+2).of == "cure" { // "3 T pink salt": a teaspoon, a tablespoon, a tonne
			return t.measure(i, i+2, &Spoons{Count: number.times(1), Unit: "spoon"})
		}
		return t.weight(i)
	case timesKind:
		if t.kind(i+2) == numberKind && t.kind(i+3) == massKind {
			return t.pieces(i)
		}
		if t.kind(i+2) != numberKind { // "2x"
			t.Times = cure.Typed(Part(number.times(1)))
			return 2
		}
	case volumeKind:
		return t.volume(i)
	case percentKind, levelKind, ppmKind:
		return t.level(i, number)
	case spoonKind:
		return t.measure(i, i+2, &Spoons{Count: number.times(1), Unit: t.value(i + 1)})
	case spanKind:
		if d, err := t.reading.span(t.value(i), t.value(i+1), t.at(i, i+2)); err == nil {
			t.Spans = append(t.Spans, d)
		}
		return 2
	case degreeKind:
		if c, err := t.degrees(t.value(i), t.value(i+1), t.at(i, i+2)); err == nil {
			t.Temperatures = append(t.Temperatures, c)
		}
		return 2
	case lengthKind:
		if mm, err := t.length(t.value(i), t.value(i+1), t.at(i, i+2)); err == nil {
			t.Depths = append(t.Depths, mm)
		}
		return 2
	case wordKind:
		if unit := longSpans[t.value(i+1)]; unit != "" {
			if d, err := t.reading.span(t.value(i), unit, t.at(i, i+2)); err == nil {
				t.Spans = append(t.Spans, d)
			}
			return 2
		}
	}
	t.bare(i, number)
	return 1
}

func (t *telling) at(from, to int) stretch {
	return stretch{t.toks[from].start, t.toks[min(to, len(t.toks))-1].end}
}

// bare is a number without a unit: of a day, a pH, or of nothing.
func (t *telling) bare(i int, n number) {
	v := n.times(1)
	before := t.word(i - 1)
	switch {
	case t.kind(i-1) == periodKind && t.value(i-1) == "day" || before == "dia" || before == "jour":
		t.Age = cure.Typed(time.Duration(v * 24 * float64(time.Hour)))
	case (v == 1 || v == 2) && t.contrasted(i) && len(t.Meant) == 0: // "cure 2 au lieu de 1"
		t.Meant = append(t.Meant, Amount{Kind: map[bool]cure.AgentKind{true: cure.No1, false: cure.No2}[v == 1]})
	case (before == "ph" || t.word(i-2) == "ph") && v <= 14:
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

// word is the folded text of a token.
func (t *telling) word(i int) string {
	if i < 0 || i >= len(t.toks) {
		return ""
	}
	return fold(t.text[t.toks[i].start:t.toks[i].end])
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

// subject is what an amount is of.
type subject struct {
	of     string // "meat", "cure", "salt", "sugar", "liquid", "pump", "mix"; "" nothing
	amount Amount // of a cure: its kind and strength
	next   int    // index behind it
}

// subjectAt is the subject that is named at toks[i].
func (t *telling) subjectAt(i int) subject {
	s := subject{next: i + 1}
	if i < 0 {
		return s
	}
	switch t.kind(i) {
	case cutKind:
		s.of = "meat"
	case agentKind, vagueKind, ionKind:
		s.of = "cure"
		s.amount, s.next = t.cureAt(i)
	case stuffKind:
		s.of = t.value(i)
	case waterKind, brineKind:
		s.of = "liquid"
	case injectKind:
		s.of = "pump"
	case wordKind:
		switch w := t.value(i); {
		case w == cura:
			s.of = "cure"
			s.amount, s.next = t.cureAt(i)
		case w == "sug" || w == "dextrose" || w == "dextrosa":
			s.of = "sugar"
		case liquids[w]:
			s.of = "liquid"
		case mixes[w]:
			s.of = "mix"
		case w == "pompe" || w == "pompage":
			s.of = "pump"
		case meats[w] || products[w] != "":
			s.of = "meat"
		}
	}
	return s
}

// Words for meat that is no cut, for liquids that are no water, and for mixes.
var (
	meats = setOf("meat", "links", "link", "tubs", "bird", "birds", "piece", "pieces", "slab", "slabs", "chops", "deer", "venison", "links", "leg", "legs", "turkey", "trial", "batch",
		"carne", "pieza", "piezas", "pavo", "viande", "piece", "pieces", "dinde", "morceau", "morceaux",
		"kielbasa", "brats", "bratwurst", "andouille", "sticks", "snack", "soppressata", "sopressata", "salchichas", "salchicha", "longaniza", "saucisses", "saucisse", "lard", "echine", "lomo", "tocino", "lonza", "cecina")
	liquids = setOf("marinade", "liquid", "liquids", "sauce", "hot", "soy", "teriyaki", "syrup", "bourbon", "wine", "beer", "pickle", "vinegar", "juice", "h2o", "stock",
		"marinada", "liquido", "vino", "vinagre", "cerveza", "vin", "vinaigre", "biere", "liquide", "soja")
	mixes = setOf("mix", "blend", "rub", "kit", "premix", "mezcla", "melange")
)

// cureAt is the curing salt named at toks[i] with the strength beside it, and the index
// behind it. A vague name has the kind NoAgent.
func (t *telling) cureAt(i int) (Amount, int) {
	a, next := Amount{}, i+1
	switch t.kind(i) {
	case wordKind, vagueKind:
		if t.cureNumber(next) {
			a.Kind = map[string]cure.AgentKind{"1": cure.No1, "2": cure.No2}[t.value(next)]
			return a, next + 1
		}
	}
	switch t.kind(i) {
	case agentKind:
		a.Kind = agentKinds[t.value(i)]
	case ionKind:
		if t.value(i) == "nitrite" {
			a.Kind = cure.PureNitrite
		} else {
			a.Kind = cure.PureNitrate
		}
	default:
		switch cureNames[t.value(i)] {
		case saltpetre:
			a.Kind = cure.Saltpetre
		case vegetablePowder:
			a.Kind = cure.VegetablePowder
		}
	}
	if t.kind(next) == numberKind && t.kind(next+1) == percentKind && !isSalt(t.kind(next+2)) && t.kind(next+2) != stuffKind {
		if n, err := t.number(t.value(next), t.at(next, next+1)); err == nil {
			share := cure.Typed(cure.Fraction(n.times(0.01)))
			if a.Kind == cure.NoAgent || !doubtful(a.Kind, share, cure.Given[cure.Fraction]{}) {
				a.Nitrite = share
				next += 2
			}
		}
	}
	return a, next
}

// of is the subject that an amount in toks[from:to] is of: named behind it, or before it.
func (t *telling) of(from, to int) subject {
	if s := t.subjectAt(from - 1); s.of == "pump" { // "pump 10% ham"
		s.next = to
		return s
	}
	for i := to; i < len(t.toks) && i <= to+1; i++ {
		if s := t.subjectAt(i); s.of != "" {
			return s
		}
		if t.kind(i) != wordKind {
			break
		}
	}
	for i := from - 1; i >= 0 && i >= from-2 && !t.used[i]; i-- {
		if strings.ContainsAny(t.text[t.toks[i].end:t.toks[i+1].start], "?!") { // another sentence
			break
		}
		if s := t.subjectAt(i); s.of != "" && s.of != "pump" {
			s.next = to
			return s
		}
		if k := t.kind(i); k != wordKind && k != atKind && k != thickKind {
			break
		}
	}
	return subject{next: to}
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
	s := t.of(i, end)
	if s.of == "cure" && s.next > end+1 && g >= least { // "double dosed 15 lb of kielbasa with cure": so much cure is no dose
		s = subject{next: end}
	}
	if t.isFor(i) && g >= least && t.cureBefore(i) && t.otherMeat(i, end) { // "the cure for 8 kg in 5 kg of loin"
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
	if !t.put(s, g) {
		t.Loose = append(t.Loose, g)
	}
	return max(end, s.next) - i
}

// isFor reports whether "for" stands right before toks[i].
func (t *telling) isFor(i int) bool {
	if i == 0 {
		return false
	}
	switch strings.TrimSpace(fold(t.text[t.toks[i-1].end:t.toks[i].start])) {
	case "for", "para", "pour":
		return true
	}
	return t.word(i-1) == "for" || t.word(i-1) == "para" || t.word(i-1) == "pour"
}

// put notes a weight of a subject; false: of none.
func (t *telling) put(s subject, g cure.Gram) bool {
	switch s.of {
	case "meat":
		t.Meat.Pieces = append(t.Meat.Pieces, g)
	case "cure":
		s.amount.Grams = cure.Typed(g)
		t.Amounts = append(t.Amounts, s.amount)
	case "salt":
		t.Salt = cure.Typed(g + t.Salt.Value)
	case "sugar":
		t.Sugar = cure.Typed(g + t.Sugar.Value)
	case "liquid":
		t.Liquid = cure.Typed(g + t.Liquid.Value)
	default:
		return false
	}
	return true
}

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
		s.amount.Rate = cure.Typed(share)
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

// named notes what toks[i] names where no amount took it.
func (t *telling) named(i int) {
	if t.used[i] {
		return
	}
	switch t.kind(i) {
	case wordKind:
		if t.value(i) == cura {
			a, next := t.cureAt(i)
			t.take(i, next)
			t.add(i, a)
		}
	case agentKind, vagueKind, ionKind:
		a, next := t.cureAt(i)
		t.take(i, next)
		t.add(i, a)
	case methodKind:
		if !t.Meat.Method.Set() {
			t.Meat.Method = cure.Typed(methodKinds[t.value(i)])
		}
	case brineKind:
		if !t.Meat.Method.Set() {
			t.Meat.Method = cure.Typed(cure.CoverBrine)
		}
	case flagKind:
		switch t.value(i) {
		case "skin on", "skin off":
			t.Meat.SkinOn = cure.Typed(t.value(i) == "skin on")
		}
	}
}

// add notes a curing salt that is named at toks[at]: as what went in, or, behind "not" or
// "instead of", as what was meant.
func (t *telling) add(at int, a Amount) {
	if t.contrasted(at) {
		t.Meant = append(t.Meant, a)
		return
	}
	t.Amounts = append(t.Amounts, a)
}

// contrasted reports whether "not" or "instead of" stands before toks[at].
func (t *telling) contrasted(at int) bool {
	for i := at - 1; i >= max(0, at-2); i-- {
		if contrasts[t.word(i)] || t.word(i) == "been" && t.said("should have been") {
			return true
		}
	}
	return false
}

// product is the first word for what is made of the meat.
func (t *telling) product() string {
	for i := range t.toks {
		w := t.word(i)
		if two := products[w+" "+t.word(i+1)]; two != "" {
			return two
		}
		if p := products[w]; p != "" {
			return p
		}
	}
	return ""
}

func (t *telling) doubt(err error) {
	if q, ok := err.(*Question); ok {
		t.Doubts = append(t.Doubts, q)
	}
}

// least is the smallest weight that is taken for meat where nothing says what it is of:
// common practice, no source.
const least cure.Gram = 200

// settle makes the first loose weight that can be a piece of meat the meat, where none was
// named. The card says what was read.
func (f *Facts) settle() {
	if len(f.Meat.Pieces) > 0 {
		return
	}
	for i, g := range f.Loose {
		if g >= least {
			f.Meat.Pieces = []cure.Gram{g}
			f.Loose = slices.Delete(slices.Clone(f.Loose), i, i+1)
			return
		}
	}
}
