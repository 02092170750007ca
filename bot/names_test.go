package bot

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"testing"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// Everything that cure, the store and the grammar name has a name for cards.
func TestNames(t *testing.T) {
	for _, c := range cure.Cuts() {
		hasName(t, cutNames, c.Name)
	}
	for m := cure.DryRub; m.String() != "?"; m++ {
		hasName(t, methodNames, m.String())
	}
	for _, s := range statesOfStore(t) {
		hasName(t, stateNames, s)
	}
	var steps []string
	for _, phrase := range []string{"turned", "overhauled", "topped up", "out of the cure", "rinsed", "soaked", "rested", "pellicle",
		"smoked", "cooked 71 c", "chilled", "hung", "weighed"} {
		p, err := grammar.Parse(phrase, grammar.Setting{Thread: true})
		if err != nil {
			t.Fatalf("%s: %v", phrase, err)
		}
		did, ok := p.Command.(grammar.Did)
		if !ok {
			t.Fatalf("%s: %T", phrase, p.Command)
		}
		steps = append(steps, did.Step)
	}
	for _, phrase := range []string{"cure 2 kg belly no 1 6.25%", "brine 2 kg belly in 1 l no 1 6.25%", "cure 2 kg ground pork no 1 6.25%"} {
		p, err := grammar.Parse(phrase, grammar.Setting{})
		if err != nil {
			t.Fatalf("%s: %v", phrase, err)
		}
		d, err := compute(p.Command.(grammar.Dose), Settings{Region: cure.Given[cure.Region]{Value: "us", Origin: cure.FromKitchen}, Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			t.Fatalf("%s: %v", phrase, err)
		}
		for _, s := range cure.Steps(d) {
			steps = append(steps, s.Kind)
		}
	}
	for kind := range stateAfter {
		steps = append(steps, kind)
	}
	for _, kind := range steps {
		hasName(t, stepNames, kind)
		hasName(t, doneNames, kind)
	}
}

func hasName[K ~string](t *testing.T, names map[K]string, name K) {
	t.Helper()
	if names[name] == "" {
		t.Errorf("%q has no name for cards", name)
	}
}

// statesOfStore are the states that the store declares.
func statesOfStore(t *testing.T) (states []store.State) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "../store/event.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(f, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok || len(v.Values) != 1 {
			return true
		}
		if of, ok := v.Type.(*ast.Ident); ok && of.Name == "State" {
			name, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			states = append(states, store.State(name))
		}
		return true
	})
	if len(states) == 0 {
		t.Fatal("no states found")
	}
	return states
}

// A day is said with the weekday and the month of the language: 3 March 2026 was a Tuesday,
// by the perpetual calendar.
func TestDayInTongues(t *testing.T) {
	at := time.Date(2026, 3, 3, 6, 5, 0, 0, time.UTC)
	for l, want := range map[tongue]string{english: "Tue 3 Mar 06:05", spanish: "mar 3 mar 06:05", french: "mar 3 mars 06:05"} {
		if got := moment(l, at, time.UTC); got != want {
			t.Errorf("%s: %q, want %q", l, got, want)
		}
	}
}
