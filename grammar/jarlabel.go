package grammar

import (
	"strings"

	"salthand/cure"
)

// jarIs reads a label, which begins at a piece.
func (r *reading) jarIs(out JarIs, i int) (Command, error) {
	t := r.tokensFrom(i)
	bad := func(code string, from, to int) (Command, error) {
		at := stretch{r.toks[0].start, r.toks[len(r.toks)-1].end}
		if from < len(t) {
			at = stretch{t[from].start, t[min(to, len(t))-1].end}
		}
		e := r.fail(code, at)
		e.Example = jarExample
		return nil, e
	}
	l := &out.Label
	for n := 0; n < len(t); {
		word, _ := "", 0
		if t[n].kind != numberKind {
			word, _ = r.jarWord(r.pieceAt(t[n].start))
		}
		switch {
		case word == "lot":
			end := n + 1
			for end < len(t) && t[end].kind != sepKind {
				end++
			}
			_, used := r.jarWord(r.pieceAt(t[n].start))
			from, to := r.pieced[r.pieceAt(t[n].start)+used-1].end, len(r.text)
			if end < len(t) {
				to = t[end].start
			}
			lot := strings.Trim(r.text[from:to], " \t:#.")
			if lot == "" || l.Lot != "" || len(lot) > 64 {
				return bad("twice", n, n+1)
			}
			l.Lot, n = lot, end
		case word == "dyed" || word == "undyed":
			l.Both = l.Both || l.Dyed.Set() && l.Dyed.Value != (word == "dyed")
			l.Dyed = cure.Typed(word == "dyed")
			_, used := r.jarWord(r.pieceAt(t[n].start))
			end := r.pieced[r.pieceAt(t[n].start)+used-1].end
			for n < len(t) && t[n].start < end {
				n++
			}
		case word == "made of":
			_, used := r.jarWord(r.pieceAt(t[n].start))
			end := r.pieced[r.pieceAt(t[n].start)+used-1].end
			for n < len(t) && t[n].start < end {
				n++
			}
			more, err := r.jarParts(&out, t[n:])
			if err != nil {
				return nil, err
			}
			if more == 0 {
				return bad("lacks", n, n+1)
			}
			n += more
		case t[n].kind == sepKind || t[n].kind == plusKind:
			n++
		case t[n].kind == vagueKind && t[n].value == misspelt:
			q := r.ask(misspelt, stretch{t[n].start, t[n].end})
			if l.Kind != cure.NoAgent {
				q.Choices = nil // it says how strong, not what
			}
			return nil, q
		case t[n].kind == agentKind && l.Kind == cure.NoAgent && cureKinds[t[n].value] != cure.NoAgent:
			l.Kind = cureKinds[t[n].value]
			n++
		case t[n].kind == ionKind && n+2 < len(t) && t[n+1].kind == numberKind && t[n+2].kind == percentKind:
			if l.Kind == cure.NoAgent {
				l.Kind = cureKinds[t[n].value]
			}
			if err := r.jarStrength(l, t[n+1], t[n].value == "nitrate"); err != nil {
				return nil, err
			}
			n += 3
		case t[n].kind == ionKind && l.Kind == cure.NoAgent:
			l.Kind = cureKinds[t[n].value]
			n++
		case t[n].kind == numberKind && n+1 < len(t) && t[n+1].kind == percentKind:
			nitrate := l.Nitrite.Set()
			more := 2
			if n+2 < len(t) && t[n+2].kind == ionKind {
				nitrate, more = t[n+2].value == "nitrate", 3
			}
			if err := r.jarStrength(l, t[n], nitrate); err != nil {
				return nil, err
			}
			n += more
		case t[n].kind == vagueKind && l.Kind == cure.NoAgent && cureKinds[t[n].value] != cure.NoAgent:
			l.Kind = cureKinds[t[n].value]
			n++
		case t[n].kind == vagueKind && t[n].value == "celery" && l.Kind == cure.NoAgent:
			l.Kind = cure.VegetablePowder
			n++
		case t[n].kind == vagueKind && l.Kind == cure.NoAgent:
			return nil, r.vague(t[n].value, stretch{t[n].start, t[n].end})
		case t[n].kind == agentKind:
			return bad("twice", n, n+1)
		default:
			return bad("unknown word", n, n+1)
		}
	}
	if *l == (JarLabel{}) && len(out.Parts) == 0 && out.How != JarAnew {
		return bad("lacks", 0, 1)
	}
	return out, nil
}

