package grammar

import "strings"

// The commands that answer with a paper. Print is about one batch.
type (
	Print      struct{ What Paper } // "label 42", "sheet 42", "chart 42"
	BlankSheet struct{}             // "blank sheet": for the day the net is down
	Export     struct{ Span Span }  // "export october"
	// Scanned is what the code on a label says, "batch 42, kitchen NAME".
	Scanned struct {
		Batch   uint64
		Kitchen string
	}
)

// Paper is a paper of one batch.
type Paper string

// The papers of a batch.
const (
	LabelPaper Paper = "label"
	SheetPaper Paper = "sheet"
	ChartPaper Paper = "chart"
)

func (Print) command()      {}
func (BlankSheet) command() {}
func (Export) command()     {}
func (Scanned) command()    {}

// paper reads toks[from:] as a phrase that asks for a paper, or as what a label's code says, and
// gives the number of the batch that is meant: that of the phrase so far where none follows. A
// nil Command: it is neither.
func (r *reading) paper(from int, batch uint64) (Command, uint64) {
	t := r.toks[from:]
	if batch > 0 {
		if name, ok := r.scanned(from); ok {
			return Scanned{batch, name}, 0
		}
	}
	if t[0].kind != verbKind {
		return nil, batch
	}
	switch what := Paper(t[0].value); what {
	case LabelPaper, SheetPaper, ChartPaper:
		t = t[1:]
		if len(t) > 0 && (t[0].kind == fillerKind || t[0].kind == verbKind && t[0].value == "batch") {
			t = t[1:]
		}
		if len(t) > 1 && t[0].kind == oddKind && t[0].value == "#" {
			t = t[1:]
		}
		if len(t) == 0 {
			return Print{what}, batch
		}
		if n, ok := batchNumber(t[0]); ok && len(t) == 1 && batch == 0 {
			return Print{what}, n
		}
	case "blank sheet":
		if len(t) == 1 && batch == 0 {
			return BlankSheet{}, 0
		}
	}
	return nil, batch
}

// kitchenMark stands before the name of the kitchen in a label's code.
const kitchenMark = "kitchen "

// scanned is the kitchen that a label's code names behind the batch.
func (r *reading) scanned(from int) (name string, ok bool) {
	name, ok = strings.CutPrefix(strings.TrimSpace(r.text[r.toks[from].start:]), kitchenMark)
	name = strings.TrimSpace(name)
	return name, ok && name != ""
}
