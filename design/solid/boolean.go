package solid

import (
	"fmt"
)

// The boolean works on exact faces. Where a face of one solid meets a face of
// the other, the curve between their surfaces is worked out in closed form and
// cut at every vertex on it. Then each surface is looked at by itself: all edges
// and curves on it divide it into cells, and a cell belongs to the result's
// boundary exactly when the result holds the material on one side of it only.
// Surfaces that coincide are one surface here, so faces that lie on each other
// need no special case. Nothing is approximated by facets.

// operation is what a boolean keeps of two solids.
type operation int

const (
	union operation = iota
	difference
	intersection
)

// keeps tells whether the result holds a place that a and b hold or not.
func (op operation) keeps(a, b bool) bool {
	switch op {
	case difference:
		return a && !b
	case intersection:
		return a && b
	}
	return a || b
}

// Union returns the solid that holds what a or b holds. Faces keep the name of
// where they come from, a's where both have one. Features are not carried over.
//
// Where faces all but touch, so that rounding decides how they meet, b is moved
// by a ten-thousandth of a millimetre and the work done again. The error, of
// type [Faults], says that this did not help either. What is returned is always
// closed.
func Union(a, b *Solid) (*Solid, error) { return combineNear(a, b, union) }

// Subtract returns what of a is not in b; walls that b leaves bear b's names.
// All else is as for [Union].
func Subtract(a, b *Solid) (*Solid, error) { return combineNear(a, b, difference) }

// Intersect returns what both hold. All else is as for [Union].
func Intersect(a, b *Solid) (*Solid, error) { return combineNear(a, b, intersection) }

// nudges (mm) are tried one after the other where two solids meet in a way that
// cannot be worked out. They are far above Tolerance, and far below what any
// workshop can make or measure.
var nudges = []Vec{{0.61e-4, -0.37e-4, 0.71e-4}, {-0.83e-4, 0.53e-4, 0.29e-4}, {0.23e-4, 0.89e-4, -0.47e-4}}

// combineNear works out a boolean, with b moved by a hair where that is needed.
func combineNear(a, b *Solid, op operation) (*Solid, error) {
	s, err := combine(a, b, op)
	for _, n := range nudges {
		if err == nil {
			return s, nil
		}
		if moved, again := combine(a, b.Placed(Moved(n)), op); again == nil {
			return moved, nil
		}
	}
	return s, err
}

// subtractAll takes tools away from a body, those that keep clear of each other
// in one go. field names the tool in a fault.
func subtractAll(body *Solid, tools []*Solid, field func(tool int) string) (*Solid, error) {
	body = body.same()
	for len(tools) > 0 {
		var now, later []*Solid
		first := len(tools)
		for i, t := range tools {
			clear := true
			for _, o := range now {
				clear = clear && !o.box.Grow(10*nearEdge).Meets(t.box)
			}
			if clear {
				now = append(now, t)
				first = min(first, i)
			} else {
				later = append(later, t)
			}
		}
		next, err := Subtract(body, gather(now))
		if err != nil {
			return nil, inField(err, field(first))
		}
		body, tools = next, later
	}
	return body, nil
}

// gather returns solids that keep clear of each other as one.
func gather(parts []*Solid) *Solid {
	if len(parts) == 1 {
		return parts[0]
	}
	out := &Solid{}
	for _, p := range parts {
		v, e := len(out.Vertices), len(out.Edges)
		out.Vertices = append(out.Vertices, p.Vertices...)
		for _, x := range p.Edges {
			x.Start, x.End = x.Start+v, x.End+v
			out.Edges = append(out.Edges, x)
		}
		for _, f := range p.Faces {
			loops := make([]Loop, len(f.Loops))
			for k, l := range f.Loops {
				for _, u := range l {
					loops[k] = append(loops[k], Use{u.Edge + e, u.Reversed})
				}
			}
			f.Loops = loops
			out.Faces = append(out.Faces, f)
		}
	}
	return out.finish()
}

