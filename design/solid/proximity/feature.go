package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// A feature is a face, an edge or the tip of a cone, in the axes of the search: a
// point of it for every value of up to two parameters.
type feature struct {
	surface solid.Surface // of a face
	curve   solid.Curve   // of an edge
	tip     solid.Vec
	size    int // parameters: 2 of a face, 1 of an edge, 0 of a tip
	// t0 and t1 bound an edge's parameter, unless it is a whole ring.
	t0, t1 float64
	ring   bool
	// holds tells whether a point on a face's surface lies within it.
	holds func(p solid.Vec) bool
}

// jet is a point of a feature with its derivatives by the parameters.
type jet struct {
	p    solid.Vec
	d    [2]solid.Vec
	dd   [2][2]solid.Vec
	size int
}

// at returns the jet at parameters x.
func (f *feature) at(x [2]float64) jet {
	switch {
	case f.surface != nil:
		return surfaceJet(f.surface, x[0], x[1])
	case f.curve != nil:
		return curveJet(f.curve, x[0])
	}
	return jet{p: f.tip}
}

func surfaceJet(s solid.Surface, u, v float64) jet {
	j := jet{p: s.Point(u, v), size: 2}
	sin, cos := math.Sincos(u)
	switch s := s.(type) {
	case solid.Plane:
		j.d = [2]solid.Vec{s.X, s.Y}
	case solid.Cylinder:
		out := s.X.Mul(s.R * cos).Add(s.Y.Mul(s.R * sin))
		j.d = [2]solid.Vec{s.Y.Mul(s.R * cos).Sub(s.X.Mul(s.R * sin)), s.Z}
		j.dd[0][0] = out.Mul(-1)
	case solid.Cone:
		out := s.X.Mul(s.Slope * cos).Add(s.Y.Mul(s.Slope * sin))
		round := s.Y.Mul(s.Slope * cos).Sub(s.X.Mul(s.Slope * sin))
		j.d = [2]solid.Vec{round.Mul(v), s.Z.Add(out)}
		j.dd[0][0], j.dd[0][1], j.dd[1][0] = out.Mul(-v), round, round
	default:
		j.differ(s, u, v)
	}
	return j
}

// differ fills in derivatives of any surface by differences.
func (j *jet) differ(s solid.Surface, u, v float64) {
	const h = 1e-4
	pu, mu, pv, mv := s.Point(u+h, v), s.Point(u-h, v), s.Point(u, v+h), s.Point(u, v-h)
	j.d = [2]solid.Vec{pu.Sub(mu).Mul(0.5 / h), pv.Sub(mv).Mul(0.5 / h)}
	twice := j.p.Mul(2)
	j.dd[0][0], j.dd[1][1] = pu.Add(mu).Sub(twice).Mul(1/h/h), pv.Add(mv).Sub(twice).Mul(1/h/h)
	mixed := s.Point(u+h, v+h).Sub(s.Point(u+h, v-h)).Sub(s.Point(u-h, v+h)).Add(s.Point(u-h, v-h)).Mul(0.25 / h / h)
	j.dd[0][1], j.dd[1][0] = mixed, mixed
}

func curveJet(c solid.Curve, t float64) jet {
	j := jet{p: c.Point(t), size: 1}
	j.d[0] = c.Tangent(t)
	switch c := c.(type) {
	case solid.Line:
	case solid.Circle:
		j.dd[0][0] = c.O.Sub(j.p)
	case solid.Ellipse:
		j.dd[0][0] = c.O.Sub(j.p)
	default:
		const h = 1e-5
		j.dd[0][0] = c.Tangent(t + h).Sub(c.Tangent(t - h)).Mul(0.5 / h)
	}
	return j
}

// start returns the parameters of the feature's point near p.
func (f *feature) start(p solid.Vec) (x [2]float64) {
	switch {
	case f.surface != nil:
		x[0], x[1] = f.surface.Param(p)
	case f.curve != nil:
		x[0] = edgeParam(f.curve, f.t0, f.t1, p)
	}
	return x
}

// clamp keeps an edge's parameter on the edge.
func (f *feature) clamp(x [2]float64) [2]float64 {
	if f.curve != nil && !f.ring {
		x[0] = max(f.t0, min(f.t1, x[0]))
	}
	return x
}

// edgeParam returns the parameter within t0 to t1 of the point of an edge near p.
func edgeParam(c solid.Curve, t0, t1 float64, p solid.Vec) float64 {
	t := c.Param(p)
	if period := c.Period(); period > 0 {
		t += period * math.Ceil((t0-t)/period)
	}
	if t >= t0 && t <= t1 {
		return t
	}
	if c.Point(t0).Dist(p) <= c.Point(t1).Dist(p) {
		return t0
	}
	return t1
}

// features lists a face, its edges and its tip under a placement.
func features(s *solid.Solid, face int, place solid.Placement, back solid.Placement) []feature {
	f := &s.Faces[face]
	holds := func(p solid.Vec) bool {
		q := back.Point(p)
		// Beyond a cone's tip its parameters go on to a second cone.
		return math.Abs(f.Surface.Off(q)) < solid.Tolerance && s.FaceHolds(face, q)
	}
	out := []feature{{surface: f.Surface.Placed(place), size: 2, holds: holds}}
	for _, l := range f.Loops {
		for _, u := range l {
			e := &s.Edges[u.Edge]
			out = append(out, feature{curve: e.Curve.Placed(place), size: 1, t0: e.T0, t1: e.T1, ring: e.Closed()})
		}
	}
	if c, ok := f.Surface.(solid.Cone); ok && f.Box().Grow(solid.Tolerance).Holds(c.O) && s.Where(c.O) == solid.OnFace {
		out = append(out, feature{tip: place.Point(c.O)})
	}
	return out
}

