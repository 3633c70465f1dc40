package solid

import (
	"fmt"
	"math"
)

// Check tells whether the outline can bound a sheet: closed, of finite size,
// with no span or radius below MinSize, nowhere touching or crossing itself. Faults name
// the span, counted from 1: "path.3".
func (o Outline) Check() error {
	if len(o) == 0 {
		return fault("path", "outline has no spans")
	}
	if len(o) > MaxSpans {
		return fault("path", fmt.Sprintf("outline has %d spans, at most %d are read", len(o), MaxSpans))
	}
	var f Faults
	for i, s := range o {
		if msg := s.wrong(); msg != "" {
			f = append(f, Fault{spanField(i), msg})
		}
		next := o[(i+1)%len(o)]
		if gap := s.To.dist(next.From); f == nil && gap > Tolerance/10 {
			f = append(f, Fault{spanField(i), fmt.Sprintf("ends %s away from where the next one begins", mm(gap))})
		}
	}
	if f != nil {
		return f
	}
	if f := o.crossings(); f != nil {
		return f
	}
	if math.Abs(o.area()) < Tolerance {
		return fault("path", "outline encloses no area")
	}
	return nil
}

func spanField(i int) string { return fmt.Sprintf("path.%d", i+1) }

// wrong returns what is wrong with the span by itself, "" if nothing.
func (s Span) wrong() string {
	points := []Vec2{s.From, s.To}
	if s.Arc {
		points = append(points, s.Centre)
	}
	for _, p := range points {
		if !(math.Abs(p.X) <= MaxSize && math.Abs(p.Y) <= MaxSize) {
			return fmt.Sprintf("has a point outside ± %s", mm(MaxSize))
		}
	}
	if !s.Arc {
		if s.From.dist(s.To) < MinSize {
			return "has no length"
		}
		return ""
	}
	r, r2 := s.radius(), s.To.dist(s.Centre)
	switch {
	case r < MinSize:
		return "is an arc without radius"
	case r > 10*MaxSize:
		return fmt.Sprintf("is an arc of radius %s, more than %s", mm(r), mm(10*MaxSize))
	case math.Abs(r-r2) > Tolerance:
		return fmt.Sprintf("is no arc: its ends are %s and %s from its centre", mm(r), mm(r2))
	case s.length() < MinSize:
		return "has no length"
	}
	return ""
}

// bounds returns the span's lowest and highest corner.
func (s Span) bounds() (lo, hi Vec2) { return Outline{s}.bounds() }

// crossings returns a fault for each pair of spans that touch elsewhere than at
// a shared end.
func (o Outline) crossings() Faults {
	return crossingsOf([]Outline{o}, func(_, i int) string { return spanField(i) })
}

// crossingsOf looks for contacts among all spans of several outlines. It stops
// at ten: one slip of the pen crosses many spans.
func crossingsOf(loops []Outline, field func(loop, span int) string) Faults {
	type item struct {
		Span
		loop, i int
		lo, hi  Vec2
	}
	var all []item
	for l, o := range loops {
		for i, s := range o {
			lo, hi := s.bounds()
			all = append(all, item{s, l, i, lo, hi})
		}
	}
	var f Faults
	for i := range all {
		a := &all[i]
		for j := i + 1; j < len(all); j++ {
			b := &all[j]
			if a.lo.X > b.hi.X+Tolerance || b.lo.X > a.hi.X+Tolerance || a.lo.Y > b.hi.Y+Tolerance || b.lo.Y > a.hi.Y+Tolerance {
				continue
			}
			n := len(loops[a.loop])
			var joints []Vec2
			if a.loop == b.loop && b.i == a.i+1 {
				joints = append(joints, a.To)
			}
			if a.loop == b.loop && a.i == 0 && b.i == n-1 {
				joints = append(joints, a.From)
			}
			p, hit := a.meets(b.Span, joints)
			if !hit {
				continue
			}
			f = append(f, Fault{field(b.loop, b.i), fmt.Sprintf("meets span %d at %.6g, %.6g mm", a.i+1, p.X, p.Y)})
			if len(f) == 10 {
				return f
			}
		}
	}
	return f
}

// meets returns a point where two spans touch that is none of the joints.
func (s Span) meets(b Span, joints []Vec2) (Vec2, bool) {
	hits := s.hits(b)
	// Ends lying on the other span also show overlaps, where the lines or
	// circles are one and have no crossings.
	for _, p := range []Vec2{b.From, b.To} {
		if s.off(p) < Tolerance {
			hits = append(hits, p)
		}
	}
	for _, p := range []Vec2{s.From, s.To} {
		if b.off(p) < Tolerance {
			hits = append(hits, p)
		}
	}
	// Two arcs of one circle between the same two ends overlap without either
	// holding a further end of the other.
	if mid, _ := s.at(0.5); b.off(mid) < Tolerance {
		hits = append(hits, mid)
	}
hits:
	for _, p := range hits {
		for _, j := range joints {
			// Spans that run on tangentially stay near each other for a while.
			if p.dist(j) < 100*Tolerance {
				continue hits
			}
		}
		return p, true
	}
	return Vec2{}, false
}

// off returns how far p lies off the span; infinite beyond its ends.
func (s Span) off(p Vec2) float64 {
	if !s.holds(p) {
		return math.Inf(1)
	}
	if s.Arc {
		return math.Abs(p.dist(s.Centre) - s.radius())
	}
	d := s.To.sub(s.From)
	return math.Abs(d.cross(p.sub(s.From))) / d.len()
}

// hits returns the points where the lines or circles of two spans cross, within
// both spans.
func (s Span) hits(b Span) []Vec2 {
	var found []Vec2
	switch {
	case !s.Arc && !b.Arc:
		d, e := s.To.sub(s.From), b.To.sub(b.From)
		k := d.cross(e)
		if math.Abs(k) < 1e-14*d.len()*e.len() {
			return nil
		}
		found = []Vec2{s.From.along(d, b.From.sub(s.From).cross(e)/k)}
	case s.Arc && b.Arc:
		found = circleHits(s.Centre, s.radius(), b.Centre, b.radius())
	case s.Arc:
		return b.hits(s)
	default:
		d := s.To.sub(s.From)
		w := s.From.sub(b.Centre)
		r := b.radius()
		for _, t := range quadraticRoots(d.dot(d), d.dot(w), w.dot(w)-r*r) {
			found = append(found, s.From.along(d, t))
		}
	}
	kept := found[:0]
	for _, p := range found {
		if s.holds(p) && b.holds(p) {
			kept = append(kept, p)
		}
	}
	return kept
}

// circleHits returns where two circles cross.
func circleHits(c Vec2, r float64, d Vec2, q float64) []Vec2 {
	e := d.sub(c)
	l := e.len()
	if l < 1e-12 {
		return nil
	}
	x := (l*l + r*r - q*q) / (2 * l)
	h := r*r - x*x
	if h < -Tolerance*r {
		return nil
	}
	h = math.Sqrt(math.Max(0, h))
	foot := c.along(e, x/l)
	n := Vec2{-e.Y / l, e.X / l}
	return []Vec2{foot.along(n, h), foot.along(n, -h)}
}
