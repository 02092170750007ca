// Package published reads the tables that tests compare with: testdata/published, one
// subject a file. It is for tests only.
package published

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
)

// Rows are the rows of a table, by column. A row without a source, or that doesn't say how
// the source was seen, fails the test; so does a table without rows.
func Rows(t testing.TB, name string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(root(t), "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		if row["source"] == "" || row["seen"] == "" {
			t.Fatalf("%s: a row without a source: %v", name, line)
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

// root is the folder of go.mod, above the package under test.
func root(t testing.TB) string {
	t.Helper()
	dir := "."
	for range 5 {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		dir = filepath.Join(dir, "..")
	}
	t.Fatal("no go.mod above the test")
	return ""
}
