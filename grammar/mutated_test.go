//go:build !race

package grammar

// mutated is how many phrases of the table the mutation tests have one of: all of them.
const mutated = 1
