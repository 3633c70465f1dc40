package solid

import (
	"math"
	"sort"
)

// meetSurfaces returns the curves in which two surfaces that do not coincide
// meet. reach bounds curves that run out to infinity. Surfaces that only touch
// give nothing: touching cuts no face.
func meetSurfaces(a, b Surface, reach Box) []Curve {
	if curves, known := a.meet(b, reach); known {
		return curves
	}
	curves, _ := b.meet(a, reach)
	return curves
}

func planePlane(a, b Plane) []Curve {
	d := a.Z.Cross(b.Z)
	l := d.Len()
	if l < angleTolerance {
		return nil
	}
	d = d.Mul(1 / l)
	// The point of the line nearest to a's origin.
	in := d.Cross(a.Z)
	o := a.O.along(in, -b.Off(a.O)/in.Dot(b.Z))
	return []Curve{Line{o, d}}
}

func planeCylinder(p Plane, c Cylinder) []Curve {
	k := p.Z.Dot(c.Z)
	across := p.Z.Sub(c.Z.Mul(k))
	sin := across.Len()
	switch {
	case sin < angleTolerance:
		return []Curve{Circle{Frame{O: c.O.along(c.Z, -p.Off(c.O)/k), X: c.X, Y: c.Y, Z: c.Z}, c.R}}
	case math.Abs(k) < angleTolerance:
		n := across.Mul(1 / sin)
		d := -p.Off(c.O)
		h := c.R*c.R - d*d
		if math.Abs(d) > c.R-Tolerance {
			return nil
		}
		foot, side := c.O.along(n, d), c.Z.Cross(n)
		return []Curve{Line{foot.along(side, math.Sqrt(h)), c.Z}, Line{foot.along(side, -math.Sqrt(h)), c.Z}}
	}
	y := c.Z.Cross(across.Mul(1 / sin))
	x := y.Cross(p.Z)
	f := Frame{O: c.O.along(c.Z, -p.Off(c.O)/k), X: x, Y: y, Z: x.Cross(y)}
	return []Curve{Ellipse{f, c.R / math.Abs(k), c.R}}
}

func planeCone(p Plane, c Cone, reach Box) []Curve {
	k := p.Z.Dot(c.Z)
	across := p.Z.Sub(c.Z.Mul(k))
	sin := across.Len()
	d := -p.Off(c.O) // how far the plane lies from the tip along its normal
	switch {
	case sin < angleTolerance:
		v := d / k
		if v*c.Slope < Tolerance {
			return nil
		}
		return []Curve{Circle{Frame{O: c.O.along(c.Z, v), X: c.X, Y: c.Y, Z: c.Z}, c.Slope * v}}
	case math.Abs(d) < Tolerance:
		return coneTipLines(c, p.Z)
	}
	n := across.Mul(1 / sin)
	steep := c.Slope * sin
	if math.Abs(k) > steep+1e-9 {
		v0, v1 := d/(k+steep), d/(k-steep)
		if v0 < 0 {
			return nil
		}
		at := func(v, side float64) Vec { return c.O.along(c.Z, v).along(n, side*c.Slope*v) }
		e0, e1 := at(v0, 1), at(v1, -1)
		mid := e0.Add(e1).Mul(0.5)
		w := mid.Sub(c.O)
		vm := w.Dot(c.Z)
		rho := w.Dot(n)
		x := e1.Sub(e0).Unit()
		y := c.Z.Cross(n)
		f := Frame{O: mid, X: x, Y: y, Z: x.Cross(y)}
		return []Curve{Ellipse{f, e1.Dist(e0) / 2, math.Sqrt(c.Slope*c.Slope*vm*vm - rho*rho)}}
	}
	return meetCurves(c, p, reach)
}

