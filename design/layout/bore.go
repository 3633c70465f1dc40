package layout

import (
	"math"

	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

const (
	// besideBore (mm) is how far outside a bore's wall its length is measured.
	besideBore = 0.05
	// boreLines is at how many places round it that is, off the ways along which edges
	// run by boreSkew radians.
	boreLines = 6
	boreSkew  = 0.137
	// mostAltered bounds how often a part is altered from another.
	mostAltered = 20
)

// bored makes of a round shape that a part says is cut away the hole that it leaves:
// a screw or a pin goes through it as through a hole. Other features stay as they are.
func bored(m met) met {
	f := m.Feature
	if f.Kind != solid.NamedShape || f.D <= 0 || f.Thread != nil || m.part == nil || m.part.Solid == nil || !cutAway(m.part, f.Name) {
		return m
	}
	inverse := m.at.Inverse()
	frame := solid.FrameAlong(f.At, f.Dir)
	way := inverse.Direction(f.Dir)
	low, high := math.Inf(1), math.Inf(-1)
	openLow, openHigh := true, true
	for i := range boreLines {
		sin, cos := math.Sincos(boreSkew + float64(i)*2*math.Pi/boreLines)
		out := f.D/2 + besideBore
		hits := m.part.Solid.Line(inverse.Point(frame.Point(out*cos, out*sin, 0)), way)
		start := math.Inf(-1)
		for _, h := range hits {
			switch {
			case h.Enters:
				start = h.T
			case h.T > -f.Depth/2 && start < f.Depth/2:
				openLow, openHigh = openLow && start > -f.Depth/2-besideBore, openHigh && h.T < f.Depth/2+besideBore
				low, high = math.Min(low, math.Max(start, -f.Depth/2)), math.Max(high, math.Min(h.T, f.Depth/2))
			}
		}
	}
	if high-low < solid.Tolerance {
		return m
	}
	mid := f.At
	f.Kind, f.Depth, f.Through = solid.HoleFeature, high-low, openLow && openHigh
	f.Hole = &solid.Hole{Kind: solid.Bore, D: f.D}
	f.At = mid.Add(f.Dir.Mul(low))
	if openHigh && !openLow {
		f.At, f.Dir = mid.Add(f.Dir.Mul(high)), f.Dir.Mul(-1)
	}
	m.Feature = f
	return m
}

// cutAway reports whether a part, or what it is altered from, has a shape of a name
// that is cut away.
func cutAway(p *reckon.Part, name string) bool {
	for depth := 0; p != nil && depth < mostAltered; depth++ {
		for _, s := range p.Part.Shape {
			if s.Name.Text == name {
				return s.Cut && s.Kind.Text == "cylinder"
			}
		}
		p = p.Base
	}
	return false
}
