package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// readBores finds round inner walls that are no hole of the plan: cylinders cut
// away from a body.
func (p *part) readBores() {
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cylinder, round := f.Surface.(solid.Cylinder)
		if !round || !f.Inward || p.skip[i] || !straight(cylinder.Z) || !p.fullTurn(f) {
			continue
		}
		if p.body == Bar && sameAxis(cylinder.Z, p.along) {
			continue // the bore of a tube comes with the stock
		}
		box := f.Box()
		axis, _ := axisOf(cylinder.Z)
		low, high := on(box.Min, axis), on(box.Max, axis)
		dir := axis.Vec().Mul(-1)
		mouth := cylinder.O.Add(axis.Vec().Mul(high - on(cylinder.O, axis)))
		openHigh, openLow := p.opensAt(mouth, axis.Vec()), p.opensAt(mouth.Sub(axis.Vec().Mul(high-low)), dir)
		if !openHigh && openLow {
			mouth, dir = mouth.Sub(axis.Vec().Mul(high-low)), axis.Vec()
		}
		p.skip[i] = true
		name := p.boreName(f.Name)
		p.holes = append(p.holes, hole{name: name, pattern: name, at: mouth, dir: dir, d: 2 * cylinder.R,
			depth: high - low, through: openHigh && openLow, thread: f.Thread})
	}
}

// boreName is a name for a bore that no other hole bears.
func (p *part) boreName(face string) string {
	face = cmp.Or(face, "bore")
	name := face
	for n := 2; len(p.holesNamed(name)) > 0; n++ {
		name = fmt.Sprintf("%s.%d", face, n)
	}
	return name
}

// opensAt reports whether nothing lies beyond a point in a direction.
func (p *part) opensAt(at, dir solid.Vec) bool {
	const step = 0.01 // mm
	return !p.solid.Contains(at.Add(dir.Mul(step)))
}

// fullTurn reports whether a round face runs all the way about its axis.
func (p *part) fullTurn(f *solid.Face) bool {
	for _, loop := range f.Loops {
		turn := 0.0
		for _, use := range loop {
			e := &p.solid.Edges[use.Edge]
			if _, ok := e.Curve.(solid.Line); ok {
				turn = 0
				break
			}
			if e.Closed() {
				return true
			}
			turn += e.T1 - e.T0
		}
		if turn > 2*math.Pi-1e-6 {
			return true
		}
	}
	return false
}

func sameAxis(v solid.Vec, a solid.Axis) bool { return math.Abs(v.Dot(a.Vec())) > 1-1e-9 }

// readBarrels finds outer round faces that run all the way about an axis.
func (p *part) readBarrels() {
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cylinder, round := f.Surface.(solid.Cylinder)
		if !round || f.Inward || p.skip[i] || !straight(cylinder.Z) || !p.fullTurn(f) {
			continue
		}
		axis, _ := axisOf(cylinder.Z)
		from, to := on(f.Box().Min, axis), on(f.Box().Max, axis)
		centre := cylinder.O.Add(axis.Vec().Mul((from+to)/2 - on(cylinder.O, axis)))
		p.barrels = append(p.barrels, barrel{axis: axis, centre: centre, d: 2 * cylinder.R, from: from, to: to, thread: f.Thread, name: f.Name})
	}
	slices.SortStableFunc(p.barrels, func(a, b barrel) int { return compare(a.from, b.from) })
}

// readTapers adds the diameters at the ends of outer cones that no round step
// beside them gives.
func (p *part) readTapers() {
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cone, tapered := f.Surface.(solid.Cone)
		if !tapered || f.Inward || p.skip[i] || !straight(cone.Z) {
			continue
		}
		axis, _ := axisOf(cone.Z)
		var circles []solid.Circle
		for _, loop := range f.Loops {
			for _, use := range loop {
				if c, ring := p.solid.Edges[use.Edge].Curve.(solid.Circle); ring && sameAxis(c.Z, axis) {
					circles = append(circles, c)
				}
			}
		}
		if p.rimChamfer(f.Name, axis, circles) {
			continue
		}
		if len(circles) == 2 && p.places(axis) {
			a, b := circles[0], circles[1]
			p.cones = append(p.cones, bevel{name: f.Name, middle: a.O.Add(b.O).Mul(0.5), axis: axis, radius: (a.R + b.R) / 2,
				rise: math.Abs(a.R - b.R), links: []link{{axis, on(a.O, axis), on(b.O, axis)}}})
		}
		for _, c := range circles {
			if at := on(c.O, axis); !p.hasBarrel(axis, c) {
				p.barrels = append(p.barrels, barrel{axis: axis, centre: c.O, d: 2 * c.R, from: at, to: at, name: f.Name})
			}
		}
	}
}

// hasBarrel reports whether a round step ends in a circle.
func (p *part) hasBarrel(axis solid.Axis, c solid.Circle) bool {
	at := on(c.O, axis)
	return slices.ContainsFunc(p.barrels, func(b barrel) bool {
		return b.axis == axis && math.Abs(b.d-2*c.R) < near && (math.Abs(b.from-at) < near || math.Abs(b.to-at) < near)
	})
}

// readRoundings finds corner arcs that meet their neighbours smoothly: a radius
// says all of them.
func (p *part) readRoundings() {
	if p.body == Bar {
		return // corners of a section come with the stock
	}
	seen := map[int]bool{}
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cylinder, round := f.Surface.(solid.Cylinder)
		if !round || p.skip[i] || !straight(cylinder.Z) || p.fullTurn(f) {
			continue
		}
		for _, loop := range f.Loops {
			for _, use := range loop {
				e := &p.solid.Edges[use.Edge]
				c, arc := e.Curve.(solid.Circle)
				if !arc || seen[use.Edge] {
					continue
				}
				seen[use.Edge] = true
				p.addRounding(c, e, f)
				break // one end of the face stands for it
			}
			break
		}
	}
	slices.SortStableFunc(p.rounds, func(a, b rounding) int { return compare(a.radius, b.radius) })
}

func (p *part) addRounding(c solid.Circle, e *solid.Edge, f *solid.Face) {
	at := slices.IndexFunc(p.rounds, func(r rounding) bool { return math.Abs(r.radius-c.R) < near })
	if at < 0 {
		at = len(p.rounds)
		p.rounds = append(p.rounds, rounding{radius: c.R})
	}
	r := &p.rounds[at]
	r.at, r.sweep = append(r.at, c), append(r.sweep, [2]float64{e.T0, e.T1})
	r.inside, r.names = append(r.inside, f.Inward), append(r.names, f.Name)
}
