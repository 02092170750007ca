package main

import (
	"errors"

	"salthand/store"
)

const kitchen = "k1" // TestMillion's

type question struct {
	name  string
	query store.Query
}

// questionsOf are asked about what the newest batches have, so that they find something.
func questionsOf(s *store.Store) ([]question, error) {
	var newest, oldest store.Batch
	err := s.View(func(tx *store.Tx) error {
		page, _, err := tx.Batches(kitchen, store.Query{State: store.StateFinished, Limit: 1})
		if err != nil {
			return err
		}
		first, _, err := tx.Batch(kitchen, 1)
		if len(page) == 0 {
			return errors.Join(err, errors.New("no finished batch"))
		}
		newest, oldest = page[0], first
		return err
	})
	if err != nil {
		return nil, err
	}
	const day = 86_400_000
	cut, person, jar := newest.Card.Cut, newest.AskedBy, newest.Card.Jar
	middle := oldest.AskedAt + (newest.AskedAt-oldest.AskedAt)/2
	all := []question{
		{"all", store.Query{}},
		{"cut", store.Query{Cut: cut}},
		{"person", store.Query{Person: person}},
		{"finished", store.Query{State: store.StateFinished}},
		{"discarded", store.Query{State: store.StateDiscarded}},
		{"curing", store.Query{State: store.StateCuring}},
		{"held", store.Query{Held: true}},
		{"month", store.Query{From: middle, To: middle + 30*day}},
		{"person and cut", store.Query{Person: person, Cut: cut}},
		{"cut, person and state", store.Query{Cut: cut, Person: person, State: store.StateFinished}},
		{"cut, person and state in a month", store.Query{Cut: cut, Person: person, State: store.StateFinished, From: middle, To: middle + 30*day}},
		{"cut and curing", store.Query{Cut: cut, State: store.StateCuring}},
		{"jar", store.Query{Jar: jar}},
		{"jar and person", store.Query{Jar: jar, Person: person}},
		{"lot", store.Query{Lot: newest.Card.Lot}},
		{"recipe of another cut", store.Query{Recipe: "house pork belly", Cut: "loin"}},
		{"nobody", store.Query{Person: "nobody", Cut: cut}},
	}
	for i := range all {
		all[i].query.Limit = 10
	}
	return all, nil
}

func askStore(s *store.Store, q store.Query) (numbers []uint64, err error) {
	err = s.View(func(tx *store.Tx) error {
		page, _, err := tx.Batches(kitchen, q)
		for _, b := range page {
			numbers = append(numbers, b.Number)
		}
		return err
	})
	return numbers, err
}
