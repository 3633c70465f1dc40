package solid

import (
	"cmp"
	"math"
	"slices"
)

// Hit is a place where a ray meets a face.
type Hit struct {
	// T is how far along: the point is origin + dir*T.
	T    float64
	Face int // index into Solid.Faces
	// Enters tells that the ray goes into the material there.
	Enters bool
	// Unsure tells that the ray passes within a hair (2e-6 mm) of an edge of
	// the face, inside or outside it, or grazes the surface: whether it counts
	// is a matter of rounding. Leave such hits out, or choose another ray.
	Unsure bool
}

// Ray returns where the ray from origin along dir meets the solid's faces, at
// T >= 0, sorted by T. The faces are the exact, trimmed ones. A ray that lies
// within a plane face or along a cylinder does not meet it.
func (s *Solid) Ray(origin, dir Vec) []Hit { return s.hits(origin, dir, 0) }

// Line returns the same for the whole line, also at negative T.
func (s *Solid) Line(origin, dir Vec) []Hit { return s.hits(origin, dir, math.Inf(-1)) }

func (s *Solid) hits(origin, dir Vec, from float64) []Hit {
	if !s.box.Grow(Tolerance).meetsRay(origin, dir, from) {
		return nil
	}
	var out []Hit
	for i := range s.Faces {
		f := &s.Faces[i]
		if !f.box.Grow(Tolerance).meetsRay(origin, dir, from) {
			continue
		}
		for _, t := range f.Surface.LineHits(origin, dir) {
			if t < from {
				continue
			}
			p := origin.along(dir, t)
			if !f.box.Grow(nearEdge).Holds(p) {
				continue
			}
			in, unsure := f.holds(p, s.Edges)
			if !in && !unsure {
				continue
			}
			slope := f.Normal(p).Dot(dir)
			graze := math.Abs(slope) < 1e-6*dir.Len()
			if !in {
				// Outside by a rounding: told apart so that a count of hits is
				// known to be unsafe.
				out = append(out, Hit{T: t, Face: i, Enters: slope < 0, Unsure: true})
				continue
			}
			out = append(out, Hit{T: t, Face: i, Enters: slope < 0, Unsure: unsure || graze})
		}
	}
	slices.SortFunc(out, func(a, b Hit) int { return cmp.Or(cmp.Compare(a.T, b.T), a.Face-b.Face) })
	return out
}

// Place tells where a point is.
type Place int

// Where a point can be.
const (
	Outside Place = iota
	Inside
	OnFace // within Tolerance of the boundary
)

// probes are directions without a relation to the axes, tried one after the
// other until a ray passes clear of all edges.
var probes = []Vec{
	{0.5363, 0.2871, 0.7937}, {-0.3219, 0.8172, 0.4781}, {0.7411, -0.5527, 0.3813},
	{0.1873, 0.3719, -0.9092}, {-0.6571, -0.4293, 0.6197}, {0.2239, -0.8837, -0.4111},
	{-0.9137, 0.1721, -0.3673}, {0.4513, 0.6151, -0.6461}, {0.0917, -0.1579, 0.9832},
	{-0.1471, -0.9629, 0.2269}, {0.9719, 0.0937, 0.2161}, {-0.5081, 0.5449, -0.6673},
}

// Where tells whether the point lies inside the material, outside, or on its
// boundary. It costs one ray, rarely more.
func (s *Solid) Where(p Vec) Place {
	if !s.box.Grow(Tolerance).Holds(p) {
		return Outside
	}
	if s.faceAt(p) >= 0 {
		return OnFace
	}
	last := Outside
	for _, d := range probes {
		in, sure := false, true
		for _, h := range s.Ray(p, d) {
			if h.Unsure {
				sure = false
				break
			}
			in = !in
		}
		if in {
			last = Inside
		}
		if sure {
			if in {
				return Inside
			}
			return Outside
		}
	}
	return last
}

// Contains tells whether the point lies in the material or on its boundary.
func (s *Solid) Contains(p Vec) bool { return s.Where(p) != Outside }

// faceAt returns a face that p lies on, -1 for none.
func (s *Solid) faceAt(p Vec) int {
	for i := range s.Faces {
		f := &s.Faces[i]
		if !f.box.Grow(Tolerance).Holds(p) || math.Abs(f.Surface.Off(p)) > Tolerance {
			continue
		}
		if in, unsure := f.holds(p, s.Edges); in || unsure {
			return i
		}
	}
	return -1
}
