package proximity

import (
	"math"

	"plansheaf/design/solid"
)

type triangle [3]solid.Vec

func (t triangle) placed(p solid.Placement) triangle {
	return triangle{p.Point(t[0]), p.Point(t[1]), p.Point(t[2])}
}

func (t *triangle) normal() solid.Vec { return t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Unit() }

// bounds returns the lowest and highest corner of the box around a triangle.
func (t *triangle) bounds() (low, high solid.Vec) {
	return lower(t[0], lower(t[1], t[2])), upper(t[0], upper(t[1], t[2]))
}

// gap is how far two boxes are apart along the axis that parts them most; not above
// nothing where none does.
func gap(low, high, low2, high2 solid.Vec) float64 {
	return max(low.X-high2.X, low2.X-high.X, low.Y-high2.Y, low2.Y-high.Y, low.Z-high2.Z, low2.Z-high.Z)
}

// beyond returns a distance that two triangles with the normals n and m cannot be
// nearer than: as much as one lies wholly on one side of the other's plane.
func beyond(t, u *triangle, n, m solid.Vec) float64 {
	return max(math.Abs(aside(t[0], n, u)), math.Abs(aside(u[0], m, t)))
}

// along is how far a triangle lies beyond another along a direction.
func along(t, u *triangle, way solid.Vec) float64 {
	return min(u[0].Dot(way), min(u[1].Dot(way), u[2].Dot(way))) -
		max(t[0].Dot(way), max(t[1].Dot(way), t[2].Dot(way)))
}

// aside is how far a triangle lies off the plane through o, positive on the side
// of its normal n, 0 where it meets it.
func aside(o, n solid.Vec, t *triangle) float64 {
	a, b, c := t[0].Sub(o).Dot(n), t[1].Sub(o).Dot(n), t[2].Sub(o).Dot(n)
	switch {
	case a > 0 && b > 0 && c > 0:
		return min(a, min(b, c))
	case a < 0 && b < 0 && c < 0:
		return max(a, max(b, c))
	}
	return 0
}

// apart returns the distance of two triangles and the points where they are
// nearest: two sides, or a corner and the inside, or where a side runs through.
//
// Two sides decide alone where the planes square to the way between them have the
// third corners on their far sides (Larsen et al., Fast Proximity Queries with Swept
// Sphere Volumes, 1999).
func apart(t, u *triangle) (d float64, p, q solid.Vec) {
	best := math.Inf(1)
	for i := range t {
		for j := range u {
			x, y := segments(t[i], t[(i+1)%3], u[j], u[(j+1)%3])
			way := y.Sub(x)
			gap := way.Dot(way)
			if gap >= best {
				continue
			}
			best, p, q = gap, x, y
			if gap > 0 && t[(i+2)%3].Sub(x).Dot(way) <= 0 && u[(j+2)%3].Sub(y).Dot(way) >= 0 {
				return math.Sqrt(gap), p, q
			}
		}
	}
	if best == 0 {
		return 0, p, q
	}
	for i := range t {
		y := u.nearest(t[i])
		if v := y.Sub(t[i]); v.Dot(v) < best {
			best, p, q = v.Dot(v), t[i], y
		}
		x := t.nearest(u[i])
		if v := u[i].Sub(x); v.Dot(v) < best {
			best, p, q = v.Dot(v), x, u[i]
		}
	}
	if best == 0 {
		return 0, p, q
	}
	for i := range t {
		if x, ok := u.pierced(t[i], t[(i+1)%3]); ok {
			return 0, x, x
		}
		if x, ok := t.pierced(u[i], u[(i+1)%3]); ok {
			return 0, x, x
		}
	}
	return math.Sqrt(best), p, q
}

// segments returns the nearest points of two segments.
// Source: Ericson, Real-Time Collision Detection, 5.1.9.
func segments(p1, q1, p2, q2 solid.Vec) (solid.Vec, solid.Vec) {
	d1, d2, r := q1.Sub(p1), q2.Sub(p2), p1.Sub(p2)
	a, e, f := d1.Dot(d1), d2.Dot(d2), d2.Dot(r)
	var s, t float64
	switch {
	case a == 0 && e == 0:
	case a == 0:
		t = unit(f / e)
	default:
		c := d1.Dot(r)
		if e == 0 {
			s = unit(-c / a)
			break
		}
		b := d1.Dot(d2)
		if den := a*e - b*b; den > 1e-14*a*e {
			s = unit((b*f - c*e) / den)
		}
		t = (b*s + f) / e
		if t < 0 {
			t, s = 0, unit(-c/a)
		} else if t > 1 {
			t, s = 1, unit((b-c)/a)
		}
	}
	return p1.Add(d1.Mul(s)), p2.Add(d2.Mul(t))
}

func unit(x float64) float64 { return max(0, min(1, x)) }

// nearest returns the point of the triangle nearest to p.
// Source: Ericson, Real-Time Collision Detection, 5.1.5.
func (t *triangle) nearest(p solid.Vec) solid.Vec {
	ab, ac, ap := t[1].Sub(t[0]), t[2].Sub(t[0]), p.Sub(t[0])
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return t[0]
	}
	bp := p.Sub(t[1])
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return t[1]
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return t[0].Add(ab.Mul(d1 / (d1 - d3)))
	}
	cp := p.Sub(t[2])
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return t[2]
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return t[0].Add(ac.Mul(d2 / (d2 - d6)))
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		return t[1].Add(t[2].Sub(t[1]).Mul((d4 - d3) / ((d4 - d3) + (d5 - d6))))
	}
	sum := va + vb + vc
	if sum == 0 {
		return t[0]
	}
	return t[0].Add(ab.Mul(vb / sum)).Add(ac.Mul(vc / sum))
}

// pierced returns where the segment runs through the triangle. One with an end in the
// triangle's plane, as near as rounding lets tell, runs through nothing: that end and
// the triangle's sides are looked at by themselves.
func (t *triangle) pierced(a, b solid.Vec) (solid.Vec, bool) {
	n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	da, db := a.Sub(t[0]).Dot(n), b.Sub(t[0]).Dot(n)
	if da > 0 == (db > 0) || da == db {
		return solid.Vec{}, false
	}
	d := b.Sub(a)
	const rounding = 1e-12
	reach := math.Sqrt(n.Dot(n)) * (a.Dist(t[0]) + math.Sqrt(d.Dot(d)))
	if min(math.Abs(da), math.Abs(db)) <= rounding*reach {
		return solid.Vec{}, false
	}
	var side [3]bool
	for k := range t {
		side[k] = t[k].Sub(a).Cross(t[(k+1)%3].Sub(a)).Dot(d) > 0
	}
	if side[0] != side[1] || side[1] != side[2] {
		return solid.Vec{}, false
	}
	return a.Add(d.Mul(da / (da - db))), true
}
