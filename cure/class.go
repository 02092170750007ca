package cure

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// class is one row of classes.csv: which limits apply, and what the dose and each limit is
// reckoned on.
type class struct {
	region        Region
	cuts          []string // groups, or "*" for any but fish
	methods       []string
	heated        string // "yes", "no", "*"
	name          string
	rules         []rule
	nitrite, salt string // "green", "water", "pickle"
	target        PPM
}

// rule is a limit and what a dose is compared with it on.
type rule struct {
	limit Limit
	on    string // "green", "pickle", "pumped", "dose"; "" for what a recipe can't tell
}

func readClasses(text string, limits []Limit) (classes []class) {
	for _, r := range readRows(text) {
		c := class{
			region: Region(r["region"]), heated: r["heated"], name: r["class"],
			cuts: strings.Split(r["cuts"], ";"), methods: strings.Split(r["methods"], ";"),
			nitrite: r["nitrite"], salt: r["salt"], target: PPM(r.number("target")),
		}
		for _, one := range strings.Fields(r["limits"]) {
			id, on, _ := strings.Cut(one, "@")
			i := slices.IndexFunc(limits, func(l Limit) bool { return l.ID == id })
			if i < 0 || limits[i].Region != c.region {
				panic(fmt.Sprintf("cure: class %s: no limit %q", c.name, id))
			}
			c.rules = append(c.rules, rule{limits[i], on})
		}
		classes = append(classes, c)
	}
	return classes
}

// fish is the group of cuts.csv that is no meat in the eyes of the law.
const fish = "fish"

// fits reports whether the row is the one for a cut.
func (c class) fits(region Region, group string, m Method, heated bool) bool {
	any := func(list []string) bool { return list[0] == "*" }
	return c.region == region &&
		(any(c.cuts) && group != fish || slices.Contains(c.cuts, group)) &&
		(any(c.methods) || slices.Contains(c.methods, m.String())) &&
		(c.heated == "*" || (c.heated == "yes") == heated)
}

// findClass is the row of classes.csv that decides. The table's test shows that there is
// exactly one.
func findClass(region Region, group string, m Method, heated bool) (class, bool) {
	for _, c := range house().classes {
		if c.fits(region, group, m, heated) {
			return c, true
		}
	}
	return class{}, false
}

// inForce are the rules in force on a day, taken as the calendar says where it was noted;
// the zero day means the newest.
func (c class) inForce(on time.Time) (rules []rule) {
	day := on
	if !on.IsZero() {
		day = time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, time.UTC)
	}
	for _, r := range c.rules {
		switch l := r.limit; {
		case day.IsZero() && !l.Until.IsZero():
		case !day.IsZero() && day.Before(l.From):
		case !day.IsZero() && !l.Until.IsZero() && day.After(l.Until):
		default:
			rules = append(rules, r)
		}
	}
	return rules
}

// known reports whether the tables have rules for a region.
func (r Region) known() bool {
	return slices.ContainsFunc(house().classes, func(c class) bool { return c.region == r })
}
