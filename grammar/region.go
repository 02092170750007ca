package grammar

import "salthand/cure"

// regions leads from what people type to the names of rule sets.
var regions = map[string]cure.Region{
	"us": "us", "usa": "us", "eu": "eu", "gb": "gb", "uk": "gb", "ca": "ca", "canada": "ca", "au-nz": "au-nz", "au": "au-nz", "nz": "au-nz",
	"jp": "jp", "japan": "jp", "cn": "cn", "china": "cn", "codex": "codex",
}

// region reads toks[from:to], one clause, as one region or two: "us and eu", "against eu".
// It reports false where they are no regions.
func (r *reading) region(from, to int) bool {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	if w := r.toks[from].value; to-from > 1 && (w == "against" || w == "vs") {
		from++
	}
	var named []cure.Region
	for ; from < to; from++ {
		t := r.toks[from]
		name := regions[t.value]
		if t.kind != wordKind || name == "" {
			return false
		}
		if t.value == "au" && from+1 < to && r.toks[from+1].value == "nz" {
			from++
		}
		named = append(named, name)
	}
	d := &r.draft
	switch {
	case len(named) > 2 || len(named) == 2 && named[0] == named[1]:
		return false
	case len(named) == 2:
		d.Region = named[0]
	}
	d.Against = named[len(named)-1]
	if err := r.set(regionField, at); err != nil {
		r.doubts = append(r.doubts, err)
	}
	return true
}
