package paper

import (
	"encoding/csv"
	"strings"
	"testing"

	"salthand/bot"
)

// hostile are cells that a spreadsheet would run, hide or cut, and what becomes of them.
// The signs: OWASP, CSV Injection (from memory): = + - @ tab and carriage return, also after
// quotes and separators.
var hostile = map[string]string{
	`=1+1`:                         `'=1+1`,
	`+1`:                           `'+1`,
	`-1`:                           `'-1`,
	`@SUM(A1)`:                     `'@SUM(A1)`,
	"\t=1":                         `'=1`,
	"\r=1":                         `'=1`,
	"\n@x":                         `'@x`,
	`  =1`:                         `'=1`,
	`"=1`:                          `"'=1`,
	`'=1`:                          `''=1`,
	`“=1`:                          `“'=1`,
	"\u200b=1":                     `'=1`,
	"\ufeff=1":                     `'=1`,
	"\u00a0-1":                     `'-1`,
	`＝1`:                           `'＝1`,
	`−5 °C`:                        `'−5 °C`,
	`ana;=cmd|'/c calc'!A1`:        `ana;'=cmd|'/c calc'!A1`,
	`ana,=cmd`:                     `ana,'=cmd`,
	`x; "=HYPERLINK("http://x")`:   `x; "'=HYPERLINK("http://x")`,
	`ana`:                          `ana`,
	`3.2 kg → 4.2 kg, typed wrong`: `3.2 kg → 4.2 kg, typed wrong`,
	`2026-11-25 09:00`:             `2026-11-25 09:00`,
	"two\nlines\tand\x00more":      `two lines and more`,
	`Fernández-de-la-Montaña`:      `Fernández-de-la-Montaña`,
	``:                             ``,
}

func TestCellsAreHarmless(t *testing.T) {
	for cell, want := range hostile {
		if got := harmless(cell); got != want {
			t.Errorf("%q becomes %q, want %q", cell, got, want)
		}
	}
}

// read takes a written table apart as a reader of RFC 4180 does.
func read(t *testing.T, data []byte) [][]string {
	t.Helper()
	text, ok := strings.CutPrefix(string(data), mark)
	if !ok {
		t.Fatal("no byte order mark: a spreadsheet garbles é")
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// What was written is read back cell by cell, each line as long as the head.
func TestTableIsReadBack(t *testing.T) {
	table1 := bot.Table{Head: []string{"who", "why"}}
	for cell := range hostile {
		table1.Rows = append(table1.Rows, []string{"x", cell})
	}
	data, err := table(table1)
	if err != nil {
		t.Fatal(err)
	}
	rows := read(t, data)
	if len(rows) != len(hostile)+1 {
		t.Fatalf("%d lines, want %d", len(rows), len(hostile)+1)
	}
	for i, r := range table1.Rows {
		if got := rows[i+1]; got[0] != "x" || got[1] != hostile[r[1]] {
			t.Errorf("%q is read back as %q", r, got)
		}
	}
}

// begins is the first sign with ink of each cell that a spreadsheet may make of a text, whatever
// it cuts at and whichever quotes it takes away.
func begins(text string) (signs []rune) {
	for _, cell := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",;\t\n\r|", r) }) {
		for _, r := range cell {
			if r == ' ' || strings.ContainsRune("\"`‘’“”", r) || blank(r) {
				continue
			}
			signs = append(signs, r)
			break
		}
	}
	return signs
}

func FuzzTable(f *testing.F) {
	for cell := range hostile {
		f.Add(cell, "ana")
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		data, err := table(bot.Table{Head: []string{"a", "b"}, Rows: [][]string{{a, b}}})
		if err != nil {
			t.Fatal(err)
		}
		rows := read(t, data)
		if len(rows) != 2 || len(rows[1]) != 2 {
			t.Fatalf("%q %q are %d lines", a, b, len(rows))
		}
		for _, r := range begins(strings.TrimPrefix(string(data), mark)) {
			if strings.ContainsRune(formulas+"\t\r", r) {
				t.Errorf("%q %q: a cell begins with %q in %q", a, b, r, data)
			}
		}
	})
}
