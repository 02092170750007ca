package grammar

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure"
)

// A quantity as somebody types it, and what it is: an exact number, in g, ml, mm, °C, h or as
// a fraction, reckoned here from the numbers that were drawn and never by the grammar.
type quantity struct {
	text string
	is   *big.Rat
}

// unit is a way of writing a unit, and its size.
type unitWay struct {
	ways []string
	size string
}

// Source of the sizes: NIST Handbook 44 (2024), Appendix C, all exact; the imperial ones UK
// Weights and Measures Act 1985, Schedule 1, exact (both from memory).
var (
	massWays = []unitWay{{[]string{"kg", "kgs", "kilo", "kilos", "kilogram", "kilogramos"}, "1000"}, {[]string{"g", "gr", "grams", "gramos", "grammes"}, "1"},
		{[]string{"lb", "lbs", "pounds", "#", "libras"}, "453.59237"}, {[]string{"oz", "ozs", "ounces", "onzas", "onces"}, "28.349523125"}}
	volumeWays = []unitWay{{[]string{"l", "ltr", "litres", "litros"}, "1000"}, {[]string{"ml", "cc"}, "1"}, {[]string{"cl"}, "10"}, {[]string{"dl"}, "100"},
		{[]string{"us gal", "US gallons"}, "3785.411784"}, {[]string{"imp gal", "imperial gallons"}, "4546.09"}, {[]string{"us qt"}, "946.352946"}, {[]string{"imp qt"}, "1136.5225"},
		{[]string{"us pt", "us pints"}, "473.176473"}, {[]string{"imp pt"}, "568.26125"}, {[]string{"us fl oz"}, "29.5735295625"}, {[]string{"imp fl oz"}, "28.4130625"}}
	lengthWays = []unitWay{{[]string{"mm"}, "1"}, {[]string{"cm", "centimetres"}, "10"}, {[]string{"in", "inch", "inches", `"`, "''", "pulgadas", "pouces"}, "25.4"}}
	spanWays   = []unitWay{{[]string{"days", "d", "day", "días", "jours"}, "24"}, {[]string{"h", "hours", "horas", "heures"}, "1"}, {[]string{"weeks", "wk", "semanas", "semaines"}, "168"}}
)

var vulgarFractions = []struct {
	text        string
	top, bottom int64
}{{"¼", 1, 4}, {"½", 1, 2}, {"¾", 3, 4}, {"⅓", 1, 3}, {"⅔", 2, 3}, {"⅛", 1, 8}, {"⅜", 3, 8}, {"⅝", 5, 8}, {"⅞", 7, 8}}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("no number: " + s)
	}
	return r
}

func product(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

// decimals draws a number with a point or a comma, up to limit, that has one reading: three
// digits behind the mark would be thousands too.
func decimals(limit int) *rapid.Generator[quantity] {
	return rapid.Custom(func(t *rapid.T) quantity {
		whole := rapid.IntRange(0, limit-1).Draw(t, "whole")
		digits := rapid.SampledFrom([]int{0, 1, 2, 4}).Draw(t, "digits")
		if digits == 0 {
			return quantity{fmt.Sprint(whole + 1), new(big.Rat).SetInt64(int64(whole + 1))}
		}
		part := rapid.IntRange(1, int(math.Pow10(digits))-1).Draw(t, "part")
		mark := rapid.SampledFrom([]string{".", ","}).Draw(t, "mark")
		behind := fmt.Sprintf("%0*d", digits, part)
		text := fmt.Sprint(whole) + mark + behind
		if whole == 0 && mark == "." && rapid.Bool().Draw(t, "bare point") {
			text = "." + behind
		}
		return quantity{text, rat(fmt.Sprint(whole) + "." + behind)}
	})
}

// fractions draws "4 1/2", "4-1/2", "4½", "3/4".
func fractions(limit int) *rapid.Generator[quantity] {
	return rapid.Custom(func(t *rapid.T) quantity {
		whole := rapid.IntRange(0, limit-1).Draw(t, "whole")
		f := rapid.SampledFrom(vulgarFractions).Draw(t, "fraction")
		text, between := f.text, []string{"", " "}
		if rapid.Bool().Draw(t, "slash") {
			text, between = fmt.Sprintf("%d/%d", f.top, f.bottom), []string{" ", "-"}
		}
		if whole > 0 {
			text = fmt.Sprint(whole) + rapid.SampledFrom(between).Draw(t, "between") + text
		}
		is := new(big.Rat).Add(new(big.Rat).SetInt64(int64(whole)), big.NewRat(f.top, f.bottom))
		return quantity{text, is}
	})
}

func numbers(limit int) *rapid.Generator[quantity] {
	return rapid.OneOf(decimals(limit), fractions(limit))
}

// glue is what may stand between a number and its unit.
func glue(t *rapid.T) string { return rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "glue") }

