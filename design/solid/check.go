package solid

import (
	"fmt"
	"math"
)

// Check tells whether the solid is sound: every loop runs on from edge to edge,
// every edge is run through once each way, edges lie on both their surfaces and
// between their vertices, and the volume is positive. Solids from this package
// pass; it is there for tests and for solids read from elsewhere.
func (s *Solid) Check() error {
	used := make([][2]int, len(s.Edges))
	for f := range s.Faces {
		for l, loop := range s.Faces[f].Loops {
			if len(loop) == 0 {
				return fmt.Errorf("face %d (%s): loop %d is empty", f, s.Faces[f].Name, l)
			}
			for i, u := range loop {
				_, to := s.ends(u)
				from, _ := s.ends(loop[(i+1)%len(loop)])
				if to != from {
					return fmt.Errorf("face %d (%s): loop %d breaks off after edge %d", f, s.Faces[f].Name, l, u.Edge)
				}
				side := 0
				if u.Reversed {
					side = 1
				}
				used[u.Edge][side]++
			}
		}
	}
	for i := range s.Edges {
		e := &s.Edges[i]
		if used[i] != [2]int{1, 1} {
			return fmt.Errorf("edge %d is run through %d times along and %d against", i, used[i][0], used[i][1])
		}
		if e.T1 <= e.T0 {
			return fmt.Errorf("edge %d has no length", i)
		}
		if e.Point(0).Dist(s.Vertices[e.Start]) > 2*mergeDistance || e.Point(1).Dist(s.Vertices[e.End]) > 2*mergeDistance {
			return fmt.Errorf("edge %d does not run between its vertices", i)
		}
		for _, f := range e.Faces {
			for _, k := range []float64{0.2, 0.5, 0.8} {
				if d := math.Abs(s.Faces[f].Surface.Off(e.Point(k))); d > sameCurveDistance {
					return fmt.Errorf("edge %d lies %.3g mm off face %d (%s)", i, d, f, s.Faces[f].Name)
				}
			}
		}
	}
	if v := s.Measure().Volume; len(s.Faces) > 0 && !(v > 0) {
		return fmt.Errorf("volume is %g", v)
	}
	return nil
}

// ends returns the vertices an edge use runs from and to.
func (s *Solid) ends(u Use) (from, to int) {
	e := &s.Edges[u.Edge]
	if u.Reversed {
		return e.End, e.Start
	}
	return e.Start, e.End
}

// Euler returns the Euler characteristic of the boundary: 2 for each body less
// 2 for each tunnel through it, more where bodies touch in single points. Every
// face counts as a sphere with a hole for each loop.
func (s *Solid) Euler() int {
	n := len(s.Vertices) - len(s.Edges)
	for _, f := range s.Faces {
		n += 2 - len(f.Loops)
	}
	return n
}
