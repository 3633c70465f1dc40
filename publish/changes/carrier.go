package changes

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// A carrier is the endless line, or the whole ellipse, that drawn curves lie on. Two
// drawings may cut the same edge into pieces at different places; on its carrier each
// piece is an interval, and intervals can be compared.
type carrier struct {
	from     picture.Point // of a line: the foot of the origin
	dir      picture.Point // of a line
	arc      picture.Arc   // of an ellipse
	round    bool
	old, new []interval
}

type interval struct{ a, b float64 }

// grain is how finely carriers are told apart, mm.
const grain = 1e-3

// onto is the carrier's key of a curve and the curve's intervals on it; ok is false for
// curves that lie on none.
func onto(c picture.Curve) (key string, on carrier, at []interval, ok bool) {
	cell := func(x float64) int64 { return int64(math.Round(x / grain)) }
	switch c := c.(type) {
	case picture.Line:
		dx, dy := c.B.X-c.A.X, c.B.Y-c.A.Y
		length := math.Hypot(dx, dy)
		if length < grain {
			return "", carrier{}, nil, false
		}
		dx, dy = dx/length, dy/length
		if dx < -1e-9 || math.Abs(dx) <= 1e-9 && dy < 0 {
			dx, dy = -dx, -dy
		}
		off := c.A.X*dy - c.A.Y*dx
		on = carrier{from: picture.Point{X: off * dy, Y: -off * dx}, dir: picture.Point{X: dx, Y: dy}}
		along := func(p picture.Point) float64 { return p.X*dx + p.Y*dy }
		a, b := along(c.A), along(c.B)
		return fmt.Sprintf("line %d %d %d", int64(math.Round(dx*1e6)), int64(math.Round(dy*1e6)), cell(off)), on, []interval{{min(a, b), max(a, b)}}, true
	case picture.Arc:
		if c.RX < grain || c.RY < grain {
			return "", carrier{}, nil, false
		}
		tilt := c.Tilt
		start := c.Start
		if math.Abs(c.RX-c.RY) < grain { // a circle has no tilt
			start, tilt = start+tilt, 0
		}
		on = carrier{round: true, arc: picture.Arc{Centre: c.Centre, RX: c.RX, RY: c.RY, Tilt: tilt}}
		key = fmt.Sprintf("arc %d %d %d %d %d", cell(c.Centre.X), cell(c.Centre.Y), cell(c.RX), cell(c.RY), int64(math.Round(tilt*1e6)))
		return key, on, turns(start, c.Sweep), true
	}
	return "", carrier{}, nil, false
}

// turns is a sweep as intervals within one turn from 0.
func turns(start, sweep float64) []interval {
	if sweep < 0 {
		start, sweep = start+sweep, -sweep
	}
	if sweep >= 2*math.Pi-1e-9 {
		return []interval{{0, 2 * math.Pi}}
	}
	start = math.Mod(start, 2*math.Pi)
	if start < 0 {
		start += 2 * math.Pi
	}
	if end := start + sweep; end > 2*math.Pi {
		return []interval{{start, 2 * math.Pi}, {0, end - 2*math.Pi}}
	}
	return []interval{{start, start + sweep}}
}

// curve is an interval of the carrier as a curve.
func (c *carrier) curve(at interval) picture.Curve {
	if c.round {
		arc := c.arc
		arc.Start, arc.Sweep = at.a, at.b-at.a
		return arc
	}
	point := func(t float64) picture.Point {
		return picture.Point{X: c.from.X + t*c.dir.X, Y: c.from.Y + t*c.dir.Y}
	}
	return picture.Line{A: point(at.a), B: point(at.b)}
}

// finest is the shortest interval that is drawn, in a carrier's own measure.
func (c *carrier) finest() float64 {
	if c.round {
		return grain / max(c.arc.RX, c.arc.RY)
	}
	return grain
}

// compared sorts the curves of two drawings into those that only the old one has, that
// only the new one has, and that both have.
func compared(old, new []picture.Curve) (went, came, stays []picture.Curve) {
	known := map[string]*carrier{}
	var order []string
	loose := map[string][2]int{}
	curves := map[string]picture.Curve{}
	var looseOrder []string
	take := func(list []picture.Curve, side int) {
		for _, c := range list {
			key, on, at, ok := onto(c)
			if !ok {
				from, to := c.Ends()
				key = fmt.Sprintf("%T %.3f %.3f %.3f %.3f %.3f", c, from.X, from.Y, to.X, to.Y, c.Length())
				n, seen := loose[key]
				if !seen {
					looseOrder = append(looseOrder, key)
					curves[key] = c
				}
				n[side]++
				loose[key] = n
				continue
			}
			if known[key] == nil {
				known[key] = &on
				order = append(order, key)
			}
			if side == 0 {
				known[key].old = append(known[key].old, at...)
			} else {
				known[key].new = append(known[key].new, at...)
			}
		}
	}
	take(old, 0)
	take(new, 1)
	for _, key := range order {
		c := known[key]
		was, is := merged(c.old), merged(c.new)
		both := common(was, is)
		add := func(to *[]picture.Curve, list []interval) {
			for _, at := range list {
				if at.b-at.a > c.finest() {
					*to = append(*to, c.curve(at))
				}
			}
		}
		add(&went, without(was, both))
		add(&came, without(is, both))
		add(&stays, both)
	}
	for _, key := range looseOrder {
		switch n := loose[key]; {
		case n[0] > 0 && n[1] > 0:
			stays = append(stays, curves[key])
		case n[0] > 0:
			went = append(went, curves[key])
		default:
			came = append(came, curves[key])
		}
	}
	return went, came, stays
}

// merged are intervals in order, those that touch made one.
func merged(list []interval) []interval {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b interval) int {
		switch {
		case a.a < b.a:
			return -1
		case a.a > b.a:
			return 1
		}
		return 0
	})
	var out []interval
	for _, at := range list {
		if n := len(out); n > 0 && at.a <= out[n-1].b+1e-9 {
			out[n-1].b = max(out[n-1].b, at.b)
			continue
		}
		out = append(out, at)
	}
	return out
}

// common is where both lists of merged intervals are.
func common(a, b []interval) []interval {
	var out []interval
	for i, j := 0, 0; i < len(a) && j < len(b); {
		if low, high := max(a[i].a, b[j].a), min(a[i].b, b[j].b); high > low {
			out = append(out, interval{low, high})
		}
		if a[i].b < b[j].b {
			i++
		} else {
			j++
		}
	}
	return out
}

// without is where the first list is and the second is not; both are merged.
func without(a, b []interval) []interval {
	var out []interval
	for _, at := range a {
		from := at.a
		for _, hole := range b {
			if hole.b <= from || hole.a >= at.b {
				continue
			}
			if hole.a > from {
				out = append(out, interval{from, hole.a})
			}
			from = max(from, hole.b)
		}
		if from < at.b {
			out = append(out, interval{from, at.b})
		}
	}
	return out
}
