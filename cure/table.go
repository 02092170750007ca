package cure

import (
	_ "embed" // the tables
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// LawVersion names the state of limits.csv and classes.csv: a date and the start of the
// SHA-256 of the two files in that order. A test keeps it true.
const LawVersion = "2026-11-25 c4c880bd68b9"

//go:embed limits.csv
var limitsCSV string

//go:embed classes.csv
var classesCSV string

//go:embed cuts.csv
var cutsCSV string

//go:embed composition.csv
var compositionCSV string

// tables are all the tables, read once. What they hold is never changed.
type tables struct {
	limits  []Limit
	cuts    []Cut
	classes []class
}

// house reads the tables on first use. They are part of the program: a bad row panics, and
// the tests read every row.
var house = sync.OnceValue(func() tables {
	t := tables{limits: readLimits(limitsCSV)}
	t.cuts = readCuts(cutsCSV, compositionCSV)
	t.classes = readClasses(classesCSV, t.limits)
	return t
})

// Limits are all rows of the law table, in force or not.
func Limits() []Limit { return append([]Limit(nil), house().limits...) }

// Cuts are all cuts, in the order of the table.
func Cuts() []Cut { return slices.Clone(house().cuts) }

// FindCut finds a cut by its canonical name.
func FindCut(name string) (Cut, bool) {
	for _, c := range house().cuts {
		if c.Name == name {
			return c, true
		}
	}
	return Cut{}, false
}

// row is one line of a table by the names of its columns.
type row map[string]string

func readRows(text string) (rows []row) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	lines, err := r.ReadAll()
	must(err)
	for _, line := range lines[1:] {
		one := row{}
		for i, column := range lines[0] {
			one[column] = line[i]
		}
		rows = append(rows, one)
	}
	return rows
}

func (r row) number(column string) float64 {
	x, err := strconv.ParseFloat(r[column], 64)
	must(err)
	return x
}

func (r row) day(column string) (t time.Time) {
	if r[column] == "" {
		return t
	}
	t, err := time.Parse(time.DateOnly, r[column])
	must(err)
	return t
}

func (r row) method(column string) Method {
	m, ok := methodNamed(r[column])
	if !ok {
		panic(fmt.Sprintf("cure: no method %q", r[column]))
	}
	return m
}

func methodNamed(name string) (Method, bool) {
	for m := DryRub; m <= Confit; m++ {
		if m.String() == name {
			return m, true
		}
	}
	return NoMethod, false
}

func must(err error) {
	if err != nil {
		panic("cure: a table of the program: " + err.Error())
	}
}

func readLimits(text string) (limits []Limit) {
	for _, r := range readRows(text) {
		limits = append(limits, Limit{
			ID: r["id"], Region: Region(r["region"]), Agent: r["agent"], Kind: r["kind"],
			Value: PPM(r.number("value")), Digits: int(r.number("digits")), Basis: r["basis"], As: r["as"],
			Source: r["source"], Seen: r["seen"], Enforced: r["enforced"] == "yes",
			From: r.day("from"), Until: r.day("until"),
		})
	}
	return limits
}

func readCuts(cutText, foodText string) (cuts []Cut) {
	food := map[string]row{}
	for _, r := range readRows(foodText) {
		food[r["ndb"]] = r
	}
	for _, r := range readRows(cutText) {
		f, ok := food[r["composition"]]
		if !ok {
			panic("cure: no composition " + r["composition"])
		}
		share := func(column string) Fraction { return Fraction(f.number(column) / 100) }
		cuts = append(cuts, Cut{
			Name: r["name"], Group: r["group"], Method: r.method("method"), Shape: r["shape"],
			Thickness: Millimetre(r.number("thickness_mm")), Heated: r["heated"] == "yes", Skin: r["skin"] == "yes", Bone: r["bone"] == "yes",
			Water: share("water"), Protein: share("protein"), Fat: share("fat"),
			Table:  fmt.Sprintf("%s, %s %s", f["source"], f["ndb"], f["description"]),
			Source: r["source"],
		})
	}
	return cuts
}