// operand is one of the two solids during a boolean.
type operand struct {
	*Solid
	parts [][]int // segments of each edge in its order, with reversedBit
	near  []bool  // faces that may meet the other solid
	edges []bool  // edges that may
	boxes []Box   // of those edges
	// arranged are the faces that an arrangement deals with.
	arranged []bool
}

// boolean is the state of one operation.
type boolean struct {
	op    operation
	in    [2]*operand
	verts vertexTable
	segs  segmentTable
	// onFace lists segments beside a face's own edges that lie in it, by
	// operand and face.
	onFace [2]map[int][]int
	// coincident pairs of faces, of in[0] and in[1].
	same [][2]int
	out  *stitcher
}

// combine works out a boolean.
func combine(a, b *Solid, op operation) (*Solid, error) {
	if s, done := apart(a, b, op); done {
		return s, nil
	}
	w := newBoolean(a, b, op)
	w.findVertices(0)
	w.findVertices(1)
	curves := w.meetFaces()
	w.splitEdges()
	w.splitCurves(curves)
	w.out = &stitcher{w: w}
	for _, g := range w.groups() {
		if err := w.arrange(g); err != nil {
			return nil, err
		}
	}
	w.keepWhole()
	return w.out.solid()
}

// newBoolean returns an operation at its start: with the vertices of both solids.
func newBoolean(a, b *Solid, op operation) *boolean {
	w := &boolean{op: op}
	w.verts.init()
	w.segs.init(&w.verts)
	w.onFace = [2]map[int][]int{{}, {}}
	w.in[0], w.in[1] = newOperand(a, b), newOperand(b, a)
	for _, o := range w.in {
		for _, v := range o.Vertices {
			w.verts.add(v)
		}
	}
	return w
}

// apart answers when the boxes do not meet.
func apart(a, b *Solid, op operation) (*Solid, bool) {
	if len(a.Faces) > 0 && len(b.Faces) > 0 && a.box.Grow(Tolerance).Meets(b.box) {
		return nil, false
	}
	switch op {
	case union:
		return gather([]*Solid{a, b}), true
	case difference:
		return a.same(), true
	}
	return (&Solid{}).finish(), true
}

func newOperand(s, other *Solid) *operand {
	o := &operand{Solid: s, near: make([]bool, len(s.Faces)), edges: make([]bool, len(s.Edges)), boxes: make([]Box, len(s.Edges)), parts: make([][]int, len(s.Edges))}
	for i := range s.Faces {
		box := s.Faces[i].box.Grow(2 * Tolerance)
		if !box.Meets(other.box) {
			continue
		}
		for k := range other.Faces {
			if box.Meets(other.Faces[k].box) {
				o.near[i] = true
				break
			}
		}
		if !o.near[i] {
			continue
		}
		for _, l := range s.Faces[i].Loops {
			for _, u := range l {
				if !o.edges[u.Edge] {
					o.edges[u.Edge] = true
					e := &s.Edges[u.Edge]
					o.boxes[u.Edge] = curveBox(e.Curve, e.T0, e.T1).Grow(2 * Tolerance)
				}
			}
		}
	}
	return o
}

// within tells whether p, on the face's surface, lies in the face or on its rim.
func (o *operand) within(face int, p Vec) bool {
	f := &o.Faces[face]
	if !f.box.Grow(2 * Tolerance).Holds(p) {
		return false
	}
	in, unsure := f.holds(p, o.Solid.Edges)
	return in || unsure
}

// lost is the fault of an operation that did not come out closed.
func lost(what string, at Vec) error {
	return fault("", fmt.Sprintf("the shapes meet in a way that cannot be worked out (%s near %.4g, %.4g, %.4g mm); moving or resizing one by a hundredth of a millimetre helps", what, at.X, at.Y, at.Z))
}
