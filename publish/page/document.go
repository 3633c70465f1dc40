package page

import "plansheaf/publish/picture"

// A Document is everything that is published as pages, in reading order.
type Document struct {
	Title     string
	Summary   string
	Revision  string
	Date      string // as in the plan, YYYY-MM-DD
	Authors   []string
	License   string // SPDX identifier
	Language  string // BCP 47
	System    string // "metric" or "inch": which of a Measure's two texts comes first
	Sheet     string // "A4" or "letter": the binder's page
	Draft     bool   // errors were let stand: DRAFT on every page and drawing
	Machine   string // title of the top assembly
	Choices   []Choice
	Pages     []*Page
	Downloads []Download
	Findings  Tally
	Metadata  []byte // of the whole, for programs: JSON-LD in which no < stands; may be nil
}

// A Choice is something the builder decides. The document holds all options at
// once: blocks, rows and words that belong to some carry Only or Varies.
type Choice struct {
	ID      string
	Title   string
	Options []Option
	Default string // an option's ID
}

// An Option is one answer to a Choice.
type Option struct{ ID, Title string }

// A Combination is one option for each choice: choice id to option id. A nil or
// empty Combination fits everything.
type Combination map[string]string

// Default is the combination of all defaults.
func (d *Document) Default() Combination {
	c := Combination{}
	for _, choice := range d.Choices {
		c[choice.ID] = choice.Default
	}
	return c
}

// Only lists the options under which something exists: for each choice named,
// any of the options. The zero Only is always.
type Only []Condition

// A Condition is a choice and the options of it that serve.
type Condition struct {
	Choice  string
	Options []string
}

// Fits reports whether something with this Only exists under c.
func (o Only) Fits(c Combination) bool {
	for _, cond := range o {
		have, known := c[cond.Choice]
		if !known {
			continue
		}
		fits := false
		for _, option := range cond.Options {
			fits = fits || option == have
		}
		if !fits {
			return false
		}
	}
	return true
}

// Kind says what a page is, so that a theme can dress it.
type Kind string

// The kinds of page, in the order in which they stand in the document.
const (
	Front        Kind = "front"
	Safety       Kind = "safety"
	Prose        Kind = "prose"
	Choices      Kind = "choices"
	PartsList    Kind = "parts-list"
	Part         Kind = "part"
	Shopping     Kind = "shopping"
	Cutting      Kind = "cutting"
	Tools        Kind = "tools"
	Drawings     Kind = "drawings"
	Assemblies   Kind = "assemblies"
	Assembly     Kind = "assembly" // an assembly with its build steps
	Joints       Kind = "joints"   // what holds an assembly together, and why so
	Calculations Kind = "calculations"
	Calculation  Kind = "calculation"
	Hazards      Kind = "hazards" // the register
	Changes      Kind = "changes"
	Open         Kind = "open" // waived findings and open questions
	Downloads    Kind = "downloads"
	License      Kind = "license"
)

// A Page is one HTML page and one chapter or section of the binder.
type Page struct {
	ID      string // path without extension, unique: "parts/head_plate", "index"
	Title   string
	Kind    Kind
	Summary string // one line for lists and search; may be empty
	Parent  string // ID of the page that lists this one; empty at the top level
	Only    Only
	Blocks  []Block
	Sheets  []Sheet // full drawing sheets that belong to the page; the binder gives each its own leaf
}

// A Sheet is a drawing on its own paper.
type Sheet struct {
	Picture *picture.Picture
	Size    string // "A4 portrait", "A3 landscape", "letter landscape" ...
	Scale   string // "1:2"
	Only    Only
}

// A Download is a file of the publication offered to the reader.
type Download struct {
	Path  string // within the publication: "files/crank_knob.stl"
	Title string
	About string
	Bytes int64
}

// Tally counts findings left standing.
type Tally struct{ Errors, Warnings, Advice, Notes, Waived int }
