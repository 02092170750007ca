package grammar

import (
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"
)

// Lines that are spliced from two phrases of the table, with letters lost, doubled, swapped and
// changed, hold what every line must: 20,000 of them, or ten million with -long. It is FuzzParse
// without the search for new paths, and so much faster.
func TestSplicedLines(t *testing.T) {
	t.Parallel()
	lines, workers := 20_000, 2
	if *long {
		lines = 10_000_000
	}
	var phrases []string
	for _, r := range rows(t) {
		if r.phrase != "" {
			phrases = append(phrases, r.phrase)
		}
	}
	start := time.Now()
	slow := make([][]string, workers)
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			rnd := rand.New(rand.NewPCG(uint64(w), 20261125))
			for range lines / workers {
				line := spliced(rnd, phrases)
				mustHold(t, line)
				if *long && took(line) > time.Millisecond {
					slow[w] = append(slow[w], line)
				}
			}
		})
	}
	wait.Wait()
	if !*long {
		return
	}
	over, worst := 0, time.Duration(0)
	for _, line := range slices.Concat(slow...) { // most only lost the processor for a while
		best := took(line)
		for range 20 {
			best = min(best, took(line))
		}
		if worst = max(worst, best); best > time.Millisecond {
			over++
			t.Logf("%v: %q", best, line)
		}
	}
	t.Logf("%d lines in %v; %d over a millisecond again, the slowest of them %v", lines, time.Since(start).Round(time.Second), over, worst)
}

// took is how long one answer takes.
func took(line string) time.Duration {
	start := time.Now()
	_, _ = Parse(line, Setting{}) // whatever it says
	return time.Since(start)
}

// spliced is a line of a phrase's beginning and another's end, with a few letters changed.
func spliced(rnd *rand.Rand, phrases []string) string {
	a, b := phrases[rnd.IntN(len(phrases))], phrases[rnd.IntN(len(phrases))]
	line := []byte(a[:rnd.IntN(len(a)+1)] + b[rnd.IntN(len(b)+1):])
	for range rnd.IntN(4) {
		if len(line) < 2 {
			break
		}
		i := rnd.IntN(len(line) - 1)
		switch rnd.IntN(4) {
		case 0:
			line = append(line[:i], line[i+1:]...)
		case 1:
			line = append(line[:i+1], line[i:]...)
		case 2:
			line[i], line[i+1] = line[i+1], line[i]
		default:
			line[i] = b[rnd.IntN(len(b))]
		}
	}
	return string(line)
}
