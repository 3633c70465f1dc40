package sheet

import (
	"math"

	"plansheaf/design/solid"
)

// readMitres finds the slanted ends of a bar. Each is one slanted side in the plane in
// which the saw is turned, from the end of the long side to that of the short one; the
// edges around it are the section's and come with the stock.
func (p *part) readMitres() {
	if p.body != Bar {
		return
	}
	for _, f := range p.solid.Features() {
		normal, askew := slopeNormal(f.Dir)
		if f.Kind != solid.FlatFace || len(f.Faces) == 0 || !askew || normal == p.along {
			continue
		}
		for _, i := range f.Faces {
			p.skip[i] = true
		}
		s := slope{normal: normal}
		tip, heel := f.Box.Centre(), f.Box.Centre()
		for _, axis := range s.plane() {
			low, high := on(f.Box.Min, axis), on(f.Box.Max, axis)
			// The face looks outward along the bar, and towards the short side across it.
			if on(f.Dir, axis) < 0 == (axis == p.along) {
				low, high = high, low
			}
			tip, heel = tip.Add(axis.Vec().Mul(high-on(tip, axis))), heel.Add(axis.Vec().Mul(low-on(heel, axis)))
		}
		inward := p.along.Vec().Mul(-math.Copysign(1, on(f.Dir, p.along)))
		s.ends, s.beside = [2]solid.Vec{tip, heel}, [2]solid.Vec{inward, inward}
		s.real = s.ends
		p.mitres = append(p.mitres, s)
	}
}

// showsMitre reports whether a view shows a mitre's angle.
func (e eye) showsMitre(s slope) bool { return sameAxis(e.Toward, s.normal) }

// showMitres adds the views without which a mitre's angle would go unseen.
func (p *part) showMitres(panes []pane, projection Projection) []pane {
	main := panes[0].eye
	for _, m := range p.mitres {
		shown := false
		for _, q := range panes {
			shown = shown || q.eye.showsMitre(m)
		}
		for _, s := range []side{{0, 1}, {1, 0}} {
			if !shown && s.eye(main).showsMitre(m) {
				panes, shown = append(panes, s.pane(main, projection)), true
			}
		}
	}
	return panes
}
