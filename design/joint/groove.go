package joint

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// A Groove is a groove as the part has it, measured on its body, mm. What cannot be
// measured is 0.
type Groove struct {
	Floor float64 // diameter of its floor
	Seat  float64 // diameter beside it, of the shaft or the bore
	Width float64
	Edge  float64 // least length of shaft or bore beside it; infinite where it has no end in reach
	Open  bool    // on one side there is no wall
}

// GrooveAt measures the groove that a retaining ring is to lie in; ok is false where
// the part has no body or the ring's sizes are not known.
func GrooveAt(f *layout.Fastening) (g Groove, ok bool) {
	ring := f.Screw.Fastener
	if ring == nil || ring.Kind != standards.Ring || len(f.Crossings) == 0 || f.Crossings[0].Part.Solid == nil {
		return g, false
	}
	want := ring.Groove
	c := &f.Crossings[0]
	p := prober{body: c.Part.Solid, inverse: c.At.Inverse(), frame: solid.FrameAlong(f.Seat, f.Dir), inside: want.Inside}
	p.far = p.body.Box().Size().Len()
	g.Floor = 2 * p.radius(0)
	between := (want.Seat + want.Diameter) / 4
	g.Edge = math.Inf(1)
	for _, side := range []float64{1, -1} {
		wall, edge, walled := p.wall(between, side)
		if !walled {
			g.Open = true
			continue
		}
		g.Width += wall
		g.Edge = math.Min(g.Edge, edge)
		if g.Seat == 0 {
			g.Seat = 2 * p.radius(side*(wall+skin))
		}
	}
	return g, true
}

// A prober measures a body round an axis.
type prober struct {
	body    *solid.Solid
	inverse solid.Placement
	frame   solid.Frame
	inside  bool // of a bore, seen from the axis; else of a shaft, seen from far away
	far     float64
}

// radius is how far from the axis the body's surface lies at a height; 0 for none.
func (p *prober) radius(at float64) float64 {
	sin, cos := math.Sincos(skew)
	from, way := p.frame.Point(0, 0, at), p.frame.X.Mul(cos).Add(p.frame.Y.Mul(sin))
	if !p.inside {
		from, way = from.Add(way.Mul(p.far)), way.Mul(-1)
	}
	hits := p.body.Ray(p.inverse.Point(from), p.inverse.Direction(way))
	if len(hits) == 0 || !hits[0].Enters || hits[0].Unsure {
		return 0
	}
	if p.inside {
		return hits[0].T
	}
	return p.far - hits[0].T
}

// wall is how far along the axis a groove's wall lies from the middle, and how much
// material is behind it.
func (p *prober) wall(radius, side float64) (at, thick float64, found bool) {
	sin, cos := math.Sincos(skew)
	hits := p.body.Ray(p.inverse.Point(p.frame.Point(radius*cos, radius*sin, 0)), p.inverse.Direction(p.frame.Z.Mul(side)))
	if len(hits) < 2 || !hits[0].Enters || hits[0].Unsure || hits[1].Unsure {
		return 0, 0, false
	}
	return hits[0].T, hits[1].T - hits[0].T, true
}
