package joint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

const (
	// InLine (mm) is what holes may miss by beyond their clearance before it counts:
	// adding up positions, and less than anyone drills to.
	InLine = 0.01
	// Straight (radians) is how far a hole may lean: half a degree, which no clearance
	// hole hides over its depth.
	Straight = 0.5 * math.Pi / 180
	// rounds is how often an axis is brought into one hole after the other.
	rounds = 200
)

// A Miss says that no screw can lie in all layers of a place.
type Miss struct {
	Guide, Other *layout.Crossing
	Off          solid.Vec // from the guide's axis to the other's, in the assembly's axes, across the screw
	Allows       float64   // what both holes together leave, mm
	Tilt         float64   // the angle between their axes, radians; 0 where they are parallel
	Together     bool      // two by two the holes fit, all together they leave no way
}

// MissOf looks whether an axis exists that goes through every hole and slot of a
// place with its clearance. The clearance of a printed part counts less its printing
// allowance; slots and long holes leave their long way free.
func (m *Machine) MissOf(s *Stack) (Miss, bool) { return kept(m.misses, s, m.miss) }

func (m *Machine) miss(s *Stack) (Miss, bool) {
	guide := s.guide()
	for i := range s.Crossings {
		if c := &s.Crossings[i]; c.Tilt > Straight {
			return Miss{Guide: guide, Other: c, Tilt: c.Tilt}, true
		}
	}
	axis, worst := s.Seat, 0.0
	for n := 0; n < rounds; n++ {
		worst = 0
		for i := range s.Crossings {
			c := &s.Crossings[i]
			back := m.outside(s, c, axis)
			worst = math.Max(worst, length(back))
			axis = axis.Add(back)
		}
		if worst < InLine/2 {
			return Miss{}, false
		}
	}
	miss, most := Miss{Guide: guide}, 0.0
	for i := range s.Crossings {
		c := &s.Crossings[i]
		if c == guide {
			continue
		}
		if over := c.Aside - m.play(s, c) - m.play(s, guide); over > most {
			most = over
			miss.Other, miss.Allows = c, m.play(s, c)+m.play(s, guide)
			miss.Off = across(c.Feature.At.Sub(s.Seat), s.Dir)
			if c.Feature.Kind == solid.SlotFeature {
				miss.Off = across(miss.Off, c.Feature.Along)
			}
		}
	}
	if most <= InLine {
		miss.Other, miss.Together = s.farthest(guide), true
	}
	return miss, miss.Other != nil
}

// farthest is the crossing whose axis lies farthest off the screw's.
func (s *Stack) farthest(guide *layout.Crossing) *layout.Crossing {
	var out *layout.Crossing
	for i := range s.Crossings {
		if c := &s.Crossings[i]; c != guide && (out == nil || c.Aside > out.Aside) {
			out = c
		}
	}
	return out
}

// guide is the crossing whose axis the screw stands on.
func (s *Stack) guide() *layout.Crossing {
	if s.Catch == InWood && s.Last().Feature.Hole != nil {
		return s.Last()
	}
	if s.Catch == InTapped || s.Catch == InForming || s.Catch == InInsert {
		return s.Last()
	}
	for i := range s.Crossings {
		if h := s.Crossings[i].Feature.Hole; h != nil && h.Kind != solid.Obround {
			return &s.Crossings[i]
		}
	}
	return &s.Crossings[0]
}

// eccentricity is the name of the property that says by how much an eccentric spacer or
// washer sets what turns on it to either side.
const eccentricity = "eccentricity"

// sets is how far an eccentric of the joint moves the screw's axis in a layer whose play is
// meant, mm: as far as one of the joint's parts says, without limit where none does; 0 for
// other layers.
func (m *Machine) sets(s *Stack, c *layout.Crossing) float64 {
	if !slices.ContainsFunc(s.Joint.Adjusts, func(w plan.Word) bool { return w.Text == c.Word.Text }) {
		return 0
	}
	parts := append(slices.Clone(s.UnderHead), s.UnderNut...)
	for i := range s.Crossings {
		parts = append(parts, s.Crossings[i].Part)
	}
	for _, p := range parts {
		for _, h := range p.Part.Has {
			if h.Name.Text == eccentricity {
				reach, _ := m.r.Length(h.Is)
				return reach
			}
		}
	}
	return math.Inf(1)
}

