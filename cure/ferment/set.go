package ferment

import (
	"time"

	"salthand/cure"
)

// DegreeHour is degrees above the base times hours, in the degrees of its Set.
type DegreeHour float64

// Unit is the degree that a rule set counts in.
type Unit uint8

// The degrees.
const (
	CelsiusHour    Unit = iota // °C·h
	FahrenheitHour             // °F·h
)

func (u Unit) grains() int64 {
	if u == FahrenheitHour {
		return perFahrenheit
	}
	return perCelsius
}

// Set is a rule set: the sum of degree-hours above Base until pH 5.3 has to stay under the
// limit of its band.
type Set struct {
	ID     string // "us", "ca"
	Unit   Unit
	Base   cure.Celsius
	Bands  []Band // from cool to hot
	Source string
	Seen   string // "text", "secondary", "memory, sure", "memory, fairly sure"
}

// Band is the limit for fermentations whose highest temperature lies in it.
type Band struct {
	From   cure.Celsius // to the From of the next band; the first has none
	Above  bool         // From itself still belongs to the band before
	Limit  DegreeHour   // in the unit of the set; the sum has to stay under it
	Source string
	Seen   string
}

// Sets are the rule sets. They do not convert into each other: 90 and 100 °F are 32.2 and
// 37.8 °C, the other set has 33 and 37 °C.
//
// Source: American Meat Institute, good manufacturing practices for fermented dry and
// semi-dry sausage, 1997; University of Wisconsin, fermentation log sheet, 2012; Canadian
// Food Inspection Agency, Meat Hygiene Manual of Procedures, ch. 4.
func Sets() []Set {
	const (
		ami   = "AMI good manufacturing practices 1997, as restated in summaries of the US standard"
		sheet = "AMI good manufacturing practices 1997; the hours of the University of Wisconsin log sheet 2012 (text) agree"
		cfia  = "CFIA Meat Hygiene Manual of Procedures ch. 4"
	)
	return []Set{
		{
			ID: "us", Unit: FahrenheitHour, Base: fahrenheit(60), // 60 °F, AMI 1997 (secondary)
			Bands: []Band{
				{Limit: 1200, Source: ami, Seen: "secondary"},                                         // °F·h below 90 °F
				{From: fahrenheit(90), Limit: 1000, Source: sheet, Seen: "memory, sure"},              // °F·h, 90 to 100 °F
				{From: fahrenheit(100), Above: true, Limit: 900, Source: sheet, Seen: "memory, sure"}, // °F·h above 100 °F
			},
			Source: ami, Seen: "secondary",
		},
		{
			ID: "ca", Unit: CelsiusHour, Base: 15.6, // °C, CFIA (secondary)
			Bands: []Band{
				{Limit: 665, Source: cfia, Seen: "secondary"},                        // °C·h below 33 °C
				{From: 33, Limit: 555, Source: cfia, Seen: "secondary"},              // °C·h, 33 to 37 °C
				{From: 37, Above: true, Limit: 500, Source: cfia, Seen: "secondary"}, // °C·h above 37 °C
			},
			Source: cfia, Seen: "secondary",
		},
	}
}

func fahrenheit(f float64) cure.Celsius { return cure.Celsius((f - 32) * 5 / 9) }

// SetOf is the rule set of a region, "us" or "ca"; false if there is none.
func SetOf(region string) (Set, bool) {
	for _, s := range Sets() {
		if s.ID == region {
			return s, true
		}
	}
	return Set{}, false
}

// Band is the one for a highest temperature.
func (s Set) Band(highest cure.Celsius) Band {
	band := s.Bands[0]
	for _, b := range s.Bands[1:] {
		if at, from := grains(highest), grains(b.From); at > from || at == from && !b.Above {
			band = b
		}
	}
	return band
}

// area is a limit in the terms of Log.area.
func (s Set) area(d DegreeHour) int64 { return int64(float64(d)*2*msPerHour) * s.Unit.grains() }

const msPerHour = 3600_000

// Allowed is when the limit is reached at a constant temperature, rounded down to a
// millisecond; pH 5.3 has to come before. It is false at or below the base, where there is
// no limit, and out of the range of a Reading.
func (s Set) Allowed(at cure.Celsius) (time.Duration, bool) {
	if !sane(at) {
		return 0, false
	}
	return s.last(s.area(s.Band(at).Limit), at)
}

// last is how long an area lasts at a temperature, ten years at most; false where it lasts
// for ever.
func (s Set) last(area int64, at cure.Celsius) (time.Duration, bool) {
	over := grains(at) - grains(s.Base)
	if over <= 0 {
		return 0, false
	}
	return time.Duration(min(area/(2*over), 10*year.Milliseconds())) * time.Millisecond, true
}
