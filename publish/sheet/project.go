package sheet

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// drawn holds the lines of one view at 1:1, the part's origin at the paper's
// origin, x right, y down.
type drawn struct {
	visible []picture.Curve
	hidden  []picture.Curve
	thread  []picture.Curve // thin: thread roots in view
	smooth  []picture.Curve // edges between faces that run on smoothly
}

// bounds of everything drawn.
func (d drawn) bounds() picture.Box {
	return picture.CurveBounds(d.visible).Join(picture.CurveBounds(d.hidden))
}

// project draws the part as an eye sees it.
func (p *part) project(e eye) drawn {
	var d drawn
	s := p.solid
	for i := range s.Edges {
		edge := &s.Edges[i]
		curve := flatten(e, edge)
		if curve == nil {
			continue
		}
		seen := false
		middle := edge.Point(0.5)
		for _, f := range edge.Faces {
			seen = seen || s.Faces[f].Normal(middle).Dot(e.Toward) > 1e-6
		}
		if seen {
			d.visible = append(d.visible, curve)
		} else {
			d.hidden = append(d.hidden, curve)
		}
	}
	return d
}

func flatten(e eye, edge *solid.Edge) picture.Curve {
	from, to := e.Flat(edge.Point(0)), e.Flat(edge.Point(1))
	if c, round := edge.Curve.(solid.Circle); round && sameWay(c.Z, e.Toward) {
		x := e.Flat(c.X)
		sweep := edge.T0 - edge.T1
		if c.Z.Dot(e.Toward) < 0 {
			sweep = -sweep
		}
		start := math.Atan2(x.Y, x.X)
		if sweep < 0 {
			start -= edge.T0
		} else {
			start += edge.T0
		}
		return picture.Arc{Centre: e.Flat(c.O), RX: c.R, RY: c.R, Start: start, Sweep: sweep}
	}
	if c, round := edge.Curve.(solid.Circle); round && edge.Closed() {
		across := c.Z.Cross(e.Toward).Unit().Mul(c.R)
		return picture.Line{A: e.Flat(c.O.Sub(across)), B: e.Flat(c.O.Add(across))}
	}
	if from.Distance(to) < near {
		return nil
	}
	return picture.Line{A: from, B: to}
}

func sameWay(a, b solid.Vec) bool { return math.Abs(a.Dot(b)) > 1-1e-9 }

// pictureOf draws the solid from the front, the right and above.
func pictureOf(s *solid.Solid) (drawn, error) {
	p := &part{solid: s}
	return p.project(eye{Direction: view.Isometric}), nil
}

func (d drawn) empty() bool { return len(d.visible) == 0 }
