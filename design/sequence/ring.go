package sequence

import (
	"math"
	"slices"
)

// ringShadow is what shadow does for an arm that begins off the axis: only what of the
// polygon lies in the ring that it sweeps is in its way.
func (p *polygon) ringShadow(half, inner, reach float64, into *angles) {
	if p.distance() >= reach {
		return
	}
	seen := func(x, y float64) (angle, wide float64) {
		return math.Atan2(y, x), math.Asin(math.Min(1, half/math.Hypot(x, y)))
	}
	var crossed []float64 // angles at which the polygon's sides cross the inner circle
	for i := range p.n {
		j := (i + 1) % p.n
		p.side(i, j, reach, pairs(func(x1, y1, x2, y2 float64) {
			for _, part := range outside(x1, y1, x2, y2, inner) {
				a, wa := seen(part[0], part[1])
				b, wb := seen(part[2], part[3])
				turn := math.Remainder(b-a, full)
				into.take(a+math.Min(-wa, turn-wb), a+math.Max(wa, turn+wb))
				for k := 0; k < 4; k += 2 {
					if r := math.Hypot(part[k], part[k+1]); r < inner*(1+sliver) {
						crossed = append(crossed, turned(math.Atan2(part[k+1], part[k])))
					}
				}
			}
		}))
	}
	p.covered(crossed, inner, math.Asin(math.Min(1, half/inner)), into)
}

// covered takes the arcs of a circle about the axis that lie in the polygon, widened at
// both ends; the polygon's sides cross it at the angles given.
func (p *polygon) covered(crossed []float64, r, wide float64, into *angles) {
	if len(crossed) == 0 {
		if p.holds(r, 0) {
			into.all = true
		}
		return
	}
	slices.Sort(crossed)
	for i, from := range crossed {
		to := crossed[(i+1)%len(crossed)]
		if to <= from {
			to += full
		}
		if sin, cos := math.Sincos((from + to) / 2); p.holds(r*cos, r*sin) {
			into.take(from-wide, to+wide)
		}
	}
}

// holds reports whether a point lies in the polygon, seen along the axis.
func (p *polygon) holds(x, y float64) bool {
	positive, negative := false, false
	for i := range p.n {
		j := (i + 1) % p.n
		cross := (p.x[j]-p.x[i])*(y-p.y[i]) - (p.y[j]-p.y[i])*(x-p.x[i])
		positive = positive || cross > 0
		negative = negative || cross < 0
	}
	return positive != negative
}

// pairs joins the two calls that tell the ends of a side into one.
func pairs(both func(x1, y1, x2, y2 float64)) func(x, y float64) {
	first := true
	var x1, y1 float64
	return func(x, y float64) {
		if first {
			x1, y1, first = x, y, false
			return
		}
		both(x1, y1, x, y)
		first = true
	}
}

// outside are the parts of a line that lie outside of a circle about the axis, each by
// its two ends.
func outside(x1, y1, x2, y2, r float64) [][4]float64 {
	dx, dy := x2-x1, y2-y1
	a, b, c := dx*dx+dy*dy, x1*dx+y1*dy, x1*x1+y1*y1-r*r
	root := b*b - a*c
	if a == 0 || root <= 0 {
		if c < 0 {
			return nil
		}
		return [][4]float64{{x1, y1, x2, y2}}
	}
	root = math.Sqrt(root)
	from, to := (-b-root)/a, (-b+root)/a
	var out [][4]float64
	if from > 0 {
		k := math.Min(1, from)
		out = append(out, [4]float64{x1, y1, x1 + k*dx, y1 + k*dy})
	}
	if to < 1 {
		k := math.Max(0, to)
		out = append(out, [4]float64{x1 + k*dx, y1 + k*dy, x2, y2})
	}
	return out
}
