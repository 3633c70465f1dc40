package joint

import (
	"math"
	"slices"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

const (
	// cover (mm) is how far under the far face a wood screw's point is to stay: boards
	// vary in thickness, and the point bulges the face before it comes out. Common
	// practice, no source.
	cover = 2.0
	// beside (mm) is how far from a pilot hole's wall the board's thickness is measured.
	beside = 0.05
	// woodRays is at how many places round a pilot hole it is measured.
	woodRays = 6
)

// Wood reports whether the screw is a wood screw.
func (s *Stack) Wood() bool {
	return s.Screw.Fastener != nil && s.Screw.Fastener.Kind == standards.WoodScrew
}

// inWood finds what a wood screw bites in: all of the last layer's material, however
// deep its pilot hole is.
func (m *Machine) inWood(s *Stack) {
	s.Crossings = slices.Clone(s.Crossings)
	last := s.Last()
	s.Catch, s.From = InWood, last.Enter
	if thick, known := thickness(s, last); known {
		last.Leave = last.Enter + thick
	}
	s.To = last.Leave
}

// thickness is how much material a layer has beside its pilot hole, the least of
// several places round it.
func thickness(s *Stack, c *layout.Crossing) (mm float64, known bool) {
	if c.Feature.Kind != solid.HoleFeature || c.Part.Solid == nil {
		return 0, false // a face: measured when it was laid out
	}
	frame := solid.FrameAlong(s.Seat, s.Dir)
	inverse := c.At.Inverse()
	out := c.Feature.D/2 + beside
	mm = math.Inf(1)
	for i := 0; i < woodRays; i++ {
		sin, cos := math.Sincos(skew + float64(i)*2*math.Pi/woodRays)
		hits := c.Part.Solid.Ray(inverse.Point(frame.Point(out*cos, out*sin, c.Enter-skin)), inverse.Direction(s.Dir))
		if len(hits) > 1 && hits[0].Enters && !hits[0].Unsure && !hits[1].Unsure && hits[0].T < 2*skin {
			mm = math.Min(mm, hits[1].T-hits[0].T)
		}
	}
	return mm, !math.IsInf(mm, 1)
}

// woodNeeds is how much thread a wood screw is to have in the wood: as much as it
// needs, or all that the board has room for.
func (s *Stack) woodNeeds() float64 { return math.Min(s.Needs, s.To-s.From-cover) }

// Short is by how much a wood screw has too little thread in the wood, mm; 0 or less
// where it has enough.
func (s *Stack) Short() float64 { return s.woodNeeds() - math.Max(0, s.Filled()) }

// judgeWood says whether a wood screw in some length serves.
func (s *Stack) judgeWood(f standards.Fastener) Fault {
	tip := s.Head + f.Length
	from := math.Max(s.From, tip-f.ThreadLength)
	switch {
	case f.Length > s.Most()+slack:
		return Stands
	case math.Min(tip, s.To)-from < s.woodNeeds()-slack:
		return Short
	}
	return Fits
}
