package cure

// The words of a machine answer. Words for people are the bot's.

// String is the method as a phrase names it.
func (m Method) String() string {
	return name(int(m), "no method", "dry rub", "cover brine", "injection", "injection + cover", "ground", "salt box", "confit")
}

// String is what a concentration is reckoned on.
func (b Basis) String() string {
	return name(int(b), "no basis", "green meat", "green meat less skin", "meat + water", "meat + pickle")
}

// String is the verdict in two words or less.
func (v Verdict) String() string {
	return name(int(v), "not compared", "under", "at", "over", "below min", "not checkable", "met")
}

// String is the level.
func (l Level) String() string { return name(int(l), "none", "note", "warn", "hold", "stop") }

// String is the kind as a phrase names it.
func (k AgentKind) String() string {
	return name(int(k), "not said", "no cure", "no. 1", "no. 2", "nitrited salt",
		"house cure", "sodium nitrite", "sodium nitrate", "saltpetre", "vegetable powder")
}

// String is the thing to weigh.
func (i Item) String() string {
	return name(int(i), "nothing", "cure", "salt", "sugar", "ascorbate", "water", "box salt")
}

func name(i int, names ...string) string {
	if i < len(names) {
		return names[i]
	}
	return "?"
}
