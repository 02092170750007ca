package grammar

import (
	"math"
	"strconv"
	"strings"

	"salthand/cure"
)

// Digits after the point that somebody types: of a metric amount, and of another.
const (
	metricDigits = 3
	otherDigits  = 4
)

// inUnits writes a mass in metric units where it was typed so, else in the first of the
// others that needs few digits for it.
func inUnits(g float64, big, small string, others ...string) string {
	metric := kilos(g, big, small)
	number, _, _ := strings.Cut(metric, " ")
	if _, digits, _ := strings.Cut(number, "."); len(digits) <= metricDigits {
		return metric
	}
	if s, ok := otherUnit(g, others...); ok {
		return s
	}
	return metric
}

// otherUnit writes a mass in the first of the units that needs few digits for it; pounds
// with more than one digit behind the point become pounds and ounces.
func otherUnit(g float64, others ...string) (string, bool) {
	for _, unit := range others {
		for digits := 0; digits <= otherDigits; digits++ {
			if unit == "lb" && digits == 2 {
				if s, ok := poundsAndOunces(g); ok {
					return s, true
				}
			}
			v, err := strconv.ParseFloat(strconv.FormatFloat(g/factors[unit], 'f', digits, 64), 64)
			if err != nil || v == 0 {
				continue
			}
			s := unmistaken(v)
			if n, ok := readNumber(s); ok && n.other == "" && n.times(factors[unit]) == g {
				return s + " " + unit, true
			}
		}
	}
	return "", false
}

// poundsAndOunces writes a mass as "1 lb 10 oz" where that is what it is.
func poundsAndOunces(g float64) (string, bool) {
	lb := math.Floor(g / factors["lb"])
	oz, err := strconv.ParseFloat(strconv.FormatFloat((g-lb*factors["lb"])/factors["oz"], 'f', 3, 64), 64)
	if err != nil || lb < 1 || oz <= 0 || oz >= 16 {
		return "", false
	}
	small := number{digits: plainNumber(oz)}
	whole := number{digits: plainNumber(lb)}
	if clean(whole.times(factors["lb"])+small.times(factors["oz"])) != g {
		return "", false
	}
	return plainNumber(lb) + " lb " + unmistaken(oz) + " oz", true
}

// kilos writes a mass in the bigger unit, with the digits of the smaller one and the point
// moved; in the smaller one where that would read as thousands ("3.215 kg").
func kilos(g float64, big, small string) string {
	whole, rest, _ := strings.Cut(plainNumber(g), ".")
	for len(whole) < 4 {
		whole = "0" + whole
	}
	s := strings.TrimRight(whole[:len(whole)-3]+"."+whole[len(whole)-3:]+rest, "0")
	s = strings.TrimSuffix(s, ".")
	if n, ok := readNumber(s); ok && n.other == "" && g >= 1 {
		return s + " " + big
	}
	return unmistaken(g) + " " + small
}

// unmistaken writes a number that will not read as thousands.
func unmistaken(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if n, ok := readNumber(s); ok && n.other != "" {
		return s + "0"
	}
	return s
}

// plainNumber writes the fewest digits that keep the value.
func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// percentage writes a fraction in per cent with the fewest digits that keep the value.
func percentage(f cure.Fraction) string {
	s := strconv.FormatFloat(float64(f)*100, 'f', -1, 64)
	for digits := 1; digits <= 17; digits++ {
		short := strconv.FormatFloat(float64(f)*100, 'g', digits, 64)
		v, err := strconv.ParseFloat(short, 64)
		if err != nil {
			continue
		}
		plain := strconv.FormatFloat(v, 'f', -1, 64)
		if n, ok := readNumber(plain); ok && cure.Fraction(n.times(0.01)) == f {
			s = plain
			break
		}
	}
	return s + "%"
}

// grammesPerKilo writes a rate so that it can be told from a strength.
func grammesPerKilo(f cure.Fraction) string {
	s := strings.TrimSuffix(percentage(f), "%")
	for digits := 1; digits <= 17; digits++ {
		v, err := strconv.ParseFloat(strconv.FormatFloat(float64(f)*1000, 'g', digits, 64), 64)
		if err != nil {
			continue
		}
		plain := strconv.FormatFloat(v, 'f', -1, 64)
		if n, ok := readNumber(plain); ok && cure.Fraction(n.times(0.001)) == f {
			return plain + " g/kg"
		}
	}
	return s + "%"
}
