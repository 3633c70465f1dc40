package sequence

import (
	"math"

	"plansheaf/design/solid"
)

// touching (mm) is how far a tool may reach into something before it counts as
// blocked: more than the triangles stray, less than anybody notices.
const touching = 0.05

// boxUnder is the box around a box that a placement has moved.
func boxUnder(b solid.Box, p solid.Placement) solid.Box {
	centre, half := p.Point(b.Centre()), b.Size().Mul(0.5)
	var reach solid.Vec
	for i, h := range []float64{half.X, half.Y, half.Z} {
		reach.X += math.Abs(p.Turn[i].X) * h
		reach.Y += math.Abs(p.Turn[i].Y) * h
		reach.Z += math.Abs(p.Turn[i].Z) * h
	}
	return solid.Box{Min: centre.Sub(reach), Max: centre.Add(reach)}
}