// measured draws a number in one of the units.
func measured(ways []unitWay, limit int) *rapid.Generator[quantity] {
	return rapid.Custom(func(t *rapid.T) quantity {
		n := numbers(limit).Draw(t, "number")
		u := rapid.SampledFrom(ways).Draw(t, "unit")
		return quantity{n.text + glue(t) + rapid.SampledFrom(u.ways).Draw(t, "way"), product(n.is, rat(u.size))}
	})
}

// pieces draws the weights of the meat.
func pieces(t *rapid.T) (text string, each []*big.Rat) {
	pound, ounce := rat("453.59237"), rat("28.349523125")
	one := measured(massWays, 60)
	switch rapid.IntRange(0, 6).Draw(t, "form") {
	case 0: // "3 lb 5 oz", "2 lb 3 5/8 oz", "9# 11 oz"
		lb, oz := rapid.Int64Range(1, 60).Draw(t, "lb"), numbers(15).Draw(t, "oz")
		text = fmt.Sprint(lb) + glue(t) + rapid.SampledFrom([]string{"lb", "lbs", "#", "lb."}).Draw(t, "way") + " " + oz.text + glue(t) + "oz"
		return text, []*big.Rat{new(big.Rat).Add(product(big.NewRat(lb, 1), pound), product(oz.is, ounce))}
	case 1: // "10 lb 15", "3lb12"
		lb, oz := rapid.Int64Range(1, 60).Draw(t, "lb"), rapid.Int64Range(1, 15).Draw(t, "oz")
		text = fmt.Sprintf(rapid.SampledFrom([]string{"%d lb %d", "%dlb%d", "%dlbs %d"}).Draw(t, "way"), lb, oz)
		return text, []*big.Rat{new(big.Rat).Add(product(big.NewRat(lb, 1), pound), product(big.NewRat(oz, 1), ounce))}
	case 2: // "2kg500"
		kg, g := rapid.Int64Range(1, 60).Draw(t, "kg"), rapid.Int64Range(1, 999).Draw(t, "g")
		return fmt.Sprintf("%dkg%03d", kg, g), []*big.Rat{big.NewRat(kg*1000+g, 1)}
	case 3: // "3 x 1.4 kg"
		n, w := rapid.IntRange(1, 20).Draw(t, "count"), one.Draw(t, "weight")
		for range n {
			each = append(each, w.is)
		}
		return fmt.Sprint(n) + rapid.SampledFrom([]string{" x ", "x", " × ", " pieces of ", " piezas de "}).Draw(t, "times") + w.text, each
	case 4: // "2.1 + 3.3 kg"
		u := rapid.SampledFrom(massWays[:2]).Draw(t, "unit")
		var texts []string
		for range rapid.IntRange(2, 5).Draw(t, "pieces") {
			n := decimals(60).Draw(t, "number")
			texts, each = append(texts, n.text), append(each, product(n.is, rat(u.size)))
		}
		return strings.Join(texts, rapid.SampledFrom([]string{" + ", "+"}).Draw(t, "plus")) + " " + u.ways[0], each
	case 5: // "2.1 kg + 3 lb"
		var texts []string
		for range rapid.IntRange(2, 4).Draw(t, "pieces") {
			w := one.Draw(t, "weight")
			texts, each = append(texts, w.text), append(each, w.is)
		}
		return strings.Join(texts, " + "), each
	}
	w := one.Draw(t, "weight")
	return w.text, []*big.Rat{w.is}
}

// rate draws a rate of no. 1 on the meat, as a fraction.
func rate(t *rapid.T) quantity {
	switch rapid.IntRange(0, 3).Draw(t, "rate") {
	case 0:
		n := decimals(3).Draw(t, "per cent")
		return quantity{n.text + "%" + " no 1", product(n.is, big.NewRat(1, 100))}
	case 1:
		n := decimals(30).Draw(t, "g/kg")
		return quantity{rapid.SampledFrom([]string{n.text + " g/kg no 1", n.text + "g per kg #1", "no 1 " + n.text + " g/kg"}).Draw(t, "way"), product(n.is, big.NewRat(1, 1000))}
	case 2: // an ounce is a sixteenth of a pound
		oz, lb := numbers(4).Draw(t, "oz"), rapid.Int64Range(10, 200).Draw(t, "lb")
		way := rapid.SampledFrom([]string{"%[1]s oz per %[2]d lb no 1", "%[1]s oz no 1 per %[2]d lb", "%[1]soz/%[2]d lbs no 1", "no 1, %[1]s oz per %[2]d pounds", "%[1]s oz #1 per %[2]d# "}).Draw(t, "way")
		return quantity{strings.TrimSpace(fmt.Sprintf(way, oz.text, lb)), product(oz.is, big.NewRat(1, 16*lb))}
	}
	g, kg := decimals(20).Draw(t, "g"), rapid.Int64Range(1, 9).Draw(t, "kg")
	return quantity{fmt.Sprintf("%s g no 1 per %d kg", g.text, kg), product(g.is, big.NewRat(1, 1000*kg))}
}

