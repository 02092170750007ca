package grammar

// oneTypo reports whether a and b differ by one letter put in, left out, exchanged, or by
// two neighbours that changed places: optimal string alignment distance 1.
func oneTypo(a, b string) bool { return a != b && distance(a, b, 1) == 1 }

// distance is the optimal string alignment distance of a and b, counted in bytes of folded
// words; beyond limit it may stop early with limit+1.
//
// Source: L. Boytsov, Indexing methods for approximate dictionary searching, 2011, section 2.1 (from memory).
func distance(a, b string, limit int) int {
	const most = 32
	if len(a) > most || len(b) > most || len(a)-len(b) > limit || len(b)-len(a) > limit {
		return limit + 1
	}
	var rows [3][most + 1]int
	before, last, row := &rows[0], &rows[1], &rows[2]
	for j := 0; j <= len(b); j++ {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > limit {
			return limit + 1
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
