package page

import (
	"plansheaf/publish/notation"
	"plansheaf/publish/picture"
)

// A Block is a vertical piece of a page.
type Block interface{ block() }

// Heading starts a section. Level 2 is the highest inside a page, whose title is
// level 1.
type Heading struct {
	Level int
	ID    string // anchor, unique within its page
	Words []Inline
	Only  Only
}

// Paragraph is running text.
type Paragraph struct {
	Words []Inline
	Only  Only
}

// List is a bulleted, numbered or tick list.
type List struct {
	Ordered bool
	Start   int // first number of an ordered list; 0 means 1
	Items   []Item
	Only    Only
}

// Item is one entry of a List.
type Item struct {
	Blocks []Block
	Tick   string // id of a tick box kept in the browser, unique in the document; empty: none
	Only   Only
}

// Quote is quoted text.
type Quote struct {
	Blocks []Block
	Only   Only
}

// Code is preformatted text.
type Code struct {
	Text, Language string
	Only           Only
}

// Break is a thematic break.
type Break struct{ Only Only }

// Footnotes stand at the end of a page's prose.
type Footnotes struct{ Notes []Footnote }

// Footnote is one note; Ref inlines point to its Number.
type Footnote struct {
	Number int
	Blocks []Block
}

// Align says how a column's cells stand.
type Align int

// The alignments.
const (
	Left Align = iota
	Right
	Centre
)

// Column is a table's column.
type Column struct {
	Head  []Inline
	Align Align
	// Width is a share of the table's width for fixed layouts such as paper;
	// all zero lets the renderer measure.
	Width float64
	// Wide columns are dropped from narrow screens' rows into a second line.
	Wide bool
}

// Table is a table with one head row.
type Table struct {
	ID      string // anchor; may be empty
	Caption []Inline
	Columns []Column
	Rows    []Row
	Foot    []Row // totals
	Only    Only
	Sort    bool // scripts may offer sorting
}

// Row is a table's row; one Cell a column. A Section row spans all columns with
// its first cell.
type Row struct {
	ID      string // anchor; may be empty
	Cells   []Cell
	Section bool
	Tick    string // id of a tick box before the first cell; empty: none
	Only    Only
}

// Cell is a table's cell.
type Cell struct{ Words []Inline }

// Figure is a picture within the text.
type Figure struct {
	Picture *picture.Picture
	Image   *Image // a raster or vector file of the plan instead of a Picture
	Caption []Inline
	Link    Target // what a click leads to; zero: the picture itself
	Small   bool   // a thumbnail beside text rather than across the column
	Only    Only
}

// Image is a picture file of the plan.
type Image struct {
	Path   string // within the publication: "files/wiring.svg"
	Alt    string
	Data   []byte
	Width  int // pixels; 0 when unknown
	Height int
}

// Signal is a signal word of ANSI Z535.6 and ISO 3864-2.
type Signal string

// The signal words.
const (
	Danger  Signal = "danger"
	Warning Signal = "warning"
	Caution Signal = "caution"
	Notice  Signal = "notice"
)

// CautionBox warns before the action it guards.
type CautionBox struct {
	Signal Signal
	Sign   string // ISO 7010 code such as W024; empty: general
	Title  []Inline
	Blocks []Block
	Only   Only
}

// Fact is a labelled value.
type Fact struct {
	Label string
	Words []Inline
	Only  Only
}

// Facts is a list of labelled values: a title block in the page.
type Facts struct {
	Facts []Fact
	Only  Only
}

// Step is one step of the work.
type Step struct {
	ID       string   // "frame.square_up"
	Anchor   string   // anchor within its page
	Number   []Inline // "3" or "2.4": Text, or Varies of Text, since choices leave steps out
	Title    string
	Only     Only
	Cautions []CautionBox // stand before the text
	Figure   *Figure
	Bag      *Table // parts to lay out, with counts
	Screws   *Table // screws with length, washer, count, torque, tool
	Facts    []Fact // tools, time, needs
	Text     []Block
	Measures []Item // what to measure, with tick boxes
	Tick     string // id of the step's "done" box
}

// Equation is a formula shown worked: as it is, with values put in, and its result,
// one below the other behind their equals signs.
type Equation struct {
	ID     string         // anchor; may be empty
	About  []Inline       // what it is
	Name   *notation.Node // the symbol that it gives
	Is     *notation.Node // the formula
	Worked []Worked       // the formula with values put in; empty where that says nothing new
	Result []Inline
	Facts  []Fact // what else is known of the result: its spread, its record
}

// Worked is a formula with values put in, and when they are these. Those of one
// Equation cover every combination under which it has any.
type Worked struct {
	When Only
	Is   *notation.Node
}

// Cards is a grid of links with pictures: parts, drawings.
type Cards struct {
	Cards []Card
	Only  Only
}

// Card is one entry of Cards.
type Card struct {
	Target  Target
	Title   string
	Note    []Inline
	Picture *picture.Picture
	Only    Only
}

func (Heading) block()    {}
func (Paragraph) block()  {}
func (List) block()       {}
func (Quote) block()      {}
func (Code) block()       {}
func (Break) block()      {}
func (Footnotes) block()  {}
func (Table) block()      {}
func (Figure) block()     {}
func (CautionBox) block() {}
func (Facts) block()      {}
func (Step) block()       {}
func (Equation) block()   {}
func (Cards) block()      {}
