package layout

import (
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Piece is one body in an assembly: a part, or a screw, washer, nut or insert of a
// joint.
type Piece struct {
	Use   string // the assembly's own use that it belongs to, numbered: "feet.2"; "" for what a joint brings
	Joint string // of a screw, washer, nut: the assembly's own joint
	Place int    // of a screw, washer, nut: the joint's place, from 1
	Part  *reckon.Part
	Solid *solid.Solid
	At    solid.Placement // in the assembly's axes
}

// Pieces lists everything in an assembly that has a shape and a place: its parts,
// those of its sub-assemblies with what holds them, and the screws, washers, nuts
// and inserts of its own joints, place by place from the head on; at most maxPieces.
func (l *Layout) Pieces(a *plan.Assembly) []Piece {
	if known, asked := l.pieced[a.ID.Text]; asked {
		l.sway(known == nil || l.swayed[a.ID.Text])
		return known
	}
	if l.rest != nil {
		if known := l.rest.pieced[a.ID.Text]; known != nil && !l.rest.swayed[a.ID.Text] {
			l.pieced[a.ID.Text] = known
			return known
		}
	}
	before := l.went
	l.pieced[a.ID.Text] = nil // an assembly inside itself ends here; reading reports it
	var out []Piece
	for _, use := range a.Holds {
		if use.Only.Fits(l.r.Case.Options) {
			out = l.usePieces(a, use, out)
		}
	}
	out = l.hardware(a, out)
	l.pieced[a.ID.Text], l.swayed[a.ID.Text] = out, l.went != before
	return out
}

// maxPieces bounds what one picture may hold.
const maxPieces = 20000

// usePieces adds the pieces of each instance of a use.
func (l *Layout) usePieces(a *plan.Assembly, use *plan.Use, out []Piece) []Piece {
	first, last := l.r.Numbers(use)
	for number := first; number <= last; number++ {
		pieces := l.instancePieces(a, use, number)
		if len(pieces) == 0 && Rigid(use) && len(l.inside(use)) == 0 {
			return out // no number of it has a shape
		}
		for _, p := range pieces {
			if len(out) >= maxPieces {
				return out
			}
			p.Use, p.Joint, p.Place = instanceName(use, number), "", 0
			out = append(out, p)
		}
	}
	return out
}

// instancePieces are the pieces of one instance of a use, in its assembly's axes.
func (l *Layout) instancePieces(a *plan.Assembly, use *plan.Use, number int) []Piece {
	switch {
	case len(use.Around) > 0:
		if b := l.belt(a, use); b != nil {
			if body, at := b.Body(); body != nil {
				return []Piece{{Part: b.Part, Solid: body, At: at}}
			}
		}
		return nil
	case len(use.Between) > 0:
		return l.stretchedPieces(a, use, number)
	}
	at, ok := l.frame(a, use, number)
	if !ok {
		return nil
	}
	return moved(l.inside(use), at)
}

// stretchedPieces are both halves of a part that is stretched between two places.
func (l *Layout) stretchedPieces(a *plan.Assembly, use *plan.Use, number int) []Piece {
	s := l.stretch(a, use, number)
	if s == nil {
		return nil
	}
	if s.Comes.Solid == nil {
		return moved(l.inside(use), s.Stays.At)
	}
	id, _ := use.Part.Pick(l.r.Case.Options)
	part := l.r.Part(id.Text)
	return []Piece{{Part: part, Solid: s.Stays.Solid, At: s.Stays.At}, {Part: part, Solid: s.Comes.Solid, At: s.Comes.At}}
}

// moved are pieces where a placement takes them.
func moved(pieces []Piece, at solid.Placement) []Piece {
	out := make([]Piece, len(pieces))
	for i, p := range pieces {
		p.At = p.At.Then(at)
		out[i] = p
	}
	return out
}

// inside are the pieces of one instance of a use, in its own axes.
func (l *Layout) inside(use *plan.Use) []Piece {
	if id, ok := use.Part.Pick(l.r.Case.Options); ok {
		if body := l.body(use); body != nil {
			return []Piece{{Part: l.r.Part(id.Text), Solid: body, At: solid.Stay}}
		}
		return nil
	}
	if id, ok := use.Assembly.Pick(l.r.Case.Options); ok {
		if sub := l.r.Plan.Assembly(id.Text); sub != nil {
			return l.Pieces(sub)
		}
	}
	return nil
}

// hardware adds what an assembly's own joints bring.
func (l *Layout) hardware(a *plan.Assembly, out []Piece) []Piece {
	for _, j := range a.Joints {
		for _, s := range l.Fastenings(a, j) {
			pieces := s.Hardware()
			if len(out)+len(pieces) > maxPieces {
				return out
			}
			out = append(out, pieces...)
		}
	}
	return out
}
