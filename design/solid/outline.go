package solid

import (
	"fmt"
	"math"
)

// Vec2 is a point in the plane of an outline or a face, in millimetres.
type Vec2 struct{ X, Y float64 }

func (a Vec2) add(b Vec2) Vec2              { return Vec2{a.X + b.X, a.Y + b.Y} }
func (a Vec2) sub(b Vec2) Vec2              { return Vec2{a.X - b.X, a.Y - b.Y} }
func (a Vec2) mul(k float64) Vec2           { return Vec2{a.X * k, a.Y * k} }
func (a Vec2) dot(b Vec2) float64           { return a.X*b.X + a.Y*b.Y }
func (a Vec2) cross(b Vec2) float64         { return a.X*b.Y - a.Y*b.X }
func (a Vec2) len() float64                 { return math.Hypot(a.X, a.Y) }
func (a Vec2) dist(b Vec2) float64          { return a.sub(b).len() }
func (a Vec2) along(d Vec2, t float64) Vec2 { return Vec2{a.X + d.X*t, a.Y + d.Y*t} }

// Span is a straight line or an arc from one point of an outline to the next.
type Span struct {
	From, To Vec2
	// Arc makes it an arc about Centre, anticlockwise unless Clockwise. From
	// equal to To makes it the whole circle.
	Arc       bool
	Centre    Vec2
	Clockwise bool

	// name is the face that the span makes when it is extruded; empty leaves
	// it to the way the face looks.
	name string
}

// Outline is a closed chain of spans: each begins where the one before ends and
// the last ends where the first begins. Either way round is right.
type Outline []Span

// MaxSpans is how many spans an outline may have.
const MaxSpans = 4000

// MinSize is the smallest size that a shape may state, in mm: less is no
// workshop's business and comes near Tolerance.
const MinSize = 1e-3

// MaxSize is the largest size of a part, in mm: beyond it Tolerance no longer
// holds.
const MaxSize = 100000

// RectangleOutline returns the rectangle from 0, 0 to w, h.
func RectangleOutline(w, h float64) Outline {
	return PolygonOutline([]Vec2{{0, 0}, {w, 0}, {w, h}, {0, h}})
}

// CircleOutline returns the circle of diameter d about d/2, d/2, so that its
// lowest corner is at the origin.
func CircleOutline(d float64) Outline { return circleAt(Vec2{d / 2, d / 2}, d/2) }

// circleAt returns a whole circle.
func circleAt(c Vec2, r float64) Outline {
	p := Vec2{c.X + r, c.Y}
	return Outline{{From: p, To: p, Arc: true, Centre: c}}
}

// PolygonOutline returns the closed polygon through the points.
func PolygonOutline(points []Vec2) Outline {
	var o Outline
	for i, p := range points {
		o = append(o, Span{From: p, To: points[(i+1)%len(points)]})
	}
	return o
}

// ArcThrough returns the arc from one point through a second to a third. Points
// in one line give a straight span.
func ArcThrough(from, by, to Vec2) Span {
	a, b := by.sub(from), to.sub(from)
	k := 2 * a.cross(b)
	if math.Abs(k) < 1e-12 {
		return Span{From: from, To: to}
	}
	c := Vec2{b.Y*a.dot(a) - a.Y*b.dot(b), a.X*b.dot(b) - b.X*a.dot(a)}.mul(1 / k)
	return Span{From: from, To: to, Arc: true, Centre: from.add(c), Clockwise: k < 0}
}

// ArcOfRadius returns the arc of radius r between two points, the shorter one
// unless long, turning anticlockwise unless clockwise. ok is false when the
// points are further apart than twice the radius, or the same.
func ArcOfRadius(from, to Vec2, r float64, clockwise, long bool) (s Span, ok bool) {
	d := to.sub(from)
	half := d.len() / 2
	if half < Tolerance || half > r+Tolerance {
		return Span{}, false
	}
	h := math.Sqrt(math.Max(0, r*r-half*half))
	left := Vec2{-d.Y, d.X}.mul(1 / (2 * half))
	if clockwise != long {
		h = -h
	}
	return Span{From: from, To: to, Arc: true, Centre: from.add(to).mul(0.5).along(left, h), Clockwise: clockwise}, true
}

