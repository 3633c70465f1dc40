package sheet

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

// A slope is a straight side that runs askew in a plane across an axis: the slanted
// side of a plate, the bevel of a block. Its ends are where its line meets those of
// its neighbours, also where the corner between them is round.
type slope struct {
	normal solid.Axis
	ends   [2]solid.Vec
	real   [2]solid.Vec // where the straight piece ends
	beside [2]solid.Vec // unit direction of the straight neighbour at each end, away from it; zero for none
}

// dir is the unit vector from one end, 0 or 1, to the other.
func (s slope) dir(from int) solid.Vec { return s.ends[1-from].Sub(s.ends[from]).Unit() }

// plane are the two axes in which the slope runs.
func (s slope) plane() [2]solid.Axis { return planeOf(s.normal) }

func planeOf(normal solid.Axis) [2]solid.Axis {
	var plane []solid.Axis
	for _, axis := range axes {
		if axis != normal {
			plane = append(plane, axis)
		}
	}
	return [2]solid.Axis{plane[0], plane[1]}
}

// flatten drops what a point has along an axis.
func flatten(v solid.Vec, normal solid.Axis) solid.Vec {
	return v.Sub(normal.Vec().Mul(on(v, normal)))
}

// slopeNormal is the axis across which a direction runs askew; false for what is
// straight, and for what leans along all three axes.
func slopeNormal(d solid.Vec) (solid.Axis, bool) {
	if straight(d) {
		return 0, false
	}
	for _, axis := range axes {
		if math.Abs(on(d, axis)) < 1e-9 {
			return axis, true
		}
	}
	return 0, false
}

// edgesAround lists the edges at each vertex.
func (p *part) edgesAround() [][]int {
	around := make([][]int, len(p.solid.Vertices))
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		around[e.Start] = append(around[e.Start], i)
		if e.End != e.Start {
			around[e.End] = append(around[e.End], i)
		}
	}
	return around
}

// readSlopes finds the slanted sides; the edges of one side at either end of a
// prism count once. A bar's section comes with the stock, a plate's thickness too.
func (p *part) readSlopes(around [][]int) {
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		line, isLine := e.Curve.(solid.Line)
		if !isLine || p.skip[e.Faces[0]] || p.skip[e.Faces[1]] {
			continue
		}
		normal, askew := slopeNormal(line.D.Unit())
		if !askew {
			continue
		}
		s := slope{normal: normal}
		if plane := s.plane(); !p.places(plane[0]) && !p.places(plane[1]) {
			continue
		}
		for k, vertex := range [2]int{e.Start, e.End} {
			s.real[k] = p.solid.Vertices[vertex]
			s.ends[k], s.beside[k] = p.sharp(i, vertex, normal, around)
		}
		if !slices.ContainsFunc(p.slopes, s.same) {
			p.slopes = append(p.slopes, s)
		}
	}
}

// same reports whether two slopes look alike along their normal.
func (s slope) same(o slope) bool {
	if s.normal != o.normal {
		return false
	}
	close := func(i, j int) bool {
		return flatten(s.real[i], s.normal).Dist(flatten(o.real[j], s.normal)) < near
	}
	return close(0, 0) && close(1, 1) || close(0, 1) && close(1, 0)
}

// sharp is where an edge's line meets that of its neighbour at a vertex in the plane
// across an axis: the vertex itself, or beyond the arc that rounds the corner; with
// the neighbour's direction.
func (p *part) sharp(index, vertex int, normal solid.Axis, around [][]int) (corner, beside solid.Vec) {
	e := &p.solid.Edges[index]
	corner = p.solid.Vertices[vertex]
	own := e.Curve.Tangent(e.T0).Unit()
	next := p.neighbour(index, vertex, normal, around)
	if next < 0 {
		return corner, solid.Vec{}
	}
	n := &p.solid.Edges[next]
	far := n.Start + n.End - vertex
	if _, isLine := n.Curve.(solid.Line); isLine {
		return corner, p.solid.Vertices[far].Sub(corner).Unit()
	}
	if math.Abs(p.tangentAt(next, vertex).Dot(own)) < 1-1e-6 {
		return corner, solid.Vec{} // the arc meets it at a corner
	}
	third := p.neighbour(next, far, normal, around)
	if third < 0 {
		return corner, solid.Vec{}
	}
	t := &p.solid.Edges[third]
	line, isLine := t.Curve.(solid.Line)
	if !isLine || math.Abs(p.tangentAt(next, far).Dot(line.D.Unit())) < 1-1e-6 {
		return corner, solid.Vec{}
	}
	from := p.solid.Vertices[far]
	beside = p.solid.Vertices[t.Start+t.End-far].Sub(from).Unit()
	cross := own.Cross(beside)
	if cross.Len() < 1e-6 { // the arc turns right round
		return corner, solid.Vec{}
	}
	along := from.Sub(corner).Cross(beside).Dot(cross) / cross.Dot(cross)
	return corner.Add(own.Mul(along)), beside
}

