package sequence

import (
	"math"
	"slices"

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
	r             *reckon.Reckoning
	laid          *layout.Layout // at rest
	ended, filled bool
	atEnds        []*layout.Layout // each motion alone at either end
	between       []*layout.Layout
}

// ends is the machine with each motion alone at either end of its range.
func (e *elsewhere) ends() []*layout.Layout {
	if !e.ended {
		e.ended = true
		e.atEnds = e.at([]float64{0, 1})
	}
	return e.atEnds
}

// all is the ends and samples between them.
func (e *elsewhere) all() []*layout.Layout {
	if !e.filled {
		e.filled = true
		var shares []float64
		for k := range samples {
			_, share := math.Modf(float64(k+1) * golden)
			shares = append(shares, share)
		}
		e.between = e.at(shares)
	}
	return append(slices.Clone(e.ends()), e.between...)
}

// at is the machine with each motion alone at shares of its range.
func (e *elsewhere) at(shares []float64) []*layout.Layout {
	var list []*layout.Layout
	for i, m := range e.r.Plan.Motions {
		from, to, err := e.r.Range(m)
		if i >= mostMotions || err != nil {
			continue
		}
		for _, share := range shares {
			at := from
			at.SI += share * (to.SI - from.SI)
			if l, err := e.laid.At(map[string]quantity.Value{m.ID.Text: at}); err == nil {
				list = append(list, l)
			}
		}
	}
	return list
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
		if len(bodies) != b.own {
			continue
		}
		p := &pose{}
		moved := false
		bodies = append(bodies, b.bodies[b.own:]...) // guests lie in parts that do not move
		for i := range bodies {
			if bodies[i].Path != b.bodies[i].Path || bodies[i].Solid != b.bodies[i].Solid && !b.soft(i) {
				p = nil
				break
			}
			p.at = append(p.at, bodies[i].At)
			p.boxes = append(p.boxes, boxUnder(b.sizes[i], bodies[i].At))
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
