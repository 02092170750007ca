package store

// Count is how many batches a query has; at atMost it stops counting. It reads indexes alone,
// from the first page on wherever the query begins.
func (tx *Tx) Count(kitchen string, q Query, atMost int) (n int, err error) {
	if atMost <= 0 {
		return 0, nil
	}
	q.After = ""
	err = tx.back(kitchen, q, func(uint64, key) (bool, error) {
		n++
		return n < atMost, nil
	})
	return n, err
}