// neighbour is the edge that runs on from another at a vertex in the plane across an
// axis, -1 for none or several.
func (p *part) neighbour(index, vertex int, normal solid.Axis, around [][]int) int {
	found := -1
	for _, j := range around[vertex] {
		e := &p.solid.Edges[j]
		if j == index || e.Closed() {
			continue
		}
		switch c := e.Curve.(type) {
		case solid.Line:
			if math.Abs(on(c.D.Unit(), normal)) > 1e-9 {
				continue
			}
		case solid.Circle:
			if !sameAxis(c.Z, normal) {
				continue
			}
		default:
			continue
		}
		if found >= 0 {
			return -1
		}
		found = j
	}
	return found
}

// tangentAt is the unit tangent of an edge at one of its vertices.
func (p *part) tangentAt(index, vertex int) solid.Vec {
	e := &p.solid.Edges[index]
	if e.End == vertex {
		return e.Curve.Tangent(e.T1).Unit()
	}
	return e.Curve.Tangent(e.T0).Unit()
}

// A link is two levels of an axis that a dimension joins.
type link struct {
	axis solid.Axis
	a, b float64
}

// A bevel is one place where a chamfer is: a slope, or a short cone about an axis.
type bevel struct {
	normal solid.Axis // of a slope: across its plane
	middle solid.Vec  // of the slope; of the cone's axis
	out    solid.Vec  // of a slope: unit vector away from the material
	axis   solid.Axis // of a cone
	radius float64    // of a cone, in its middle; 0 for a slope
	rise   float64    // by how much a cone's radius grows from end to end
	name   string     // of a cone's face
	links  []link
}

// A chamfer is corners or rims broken at 45 degrees, all of one size.
type chamfer struct {
	leg float64 // mm
	at  []bevel
}

// Chamfers are corners broken at 45 degrees, no larger than this share of the part's
// least size across them; larger ones are slanted sides.
const chamferShare = 0.25

// readChamfers takes the slopes that are chamfers out of the slopes.
func (p *part) readChamfers() {
	var rest []slope
	for _, s := range p.slopes {
		plane := s.plane()
		off := s.ends[1].Sub(s.ends[0])
		leg := math.Abs(on(off, plane[0]))
		least := min(on(p.box.Size(), plane[0]), on(p.box.Size(), plane[1]))
		neighbours := s.beside[0] != (solid.Vec{}) && s.beside[1] != (solid.Vec{}) && straight(s.beside[0]) && straight(s.beside[1]) &&
			math.Abs(s.beside[0].Dot(s.beside[1])) < 1e-9
		if !neighbours || math.Abs(leg-math.Abs(on(off, plane[1]))) > near || leg > chamferShare*least || s.ends != s.real ||
			!p.places(plane[0]) || !p.places(plane[1]) {
			rest = append(rest, s)
			continue
		}
		b := bevel{normal: s.normal, middle: s.ends[0].Add(s.ends[1]).Mul(0.5), out: s.beside[0].Add(s.beside[1]).Mul(-1).Unit()}
		for _, axis := range plane {
			b.links = append(b.links, link{axis, on(s.ends[0], axis), on(s.ends[1], axis)})
		}
		p.addChamfer(leg, b)
	}
	p.slopes = rest
}

func (p *part) addChamfer(leg float64, b bevel) {
	for i := range p.chamfers {
		if math.Abs(p.chamfers[i].leg-leg) < near {
			p.chamfers[i].at = append(p.chamfers[i].at, b)
			return
		}
	}
	p.chamfers = append(p.chamfers, chamfer{leg, []bevel{b}})
}

// rimChamfer takes a cone at the end of a round step as a chamfer. It reports
// whether it is one: 45 degrees, and short beside the step.
func (p *part) rimChamfer(name string, axis solid.Axis, circles []solid.Circle) bool {
	if len(circles) != 2 {
		return false
	}
	a, b := circles[0], circles[1]
	from, to := on(a.O, axis), on(b.O, axis)
	leg := math.Abs(to - from)
	if math.Abs(math.Abs(a.R-b.R)-leg) > near || leg > chamferShare*2*max(a.R, b.R) || !p.places(axis) {
		return false
	}
	wide := a
	if b.R > a.R {
		wide = b
	}
	if !p.hasBarrel(axis, wide) {
		return false
	}
	p.addChamfer(leg, bevel{name: name, middle: a.O.Add(b.O).Mul(0.5), axis: axis, radius: (a.R + b.R) / 2, links: []link{{axis, from, to}}})
	return true
}
