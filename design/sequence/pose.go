package sequence

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

const (
	// mostMotions bounds how many motions are tried elsewhere than at rest, and
	// samples in how many places each beside its two ends.
	mostMotions = 8
	samples     = 10
	// golden spreads samples over a range so that they fall on all angles of a screw
	// with many turns.
	golden = 0.6180339887498949
)

// elsewhere is the machine with its motions at other places than at rest, laid out
// when first asked for: a builder may push the platen up to get at a screw.
type elsewhere struct {
	r       *reckon.Reckoning
	laid    bool
	layouts []*layout.Layout
}

func (e *elsewhere) all() []*layout.Layout {
	if e.laid {
		return e.layouts
	}
	e.laid = true
	for i, m := range e.r.Plan.Motions {
		from, to, err := e.r.Range(m)
		if i >= mostMotions || err != nil {
			continue
		}
		for k := range samples + 2 {
			share := 0.0
			if k == 1 {
				share = 1
			} else if k > 1 {
				_, share = math.Modf(float64(k-1) * golden)
			}
			at := from
			at.SI += share * (to.SI - from.SI)
			if l, err := layout.At(e.r, map[string]quantity.Value{m.ID.Text: at}); err == nil {
				e.layouts = append(e.layouts, l)
			}
		}
	}
	return e.layouts
}

// otherPoses are the bench's bodies with the motions elsewhere; none where nothing of
// it moves.
func (b *bench) otherPoses() []*pose {
	if b.posed {
		return b.poses
	}
	b.posed = true
	for _, l := range b.elsewhere.all() {
		bodies := Bodies(b.r, l, b.a)
		if len(bodies) != len(b.bodies) {
			continue
		}
		p := &pose{}
		moved := false
		for i := range bodies {
			if bodies[i].Path != b.bodies[i].Path || bodies[i].Solid != b.bodies[i].Solid && !b.soft(i) {
				p = nil
				break
			}
			p.at = append(p.at, bodies[i].At)
			p.boxes = append(p.boxes, boxUnder(b.meshes[i].box, bodies[i].At))
			moved = moved || !same(bodies[i].At, b.bodies[i].At)
		}
		if p != nil && moved {
			b.poses = append(b.poses, p)
		}
	}
	return b.poses
}

// same reports whether two placements are one.
func same(a, b solid.Placement) bool {
	for i := range a.Turn {
		if a.Turn[i].Dist(b.Turn[i]) > solid.Tolerance {
			return false
		}
	}
	return a.Move.Dist(b.Move) <= solid.Tolerance
}
