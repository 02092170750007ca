package bot

import "time"

// Paper is something to print, to look at or to keep, as plain data: a Drawer makes files of it
// when its card is sent. Its words are in the kitchen's language. One of its parts is set.
type Paper struct {
	Name     string    `json:"name"`     // of its files, without an ending
	Language string    `json:"language"` // one of Tongues
	At       time.Time `json:"at"`       // when it was asked for: the only date that its files carry
	Label    *Label    `json:"label,omitempty"`
	Sheet    *Sheet    `json:"sheet,omitempty"`
	Table    *Table    `json:"table,omitempty"`
	Chart    *Chart    `json:"chart,omitempty"`
}

// File is a drawn paper. Its bytes are made when a card is sent and kept nowhere.
type File struct {
	Name  string // with its ending
	Media string // "application/pdf", "image/png", "text/csv; charset=utf-8"
	Bytes []byte
}

// Drawer makes files of a paper. The same paper gives the same bytes.
type Drawer interface {
	Draw(p Paper) ([]File, error)
}

// Label is what hangs on the bag.
type Label struct {
	Banner string       `json:"banner,omitempty"` // "HOLD": white on black over everything else
	Why    string       `json:"why,omitempty"`    // beside it
	Title  string       `json:"title"`            // the product
	Batch  string       `json:"batch"`            // "batch 42"
	Weight string       `json:"weight"`           // "3,200 g"
	State  string       `json:"state"`            // "RAW": in a frame
	Code   string       `json:"code"`             // what the QR code says
	Fields []PaperField `json:"fields"`
	Foot   string       `json:"foot,omitempty"`
}

// PaperField is a name with its value. An empty value is a line to write on.
type PaperField struct {
	Name  string `json:"name"`
	Value string `json:"value,omitempty"`
	Wide  bool   `json:"wide,omitempty"` // takes a line of its own
}

// Sheet is a page of the records, or one to fill in by hand. What doesn't fit on it goes on to
// further pages.
type Sheet struct {
	Letter bool        `json:"letter,omitempty"` // paper of the US and Canada; else A4
	Banner string      `json:"banner,omitempty"`
	Why    string      `json:"why,omitempty"`
	Title  string      `json:"title"`
	Under  string      `json:"under,omitempty"` // beneath the title
	Code   string      `json:"code,omitempty"`  // what a QR code says; "": none
	Parts  []SheetPart `json:"parts"`
	Foot   string      `json:"foot,omitempty"`
	Page   string      `json:"page"` // "page %d of %d"
}

// SheetPart is a part of a sheet under a heading.
type SheetPart struct {
	Heading string       `json:"heading"`
	Half    bool         `json:"half,omitempty"` // stands beside the next such part, where both fit on the page
	Fields  []PaperField `json:"fields,omitempty"`
	Lines   []string     `json:"lines,omitempty"`
	Grid    *Grid        `json:"grid,omitempty"`
}

// Grid is a table on a sheet.
type Grid struct {
	Widths []float64  `json:"widths"` // of the columns, in any unit
	Head   []string   `json:"head"`
	Rows   [][]string `json:"rows,omitempty"`
	Empty  int        `json:"empty,omitempty"` // rows to write in, after the others
	Old    int        `json:"old,omitempty"`   // the column, from 1, of values that count no more and are struck through; 0: none
}

// Table is a file for a spreadsheet: plain cells under a head.
type Table struct {
	Head []string   `json:"head"`
	Rows [][]string `json:"rows"`
}

// Chart is a picture of figures over time.
type Chart struct {
	Title string       `json:"title"`
	Under string       `json:"under,omitempty"`
	X     Axis         `json:"x"`
	Y     Axis         `json:"y"`
	Band  []ChartRange `json:"band,omitempty"` // between two lines, by X
	Lines []ChartLine  `json:"lines,omitempty"`
	Marks []ChartMark  `json:"marks,omitempty"`
	Named string       `json:"named,omitempty"` // what Band is
	Foot  string       `json:"foot,omitempty"`
}

// Axis is one of a chart's two.
type Axis struct {
	Name string  `json:"name"` // with its unit
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// ChartRange is a place of a band.
type ChartRange struct {
	X    float64 `json:"x"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// ChartPoint is a place on a line.
type ChartPoint struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// ChartLine is a line, or readings that stand alone.
type ChartLine struct {
	Name   string       `json:"name"`
	Dots   bool         `json:"dots,omitempty"` // readings
	Points []ChartPoint `json:"points"`
}

// ChartMark is a value on one axis that a dashed line stands at.
type ChartMark struct {
	Name    string  `json:"name"`
	Upright bool    `json:"upright,omitempty"` // at an X; else at a Y
	At      float64 `json:"at"`
	Until   float64 `json:"until,omitempty"` // upright: as wide as up to here, at the height of Y; 0: a line
	Y       float64 `json:"y,omitempty"`
}
