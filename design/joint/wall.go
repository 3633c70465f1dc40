package joint

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/solid"
)

// wallRays is along how many directions the wall beside a hole is measured.
const wallRays = 24

// Wall is the thinnest material beside a hole that a screw crosses, at a depth from its
// mouth, both in mm: to the part's edge, or to the next hole. ok is false for what is
// no hole.
func (m *Machine) Wall(c *layout.Crossing, depth float64) (thinnest float64, ok bool) {
	if c.Feature.Kind != solid.HoleFeature || c.Part.Solid == nil {
		return 0, false
	}
	at := c.Feature.At.Add(c.Feature.Dir.Mul(depth))
	thinnest = memo.Sure(m.Kept, "the wall beside a hole", func() float64 {
		return wallBeside(c.Part.Solid, c.At, solid.FrameAlong(at, c.Feature.Dir))
	}, c.Part.Solid, c.At, at, c.Feature.Dir)
	return thinnest, !math.IsInf(thinnest, 1)
}

// wallBeside is the thinnest wall of a body at a place round an axis, in the plane of a
// frame; infinite where none is found.
func wallBeside(body *solid.Solid, place solid.Placement, frame solid.Frame) float64 {
	inverse := place.Inverse()
	from := inverse.Point(frame.O)
	thinnest := math.Inf(1)
	for i := 0; i < wallRays; i++ {
		sin, cos := math.Sincos(float64(i) * 2 * math.Pi / wallRays)
		hits := body.Ray(from, inverse.Direction(frame.X.Mul(cos).Add(frame.Y.Mul(sin))))
		if len(hits) < 2 || hits[0].Unsure || hits[1].Unsure || !hits[0].Enters || hits[1].Enters {
			continue
		}
		thinnest = math.Min(thinnest, hits[1].T-hits[0].T)
	}
	return thinnest
}