// radius returns the arc's radius.
func (s Span) radius() float64 { return s.From.dist(s.Centre) }

// sweep returns start angle and signed angle of an arc.
func (s Span) sweep() (start, angle float64) {
	a, b := s.From.sub(s.Centre), s.To.sub(s.Centre)
	start = math.Atan2(a.Y, a.X)
	if s.From.dist(s.To) < Tolerance/100 {
		angle = 2 * math.Pi
	} else {
		angle = math.Atan2(a.cross(b), a.dot(b))
		if s.Clockwise {
			angle = -angle
		}
		if angle <= 0 {
			angle += 2 * math.Pi
		}
	}
	if s.Clockwise {
		angle = -angle
	}
	return start, angle
}

// at returns the point at share k of the span and the direction it runs there,
// of length one.
func (s Span) at(k float64) (p, dir Vec2) {
	if !s.Arc {
		d := s.To.sub(s.From)
		return s.From.along(d, k), d.mul(1 / d.len())
	}
	start, angle := s.sweep()
	sin, cos := math.Sincos(start + angle*k)
	p = Vec2{s.Centre.X + s.radius()*cos, s.Centre.Y + s.radius()*sin}
	switch k { // the ends are exactly what they were given as
	case 0:
		p = s.From
	case 1:
		p = s.To
	}
	if angle < 0 {
		return p, Vec2{sin, -cos}
	}
	return p, Vec2{-sin, cos}
}

// length returns the span's length.
func (s Span) length() float64 {
	if !s.Arc {
		return s.From.dist(s.To)
	}
	_, angle := s.sweep()
	return s.radius() * math.Abs(angle)
}

// turnedBack returns the span run the other way.
func (s Span) turnedBack() Span {
	s.From, s.To = s.To, s.From
	s.Clockwise = s.Arc && !s.Clockwise
	return s
}

// turnedBack returns the outline run the other way round.
func (o Outline) turnedBack() Outline {
	r := make(Outline, len(o))
	for i, s := range o {
		r[len(o)-1-i] = s.turnedBack()
	}
	return r
}

// area returns the signed area, positive when the outline runs anticlockwise.
func (o Outline) area() float64 {
	var a float64
	for _, s := range o {
		a += s.From.cross(s.To) / 2
		if s.Arc {
			_, angle := s.sweep()
			r := s.radius()
			a += r * r * (angle - math.Sin(angle)) / 2
		}
	}
	return a
}

// anticlockwise returns the outline with its inside on the left.
func (o Outline) anticlockwise() Outline {
	if o.area() < 0 {
		return o.turnedBack()
	}
	return o
}

// Lowest returns the lowest corner of the outline's box, mm: what building puts at
// the origin.
func (o Outline) Lowest() Vec2 {
	low, _ := o.bounds()
	return low
}

