package solid

// Shape is what a part's body is: a base with holes made in it.
type Shape struct {
	Base  Base
	Holes []Hole
}

// Base is the body before holes: [Bar], [Sheet] or [Group].
type Base interface {
	// build returns the body with its lowest corner at the origin, and its
	// features.
	build() (*Solid, error)
}

// Bar is a length of a section.
type Bar struct {
	Section Section
	Length  float64 // mm, over all: from tip to tip where ends are mitred
	// Start and End are how its ends are cut.
	Start, End Mitre
	// Lies is the way the bar lies. The section's two sizes are then along the
	// other two axes, x before y before z.
	Lies Axis
	// Thread makes a round bar a threaded one.
	Thread *Thread
}

// Sheet is a flat piece; its outline lies in x, y, its thickness along z.
type Sheet struct {
	Outline   Outline
	Thickness float64 // mm
}

// Group is a body put together from simple shapes: members that touch or
// overlap become one, members with Cut take away from what stands before them.
type Group []Member

// Member is one shape of a group.
type Member struct {
	Shape Primitive
	// At is where the lowest corner of the shape's own box comes to stand, mm.
	At Vec
	// Along is the way the length of a cylinder, tube, cone, prism or turned
	// shape lies. Plans take z unless told otherwise; the zero value is x.
	Along Axis
	// Cut takes the shape away instead of adding it.
	Cut bool
	// Name makes the shape a feature; may be empty.
	Name string
}

// Primitive is the shape of a member: [Block], [Rod], [Pipe], [Taper],
// [Extruded], [Lathed].
type Primitive interface {
	// make returns the solid with its length along z from 0, faces named, in
	// the shape's own axes.
	make() (*Solid, error)
}

// Block is a box with sides Size, mm.
type Block struct{ Size Vec }

// Rod is a cylinder of diameter D and length L, mm; Thread is nil for a plain one.
type Rod struct {
	D, L   float64
	Thread *Thread
}

// Pipe is a tube of outside diameter D, inside diameter Bore, length L, mm.
type Pipe struct{ D, Bore, L float64 }

// Taper is a cone from diameter D to diameter To (0 for a tip) over length L, mm.
type Taper struct{ D, To, L float64 }

// Extruded is a prism of length L, mm, over an outline.
type Extruded struct {
	Outline Outline
	L       float64
}

// Lathed is a turned piece of steps one after the other.
type Lathed []TurnedStep

// TurnedStep is a step of a turned piece: diameter D over length L, mm. To, when
// not 0, is the diameter at its end, which makes it a taper. Thread is nil for
// none.
type TurnedStep struct {
	D, To, L float64
	Thread   *Thread
}

// HoleKind is what a hole is for; it decides how it is called out, not how it is
// cut.
type HoleKind int

// The kinds of hole.
const (
	Bore      HoleKind = iota // a plain hole
	Clearance                 // a screw passes through
	Tapped                    // drilled at the tap drill and tapped
	Forming                   // a screw cuts its own thread
	InsertFor                 // the seat of an insert
	Obround                   // a slot with round ends
)

// Hole is one hole or a pattern of equal ones on a face.
type Hole struct {
	// Name as in the plan, without number: "posts".
	Name string
	// Face is left right front back top or bottom (or start, end of a bar); empty means top.
	Face string
	// At are the middles in the part's own axes: [y, z] on left and right,
	// [x, z] on front and back, [x, y] on top and bottom. See [Grid],
	// [Row], [Ring].
	At []Vec2
	// Pattern tells that features are numbered from 1 (posts.1) even when
	// there is only one.
	Pattern bool
	Kind    HoleKind
	// D is the diameter that is cut, mm: the tap drill's for a tapped hole; the
	// width of an obround.
	D float64
	// Long is the overall length of an obround, mm, and Along its long way.
	Long  float64
	Along Axis
	// Depth is the depth of full diameter from the mouth, mm; 0 goes through
	// the first wall.
	Depth float64
	// ThroughAll goes through every wall; Depth must be 0.
	ThroughAll bool
	// Tip is the included angle, radians, of the drill point at the floor of a
	// blind hole; 0 makes the floor flat.
	Tip float64
	// Thread of a tapped hole, nil for none.
	Thread *Thread
	// Counterbore is a wider flat-floored hole at the mouth, nil for none.
	Counterbore *Counterbore
	// Countersink is a conical widening at the mouth, nil for none.
	Countersink *Countersink
}

// Counterbore is a wider hole with a flat floor at a hole's mouth; mm.
type Counterbore struct{ D, Depth float64 }

// Countersink is a conical widening at a hole's mouth: diameter D, mm, at the
// mouth, included Angle in radians.
type Countersink struct{ D, Angle float64 }
