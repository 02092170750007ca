package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is what each room may import of ours, and why.
var mayImport = map[string]struct {
	rooms []string
	why   string
}{
	"cure":            {[]string{"cure/diffuse"}, "cure is numbers: it knows of nothing else"},
	"cure/diffuse":    {nil, "the series know of nothing else"},
	"cure/published":  {nil, "it reads what tests compare with"},
	"cure/brine":      {[]string{"cure"}, "a subject of cure knows its units, and no other subject"},
	"cure/water":      {[]string{"cure"}, "a subject of cure knows its units, and no other subject"},
	"cure/dry":        {[]string{"cure"}, "a subject of cure knows its units, and no other subject"},
	"cure/ferment":    {[]string{"cure"}, "a subject of cure knows its units, and no other subject"},
	"cure/heat":       {[]string{"cure"}, "a subject of cure knows its units, and no other subject"},
	"grammar":         {[]string{"cure"}, "grammar reads phrases into values of cure, and computes nothing"},
	"store":           {nil, "store keeps what it is given, in units of its own"},
	"bot":             {[]string{"cure", "cure/brine", "cure/water", "cure/dry", "cure/ferment", "cure/heat", "grammar", "store"}, "bot is the way of a message; platforms know it, it knows no platform"},
	"bot/paper":       {[]string{"bot"}, "it lays out what cards carry, and knows nothing of curing"},
	"bot/console":     {[]string{"bot"}, "an adapter knows its platform and bot, nothing of curing"},
	"bot/slackchat":   {[]string{"bot"}, "an adapter knows its platform and bot, nothing of curing"},
	"bot/discordchat": {[]string{"bot"}, "an adapter knows its platform and bot, nothing of curing"},
	"bot/fakechat":    {nil, "a stand-in of a platform knows only the platform"},
	"bot/chattest":    {[]string{"bot"}, "the contract of adapters is about bot"},
	"cmd/salthand":    {[]string{"bot", "bot/console", "bot/paper", "bot/slackchat", "bot/discordchat", "cure", "grammar", "store"}, "cmd wires everything"},
}

// forTests are the rooms that tests may import wherever they stand, and nothing else.
var forTests = []string{"bot/chattest", "bot/fakechat", "cure/published"}

// neverImport are packages that a room has no use for.
var neverImport = map[string][]string{
	"cure":    {"os", "io", "log", "log/slog", "context", "net", "math/rand", "math/rand/v2", "runtime"},
	"grammar": {"os", "log", "log/slog", "context", "net", "math/rand", "math/rand/v2"},
	"store":   {"log", "log/slog", "net", "net/http"},
}

// Every Go file stands in a room, and imports only what its room may.
func TestRoomsImportOnlyWhatTheyMay(t *testing.T) {
	seen := 0
	eachGoFile(t, func(path, room string, imports []string) {
		rule, ok := mayImport[room]
		if !ok {
			t.Errorf("%s: there is no room %q; the rooms are in this test", path, room)
			return
		}
		seen++
		for _, imp := range imports {
			ours, isOurs := strings.CutPrefix(imp, "salthand/")
			test := strings.HasSuffix(path, "_test.go")
			if isOurs && !slices.Contains(rule.rooms, ours) && !(test && (ours == room || slices.Contains(forTests, ours))) {
				t.Errorf("%s imports %s: %s", path, ours, rule.why)
			}
			top, _, _ := strings.Cut(room, "/")
			if !test && room != "cure/published" && slices.Contains(neverImport[top], imp) {
				t.Errorf("%s imports %s: %s", path, imp, rule.why)
			}
			if room != "store" && !test && strings.HasPrefix(imp, "go.etcd.io/bbolt") {
				t.Errorf("%s imports bbolt: the engine stays in store", path)
			}
			if imp == "go.etcd.io/bbolt" && room == "store" && !test && filepath.Base(path) != "engine.go" {
				t.Errorf("%s imports bbolt: all of it stays in engine.go, so that another engine can be put under the records", path)
			}
			if isOurs && slices.Contains(forTests, ours) && !test && !slices.Contains(forTests, room) {
				t.Errorf("%s imports %s: it is for tests only, not for the shipped binary", path, ours)
			}
			if room == "bot/fakechat" && strings.HasPrefix(imp, "github.com/slack-go/") {
				t.Errorf("%s imports %s: a stand-in that shares code with the client would share its mistakes", path, imp)
			}
		}
	})
	if seen < 20 {
		t.Errorf("only %d Go files were looked at", seen)
	}
}

// The top level is fixed.
func TestTopLevelIsFixed(t *testing.T) {
	fixed := []string{"cmd", "bot", "grammar", "cure", "store", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(fixed, e.Name()) {
			t.Errorf("%s stands at the top level, where only %v stand", e.Name(), fixed)
		}
	}
}

// cure and grammar start no goroutine and read no clock.
func TestPureRoomsReadNoClock(t *testing.T) {
	eachGoFile(t, func(path, room string, _ []string) {
		if top, _, _ := strings.Cut(room, "/"); top != "cure" && room != "grammar" && room != "store" || strings.HasSuffix(path, "_test.go") {
			return
		}
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(src), "time.Now(") {
			t.Errorf("%s reads the clock: only bot has one", path)
		}
		if room != "store" && strings.Contains(string(src), "\tgo func") {
			t.Errorf("%s starts a goroutine: %s is pure", path, room)
		}
	})
}

// eachGoFile looks at each Go file of the product. A folder with a go.mod of its own is another
// module, which the product can't import.
func eachGoFile(t *testing.T, look func(path, room string, imports []string)) {
	t.Helper()
	const top = "../.."
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && path != top {
			if _, err := os.Stat(filepath.Join(path, "go.mod")); err == nil {
				return filepath.SkipDir
			}
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		var imports []string
		for _, i := range f.Imports {
			imp, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			imports = append(imports, imp)
		}
		rel, err := filepath.Rel("../..", filepath.Dir(path))
		look(path, filepath.ToSlash(rel), imports)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
