package store

import (
	"errors"
	"fmt"
	"slices"
	"testing"
)

// looked gives the numbers of all pages of a query.
func looked(t *testing.T, s *Store, q Query) (numbers []uint64) {
	t.Helper()
	see(t, s, func(tx *Tx) error {
		for {
			page, more, err := tx.Batches(kitchen, q)
			if err != nil {
				return err
			}
			if len(page) > max(q.Limit, pageLimit) || more != "" && len(page) != q.Limit {
				t.Errorf("%+v: a page of %d, more %q", q, len(page), more)
			}
			for _, b := range page {
				numbers = append(numbers, b.Number)
			}
			if more == "" {
				return nil
			}
			q.After = more
		}
	})
	return numbers
}

func TestBatches(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	// Batch by batch: cut, asked by, at. 3 and 4 in the same millisecond; 6 was entered late.
	appended(t, s,
		of(1, ana, 1*day, asked("belly", "c", 0)),
		of(2, ben, 2*day, asked("loin", "c", 0)),
		of(3, ana, 3*day, asked("belly", "c", 0)),
		of(4, ana, 3*day, asked("belly, skin on", "c", 0)),
		of(5, "p3", 4*day, asked("belly", "c", 0)),
		of(6, ben, 2*day+1, asked("belly", "c", 0)),
		of(1, ben, 5*day, approved(1, 0)), of(1, ana, 5*day, started(step("turn", 6*day))),
		of(1, "p4", 6*day, StepDone{Step: 0, Kind: "turn", State: StateCuring}),
		of(3, ben, 5*day, approved(1, 0)), of(3, ana, 5*day, Held{Why: "smells"}),
		of(5, ben, 5*day, Held{Why: "smells"}), of(5, ben, 5*day, Discarded{Why: "smells"}),
		of(2, ben, 5*day, Revised{Card: card(2, "belly")}),
	)
	tests := []struct {
		name  string
		query Query
		want  []uint64
	}{
		{"all", Query{}, []uint64{5, 4, 3, 6, 2, 1}},
		{"cut, as it stands now", Query{Cut: "belly"}, []uint64{5, 3, 6, 2, 1}},
		{"cut that another begins with", Query{Cut: "bell"}, nil},
		{"cut as it was", Query{Cut: "loin"}, nil},
		{"who asked or approved", Query{Person: ben}, []uint64{3, 6, 2, 1}},
		{"who did a step", Query{Person: "p4"}, []uint64{1}},
		{"state", Query{State: StateAsked}, []uint64{4, 6, 2}},
		{"held, and not ended", Query{Held: true}, []uint64{3}},
		{"from", Query{From: 3 * day}, []uint64{5, 4, 3}},
		{"to, itself not included", Query{To: 3 * day}, []uint64{6, 2, 1}},
		{"from and to", Query{From: 2 * day, To: 2*day + 1}, []uint64{2}},
		{"cut and person", Query{Cut: "belly", Person: ana}, []uint64{3, 1}},
		{"cut, person and state", Query{Cut: "belly", Person: ben, State: StateApproved}, []uint64{3}},
		{"all at once", Query{Cut: "belly", Person: ana, State: StateApproved, Held: true, From: day, To: 9 * day}, []uint64{3}},
		{"nothing in common", Query{Cut: "belly", Person: "p4", Held: true}, nil},
	}
	for _, test := range tests {
		for limit := range 8 {
			q := test.query
			q.Limit = limit
			if got := looked(t, s, q); !slices.Equal(got, test.want) {
				t.Errorf("%s, by %d: got %v, want %v", test.name, limit, got, test.want)
			}
			see(t, s, func(tx *Tx) error {
				got, err := tx.Count(kitchen, q, limit)
				if want := min(len(test.want), limit); got != want {
					t.Errorf("%s, at most %d: counted %d, want %d", test.name, limit, got, want)
				}
				return err
			})
		}
	}
	see(t, s, func(tx *Tx) error {
		for _, after := range []string{"x", "00", fmt.Sprintf("%034x", 0)} {
			if _, _, err := tx.Batches(kitchen, Query{After: after}); !errors.Is(err, ErrCursor) {
				t.Errorf("after %q: got %v, want ErrCursor", after, err)
			}
		}
		page, more, err := tx.Batches("k", Query{})
		if len(page) != 0 || more != "" {
			t.Errorf("another kitchen has %d batches", len(page))
		}
		return err
	})
}
