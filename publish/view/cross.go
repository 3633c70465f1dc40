package view

import (
	"math"

	"plansheaf/design/solid"
)

// crossings calls visit with the parameters t on e and s on c at which the two
// tracks meet in the plane. Where they run along each other it gives the ends of
// c on e. It may give a place twice.
func crossings(e, c *track, visit func(t, s float64)) {
	if e.high.X < c.low.X-hair || c.high.X < e.low.X-hair || e.high.Y < c.low.Y-hair || c.high.Y < e.low.Y-hair {
		return
	}
	try := func(t float64) {
		t = math.Max(e.t0, math.Min(e.t1, t))
		p := e.at(t)
		if s, ok := c.find(p.X, p.Y); ok {
			visit(t, s)
		}
	}
	switch {
	case e.form == free && c.form == free:
		freeCrossings(e, c, visit)
	case e.form == free:
		signChanges(e, c, try)
	case c.form == free:
		signChanges(c, e, func(s float64) {
			p := c.at(s)
			if t, ok := e.find(p.X, p.Y); ok {
				visit(t, s)
			}
		})
	case e.linear:
		lineCrossings(e, c, try)
	default:
		roundCrossings(e, c, try)
	}
	// Ends of c on e: where they run along each other, or c ends on e.
	for _, s := range [2]float64{c.t0, c.t1} {
		p := c.at(s)
		if p.X < e.low.X-hair || p.X > e.high.X+hair || p.Y < e.low.Y-hair || p.Y > e.high.Y+hair {
			continue
		}
		if t, ok := e.find(p.X, p.Y); ok {
			visit(t, s)
		}
	}
}

// lineCrossings tries the parameters at which the linear track e meets the line
// or ellipse of c.
func lineCrossings(e, c *track, try func(t float64)) {
	ox, oy := e.c.X-c.c.X, e.c.Y-c.c.Y
	dx, dy := e.a.X, e.a.Y
	if c.form == straight {
		k := c.ux*dy - c.uy*dx
		if math.Abs(k) < 1e-12 {
			return
		}
		t := (c.uy*ox - c.ux*oy) / k
		slack := hair / math.Hypot(dx, dy)
		if t > e.t0-slack && t < e.t1+slack {
			try(t)
		}
		return
	}
	px, py := c.m[0]*ox+c.m[1]*oy, c.m[2]*ox+c.m[3]*oy
	qx, qy := c.m[0]*dx+c.m[1]*dy, c.m[2]*dx+c.m[3]*dy
	qa, qb, qc := qx*qx+qy*qy, px*qx+py*qy, px*px+py*py-1
	if qa == 0 {
		return
	}
	disc := qb*qb - qa*qc
	if disc < -touching*qa {
		return
	}
	root := math.Sqrt(math.Max(0, disc))
	slack := hair / math.Hypot(dx, dy)
	for _, t := range [2]float64{(-qb - root) / qa, (-qb + root) / qa} {
		if t > e.t0-slack && t < e.t1+slack {
			try(t)
		}
	}
}

// roundCrossings tries the parameters at which the round track e meets the line
// or ellipse of c.
func roundCrossings(e, c *track, try func(t float64)) {
	within := func(t float64) {
		t = e.near(t)
		slack := hair / math.Max(hair, e.size())
		if t > e.t0-slack && t < e.t1+slack {
			try(t)
		}
	}
	ox, oy := e.c.X-c.c.X, e.c.Y-c.c.Y
	if c.form == straight {
		ts, n := angles(c.ux*e.a.Y-c.uy*e.a.X, c.ux*e.b.Y-c.uy*e.b.X, c.uy*ox-c.ux*oy)
		for _, t := range ts[:n] {
			within(t)
		}
		return
	}
	// In the frame where c is the unit circle e is u0 + u1*cos t + u2*sin t. Where
	// they are one ellipse, the caller looks at the ends of c.
	to := func(x, y float64) [2]float64 { return [2]float64{c.m[0]*x + c.m[1]*y, c.m[2]*x + c.m[3]*y} }
	u0, u1, u2 := to(ox, oy), to(e.a.X, e.a.Y), to(e.b.X, e.b.Y)
	unitAngles(u0, u1, u2, within)
}

// unitAngles visits the angles t at which u0 + u1*cos t + u2*sin t lies on the unit
// circle; none where it does so all along.
func unitAngles(u0, u1, u2 [2]float64, visit func(t float64)) {
	// With s = tan(t/2) the distance from the centre less 1 is a polynomial of
	// degree four. Two charts keep |s| <= 1.
	for _, turn := range [2]float64{0, math.Pi} {
		sign := 1.0
		if turn > 0 {
			sign = -1
		}
		p := [5]float64{-1, 0, -2, 0, -1}
		for i := range 2 {
			k0, k1, k2 := u0[i]+sign*u1[i], 2*sign*u2[i], u0[i]-sign*u1[i]
			p[0] += k0 * k0
			p[1] += 2 * k0 * k1
			p[2] += k1*k1 + 2*k0*k2
			p[3] += 2 * k1 * k2
			p[4] += k2 * k2
		}
		most := 0.0
		for _, x := range p {
			most = math.Max(most, math.Abs(x))
		}
		if most < 1e-7 {
			return // one ellipse
		}
		var room [12]float64
		for _, s := range realRoots(p[:], -1, 1, touching*most, room[:0]) {
			visit(2*math.Atan(s) + turn)
		}
	}
}

