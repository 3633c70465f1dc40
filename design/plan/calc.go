package plan

import "plansheaf/design/finding"

// A Calc is a design calculation.
type Calc struct {
	ID       Word // the file's stem
	Title    Text
	About    Text
	Only     Only
	From     Word // the ready calculation, or the plan's own, that this one is made from; may be empty
	Ready    bool // From leads, at last, to a ready calculation
	Assumes  []Text
	Tables   []TableFile
	Defines  []Definition
	Chain    *Chain // a tolerance chain, whose gap the formulas may name; nil for none
	Givens   []Given
	Finds    []Find
	Recorded []Record
	Limits   []Require // within what the method is valid
	Requires []Require
	Graphs   []Graph
	Source   Text
	At       finding.Span
}

// A Definition is a helper function that holds within its calculation.
type Definition struct {
	Name       Word
	Parameters []Word
	Is         Quantity
	At         finding.Span
}

// A Record is a result as it was relied on, its tolerance as spread, and the inputs
// that it was made from.
type Record struct {
	Name     Word
	Is       Quantity
	MadeFrom []Input
	At       finding.Span
}

// An Input is a named value as it stood when a result was recorded: a given, or any
// other name that the result leaned on, in dots.
type Input struct {
	Name Word
	Is   Quantity
}

// A Graph is a result against one of its inputs.
type Graph struct {
	Of, Against Word
	From, To    Quantity // not given: around the design point
	At          finding.Span
}

// A TableFile is a table of numbers under files/.
type TableFile struct {
	Name    Word
	File    Word
	Between Word   // "line" or "smooth": how values between two rows are found; not given: line
	Data    *Table // nil where it could not be read
}

// A Table is columns of equal length; Units are as written, for quantity to read.
type Table struct {
	Columns []string
	Units   []string
	Rows    [][]float64
}

// A Given is an input of a calculation.
type Given struct {
	Name    Word
	Is      Quantity
	Because Text
	About   Text
	// Of an input of what the calculation is made from: Must where it needs the kind of
	// quantity that Unit measures (none: a plain number), or Like, the input of the plan's
	// own calculation whose kind it needs.
	Must bool
	Unit string
	Like string
	At   finding.Span
}

// A Find is a result: its name and formula.
type Find struct {
	Name  Word
	Is    Quantity
	About Text
	Made  bool // taken over from what the calculation is made from
}

// A Require is a condition that must hold.
type Require struct {
	That    Quantity
	Because Text
	At      finding.Span
}

// A Hazard is something that can hurt.
type Hazard struct {
	ID            Word
	Title         Text // not given: the harm
	Kind          Word
	Where         []Word // a part, assembly, calc, or "step press.first_run" without the word step
	Harm          Text
	Before, After Risk
	Measures      []Protection
	Only          Only
	At            finding.Span
}

// A Risk is how bad and how likely.
type Risk struct {
	Severity, Chance Word
	At               finding.Span
}

// The kinds of protection.
const (
	Guard  = "guard"
	Warn   = "warning"
	Stop   = "stop"
	Bond   = "bond"
	Fuse   = "fuse"
	CutOut = "cut_out"
)

// A Protection is one measure against a hazard: a reference (guard, stop, bond,
// fuse, cut_out) or words (warning).
type Protection struct {
	Kind Word
	Ref  Word
	Say  Text
	At   finding.Span
}

// A Drawing adds to or replaces the drawing that a part gets by itself.
type Drawing struct {
	ID         Word // the file's stem
	Title      Text
	Of         Word
	Sheet      Word // "A4 landscape"
	Scale      Word // "1:2"
	Views      []View
	Dimensions []Dimension
	OnlyThese  bool // no dimension but those given here
	Notes      []Text
	Template   bool
	Only       Only
	At         finding.Span
}

// A View is a direction (front, top, pictorial ...), a section or a detail. Kind is
// the direction, or section or detail.
type View struct {
	Kind    Word
	Letter  Word   // section, detail
	Through []Word // section: the features that its plane runs or steps through
	Half    bool   // section: the other half as seen from outside
	Around  Word   // detail: a feature
	Scale   Word
	At      finding.Span
}

// A Dimension is one that the author asks for: between two features, or of one.
type Dimension struct {
	From, To  Word
	Along     Word
	Diameter  Word
	Radius    Word
	Angle     []Word // a slanted side, or two sides
	Chamfer   Word
	Depth     Word
	Tolerance Quantity
	Fit       Word
	Reference bool // in brackets: for information
	At        finding.Span
}