// anyCase draws a phrase in other letters, big or small; no letter of it may be a bare "t".
func anyCase(t *rapid.T, s string) string {
	switch rapid.IntRange(0, 3).Draw(t, "case") {
	case 0:
		return strings.ToUpper(s)
	case 1:
		var out strings.Builder
		for i, c := range s {
			if i%3 == 0 {
				out.WriteString(strings.ToUpper(string(c)))
				continue
			}
			out.WriteRune(c)
		}
		return out.String()
	}
	return s
}

// sameNumber reports whether a value is what was typed, to the 14 digits that a float64 surely keeps.
func sameNumber(got float64, want *big.Rat) bool {
	w, _ := want.Float64()
	return math.Abs(got-w) <= 1e-14*math.Abs(w)
}

// Whatever is typed in one of the notations that have one reading is read as just that.
func TestNotations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weight, each := pieces(t)
		head := weight + rapid.SampledFrom([]string{" belly", " of pork belly", " PANCETA", " de poitrine"}).Draw(t, "cut")
		clauses := []string{head}
		say := func(text string) { clauses = append(clauses, text) }
		draw := func(name string) bool { return rapid.Bool().Draw(t, name) }

		var water, pump, thick, salt, share, heat, hours *big.Rat
		ppm := 0
		switch rapid.IntRange(0, 2).Draw(t, "method") {
		case 0:
			say("dry rub")
		case 1:
			v := measured(volumeWays, 40).Draw(t, "water")
			say("brine " + v.text)
			water = v.is
		default:
			n := decimals(30).Draw(t, "pump")
			say(rapid.SampledFrom([]string{"inject " + n.text + "%", n.text + "% pump", "pump " + n.text + " %"}).Draw(t, "way"))
			pump = product(n.is, big.NewRat(1, 100))
		}
		if draw("days") {
			n, u := rapid.Int64Range(1, 60).Draw(t, "n"), rapid.SampledFrom(spanWays).Draw(t, "unit")
			say(fmt.Sprint(n) + glue(t) + rapid.SampledFrom(u.ways).Draw(t, "way"))
			hours = product(big.NewRat(n, 1), rat(u.size))
		}
		if draw("thick") {
			v := measured(lengthWays, 30).Draw(t, "length")
			say(v.text + rapid.SampledFrom([]string{"", " thick"}).Draw(t, "word"))
			thick = v.is
		}
		if draw("salt") {
			n := decimals(6).Draw(t, "salt")
			say(rapid.SampledFrom([]string{n.text + "% salt", "salt " + n.text + "%", n.text + " per cent salt", n.text + "% sal", n.text + " % sel"}).Draw(t, "way"))
			salt = product(n.is, big.NewRat(1, 100))
		}
		switch rapid.IntRange(0, 2).Draw(t, "cure") {
		case 0:
			r := rate(t)
			say(r.text)
			share = r.is
		case 1:
			ppm = rapid.IntRange(1, 200).Draw(t, "ppm")
			say(fmt.Sprint(ppm) + glue(t) + "ppm")
		}
		if draw("heat") {
			n, unit := decimals(40).Draw(t, "degrees"), rapid.SampledFrom([]string{"c", "f", "°c", "° f", " celsius", " deg f"}).Draw(t, "unit")
			say(rapid.SampledFrom([]string{"at ", ""}).Draw(t, "at") + n.text + unit)
			heat = n.is
			if strings.HasSuffix(unit, "f") {
				heat = product(new(big.Rat).Sub(heat, big.NewRat(32, 1)), big.NewRat(5, 9))
			}
		}
		clauses = rapid.Permutation(clauses).Draw(t, "order")
		phrase := anyCase(t, strings.Join(clauses, rapid.SampledFrom([]string{", ", ",\n", "; "}).Draw(t, "comma")))

		p, err := Parse(phrase, Setting{})
		d, ok := p.Command.(Dose)
		if err != nil || !ok {
			t.Fatalf("%q: %v", phrase, err)
		}
		if d.Cut != "pork belly" || len(d.Pieces) != len(each) {
			t.Fatalf("%q: %q in %d pieces, want %d", phrase, d.Cut, len(d.Pieces), len(each))
		}
		for i, want := range each {
			if !sameNumber(float64(d.Pieces[i]), want) {
				t.Fatalf("%q: piece %d is %v g, want %s", phrase, i, d.Pieces[i], want.FloatString(9))
			}
		}
		for _, x := range []struct {
			name string
			set  bool
			got  float64
			want *big.Rat
		}{
			{"water", d.Water.Set(), float64(d.Water.Value), water},
			{"pump", d.Pump.Set(), float64(d.Pump.Value), pump},
			{"thickness", d.Thickness.Set(), float64(d.Thickness.Value), thick},
			{"salt", d.Salt.Set(), float64(d.Salt.Value), salt},
			{"rate", d.Rate.Set(), float64(d.Rate.Value), share},
			{"hours", d.Days.Set(), d.Days.Value.Hours(), hours},
		} {
			if x.set != (x.want != nil) || x.set && !sameNumber(x.got, x.want) {
				t.Fatalf("%q: %s is %v (said: %v), want %v", phrase, x.name, x.got, x.set, x.want)
			}
		}
		if d.Target.Set() != (ppm > 0) || d.Target.Value != cure.PPM(ppm) {
			t.Fatalf("%q: %v ppm, want %d", phrase, d.Target.Value, ppm)
		}
		if d.Temperature.Set() != (heat != nil) {
			t.Fatalf("%q: the temperature is said: %v", phrase, d.Temperature.Set())
		}
		if heat != nil { // a difference of numbers near one another keeps fewer digits
			w, _ := heat.Float64()
			if math.Abs(float64(d.Temperature.Value)-w) > 1e-12 {
				t.Fatalf("%q: %v °C, want %v", phrase, d.Temperature.Value, w)
			}
		}
		sameAgainRapid(t, phrase, d)
	})
}

