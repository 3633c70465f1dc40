package clash

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/solid"
)

// pierced (mm) is how much of a strand's middle line may lie in a body: where a place
// that it passes lies on a face, not in a hole.
const pierced = 0.5

// strands finds bodies through which or into which strands run straight, and what it takes
// at least to lead the strand around. Those that a strand begins, passes or ends at do not count:
// it may enter them anywhere.
func (s *search) strands() {
	for _, c := range s.l.Strands() {
		stops := stopsOf(c)
		out := Crossed{Strand: c}
		for leg := range len(c.Points) - 1 {
			d, b := s.around(c.Points[leg], c.Points[leg+1], c.D/2, stops)
			out.add(d, b, leg)
		}
		if out.Body != nil {
			s.report.Strands = append(s.report.Strands, out)
		}
	}
}

// stopsOf are the paths of what a strand begins at, passes and ends at.
func stopsOf(c layout.Strand) []string {
	var out []string
	for _, stop := range c.Stops {
		if stop.Path != "" {
			out = append(out, stop.Path)
		}
	}
	return out
}

// A detour is what stands in the way of one leg of a strand.
type detour struct {
	Body  int // of those that were looked at, what takes most to be led around; -1 for none
	More  float64
	Deep  float64 // how deep the strand is drawn into it, where its middle line keeps off
	Count int     // of bodies that the middle line goes through
	At    solid.Vec
}

// graze counts another detour, around something that the middle line keeps off.
func (d *detour) graze(other detour) {
	if other.Body >= 0 && (d.Body < 0 || other.More > d.More) {
		d.Body, d.More, d.Deep, d.At = other.Body, other.More, other.Deep, other.At
	}
}

// grazes is the detour that a leg takes beside a body, by its number, into which it is
// drawn with less than half of its thickness: it gives way straight from it.
func (s *Store) grazes(number int, b *Body, from, to solid.Vec, r float64) detour {
	off := s.line(from, to, b, r)
	deep := r - off.Gap
	if deep <= Slight || off.Gap == 0 {
		return detour{Body: -1}
	}
	apex := off.At[0].Add(off.At[0].Sub(off.At[1]).Unit().Mul(deep))
	return detour{Body: number, More: apex.Dist(from) + apex.Dist(to) - from.Dist(to), Deep: deep, At: off.At[0]}
}

// add counts the detour of one leg, and the body that takes most to be led around; nil for
// none.
func (c *Crossed) add(d detour, b *Body, leg int) {
	c.Through += d.Count
	if b != nil && (c.Body == nil || d.More > c.most) {
		c.Body, c.Leg, c.At, c.Deep, c.most = b, leg, d.At, d.Deep, d.More
	}
	c.Around += d.More
}

// around is the longest of the detours that a leg takes around the bodies in its way,
// each by the nearest side of the body's box: no way around all of them is shorter.
func (s *search) around(from, to solid.Vec, r float64, stops []string) (d detour, most *Body) {
	line := solid.EmptyBox().Add(from).Add(to)
	var near []*Body
	var shapes []shape
	for _, b := range s.bodies {
		if apart(line, b.box) <= r && !s.stops(b, stops) {
			near, shapes = append(near, b), append(shapes, shape{b.Solid, b.At})
		}
	}
	if len(near) == 0 {
		return d, nil
	}
	d = memo.Sure(s.store.Kept, "what is in the way of a strand", func() detour { return s.store.around(from, to, r, near) }, from, to, r, shapes)
	if d.Body >= 0 {
		most = near[d.Body]
	}
	return d, most
}

// around is the same of the bodies whose boxes are in the way.
func (s *Store) around(from, to solid.Vec, r float64, near []*Body) detour {
	out := detour{Body: -1}
	for i, b := range near {
		long, at := inside(b, from, to)
		if long <= pierced {
			out.graze(s.grazes(i, b, from, to, r))
			continue
		}
		out.Count++
		way := to.Sub(from).Unit()
		if more := aside(b, from, to, at.Add(way.Mul(long/2)), r); out.Body < 0 || more > out.More {
			out.Body, out.More, out.Deep, out.At = i, more, 0, at
		}
	}
	return out
}

// aside is how much longer a leg becomes where it is led past the nearest side of a
// body's box instead of through a place in it.
func aside(b *Body, from, to, middle solid.Vec, r float64) float64 {
	back := b.At.Inverse()
	p, q, m := back.Point(from), back.Point(to), back.Point(middle)
	way, box := q.Sub(p).Unit(), b.Solid.Box()
	best := math.Inf(1)
	for _, side := range []struct {
		out solid.Vec
		far float64
	}{
		{solid.Vec{X: 1}, box.Max.X - m.X}, {solid.Vec{X: -1}, m.X - box.Min.X}, {solid.Vec{Y: 1}, box.Max.Y - m.Y},
		{solid.Vec{Y: -1}, m.Y - box.Min.Y}, {solid.Vec{Z: 1}, box.Max.Z - m.Z}, {solid.Vec{Z: -1}, m.Z - box.Min.Z},
	} {
		across := side.out.Sub(way.Mul(side.out.Dot(way)))
		if l := across.Len(); l > 0.1 { // else the side lies across the leg
			apex := m.Add(across.Mul((math.Max(0, side.far) + r) / (l * l)))
			best = math.Min(best, apex.Dist(p)+apex.Dist(q)-q.Dist(p))
		}
	}
	return best
}

// stops reports whether a body is one of those that a strand names, or a fastener in
// one.
func (s *search) stops(b *Body, stops []string) bool {
	for _, stop := range stops {
		if within(stop, b.Path) || within(b.Path, stop) {
			return true
		}
	}
	return false
}

// inside is how much of a straight line lies in a body, mm, and where that begins.
func inside(b *Body, from, to solid.Vec) (long float64, at solid.Vec) {
	back := b.At.Inverse()
	p, q := back.Point(from), back.Point(to)
	way := q.Sub(p)
	end := way.Len()
	if end < solid.MinSize {
		return 0, from
	}
	start, in := 0.0, false
	hits := b.Solid.Ray(p, way.Unit())
	in = len(hits) > 0 && !hits[0].Enters
	for _, h := range hits {
		if h.Unsure {
			return 0, from // along an edge
		}
		if h.Enters {
			start, in = h.T, true
			continue
		}
		if in && start < end {
			if long == 0 {
				at = from.Add(to.Sub(from).Mul(start / end))
			}
			long += math.Min(h.T, end) - start
		}
		in = false
	}
	return long, at
}
