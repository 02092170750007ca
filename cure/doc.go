// Package cure holds the arithmetic of curing meat: what to weigh, what it comes to, beside
// which limits, and how long it takes. It is pure: the same Request gives the same answer
// anywhere, and nothing is read, written or waited for.
//
// # The way of a request
//
// Compute takes a Request with whatever was said. fill gives the rest, from the cut
// (cuts.csv), the region's usual strength (agent.go) and the rules of the work (fill.go),
// and notes the Origin of every value. What can't be guessed is a *Missing; what can't be
// right is a *Stop. classes.csv then says which limits apply and on which basis; it is the
// only place that does. aim settles the target (target.go), mixed turns it into grams with
// the salt in the cure counted (compute.go), judge compares with each limit in the limit's
// own terms (compare.go), judgeSalt sees whether salt and nitrite can both be met and
// whether the brine dissolves (salt.go), weigh puts it on the scale, never over a limit
// (scale.go), remark adds cautions, and time asks package diffuse for the days.
//
// # Other questions
//
//   - Examine says what was done: ppm and salt beside the same limits, what the dose should
//     have been, how far over (as the meat it would take, for the approver), what is missing
//     and until when that can be made good. What isn't known is a Range.
//   - Blend makes a house cure of a stronger one, Rated gives its strength from its use, Made
//     reckons one that somebody made and catches a strength that disagrees with its grams.
//   - Swap puts one cure in the place of another, by nitrite on the meat and never by weight;
//     Rub works an old recipe out on the meat.
//   - WeighingBand is what the scales leave open of a ppm.
//   - Which says which cure goes with a product, and what the law bars.
//   - Compare sets a dose beside the rules of other regions.
//   - Progress follows a cure through several temperatures, Fade and Arrive the nitrite that
//     is spent on the way. None of them justifies a higher dose.
//
// Brines, water activity, drying, degree-hours, and heat and cold are packages of their own
// below this one; they know its units.
//
// # Bases
//
// A concentration means nothing without its basis. Dry rub, salt box, confit and ground: the
// meat as it lies.
// Cover brine: meat and water, but the limit is compared on meat and all of the pickle.
// Injection: nitrite on the green meat (us) or on meat and pickle (eu), salt on meat and
// pickle. Injection with cover: all of it evened out over meat and all of the pickle; us
// limits are also compared with what the pumped meat then holds, on its green weight. The
// skin of us bacon doesn't count: limits are on 0.9 of the weight.
//
// # Limits
//
// Only figures that were seen in the law's text or second-hand are enforced: passing one is
// a Stop. Figures from memory cap what is proposed, and passing one is a Hold. A policy
// minimum is compared on the basis of the dose. Under a limit is not safe, and nothing here
// says so.
//
// Where a region's law has figures only for what is left in the finished food, or no row for
// the product, no cure is proposed, and the dose says why; a target that was asked for is
// answered with a Hold, up to the highest figure that any region has (proposal.go). Compare
// sets one dose beside the law of other regions (abroad.go).
//
// # Salts
//
// A cure is dosed by its nitrite. Nitrate alone, saltpetre too, is dosed by nitrate, asked
// for as NaNO3, where the class has a figure for it; saltpetre counts as the equal amount of
// NaNO3, or by its own weight where the law takes it so (compare.go). Undiluted nitrite is
// never dosed onto meat: it goes into a house cure. Confit and fish are salted for taste, and
// no cure is proposed (taste.go).
//
// # Time
//
// The days are to the core's 95 % of equilibrium, as a band; a salt box aims at the mean, and
// then evens out (saltbox.go), and takes a piece cut square by all its sides. Of several sizes the thickest leads, and each is answered
// (piece.go). Progress follows a cure over spells at several temperatures (course.go). Fade
// and Arrive say what waiting does to the nitrite (fading.go); no dose uses them.
//
// # Which cure
//
// Which chooses between nitrite alone and nitrite with nitrate, by what is made of the meat,
// how long it hangs, and what the law bars, with the reasons as codes (which.go).
//
// # To add
//
// A cut: a row in cuts.csv, with a row in composition.csv; the grammar has to have words for
// it. A limit: a row in limits.csv with its source and how it was seen, and its id in the
// rows of classes.csv it belongs to. A region: its limits and its classes; a test then walks every combination. LawVersion has
// to follow: its test says what it should be.
package cure
