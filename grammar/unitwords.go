package grammar

import "github.com/alecthomas/participle/v2/lexer"

// units are looked up only right after a number.
var units = []struct {
	kind lexer.TokenType
	said
}{
	{massKind, said{"g", []string{"g", "gr", "gram", "grams", "gramme", "grammes", "gms", "grs", "gramo", "gramos"}}},
	{massKind, said{"kg", []string{"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes", "kilogramo", "kilogramos"}}},
	{massKind, said{"lb", []string{"lb", "lbs", "pound", "pounds", "libra", "libras"}}},
	{massKind, said{"oz", []string{"oz", "ozs", "ounce", "ounces", "onza", "onzas", "once", "onces"}}},
	{massKind, said{"oz weight", []string{"oz weight", "oz by weight", "oz of weight"}}},
	{massKind, said{"t", []string{"t"}}},
	{massKind, said{livre, []string{"livre", "livres", "pfund"}}},
	{volumeKind, said{"l", []string{"l", "lt", "ltr", "litre", "litres", "liter", "liters", "ltrs", "lts", "litro", "litros"}}},
	{volumeKind, said{"ml", []string{"ml", "millilitre", "millilitres", "milliliter", "milliliters", "mls", "cc", "mililitro", "mililitros"}}},
	{volumeKind, said{"cl", []string{"cl", "centilitre", "centilitres", "centilitro", "centilitros"}}},
	{volumeKind, said{"dl", []string{"dl", "decilitre", "decilitres", "decilitro", "decilitros"}}},
	{volumeKind, said{"gal", []string{"gal", "gals", "gallon", "gallons", "galon", "galones"}}},
	{volumeKind, said{"us gal", []string{"us gal", "us gals", "us gallon", "us gallons", "gal us", "gals us", "american gallon", "american gallons", "gallon us", "gallons us", "galon americano", "galones americanos", "gallon americain", "gallons americains"}}},
	{volumeKind, said{"imp gal", []string{"imp gal", "imp gals", "imp gallon", "imp gallons", "imperial gallon", "imperial gallons", "uk gal", "uk gallon", "uk gallons", "gal uk", "gallon uk", "gallons uk", "gal imp", "gallon imp", "gallons imp", "gallon imperial", "galon imperial", "galones imperiales"}}},
	{volumeKind, said{"qt", []string{"qt", "qts", "quart", "quarts"}}},
	{volumeKind, said{"us qt", []string{"us qt", "us quart", "us quarts"}}},
	{volumeKind, said{"imp qt", []string{"imp qt", "imp quart", "imp quarts", "imperial quart", "imperial quarts"}}},
	{volumeKind, said{"pt", []string{"pt", "pts", "pint", "pints"}}},
	{volumeKind, said{"us pt", []string{"us pt", "us pint", "us pints"}}},
	{volumeKind, said{"imp pt", []string{"imp pt", "imp pint", "imp pints", "imperial pint", "imperial pints"}}},
	{volumeKind, said{"fl oz", []string{"fl oz", "floz", "fl ozs", "fluid oz", "fluid ounce", "fluid ounces", "onza liquida", "onzas liquidas"}}},
	{volumeKind, said{"us fl oz", []string{"us fl oz", "us floz", "us fluid ounce", "us fluid ounces"}}},
	{volumeKind, said{"imp fl oz", []string{"imp fl oz", "imp floz", "imperial fl oz", "imperial fluid ounce", "imperial fluid ounces"}}},
	{lengthKind, said{"mm", []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters", "milimetro", "milimetros"}}},
	{lengthKind, said{"cm", []string{"cm", "centimetre", "centimetres", "cms", "centimeter", "centimeters", "centimetro", "centimetros"}}},
	{lengthKind, said{"in", []string{"in", "inch", "inches", "pulgada", "pulgadas", "pouce", "pouces"}}},
	{spanKind, said{"min", []string{"min", "mins", "minute", "minutes", "minuto", "minutos"}}},
	{spanKind, said{"h", []string{"h", "hr", "hrs", "hour", "hours", "hora", "horas", "heure", "heures"}}},
	{spanKind, said{"d", []string{"d", "day", "days", "dia", "dias", "jour", "jours"}}},
	{spanKind, said{"w", []string{"w", "wk", "wks", "week", "weeks", "semana", "semanas", "semaine", "semaines"}}},
	{degreeKind, said{"c", []string{"c", "ºc", "celsius", "deg c", "degrees c", "degrees celsius", "grados c", "grados centigrados", "degres c", "degres celsius"}}},
	{degreeKind, said{"f", []string{"f", "ºf", "fahrenheit", "deg f", "degrees f", "degrees fahrenheit", "grados f", "degres f"}}},
	{degreeKind, said{bareDegree, []string{"º", "deg", "degs", "degree", "degrees", "grado", "grados", "degre", "degres"}}},
	{saltyKind, said{"sal", []string{"sal", "salometer", "degrees sal", "degrees salometer", "deg sal"}}},
	{saltyKind, said{"be", []string{"be", "baume", "degrees be", "degrees baume", "deg be"}}},
	{percentKind, said{"%", []string{"percent", "per cent", "pct", "por ciento", "pour cent"}}},
	{ppmKind, said{"ppm", []string{"ppm"}}},
	{timesKind, said{"x", []string{"x"}}},
	{pieceKind, said{"pieces", []string{"piece", "pieces", "pc", "pcs", "slab", "slabs", "pieza", "piezas", "trozo", "trozos", "morceau", "morceaux"}}},
}

// spoons are measures that curing salt is never measured in.
var spoons = []said{
	{teaspoon, []string{"tsp", "tsps", "teaspoon", "teaspoons", "tspn", "tspns", "cdta", "cdtas", "cucharadita", "cucharaditas", "cuillere a cafe", "cuilleres a cafe", "c a cafe", "c a c", "cac"}},
	{tablespoon, []string{"tbsp", "tbsps", "tablespoon", "tablespoons", "tbs", "tbl", "tbls", "tblsp", "cda", "cdas", "cucharada", "cucharadas", "cuillere a soupe", "cuilleres a soupe", "c a soupe", "c a s", "cas"}},
	{"spoon", []string{"spoon", "spoons", "spoonful", "spoonfuls", "cuchara", "cucharas", "cuillere", "cuilleres", "cuilleree", "cuillerees"}},
	{"cup", []string{"cup", "cups", "taza", "tazas", "tasse", "tasses"}},
	{"pinch", []string{"pinch", "pinches", "pizca", "pizcas", "pincee", "pincees"}},
	{"handful", []string{"handful", "handfuls", "punado", "poignee"}},
}

// Units with two readings, which are asked about: a livre is half a kilogram or a pound.
const (
	livre      = "livre"
	bareDegree = "degree"
)

const (
	teaspoon   = "teaspoon"
	tablespoon = "tablespoon"
)

// factors leads from a unit to grams, millimetres or hours. Volumes are of water and brine,
// reckoned at 1,000 g a litre.
//
// Source: NIST Handbook 44 (2024), Appendix C: avoirdupois pound 453.59237 g, ounce
// 28.349523125 g, US gallon 3.785411784 L, US quart 0.946352946 L, US fluid ounce
// 29.5735295625 mL, US pint 473.176473 mL, inch 25.4 mm, all exact (from memory); UK Weights and Measures Act 1985,
// Schedule 1: gallon 4.54609 dm³ exact (from memory).
var factors = map[string]float64{
	"g": 1, "kg": 1000, "lb": 453.59237, "oz": 28.349523125, "oz weight": 28.349523125, // g
	"ml": 1, "cl": 10, "dl": 100, "l": 1000, "us gal": 3785.411784, "imp gal": 4546.09, // g
	"us qt": 946.352946, "imp qt": 1136.5225, "us pt": 473.176473, "imp pt": 568.26125, "us fl oz": 29.5735295625, "imp fl oz": 28.4130625, // g
	"mm": 1, "cm": 10, "in": 25.4, // mm
}
