package chain

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

var lengths = quantity.Length

// A station is a feature that a chain passes, at its place along the chain.
type station struct {
	in     *reckon.Instance
	part   *reckon.Part
	spot   reckon.Spot
	f      solid.Feature // in the part's own axes
	at     solid.Placement
	way    solid.Vec    // the chain's direction in the part's own axes
	pos    float64      // along the chain, mm
	facing float64      // +1 where it looks the chain's way, -1 where it looks back; 0 for an axis
	wall   float64      // ±1 for the wall of a round feature on that side of its axis; 0 for none
	across float64      // of a wall: the diameter
	deep   bool         // the floor of a hole or counterbore, and not its mouth
	end    bool         // an end of a named shape
	named  finding.Span // where the plan names it; unknown for one that was found
}

// said is where the plan names the feature; a found one stands with the chain.
func (s station) said(c *plan.Chain) finding.Span {
	if s.named.Known() {
		return s.named
	}
	return c.At
}

// full names the feature from the machine: "frame.left_post.crown".
func (s station) full() string { return s.in.Path + "." + s.spot.Feature }

// same reports whether two stations are the same place of the same part.
func (s station) same(t station) bool {
	return s.in == t.in && s.spot.Feature == t.spot.Feature && s.wall == t.wall && s.deep == t.deep && math.Abs(s.pos-t.pos) < solid.Tolerance
}

// says names the feature as the part has it: "posts.1", "floor of seat", "body".
func (s station) says() string {
	switch {
	case s.deep:
		return fmt.Sprintf(FloorOf, s.spot.Feature)
	case s.wall != 0:
		return fmt.Sprintf(WallOf, s.spot.Feature)
	case s.end:
		return fmt.Sprintf(EndOf, s.spot.Feature)
	}
	return s.spot.Feature
}

// What stands before a feature's name where a place at it is meant.
const (
	FloorOf = "floor of %s" // of a hole or counterbore
	WallOf  = "wall of %s"  // of a hole or shaft
	EndOf   = "end of %s"   // of a named shape
)

// sizedTo names what a size of the part is taken to: of a wall its axis.
func (s station) sizedTo() string {
	if s.wall != 0 {
		return s.spot.Feature
	}
	return s.says()
}

// level reports whether the station is a place along the chain as such, and not an axis.
func (s station) level() bool { return s.facing != 0 }

// stations are what an end that the plan names may stand for: one place, or for a
// named shape without a word which of its ends is meant both.
func (b *builder) stations(a *plan.Assembly, e plan.ChainEnd) []station {
	w := e.Feature
	if !w.Given() {
		return nil // told where it was read
	}
	spots := b.r.Spots(a, w)
	switch {
	case len(spots) == 0:
		b.fault(Unsuitable, w.At, fmt.Sprintf("%q is no feature of a part that is there", w.Text), "name a feature of a placed part: head.plate.bottom")
		return nil
	case len(spots) > 1:
		b.fault(Unsuitable, w.At, fmt.Sprintf("%q stands for %d features", w.Text, len(spots)), "name one of them: "+spots[0].Path+"."+spots[0].Feature)
		return nil
	}
	s := station{spot: spots[0], named: w.At}
	s.in = b.instances[b.base+s.spot.Path]
	why := b.place(&s)
	if why == "" {
		var towards solid.Vec
		if e.Towards.Given() {
			towards = b.frame.Direction(axis(e.Towards.Text))
			if math.Abs(math.Abs(towards.Dot(b.along))-1) > flat {
				b.fault(Unsuitable, e.Towards.At, fmt.Sprintf("the chain runs along %s, so its walls and ends lie towards %s or -%s", b.chain.Along.Text, b.letter(), b.letter()), "")
				return nil
			}
		}
		var list []station
		if list, why = s.read(b.along.Dot(towards)); why == "" {
			return list
		}
	}
	if why != told {
		b.fault(Unsuitable, w.At, fmt.Sprintf("%q %s", w.Text, why), "")
	}
	return nil
}

func (b *builder) letter() string { return strings.TrimPrefix(b.chain.Along.Text, "-") }

// told says that what is wrong stands among the findings of another package.
const told = "told"

// flat is how far the cosine between two directions may miss 0 or 1 where they are
// square or parallel.
const flat = 1e-7

// place fills in the part, the feature and where it stands.
func (b *builder) place(s *station) (why string) {
	if s.in == nil {
		return told
	}
	at, placed := b.l.Placement(s.in)
	if !placed {
		return "has no place that stays: it is laid, stretched or could not be placed"
	}
	s.part = b.r.Part(s.spot.Part.ID.Text)
	if s.part == nil || s.part.Solid == nil {
		return "belongs to a part without a shape"
	}
	f, ok := layout.FeatureOf(s.part.Solid, s.spot.Feature)
	if !ok {
		return "is not there on the part"
	}
	s.f, s.at, s.way = f, at, at.Inverse().Direction(b.along)
	return ""
}

