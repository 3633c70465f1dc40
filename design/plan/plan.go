package plan

import "plansheaf/design/finding"

// A Plan is a whole plan directory, read.
type Plan struct {
	Title, Summary Text
	Machine        Word // id of the top assembly
	Revision       Word
	Date           Word // YYYY-MM-DD
	Authors        []Text
	Approved       Text
	License        Word // SPDX expression
	Language       Word // BCP 47
	Units          Word // metric or inch
	Sheet          Word // A4 or letter
	Projection     Word // third or first
	Tolerances     Tolerances
	Currency       Word // ISO 4217

	Values  []*Value
	Choices []*Choice
	Motions []*Motion
	Claims  []*Claim
	Budgets []Named // mass, cost
	Spares  []Named // by kind of part
	Prefers []Word  // suppliers, where it costs the same
	Waivers []*Waiver
	History []*Entry

	Stock      []*Stock
	Materials  []*Material
	Suppliers  []*Supplier
	Tools      []*Tool
	Parts      []*Part
	Assemblies []*Assembly
	Drawings   []*Drawing
	Calcs      []*Calc
	Hazards    []*Hazard
	Pages      []*Page
	Files      []*File    // everything under files/, by path
	Shipped    []PartFile // plan.yaml's own files: those that belong to no part
	Reconciles []*Reconcile
	Lists      []*PartList // files under files/ that look like parts lists and that nothing reconciles

	At finding.Span // plan.yaml as a whole

	index index
}

// A Named quantity is one entry of a map of quantities: has, budgets, spares.
type Named struct {
	Name Word
	Is   Quantity
}

// A Value is a quantity of the plan that formulas may name.
type Value struct {
	ID       Word
	Is       Quantity
	About    Text
	From, To Quantity // the range that a builder may choose; not given: fixed
}

// A Motion is one way in which the machine moves; placements use it by name.
type Motion struct {
	ID       Word
	From, To Quantity
	About    Text
}

// A Claim is a promise of the front page, computed.
type Claim struct {
	Say             Text
	Is              Quantity
	AtLeast, AtMost Quantity
	At              finding.Span
}

// Tolerances hold where a dimension gives none.
type Tolerances struct {
	Standard      Word // "ISO 2768-m"; not given: Linear and Angle hold
	Linear, Angle Quantity
	At            finding.Span
}

// A Waiver lets one finding stand, with its reason.
type Waiver struct {
	Rule    Word
	Subject Word // what the finding is about, the key "at"
	Because Text
	Until   Word // revision
	At      finding.Span
}

// An Entry is one revision in the plan's history.
type Entry struct {
	Revision, Date Word
	Says           Text
	At             finding.Span
}

// A File is something shipped under files/.
type File struct {
	Path string // from the plan's root
	Size int64  // bytes
	Data []byte
}

// A Page is a file of prose.
type Page struct {
	ID         Word // the file's stem
	Title      Text
	Order      Word // a whole number as written; pages without stand last
	Only       Only
	Language   Word
	Translates Word
	Body       Text
}
