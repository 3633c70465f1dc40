package sequence

import (
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Role says what a body is in its assembly.
type Role int

// The roles of bodies.
const (
	Part   Role = iota // placed by a use
	Screw              // the rest are brought by a joint
	Washer             // anything between head or nut and the layers
	Nut                // nut, slot nut or insert
)

// A Body is one body of an assembly where it stands in the assembly's axes.
type Body struct {
	layout.Piece

	// Path leads from the assembly to the part: "frame.feet.2"; for what a joint brings
	// to the assembly that the joint belongs to, "" for the assembly's own.
	Path string
	// Of is the joint that brings it, nil for a part; Owner the assembly of that joint.
	Of    *plan.Joint
	Owner *plan.Assembly
	Role  Role
}

// Name is what a builder would call the body: its path, or its joint's.
func (b Body) Name() string {
	if b.Of == nil {
		return b.Path
	}
	what := map[Role]string{Screw: "a screw of ", Washer: "a washer of ", Nut: "a nut of "}[b.Role]
	if b.Path == "" {
		return what + b.Of.ID.Text
	}
	return what + b.Path + "." + b.Of.ID.Text
}

// nameOf names what a body's index stands for.
func (b *bench) nameOf(body int) string {
	switch {
	case body == onFloor:
		return "the bench"
	case body < 0:
		return "something"
	}
	return b.bodies[body].Name()
}

// Bodies are all bodies of an assembly with their paths, in the order of
// [layout.Layout.Pieces].
func Bodies(r *reckon.Reckoning, l *layout.Layout, a *plan.Assembly) []Body {
	return (&flattener{r: r, l: l, known: map[*plan.Assembly][]Body{}}).bodies(a, 0)
}

type flattener struct {
	r     *reckon.Reckoning
	l     *layout.Layout
	known map[*plan.Assembly][]Body
}

// bodies gives the pieces of an assembly their paths. The pieces of a sub-assembly
// stand in those of its holder in the sub-assembly's own order, which tells what each
// is.
func (f *flattener) bodies(a *plan.Assembly, depth int) []Body {
	if known, asked := f.known[a]; asked || depth > MostNested {
		return known
	}
	f.known[a] = nil
	var out []Body
	pieces := f.l.Pieces(a)
	for i := 0; i < len(pieces); {
		p := pieces[i]
		if p.Use == "" {
			out = append(out, f.brought(a, p))
			i++
			continue
		}
		end := i
		for end < len(pieces) && pieces[end].Use == p.Use {
			end++
		}
		out = append(out, f.held(a, pieces[i:end], depth)...)
		i = end
	}
	f.known[a] = out
	return out
}

// brought is a piece that one of the assembly's own joints brings.
func (f *flattener) brought(a *plan.Assembly, p layout.Piece) Body {
	b := Body{Piece: p, Of: a.Joint(p.Joint), Owner: a, Role: Washer}
	if b.Of == nil {
		return b
	}
	if id, ok := b.Of.Fastener.Pick(f.r.Case.Options); ok && id.Text == p.Part.Part.ID.Text {
		b.Role = Screw
	}
	if id, ok := b.Of.Into.Pick(f.r.Case.Options); ok && id.Text == p.Part.Part.ID.Text {
		b.Role = Nut
	}
	return b
}

// held are the pieces of one instance of a use.
func (f *flattener) held(a *plan.Assembly, pieces []layout.Piece, depth int) []Body {
	name := pieces[0].Use
	use := a.Use(plan.Word{Text: name}.Path()[0])
	var inner []Body
	if use != nil {
		if id, ok := use.Assembly.Pick(f.r.Case.Options); ok {
			if sub := f.r.Plan.Assembly(id.Text); sub != nil {
				inner = f.bodies(sub, depth+1)
			}
		}
	}
	out := make([]Body, len(pieces))
	for i, p := range pieces {
		out[i] = Body{Piece: p, Path: name}
		if len(inner) != len(pieces) {
			continue
		}
		b := inner[i]
		b.Piece.At, b.Use = p.At, name
		if b.Path == "" {
			b.Path = name
		} else {
			b.Path = name + "." + b.Path
		}
		out[i] = b
	}
	return out
}

// inside reports whether a path is or lies inside of another.
func inside(path, outer string) bool {
	return path == outer || strings.HasPrefix(path, outer) && len(path) > len(outer) && path[len(outer)] == '.'
}

// axisFrame is the frame of a body that stands along its own z axis, z upward.
func axisFrame(at solid.Placement) solid.Frame {
	return solid.Frame{O: at.Move, X: at.Turn[0], Y: at.Turn[1], Z: at.Turn[2]}
}