// coneTipLines returns the straight lines of a cone square to n.
func coneTipLines(c Cone, n Vec) []Curve {
	var out []Curve
	for _, u := range cosineRoots(c.Slope*c.X.Dot(n), c.Slope*c.Y.Dot(n), c.Z.Dot(n)) {
		_, d := c.line(u)
		out = append(out, Line{c.O, d.Unit()})
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

func cylinderCylinder(a, b Cylinder, reach Box) []Curve {
	d := b.O.Sub(a.O)
	cross := a.Z.Cross(b.Z)
	if cross.Len()*reach.Size().Len() < Tolerance {
		d = d.Sub(a.Z.Mul(d.Dot(a.Z)))
		l := d.Len()
		if l < Tolerance || l > a.R+b.R-Tolerance || l < math.Abs(a.R-b.R)+Tolerance {
			return nil
		}
		x := (l*l + a.R*a.R - b.R*b.R) / (2 * l)
		n := d.Mul(1 / l)
		foot, side := a.O.along(n, x), a.Z.Cross(n)
		h := math.Sqrt(a.R*a.R - x*x)
		return []Curve{Line{foot.along(side, h), a.Z}, Line{foot.along(side, -h), a.Z}}
	}
	if math.Abs(a.R-b.R) < Tolerance && math.Abs(d.Dot(cross.Unit())) < Tolerance {
		// Equal ones whose axes cross meet in two flat ellipses.
		k := cross.Dot(cross)
		at := a.O.along(a.Z, d.Cross(b.Z).Dot(cross)/k)
		var out []Curve
		for _, n := range []Vec{a.Z.Add(b.Z), a.Z.Sub(b.Z)} {
			out = append(out, planeCylinder(Plane{FrameAlong(at, n)}, a)...)
		}
		return out
	}
	if a.R > b.R {
		a, b = b, a
	}
	return meetCurves(a, b, reach)
}

func cylinderCone(a Cylinder, b Cone, reach Box) []Curve {
	if axis := a.O.Sub(b.O); a.Z.Cross(b.Z).Len()*reach.Size().Len() < Tolerance && axis.Cross(b.Z).Len() < Tolerance {
		return []Curve{Circle{Frame{O: b.O.along(b.Z, a.R/b.Slope), X: b.X, Y: b.Y, Z: b.Z}, a.R}}
	}
	return meetCurves(a, b, reach)
}

func coneCone(a, b Cone, reach Box) []Curve {
	d := b.O.Sub(a.O)
	if a.Z.Cross(b.Z).Len()*reach.Size().Len() < Tolerance && d.Cross(a.Z).Len() < Tolerance {
		// a.Slope*v = b.Slope*(v-h)*s along a's axis.
		h, s := d.Dot(a.Z), math.Copysign(1, a.Z.Dot(b.Z))
		k := a.Slope - s*b.Slope
		if math.Abs(k) < 1e-12 {
			return nil
		}
		v := -s * b.Slope * h / k
		if v*a.Slope < Tolerance || (v-h)*s < 0 {
			return nil
		}
		return []Curve{Circle{Frame{O: a.O.along(a.Z, v), X: a.X, Y: a.Y, Z: a.Z}, a.Slope * v}}
	}
	return meetCurves(a, b, reach)
}

// meetSamples is how many straight lines of the base are tried around; narrower
// contacts are found by closing in on the place where the gap is least.
const meetSamples = 96

// meetCurves returns the curves between a cylinder or cone and another surface
// as branches over the base's angle. A branch is valid at an angle where the
// base's straight line meets the other surface, on the halves that cones have.
func meetCurves(base, other Surface, reach Box) []Curve {
	// A cone's curves may run out to infinity: they end beyond all that counts.
	far := math.Inf(1)
	if c, ok := base.(Cone); ok {
		far = reach.Centre().Dist(c.O) + reach.Size().Len() + 1
	}
	_, single := other.(Plane)
	gap := func(u float64) float64 {
		_, half2, _ := crossingsAt(base, other, u)
		return half2
	}
	var out []Curve
	branches := []bool{false, true}
	if single {
		branches = branches[:1]
	}
	cuts := splitAngles(gap, single)
	for _, upper := range branches {
		m := Meet{Base: base, Other: other, Upper: upper}
		valid := func(u float64) bool {
			v, ok := m.height(u)
			if !ok || math.Abs(v) > far {
				return false
			}
			if _, cone := base.(Cone); cone && v < 0 {
				return false
			}
			c, cone := other.(Cone)
			return !cone || base.Point(u, v).Sub(c.O).Dot(c.Z) >= 0
		}
		out = append(out, branchCurves(m, valid, cuts)...)
	}
	return out
}

// splitAngles returns the angles at which branches must be looked at besides
// the even ones: where the gap is greatest though its neighbours are negative,
// and (negated order does not matter) where it is least and all but nothing.
func splitAngles(gap func(float64) float64, single bool) (extra []float64) {
	if single {
		return nil
	}
	step := 2 * math.Pi / meetSamples
	for i := 0; i < meetSamples; i++ {
		u := float64(i) * step
		a, b, c := gap(u-step), gap(u), gap(u+step)
		if b < 0 && b >= a && b >= c {
			if at := lowest(func(t float64) float64 { return -gap(t) }, u-step, u+step); gap(at) > 0 {
				extra = append(extra, at)
			}
		}
		if b >= 0 && b <= a && b <= c {
			at := lowest(gap, u-step, u+step)
			if g := gap(at); g < 1e-10 {
				extra = append(extra, at)
			}
		}
	}
	return extra
}

// branchCurves cuts a branch into the stretches of angle where it is valid.
// Stretches also end at extra angles where both branches touch.
func branchCurves(m Meet, valid func(float64) bool, extra []float64) []Curve {
	us, touch := sampleAngles(extra)
	n := len(us)
	ok := make([]bool, n)
	for i, u := range us {
		ok[i] = valid(u)
	}
	var begins, ends []float64
	for i, u := range us {
		prev := (i + n - 1) % n
		before := us[prev]
		if i == 0 {
			before -= 2 * math.Pi
		}
		switch {
		case ok[i] && !ok[prev]:
			begins = append(begins, lastValid(valid, u, before))
		case !ok[i] && ok[prev]:
			ends = append(ends, lastValid(valid, before, u))
		}
		if ok[i] && touch[u] {
			ends, begins = append(ends, u), append(begins, u)
		}
	}
	if len(begins) == 0 {
		if !ok[0] {
			return nil
		}
		m.Round = true
		return []Curve{m}
	}
	var out []Curve
	for _, from := range begins {
		to := math.Inf(1)
		for _, e := range ends {
			for e <= from {
				e += 2 * math.Pi
			}
			to = math.Min(to, e)
		}
		if to-from > 1e-9 {
			m.From, m.To = from, to
			out = append(out, m)
		}
	}
	return out
}

// sampleAngles returns the angles at which branches are tried, in order, and
// which of them are the extra ones.
func sampleAngles(extra []float64) (us []float64, touch map[float64]bool) {
	touch = map[float64]bool{}
	for i := 0; i < meetSamples; i++ {
		us = append(us, float64(i)*2*math.Pi/meetSamples)
	}
	for _, e := range extra {
		e = math.Mod(e+4*math.Pi, 2*math.Pi)
		us, touch[e] = append(us, e), true
	}
	sort.Float64s(us)
	return us, touch
}

// lastValid closes in on the last valid angle from in, where it is valid,
// towards out, where it is not.
func lastValid(valid func(float64) bool, in, out float64) float64 {
	for k := 0; k < 60; k++ {
		if mid := (in + out) / 2; valid(mid) {
			in = mid
		} else {
			out = mid
		}
	}
	return in
}
