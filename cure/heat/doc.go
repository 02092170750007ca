// Package heat judges temperatures over time: how fast cooked meat cooled, what heat or
// freezing did against Salmonella and trichinae, and how long a place was too warm.
//
// A Log is readings of one probe. Between two of them the truth is unknown: a Span has what
// is certain, what a straight line says, and the most there can be. Cooling rules are met
// only by the most, passed by the straight line, and Unsure in between.
//
// A Table is rows of a temperature and how long it has to be held. A temperature between two
// rows counts as the weaker one, heat rounded down and cold rounded up, and nothing counts
// outside of the table: no row is interpolated or extrapolated. Freezing and the heating
// table for trichinae are for domestic pork alone; trichinae of game survive freezing.
//
// Each table says where it is from and how that was seen. Nothing here says that meat is
// safe: plans are approved on their own validation.
package heat