// jarStrength notes a per cent of a label.
func (r *reading) jarStrength(l *JarLabel, t token, nitrate bool) error {
	at := stretch{t.start, t.end}
	n, err := r.number(t.value, at)
	if err != nil {
		return err
	}
	share := cure.Fraction(n.times(0.01))
	into := &l.Nitrite
	if nitrate {
		into = &l.Nitrate
	}
	switch {
	case share > 1:
		return r.fail("too big", at)
	case into.Set():
		e := r.fail("twice", at)
		e.Example = jarExample
		return e
	}
	*into = cure.Typed(share)
	return nil
}

// jarSeen reads what a second person saw of a house cure, which begins at a piece.
func (r *reading) jarSeen(name string, i int) (Command, error) {
	var read JarIs
	t := r.tokensFrom(i)
	for n := 0; n < len(t); n++ { // a comma stands between them as well as a plus
		more, err := r.jarParts(&read, t[n:])
		if err != nil {
			return nil, err
		}
		n += more
	}
	return JarSeen{Jar: name, Parts: read.Parts, Salt: read.Salt}, nil
}

// partsWords are the parts of a house cure: "96 g jar A7 + 904 g salt".
func partsWords(parts []JarPart, salt cure.Given[cure.Gram]) string {
	var out []string
	for _, p := range parts {
		out = append(out, weighed(p.Mass)+" jar "+p.Jar)
	}
	if salt.Set() {
		out = append(out, weighed(salt.Value)+" salt")
	}
	return strings.Join(out, " + ")
}

// jarParts reads "96 g jar A7 + 904 g salt", and how many tokens that takes.
func (r *reading) jarParts(out *JarIs, t []token) (int, error) {
	n := 0
	for n < len(t) && t[n].kind != sepKind {
		if t[n].kind == plusKind {
			n++
			continue
		}
		if t[n].kind != numberKind {
			e := r.fail("unknown word", stretch{t[n].start, t[n].end})
			e.Example = "jar H1 is house cure, made of 96 g jar A7 + 904 g salt"
			return 0, e
		}
		mass, used, err := r.gramsAt(t[n:])
		if err != nil {
			return 0, err
		}
		of := n + used
		switch {
		case of+1 < len(t) && t[of].kind == jarKind && t[of+1].kind == nameKind:
			out.Parts = append(out.Parts, JarPart{t[of+1].value, mass})
			n = of + 2
		case of < len(t) && t[of].kind == stuffKind && t[of].value == "salt" && !out.Salt.Set():
			out.Salt = cure.Typed(mass)
			n = of + 1
		default:
			e := r.fail("of what", stretch{t[n].start, t[min(of, len(t)-1)].end})
			e.Example = "jar H1 is house cure, made of 96 g jar A7 + 904 g salt"
			return 0, e
		}
	}
	return n, nil
}

func (c JarIs) canonical() string {
	head := "jar " + c.Jar + map[JarHow]string{JarIsSo: " is ", JarAnew: " filled anew: ", JarReread: " label: "}[c.How]
	var out []string
	say := func(text string) { out = append(out, text) }
	l := c.Label
	if name := agentNames[l.Kind]; name != "" {
		say(name)
	}
	if l.Nitrite.Set() {
		say(percentage(l.Nitrite.Value) + " nitrite")
	}
	if l.Nitrate.Set() {
		say(percentage(l.Nitrate.Value) + " nitrate")
	}
	if len(c.Parts) > 0 {
		say("made of " + partsWords(c.Parts, c.Salt))
	}
	if l.Lot != "" {
		say("lot " + l.Lot)
	}
	word := map[bool]string{true: "dyed", false: "undyed"}
	if l.Both {
		say(word[!l.Dyed.Value])
	}
	if l.Dyed.Set() {
		say(word[l.Dyed.Value])
	}
	return strings.TrimRight(head+strings.Join(out, ", "), " :")
}
