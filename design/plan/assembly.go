package plan

import "plansheaf/design/finding"

// An Assembly says what goes where, what holds it, and in what order.
type Assembly struct {
	ID     Word // the file's stem
	Title  Text
	Holds  []*Use
	Joints []*Joint
	Steps  []*Step
	Has    []Named
	Notes  []Text
	At     finding.Span
}

// A Use is a part or a sub-assembly in its place.
type Use struct {
	ID       Word
	Part     Reference // either Part or Assembly is given
	Assembly Reference
	Place    Point // the key "at"
	Turn     []Turning
	Seat     *Seat
	Between  []End  // two ends: my feature, and what it is fixed to
	Around   []Word // belts: the pulleys
	Pressed  Word   // pressed_by
	From, To Word   // strands
	Via      []Waypoint
	Moves    []Move
	Way      []Leg // how it comes in, the first leg from outside; not given: straight, from any side
	Overlaps []Overlap
	Only     Only
	Count    Quantity // not given: one
	Step     Point
	At       finding.Span
}

// A Turning is one turn about one of the part's own axes.
type Turning struct {
	Axis  Word
	Angle Quantity
	At    finding.Span
}

// A Seat lays one face on another and lines features up.
type Seat struct {
	Mine   Word
	Onto   Word
	LineUp [][2]Word // mine, theirs
	Gap    Quantity
	Spin   Quantity
	At     finding.Span
}

// A Waypoint is what a strand passes on its way: either a feature, or what is named whole, or
// a point in its assembly's axes.
type Waypoint struct {
	Of Word
	At Point
}

// An End fixes a feature of mine to another's.
type End struct{ Mine, Theirs Word }

// A Move slides along an axis or turns about a feature by a formula of motions.
type Move struct {
	Along Word
	About Word
	By    Quantity
	At    finding.Span
}

// A Leg is one stretch of the way by which a part comes in: along an axis of its
// assembly, "-z" being downward, by a length. The first leg begins outside, whatever
// its length.
type Leg struct {
	Axis Word // x, y, z, -x, -y or -z
	By   Quantity
	At   finding.Span
}

// An Overlap says that a use is drawn into another one, or into what a joint brings,
// how deep at most, and why that is meant.
type Overlap struct {
	With    Word // a use of the assembly or inside of it, or a joint of the assembly
	By      Quantity
	Because Text
	At      finding.Span
}

// The kinds of joint.
const (
	Screw = "screw"
	Press = "press"
	Push  = "push"
	Slide = "slide"
	Run   = "run"
	Grip  = "grip"
	Glue  = "glue"
	Pin   = "pin"
	Rivet = "rivet"
	Ring  = "ring"
)

// A Joint holds uses together.
type Joint struct {
	ID        Word
	Kind      Word      // one of the kinds above
	Fastener  Reference // screw, pin, rivet, ring: which part that is; grip: its set screw; not given: none, or not settled yet
	Fit       Reference // "fit ISO 4762 M8": what a screw of the plan's list is chosen by; not given: named
	Recorded  Word      // the screw that was chosen when the record was made
	UnderHead []Reference
	UnderNut  []Reference
	Through   []Layer   // from the head to where it threads; of a ring its groove
	Adjusts   []Word    // features of Through whose play is meant: a part is set by it
	Into      Reference // screw: nut, slot nut, insert (a part); other kinds use Theirs
	Mine      Layer     // press, push, slide, run, grip, glue: what the kind's key names
	Theirs    Layer     // into, by or onto
	With      Reference // glue
	Also      [][]Word  // places written out, a feature for each layer
	Torque    Torque
	Lock      Word
	Reachable bool // stays_reachable: adjusted on the finished machine
	Only      Only
	At        finding.Span
}

// FitPrefix begins what a joint's screw is chosen by, where none is named.
const FitPrefix = "fit "

// A Layer is one or several features that a joint passes through together.
type Layer struct {
	Features []Word
	At       finding.Span
}

// A Torque is auto, hand, or a quantity; not given counts as auto.
type Torque struct {
	Word Word // auto or hand
	Is   Quantity
	At   finding.Span
}

// A Step is one piece of work.
type Step struct {
	ID       Word
	Title    Text
	Adds     []Word
	SlidesIn []Word
	Fastens  []Word
	Loose    []Word
	Tightens []Word
	RestsOn  Word // the face that the work rests on from here on, or hand; not given: as in the step before
	Uses     []Using
	Tools    []Word
	Text     Wording
	Time     Quantity
	People   Quantity // how many it takes; not given: one
	Measures []Measure
	Needs    []Word // not given: the step above
	NeedsAt  finding.Span
	Picture  *Viewpoint
	Only     Only
	At       finding.Span
}

// Using is an amount of a consumable: "grease 2 g".
type Using struct {
	Part   Word
	Amount Quantity
	At     finding.Span
}

// A Measure is something to measure at the end of a step.
type Measure struct {
	Say    Text
	Of     Quantity
	Is     Quantity // the wanted value where it is not computed
	Within Quantity
	Only   Only
	At     finding.Span
}

// A Viewpoint says from where a step is seen.
type Viewpoint struct {
	From Word // "front right above"
	File Word // a picture of the author's own
	At   finding.Span
}
