package sheet

import (
	"math"

	"plansheaf/design/solid"
)

// readRims places the circles in which round faces end along their axis.
func (p *part) readRims() {
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		c, round := e.Curve.(solid.Circle)
		if !round || !e.Closed() || p.skip[e.Faces[0]] || p.skip[e.Faces[1]] || !straight(c.Z) {
			continue
		}
		if axis, _ := axisOf(c.Z); p.places(axis) {
			p.addLevel(axis, on(c.O, axis), "rim", -1)
		}
	}
}

// readCorners places the ends of slanting edges, and of arcs that do not run
// smoothly into their neighbours.
func (p *part) readCorners() {
	around := make([][]int, len(p.solid.Vertices)) // edges at each vertex
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		around[e.Start] = append(around[e.Start], i)
		around[e.End] = append(around[e.End], i)
	}
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		if p.skip[e.Faces[0]] || p.skip[e.Faces[1]] || e.Closed() {
			continue
		}
		line, isLine := e.Curve.(solid.Line)
		if isLine && straight(line.D) {
			continue
		}
		if _, arc := e.Curve.(solid.Circle); arc && p.smoothEnds(i, around) {
			continue
		}
		for _, k := range []float64{0, 1} {
			corner := e.Point(k)
			for _, axis := range axes {
				if p.places(axis) {
					p.addLevel(axis, on(corner, axis), "corner", -1)
				}
			}
		}
	}
}

// smoothEnds reports whether an edge runs on without a corner at both ends.
func (p *part) smoothEnds(index int, around [][]int) bool {
	e := &p.solid.Edges[index]
	smooth := 0
	for _, end := range []struct {
		vertex int
		out    solid.Vec
	}{{e.Start, e.Curve.Tangent(e.T0).Unit()}, {e.End, e.Curve.Tangent(e.T1).Unit()}} {
		for _, j := range around[end.vertex] {
			o := &p.solid.Edges[j]
			if j == index {
				continue
			}
			t := o.T0
			if o.End == end.vertex {
				t = o.T1
			}
			if math.Abs(o.Curve.Tangent(t).Unit().Dot(end.out)) > 1-1e-6 {
				smooth++
				break
			}
		}
	}
	return smooth == 2
}

// mostLevels is how many faces and corners an axis may have before the shape is
// one that no drawing can hold, such as a mesh.
const mostLevels = 40

// simplify drops the places of faces and corners of such a shape: it is made
// from its file, and the drawing gives overall sizes and holes.
func (p *part) simplify() {
	most := 0
	for _, list := range p.levels {
		most = max(most, len(list))
	}
	if most <= mostLevels {
		return
	}
	p.meshed = true
	p.rounds, p.barrels = nil, nil
	for _, axis := range axes {
		var ends []level
		for _, l := range p.levels[axis] {
			if math.Abs(l.at-on(p.box.Min, axis)) < near || math.Abs(l.at-on(p.box.Max, axis)) < near {
				ends = append(ends, l)
			}
		}
		p.levels[axis] = ends
	}
}
