package grammar

// basisSituations are about sums, bases and units.
var basisSituations = []situation{}

// basisCues are words that only they need.
var basisCues = map[string][]string{}
