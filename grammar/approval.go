package grammar

import (
	"strings"

	"salthand/cure"
)

// approvalWords may stand behind "approve" and change nothing of it: who is there, and that it
// goes ahead. None of them denies, asks or sets a condition.
var approvalWords = map[string]bool{}

func init() {
	for _, w := range strings.Fields(`
		go ahead ok okay yes it me just i'm im i am alone myself tonight today here
		soy yo solo sola estoy hoy esta noche adelante dale si vale listo aqui
		je suis seul seule ce soir aujourd'hui ici vas allez y oui moi d'accord`) {
		approvalWords[w] = true
	}
}

// approved reads what follows "approve": the grams of cure that the approver goes by, and words
// that change nothing. Anything else makes it no approval.
func (r *reading) approved(t token) (Command, error) {
	said, why, _ := strings.Cut(r.text[t.end:], ":")
	end := t.end + len(said)
	out := Approve{Why: strings.TrimSpace(why)}
	var left []token
	for _, next := range r.toks {
		if next.start >= t.end && next.start < end {
			left = append(left, next)
		}
	}
	if len(left) == 2 && left[0].kind == jarKind && left[1].kind == nameKind && out.Why == "" {
		return JarApprove{left[1].value}, nil
	}
	for len(left) > 0 {
		next := left[0]
		if next.kind == numberKind && len(left) > 1 && left[1].kind == massKind && !out.Grams.Set() {
			at := stretch{next.start, left[1].end}
			n, err := r.number(next.value, at)
			if err != nil {
				return nil, err
			}
			f, ok := factors[left[1].value]
			if !ok {
				return nil, nil
			}
			out.Grams = cure.Typed(cure.Gram(n.times(f)))
			left = left[2:]
			continue
		}
		for _, w := range strings.FieldsFunc(fold(r.text[next.start:next.end]), func(c rune) bool { return strings.ContainsRune(" .,;!-", c) }) {
			if !approvalWords[w] {
				return nil, nil
			}
		}
		left = left[1:]
	}
	return out, nil
}

func (c Approve) canonical() string {
	out := "approve"
	if c.Grams.Set() {
		out += " " + unmistaken(float64(c.Grams.Value)) + " g"
	}
	return because(out, c.Why)
}
