package clash

import (
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

const (
	// Contact (mm) is how deep two bodies may overlap and count as touching: what sizes
	// given to hundredths add up to.
	Contact = 0.02
	// Near (mm) is the gap within which two bodies count as touching.
	Near = 0.1
	// Slight (mm) is the overlap that the tolerances of workshop parts and a file take
	// away: ISO 2768-m allows a length of 6 to 30 mm to be 0.2 mm off.
	Slight = 0.2
	// Deep (mm) is the overlap that is never missed on the way of a motion.
	Deep = 0.1
	// Looked (mm) is up to what distance the least clearance of a motion is measured.
	Looked = 5.0
)

// A Report is what was found in a placed machine.
type Report struct {
	Bodies   int
	Overlaps []Overlap // at rest, in the order of the bodies
	Loose    []Loose
	Later    []Later
	Travels  []*Travel // one for each motion that moves something, in the plan's order
	Open     []Open
	Guided   []Guided // running threads and sliding fits of which something is wrong
	Unneeded []Unneeded
	Strands  []Crossed
	Pierced  []Pierced
	Cut      bool // more bodies than are looked at
}

// An Overlap is two bodies that fill the same room, with every motion at rest.
type Overlap struct {
	A, B      *Body
	In        *reckon.Instance // the innermost assembly that holds both
	Instances int              // of that assembly, which all show it
	Depth     float64          // mm, as [proximity.Depth]
	Volume    float64          // mm³
	At        solid.Vec        // the deepest place
	// Allowed is how deep a fit between them or the plan lets them overlap, mm; 0 for
	// pairs that have neither.
	Allowed float64
	Fit     string        // the kind of joint that allows it; "" for none
	Stated  *plan.Overlap // what the plan states of them; nil for nothing
}

// A Loose is bodies that hang together, or a single one, and neither touch nor are held
// by anything else.
type Loose struct {
	Bodies []*Body // parts first
	// Mine is the nearest of them to the Other, Gap apart, mm; Other is nil where
	// nothing else is there.
	Mine, Other *Body
	Gap         float64
	At          [2]solid.Vec // between which places, in the machine's axes
}

// A Travel is what happens on the way of one motion.
type Travel struct {
	Motion   *plan.Motion
	From, To quantity.Value
	Clashes  []Clash
	// Least is where two bodies that move to each other, and do not touch at rest, come
	// nearest; nil where none comes nearer than [Looked].
	Least *Clearance
	// Places are everywhere on the way where two bodies are as near as that, to within
	// [Close], and how far the motion goes with them so near.
	Places []Place
	// Snags are strands that something runs into, with all other motions at rest.
	Snags []Snag
	Pairs int // that were followed
	// Sampled tells that something moves so that its way had to be put together from
	// samples.
	Sampled bool
	// Unsure tells that some of the way could not be followed closely, and was looked at
	// in samples.
	Unsure bool
}

// An Open is two bodies that several motions move to each other and of which it is not
// known whether they keep apart wherever these stand.
type Open struct {
	A, B    *Body
	Motions []*plan.Motion
	// Coupled tells that the motions do not move them one after the other, but one of
	// them alters what another does; otherwise looking closer came to an end.
	Coupled bool
}

// A Clash is two bodies that run into each other on a motion's way.
type Clash struct {
	A, B      *Body
	In        *reckon.Instance
	Instances int
	First     quantity.Value            // where the motion stands at the first touch, coming from rest
	Others    map[string]quantity.Value // where other motions stand that do not rest, by id
	Deepest   quantity.Value            // where they overlap most of the places looked at
	Depth     float64                   // there, mm
	At        solid.Vec                 // first touch
	Passes    bool                      // they are apart again at the motion's end
}

// A Clearance is how near two bodies come.
type Clearance struct {
	A, B    *Body
	Gap     float64 // mm; 0 where they touch
	Within  float64 // by how much less it may be, mm: nowhere on the way do they come nearer than Gap less that
	AtLeast bool    // one of them turns, and what it sweeps was measured: they may come no nearer than that
	Stands  quantity.Value
	Others  map[string]quantity.Value
	At      solid.Vec
}

// A Place is a part of a motion's way on which two bodies are as near as any come.
type Place struct {
	A, B     *Body
	Gap      float64 // the least of them, mm
	AtLeast  bool    // as of a Clearance
	From, To quantity.Value
	Others   map[string]quantity.Value
}

// An Unneeded is an overlap that the plan states and that is not there.
type Unneeded struct {
	Assembly *plan.Assembly
	Use      *plan.Use
	Says     *plan.Overlap
}

// A Crossed is a strand whose straight way from place to place goes through bodies, or
// so near past them that it is drawn into them.
type Crossed struct {
	Strand  layout.Strand
	Through int     // how many bodies its middle line goes through
	Deep    float64 // how deep it is drawn into Body, mm, where its middle line keeps off
	Around  float64 // mm that it takes at least to lead it around them
	Body    *Body   // the one that takes most
	Leg     int     // from which of its points the strand goes through that
	At      solid.Vec
	most    float64
}

// Of looks a placed machine over. It may be asked for cases of one plan with one store,
// one after the other.
func Of(r *reckon.Reckoning, l *layout.Layout, m *joint.Machine, store *Store) *Report {
	s := &search{r: r, l: l, store: store, bodies: collect(r, l, store), kin: relate(r, l, m), m: m, meets: map[[2]int]bool{}, stacks: map[*plan.Joint]map[int]*joint.Stack{}, clashed: map[[2]int]bool{}}
	s.report = &Report{Bodies: len(s.bodies), Cut: len(s.bodies) >= mostBodies}
	s.overlaps()
	s.loose()
	s.later()
	s.strands()
	s.pierces()
	s.travels()
	s.guides()
	return s.report
}

// search is the state of looking over one machine.
type search struct {
	r      *reckon.Reckoning
	l      *layout.Layout
	store  *Store
	bodies []*Body
	kin    *kin
	report *Report
	pairs  [][2]int        // that are near each other at rest
	meets  map[[2]int]bool // pairs that overlap at rest by more than contact, meant or not
	first  map[*plan.Assembly]*reckon.Instance
	count  map[*plan.Assembly]int
	stacks map[*plan.Joint]map[int]*joint.Stack // by place
	m      *joint.Machine

	poses    map[standing]*pose // of the motion that is being followed, alone
	journeys []*journey         // of the motions that move something, with the others at rest
	clashed  map[[2]int]bool    // pairs that run into each other on the way of one motion
}
