package paper

import (
	"bytes"
	"encoding/csv"
	"strings"
	"unicode"

	"salthand/bot"
)

// mark is the byte order mark. Spreadsheets take a file without it for an old code page and
// garble é and ñ; whoever reads UTF-8 skips it.
const mark = "\ufeff"

// table writes cells with commas between, as RFC 4180 has it, behind a byte order mark.
func table(t bot.Table) ([]byte, error) {
	out := bytes.NewBufferString(mark)
	w := csv.NewWriter(out)
	w.UseCRLF = true
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = harmless(c)
		}
		if err := w.Write(cells); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// harmless is a cell that no spreadsheet runs: one line, and an apostrophe before a sign that
// begins a formula, where the cell begins, or where a spreadsheet that cuts at another sign than
// the comma would begin one. Spaces, quotes and what has no width don't hide it.
func harmless(cell string) string {
	var out strings.Builder
	begins := true
	for _, r := range strings.TrimFunc(cell, blank) {
		if unicode.IsControl(r) || unicode.IsSpace(r) {
			r = ' '
		}
		switch {
		case strings.ContainsRune(separators, r):
			begins = true
		case strings.ContainsRune(formulas, r):
			if begins {
				out.WriteByte('\'')
			}
			begins = false
		case !blank(r) && !strings.ContainsRune(quotes, r):
			begins = false
		}
		out.WriteRune(r)
	}
	return out.String()
}

// The signs that begin a formula, with the full-width ones; those that a spreadsheet may cut
// at; and quotes that it may take away.
const (
	formulas   = "=+-@＝＋－＠−"
	separators = ",;|"
	quotes     = "\"'`‘’“”"
)

// blank reports whether a rune leaves no ink.
func blank(r rune) bool {
	return unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Zs, r)
}
