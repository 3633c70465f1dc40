package solid

import "math"

// mergeDistance (mm) is how near two points worked out in different ways must
// come to be one vertex.
const mergeDistance = 3 * Tolerance

// sameCurveDistance (mm) is how near the middles of two curves between the same
// two vertices must come for them to be one edge.
const sameCurveDistance = 5 * mergeDistance

// vertexTable holds points, each once.
type vertexTable struct {
	at    []Vec
	cells map[[3]int32][]int32
	// columns sorts vertices roughly by place for searches in a box.
	coarse map[[3]int32][]int32
}

const (
	fineCell   = 1e-3 // mm
	coarseCell = 8.0  // mm
)

func (t *vertexTable) init() {
	t.cells, t.coarse = map[[3]int32][]int32{}, map[[3]int32][]int32{}
}

func cellOf(p Vec, size float64) [3]int32 {
	return [3]int32{int32(math.Floor(p.X / size)), int32(math.Floor(p.Y / size)), int32(math.Floor(p.Z / size))}
}

// add returns the vertex at p, a new one if there is none.
func (t *vertexTable) add(p Vec) int {
	lo, hi := cellOf(p.Sub(Vec{mergeDistance, mergeDistance, mergeDistance}), fineCell), cellOf(p.Add(Vec{mergeDistance, mergeDistance, mergeDistance}), fineCell)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				for _, v := range t.cells[[3]int32{x, y, z}] {
					if t.at[v].Dist(p) < mergeDistance {
						return int(v)
					}
				}
			}
		}
	}
	v := int32(len(t.at))
	t.at = append(t.at, p)
	c := cellOf(p, fineCell)
	t.cells[c] = append(t.cells[c], v)
	k := cellOf(p, coarseCell)
	t.coarse[k] = append(t.coarse[k], v)
	return int(v)
}

// inBox calls visit for every vertex in a box, in order of place, then of age.
func (t *vertexTable) inBox(b Box, visit func(v int)) {
	lo, hi := cellOf(b.Min, coarseCell), cellOf(b.Max, coarseCell)
	count := float64(hi[0]-lo[0]+1) * float64(hi[1]-lo[1]+1) * float64(hi[2]-lo[2]+1)
	if count > float64(len(t.at)) {
		for v, p := range t.at {
			if b.Holds(p) {
				visit(v)
			}
		}
		return
	}
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				for _, v := range t.coarse[[3]int32{x, y, z}] {
					if b.Holds(t.at[v]) {
						visit(int(v))
					}
				}
			}
		}
	}
}

// reversedBit marks a segment that an edge runs through against its direction,
// because an equal one was there first.
const reversedBit = 1 << 40

// segment is a piece of curve between two vertices without a vertex in between.
type segment struct {
	curve  Curve
	t0, t1 float64
	v0, v1 int
}

func (s *segment) middle() Vec { return s.curve.Point((s.t0 + s.t1) / 2) }

// point returns the point at share k.
func (s *segment) point(k float64) Vec { return s.curve.Point(s.t0 + (s.t1-s.t0)*k) }

// segmentTable holds segments, each once however often it is added.
type segmentTable struct {
	verts *vertexTable
	list  []segment
	byEnd map[[2]int][]int
}

func (t *segmentTable) init(v *vertexTable) { t.verts, t.byEnd = v, map[[2]int][]int{} }

// add returns the segment, with reversedBit when the one found runs the other
// way; -1 for a segment of no length.
func (t *segmentTable) add(c Curve, t0, t1 float64, v0, v1 int) int {
	s := segment{c, t0, t1, v0, v1}
	mid := s.middle()
	if v0 == v1 && mid.Dist(t.verts.at[v0]) < 2*mergeDistance {
		return -1
	}
	key := [2]int{min(v0, v1), max(v0, v1)}
	for _, i := range t.byEnd[key] {
		o := &t.list[i]
		if o.middle().Dist(mid) > sameCurveDistance {
			continue
		}
		same := o.v0 == v0
		if v0 == v1 { // whole rings through one vertex
			same = o.curve.Tangent(o.t0).Dot(c.Tangent(t0)) > 0
			quarter := 0.25
			if !same {
				quarter = 0.75
			}
			if o.point(quarter).Dist(s.point(0.25)) > sameCurveDistance {
				continue
			}
		}
		if same {
			return i
		}
		return i | reversedBit
	}
	i := len(t.list)
	t.list = append(t.list, s)
	t.byEnd[key] = append(t.byEnd[key], i)
	return i
}
