package sheet

import (
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// mostMirrored is how many curves are compared with each other for symmetry.
const mostMirrored = 600

// symmetry lines of a view: through the middle, across which all that is drawn
// mirrors itself (ISO 128-2, line type 04.1).
func (q *pane) symmetry() []stretch {
	box := q.whole.bounds()
	curves := slices.Concat(q.whole.visible, q.whole.hidden)
	if q.cut != nil || len(curves) == 0 || len(curves) > mostMirrored {
		return nil
	}
	middle := box.Centre()
	var list []stretch
	out := centreOut / q.scale
	for _, upright := range []bool{true, false} {
		a, b := point{X: middle.X, Y: box.Min.Y - out}, point{X: middle.X, Y: box.Max.Y + out}
		if !upright {
			a, b = point{X: box.Min.X - out, Y: middle.Y}, point{X: box.Max.X + out, Y: middle.Y}
		}
		if !mirrors(curves, middle, upright) {
			continue
		}
		if q.broken != nil {
			a, b = q.broken.Paper(a), q.broken.Paper(b)
		}
		list = append(list, stretch{q.to(a), q.to(b)})
	}
	return list
}

// mirrors reports whether curves are the same mirrored in an upright or a level line
// through a point.
func mirrors(curves []picture.Curve, middle point, upright bool) bool {
	flip := func(p point) point {
		if upright {
			return point{X: 2*middle.X - p.X, Y: p.Y}
		}
		return point{X: p.X, Y: 2*middle.Y - p.Y}
	}
	for _, c := range curves {
		a, b := c.Ends()
		a, b, half := flip(a), flip(b), flip(halfWay(c))
		if !slices.ContainsFunc(curves, func(o picture.Curve) bool {
			from, to := o.Ends()
			ends := from.Distance(a) < near && to.Distance(b) < near || from.Distance(b) < near && to.Distance(a) < near
			if arc, round := o.(picture.Arc); round && math.Abs(math.Abs(arc.Sweep)-2*math.Pi) < 1e-9 {
				// Whole circles may begin anywhere.
				mine, also := c.(picture.Arc)
				return also && flip(mine.Centre).Distance(arc.Centre) < near && math.Abs(mine.RX-arc.RX) < near && math.Abs(mine.Sweep) > 6.28
			}
			return ends && halfWay(o).Distance(half) < near
		}) {
			return false
		}
	}
	return true
}

// halfWay is the point in the middle of a curve.
func halfWay(c picture.Curve) point {
	switch c := c.(type) {
	case picture.Arc:
		return c.At(c.Start + c.Sweep/2)
	case picture.Bezier:
		return c.At(0.5)
	}
	a, b := c.Ends()
	return a.Plus(b).Times(0.5)
}
