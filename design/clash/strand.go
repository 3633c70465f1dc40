package clash

import (
	"math"

	"plansheaf/design/solid"
)

// pierced (mm) is how much of a strand's middle line may lie in a body: where a place
// that it passes lies on a face, not in a hole.
const pierced = 0.5

// strands finds bodies through which strands run straight. Those that a strand begins,
// passes or ends at do not count: it may enter them anywhere.
func (s *search) strands() {
	if len(s.l.Strands()) == 0 {
		return
	}
	for _, c := range s.l.Strands() {
		use := c.Instance.Use
		stops := []string{below(c.Instance.Parent, use.From.Text), below(c.Instance.Parent, use.To.Text)}
		for _, w := range use.Via {
			stops = append(stops, below(c.Instance.Parent, w.Text))
		}
		for leg := range len(c.Points) - 1 {
			from, to := c.Points[leg], c.Points[leg+1]
			line := solid.EmptyBox().Add(from).Add(to)
			for _, b := range s.bodies {
				if apart(line, b.box) > 0 || s.stops(b, stops) {
					continue
				}
				if long, at := inside(b, from, to); long > pierced {
					s.report.Strands = append(s.report.Strands, Crossed{c, leg, b, long, at})
				}
			}
		}
	}
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
