// Package dry reads the drying of a hung piece off its weights.
//
// A Series of weighings gives Loss, Rates and, from three weighings on, a Curve: the weight
// falls towards a limit at a rate that dies down. Finish asks the curve when a target weight
// is reached, and answers with an interval, since a reading is only as good as the scale's
// division: with 1000, 900 and 830 g a week apart, one gram on the middle one moves 700 g
// from day 45 to 41 or 52. A target beyond the limit is never reached. Hardened looks for
// a rate that falls too fast, the sign of a dry rim that shuts the wet core in.
//
// Page and RootTime are the other curves in use: Page for the moisture ratio, RootTime for
// the early days. Meat gives water and the moisture:protein ratio at a loss, Room the
// pressure that drives the drying, to compare two rooms.
//
// Weight loss never shows that a product keeps without cold: 35 % at 2.5 % salt leaves a
// water activity of about 0.94. Demands says what has to be measured instead.
package dry
