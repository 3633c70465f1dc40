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

// A border is a piece of the part's edges, seen along z, with what the faces beside
// it tell: material on its left, on its right, nothing but air on the other side.
type border struct {
	cut
	left, right, clear bool
}

// cutsOf finds where, looking along z, there is material on one side only. All
// edges are looked at, since a wall's edges may lie at the top, at the bottom or,
// below a counterbore, between.
func cutsOf(s *solid.Solid) []cut {
	var list []cut
	for _, b := range bordersOf(s) {
		switch {
		case b.left == b.right:
		case b.left && (b.clear || air(s, b.cut, -sideStep)):
			list = append(list, b.cut)
		case b.right && (b.clear || air(s, b.cut, sideStep)):
			list = append(list, b.reversed())
		}
	}
	return list
}

// bordersOf gathers the level edges, those above each other as one.
func bordersOf(s *solid.Solid) []border {
	var list []border
	known := map[trace]int{} // place in list
	corners := slices.Clone(s.Vertices)
	slices.SortFunc(corners, func(a, b solid.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	open := openHoles(s)
	for i := range s.Edges {
		e := &s.Edges[i]
		c, flat := flatEdge(e)
		if !flat {
			continue
		}
		here := border{}
		here.left, here.right = sides(s, e)
		for _, face := range e.Faces {
			f := &s.Faces[face]
			c.tapped = c.tapped || f.Thread != nil
			here.clear = here.clear || wholeWall(s, f) || open[face]
		}
		pieces := []cut{c}
		if !here.clear { // edges above each other end in other places
			pieces = c.split(corners)
		}
		for _, piece := range pieces {
			key := piece.trace()
			at, seen := known[key]
			if !seen {
				at, known[key] = len(list), len(list)
				list = append(list, border{cut: piece})
			}
			list[at].add(piece, here)
		}
	}
	return list
}

// add takes over what another edge at the same place tells.
func (b *border) add(c cut, told border) {
	along := near(b.from, c.from)
	if near(c.from, c.to) { // rings may begin anywhere
		along = b.sweep*c.sweep > 0
	}
	if !along {
		told.left, told.right = told.right, told.left
	}
	b.left, b.right, b.clear = b.left || told.left, b.right || told.right, b.clear || told.clear
	b.tapped = b.tapped || c.tapped
}

// sides tells on which sides of a level edge the faces that it joins lie, seen from
// the top: behind a face there is material. Upright faces lie on neither.
func sides(s *solid.Solid, e *solid.Edge) (left, right bool) {
	const upright = 1e-9
	for i, face := range e.Faces {
		up := s.Faces[face].Normal(e.Point(0.5)).Z
		if math.Abs(up) < upright {
			continue
		}
		// A face lies on the left of its edges, seen from outside; the second one
		// is run around the other way.
		if (up > 0) == (i == 0) {
			left = true
		} else {
			right = true
		}
	}
	return left, right
}

// openHoles are the walls of round holes that run all round and through the whole
// thickness: parts are cut from sheet by taking away, so within them is only air,
// though a wider mouth cuts the wall itself short.
func openHoles(s *solid.Solid) map[int]bool {
	open := map[int]bool{}
	thickness := s.Box().Size().Z
	for _, f := range s.Features() {
		if f.Kind != solid.HoleFeature || !f.Through || math.Abs(f.Dir.Z) < 1-1e-12 || f.Depth < thickness-solid.Tolerance {
			continue
		}
		for _, face := range f.Faces {
			wall := &s.Faces[face]
			c, round := wall.Surface.(solid.Cylinder)
			if round && math.Abs(2*c.R-f.D) <= solid.Tolerance && len(wall.Loops) == 2 && len(wall.Loops[0]) == 1 && len(wall.Loops[1]) == 1 {
				open[face] = true
			}
		}
	}
	return open
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

// air tells whether there is nothing but air above and below the places a step to
// the left of a cut.
func air(s *solid.Solid, c cut, step float64) bool {
	for _, share := range []float64{0.5, 0.13, 0.88} {
		if beside(s, c, share, step) {
			return false
		}
	}
	return true
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
	return true // better a contour left open, which is reported, than a wrong cut
}
