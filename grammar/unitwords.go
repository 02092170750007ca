package grammar

import "github.com/alecthomas/participle/v2/lexer"

// units are looked up only right after a number.
var units = []struct {
	kind lexer.TokenType
	said
}{
	{massKind, said{"g", []string{"g", "gr", "gram", "grams", "gramme", "grammes"}}},
	{massKind, said{"kg", []string{"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"}}},
	{massKind, said{"lb", []string{"lb", "lbs", "pound", "pounds"}}},
	{massKind, said{"oz", []string{"oz", "ounce", "ounces"}}},
	{massKind, said{"oz weight", []string{"oz weight", "oz by weight", "oz of weight"}}},
	{massKind, said{"t", []string{"t"}}},
	{volumeKind, said{"l", []string{"l", "lt", "ltr", "litre", "litres", "liter", "liters"}}},
	{volumeKind, said{"ml", []string{"ml", "millilitre", "millilitres", "milliliter", "milliliters"}}},
	{volumeKind, said{"cl", []string{"cl"}}},
	{volumeKind, said{"gal", []string{"gal", "gals", "gallon", "gallons"}}},
	{volumeKind, said{"us gal", []string{"us gal", "us gals", "us gallon", "us gallons"}}},
	{volumeKind, said{"imp gal", []string{"imp gal", "imp gals", "imp gallon", "imp gallons", "imperial gallon", "imperial gallons", "uk gal", "uk gallon", "uk gallons"}}},
	{volumeKind, said{"qt", []string{"qt", "qts", "quart", "quarts"}}},
	{volumeKind, said{"us qt", []string{"us qt", "us quart", "us quarts"}}},
	{volumeKind, said{"imp qt", []string{"imp qt", "imp quart", "imp quarts", "imperial quart", "imperial quarts"}}},
	{volumeKind, said{"fl oz", []string{"fl oz", "fluid ounce", "fluid ounces"}}},
	{volumeKind, said{"us fl oz", []string{"us fl oz"}}},
	{volumeKind, said{"imp fl oz", []string{"imp fl oz"}}},
	{lengthKind, said{"mm", []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}}},
	{lengthKind, said{"cm", []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}}},
	{lengthKind, said{"in", []string{"in", "inch", "inches"}}},
	{spanKind, said{"min", []string{"min", "mins", "minute", "minutes"}}},
	{spanKind, said{"h", []string{"h", "hr", "hrs", "hour", "hours"}}},
	{spanKind, said{"d", []string{"d", "day", "days"}}},
	{spanKind, said{"w", []string{"w", "wk", "wks", "week", "weeks"}}},
	{degreeKind, said{"c", []string{"c", "celsius", "deg c", "degrees c", "degrees celsius"}}},
	{degreeKind, said{"f", []string{"f", "fahrenheit", "deg f", "degrees f", "degrees fahrenheit"}}},
	{saltyKind, said{"sal", []string{"sal", "salometer", "degrees sal", "degrees salometer", "deg sal"}}},
	{saltyKind, said{"be", []string{"be", "baume", "degrees be", "degrees baume", "deg be"}}},
	{percentKind, said{"%", []string{"percent", "per cent", "pct"}}},
	{ppmKind, said{"ppm", []string{"ppm"}}},
	{timesKind, said{"x", []string{"x"}}},
}

// spoons are measures that curing salt is never measured in.
var spoons = []said{
	{teaspoon, []string{"tsp", "tsps", "teaspoon", "teaspoons", "cdta", "cdtas", "cucharadita", "cucharaditas"}},
	{tablespoon, []string{"tbsp", "tbsps", "tablespoon", "tablespoons", "cda", "cdas", "cucharada", "cucharadas"}},
	{"spoon", []string{"spoon", "spoons", "spoonful"}},
	{"cup", []string{"cup", "cups"}},
	{"pinch", []string{"pinch", "pinches"}},
	{"handful", []string{"handful"}},
}

const (
	teaspoon   = "teaspoon"
	tablespoon = "tablespoon"
)

// factors leads from a unit to grams, millimetres or hours. Volumes are of water and brine,
// reckoned at 1,000 g a litre.
//
// Source: NIST Handbook 44 (2024), Appendix C: avoirdupois pound 453.59237 g, ounce
// 28.349523125 g, US gallon 3.785411784 L, US quart 0.946352946 L, US fluid ounce
// 29.5735295625 mL, inch 25.4 mm, all exact (from memory); UK Weights and Measures Act 1985,
// Schedule 1: gallon 4.54609 dm³ exact (from memory).
var factors = map[string]float64{
	"g": 1, "kg": 1000, "lb": 453.59237, "oz": 28.349523125, "oz weight": 28.349523125, // g
	"ml": 1, "cl": 10, "l": 1000, "us gal": 3785.411784, "imp gal": 4546.09, // g
	"us qt": 946.352946, "imp qt": 1136.5225, "us fl oz": 29.5735295625, "imp fl oz": 28.4130625, // g
	"mm": 1, "cm": 10, "in": 25.4, // mm
}
