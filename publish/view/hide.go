package view

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

const (
	// depthTolerance (mm) is how much nearer to the eye a round face must be to
	// hide a line: less than any gap that could be made, more than what rounding
	// makes of a point beside the silhouette of a round face metres away.
	depthTolerance = 3e-4
	// planeTolerance (mm) is how far below a plane face, square to it, a line
	// must lie to be hidden by it: booleans may leave faces a ten-thousandth of a
	// millimetre off those that they stand for.
	planeTolerance = 2e-4
	// aside (mm) is how far to both sides of a line one looks for what hides it:
	// a line right behind an outline is hidden only if both sides are.
	aside = 2.5e-4
	// speck (mm) is the length below which a stretch of line is judged like the
	// one before it.
	speck = 5e-4
	// judged is the share of a stretch at which it is judged: not the middle,
	// which often lies right behind a seam between two faces that hide it.
	judged = 0.4863
)

// stage is everything of a view, ready to judge.
type stage struct {
	items   []item
	patches []patch
	grid    *grid
	// near lists, by body, the other bodies whose boxes overlap its own, mine the
	// range of each body's patches, worlds its box in the world.
	near   [][]int
	mine   [][2]int
	worlds []solid.Box
	// toWorld takes the view to the world.
	toWorld solid.Placement
}

// stretch is a part of an item, seen or hidden all along.
type stretch struct {
	t0, t1  float64
	visible bool
}

// worker holds what one goroutine needs again and again.
type worker struct {
	*stage
	stamp []int32
	cuts  []float64
	// last is the patch that hid something last, which is likely to hide what
	// comes next.
	last int
}

// stretches cuts an item where its visibility may change and judges each part.
func (w *worker) stretches(index int) []stretch {
	e := &w.items[index]
	w.cuts = append(w.cuts[:0], e.t0, e.t1)
	if !w.cutByContours(index) {
		return []stretch{{e.t0, e.t1, false}}
	}
	w.cutByFaces(e)
	slices.Sort(w.cuts)
	var out []stretch
	last := e.t0
	for i := 1; i < len(w.cuts); i++ {
		t := w.cuts[i]
		if i < len(w.cuts)-1 && (t-last < 1e-12 || e.length(last, t) < speck/4) {
			continue
		}
		s := stretch{last, t, false}
		if n := len(out); n > 0 && e.length(last, t) < speck {
			s.visible = out[n-1].visible
		} else {
			s.visible = !w.hidden(e, last+(t-last)*judged)
		}
		if n := len(out); n > 0 && out[n-1].visible == s.visible {
			out[n-1].t1 = t
		} else {
			out = append(out, s)
		}
		last = t
	}
	// A speck at the start goes with what follows.
	if len(out) > 1 && e.length(out[0].t0, out[0].t1) < speck {
		out[1].t0 = out[0].t0
		out = out[1:]
	}
	return out
}

// cutByContours cuts an item where it passes behind contours, and tells whether
// any of it may be seen.
func (w *worker) cutByContours(index int) (open bool) {
	e := &w.items[index]
	id := int32(index + 1)
	w.grid.walk(&e.track, func(cell int, top float64) {
		if top < w.grid.cover[cell]-depthTolerance {
			return // hidden all through the cell
		}
		open = true
		for _, o := range w.grid.contours[cell] {
			if w.stamp[o.index] == id {
				continue
			}
			w.stamp[o.index] = id
			if int(o.index) == index {
				continue
			}
			c := &w.items[o.index]
			if c.high.Z < e.low.Z-depthTolerance {
				continue
			}
			crossings(&e.track, &c.track, func(t, s float64) {
				if c.at(s).Z > e.at(t).Z-depthTolerance {
					w.cuts = append(w.cuts, t)
				}
			})
		}
	})
	return open
}

// mostPierced is how many faces of other bodies are looked at for where an item
// runs through them. Only bodies heaped in one place, which cannot be, have more.
const mostPierced = 300

// cutByFaces cuts an item where it runs through faces of bodies that overlap its
// own, as a screw's thread does with that of its hole.
func (w *worker) cutByFaces(e *item) {
	left := mostPierced
	if len(w.near[e.body]) == 0 {
		return
	}
	world := flatBox(&e.track).Under(w.toWorld)
	for _, b := range w.near[e.body] {
		if !w.worlds[b].Meets(world) {
			continue
		}
		for i := w.mine[b][0]; i < w.mine[b][1]; i++ {
			p := &w.patches[i]
			if !p.world.Meets(world) {
				continue
			}
			if left--; left < 0 {
				return
			}
			pierces(&e.track, p.surface, func(t float64) {
				if q := e.at(t); q.X > p.low.X-hair && q.X < p.high.X+hair && q.Y > p.low.Y-hair && q.Y < p.high.Y+hair {
					w.cuts = append(w.cuts, t)
				}
			})
		}
	}
}