// play is how far the screw's axis may lie off a feature's, mm; infinite for faces, and
// for a layer that an eccentric of unknown reach adjusts.
func (m *Machine) play(s *Stack, c *layout.Crossing) float64 {
	if reach := m.sets(s, c); reach > 0 {
		return reach // the eccentric fills the hole
	}
	return m.gives(s, c)
}

// gives is what a feature's own width leaves, mm; infinite for faces.
func (m *Machine) gives(s *Stack, c *layout.Crossing) float64 {
	switch {
	case c.Feature.Kind == solid.SlotFeature:
		return math.Max(0, (c.Feature.D-s.Thread.Major)/2)
	case c.Feature.Hole == nil:
		return math.Inf(1)
	case c.Feature.Hole.Kind == solid.Bore, c.Feature.Hole.Kind == solid.Clearance, c.Feature.Hole.Kind == solid.Obround:
		return math.Max(0, (c.Feature.D-m.Allowance(c.Part)-s.Thread.Major)/2)
	}
	return 0
}

// Allowance is by how much a hole of a part comes out smaller than drawn, mm: the
// printing allowance of printed parts.
func (m *Machine) Allowance(p *reckon.Part) float64 {
	for depth := 0; p != nil && depth < mostAltered; depth++ {
		if p.Part.Print != nil {
			v, _ := m.r.Length(p.Part.Print.Allowance)
			return v
		}
		p = p.Base
	}
	return 0
}

// mostAltered bounds how often a part is altered from another.
const mostAltered = 20

// outside is the way from an axis through at back to where a feature allows it.
func (m *Machine) outside(s *Stack, c *layout.Crossing, at solid.Vec) solid.Vec {
	play := m.play(s, c)
	if math.IsInf(play, 1) {
		return solid.Vec{}
	}
	off := across(c.Feature.At.Sub(at), s.Dir)
	switch {
	case c.Feature.Kind == solid.SlotFeature:
		off = across(off, c.Feature.Along)
	case c.Feature.Hole.Kind == solid.Obround:
		half := math.Max(0, (c.Feature.Hole.Long-c.Feature.Hole.D)/2)
		along := off.Dot(c.Feature.Along)
		off = off.Sub(c.Feature.Along.Mul(math.Max(-half, math.Min(half, along))))
	}
	far := length(off)
	if far <= play || far == 0 {
		return solid.Vec{}
	}
	return off.Mul((far - play) / far)
}

// across is what of a vector lies at right angles to a direction.
func across(v, dir solid.Vec) solid.Vec { return v.Sub(dir.Mul(v.Dot(dir))) }

func length(v solid.Vec) float64 { return math.Sqrt(v.Dot(v)) }

// Says puts a miss in words: "miss by 2 mm along x, their clearance allows 0.5 mm".
func (m Miss) Says() string {
	if m.Tilt > 0 {
		return fmt.Sprintf("stand askew to each other by %.1f°", m.Tilt*180/math.Pi)
	}
	if m.Together {
		return "leave no straight way, together with the joint's other holes"
	}
	var ways []string
	for _, w := range []struct {
		by   float64
		axis string
	}{{m.Off.X, "x"}, {m.Off.Y, "y"}, {m.Off.Z, "z"}} {
		if math.Abs(w.by) >= InLine {
			ways = append(ways, mm(math.Abs(w.by))+" along "+w.axis)
		}
	}
	return fmt.Sprintf("miss by %s, their clearance allows %s", strings.Join(ways, " and "), mm(m.Allows))
}

// A Loner is a hole of a joint's layer that no place uses, or that more than one does.
type Loner struct {
	Word   plan.Word // as the joint names it
	Spot   reckon.Spot
	Shared int // at how many places it is used; 0 for one left over
}

// Loners are the holes that are left over, and those that several places share, when
// a joint's layers pair. Slots and long holes may take several screws.
func (m *Machine) Loners(a *plan.Assembly, j *plan.Joint) []Loner {
	used := map[string]int{}
	for _, f := range m.l.Fastenings(a, j) {
		for _, c := range f.Crossings {
			used[c.Spot.Path+"."+c.Spot.Feature]++
		}
	}
	if len(used) == 0 {
		return nil
	}
	var out []Loner
	for _, layer := range j.Through {
		for _, w := range layer.Features {
			for _, spot := range m.r.Spots(a, w) {
				n := used[spot.Path+"."+spot.Feature]
				if spot.Hole == nil || n == 1 || n > 1 && spot.Hole.Kind.Text == plan.SlotHole {
					continue
				}
				out = append(out, Loner{w, spot, n})
			}
		}
	}
	return out
}
