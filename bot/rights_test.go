package bot

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"salthand/grammar"
	"salthand/store"
)

// commands are the types that the grammar declares as commands.
func commands(t *testing.T) (names []string) {
	t.Helper()
	files, err := filepath.Glob("../grammar/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no grammar: %v", err)
	}
	method := regexp.MustCompile(`(?m)^func \((?:\w+ )?(\w+)\) command\(\)`)
	for _, name := range files {
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range method.FindAllSubmatch(source, -1) {
			names = append(names, string(m[1]))
		}
	}
	return names
}

// Every command has a right, and every right is of a command.
func TestRights(t *testing.T) {
	all := commands(t)
	for _, name := range all {
		if _, ok := rights[name]; !ok {
			t.Errorf("rights.go doesn't say who may type %s", name)
		}
	}
	for name, r := range rights {
		if !slices.Contains(all, name) {
			t.Errorf("rights.go has %s, which is no command", name)
		}
		if r.who != everybody && (r.no == "" || r.next == "") {
			t.Errorf("%s: nothing is said to whoever may not", name)
		}
	}
	if len(all) < 40 {
		t.Errorf("%d commands found: %v", len(all), slices.Sorted(maps.Keys(rights)))
	}
}

// What each role may type, one command of each right.
func TestMay(t *testing.T) {
	roles := map[string]store.Person{"cook": {}, roleSecond: {Roles: []string{roleSecond}}, roleChef: {Roles: []string{roleChef}}}
	for _, c := range []struct {
		command grammar.Command
		may     []string
	}{
		{grammar.HoldIt{Why: "x"}, []string{"cook", roleSecond, roleChef}},
		{grammar.Approve{}, []string{roleSecond, roleChef}},
		{grammar.Decline{}, []string{roleChef}},
		{grammar.ReleaseIt{}, []string{roleChef}},
		{grammar.SetRegion{}, []string{roleChef}},
		{grammar.Language{Code: "es"}, []string{"cook", roleSecond, roleChef}},
		{grammar.Language{Code: "es", Kitchen: true}, []string{roleChef}},
	} {
		r, ok := rightOf(c.command)
		if !ok {
			t.Errorf("%T is nobody's", c.command)
		}
		for role, p := range roles {
			if r.may(p) != slices.Contains(c.may, role) {
				t.Errorf("%T: a %s may: %v", c.command, role, r.may(p))
			}
		}
	}
}
