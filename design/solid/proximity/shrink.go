package proximity

import (
	"slices"

	"plansheaf/design/solid"
)

// shrunk returns the surface with every corner moved inward so that it lies by
// inset (mm) behind all triangles around it, as far as that takes it no further
// than most: the surface of the body made smaller.
//
// Going from the one surface to the other no place moves further than most, so a
// point that deep within the body stays within.
func (t *tree) shrunk(inset, most float64) *tree {
	out := *t
	// The normals around each point, one after the other.
	begin := make([]int32, len(t.points)+1)
	for _, c := range t.corners {
		for _, p := range c {
			begin[p+1]++
		}
	}
	for i := range t.points {
		begin[i+1] += begin[i]
	}
	around, filled := make([]solid.Vec, 3*len(t.corners)), make([]int32, len(t.points))
	for i, c := range t.corners {
		for _, p := range c {
			if n := t.normals[i]; n != (solid.Vec{}) && !slices.Contains(around[begin[p]:begin[p]+filled[p]], n) {
				around[begin[p]+filled[p]] = n
				filled[p]++
			}
		}
	}
	out.points = make([]solid.Vec, len(t.points))
	for i, p := range t.points {
		out.points[i] = p.Add(inward(around[begin[i]:begin[i]+filled[i]], inset, most))
	}
	out.nodes = slices.Clone(t.nodes)
	out.fit()
	return &out
}

// inward returns a short way that leads by inset behind all planes with the given
// normals, no longer than most. It steps behind one plane after the other, which
// comes to rest where there is such a way.
func inward(normals []solid.Vec, inset, most float64) (way solid.Vec) {
	const rounds = 60
	for range rounds {
		done := true
		for _, n := range normals {
			if short := way.Dot(n) + inset; short > 1e-9*inset {
				way = way.Sub(n.Mul(short))
				done = false
			}
		}
		if done {
			break
		}
	}
	if l := way.Len(); l > most {
		way = way.Mul(most / l)
	}
	return way
}
