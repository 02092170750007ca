package store

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

var (
	modelJars = []string{"A7", "E6"}
	modelLots = []string{"", "1", "2"}
)

// jar does something to a jar that may fit or not.
func (m *model) jar(t *rapid.T, s *Store) {
	name := rapid.SampledFrom(modelJars).Draw(t, "jar")
	who := rapid.SampledFrom([]string{ana, ben}).Draw(t, "who")
	fillings := m.jars[name]
	n := len(fillings) + rapid.IntRange(0, 1).Draw(t, "number")
	there := n >= 1 && n <= len(fillings)
	label := Label{AgentKind: "no. 1", Lot: rapid.SampledFrom(modelLots).Draw(t, "lot")}
	mg := int64(rapid.IntRange(0, 3).Draw(t, "mg"))
	m.now += hour
	at := m.now
	var body Body
	var change func()
	switch kind := rapid.SampledFrom([]string{"fill", "label", "weigh", "empty"}).Draw(t, "kind"); {
	case kind == "fill":
		parent := FillingOf{rapid.SampledFrom(modelJars).Draw(t, "parent"), 1}
		fill := JarFilled{Jar: name, Filling: uint32(n), Label: label}
		if mg > 0 {
			fill.Parts = []Part{{parent, mg}}
		}
		body = fill
		if n == len(fillings)+1 && (mg == 0 || len(m.jars[parent.Jar]) > 0) {
			change = func() {
				m.jars[name] = append(fillings, Filling{Number: uint32(n), By: who, At: at, Label: label, Parts: fill.Parts, State: JarInUse})
			}
		}
	case kind == "label":
		old := Label{}
		if there {
			old = fillings[n-1].Label
			change = func() { fillings[n-1].Label = label }
		}
		body = JarLabelled{Jar: name, Filling: uint32(n), Old: old, New: label}
	case kind == "weigh":
		body = JarWeighed{Jar: name, Filling: uint32(n), Mg: mg}
		if there && mg > 0 {
			change = func() { fillings[n-1].Weight = &JarWeight{mg, who, at} }
		}
	default:
		body = JarMarked{Jar: name, Filling: uint32(n), Old: JarInUse, New: JarEmpty}
		if there && fillings[n-1].State == JarInUse {
			change = func() { fillings[n-1].State = JarEmpty }
		}
	}
	err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(of(0, who, at, body))
		return err
	})
	var misfit *FoldError
	switch {
	case change == nil && !errors.As(err, &misfit):
		t.Fatalf("%+v: got %v, want a misfit", body, err)
	case change != nil && err != nil:
		t.Fatalf("%+v: %v", body, err)
	case change != nil:
		change()
	}
}

func (m *model) compareJars(tx *Tx) error {
	for _, name := range modelJars {
		got, _, err := tx.Jar(kitchen, name)
		if d := cmp.Diff(m.jars[name], got.Fillings, cmpopts.EquateEmpty()); d != "" || err != nil {
			return fmt.Errorf("jar %s (%w) (-want +got):\n%s", name, err, d)
		}
		var made []FillingOf
		for _, jar := range modelJars {
			for _, f := range m.jars[jar] {
				if slices.ContainsFunc(f.Parts, func(p Part) bool { return p.FillingOf == FillingOf{name, 1} }) {
					made = append(made, FillingOf{jar, f.Number})
				}
			}
		}
		found, err := tx.MadeFrom(kitchen, FillingOf{name, 1})
		if d := cmp.Diff(made, found, cmpopts.EquateEmpty()); d != "" || err != nil {
			return fmt.Errorf("made from %s (%w) (-want +got):\n%s", name, err, d)
		}
	}
	for _, lot := range modelLots[1:] {
		var want []FillingOf
		for _, jar := range modelJars {
			for _, f := range m.jars[jar] {
				if f.Label.Lot == lot {
					want = append(want, FillingOf{jar, f.Number})
				}
			}
		}
		found, err := tx.FillingsOfLot(kitchen, lot)
		if d := cmp.Diff(want, found, cmpopts.EquateEmpty()); d != "" || err != nil {
			return fmt.Errorf("fillings of lot %s (%w) (-want +got):\n%s", lot, err, d)
		}
	}
	return nil
}
