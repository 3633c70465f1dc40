package solid

import "math"

// crossings returns the parameters in [t0, t1] at which a piece of a curve
// meets a surface, touching included, ends included when they lie within
// Tolerance of it. on tells that the whole piece lies in the surface; there are
// then no parameters.
func crossings(c Curve, t0, t1 float64, s Surface) (at []float64, on bool) {
	if liesOn(c, t0, t1, s) {
		return nil, true
	}
	switch c := c.(type) {
	case Line:
		for _, t := range s.LineHits(c.O, c.D) {
			at = append(at, math.Max(t0, math.Min(t1, t)))
			if t < t0-Tolerance || t > t1+Tolerance {
				at = at[:len(at)-1]
			}
		}
	case Circle:
		if p, ok := s.(Plane); ok {
			at = inRange(cosineRoots(c.R*c.X.Dot(p.Z), c.R*c.Y.Dot(p.Z), p.Off(c.O)), t0, t1, Tolerance/c.R)
		} else {
			at = numericCrossings(c, t0, t1, s)
		}
	case Ellipse:
		if p, ok := s.(Plane); ok {
			at = inRange(cosineRoots(c.A*c.X.Dot(p.Z), c.B*c.Y.Dot(p.Z), p.Off(c.O)), t0, t1, Tolerance/c.B)
		} else {
			at = numericCrossings(c, t0, t1, s)
		}
	default:
		at = numericCrossings(c, t0, t1, s)
	}
	for _, t := range []float64{t0, t1} {
		if math.Abs(s.Off(c.Point(t))) < Tolerance {
			at = append(at, t)
		}
	}
	return at, false
}

// liesOn tells whether a piece of a curve lies in a surface.
func liesOn(c Curve, t0, t1 float64, s Surface) bool {
	shares := []float64{0, 1, 0.5, 0.27, 0.73, 0.11, 0.89}
	if _, line := c.(Line); line {
		if _, plane := s.(Plane); plane {
			shares = shares[:2]
		} else {
			shares = shares[:4]
		}
	}
	for _, k := range shares {
		if math.Abs(s.Off(c.Point(t0+(t1-t0)*k))) > Tolerance {
			return false
		}
	}
	return true
}

// cosineRoots solves a*cos t + b*sin t + c = 0; touching within Tolerance gives
// one root.
func cosineRoots(a, b, c float64) []float64 {
	amp := math.Hypot(a, b)
	if amp < Tolerance || math.Abs(c) > amp+Tolerance {
		return nil
	}
	mid := math.Atan2(b, a)
	k := -c / amp
	if math.Abs(k) >= 1 {
		if k < 0 {
			mid += math.Pi
		}
		return []float64{mid}
	}
	d := math.Acos(k)
	return []float64{mid - d, mid + d}
}

// inRange returns the angles, shifted by whole turns, that fall in [t0, t1],
// with some slack clamped to the ends.
func inRange(ts []float64, t0, t1, slack float64) []float64 {
	var out []float64
	for _, t := range ts {
		for k := math.Ceil((t0 - slack - t) / (2 * math.Pi)); t+2*math.Pi*k <= t1+slack; k++ {
			out = append(out, math.Max(t0, math.Min(t1, t+2*math.Pi*k)))
		}
	}
	return out
}

// crossingSamples is how many places per turn are looked at for a change of side
// where no closed form is used. Between a circle and a quadric there are at most
// four crossings a turn.
const crossingSamples = 64

// numericCrossings finds crossings by change of side, and touching places by
// the least distance.
func numericCrossings(c Curve, t0, t1 float64, s Surface) []float64 {
	n := int(math.Ceil((t1-t0)/(2*math.Pi)*crossingSamples)) + 4
	f := func(t float64) float64 { return s.Off(c.Point(t)) }
	ts, fs := make([]float64, n+1), make([]float64, n+1)
	for i := range ts {
		ts[i] = t0 + (t1-t0)*float64(i)/float64(n)
		fs[i] = f(ts[i])
	}
	var out []float64
	for i := 0; i < n; i++ {
		if fs[i] == 0 {
			out = append(out, ts[i])
		} else if fs[i]*fs[i+1] < 0 {
			out = append(out, root(f, ts[i], ts[i+1], fs[i], fs[i+1]))
		}
		if i == 0 {
			continue
		}
		a, b, d := fs[i-1], fs[i], fs[i+1]
		if a*b <= 0 || b*d <= 0 || math.Abs(b) > math.Abs(a) || math.Abs(b) > math.Abs(d) {
			continue
		}
		sign := math.Copysign(1, b)
		t := lowest(func(t float64) float64 { return sign * f(t) }, ts[i-1], ts[i+1])
		switch v := sign * f(t); {
		case v < -Tolerance/10:
			// Two crossings between samples.
			out = append(out, root(f, ts[i-1], t, a, f(t)), root(f, t, ts[i+1], f(t), d))
		case v < Tolerance:
			out = append(out, t)
		}
	}
	return out
}

// root closes in on a change of sign of f between a and b.
func root(f func(float64) float64, a, b, fa, fb float64) float64 {
	for i := 0; i < 100 && b-a > 1e-15*(1+math.Abs(a)); i++ {
		// Illinois' rule, with a halving now and then against creeping.
		m := b - fb*(b-a)/(fb-fa)
		if i%3 == 2 || !(m > a && m < b) {
			m = (a + b) / 2
		}
		fm := f(m)
		switch {
		case fm == 0:
			return m
		case fm*fb < 0:
			a, fa = m, fm
		default:
			b, fb = m, fm
		}
	}
	return (a + b) / 2
}
