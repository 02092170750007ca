// Package brine is the arithmetic of salt in water: how dense a brine is, how strong on each
// of the scales that kitchens and hydrometers use, how much salt dissolves, when it freezes,
// what to weigh for so many litres, and what the meat has once meat and brine are balanced.
// It is pure, and knows sodium chloride only; nothing in it says that a brine is safe.
//
// # Strength
//
// Inside the package a brine is a cure.Fraction: grams of salt in a gram of brine. A Reading
// is the same on a Scale, as somebody typed it. "10 %" alone is no strength: per cent of the
// brine, of the water, and of meat and water are three brines. A gallon alone is no volume
// either: 60 °salometer is 1.569 lb to a US gallon of water and 1.884 lb to an imperial one.
// An Instrument is the glass itself: what its 100° mean, and where it reads true.
//
// # Reference temperature
//
// Litres, gallons, specific gravity, °Baumé and °salometer are those at 60 °F (15.56 °C), as
// on the trade's tables. A litre of water is 999.0 g there, 1000.0 g at 4 °C, 998.2 g at
// 20 °C: a litre measured at another temperature of a kitchen is 0.1 % off.
//
// # Balance
//
// Tub.Balance shows the rules for a cover brine side by side: the mass rule, method two, the
// rule by the water of the meat, and method one (pick-up). They differ by several times for
// the same tub; which one a limit is compared on is the law's choice, not this package's.
//
// A Soak takes salt out of meat. It says nothing of nitrite and can't be asked about it:
// what is in counts as in.
package brine
