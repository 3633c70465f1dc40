package sheet

import (
	"fmt"
	"math"
	"slices"
)

// mostCut is how many planes an unasked section has at most.
const mostCut = 3

// open turns a view into a section, or adds one, where inner forms would be seen as
// hidden lines only: bores of what is turned, blind and counterbored holes. Solid
// shafts and bars stay whole (ISO 128-3). Views that the section makes needless go.
func (p *part) open(panes []pane, projection Projection) []pane {
	if p.meshed || p.body == Bar || len(p.holes) > mostHoles {
		return panes
	}
	targets, half := p.inner(panes)
	if len(targets) == 0 {
		return panes
	}
	best := panes
	for _, try := range [][]target{targets, targets[:1]} {
		list, why := p.addSection(p.without(panes, try), try, "A", half, projection)
		if why != "" {
			continue
		}
		list = p.prune(list)
		if len(p.unseen(list)) <= len(p.unseen(panes)) && len(list) <= len(panes)+1 {
			best = list
			break
		}
	}
	return best
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
