package sheet

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// A pane is one view on the sheet.
type pane struct {
	eye    eye
	column int // place in the cross of views, right and down on the paper
	row    int
	curves drawn
	extent picture.Box // of the curves, at 1:1
	at     point       // where the part's origin lies on the paper
	scale  float64     // paper to part
	cut    *cut        // the section that it shows; nil for a plain view

	lit     []int         // round steps whose silhouette is seen
	levels  [2][]float64  // where visible lines run up the paper, and across it, at 1:1
	drawing *view.Drawing // what curves are of
	whole   drawn         // curves before the view was broken
	breaks  *breaks       // where the view may be broken; nil where it stays whole
	broken  *view.Broken  // how it was
}

// name of the view: its direction, or the section that it shows.
func (q *pane) name() string {
	if q.cut != nil {
		return "section " + q.cut.letter
	}
	return q.eye.name
}

// covers reports whether a hole is seen as a circle, from its mouth or through.
func (e eye) covers(h hole) bool {
	facing := h.dir.Dot(e.Toward)
	return facing < -1+1e-9 || h.through && facing > 1-1e-9
}

// choose works out which views the part needs.
func (p *part) choose(r *Request, fault func(Fault)) []pane {
	var panes []pane
	asked := map[string]bool{}
	for i, v := range r.Views {
		e, known := eyeNamed(v.Kind)
		switch {
		case known && !asked[v.Kind]:
			asked[v.Kind] = true
			if len(panes) == 0 {
				panes = []pane{{eye: p.turned(e)}}
				continue
			}
			if side, ok := sideOf(panes[0].eye, e.Toward); ok {
				panes = append(panes, side.pane(panes[0].eye, r.Projection))
			}
		case known:
			fault(Fault{"views", i, fmt.Sprintf("the view %q is asked for twice", v.Kind), "name each view once"})
		case v.Kind != "pictorial" && v.Kind != "section" && v.Kind != "detail":
			fault(Fault{"views", i, fmt.Sprintf("no view is called %q", v.Kind),
				"front, back, left, right, top, bottom, pictorial, section or detail"})
		}
	}
	if len(panes) == 0 {
		panes = []pane{{eye: p.turned(p.mainEye())}}
	}
	panes = p.sections(r, panes, false, fault)
	panes = p.complete(panes, r.Projection)
	panes = p.sections(r, panes, true, fault)
	if len(r.Views) == 0 {
		panes = p.open(panes, r.Projection)
	}
	return panes
}

// turned lays long parts along the paper, and turned ones as they lie in the
// lathe.
func (p *part) turned(e eye) eye {
	if axis, round := p.turnedAbout(); round && p.body != Plate && sameAxis(e.Up, axis) {
		return e.lying()
	}
	width, height := p.extent(e.Right), p.extent(e.Up)
	if height > 1.6*width {
		return e.lying()
	}
	return e
}

// extent of the part in an axis direction.
func (p *part) extent(v solid.Vec) float64 {
	axis, _ := axisOf(v)
	return on(p.box.Size(), axis)
}

// openWeight is how much a main view that hides all of its lines loses: as much as
// some holes weigh, so that pockets are seen from their open side.
const openWeight = 10.0

// profileWeight is how much a view of an outline with little in it gains: an angle or a
// channel tells most from its end.
const profileWeight = 9.0

// profileFill is how much of its box such an outline leaves filled at most.
const profileFill = 0.8

// fills is the share of its box that the flat faces of the part turned to the eye fill,
// 1 where they overlap.
func (p *part) fills(e eye) float64 {
	sum := 0.0
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		if plane, flat := f.Surface.(solid.Plane); flat && sameWay(plane.Z, e.Toward) && p.facesEye(f, e) {
			sum += p.solid.FaceArea(i)
		}
	}
	return min(1, sum/(p.extent(e.Right)*p.extent(e.Up)))
}

// mainEye is the principal view that shows most: holes from their mouths, then
// the largest area; front before top before the others.
func (p *part) mainEye() eye {
	best, top := eyes[0], math.Inf(-1)
	largest := 0.0
	for _, e := range eyes {
		largest = max(largest, p.extent(e.Right)*p.extent(e.Up))
	}
	for i, e := range eyes {
		if p.body == Bar && sameAxis(e.Toward, p.along) || p.body == Plate && !sameAxis(e.Toward, solid.AxisZ) {
			continue
		}
		if axis, round := p.turnedAbout(); round && p.body != Plate && sameAxis(e.Toward, axis) {
			continue // steps show from the side
		}
		if len(p.mitres) > 0 && !e.showsMitre(p.mitres[0]) {
			continue
		}
		score := 6 * p.extent(e.Right) * p.extent(e.Up) / largest
		for _, h := range p.holes {
			if e.covers(h) {
				score += 1
				if h.dir.Dot(e.Toward) < 0 {
					score += 0.5
				}
			}
		}
		if p.body == Free && !p.meshed {
			q := pane{eye: e}
			if p.project(&q) == nil {
				score -= openWeight * q.hides()
			}
			score += profileWeight * max(0, profileFill-p.fills(e))
		}
		score -= 0.01 * float64(i)
		if score > top+1e-9 {
			best, top = e, score
		}
	}
	return best
}

