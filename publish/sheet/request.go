package sheet

import (
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// Projection is how views stand to each other (ISO 5456-2).
type Projection int

// The projections.
const (
	ThirdAngle Projection = iota // what is seen from the right stands at the right
	FirstAngle                   // what is seen from the right stands at the left
)

// System is the unit system that dimensions are written in first; the other
// stands in brackets.
type System int

// The systems.
const (
	Metric System = iota // millimetres
	Inch                 // decimal inches
)

// Body says what of a part's shape comes with its stock and needs no dimension.
type Body int

// The bodies.
const (
	Free  Body = iota // everything is dimensioned
	Bar               // the section comes with the stock; length is cut
	Plate             // the thickness comes with the stock; the outline is cut
)

// Request is what a sheet is made from.
type Request struct {
	Name        string // the picture's file stem
	Title       string
	Subtitle    string // supplementary title
	Kind        string // document type; "" means "Part drawing"
	Number      string // identification number
	Revision    string
	Date        string // of issue, YYYY-MM-DD
	Author      string
	Approved    string // who approved it
	Owner       string // legal owner or project
	License     string // SPDX identifier
	Language    string // BCP 47
	SheetNumber string // "1/1" when empty
	Material    string
	Stock       string // title of what it is cut from
	Mass        string // printed as it stands
	Finish      string
	Tolerances  string // general tolerances, "ISO 2768-m"
	Projection  Projection
	System      System
	Sheet       string // "A4 portrait", "A3 landscape", "letter landscape" ...; "" is chosen
	Family      Family // the papers to choose from
	Scale       string // "1:2"; "" is chosen
	Draft       bool   // DRAFT across the sheet

	Solid  *solid.Solid
	Body   Body
	Along  solid.Axis          // Bar: the way it lies
	Called map[string]HoleWord // by the name of a hole, without number, or of a round face
	Sides  solid.Outline       // the outline's sides that dimensions may name, before its corners were finished

	Views      []ViewRequest      // none: chosen
	Dimensions []DimensionRequest // the author's; the rest is completed
	OnlyGiven  bool               // no dimension but the author's
	Notes      []string
	History    []Revision // newest first
}

// HoleWord adds to the callout of a hole or a round face what the solid does not know.
type HoleWord struct {
	Fit       string // "H7"
	Tolerance string // of the diameter, "± 0.05"
	For       string // the screw that passes through, "M8": printed as "for M8"
}

// Revision is a line of the revision block.
type Revision struct{ Index, Date, Words string }

// ViewRequest asks for a view. Kind is front back left right top bottom,
// pictorial, section or detail.
type ViewRequest struct {
	Kind    string
	Letter  string   // section, detail
	Through []string // section: features that the plane runs through; several it steps to
	Half    bool     // section: the half on one side of the first feature's axis stays whole
	Around  string   // detail: the feature in its middle
	Scale   string   // detail; "" is chosen
}

// DimensionRequest asks for a dimension: between two features or faces along an
// axis, or the diameter, radius, angle, chamfer or depth of one. Features are named
// as the solid names them; side_1 and corner_1 are those of Request.Sides.
type DimensionRequest struct {
	From, To  string
	Along     string // x y z
	Diameter  string
	Radius    string   // a hole, a round side or corner
	Angle     []string // a slanted side, or two sides
	Chamfer   string   // a corner
	Depth     string   // a hole, or a shape cut away
	Tolerance string   // "± 0.05", printed after the value
	Fit       string   // "H7"
	Reference bool     // in brackets, fixing nothing (ISO 129-1, auxiliary)
}

// Result is a finished sheet.
type Result struct {
	Picture    *picture.Picture
	Size       string // "A3 landscape"
	Scale      string // "1:2"
	Views      []string
	Dimensions []Dimension
	Facts      []Fact  // what the part's features need fixed
	Ties       []Tie   // what is fixed without a dimension
	Faults     []Fault // what the request asked for and could not have
}

// Fault is a part of the request that could not be followed.
type Fault struct {
	// Item is where in the request: "dimensions", "views", "sheet", "scale".
	Item string
	// Index counts from 0 within Item; -1 for a single value.
	Index   int
	Message string
	Remedy  string
}
