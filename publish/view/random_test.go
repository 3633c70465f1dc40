package view

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"plansheaf/design/solid"
)

// randomSolid returns a body of a few members with holes, on a grid of half
// millimetres so that faces touch and coincide often.
func randomSolid(r *rand.Rand) *solid.Solid {
	half := func(lo, hi int) float64 { return float64(lo+r.IntN(hi-lo+1)) / 2 }
	for {
		var g solid.Group
		for i := range 2 + r.IntN(3) {
			var p solid.Primitive
			switch r.IntN(5) {
			case 0, 1:
				p = solid.Block{Size: solid.Vec{X: half(10, 60), Y: half(10, 60), Z: half(10, 60)}}
			case 2:
				p = solid.Rod{D: half(8, 40), L: half(10, 60)}
			case 3:
				p = solid.Taper{D: half(12, 40), To: half(0, 8), L: half(10, 40)}
			case 4:
				p = solid.Pipe{D: half(20, 40), Bore: half(4, 18), L: half(10, 60)}
			}
			g = append(g, solid.Member{Shape: p, At: solid.Vec{X: half(0, 40), Y: half(0, 40), Z: half(0, 40)}, Along: solid.Axis(r.IntN(3)), Cut: i > 0 && r.IntN(3) == 0})
		}
		s, err := solid.Build(solid.Shape{Base: g})
		if err == nil && s.Check() == nil {
			return s
		}
	}
}

// threaded gives the round faces of a solid threads, whole ones and some that end
// within the face.
func threaded(s *solid.Solid) *solid.Solid {
	out := s.WithFaces(slices.Clone(s.Faces))
	for i := range out.Faces {
		f := &out.Faces[i]
		c, round := f.Surface.(solid.Cylinder)
		if !round {
			continue
		}
		th := solid.Thread{Designation: "any", Major: 2 * c.R, Minor: 2 * c.R, Pitch: 1}
		if f.Inward {
			th.Major *= 1.2
		} else {
			th.Minor *= 0.8
		}
		if i%2 == 0 {
			th.Length = 4
		}
		f.Thread = &th
	}
	return out
}

// randomDirection is one of the named directions, or any.
func randomDirection(r *rand.Rand) Direction {
	all := []Direction{Front, Back, Left, Right, Top, Bottom, Isometric}
	if i := r.IntN(12); i < len(all) {
		return all[i]
	}
	for {
		v := func() solid.Vec { return solid.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()} }
		if d, err := Look(v(), v()); err == nil {
			return d
		}
	}
}

// staged works out all stretches of a view for tests that look behind lines.
func staged(bodies []Body, dir Direction, opt Options) (*stage, [][]stretch) {
	var shapes []*shape
	for i, b := range bodies {
		shapes = append(shapes, prepare(b, dir, &opt).as(i, &opt))
	}
	st := newStage(shapes, len(bodies), dir)
	w := &worker{stage: st, stamp: make([]int32, len(st.items))}
	found := make([][]stretch, len(st.items))
	for i := range st.items {
		if st.items[i].drawn {
			found[i] = w.stretches(i)
		}
	}
	return st, found
}

// seenByRays tells by rays through the whole solids whether a point p of an item
// is seen, without anything of what hides lines: a ray to the eye on each side.
// What a silhouette meets nearby of its own face is that face bending away.
func seenByRays(bodies []Body, dir Direction, it *item, p, side solid.Vec, aside, clear float64) bool {
	const slope = 1.0
	for _, way := range [2]float64{-aside, aside} {
		from := p.Add(side.Mul(way))
		blocked := false
		for i, b := range bodies {
			back := b.At.Inverse()
			for _, h := range b.Solid.Ray(back.Point(from), back.Direction(dir.Toward)) {
				own := i == it.body && it.kind == Silhouette && it.edge < 0 && h.Face == it.faces[0]
				blocked = blocked || h.T > clear && !(own && h.T < slope)
			}
		}
		if !blocked {
			return true
		}
	}
	return false
}

func TestStretchesAgreeWithRays(t *testing.T) {
	checked, wrong := 0, 0
	for seed := range uint64(90) {
		r := rand.New(rand.NewPCG(seed, 7))
		var bodies []Body
		for range 1 + r.IntN(3) {
			at := solid.Turned(solid.Vec{Z: 1}, float64(r.IntN(4))*math.Pi/2)
			if r.IntN(3) == 0 {
				at = solid.Turned(solid.Vec{X: 1, Y: r.NormFloat64(), Z: 0.4}, r.Float64()*6)
			}
			at.Move = solid.Vec{X: float64(r.IntN(60)) - 30, Y: float64(r.IntN(60)) - 30, Z: float64(r.IntN(60)) - 30}
			s := randomSolid(r)
			if seed%2 == 1 {
				s = threaded(s)
			}
			bodies = append(bodies, Body{Solid: s, At: at})
		}
		dir := randomDirection(r)
		st, found := staged(bodies, dir, Options{})
		for i := range st.items {
			it := &st.items[i]
			for _, s := range found[i] {
				if it.length(s.t0, s.t1) < 0.1 {
					continue
				}
				for range 2 {
					at := s.t0 + (s.t1-s.t0)*(0.05+0.9*r.Float64())
					q := it.at(at)
					x, y := it.way(at)
					p := dir.Right.Mul(q.X).Add(dir.Up.Mul(q.Y)).Add(dir.Toward.Mul(q.Z))
					side := dir.Right.Mul(-y).Add(dir.Up.Mul(x))
					agrees := false
					// How far aside and how near is too near differs from place to
					// place: what is thin, or has a steep slope, deceives one pair.
					for _, k := range [3][2]float64{{5e-4, 2e-2}, {3e-4, 5e-3}, {3e-3, 1e-1}} {
						agrees = agrees || seenByRays(bodies, dir, it, p, side, k[0], k[1]) == s.visible
					}
					checked++
					if !agrees {
						wrong++
						if wrong < 20 {
							t.Logf("seed %d: %v edge %d of body %d at %v (%.4g of %.4g..%.4g) is said visible %v", seed, it.kind, it.edge, it.body, p, at, s.t0, s.t1, s.visible)
						}
					}
				}
			}
		}
	}
	// Nothing can be said within a few tolerances of an outline that touches, or
	// of a face seen from its edge: of 200,000 points some fifty fall there.
	if checked < 5000 || wrong > checked/5000 {
		t.Errorf("%d of %d points disagree", wrong, checked)
	}
}