// off returns how far a feature's point near p is from p.
func (f *feature) off(p solid.Vec) float64 { return f.at(f.start(p)).p.Dist(p) }

// approach brings a point of f and one of g to where they are nearest, from
// places near there: Newton steps on half the square of their distance, held
// back as far as is needed for it to sink. ok is false when that place is off a
// face.
func approach(f, g *feature, p, q solid.Vec) (x, y solid.Vec, ok bool) {
	s, t := f.clamp(f.start(p)), g.clamp(g.start(q))
	a, b := f.at(s), g.at(t)
	half := func(a, b *jet) float64 { r := a.p.Sub(b.p); return r.Dot(r) / 2 }
	best := half(&a, &b)
	hold := 1e-9
	const most = 60
	for range most {
		m, grad := system(&a, &b)
		n := a.size + b.size
		var step [4]float64
		for i := 0; i < n; i++ {
			// A bound that the step would cross is kept to.
			if i == 0 && f.stuck(s[0], -grad[0]) || i == a.size && g.stuck(t[0], -grad[i]) {
				for k := range m[i] {
					m[i][k], m[k][i] = 0, 0
				}
				m[i][i], grad[i] = 1, 0
			}
		}
		lower := false
		moved := 0.0
		for tries := 0; tries < 12 && !lower; tries++ {
			step = solve(m, grad, n, hold)
			s1, t1 := s, t
			for i := 0; i < n; i++ {
				if i < a.size {
					s1[i] += step[i]
				} else {
					t1[i-a.size] += step[i]
				}
			}
			s1, t1 = f.clamp(s1), g.clamp(t1)
			a1, b1 := f.at(s1), g.at(t1)
			if v := half(&a1, &b1); v < best {
				moved = a1.p.Dist(a.p) + b1.p.Dist(b.p)
				best, s, t, a, b, lower = v, s1, t1, a1, b1, true
				hold = max(hold/10, 1e-12)
			} else {
				hold *= 10
			}
		}
		if !lower || moved < 1e-10 {
			break
		}
	}
	ok = (f.holds == nil || f.holds(a.p)) && (g.holds == nil || g.holds(b.p))
	return a.p, b.p, ok
}

// stuck tells whether an edge's parameter is at an end that a step would leave.
func (f *feature) stuck(t, step float64) bool {
	return f.curve != nil && !f.ring && (t <= f.t0 && step < 0 || t >= f.t1 && step > 0)
}

// system returns the second and first derivatives of half the square of the
// distance by all parameters, a's before b's.
func system(a, b *jet) (m [4][4]float64, grad [4]float64) {
	r := a.p.Sub(b.p)
	n := a.size
	for i := 0; i < a.size; i++ {
		grad[i] = a.d[i].Dot(r)
		for k := 0; k < a.size; k++ {
			m[i][k] = a.d[i].Dot(a.d[k]) + r.Dot(a.dd[i][k])
		}
		for k := 0; k < b.size; k++ {
			m[i][n+k] = -a.d[i].Dot(b.d[k])
			m[n+k][i] = m[i][n+k]
		}
	}
	for i := 0; i < b.size; i++ {
		grad[n+i] = -b.d[i].Dot(r)
		for k := 0; k < b.size; k++ {
			m[n+i][n+k] = b.d[i].Dot(b.d[k]) - r.Dot(b.dd[i][k])
		}
	}
	return m, grad
}

// solve returns the step down: (m + hold·diagonal)·step = -grad, with the
// diagonal made larger until it leads down in every direction.
func solve(m [4][4]float64, grad [4]float64, n int, hold float64) (step [4]float64) {
	for range 40 {
		l := m
		down := true
		for i := 0; i < n; i++ {
			l[i][i] += hold * (math.Abs(m[i][i]) + 1e-9)
		}
		// Cholesky, which fails where a direction leads up.
		for i := 0; i < n && down; i++ {
			for k := 0; k <= i; k++ {
				sum := l[i][k]
				for j := 0; j < k; j++ {
					sum -= l[i][j] * l[k][j]
				}
				if i == k {
					if down = sum > 1e-14*(math.Abs(m[i][i])+1e-9); !down {
						break
					}
					l[i][i] = math.Sqrt(sum)
				} else {
					l[i][k] = sum / l[k][k]
				}
			}
		}
		if !down {
			hold = max(1e-9, hold*10)
			continue
		}
		for i := 0; i < n; i++ {
			sum := -grad[i]
			for k := 0; k < i; k++ {
				sum -= l[i][k] * step[k]
			}
			step[i] = sum / l[i][i]
		}
		for i := n - 1; i >= 0; i-- {
			sum := step[i]
			for k := i + 1; k < n; k++ {
				sum -= l[k][i] * step[k]
			}
			step[i] = sum / l[i][i]
		}
		return step
	}
	return step
}
