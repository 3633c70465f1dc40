package sheet

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// mostCut is how many planes an unasked section has at most.
const mostCut = 3

// open turns a view into a section, or adds one, where inner forms would be seen as
// hidden lines only: bores of what is turned, blind and counterbored holes, cavities.
// Solid shafts and bars stay whole (ISO 128-3). Views that the section makes needless
// go.
func (p *part) open(panes []pane, projection Projection) []pane {
	if p.meshed || p.body == Bar || len(p.holes) > mostHoles {
		return panes
	}
	targets, half := p.inner(panes)
	if len(targets) == 0 {
		if targets = p.cavity(panes); len(targets) == 0 {
			return panes
		}
	}
	best, least := panes, math.MaxInt
	for _, try := range [][]target{targets, targets[:1]} {
		options, _ := p.sectionOptions(p.without(panes, try), try, "A", half, projection)
		for _, list := range options {
			list = p.prune(list)
			if len(list) < least && len(p.unseen(list)) <= len(p.unseen(panes)) && len(list) <= len(panes)+1 {
				best, least = list, len(list)
			}
		}
		if least < math.MaxInt {
			break
		}
	}
	for _, q := range best {
		if q.cut != nil && p.project(&q) != nil {
			return panes // it cannot be cut there: hidden lines have to do
		}
	}
	return best
}

// hollowShare is the share of a side view's lines that cavities may hide before the
// part is cut open.
const hollowShare = 0.25

// cavity is where a part with a cavity is cut open: its middle, or the hole nearest to
// it; nothing when its side views hide little but holes.
func (p *part) cavity(panes []pane) []target {
	if p.body != Free {
		return nil
	}
	if _, round := p.turnedAbout(); round {
		return nil
	}
	opaque := false
	for _, q := range panes[1:] {
		if q.cut == nil && p.project(&q) == nil && q.hides() > hollowShare {
			opaque = true
		}
	}
	if !opaque {
		return nil
	}
	main := panes[0].eye
	behind := main
	behind.Toward = main.Toward.Mul(-1)
	if !p.floored(main) && !p.floored(behind) {
		return nil
	}
	best := target{name: "middle", at: p.box.Centre(), dir: main.Toward, hole: -1}
	nearest := math.Inf(1)
	reach := min(p.extent(main.Right), p.extent(main.Up)) / 4
	for i, h := range p.holes {
		off := h.at.Sub(p.box.Centre())
		away := min(math.Abs(off.Dot(main.Right)), math.Abs(off.Dot(main.Up)))
		if main.covers(h) && away < nearest && away < reach {
			best, nearest = p.aim(i), away
		}
	}
	return []target{best}
}

// floored reports whether a view looks into something: a face across the line of
// sight lies deeper than the front and is not the back.
func (p *part) floored(e eye) bool {
	axis, _ := axisOf(e.Toward)
	low, high := on(p.box.Min, axis), on(p.box.Max, axis)
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		plane, flat := f.Surface.(solid.Plane)
		if !flat || p.skip[i] || !sameAxis(plane.Z, axis) {
			continue
		}
		if at := on(plane.O, axis); at > low+near && at < high-near && len(f.Loops) > 0 && p.facesEye(f, e) && p.inside(f, e) {
			return true
		}
	}
	return false
}

// facesEye reports whether a flat face is turned to the eye.
func (p *part) facesEye(f *solid.Face, e eye) bool {
	return f.Normal(p.solid.Edges[f.Loops[0][0].Edge].Point(0.5)).Dot(e.Toward) > 0
}

// inside reports whether a flat face lies wholly within the view's outline.
func (p *part) inside(f *solid.Face, e eye) bool {
	box := f.Box()
	for _, way := range []solid.Vec{e.Right, e.Up} {
		axis, _ := axisOf(way)
		if on(box.Min, axis) < on(p.box.Min, axis)+near || on(box.Max, axis) > on(p.box.Max, axis)-near {
			return false
		}
	}
	return true
}

// hides is the share of the view's lines that is hidden, those of holes left out.
func (q *pane) hides() float64 {
	hidden, all := 0.0, 0.0
	for _, line := range q.drawing.Lines {
		if ofHole(line.Faces) {
			continue
		}
		all += line.Length()
		if !line.Visible {
			hidden += line.Length()
		}
	}
	return hidden / max(all, near)
}