// turnedAbout is the axis of a part that is round all over: its steps share an
// axis and the largest fills the box.
func (p *part) turnedAbout() (solid.Axis, bool) {
	for _, b := range p.barrels {
		fills := true
		for _, axis := range axes {
			if axis != b.axis && math.Abs(on(p.box.Size(), axis)-b.d) > near {
				fills = false
			}
		}
		if fills {
			return b.axis, true
		}
	}
	return 0, false
}

// A side is where a view stands beside the main one: right and up in the main
// view's sense, 2 for the back.
type side struct{ right, up int }

// sideOf finds the side from which a direction is seen.
func sideOf(main eye, toward solid.Vec) (side, bool) {
	for _, s := range []side{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {2, 0}} {
		if s.eye(main).Toward.Dist(toward) < 1e-9 {
			return s, true
		}
	}
	return side{}, false
}

func (s side) eye(main eye) eye {
	if s.right == 2 {
		return main.from(1, 0).from(1, 0)
	}
	return main.from(s.right, s.up)
}

// pane places the view: third angle puts it on the side it is seen from, first
// angle on the other.
func (s side) pane(main eye, projection Projection) pane {
	q := pane{eye: s.eye(main), column: s.right, row: -s.up}
	if projection == FirstAngle && s.right != 2 {
		q.column, q.row = -q.column, -q.row
	}
	return q
}

// complete adds the views without which something would go unseen: a side for
// each hole, the third extent.
func (p *part) complete(panes []pane, projection Projection) []pane {
	main := panes[0].eye
	panes = p.showMitres(panes, projection)
	for {
		unseen := p.unseen(panes)
		if len(unseen) == 0 {
			break
		}
		best, most := side{}, 0
		for _, s := range []side{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {2, 0}} {
			count := 0
			for _, h := range unseen {
				if s.eye(main).covers(p.holes[h]) {
					count++
				}
			}
			if count > most && !standing(panes, s.eye(main)) {
				best, most = s, count
			}
		}
		if most == 0 {
			break // bored askew: no principal view shows it
		}
		panes = append(panes, best.pane(main, projection))
	}
	if p.needsThird(panes) {
		s := side{1, 0}
		axis, _ := axisOf(main.Right)
		if endOn := p.body == Bar && axis == p.along; !endOn && p.extent(main.Right) >= 0.8*p.extent(main.Up) {
			s = side{0, 1}
			if s.eye(main).name == "back" {
				s = side{0, -1} // beside a top view, the front: not upside down
			}
		}
		panes = append(panes, s.pane(main, projection))
	}
	return panes
}

func standing(panes []pane, e eye) bool {
	for _, q := range panes {
		if q.eye.Toward.Dist(e.Toward) < 1e-9 {
			return true
		}
	}
	return false
}

// unseen are the holes that no view covers.
func (p *part) unseen(panes []pane) []int {
	var list []int
	for i, h := range p.holes {
		seen := !straight(h.dir)
		for k := range panes {
			seen = seen || panes[k].covers(h) || panes[k].shows(h) && p.marked(panes, h) || p.body == Bar && p.twin(panes[k], h)
		}
		if !seen {
			list = append(list, i)
		}
	}
	return list
}

// twin reports whether a view shows, end on, the equal hole at a bar's other end: one
// end view does for both.
func (p *part) twin(q pane, h hole) bool {
	return sameAxis(h.dir, p.along) && slices.ContainsFunc(p.holes, func(o hole) bool {
		off := o.at.Sub(h.at)
		return o.dir.Dist(h.dir.Mul(-1)) < 1e-9 && off.Sub(h.dir.Mul(off.Dot(h.dir))).Len() < near && o.form() == h.form() && q.covers(o)
	})
}

// marked reports whether the place of a hole that a section shows is given beside:
// by a hole on the same line that a view shows as a circle, or by the middle of
// what is round.
func (p *part) marked(panes []pane, h hole) bool {
	if axis, round := p.turnedAbout(); round && p.coaxial(h.at, h.dir, axis) {
		return true
	}
	for _, o := range p.holes {
		off := o.at.Sub(h.at)
		if !sameWay(o.dir, h.dir) || off.Sub(h.dir.Mul(off.Dot(h.dir))).Len() > near {
			continue
		}
		if slices.ContainsFunc(panes, func(q pane) bool { return q.covers(o) }) {
			return true
		}
	}
	return false
}

// plainBar reports whether a view shows all of a bar: the note gives its section, a
// full rectangle, mitred or not, and every hole is seen from its mouth.
func (p *part) plainBar(e eye) bool {
	if p.body != Bar || slices.ContainsFunc(p.holes, func(h hole) bool { return !e.covers(h) }) {
		return false
	}
	sides := 0
	for i := range p.solid.Faces {
		if plane, flat := p.solid.Faces[i].Surface.(solid.Plane); flat && straight(plane.Z) {
			sides++
		} else if !p.skip[i] {
			return false
		}
	}
	return sides+len(p.mitres) == 6
}

// needsThird reports whether the way along the line of sight must be shown: not
// for plates, nor for what is round about an axis in the paper.
func (p *part) needsThird(panes []pane) bool {
	if len(panes) > 1 {
		for _, q := range panes[1:] {
			if q.column != 2 {
				return false
			}
		}
	}
	if p.body == Plate || p.plainBar(panes[0].eye) {
		return false
	}
	if axis, round := p.turnedAbout(); round && !sameAxis(panes[0].eye.Toward, axis) {
		return false
	}
	return true
}
