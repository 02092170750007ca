package grammar

// keepingSituations are about time, cold, spoilage and what is kept.
var keepingSituations = []situation{}

// keepingCues are words that only they need.
var keepingCues = map[string][]string{}
