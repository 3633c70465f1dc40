package plan

import "plansheaf/design/finding"

// The ways in which a part comes to be.
const (
	Cut        = "cut"
	Sheet      = "sheet"
	Machined   = "machined"
	Turned     = "turned"
	Printed    = "printed"
	Bought     = "bought"
	Altered    = "altered"
	Consumable = "consumable"
)

// A Part is one kind of thing that the machine holds.
type Part struct {
	ID        Word
	Title     Text
	Made      Word // one of the ways above; standard parts have none
	Standard  Word // designation: "ISO 4762 M8x25 - 8.8"
	Stock     Word
	Material  Word
	Of        Word // altered: the bought part
	Because   Text // altered: why
	Length    Quantity
	Lies      Word // x, y or z; not given: x
	Mitre     *Mitre
	Grain     Word // sheets: along, across or any; not given: as its stock says
	Outline   *Outline
	Shape     []Solid
	Holes     []*Hole
	Mass      Quantity
	Has       []Named
	Finish    Text
	Amount    Quantity // consumable: what one purchase holds
	Buy       *Buy
	Or        []Substitute
	Print     *Print
	Files     []PartFile
	Fastener  *Fastener
	Loop      *Loop
	Strand    *Strand
	Telescope *Telescope
	Guards    []Word // a fuse: what it protects
	Notes     []Text
	Group     string // stem of the file it stands in
	At        finding.Span
}

// A Solid is one piece of a shape. Kind is box, cylinder, tube, cone, prism, turned
// or mesh.
type Solid struct {
	Kind    Word
	Size    []Quantity // box
	D, To   Quantity   // cylinder, tube, cone
	Thread  Word       // cylinder: cut on it from end to end, instead of a diameter
	Bore    Quantity   // tube
	L       Quantity   // cylinder, tube, cone, prism
	Outline *Outline   // prism
	Steps   []Turn     // turned
	File    Word       // mesh
	Unit    Word       // mesh
	Place   Point      // the key "at": lowest corner of this piece's own box
	Axis    Word       // x, y or z
	Cut     bool
	Name    Word
	Turns   bool
	At      finding.Span
}

// A Turn is one cylinder of a turned shape.
type Turn struct {
	D, L   Quantity
	Thread Word // cut on it from end to end, instead of a diameter
	At     finding.Span
}

// A Print says how a printed part is made.
type Print struct {
	Face      Word // the face on the bed
	Allowance Quantity
	Walls     Word // a whole number as written
	Infill    Quantity
	Layer     Quantity
	Nozzle    Quantity // its bore; not given: 0.4 mm
	Caps      Word     // closed layers below, and as many above, a whole number as written; not given: 4
	Time      Quantity
	Mass      Quantity // of the plastic, where it beats the estimated one
	At        finding.Span
}

// A PartFile is a file that shows or makes the part.
type PartFile struct {
	File  Word
	Use   Word // print, cut, cad, photo, data
	Shows Word // the revision that it shows
	// License is an SPDX expression, not given where the plan's holds.
	License Word
	At      finding.Span
}

// A Fastener says what a bought fastener is that no standard describes. Kind is nut,
// insert, washer, screw, wood_screw, rivet or clamp.
type Fastener struct {
	Kind     Word
	Thread   Word     // nut, insert, screw; for a washer the screw it is for
	D        Quantity // wood_screw, rivet: diameter; clamp: bore
	Slot     Quantity
	Height   Quantity
	Seat     Quantity
	Length   Quantity
	Outside  Quantity
	GoesIn   Word       // front or end
	Grip     []Quantity // rivet: the least and the largest thickness that it holds
	Closes   Quantity   // clamp: by how much its bore becomes narrower
	Tool     Word       // what turns or sets it: "hex key 3 mm"
	DrivenAt Word       // clamp: the part's hole at whose mouth its own screw is turned
	At       finding.Span
}

// A Loop is a belt.
type Loop struct {
	Pitch, Width, Teeth, Thick Quantity
	At                         finding.Span
}

// A Strand is a cable, hose or wire.
type Strand struct {
	D, Length Quantity
	Area      Quantity // conductor's cross-section
	At        finding.Span
}

// A Telescope is a part that stretches between two places.
type Telescope struct {
	Closed, Stroke Quantity
	Shapes         []Word
	At             finding.Span
}

// The kinds of hole.
const (
	Bore     = "bore"
	Tap      = "tap"
	For      = "for"
	Forms    = "forms"
	Insert   = "insert"
	SlotHole = "slot"
)

// A Hole is a hole or a pattern of equal holes.
type Hole struct {
	ID          Word
	Kind        Word     // one of the kinds above; At of it is the key
	Face        Word     // not given: top
	Diameter    Quantity // bore; forms: the bore beside it
	Thread      Word     // tap, for, forms, insert
	Fit         Word     // for: fine, medium, coarse, close, normal, loose
	Long, Wide  Quantity // slot
	Along       Word     // slot
	Counterbore *Counterbore
	Countersink *Countersink
	Depth       Quantity // not given: through
	ThroughAll  bool
	Pattern     Pattern
	Note        Text // what an empty hole is for
	At          finding.Span
}

// A Counterbore is a flat seat for a head.
type Counterbore struct {
	D, Depth Quantity
	At       finding.Span
}

// A Countersink is a conical seat for a head.
type Countersink struct {
	D, Angle Quantity
	At       finding.Span
}

// A Pattern places a hole, or equal holes. Kind is at, grid, line, circle or points.
type Pattern struct {
	Kind         Word
	Point        Point // at; from of grid and line; centre of circle
	Step         Point // grid: both steps; line: the one step
	Count        []Quantity
	D, FirstTurn Quantity // circle: diameter, angle of the first
	Points       []Point
	At           finding.Span
}
