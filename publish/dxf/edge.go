package dxf

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// A spot is a place rounded so that places a rounding apart are the same one.
type spot struct{ x, y int64 }

// spotSize, mm, and spotShift, which keeps sizes that people choose off the borders
// between spots.
const (
	spotSize  = 1e-4
	spotShift = 0.3141592653
)

func spotOf(p point) spot {
	return spot{int64(math.Floor(p.x/spotSize + spotShift)), int64(math.Floor(p.y/spotSize + spotShift))}
}

// A trace tells apart the cuts that edges give: by their middle and their ends.
type trace struct{ middle, low, high spot }

func (c cut) trace() trace {
	t := trace{spotOf(c.at(0.5)), spotOf(c.from), spotOf(c.to)}
	if closed := near(c.from, c.to); closed { // where a ring begins says nothing
		t.middle, t.low = spotOf(c.centre), spotOf(point{c.radius, 0})
		t.high = t.low
	} else if t.low.x > t.high.x || t.low.x == t.high.x && t.low.y > t.high.y {
		t.low, t.high = t.high, t.low
	}
	return t
}

// cutsOf finds where, looking along z, there is material on one side only. All
// edges are looked at, since a wall's edges may lie at the top, at the bottom or,
// below a counterbore, between.
func cutsOf(s *solid.Solid) []cut {
	var list []cut
	seen := map[trace]int{} // place in list, or -1 for what is no cut
	corners := slices.Clone(s.Vertices)
	slices.SortFunc(corners, func(a, b solid.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	add := func(c cut, parting func(cut) (cut, bool)) {
		key := c.trace()
		if at, known := seen[key]; known {
			if at >= 0 && c.tapped {
				list[at].tapped = true
			}
			return
		}
		seen[key] = -1
		if c, parts := parting(c); parts {
			seen[key] = len(list)
			list = append(list, c)
		}
	}
	for i := range s.Edges {
		e := &s.Edges[i]
		c, flat := flatEdge(e)
		if !flat {
			continue
		}
		c.tapped = s.Faces[e.Faces[0]].Thread != nil || s.Faces[e.Faces[1]].Thread != nil
		if wall := wholeWallAt(s, e); wall != nil {
			add(c, func(c cut) (cut, bool) { return besideWall(wall, e, c), true })
			continue
		}
		// Edges above each other end in other places.
		for _, piece := range c.split(corners) {
			add(piece, func(c cut) (cut, bool) { return parting(s, c) })
		}
	}
	return list
}

// split is the cut in pieces that end where corners, sorted by x, lie on it.
func (c cut) split(corners []solid.Vec) []cut {
	low, high := min(c.from.x, c.to.x), max(c.from.x, c.to.x)
	if c.arc {
		low, high = c.centre.x-c.radius, c.centre.x+c.radius
	}
	first, _ := slices.BinarySearchFunc(corners, low-solid.Tolerance, func(v solid.Vec, x float64) int { return cmp.Compare(v.X, x) })
	shares := []float64{0, 1}
	for _, v := range corners[first:] {
		if v.X > high+solid.Tolerance {
			break
		}
		if share, on := c.share(point{v.X, v.Y}); on {
			shares = append(shares, share)
		}
	}
	slices.Sort(shares)
	var list []cut
	from := 0.0
	for _, to := range shares[1:] {
		if near(c.at(from), c.at(to)) && to < 1 {
			continue
		}
		piece := c
		piece.from, piece.to = c.at(from), c.at(to)
		if to == 1 {
			piece.to = c.to
		}
		piece.start, piece.sweep = c.start+c.sweep*from, c.sweep*(to-from)
		list = append(list, piece)
		from = to
		if to == 1 {
			break
		}
	}
	return list
}

// share is how far along the cut a place inside of it lies; not on is one off it or
// at its ends.
func (c cut) share(p point) (k float64, on bool) {
	if near(p, c.from) || near(p, c.to) {
		return 0, false
	}
	if c.arc {
		if math.Abs(math.Hypot(p.x-c.centre.x, p.y-c.centre.y)-c.radius) > solid.Tolerance {
			return 0, false
		}
		way := math.Copysign(1, c.sweep)
		turn := math.Mod(way*(math.Atan2(p.y-c.centre.y, p.x-c.centre.x)-c.start), 2*math.Pi)
		if turn < 0 {
			turn += 2 * math.Pi
		}
		k = turn / math.Abs(c.sweep)
		return k, k > 0 && k < 1
	}
	dx, dy := c.to.x-c.from.x, c.to.y-c.from.y
	n := dx*dx + dy*dy
	k = ((p.x-c.from.x)*dx + (p.y-c.from.y)*dy) / n
	return k, k > 0 && k < 1 && near(p, c.at(k))
}

// flatEdge is an edge that lies level, seen from the top.
func flatEdge(e *solid.Edge) (cut, bool) {
	a, b := e.Point(0), e.Point(1)
	c := cut{from: point{a.X, a.Y}, to: point{b.X, b.Y}}
	switch curve := e.Curve.(type) {
	case solid.Line:
		return c, math.Abs(a.Z-b.Z) <= solid.Tolerance && !near(c.from, c.to)
	case solid.Circle:
		if math.Abs(curve.Z.Z) < 1-1e-12 {
			return c, false
		}
		way := math.Copysign(1, curve.Z.Z)
		c.arc, c.centre, c.radius = true, point{curve.O.X, curve.O.Y}, curve.R
		c.start = math.Atan2(a.Y-curve.O.Y, a.X-curve.O.X)
		c.sweep = way * (e.T1 - e.T0)
		return c, true
	}
	return c, false
}

// wholeWallAt is the wholeWall that an edge bounds, nil for none.
func wholeWallAt(s *solid.Solid, e *solid.Edge) *solid.Face {
	for _, face := range e.Faces {
		if f := &s.Faces[face]; wholeWall(s, f) {
			return f
		}
	}
	return nil
}

// besideWall turns the cut along a wall's edge so that the wall's material lies on
// its left.
func besideWall(wall *solid.Face, e *solid.Edge, c cut) cut {
	n := wall.Normal(e.Point(0.5))
	x, y := c.heading(0.5)
	if n.X*-y+n.Y*x > 0 { // the way out lies on the left
		return c.reversed()
	}
	return c
}

// parting turns a cut so that the material lies on its left, and tells whether it
// parts material from nothing.
func parting(s *solid.Solid, c cut) (cut, bool) {
	left := 0
	for _, share := range []float64{0.5, 0.13, 0.88} {
		switch a, b := beside(s, c, share, sideStep), beside(s, c, share, -sideStep); {
		case a == b:
			return c, false
		case a:
			left++
		default:
			left--
		}
	}
	switch left {
	case 3:
		return c, true
	case -3:
		return c.reversed(), true
	}
	return c, false
}

// wholeWall tells whether a face is a plain upright wall from the bottom of the part
// to its top: there is nothing but air in front of it, at any height.
func wholeWall(s *solid.Solid, f *solid.Face) bool {
	switch surface := f.Surface.(type) {
	case solid.Plane:
		if math.Abs(surface.Z.Z) > 1e-12 {
			return false
		}
	case solid.Cylinder:
		if math.Abs(surface.Z.Z) < 1-1e-12 {
			return false
		}
	default:
		return false
	}
	uses := 0
	low, high := s.Box().Min.Z, s.Box().Max.Z
	for _, loop := range f.Loops {
		for _, use := range loop {
			uses++
			e := &s.Edges[use.Edge]
			a, b := e.Point(0).Z, e.Point(1).Z
			if math.Abs(a-b) > solid.Tolerance {
				continue // upright
			}
			if math.Abs(a-low) > solid.Tolerance && math.Abs(a-high) > solid.Tolerance {
				return false
			}
		}
	}
	return uses == 4 && len(f.Loops) == 1 || uses == 2 && len(f.Loops) == 2
}

// sideStep is how far beside a cut the material is looked for, mm.
const sideStep = 1e-3

// beside tells whether there is material anywhere above or below the place beside a
// cut: at a share of its length, a step to its left.
func beside(s *solid.Solid, c cut, share, step float64) bool {
	for try := range 8 { // until the ray keeps clear of edges
		k := share + 0.003*float64(try)
		p := c.at(k)
		x, y := c.heading(k)
		sure := true
		hits := s.Line(solid.Vec{X: p.x - y*step, Y: p.y + x*step}, solid.Vec{Z: 1})
		for _, h := range hits {
			sure = sure && !h.Unsure
		}
		if sure {
			return len(hits) > 0
		}
	}
	return false
}
