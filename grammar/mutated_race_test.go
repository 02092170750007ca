//go:build race

package grammar

// mutated is how many phrases of the table the mutation tests have one of: the race detector
// makes each ten times as dear, and finds no more in the others.
const mutated = 3
