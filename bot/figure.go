package bot

import (
	"math"
	"strconv"
	"strings"
	"time"

	"salthand/cure"
)

// Figures as cards print them. Nothing here rounds what is computed with.
//
// In every language the point stands before the decimals and the comma between thousands.
// Were the comma a decimal sign for some, one kitchen would read 1,250 g as a kilogram and a
// quarter and another as a gram and a quarter, beside a scale that shows the point.

// mg is a mass as records keep it.
func mg(g cure.Gram) int64 { return int64(math.Round(float64(g) * 1000)) }

// fixed prints x with n digits after the point.
func fixed(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }

// trimmed prints x with at most n digits after the point.
func trimmed(x float64, n int) string {
	s := fixed(x, n)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// grams prints a mass with as many digits as the scale has; scale 0 keeps what is there.
func grams(g, scale cure.Gram) string {
	if scale <= 0 {
		return grouped(trimmed(float64(g), 3)) + " g"
	}
	digits := 0
	for d := float64(scale); digits < 4 && math.Abs(d-math.Round(d)) > 1e-9; d *= 10 {
		digits++
	}
	return grouped(fixed(float64(g), digits)) + " g"
}

// weighed prints a mass of the records that was put on a scale: at least one digit.
func weighed(milligrams int64) string {
	if milligrams%100 != 0 {
		return grams(cure.Gram(milligrams)/1000, 0)
	}
	return grams(cure.Gram(milligrams)/1000, 0.1)
}

// grouped puts commas between thousands.
func grouped(s string) string {
	whole, rest, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	return whole
}

// kilos prints a weight of meat.
func kilos(g cure.Gram) string { return trimmed(float64(g)/1000, 3) + " kg" }

// percent prints a fraction as per cent with at most n digits.
func percent(f cure.Fraction, n int) string { return trimmed(100*float64(f), n) + " %" }

// ppm prints a concentration: two digits where they are exact, else one.
func ppm(p cure.PPM) string {
	if x := float64(p) * 100; math.Abs(x-math.Round(x)) < 1e-6 {
		return trimmed(float64(p), 2) + " ppm"
	}
	return trimmed(float64(p), 1) + " ppm"
}

// days prints a duration in days: to a tenth below three weeks, whole above.
func days(l tongue, d time.Duration) string {
	n := daysOf(d)
	s := trimmed(n, 1)
	if n >= 21 {
		s = fixed(n, 0)
	}
	if s == "1" {
		return l.say("1 day")
	}
	return l.say("%s days", s)
}

// daysOf is a duration in days.
func daysOf(d time.Duration) float64 { return d.Hours() / 24 }

// span prints a duration as people say it: "2 h", "3 days".
func span(l tongue, d time.Duration) string {
	switch {
	case d >= 48*time.Hour:
		return days(l, d)
	case d >= time.Hour:
		return trimmed(d.Hours(), 1) + " h"
	}
	return trimmed(d.Minutes(), 0) + " min"
}

// day and moment print an instant in the kitchen's zone.
func day(l tongue, t time.Time, zone *time.Location) string {
	t = t.In(zone)
	return weekdayName(l, t.Weekday()) + " " + strconv.Itoa(t.Day()) + " " + monthName(l, t.Month())
}
func moment(l tongue, t time.Time, zone *time.Location) string {
	return day(l, t, zone) + " " + t.In(zone).Format("15:04")
}