// sameAgainRapid checks that the canonical phrase is read back as the same weights.
func sameAgainRapid(t *rapid.T, phrase string, d Dose) {
	text := Canonical(d)
	if len(text) > maxText {
		return
	}
	p, err := Parse(text, Setting{})
	again, ok := p.Command.(Dose)
	if err != nil || !ok || len(again.Pieces) != len(d.Pieces) {
		t.Fatalf("%q: canonical %q: %v", phrase, text, err)
	}
	for i := range d.Pieces {
		if again.Pieces[i] != d.Pieces[i] {
			t.Fatalf("%q: canonical %q: piece %d is %v, was %v", phrase, text, i, again.Pieces[i], d.Pieces[i])
		}
	}
}

// Whatever has two readings, or was not weighed, is asked back and never reckoned with.
func TestTwoReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := measured(massWays[:2], 60).Draw(t, "weight")
		low, high := rapid.IntRange(1, 40).Draw(t, "low"), rapid.IntRange(41, 90).Draw(t, "high")
		unit := rapid.SampledFrom(massWays).Draw(t, "unit")
		way := rapid.SampledFrom(unit.ways).Draw(t, "way")
		weight := rapid.SampledFrom([]string{
			fmt.Sprintf("%d-%d %s", low, high, way), fmt.Sprintf("%d to %d%s", low, high, way), fmt.Sprintf("%d or %d %s", low, high, way), fmt.Sprintf("%d – %d %s", low, high, way),
			"about " + w.text, "~" + w.text, "roughly " + w.text, w.text + " or so", "unos " + w.text, "environ " + w.text,
			fmt.Sprintf("%d.%03d %s", 1+low%9, high, way), fmt.Sprintf("%d,%03d %s", 1+low%9, high, way), fmt.Sprintf("%d kg %03d", low, 100+high),
			fmt.Sprintf("%d pieces %s", low+1, w.text), fmt.Sprintf("%d slabs %s", low+1, w.text), fmt.Sprintf("%d t", low), fmt.Sprintf("%d T", low), fmt.Sprintf("%d livres", low),
			fmt.Sprintf("%d# 1", low), fmt.Sprintf("%d#2", low),
		}).Draw(t, "way")
		clauses := []string{weight + " belly", "dry rub", "7 days"}
		if rapid.Bool().Draw(t, "figure") {
			clauses = []string{"check 8 g no 1 on " + weight + " belly"}
		}
		phrase := strings.Join(clauses, ", ")
		p, err := Parse(phrase, Setting{})
		var q *Question
		if !errors.As(err, &q) {
			t.Fatalf("%q: no question but %T, %v", phrase, p.Command, err)
		}
	})
}