// bounds returns the exact lowest and highest corner.
func (o Outline) bounds() (lo, hi Vec2) {
	lo, hi = Vec2{math.Inf(1), math.Inf(1)}, Vec2{math.Inf(-1), math.Inf(-1)}
	add := func(p Vec2) {
		lo = Vec2{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Vec2{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	for _, s := range o {
		add(s.From)
		add(s.To)
		if !s.Arc {
			continue
		}
		r := s.radius()
		for _, d := range []Vec2{{r, 0}, {0, r}, {-r, 0}, {0, -r}} {
			if p := s.Centre.add(d); s.holds(p) {
				add(p)
			}
		}
	}
	return lo, hi
}

// holds tells whether a point of the span's line or circle lies within its ends.
func (s Span) holds(p Vec2) bool {
	if p.dist(s.From) < Tolerance || p.dist(s.To) < Tolerance {
		return true
	}
	if !s.Arc {
		d := s.To.sub(s.From)
		t := p.sub(s.From).dot(d)
		return t > 0 && t < d.dot(d)
	}
	_, angle := s.sweep()
	a, b := s.From.sub(s.Centre), p.sub(s.Centre)
	at := math.Atan2(a.cross(b), a.dot(b))
	if angle < 0 {
		at, angle = -at, -angle
	}
	if at < 0 {
		at += 2 * math.Pi
	}
	return at < angle
}

// moved returns the outline moved by d.
func (o Outline) moved(d Vec2) Outline {
	r := make(Outline, len(o))
	for i, s := range o {
		s.From, s.To, s.Centre = s.From.add(d), s.To.add(d), s.Centre.add(d)
		r[i] = s
	}
	return r
}

// swapped returns the outline with x and y exchanged.
func (o Outline) swapped() Outline {
	r := make(Outline, len(o))
	for i, s := range o {
		swap := func(p Vec2) Vec2 { return Vec2{p.Y, p.X} }
		s.From, s.To, s.Centre = swap(s.From), swap(s.To), swap(s.Centre)
		s.Clockwise = s.Arc && !s.Clockwise
		r[i] = s
	}
	return r
}

// Rounded returns the outline with every corner between two straight spans
// rounded by radius r, mm. It fails where a span is too short for that.
func (o Outline) Rounded(r float64) (Outline, error) { return o.cornered(r, true) }

// Chamfered returns the outline with every corner between two straight spans
// cut off so that c, mm, goes from each side. It fails where a span is too
// short for that.
func (o Outline) Chamfered(c float64) (Outline, error) { return o.cornered(c, false) }

func (o Outline) cornered(size float64, round bool) (Outline, error) {
	if size == 0 {
		return o, nil
	}
	if !(size >= MinSize) || size > MaxSize {
		return nil, fault("corners", fmt.Sprintf("corner size is %s, it must be at least %s", mm(size), mm(MinSize)))
	}
	n := len(o)
	cut := make([]float64, n) // how much goes from both sides of the corner before span i
	for i := range o {
		prev := o[(i+n-1)%n]
		if o[i].Arc || prev.Arc {
			continue
		}
		_, a := prev.at(1)
		_, b := o[i].at(0)
		turn := math.Abs(math.Atan2(a.cross(b), a.dot(b)))
		if turn < 1e-9 {
			continue
		}
		cut[i] = size
		if round {
			cut[i] = size * math.Tan(turn/2)
		}
	}
	var out Outline
	for i, s := range o {
		next := (i + 1) % n
		length := s.length()
		if cut[i]+cut[next] > length+Tolerance {
			return nil, fault("corners", fmt.Sprintf("side %d is %s long, its corners need %s", i+1, mm(length), mm(cut[i]+cut[next])))
		}
		_, d := s.at(0)
		from, to := s.From.along(d, cut[i]), s.To.along(d, -cut[next])
		if s.Arc {
			from, to = s.From, s.To
		}
		if cut[i]+cut[next] < length-Tolerance || s.Arc {
			out = append(out, Span{From: from, To: to, Arc: s.Arc, Centre: s.Centre, Clockwise: s.Clockwise, name: s.name})
		} else if cut[i] > 0 && len(out) > 0 {
			out[len(out)-1].To = from
		}
		if cut[next] == 0 {
			continue
		}
		_, e := o[next].at(0)
		corner := Span{From: to, To: o[next].From.along(e, cut[next])}
		if round {
			corner.Arc, corner.Clockwise = true, d.cross(e) < 0
			side := Vec2{-d.Y, d.X}
			if corner.Clockwise {
				side = side.mul(-1)
			}
			corner.Centre = to.along(side, size)
		}
		out = append(out, corner)
	}
	// The seam between the last and the first span.
	out[0].From = out[len(out)-1].To
	return out, nil
}

// mm prints a length for a message.
func mm(v float64) string { return fmt.Sprintf("%.6g mm", v) }
