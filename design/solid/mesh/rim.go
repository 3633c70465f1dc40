package mesh

import (
	"fmt"
	"math"
	"sort"

	"plansheaf/design/solid"
)

// add counts a place where a fault shows, keeping the first.
func (f *Fault) add(at solid.Vec) {
	if f.Count == 0 {
		f.At = at
	}
	f.Count++
}

// flat finds triangles whose three corners are different but stand in one line.
func (m *Mesh) flat() []Fault {
	f := Fault{Kind: Degenerate}
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		long := math.Max(a.Dist(b), math.Max(b.Dist(c), c.Dist(a)))
		if b.Sub(a).Cross(c.Sub(a)).Len() <= solid.Tolerance*long {
			f.add(a.Add(b).Add(c).Mul(1.0 / 3))
		}
	}
	if f.Count == 0 {
		return nil
	}
	f.Reason = fmt.Sprintf("%s without area: all corners in one line, one near %s", counted(f.Count, "triangle is", "triangles are"), place(f.At))
	return []Fault{f}
}

// rims finds sides without just one neighbour: open ones, ones on which a corner of
// a neighbour stands, and ones where more than two triangles meet.
func (m *Mesh) rims(sides map[[2]int][]side, order [][2]int) []Fault {
	branching, open, unsplit := Fault{Kind: Branching}, Fault{Kind: Open}, Fault{Kind: Unsplit}
	middle := func(s [2]int) solid.Vec { return m.Vertices[s[0]].Add(m.Vertices[s[1]]).Mul(0.5) }
	var lone [][2]int
	for _, key := range order {
		switch n := len(sides[key]); {
		case n == 1:
			lone = append(lone, key)
		case n > 2:
			branching.add(middle(key))
		}
	}
	explained := m.split(lone, &unsplit)
	for _, key := range lone {
		if !explained[key] {
			open.add(middle(key))
		}
	}
	var faults []Fault
	if branching.Count > 0 {
		branching.Reason = fmt.Sprintf("more than two triangles meet in %s, one near %s; which of them bound the body cannot be told", counted(branching.Count, "side", "sides"), place(branching.At))
		faults = append(faults, branching)
	}
	if unsplit.Count > 0 {
		unsplit.Reason = fmt.Sprintf("a corner of a neighbour stands on %s of triangles, one near %s (a T-junction); they must be divided there", counted(unsplit.Count, "side", "sides"), place(unsplit.At))
		faults = append(faults, unsplit)
	}
	if open.Count > 0 {
		open.Reason = fmt.Sprintf("the mesh is open: %s, one near %s; it does not enclose a body", counted(open.Count, "side of a triangle has no neighbour", "sides of triangles have no neighbour"), place(open.At))
		faults = append(faults, open)
	}
	return faults
}

// mostOnSides bounds how many pairs of an open side and a corner are looked at.
const mostOnSides = 20_000_000

// split finds the lone sides on which corners of other lone sides stand, and counts
// them. It returns all that this explains: those sides, and the pieces along them.
func (m *Mesh) split(lone [][2]int, unsplit *Fault) map[[2]int]bool {
	explained := map[[2]int]bool{}
	is := map[[2]int]bool{}
	var corners []int
	seen := map[int]bool{}
	for _, s := range lone {
		is[s] = true
		for _, v := range s {
			if !seen[v] {
				seen[v] = true
				corners = append(corners, v)
			}
		}
	}
	sort.Slice(corners, func(i, j int) bool {
		a, b := m.Vertices[corners[i]], m.Vertices[corners[j]]
		return a.X < b.X || a.X == b.X && corners[i] < corners[j]
	})
	reach, looked := 2*m.reach(), 0
	for _, s := range lone {
		a, b := m.Vertices[s[0]], m.Vertices[s[1]]
		long := a.Dist(b)
		way := b.Sub(a).Mul(1 / long)
		from := sort.Search(len(corners), func(i int) bool { return m.Vertices[corners[i]].X >= math.Min(a.X, b.X)-reach })
		on := []int{s[0], s[1]}
		for _, v := range corners[from:] {
			p := m.Vertices[v]
			if looked++; p.X > math.Max(a.X, b.X)+reach || looked > mostOnSides {
				break
			}
			if v == s[0] || v == s[1] {
				continue
			}
			if t := p.Sub(a).Dot(way); t > reach && t < long-reach && p.Dist(a.Add(way.Mul(t))) <= reach {
				on = append(on, v)
			}
		}
		if len(on) == 2 {
			continue
		}
		// In the order along the side, what lies between two neighbours is a piece.
		sort.SliceStable(on, func(i, j int) bool {
			return m.Vertices[on[i]].Sub(a).Dot(way) < m.Vertices[on[j]].Sub(a).Dot(way)
		})
		whole := true
		for i := 0; i+1 < len(on); i++ {
			whole = whole && is[[2]int{min(on[i], on[i+1]), max(on[i], on[i+1])}]
		}
		if !whole {
			continue // a gap is there too
		}
		unsplit.add(m.Vertices[on[1]])
		explained[s] = true
		for i := 0; i+1 < len(on); i++ {
			explained[[2]int{min(on[i], on[i+1]), max(on[i], on[i+1])}] = true
		}
	}
	return explained
}
