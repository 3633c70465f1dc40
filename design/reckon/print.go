package reckon

import (
	"math"
	"strconv"

	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// A Filament is how a printed part is made up of plastic: walls around it, closed layers
// below and above, and what is between them filled in part.
type Filament struct {
	Given  bool    // the plan gives the mass; nothing below is estimated then
	Solid  bool    // nothing says how it is filled: it counts as full
	Line   float64 // mm, the width of one wall
	Layer  float64 // mm, the height of one layer
	Walls  int
	Caps   int     // closed layers below, and as many above
	Infill float64 // share of the inside that is filled
	Shell  float64 // mm³ of walls and closed layers
	Inside float64 // mm³ within them, infill and air
}

// What holds where a plan does not say how a part is printed: common practice, no
// source.
const (
	usualNozzle = 0.4   // mm
	lineShare   = 1.125 // a line's width in nozzles: 0.45 mm out of one of 0.4 mm
	usualLayer  = 0.2   // mm
	usualCaps   = 4
	// sidesWithin is how far the triangles may stray, mm, by which surfaces are told
	// apart: no printer lays a line to a tenth of that of its length.
	sidesWithin = 0.05
)

// filament works out what a printed part is made up of. Walls follow the upright share
// of its surface and closed layers the level share, each as thick as it is printed;
// where they meet they count twice, and together never more than the part. That is
// common practice to a tenth or so and has no source.
func (r *Reckoning) filament(p *Part) *Filament {
	how := p.Part.Print
	if p.Part.Made.Text != plan.Printed || how == nil {
		return nil
	}
	if how.Mass.Given() {
		return &Filament{Given: true}
	}
	walls, err := strconv.Atoi(how.Walls.Text)
	infill, known := r.QuantityIn(how.Infill, quantity.Pure)
	if p.Solid == nil {
		return nil
	}
	if err != nil || !how.Infill.Given() || !known {
		return &Filament{Solid: true, Shell: p.Measures.Volume}
	}
	f := &Filament{Walls: walls, Infill: math.Max(0, math.Min(infill.SI, 1)), Line: lineShare * usualNozzle, Layer: usualLayer, Caps: usualCaps}
	if d, ok := r.Length(how.Nozzle); ok && how.Nozzle.Given() && d > 0 {
		f.Line = lineShare * d
	}
	if h, ok := r.Length(how.Layer); ok && how.Layer.Given() && h > 0 {
		f.Layer = h
	}
	if n, err := strconv.Atoi(how.Caps.Text); err == nil {
		f.Caps = n
	}
	level, upright := r.shapes.sides(p.Solid, upFrom(how.Face.Text))
	f.Shell = math.Min(p.Measures.Volume, float64(f.Walls)*f.Line*upright+float64(f.Caps)*f.Layer*level)
	f.Inside = p.Measures.Volume - f.Shell
	return f
}

// upFrom is the axis that stands upright when the face lies on the bed.
func upFrom(face string) solid.Vec {
	switch face {
	case "left", "right":
		return solid.Vec{X: 1}
	case "front", "back":
		return solid.Vec{Y: 1}
	}
	return solid.Vec{Z: 1}
}

// Volume is the plastic that a filament comes to, mm³.
func (f *Filament) Volume() float64 { return f.Shell + f.Infill*f.Inside }

// A lying is a solid as it lies on the bed.
type lying struct {
	body *solid.Solid
	up   solid.Vec
}

// A surface is a solid's surface, mm², as its walls and as its layers see it.
type surface struct{ Level, Upright float64 }

// sides are what a solid's surface comes to as seen along up, and as seen from around:
// a sloping face counts in both by its slope.
func (s *Shapes) sides(body *solid.Solid, up solid.Vec) (level, upright float64) {
	s.mu.Lock()
	known, done := s.surfaces[lying{body, up}]
	s.mu.Unlock()
	if done {
		return known.Level, known.Upright
	}
	known = memo.Sure(s.Kept, "sides", func() surface { return sidesOf(body, up) }, body, up, sidesWithin)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.surfaces[lying{body, up}] = known
	return known.Level, known.Upright
}

func sidesOf(body *solid.Solid, up solid.Vec) (out surface) {
	mesh := body.Mesh(sidesWithin)
	for _, t := range mesh.Triangles {
		a := mesh.Vertices[t[0]]
		normal := mesh.Vertices[t[1]].Sub(a).Cross(mesh.Vertices[t[2]].Sub(a)).Mul(0.5)
		along := normal.Dot(up)
		out.Level += math.Abs(along)
		out.Upright += math.Sqrt(math.Max(0, normal.Dot(normal)-along*along))
	}
	return out
}
