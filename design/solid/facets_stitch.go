package solid

import (
	"fmt"
	"math"
)

// solid makes faces and edges of the regions.
func (w *weaver) solid() (*Solid, error) {
	for _, r := range w.regions {
		if r.normal == (Vec{}) {
			p := w.at[w.Triangles[r.triangles[0]][0]]
			return nil, fault("mesh", fmt.Sprintf("has a triangle without width at %.4g, %.4g, %.4g mm", p.X, p.Y, p.Z))
		}
	}
	corner := w.corners()
	s := &Solid{}
	vertex := map[int]int{}
	at := func(v int) int {
		i, ok := vertex[v]
		if !ok {
			i = len(s.Vertices)
			vertex[v] = i
			s.Vertices = append(s.Vertices, w.at[v])
		}
		return i
	}
	edges := map[int]int{} // by the least half-edge of either side
	done := make([]bool, len(w.twin))
	for i := range w.regions {
		r := &w.regions[i]
		f := Face{Surface: Plane{FrameAlong(r.origin, r.normal)}, Name: "mesh"}
		var loops []Loop
		outer := 0
		widest := math.Inf(-1)
		for _, t := range r.triangles {
			for k := range 3 {
				h := 3*t + k
				if done[h] || !w.rim(h) {
					continue
				}
				ring := w.ring(h, done)
				if a := w.ringArea(ring, r.normal); a > widest {
					outer, widest = len(loops), a
				}
				loops = append(loops, w.loop(s, ring, corner, at, edges))
			}
		}
		if len(loops) == 0 || len(loops[outer]) == 0 {
			return nil, fault("mesh", "folds onto itself")
		}
		loops[0], loops[outer] = loops[outer], loops[0]
		f.Loops = loops
		s.Faces = append(s.Faces, f)
	}
	return s.finish(), nil
}

// rim tells whether another face is on the other side of a half-edge.
func (w *weaver) rim(h int) bool { return w.flat[h/3] != w.flat[w.twin[h]/3] }

// ring follows the rim of a region from a half-edge: from its end, round the
// vertex through the region, to the next that is on the rim.
func (w *weaver) ring(h int, done []bool) []int {
	var out []int
	for !done[h] {
		done[h] = true
		out = append(out, h)
		for h = next(h); !w.rim(h); {
			h = next(w.twin[h])
		}
	}
	return out
}

func (w *weaver) ringArea(ring []int, normal Vec) float64 {
	var sum Vec
	ref := w.at[w.from(ring[0])]
	for _, h := range ring {
		sum = sum.Add(w.at[w.from(h)].Sub(ref).Cross(w.at[w.to(h)].Sub(ref)))
	}
	return sum.Dot(normal) / 2
}

// corners tells which vertices end an edge: all but those where two faces alone
// meet and their line runs straight on.
func (w *weaver) corners() []bool {
	type passing struct{ half, count int }
	ends := make([]passing, len(w.Vertices)) // half-edges of rims that begin here
	last := make([]int, len(w.Vertices))
	for h := range w.twin {
		if w.rim(h) {
			v := w.from(h)
			if ends[v].count == 0 {
				ends[v].half = h
			}
			ends[v].count++
			last[v] = h
		}
	}
	corner := make([]bool, len(w.Vertices))
	for v := range corner {
		if ends[v].count != 2 {
			corner[v] = true
			continue
		}
		// Two rims begin here, one of each face, and run apart.
		a, b := ends[v].half, last[v]
		fa, fb := w.flat[a/3], w.flat[b/3]
		if w.flat[w.twin[a]/3] != fb || w.flat[w.twin[b]/3] != fa {
			corner[v] = true
			continue
		}
		p, q, r := w.at[w.to(a)], w.at[v], w.at[w.to(b)]
		d := r.Sub(p)
		corner[v] = w.regions[fa].normal.Cross(w.regions[fb].normal).Len() < 1e-3 ||
			p.Sub(q).Dot(r.Sub(q)) >= 0 || q.Sub(p).Cross(d).Len() > Tolerance/4*d.Len()
	}
	return corner
}

// loop makes a ring into a face's loop, its edges running from corner to corner;
// the face on the other side finds them again.
func (w *weaver) loop(s *Solid, ring []int, corner []bool, at func(int) int, edges map[int]int) Loop {
	start := -1
	for i, h := range ring {
		if corner[w.from(h)] {
			start = i
			break
		}
	}
	if start < 0 {
		return nil
	}
	var out Loop
	for i := 0; i < len(ring); {
		from := ring[(start+i)%len(ring)]
		key := math.MaxInt
		to := from
		for {
			to = ring[(start+i)%len(ring)]
			key = min(key, min(to, w.twin[to]))
			i++
			if corner[w.to(to)] {
				break
			}
		}
		if e, ok := edges[key]; ok {
			out = append(out, Use{e, true})
			continue
		}
		a, b := w.at[w.from(from)], w.at[w.to(to)]
		edges[key] = len(s.Edges)
		out = append(out, Use{len(s.Edges), false})
		s.Edges = append(s.Edges, Edge{Curve: Line{a, b.Sub(a).Unit()}, T1: a.Dist(b), Start: at(w.from(from)), End: at(w.to(to))})
	}
	return out
}

// findPatches numbers the curved regions: faces that meet at small angles, at
// least one of them a narrow facet with such a neighbour on two sides.
func (s *Solid) findPatches() {
	area := make([]float64, len(s.Faces))
	for i := range s.Faces {
		area[i] = s.FaceArea(i)
	}
	// rise is how far the arc that two facets stand for leaves the one: it is as
	// wide across the edge as its area and the edge's length say.
	rise := func(face int, e *Edge, angle float64) float64 {
		return area[face] / (e.T1 - e.T0) / 2 * math.Tan(angle/4)
	}
	angles := make([]float64, len(s.Edges))
	bends := make([]int, len(s.Faces))
	for i := range s.Edges {
		e := &s.Edges[i]
		a, b := e.Faces[0], e.Faces[1]
		p := e.Point(0.5)
		n, m := s.Faces[a].Normal(p), s.Faces[b].Normal(p)
		angles[i] = math.Atan2(n.Cross(m).Len(), n.Dot(m))
		if angles[i] < facetAngle && a != b {
			for _, f := range e.Faces {
				if rise(f, e, angles[i]) < facetRise {
					bends[f]++
				}
			}
		}
	}
	patch := make([]int, len(s.Faces)) // a face nearer the root of its patch
	for i := range patch {
		patch[i] = i
	}
	root := func(f int) int {
		for patch[f] != f {
			patch[f] = patch[patch[f]]
			f = patch[f]
		}
		return f
	}
	for i := range s.Edges {
		a, b := s.Edges[i].Faces[0], s.Edges[i].Faces[1]
		narrow := func(f int) bool { return bends[f] > 1 && rise(f, &s.Edges[i], angles[i]) < facetRise }
		if angles[i] < flushAngle || angles[i] < facetAngle && (narrow(a) || narrow(b)) {
			a, b = root(a), root(b)
			patch[max(a, b)] = min(a, b)
		}
	}
	number := map[int]int{}
	size := make([]int, len(s.Faces))
	for i := range s.Faces {
		size[root(i)]++
	}
	for i := range s.Faces {
		if r := root(i); size[r] > 1 {
			if number[r] == 0 {
				number[r] = len(number) + 1
			}
			s.Faces[i].Patch = number[r]
		}
	}
}
