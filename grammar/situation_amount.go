package grammar

// amountSituations are about how much went in.
var amountSituations = []situation{}

// amountCues are words that only they need.
var amountCues = map[string][]string{}
