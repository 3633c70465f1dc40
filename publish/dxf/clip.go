package dxf

import (
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// A window is a closed outline that cuts off what lies outside of it, since the
// format has no clipping of its own that readers agree on.
type window struct {
	outline []picture.Curve
	polygon []picture.Point // the outline in short steps, to tell inside from outside
}

// windowSteps is into how many steps a curved piece of a window's outline is cut to
// tell inside from outside; where curves cross the outline is worked out exactly.
const windowSteps = 256

func newWindow(outline []picture.Curve) window {
	w := window{outline: outline}
	for _, c := range outline {
		steps := windowSteps
		if _, straight := c.(picture.Line); straight {
			steps = 1
		}
		for i := range steps {
			w.polygon = append(w.polygon, at(c, float64(i)/float64(steps)))
		}
	}
	return w
}

// holds tells whether a place lies in the window, by the parity of crossings to its
// right.
func (w window) holds(p picture.Point) bool {
	in := false
	for i, a := range w.polygon {
		b := w.polygon[(i+1)%len(w.polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// within is what of curves lies in the window.
func (w window) within(curves []picture.Curve) []picture.Curve {
	var kept []picture.Curve
	for _, c := range curves {
		cuts := []float64{0, 1}
		for _, edge := range w.outline {
			cuts = append(cuts, crossings(c, edge)...)
		}
		slices.Sort(cuts)
		from := 0.0
		for i := 1; i < len(cuts); i++ {
			if cuts[i] == cuts[i-1] {
				continue
			}
			if !w.holds(at(c, (cuts[i-1]+cuts[i])/2)) {
				if cuts[i-1] > from {
					kept = append(kept, between(c, from, cuts[i-1]))
				}
				from = cuts[i]
			}
		}
		if from < 1 {
			kept = append(kept, between(c, from, 1))
		}
	}
	return kept
}

// at is the point of a curve at a share of its way in parameter.
func at(c picture.Curve, share float64) picture.Point {
	switch c := c.(type) {
	case picture.Arc:
		return c.At(c.Start + c.Sweep*share)
	case picture.Bezier:
		return c.At(share)
	case picture.Line:
		return c.A.Times(1 - share).Plus(c.B.Times(share))
	}
	from, _ := c.Ends()
	return from
}

// between is the part of a curve between two shares of its way.
func between(c picture.Curve, from, to float64) picture.Curve {
	if from == 0 && to == 1 {
		return c
	}
	switch c := c.(type) {
	case picture.Arc:
		c.Start, c.Sweep = c.Start+c.Sweep*from, c.Sweep*(to-from)
		return c
	case picture.Bezier:
		// A cubic is given by its ends and its speed there.
		a, b, third := c.At(from), c.At(to), (to-from)/3
		return picture.Bezier{A: a, C1: a.Plus(speed(c, from).Times(third)), C2: b.Minus(speed(c, to).Times(third)), B: b}
	}
	return picture.Line{A: at(c, from), B: at(c, to)}
}

// speed is a Bézier's derivative by its parameter.
func speed(b picture.Bezier, t float64) picture.Point {
	u := 1 - t
	return b.C1.Minus(b.A).Times(3 * u * u).Plus(b.C2.Minus(b.C1).Times(6 * u * t)).Plus(b.B.Minus(b.C2).Times(3 * t * t))
}

// curvedSteps is in how many places a curved line is looked at for crossings. Two
// crossings of one piece of the outline between neighbouring places are missed:
// a sliver of that width.
const curvedSteps = 128

// crossings are the shares at which a curve crosses the unbounded line, circle or
// ellipse that a piece of an outline lies on; a Bézier counts as its chord.
func crossings(c, edge picture.Curve) []float64 {
	off := func(share float64) float64 { return distance(at(c, share), edge) }
	steps := looks(c, edge)
	var list []float64
	for i := 1; i < len(steps); i++ {
		lo, hi := steps[i-1], steps[i]
		a, b := off(lo), off(hi)
		if a == 0 {
			list = append(list, lo)
		}
		if a*b >= 0 {
			continue
		}
		for range 60 { // halving a share until it no longer changes
			mid := (lo + hi) / 2
			if m := off(mid); m*a > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		list = append(list, (lo+hi)/2)
	}
	return list
}

// looks are the shares between which a curve crosses an edge once at most.
func looks(c, edge picture.Curve) []float64 {
	l, straight := c.(picture.Line)
	if straight {
		// A line is nearest to a circle's middle in one place.
		list := []float64{0}
		if a, round := edge.(picture.Arc); round {
			d := l.B.Minus(l.A)
			toward := a.Centre.Minus(l.A)
			if n := d.X*d.X + d.Y*d.Y; n > 0 && a.RX == a.RY {
				if k := (d.X*toward.X + d.Y*toward.Y) / n; k > 0 && k < 1 {
					list = append(list, k)
				}
				return append(list, 1)
			}
		} else {
			return append(list, 1)
		}
	}
	list := make([]float64, curvedSteps+1)
	for i := range list {
		list[i] = float64(i) / curvedSteps
	}
	return list
}

// distance is how far a place lies off the unbounded line or circle of an edge, in
// millimetres, with a sign that tells the sides apart; for an ellipse only its sign
// and zero are true.
func distance(p picture.Point, edge picture.Curve) float64 {
	if a, round := edge.(picture.Arc); round && a.RX > 0 && a.RY > 0 {
		sin, cos := math.Sincos(a.Tilt)
		d := p.Minus(a.Centre)
		return a.RX * (math.Hypot((d.X*cos+d.Y*sin)/a.RX, (d.Y*cos-d.X*sin)/a.RY) - 1)
	}
	from, to := edge.Ends()
	d := to.Minus(from)
	n := math.Hypot(d.X, d.Y)
	if n == 0 {
		return 0
	}
	return (d.X*(p.Y-from.Y) - d.Y*(p.X-from.X)) / n
}
