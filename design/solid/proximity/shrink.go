package proximity

import "plansheaf/design/solid"

// shrunk returns the surface with every corner moved inward so that it lies by
// inset (mm) behind all triangles around it, as far as that takes it no further
// than most: the surface of the body made smaller.
//
// Going from the one surface to the other no place moves further than most, so a
// point that deep within the body stays within.
func (t *tree) shrunk(inset, most float64) *tree {
	normals := map[solid.Vec][]solid.Vec{}
	for i := range t.triangles {
		c := &t.triangles[i]
		n := c.normal()
		if n == (solid.Vec{}) {
			continue
		}
		for _, p := range c {
			normals[p] = append(normals[p], n)
		}
	}
	out := &tree{stray: t.stray, faces: append([]kind(nil), t.faces...), triangles: make([]triangle, len(t.triangles))}
	moved := make(map[solid.Vec]solid.Vec, len(normals))
	for i := range t.triangles {
		for k, p := range t.triangles[i] {
			q, known := moved[p]
			if !known {
				q = p.Add(inward(normals[p], inset, most))
				moved[p] = q
			}
			out.triangles[i][k] = q
		}
	}
	out.build()
	out.shells = make([]solid.Vec, len(t.shells))
	for i, p := range t.shells {
		out.shells[i] = moved[p]
	}
	return out
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
