package sheet

import (
	"fmt"
	"math"
	"slices"

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

// readCorners places the ends of slanted sides, where their lines meet those of
// their neighbours; the ends of other edges askew; and those of arcs that do not run
// smoothly into their neighbours.
func (p *part) readCorners() {
	around := p.edgesAround()
	p.readSlopes(around)
	p.slopes = append(p.slopes, p.mitres...)
	for _, s := range p.slopes {
		for _, end := range s.ends {
			p.placeCorner(end)
		}
	}
	p.readChamfers()
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		if p.skip[e.Faces[0]] || p.skip[e.Faces[1]] || e.Closed() {
			continue
		}
		if line, isLine := e.Curve.(solid.Line); isLine {
			if _, side := slopeNormal(line.D.Unit()); side || straight(line.D) {
				continue
			}
		}
		smooth := p.smoothEnds(i, around)
		for k := range smooth {
			if _, arc := e.Curve.(solid.Circle); !arc || !smooth[k] && !(smooth[1-k] && p.leaves(i, 1-k, around)) {
				p.placeCorner(e.Point(float64(k)))
			}
		}
	}
}

// leaves reports whether an arc runs on from a slanted side at one of its ends. That
// end is placed as the side's own, so that the radius tells where the other meets the
// next side: a place of its own would fix it twice.
func (p *part) leaves(index, end int, around [][]int) bool {
	e := &p.solid.Edges[index]
	vertex := [2]int{e.Start, e.End}[end]
	out := p.tangentAt(index, vertex)
	return slices.ContainsFunc(around[vertex], func(j int) bool {
		line, isLine := p.solid.Edges[j].Curve.(solid.Line)
		if !isLine || j == index {
			return false
		}
		_, askew := slopeNormal(line.D.Unit())
		return askew && math.Abs(p.tangentAt(j, vertex).Dot(out)) > 1-1e-6
	})
}

// placeCorner makes a level on each axis along which a corner needs a place.
func (p *part) placeCorner(at solid.Vec) {
	for _, axis := range axes {
		if p.places(axis) {
			p.addLevel(axis, on(at, axis), "corner", -1)
		}
	}
}

// smoothEnds reports at which of its ends, the start first, an edge runs on without a
// corner.
func (p *part) smoothEnds(index int, around [][]int) (smooth [2]bool) {
	e := &p.solid.Edges[index]
	for k, vertex := range [2]int{e.Start, e.End} {
		out := p.tangentAt(index, vertex)
		for _, j := range around[vertex] {
			if j != index && math.Abs(p.tangentAt(j, vertex).Dot(out)) > 1-1e-6 {
				smooth[k] = true
				break
			}
		}
	}
	return smooth
}

// How many faces and corners an axis may have before the shape is one that no drawing
// can hold: one in triangles, as a mesh is; another.
const (
	mostFacets = 40
	mostLevels = 120
)

// simplify drops the places of faces and corners of such a shape: the drawing gives
// overall sizes and holes. A shape in triangles is made from its file; of another the
// audit tells that its places are open.
func (p *part) simplify() {
	most := 0
	for _, list := range p.levels {
		most = max(most, len(list))
	}
	faceted := slices.ContainsFunc(p.solid.Faces, func(f solid.Face) bool { return f.Patch != 0 })
	if most <= mostFacets || most <= mostLevels && !faceted {
		return
	}
	p.meshed = true
	if !faceted {
		p.left = append(p.left, fmt.Sprintf("%d faces and corners", most))
	}
	p.rounds, p.barrels, p.slopes, p.chamfers = nil, nil, nil, nil
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
