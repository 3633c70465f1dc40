package mesh

import (
	"fmt"
	"math"

	"plansheaf/design/solid"
)

// MaxBodies is how many separate bodies and cavities a mesh may have.
const MaxBodies = 200

// side is a triangle's side: which triangle, and whether it runs from the lower
// vertex to the higher.
type side struct {
	triangle int
	up       bool
}

// check lists what keeps the triangles from enclosing a body.
func (m *Mesh) check() []Fault {
	sides := map[[2]int][]side{}
	var order [][2]int
	doubled, repeats := m.doubled()
	for i, t := range m.Triangles {
		if repeats[i] {
			continue // said already; what else is wrong is told without it
		}
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			key := [2]int{min(a, b), max(a, b)}
			if sides[key] == nil {
				order = append(order, key)
			}
			sides[key] = append(sides[key], side{i, a < b})
		}
	}
	var faults []Fault
	if doubled != nil {
		faults = append(faults, *doubled)
	}
	faults = append(faults, m.flat()...)
	faults = append(faults, m.rims(sides, order)...)
	bodies, f := m.bodies(sides, order)
	if f != nil {
		faults = append(faults, *f)
	}
	if len(faults) == 0 {
		faults = m.crossing()
	}
	if len(faults) == 0 {
		faults = m.checkBodies(bodies)
	}
	return faults
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// doubled finds triangles with the same corners that face the same way as an earlier
// one, and tells which they are.
func (m *Mesh) doubled() (*Fault, []bool) {
	seen := map[[3]int]bool{}
	repeats := make([]bool, len(m.Triangles))
	f := Fault{Kind: Doubled}
	for i, t := range m.Triangles {
		key, _ := sorted(t)
		if repeats[i] = seen[key]; repeats[i] {
			f.add(m.Vertices[t[0]])
		}
		seen[key] = true
	}
	if f.Count == 0 {
		return nil, repeats
	}
	f.Reason = fmt.Sprintf("%s, one near %s", counted(f.Count, "triangle lies on another", "triangles lie on others"), place(f.At))
	return &f, repeats
}

// link leads from a triangle to its neighbour across a side; differ tells that
// the two face different ways.
type link struct {
	to     int
	differ bool
}

// linked lists each triangle's links. Where more than two meet in a side, only the
// balance of both ways can be told, so nothing is said there.
func linked(sides map[[2]int][]side, order [][2]int, triangles int) [][]link {
	links := make([][]link, triangles)
	for _, key := range order {
		if s := sides[key]; len(s) == 2 {
			differ := s[0].up == s[1].up
			links[s[0].triangle] = append(links[s[0].triangle], link{s[1].triangle, differ})
			links[s[1].triangle] = append(links[s[1].triangle], link{s[0].triangle, differ})
		}
	}
	return links
}

// bodies returns the triangles that hang together, and the fault that some of them
// face the other way than their neighbours do.
func (m *Mesh) bodies(sides map[[2]int][]side, order [][2]int) ([][]int, *Fault) {
	links := linked(sides, order, len(m.Triangles))
	var bodies [][]int
	turned := make([]int8, len(m.Triangles)) // 0 not reached, 1 as the first, -1 the other way
	f := Fault{Kind: Inverted}
	for start := range m.Triangles {
		if turned[start] != 0 {
			continue
		}
		body := []int{start}
		turned[start] = 1
		other, twisted := []int(nil), false
		for i := 0; i < len(body); i++ {
			for _, l := range links[body[i]] {
				want := turned[body[i]]
				if l.differ {
					want = -want
				}
				if turned[l.to] == 0 {
					turned[l.to] = want
					body = append(body, l.to)
				}
				twisted = twisted || turned[l.to] != want
			}
			if turned[body[i]] < 0 {
				other = append(other, body[i])
			}
		}
		bodies = append(bodies, body)
		n, at := len(other), start
		if n > 0 {
			at = other[0]
		}
		if 2*n > len(body) {
			n, at = len(body)-n, start
		}
		if twisted {
			n = max(n, 1)
		}
		if n > 0 && f.Count == 0 {
			f.At = m.Vertices[m.Triangles[at][0]]
		}
		f.Count += n
	}
	if f.Count == 0 {
		return bodies, nil
	}
	f.Reason = fmt.Sprintf("%s the other way than the neighbours, one near %s", counted(f.Count, "triangle faces", "triangles face"), place(f.At))
	return bodies, &f
}

