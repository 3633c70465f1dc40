package layout

import (
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Piece is one body in an assembly: a part, or a joint's screw.
type Piece struct {
	Use   string // the assembly's own use that it belongs to, numbered: "feet.2"; "" for a screw
	Joint string // of a screw: the assembly's own joint
	Part  *reckon.Part
	Solid *solid.Solid
	At    solid.Placement // in the assembly's axes
}

// Pieces lists everything in an assembly that has a shape and a place: its parts,
// those of its sub-assemblies with their screws, and its own joints' screws.
func (l *Layout) Pieces(a *plan.Assembly) []Piece {
	return l.pieces(a, map[string]bool{}, map[string]*solid.Solid{})
}

func (l *Layout) pieces(a *plan.Assembly, open map[string]bool, shapes map[string]*solid.Solid) []Piece {
	if open[a.ID.Text] {
		return nil
	}
	open[a.ID.Text] = true
	defer delete(open, a.ID.Text)
	var out []Piece
	for _, use := range a.Holds {
		if !use.Only.Fits(l.r.Case.Options) {
			continue
		}
		n, first := 1, 0
		if use.Count.Given() {
			n, _ = l.r.Whole(use.Count)
			first = 1
		}
		for i := 0; i < n && len(out) < maxPieces; i++ {
			at, ok := l.frame(a, use, first+i)
			if !ok {
				continue
			}
			name := instanceName(use, first+i)
			if body := l.body(use); body != nil {
				id, _ := use.Part.Pick(l.r.Case.Options)
				out = append(out, Piece{Use: name, Part: l.r.Part(id.Text), Solid: body, At: at})
			} else if id, ok := use.Assembly.Pick(l.r.Case.Options); ok {
				if sub := l.r.Plan.Assembly(id.Text); sub != nil {
					for _, p := range l.pieces(sub, open, shapes) {
						p.Use, p.Joint, p.At = name, "", p.At.Then(at)
						out = append(out, p)
					}
				}
			}
		}
	}
	return append(out, l.screwPieces(a, shapes)...)
}

// maxPieces bounds what one picture may hold.
const maxPieces = 20000

func (l *Layout) screwPieces(a *plan.Assembly, shapes map[string]*solid.Solid) []Piece {
	var out []Piece
	for _, j := range a.Joints {
		for _, s := range l.Screws(a, j) {
			if s.Part.Fastener == nil {
				continue
			}
			id := s.Part.Part.ID.Text
			body, built := shapes[id]
			if !built {
				body = reckon.FastenerSolid(*s.Part.Fastener)
				shapes[id] = body
			}
			if body != nil {
				out = append(out, Piece{Joint: j.ID.Text, Part: s.Part, Solid: body, At: standing(s)})
			}
		}
	}
	return out
}

// standing takes a fastener's own axes, shank downward from the origin, to where
// its joint puts it.
func standing(s Screw) solid.Placement {
	frame := solid.FrameAlong(s.Head, s.Dir.Mul(-1))
	return solid.Placement{Turn: [3]solid.Vec{frame.X, frame.Y, frame.Z}, Move: frame.O}
}
