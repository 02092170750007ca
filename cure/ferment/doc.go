// Package ferment judges a fermentation by its degree-hours: how warm the chamber was above
// a base, and for how long, until the sausage reached pH 5.3. Staphylococcus aureus grows
// and makes its toxin in that time, and no later step takes the toxin out.
//
// A Log is the chamber's temperature, a line from reading to reading: two readings at one
// moment are a step, two apart a ramp. Sets holds the rule sets, us in °F and ca in °C, as
// data with their sources. Judge adds up the area above the base, takes the limit from the
// highest temperature, and says how long is left at the present one. The sum has to stay
// under the limit: on it is a Hold, and a Hold stays one, whatever the pH does later. Where
// two sets may apply, Stricter picks the one to go by; their bands do not coincide.
//
// Degree-hours are whole numbers inside: a temperature is counted in 1/9000 °C, of which
// 0.001 °C and 0.001 °F are both whole multiples, and a time in milliseconds. So 80 °F for
// 60 h is 1200 °F·h exactly.
//
// What is judged is the chamber, which is the warmer one; a ferment below the base has no
// limit here, and others apply. Nothing here says that a sausage is safe.
package ferment
