// Package published reads the tables that tests compare with: testdata/published, one
// subject a file. It is for tests only.
package published

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
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

// Line is a row with the test that reads it and the name of its table.
type Line struct {
	T    *testing.T
	Name string
	Cell map[string]string
}

// Lines are the rows of a table, as by Rows.
func Lines(t *testing.T, name string) (lines []Line) {
	t.Helper()
	for _, row := range Rows(t, name) {
		lines = append(lines, Line{T: t, Name: name, Cell: row})
	}
	return lines
}

// Number is the number in a cell; an empty one fails the test.
func (l Line) Number(column string) float64 {
	l.T.Helper()
	return Number(l.T, l.Cell[column])
}

// Or0 is the number in a cell, 0 where it is empty.
func (l Line) Or0(column string) float64 {
	l.T.Helper()
	if l.Cell[column] == "" {
		return 0
	}
	return l.Number(column)
}

// Digit is half the last digit of a cell.
func (l Line) Digit(column string) float64 {
	_, after, _ := strings.Cut(l.Cell[column], ".")
	return 0.5 * math.Pow(10, -float64(len(after)))
}

// Near holds got against what the row says.
func (l Line) Near(got, want, tolerance float64) {
	l.T.Helper()
	Near(l.T, l.Cell, got, want, tolerance)
}

// Number reads a decimal, or a simple fraction like 3/4.
func Number(t testing.TB, text string) float64 {
	t.Helper()
	over, under, fraction := strings.Cut(text, "/")
	x, err := strconv.ParseFloat(over, 64)
	if err != nil {
		t.Fatal(err)
	}
	if fraction {
		x /= Number(t, under)
	}
	return x
}

// Near holds got against want. Beyond the tolerance only the rounding of binary fractions is
// let pass.
func Near[T ~float64](t testing.TB, row any, got T, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= tolerance+slack*math.Abs(want)) {
		t.Errorf("%v: got %.9g, want %.9g ± %g", row, float64(got), want, tolerance)
	}
}

const slack = 1e-12