// size returns about the radius of a round track.
func (k *track) size() float64 {
	return math.Max(math.Hypot(k.a.X, k.a.Y), math.Hypot(k.b.X, k.b.Y))
}

// signChanges tries the parameters at which a free track crosses the line or
// ellipse of another.
func signChanges(e, c *track, try func(t float64)) {
	e.zeros(func(p solid.Vec) float64 { return c.off(p.X, p.Y) }, try)
}

// inFromEnd is the share of a link by which the first and last place looked at
// lie within the track: at its very end, often a vertex of what it is compared
// with, the sign is a matter of rounding.
const inFromEnd = 1e-3

// zeros visits the parameters at which a function of the point changes its sign
// along a track, found from the links of its chain. Where the function comes
// near to zero and turns back, it is looked whether it passes zero twice.
func (k *track) zeros(of func(p solid.Vec) float64, visit func(t float64)) {
	f := func(t float64) float64 { return of(k.at(t)) }
	step := (k.t1 - k.t0) / chainLinks
	var ts, fs [chainLinks + 1]float64
	for i := range ts {
		ts[i] = k.t0 + step*float64(i)
		switch {
		case i == 0:
			ts[i] += step * inFromEnd
		case i == chainLinks:
			ts[i] = k.t1 - step*inFromEnd
		case k.chain != nil:
			fs[i] = of(k.chain[i])
			continue
		}
		fs[i] = f(ts[i])
	}
	for i := 1; i <= chainLinks; i++ {
		a, b := fs[i-1], fs[i]
		switch {
		case a*b < 0:
			visit(between(f, ts[i-1], ts[i], a))
		case b == 0:
			visit(ts[i])
		case i < chainLinks && a*b > 0 && b*fs[i+1] > 0 && math.Abs(b) <= math.Abs(a) && math.Abs(b) <= math.Abs(fs[i+1]):
			sign := math.Copysign(1, b)
			t := leastBetween(func(t float64) float64 { return sign * f(t) }, ts[i-1], ts[i+1])
			if low := f(t); low*b < 0 {
				visit(between(f, ts[i-1], t, a))
				visit(between(f, t, ts[i+1], low))
			}
		}
	}
}

// leastBetween returns where f, which turns about once between a and b, is least.
func leastBetween(f func(float64) float64, a, b float64) float64 {
	for range 50 {
		u, v := a+(b-a)/3, b-(b-a)/3
		if f(u) < f(v) {
			b = v
		} else {
			a = u
		}
	}
	return (a + b) / 2
}

// freeCrossings visits where the chains of two free tracks cross, closed in on
// by Newton's method.
func freeCrossings(e, c *track, visit func(t, s float64)) {
	stepE, stepC := (e.t1-e.t0)/chainLinks, (c.t1-c.t0)/chainLinks
	for i := range chainLinks {
		p, q := e.chain[i], e.chain[i+1]
		for j := range chainLinks {
			v, w := c.chain[j], c.chain[j+1]
			if math.Max(p.X, q.X) < math.Min(v.X, w.X) || math.Max(v.X, w.X) < math.Min(p.X, q.X) ||
				math.Max(p.Y, q.Y) < math.Min(v.Y, w.Y) || math.Max(v.Y, w.Y) < math.Min(p.Y, q.Y) {
				continue
			}
			dx, dy, fx, fy := q.X-p.X, q.Y-p.Y, w.X-v.X, w.Y-v.Y
			k := dx*fy - dy*fx
			if k == 0 {
				continue
			}
			a := ((v.X-p.X)*fy - (v.Y-p.Y)*fx) / k
			b := ((v.X-p.X)*dy - (v.Y-p.Y)*dx) / k
			if a < -0.1 || a > 1.1 || b < -0.1 || b > 1.1 {
				continue
			}
			t, s := e.t0+stepE*(float64(i)+a), c.t0+stepC*(float64(j)+b)
			if t, s, ok := closeIn(e, c, t, s); ok {
				visit(t, s)
			}
		}
	}
}

// closeIn runs Newton's method on the place where two free tracks meet.
func closeIn(e, c *track, t, s float64) (float64, float64, bool) {
	for range 20 {
		t, s = math.Max(e.t0, math.Min(e.t1, t)), math.Max(c.t0, math.Min(c.t1, s))
		p, q := e.at(t), c.at(s)
		rx, ry := q.X-p.X, q.Y-p.Y
		if math.Hypot(rx, ry) < hair/10 {
			return t, s, true
		}
		d, f := e.curve.Tangent(t), c.curve.Tangent(s)
		k := d.Y*f.X - d.X*f.Y
		if k == 0 {
			return t, s, false
		}
		t += (ry*f.X - rx*f.Y) / k
		s += (d.X*ry - d.Y*rx) / k
	}
	return t, s, false
}
