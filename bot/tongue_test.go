package bot

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// text is where an English text is said, and whether with values.
type text struct {
	at     string
	values bool
}

// saidTexts are the English texts that package bot says: the literals given to say and to msg.
func saidTexts(t *testing.T) map[string]text {
	t.Helper()
	names, err := filepath.Glob("*.go")
	if err != nil || len(names) == 0 {
		t.Fatalf("no source: %v", err)
	}
	files := token.NewFileSet()
	texts := map[string]text{}
	note := func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) == 0 {
			return true
		}
		name := ""
		switch f := call.Fun.(type) {
		case *ast.Ident:
			name = f.Name
		case *ast.SelectorExpr:
			name = f.Sel.Name
		}
		if name != "say" && name != "msg" {
			return true
		}
		if said, ok := literal(call.Args[0]); ok {
			texts[said] = text{files.Position(call.Pos()).String(), len(call.Args) > 1 || name == "msg"}
		}
		return true
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(files, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, note)
	}
	return texts
}

// literal is the value of a string literal, or of several joined with +.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		s, err := strconv.Unquote(e.Value)
		return s, err == nil
	case *ast.BinaryExpr:
		a, ok := literal(e.X)
		b, too := literal(e.Y)
		return a + b, ok && too
	}
	return "", false
}

// verb is a verb of fmt, with its argument index: a translation may change the order.
var verb = regexp.MustCompile(`%(?:\[(\d+)\])?[-+# 0]*[\d.]*([a-zA-Z%])`)

// verbs are the verbs of a format by the argument that each stands for.
func verbs(format string) []string {
	var out []string
	next := 1
	for _, m := range verb.FindAllStringSubmatch(format, -1) {
		if m[2] == "%" {
			continue
		}
		if m[1] != "" {
			next, _ = strconv.Atoi(m[1]) // digits, by the expression
		}
		out = append(out, fmt.Sprintf("%d%s", next, m[2]))
		next++
	}
	slices.Sort(out)
	return out
}

// Every text has an entry in every language, every entry is of a text, and has its verbs.
func TestCatalogues(t *testing.T) {
	texts := saidTexts(t)
	for _, l := range []tongue{spanish, french} {
		entries := catalogues[l]()
		missing := 0
		for text, where := range texts {
			said := entries[text]
			if said == "" {
				missing++
				t.Errorf("%s: po/%s has no entry for %q: it is said in English", where.at, l, text)
				continue
			}
			if where.values && !slices.Equal(verbs(text), verbs(said)) {
				t.Errorf("po/%s: %q is for other values than %q", l, said, text)
			}
		}
		for text := range entries {
			if _, ok := texts[text]; !ok {
				t.Errorf("po/%s: nothing says %q any more", l, text)
			}
		}
		t.Logf("%s: %d texts, %d missing", l, len(texts), missing)
	}
}

// salts are words that no translation may mix up: in English, in the other languages, and the
// English that such a word may explain.
var salts = []struct{ english, said, meant *regexp.Regexp }{
	{regexp.MustCompile(`(?i)\bnitrites?\b`), regexp.MustCompile(`(?i)\bnitrit(o|e)s?\b`), regexp.MustCompile(`(?i)\bnitrites?\b`)},
	{regexp.MustCompile(`(?i)\bnitrates?\b`), regexp.MustCompile(`(?i)\bnitrat(o|e)s?\b`), regexp.MustCompile(`(?i)\b(nitrates?|saltpetre)\b`)},
}

// measured is a number with a unit that is written alike in every language.
var measured = regexp.MustCompile(`\d[\d.,]*\s*(?:°C|°F|ppm|mg|kg|g|cm|mm|ml|l|%+)(?:[^\pL]|$)`)

// measures are the numbers with a unit in a text, with a sign for per cent as it is printed.
func measures(text string) (out []string) {
	for _, m := range measured.FindAllString(text, -1) {
		m = strings.ReplaceAll(m, "%%", "%")
		out = append(out, strings.TrimRightFunc(m, func(r rune) bool { return r != '%' && !unicode.IsLetter(r) }))
	}
	return out
}

// A translation names the salt that the English names, no other one, and every measure.
func TestCataloguesKeepSaltsAndMeasures(t *testing.T) {
	for _, l := range []tongue{spanish, french} {
		for text, said := range catalogues[l]() {
			for _, salt := range salts {
				names := salt.said.MatchString(said)
				if names && !salt.meant.MatchString(text) || !names && salt.english.MatchString(text) {
					t.Errorf("po/%s: %q names another salt than %q", l, said, text)
				}
			}
			has := measures(said)
			for _, m := range measures(text) {
				if !slices.Contains(has, m) {
					t.Errorf("po/%s: %q lacks %s of %q", l, said, m, text)
				}
			}
		}
	}
}

// What has no entry is said in English.
func TestFallBack(t *testing.T) {
	const text = "a text that no catalogue has: %s"
	for _, name := range Tongues() {
		if got := tongue(name).say(text, "7"); got != "a text that no catalogue has: 7" {
			t.Errorf("%s says %q", name, got)
		}
	}
}
