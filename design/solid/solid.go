package solid

import (
	"sync"

	"plansheaf/design/memo"
)

// Solid is a closed body, or several that do not touch, given by its boundary.
// Treat it as read-only: its methods rely on what was worked out when it was
// built.
type Solid struct {
	Faces    []Face
	Edges    []Edge
	Vertices []Vec

	features []Feature
	box      Box
	from     *Shape // what it was built from; nil where it was made otherwise
	keyed    sync.Once
	key      memo.Key
}

// same is another solid of the same boundary.
func (s *Solid) same() *Solid {
	return &Solid{Faces: s.Faces, Edges: s.Edges, Vertices: s.Vertices, features: s.features, box: s.box, from: s.from}
}

// WithFaces is a solid with the same edges and corners between other faces. It keeps the
// features and the box.
func (s *Solid) WithFaces(faces []Face) *Solid {
	return &Solid{Faces: faces, Edges: s.Edges, Vertices: s.Vertices, features: s.features, box: s.box}
}

// Face is a connected, bounded piece of a surface.
type Face struct {
	Surface Surface
	// Inward tells that the surface's own normal points into the material, as
	// on the wall of a hole. Planes are turned so that it is never needed there.
	Inward bool
	// Loops bound the face. Each runs with the face on its left, seen from
	// outside the material. On a plane the first loop is the outer one. A
	// cylinder or cone face that runs all round has no seam: it has a loop at
	// each end (a cone up to its tip has one loop).
	Loops []Loop
	// Name is the feature that made the face: left right front back top
	// bottom, slot_front, body, start, end, holes.posts.1, or a shape's name.
	Name string
	// Thread is what is cut into the face, nil for none. The face lies at the
	// tap drill's diameter inside, at the major diameter outside.
	Thread *Thread
	// Patch numbers the curved region that the face is a facet of, 0 for none: a
	// shape in triangles has its curved regions as facets. See [Solid.Smooth].
	Patch int

	box  Box
	trim []piece
}

// Loop is a closed ring of edges.
type Loop []Use

// Use is an edge as a loop runs through it.
type Use struct {
	Edge     int // index into Solid.Edges
	Reversed bool
}

// Edge is a piece of a curve between two vertices, from parameter T0 to T1 > T0.
// A closed edge (a whole circle) has Start == End.
type Edge struct {
	Curve  Curve
	T0, T1 float64
	// Start and End are indices into Solid.Vertices.
	Start, End int
	// Faces are the two faces that meet in it: the first runs along it, the
	// second against it. They are the same face on neither side only where a
	// face touches itself.
	Faces [2]int
}

// Thread is a screw thread on a round face, for the drawing and the joint; the
// solid itself is plain there.
type Thread struct {
	// Designation is what is printed, such as M8 or 1/4-20.
	Designation string
	// Major, Minor and Pitch are in millimetres.
	Major, Minor, Pitch float64
	// Length is how far full thread runs from the mouth or the start, mm;
	// 0 means all of the face.
	Length float64
	// LeftHand tells that it tightens anticlockwise.
	LeftHand bool
}

// Normal returns the unit normal of face f at the point p on it, out of the
// material.
func (f *Face) Normal(p Vec) Vec {
	n := f.Surface.Normal(p)
	if f.Inward {
		return n.Mul(-1)
	}
	return n
}

// Box returns the face's exact bounding box.
func (f *Face) Box() Box { return f.box }

// Box returns the exact bounding box; empty for a solid without faces.
func (s *Solid) Box() Box { return s.box }

// Features returns what a plan can name on the part, in a settled order: faces,
// slots, axis and body, then holes in the order given. The caller must not
// alter it.
func (s *Solid) Features() []Feature { return s.features }

// Feature returns the feature of that name: "top", "slot_front_1", "posts.1".
func (s *Solid) Feature(name string) (Feature, bool) {
	for _, f := range s.features {
		if f.Name == name {
			return f, true
		}
	}
	return Feature{}, false
}

// Point returns the edge's point at share k of its parameter, 0 start to 1 end.
func (e *Edge) Point(k float64) Vec { return e.Curve.Point(e.T0 + (e.T1-e.T0)*k) }

// Closed tells whether the edge is a whole ring.
func (e *Edge) Closed() bool { return e.Start == e.End }

// FaceHolds tells whether a point on the surface of a face lies within the face
// or on its rim; a few millionths of a millimetre outside count as on it.
func (s *Solid) FaceHolds(face int, p Vec) bool {
	in, unsure := s.Faces[face].holds(p, s.Edges)
	return in || unsure
}