// checkBodies tells whether every closed surface has material on its inner side,
// cavities on their outer.
func (m *Mesh) checkBodies(bodies [][]int) []Fault {
	if len(bodies) > MaxBodies {
		return []Fault{{Kind: TooLarge, Count: len(bodies), Reason: fmt.Sprintf("the mesh has %d separate bodies and cavities, more than %d", len(bodies), MaxBodies)}}
	}
	f := Fault{Kind: Inverted}
	total := 0.0
	boxes := make([]solid.Box, len(bodies))
	for i, body := range bodies {
		boxes[i] = solid.EmptyBox()
		for _, j := range body {
			for _, v := range m.Triangles[j] {
				boxes[i] = boxes[i].Add(m.Vertices[v])
			}
		}
	}
	for i, body := range bodies {
		v := m.volume(body)
		total += v
		// A surface facing outward must lie in the open, one facing inward within
		// just one that faces outward.
		if depth := m.depth(bodies, boxes, i); depth%2 == 0 != (v > 0) {
			if f.Count == 0 {
				f.At = m.Vertices[m.Triangles[body[0]][0]]
			}
			f.Count++
		}
	}
	if f.Count > 0 {
		what := "the mesh is inside out: its triangles face inward"
		if len(bodies) > 1 {
			what = fmt.Sprintf("%d of the mesh's %d closed surfaces face the wrong way, one near %s", f.Count, len(bodies), place(f.At))
		}
		f.Reason = what
		return []Fault{f}
	}
	if !(total > 0) {
		return []Fault{{Kind: Empty, Reason: "the mesh encloses no volume"}}
	}
	return nil
}

// volume is what triangles enclose, mm³.
func (m *Mesh) volume(body []int) float64 {
	ref := m.Vertices[m.Triangles[body[0]][0]]
	sum := 0.0
	for _, i := range body {
		t := m.Triangles[i]
		a, b, c := m.Vertices[t[0]].Sub(ref), m.Vertices[t[1]].Sub(ref), m.Vertices[t[2]].Sub(ref)
		sum += a.Dot(b.Cross(c)) / 6
	}
	return sum
}

// depth is how many of the other closed surfaces hold a body: a ray from the
// middle of one of its triangles, in a direction without a relation to the axes,
// crosses each of them an odd number of times.
func (m *Mesh) depth(bodies [][]int, boxes []solid.Box, body int) int {
	if len(bodies) == 1 {
		return 0
	}
	t := m.Triangles[bodies[body][0]]
	o := m.Vertices[t[0]].Add(m.Vertices[t[1]]).Add(m.Vertices[t[2]]).Mul(1.0 / 3)
	d := solid.Vec{X: 0.5363, Y: 0.2871, Z: 0.7937}
	n := 0
	for i, other := range bodies {
		if i == body || !boxes[i].Holds(o) {
			continue
		}
		in := false
		for _, j := range other {
			if m.crosses(j, o, d) {
				in = !in
			}
		}
		if in {
			n++
		}
	}
	return n
}

// crosses tells whether the ray meets a triangle. Seen along the ray, the origin
// lies in the triangle; sides are judged the same from both triangles beside them.
func (m *Mesh) crosses(triangle int, o, d solid.Vec) bool {
	t := m.Triangles[triangle]
	var w [3]float64
	sum := 0.0
	for k := range t {
		i, j := t[k], t[(k+1)%3]
		sign := 1.0
		if i > j {
			i, j, sign = j, i, -1
		}
		w[k] = sign * m.Vertices[i].Sub(o).Cross(m.Vertices[j].Sub(o)).Dot(d)
		sum += w[k]
	}
	if (w[0] > 0) != (w[1] > 0) || (w[1] > 0) != (w[2] > 0) || sum == 0 {
		return false
	}
	// w[k] weighs the corner across from side k.
	at := 0.0
	for k := range t {
		at += w[k] * m.Vertices[t[(k+2)%3]].Sub(o).Dot(d)
	}
	return at/sum > 0 && !math.IsInf(at/sum, 0)
}
