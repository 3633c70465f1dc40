package scene

import (
	"fmt"
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

const (
	// thinStrand (mm) is the diameter that a strand is drawn with where the plan says
	// none, or less: a hair would not be seen.
	thinStrand = 2.0
	// mostBend bounds by how many radii a stretch is made longer where it meets the
	// next one at an angle, so that both meet outside.
	mostBend = 1.0
)

// A tube is a straight stretch of a strand; lengths are in hundredths of a millimetre,
// so that equal ones are built once.
type tube struct{ d, length int }

// strands are the pieces of the strands in an assembly, those of its sub-assemblies
// included, in the assembly's axes.
func (s *Studio) strands(l *layout.Layout, a *plan.Assembly) []layout.Piece {
	var out []layout.Piece
	var in *reckon.Instance // the first that has a place: all are alike
	for _, strand := range l.Strands() {
		top, child := ancestor(strand.Instance, a)
		if top == nil || in != nil && top != in || strand.Part == nil {
			continue
		}
		frame := solid.Stay
		if top.Parent != nil {
			at, placed := l.Placement(top)
			if !placed {
				continue
			}
			frame = at
		}
		in = top
		back := frame.Inverse()
		use := child.Use.ID.Text
		if child.Number > 0 {
			use = fmt.Sprintf("%s.%d", use, child.Number)
		}
		for _, p := range s.stretches(strand, back) {
			p.Use = use
			out = append(out, p)
		}
	}
	return out
}

// ancestor is the instance of an assembly that holds another instance, and which of
// its own uses does; nil for none.
func ancestor(of *reckon.Instance, a *plan.Assembly) (in, child *reckon.Instance) {
	for child = of; child.Parent != nil; child = child.Parent {
		if child.Parent.Assembly == a {
			return child.Parent, child
		}
	}
	return nil, nil
}

// stretches are the straight tubes of a strand.
func (s *Studio) stretches(strand layout.Strand, back solid.Placement) []layout.Piece {
	var out []layout.Piece
	r := math.Max(strand.D, thinStrand) / 2
	points := make([]solid.Vec, len(strand.Points))
	for i, p := range strand.Points {
		points[i] = back.Point(p)
	}
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		along := to.Sub(from)
		length := along.Len()
		if length < solid.Tolerance {
			continue
		}
		along = along.Mul(1 / length)
		if i > 1 {
			from = from.Sub(along.Mul(r * bend(from.Sub(points[i-2]), along)))
		}
		if i+1 < len(points) {
			to = to.Add(along.Mul(r * bend(points[i+1].Sub(to), along)))
		}
		body := s.tube(2*r, to.Dist(from))
		if body == nil {
			continue
		}
		f := solid.FrameAlong(from, along)
		out = append(out, layout.Piece{Part: strand.Part, Solid: body, At: solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}, Move: from}})
	}
	return out
}

// bend is by how many radii two tubes that meet at an angle reach beyond the point
// where their axes do.
func bend(other, along solid.Vec) float64 {
	cos := math.Max(-1, math.Min(1, other.Unit().Dot(along)))
	return math.Min(mostBend, math.Tan(math.Acos(cos)/2))
}

// tube is a cylinder along z from the origin; nil where none can be built.
func (s *Studio) tube(d, length float64) *solid.Solid {
	key := tube{int(math.Round(100 * d)), int(math.Round(100 * length))}
	body, built := s.tubes[key]
	if !built {
		d, length = float64(key.d)/100, float64(key.length)/100
		rod, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Rod{D: d, L: length}, Along: solid.AxisZ}}})
		if err == nil {
			body = rod.Placed(solid.Moved(solid.Vec{X: -d / 2, Y: -d / 2}))
		}
		s.tubes[key] = body
	}
	return body
}