// read finds the feature's place along the chain. towards is +1 or -1 for the wall or
// end that lies farther that way along it, 0 where the plan does not say.
func (s station) read(towards float64) (list []station, why string) {
	along := s.f.Dir.Dot(s.way)
	parallel, square := math.Abs(along) > 1-flat, math.Abs(along) < flat
	switch s.f.Kind {
	case solid.FlatFace:
		if !parallel {
			return nil, "is a face that does not lie square to the chain"
		}
		return s.one(s.f.At, sign(along)), ""
	case solid.SlotFeature:
		switch {
		case parallel:
			return s.one(s.f.At, sign(along)), ""
		case math.Abs(s.f.Along.Dot(s.way)) > flat:
			return nil, "is a slot that runs along the chain and has no place there"
		}
	case solid.HoleFeature:
		if parallel {
			return s.floor(along)
		}
	}
	switch {
	case s.f.Kind == solid.NamedShape && (s.f.D <= 0 || parallel), s.f.Kind == solid.BodyFeature && parallel:
		return s.ends(towards)
	case !square:
		return nil, "has an axis that lies neither along the chain nor across it"
	case towards == 0:
		return s.one(s.f.At, 0), ""
	}
	return s.wallOf(towards)
}

// one is the station at a point of the part.
func (s station) one(p solid.Vec, facing float64) []station {
	s.pos, s.facing = s.at.Point(p).Dot(s.at.Direction(s.way)), facing
	return []station{s}
}

// floor is what lies at the end of a hole along the chain.
func (s station) floor(along float64) ([]station, string) {
	hole, depth := s.f.Hole, s.f.Depth
	switch {
	case hole != nil && hole.Counterbore != nil:
		depth = hole.Counterbore.Depth
	case s.f.Through:
		return nil, "is a hole that goes through along the chain: name the face where it ends, or its counterbore's part"
	}
	s.deep = true
	// The floor faces the mouth.
	return s.one(s.f.At.Add(s.f.Dir.Mul(depth)), -sign(along)), ""
}

// ends are the two ends of a named shape, or the one that is asked for.
func (s station) ends(towards float64) ([]station, string) {
	n := s.f.Box
	k := ownAxis(s.way)
	if k < 0 {
		return nil, "is a named shape that lies askew to the chain"
	}
	s.end = true
	var list []station
	for _, side := range []float64{1, -1} {
		if towards*side < 0 {
			continue
		}
		p := n.Centre()
		if side*coordinate(s.way, k) > 0 {
			p = set(p, k, coordinate(n.Max, k))
		} else {
			p = set(p, k, coordinate(n.Min, k))
		}
		facing := side
		if s.cutAway() {
			facing = -side
		}
		list = append(list, s.one(p, facing)...)
	}
	return list, ""
}

// wallOf is the wall of a round feature that lies farther along the chain, or back.
func (s station) wallOf(towards float64) ([]station, string) {
	if s.f.D <= 0 {
		return nil, "has no walls"
	}
	wide := s.f.D
	if h := s.f.Hole; h != nil && h.Kind == solid.Obround && math.Abs(s.f.Along.Dot(s.way)) > flat {
		if math.Abs(s.f.Along.Dot(s.way)) < 1-flat {
			return nil, "is a long hole that lies askew to the chain"
		}
		wide = h.Long
	}
	s.wall, s.across = towards, wide
	facing := towards
	if s.f.Kind == solid.HoleFeature || s.f.Kind == solid.SlotFeature || s.cutAway() {
		facing = -towards
	}
	return s.one(s.f.At.Add(s.way.Mul(towards*wide/2)), facing), ""
}

// cutAway reports whether a named shape is one that is taken away.
func (s station) cutAway() bool {
	if s.f.Kind != solid.NamedShape {
		return false
	}
	for p, depth := s.part, 0; p != nil && depth < altered; p, depth = p.Base, depth+1 {
		for _, shape := range p.Part.Shape {
			if shape.Name.Given() && shape.Name.Text == s.f.Name {
				return shape.Cut
			}
		}
	}
	return false
}

// altered bounds how often a part is altered from another.
const altered = 20

// mate is the station as joints know it.
func (s station) mate() layout.Mate {
	return layout.Mate{Spot: s.spot, Part: s.part, Feature: layout.Placed(s.f, s.at)}
}

// box is the extent of the feature in the machine.
func (s station) box() solid.Box { return s.f.Box.Under(s.at) }

func sign(x float64) float64 {
	if x < 0 {
		return -1
	}
	return 1
}

// ownAxis is the index of the axis that a direction lies along, -1 for none.
func ownAxis(v solid.Vec) int {
	for k := range 3 {
		if math.Abs(coordinate(v, k)) > 1-flat {
			return k
		}
	}
	return -1
}

func coordinate(v solid.Vec, k int) float64 { return [3]float64{v.X, v.Y, v.Z}[k] }

func set(v solid.Vec, k int, to float64) solid.Vec {
	c := [3]float64{v.X, v.Y, v.Z}
	c[k] = to
	return solid.Vec{X: c[0], Y: c[1], Z: c[2]}
}
