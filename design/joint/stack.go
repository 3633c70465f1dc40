package joint

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// What a screw's thread turns in.
type Catch int

// The kinds of thread that a screw goes into.
const (
	Nothing   Catch = iota // the last layer has no thread and no nut is named
	InNut                  // a nut behind the last layer
	InSlotNut              // a nut behind the lip of a slot
	InInsert
	InTapped
	InForming // the screw cuts its own thread
	InWood    // a wood screw in a pilot hole or in solid material
)

// A Stack is one place of a joint with a screw, measured. Distances along the screw
// are millimetres from the plane that its head or the undermost washer bears on.
type Stack struct {
	layout.Fastening
	Assembly *plan.Assembly
	Thread   standards.Thread // of the screw
	Length   float64          // of the screw; 0 where it is not known
	Gaps     []float64        // between each layer and the next; negative where they overlap
	Catch    Catch
	From, To float64 // the thread that the screw goes into
	Needs    float64 // how much of it the screw must fill
	Rule     string  // why so much: "1.5 × 6 mm in aluminium"
	Stop     *Stop   // the nearest thing that the tip would run into; nil for none in reach
	Struck   *Stop   // what stands in the screw's way before its thread begins; nil for none
}

// A Stop is something that stands in a screw's way.
type Stop struct {
	At    float64 // along the screw
	Own   bool    // the floor of the hole or slot in the last layer's own part
	Say   string  // the part's path in the machine, or the hardware's joint
	Where string  // path of the joint's assembly in the machine; "" for the machine itself

	Owner *plan.Assembly // of Joint
	Joint *plan.Joint    // whose hardware it is; nil for parts
	Place int            // of Joint
}

// Stacks measures every place of a joint of assembly a; none for joints without a
// screw whose thread is known.
func (m *Machine) Stacks(a *plan.Assembly, j *plan.Joint) []Stack {
	if known, asked := m.stacks[j]; asked {
		return known
	}
	var out []Stack
	for _, f := range m.l.Fastenings(a, j) {
		if t, ok := ThreadOf(m.r, f.Screw); ok && len(f.Crossings) > 0 {
			s := Stack{Fastening: f, Assembly: a, Thread: t, Length: m.lengthOf(f.Screw)}
			m.measure(&s)
			out = append(out, s)
		}
	}
	m.stacks[j] = out
	return out
}

func (m *Machine) lengthOf(p *reckon.Part) float64 {
	if p.Fastener != nil {
		return p.Fastener.Length
	}
	mm, _ := m.r.Length(p.Part.Fastener.Length)
	return mm
}

func (m *Machine) measure(s *Stack) {
	for i := 1; i < len(s.Crossings); i++ {
		s.Gaps = append(s.Gaps, s.Crossings[i].Enter-s.Crossings[i-1].Leave)
	}
	m.caught(s)
	s.Needs, s.Rule = m.need(s)
	m.stops(s)
}

// Last is what the screw meets last.
func (s *Stack) Last() *layout.Crossing { return &s.Crossings[len(s.Crossings)-1] }

// caught finds the thread that the screw goes into.
func (m *Machine) caught(s *Stack) {
	last := s.Last()
	if s.Nut != nil {
		s.From = s.NutFrom
		s.To = s.From + m.l.Thickness(s.Nut)
		s.Catch = InNut
		switch own := s.Nut.Part.Fastener; {
		case own == nil:
		case own.Kind.Text == "insert":
			s.Catch = InInsert
		case own.Slot.Given():
			s.Catch = InSlotNut
		}
		return
	}
	if s.Wood() {
		m.inWood(s)
		return
	}
	s.From, s.To = last.Enter, last.Leave
	if s.Headless() && s.Touches { // up to what it grips
		s.To = math.Min(s.To, s.Tip())
	}
	hole := last.Feature.Hole
	switch {
	case hole == nil:
		return
	case hole.Kind == solid.Tapped:
		s.Catch = InTapped
	case hole.Kind == solid.Forming:
		s.Catch = InForming
	default:
		return
	}
	if hole.Counterbore != nil && last.Facing && len(s.Crossings) > 1 {
		s.From += hole.Counterbore.Depth
	}
	if t := last.Feature.Thread; t != nil && t.Length > 0 && last.Facing {
		s.To = math.Min(s.To, last.Enter+t.Length)
	}
}

const (
	// unknownMaterial is how many diameters of thread are asked for where the plan
	// does not say what the part is made of: as in steel, the least that is in use.
	unknownMaterial = 1.0
	// Slot nuts and inserts are to be filled for one diameter: common practice, no
	// source.
	nutDiameters = 1.0
	// setDiameters is what a set screw is to fill, whatever the hub is made of: it
	// presses with little force, and hubs are no thicker. Common practice, no source.
	setDiameters = 1.0
	// woodDiameters is what a wood screw is to fill where the plan does not say of what
	// the part is made.
	woodDiameters = 3.0
)

// need is how much of its thread a screw must fill, and why.
func (m *Machine) need(s *Stack) (mm float64, why string) {
	has := s.To - s.From
	switch s.Catch {
	case Nothing:
		return 0, ""
	case InNut:
		return has, "the whole nut"
	case InSlotNut, InInsert:
		return math.Min(has, nutDiameters*s.Thread.Major), times(nutDiameters, s.Thread.Major)
	}
	if s.Headless() {
		return setDiameters * s.Thread.Major, times(setDiameters, s.Thread.Major) + ", a set screw presses and is not pulled"
	}
	part := s.Last().Part
	if e, known := standards.LeastEngagement(part.Material); known {
		return e.Diameters * s.Thread.Major, times(e.Diameters, s.Thread.Major) + " in " + e.Says
	}
	if s.Catch == InWood {
		return woodDiameters * s.Thread.Major, times(woodDiameters, s.Thread.Major) + " in wood"
	}
	return unknownMaterial * s.Thread.Major, times(unknownMaterial, s.Thread.Major) + ", its material not being known"
}

// Headless reports whether the screw is a set screw.
func (s *Stack) Headless() bool {
	return s.Screw.Fastener != nil && s.Screw.Fastener.Kind == standards.SetScrew
}

// Tip is where the screw ends.
func (s *Stack) Tip() float64 { return s.Head + s.Length }

// Filled is how much of the thread the screw turns in.
func (s *Stack) Filled() float64 {
	from := s.From
	switch {
	case s.Headless():
		from = math.Max(from, s.Head)
	case s.Catch == InWood:
		from = math.Max(from, s.Plain())
	}
	return math.Max(0, math.Min(s.Tip(), s.To)-from)
}

// Past is how far the tip stands out of the thread on its far side; negative where it
// does not reach through.
func (s *Stack) Past() float64 { return s.Tip() - s.To }

// Clamped is the length between the faces that head and nut, or the first turn of the
// thread, press on: washers included.
func (s *Stack) Clamped() float64 {
	if s.Headless() {
		return 0
	}
	return s.From - math.Min(s.Head, 0)
}

// Plain is where the screw's thread begins below its shank.
func (s *Stack) Plain() float64 {
	if s.Screw.Fastener == nil {
		return s.Head
	}
	return s.Tip() - s.Screw.Fastener.ThreadLength
}

// String names what a screw goes into, for messages.
func (c Catch) String() string {
	switch c {
	case InNut:
		return "nut"
	case InSlotNut:
		return "slot nut"
	case InInsert:
		return "insert"
	case InTapped:
		return "thread"
	case InForming:
		return "bore in which it forms its thread"
	case InWood:
		return "wood"
	}
	return "last layer"
}