// pierces visits the parameters at which a track goes through a surface.
func pierces(k *track, s solid.Surface, visit func(t float64)) {
	within := func(t float64) {
		if t > k.t0 && t < k.t1 {
			visit(t)
		}
	}
	plane, flat := s.(solid.Plane)
	switch {
	case k.linear && k.lift == nil:
		for _, t := range s.LineHits(k.c, k.a) {
			within(t)
		}
	case flat && k.form != free && k.lift == nil:
		ts, n := angles(k.a.Dot(plane.Z), k.b.Dot(plane.Z), -plane.Off(k.c))
		for _, t := range ts[:n] {
			within(k.near(t))
		}
	default:
		if liesOn(k, s) || staysOff(k, s) {
			return
		}
		k.zeros(s.Off, within)
	}
}

// staysOff tells that a round track cannot meet a surface: it runs round the same
// axis, or keeps further off than it goes. Most tracks that come here do: rims and
// shanks of screws in their holes.
func staysOff(k *track, s solid.Surface) bool {
	if k.form == free || k.lift != nil {
		return false
	}
	return coaxial(k, s) || clearOf(k, s, k.t0, k.t1, clearDepth)
}

// coaxial tells that a circle runs round the axis of a cylinder or cone, at one
// distance all along.
func coaxial(k *track, s solid.Surface) bool {
	var f solid.Frame
	switch s := s.(type) {
	case solid.Cylinder:
		f = s.Frame
	case solid.Cone:
		f = s.Frame
	default:
		return false
	}
	if math.Abs(k.a.Len()-k.b.Len()) > hair || math.Abs(k.a.Dot(f.Z)) > hair || math.Abs(k.b.Dot(f.Z)) > hair {
		return false
	}
	d := k.c.Sub(f.O)
	return d.Sub(f.Z.Mul(d.Dot(f.Z))).Len() < hair
}

// clearDepth is how often clearOf halves a track before it gives up.
const clearDepth = 5

// clearOf tells that a track keeps off a surface between two parameters: it goes
// at most |a|+|b| a radian, and Off is a distance, so where the middle lies further
// off than half of the way is long, nothing in between meets the surface.
func clearOf(k *track, s solid.Surface, t0, t1 float64, depth int) bool {
	middle := (t0 + t1) / 2
	if math.Abs(s.Off(k.at(middle))) > (k.a.Len()+k.b.Len())*(t1-t0)/2 {
		return true
	}
	return depth > 0 && clearOf(k, s, t0, middle, depth-1) && clearOf(k, s, middle, t1, depth-1)
}

// liesOn tells whether a track lies in a surface.
func liesOn(k *track, s solid.Surface) bool {
	for _, share := range [5]float64{0, 0.31, 0.5, 0.83, 1} {
		if math.Abs(s.Off(k.at(k.t0+(k.t1-k.t0)*share))) > hair {
			return false
		}
	}
	return true
}

// hidden tells whether something lies before the item at t, on both sides of it.
func (w *worker) hidden(e *item, t float64) bool {
	p := e.at(t)
	if cell := w.grid.cell(p.X, p.Y); p.Z < w.grid.cover[cell]-depthTolerance {
		return true
	}
	x, y := e.way(t)
	return w.covered(e, p, -y*aside, x*aside) && w.covered(e, p, y*aside, -x*aside)
}

// covered tells whether a patch lies before the point p of an item, a little
// aside of it.
func (w *worker) covered(e *item, p solid.Vec, dx, dy float64) bool {
	if w.last < len(w.patches) && w.hides(&w.patches[w.last], e, p, dx, dy) {
		return true
	}
	cell := w.grid.cell(p.X+dx, p.Y+dy)
	for _, o := range w.grid.patches[cell] {
		if o.top <= p.Z+depthTolerance/2 {
			return false
		}
		if w.hides(&w.patches[o.index], e, p, dx, dy) {
			w.last = int(o.index)
			return true
		}
	}
	return false
}

// hides tells whether a patch does that.
func (w *worker) hides(f *patch, e *item, p solid.Vec, dx, dy float64) bool {
	x, y := p.X+dx, p.Y+dy
	if x < f.low.X || x > f.high.X || y < f.low.Y || y > f.high.Y {
		return false
	}
	own := f.body == e.body && !e.apart && (f.face == e.faces[0] || f.face == e.faces[1])
	into := f.body+1 == e.into[0] && f.face == e.into[1]
	if own || into {
		// A plane never hides its own edges, nor a hollow face, of which the part
		// that looks at the eye is the far one. A round face hides those of its
		// edges that lie on its far side.
		side := 0
		if into || f.face != e.faces[0] {
			side = 1
		}
		if f.plane || f.inward || e.facing[side] >= 0 {
			return false
		}
		return f.covers(x, y)
	}
	if f.plane {
		plane := f.surface.(solid.Plane)
		off := plane.Off(p)
		if plane.Z.Z < 0 {
			off = -off
		}
		return off < -planeTolerance && f.covers(x, y)
	}
	z, ok := f.depth(p.X, p.Y)
	if !ok {
		if z, ok = f.depth(x, y); !ok {
			return false
		}
	}
	return z > p.Z+depthTolerance && f.covers(x, y)
}
