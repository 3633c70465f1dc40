package sheet

import (
	"fmt"
	"math"

	"plansheaf/design/solid"
)

// circleOf is the pitch circle of a group whose holes stand evenly on one: at
// least three, and no rectangle, which reads better by rows and columns.
func (p *part) circleOf(g group) (centre solid.Vec, radius float64, ok bool) {
	n := len(g.holes)
	if n < 3 || n == 4 && p.gridOf(g) {
		return
	}
	for _, h := range g.holes {
		centre = centre.Add(p.holes[h].at.Mul(1 / float64(n)))
	}
	radius = p.holes[g.holes[0]].at.Dist(centre)
	if radius < 10*near {
		return
	}
	chord := 2 * radius * math.Sin(math.Pi/float64(n))
	for i, h := range g.holes {
		at, next := p.holes[h].at, p.holes[g.holes[(i+1)%n]].at
		if math.Abs(at.Dist(centre)-radius) > near || math.Abs(at.Dist(next)-chord) > near {
			return centre, radius, false
		}
	}
	return centre, radius, true
}

// gridOf reports whether a group fills rows and columns along the axes.
func (p *part) gridOf(g group) bool {
	places := 1
	dir := p.holes[g.holes[0]].dir
	for _, axis := range axes {
		if sameAxis(dir, axis) {
			continue
		}
		var seen []float64
		for _, h := range g.holes {
			at := on(p.holes[h].at, axis)
			known := false
			for _, s := range seen {
				known = known || math.Abs(s-at) < near
			}
			if !known {
				seen = append(seen, at)
			}
		}
		places *= len(seen)
	}
	return places == len(g.holes)
}

// rings dimensions groups that stand on a pitch circle: its diameter and
// spacing; the centre becomes a level of its own and the holes' levels hang on
// it.
func (s *scheme) rings() {
	p := s.part
	for i, g := range p.groups {
		centre, radius, ok := p.circleOf(g)
		if !ok {
			continue
		}
		free := true
		for _, axis := range axes {
			if !sameAxis(p.holes[g.holes[0]].dir, axis) {
				free = free && s.apart(axis, s.levelsOf(g, axis))
			}
		}
		if !free {
			continue
		}
		n := len(g.holes)
		for _, axis := range axes {
			if sameAxis(p.holes[g.holes[0]].dir, axis) {
				continue
			}
			middle := p.levelAt(axis, on(centre, axis))
			if middle < 0 {
				p.levels[axis] = append(p.levels[axis], level{at: on(centre, axis), names: []string{g.pattern}})
				middle = len(p.levels[axis]) - 1
				s.sets[axis] = append(s.sets[axis], middle)
			}
			s.middle[axis][middle] = true
			for _, at := range s.levelsOf(g, axis) {
				s.tie(axis, middle, at, "ring")
			}
		}
		s.list = append(s.list, Dimension{Kind: Ring, Value: 2 * radius, Count: n, group: i, To: g.pattern,
			Text: fmt.Sprintf("%d× %s° on ⌀%s", n, decimals(360/float64(n), 2), s.system.both(2*radius)) + p.firstOf(g, centre)})
		p.reference(g, centre)
	}
}

// firstOf says where a ring begins when none of its holes lies level with its
// middle or straight above or below it.
func (p *part) firstOf(g group, centre solid.Vec) string {
	first := p.holes[g.holes[0]]
	var plane []solid.Axis
	for _, axis := range axes {
		if !sameAxis(first.dir, axis) {
			plane = append(plane, axis)
		}
	}
	least := 360.0
	for _, h := range g.holes {
		off := p.holes[h].at.Sub(centre)
		angle := math.Atan2(on(off, plane[1]), on(off, plane[0])) * 180 / math.Pi
		if quarter := math.Abs(math.Remainder(angle, 90)); quarter < 1e-4 {
			return ""
		}
		if angle > 0 && angle < least {
			least = angle
		}
	}
	return fmt.Sprintf(", first %s° from %s", decimals(least, 2), plane[0])
}

// reference keeps the pitch circle of a group for the drawing.
func (p *part) reference(g group, centre solid.Vec) {
	if p.circles == nil {
		p.circles = map[string]solid.Vec{}
	}
	p.circles[g.pattern] = centre
}
