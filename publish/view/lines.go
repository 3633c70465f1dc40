package view

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// mark is a stretch of line on its way onto the paper, given by a range of a
// carrier: a line, a circle or an ellipse that other marks may lie on too.
type mark struct {
	curve    picture.Curve // line or arc, nil for free ones
	chain    []picture.Curve
	from, to float64 // mm along a line, radians along an arc
	visible  bool
	kind     Kind
	body     int
	faces    []string
	order    int     // of the item
	depth    float64 // nearness to the eye, of the middle
}

// lines turns what was found into lines, each place drawn once.
func (st *stage) lines(bodies []Body, found [][]stretch, opt *Options) []Line {
	var marks []mark
	for i := range st.items {
		for _, s := range found[i] {
			if !s.visible && opt.VisibleOnly {
				continue
			}
			marks = append(marks, st.mark(i, s, bodies, opt))
		}
	}
	marks = mergeAll(marks)
	slices.SortStableFunc(marks, func(a, b mark) int {
		return cmp.Or(cmp.Compare(a.body, b.body), seenFirst(&a, &b), cmp.Compare(a.order, b.order), cmp.Compare(a.from, b.from))
	})
	out := make([]Line, 0, len(marks))
	for _, m := range marks {
		curves := m.chain
		if m.curve != nil {
			curves = []picture.Curve{m.part()}
		}
		out = append(out, Line{Curves: curves, Visible: m.visible, Kind: m.kind, Body: m.body, Tag: bodies[m.body].Tag, Faces: m.faces})
	}
	return out
}

// seenFirst sorts visible marks before hidden ones.
func seenFirst(a, b *mark) int {
	switch {
	case a.visible == b.visible:
		return 0
	case a.visible:
		return -1
	}
	return 1
}

// mark draws a stretch of an item.
func (st *stage) mark(index int, s stretch, bodies []Body, opt *Options) mark {
	it := &st.items[index]
	m := mark{visible: s.visible, kind: it.kind, body: it.body, order: index, depth: it.at((s.t0 + s.t1) / 2).Z}
	for _, f := range it.faces {
		if f < 0 {
			continue
		}
		if name := bodies[it.body].Solid.Faces[f].Name; name != "" && !slices.Contains(m.faces, name) {
			m.faces = append(m.faces, name)
		}
	}
	switch it.form {
	case straight:
		p, q := it.at(s.t0), it.at(s.t1)
		a, b := paper(p), paper(q)
		if a.X > b.X || a.X == b.X && a.Y > b.Y {
			a, b = b, a
		}
		m.curve, m.to = picture.Line{A: a, B: b}, a.Distance(b)
	case oval:
		m.curve, m.from, m.to = it.arc(s.t0, s.t1)
	default:
		m.chain = it.chords(s.t0, s.t1, opt.Chord)
	}
	return m
}

// paper returns where a point of the view is drawn; zeros come out positive.
func paper(p solid.Vec) picture.Point { return picture.Point{X: 0 + p.X, Y: 0 - p.Y} }

// sameRadius (relative) is how near both half axes of an ellipse come for it to
// be a circle: rounding, not foreshortening that could be seen or measured.
const sameRadius = 1e-9

// arc returns the ellipse of an oval track on the paper, with the longer half
// axis first, and the range of its parameter.
func (k *track) arc(t0, t1 float64) (c picture.Arc, from, to float64) {
	ax, ay, bx, by := k.a.X, -k.a.Y, k.b.X, -k.b.Y
	c.Centre = paper(k.c)
	// Turn a and b until they are at right angles: then they are the half axes.
	dot, diff := ax*bx+ay*by, ax*ax+ay*ay-bx*bx-by*by
	turn := math.Atan2(2*dot, diff) / 2
	size := ax*ax + ay*ay + bx*bx + by*by
	round := math.Hypot(2*dot, diff) <= 2*sameRadius*size
	if round {
		turn = 0
	}
	sin, cos := math.Sincos(turn)
	px, py := ax*cos+bx*sin, ay*cos+by*sin
	qx, qy := bx*cos-ax*sin, by*cos-ay*sin
	sign := 1.0
	if px*qy-py*qx < 0 {
		sign = -1
	}
	from, to = sign*(t0-turn), sign*(t1-turn)
	c.RX, c.RY, c.Tilt = math.Hypot(px, py), math.Hypot(qx, qy), math.Atan2(py, px)
	if round {
		c.RX = math.Sqrt(size / 2)
		c.RY = c.RX
		from, to = from+c.Tilt, to+c.Tilt
		c.Tilt = 0
	}
	if from > to {
		from, to = to, from
	}
	// One ellipse, one tilt: in (-π/2, π/2].
	if c.Tilt > math.Pi/2 || c.Tilt <= -math.Pi/2 {
		c.Tilt -= math.Copysign(math.Pi, c.Tilt)
		from, to = from+math.Pi, to+math.Pi
	}
	back := 2 * math.Pi * math.Floor(from/(2*math.Pi))
	return c, from - back, to - back
}

// part returns the drawn curve of a mark on a line or arc.
func (m *mark) part() picture.Curve {
	switch c := m.curve.(type) {
	case picture.Line:
		l := c.Length()
		if m.from == 0 && m.to == l {
			return c
		}
		d := c.B.Minus(c.A).Times(1 / l)
		return picture.Line{A: c.A.Plus(d.Times(m.from)), B: c.A.Plus(d.Times(m.to))}
	case picture.Arc:
		c.Start, c.Sweep = m.from, math.Min(m.to-m.from, 2*math.Pi)
		return c
	}
	return m.curve
}

// chords draws a free track by chords that lie within tolerance of it.
func (k *track) chords(t0, t1, tolerance float64) []picture.Curve {
	var out []picture.Curve
	var add func(t0, t1 float64, a, b picture.Point, depth int)
	add = func(t0, t1 float64, a, b picture.Point, depth int) {
		mid := (t0 + t1) / 2
		m := paper(k.at(mid))
		off := m.Distance(a.Plus(b).Times(0.5))
		if l := a.Distance(b); l > tolerance {
			d := b.Minus(a).Times(1 / l)
			off = math.Abs(d.X*(m.Y-a.Y) - d.Y*(m.X-a.X))
		}
		// The first two divisions are always made: a curve may cross its chord.
		if depth < 2 || depth < 10 && off > tolerance/2 {
			add(t0, mid, a, m, depth+1)
			add(mid, t1, m, b, depth+1)
			return
		}
		if a != b {
			out = append(out, picture.Line{A: a, B: b})
		}
	}
	add(t0, t1, paper(k.at(t0)), paper(k.at(t1)), 0)
	return out
}
