package store

// Count is how many batches a query has; at atMost it stops counting. It reads indexes alone,
// from the first page on wherever the query begins.
func (tx *Tx) Count(kitchen string, q Query, atMost int) (n int, err error) {
	q.After = ""
	at, err := q.begin()
	if err != nil {
		return 0, err
	}
	walks := tx.walks(tx.indexes(kitchen, q))
	for n < atMost {
		if at = meet(walks, at); at == nil {
			break
		}
		r := keyReader{rest: at}
		if asked := Milli(^r.num() ^ 1<<63); q.From != 0 && asked < q.From {
			break
		}
		n++
		at = after(at)
	}
	return n, nil
}