// without drops the end view of what is round and bored along its axis only: the
// section shows it all.
func (p *part) without(panes []pane, targets []target) []pane {
	axis, round := p.turnedAbout()
	if !round || !p.coaxial(targets[0].at, targets[0].dir, axis) || !p.allCoaxial() {
		return panes
	}
	return slices.DeleteFunc(slices.Clone(panes), func(q pane) bool { return sameAxis(q.eye.Toward, axis) })
}

// allCoaxial reports whether every hole runs along the middle of what is round.
func (p *part) allCoaxial() bool {
	axis, round := p.turnedAbout()
	return round && !slices.ContainsFunc(p.holes, func(h hole) bool { return !p.coaxial(h.at, h.dir, axis) })
}

// inner are the holes that want a section, one of each kind; half for what is round
// and the same all about its axis.
func (p *part) inner(panes []pane) (list []target, half bool) {
	if axis, round := p.turnedAbout(); round && p.body != Plate {
		for i, h := range p.holes {
			if p.coaxial(h.at, h.dir, axis) && !p.shaft(h) {
				return []target{p.aim(i)}, p.allCoaxial() && len(p.barrels) > 1
			}
		}
		return nil, false
	}
	var kinds []string
	for _, g := range p.groups {
		i := g.holes[0]
		h := p.holes[i]
		if !straight(h.dir) || h.long > 0 || !p.stepped(h) {
			continue
		}
		base := slices.IndexFunc(panes, func(q pane) bool { return q.covers(h) })
		if kind := h.form(); base >= 0 && !slices.Contains(kinds, kind) && (len(list) == 0 || sameWay(list[0].dir, h.dir)) && len(list) < mostCut {
			kinds = append(kinds, kind)
			list = append(list, p.aim(i))
		}
	}
	if axis, round := p.turnedAbout(); round && len(list) > 0 && len(list) < mostCut {
		// Through the middle too, lest the plane cut the bore beside its axis.
		for i, h := range p.holes {
			if p.coaxial(h.at, h.dir, axis) && !slices.ContainsFunc(list, func(t target) bool { return t.hole == i }) {
				return p.lined(append([]target{p.aim(i)}, list...)), false
			}
		}
	}
	return p.lined(list), false
}

// stepped reports whether a hole's form changes along its depth, or ends within the
// part.
func (p *part) stepped(h hole) bool {
	return !h.through || h.made != nil && h.made.Counterbore != nil
}

// form tells holes of different shapes apart.
func (h hole) form() string {
	form := fmt.Sprintf("%.3f %.3f %v %v", h.d, h.depth, h.through, h.thread != nil)
	if h.made != nil && h.made.Counterbore != nil {
		form += fmt.Sprintf(" %.3f %.3f", h.made.Counterbore.D, h.made.Counterbore.Depth)
	}
	if h.made != nil && h.made.Countersink != nil {
		form += fmt.Sprintf(" %.3f", h.made.Countersink.D)
	}
	return form
}

// shaft reports whether a hole in the middle of a turned part leaves it a shaft,
// which is not cut lengthwise: a blind one in what is longer than it is thick.
func (p *part) shaft(h hole) bool {
	long := p.extent(h.dir)
	thick := min(p.box.Size().X, p.box.Size().Y, p.box.Size().Z)
	return !h.through && long > 1.5*thick
}

// lined trades targets for others of their kind that lie on one plane with the first,
// so that the section need not step.
func (p *part) lined(list []target) []target {
	for k := 1; k < len(list); k++ {
		h := p.holes[list[k].hole]
		for i, o := range p.holes {
			if o.dir.Dist(h.dir) > 1e-9 || o.form() != h.form() {
				continue
			}
			for _, axis := range axes {
				if !sameAxis(h.dir, axis) && math.Abs(on(o.at, axis)-on(list[0].at, axis)) < near {
					list[k] = p.aim(i)
				}
			}
		}
	}
	return list
}

// prune drops views, the last first, without which nothing goes unseen.
func (p *part) prune(panes []pane) []pane {
	for i := len(panes) - 1; i > 0; i-- {
		if panes[i].cut != nil || slices.ContainsFunc(panes, func(q pane) bool { return q.cut != nil && q.cut.base == i }) {
			continue
		}
		rest := slices.Delete(slices.Clone(panes), i, i+1)
		if len(p.unseen(rest)) > len(p.unseen(panes)) || p.needsThird(rest) {
			continue
		}
		for k := range rest {
			if c := rest[k].cut; c != nil && c.base > i {
				moved := *c
				moved.base--
				rest[k].cut = &moved
			}
		}
		panes = rest
	}
	return panes
}
