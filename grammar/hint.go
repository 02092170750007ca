package grammar

// hint is what to say to a line that is no phrase and yet asks about a cure: which curing salt
// was meant, which cut, or what the salt is that it names. nil where it is talk. An error of it is
// never Near: only who speaks to the bot gets it.
func (r *reading) hint(from int) error {
	t := r.toks[from:]
	if len(t) == 0 {
		return nil
	}
	strange, _ := r.strange()
	switch {
	case len(t) == 1 && t[0].value == "pink salt" && !r.thread: // in a thread it would amend the dose
		e := r.fail("which salt", stretch{t[0].start, t[0].end})
		e.Example = example + ", " + no1
		return e
	case r.checksVague(t):
		q := r.ask(t[2].value, stretch{t[2].start, t[2].end})
		for i := range q.Choices {
			q.Choices[i].Phrase = "check " + q.Choices[i].Phrase
		}
		return q
	case t[0].value == "pink salt" && len(t) > 1 && len(t) <= 3 && strange == len(t)-1 && t[1].kind == wordKind && r.wordBefore(t[1].start) == "for":
		e := r.fail("unknown cut", stretch{t[1].start, t[len(t)-1].end})
		e.Suggest, e.Example = nearest(t[1].value, cutNames()), "how much for "+example
		return e
	}
	if strange > mostStrange {
		return nil
	}
	for _, x := range t {
		if code := saltCodes[x.value]; code != "" && (x.kind == vagueKind || x.kind == ionKind) && (r.asksLeave() || r.has(percentKind)) {
			e := r.fail(code, stretch{x.start, x.end})
			e.Example = example
			return e
		}
	}
	return nil
}

// mostStrange is how many strange words a question about a salt may have: "can I use
// saltpetre on bacon" has four.
const mostStrange = 5

// checksVague reports whether t weighs out a salt that is not clear for a weight of a cut:
// "12 g pink salt on 3 kg belly".
func (r *reading) checksVague(t []token) bool {
	return kindAt(t, 0) == numberKind && kindAt(t, 1) == massKind && kindAt(t, 2) == vagueKind && t[2].value == "pink salt" &&
		kindAt(t, 3) == verbKind && t[3].value == "switch on" && kindAt(t, 4) == numberKind && kindAt(t, 5) == massKind && kindAt(t, 6) == cutKind
}

// asksLeave reports whether the line begins by asking whether one may.
func (r *reading) asksLeave() bool {
	switch r.pieced[0].word {
	case "can", "could", "may", "puedo", "podemos", "puis", "peut":
		return true
	}
	return false
}

// wordBefore is the word that ends before a byte of the text.
func (r *reading) wordBefore(at int) string {
	word := ""
	for i := range r.pieced {
		if r.pieced[i].end <= at {
			word = r.pieced[i].word
		}
	}
	return word
}
