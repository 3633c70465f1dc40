package layout

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Mate is one side of a joint without a screw: a shaft, a hole, a face, in place.
type Mate struct {
	Word    plan.Word // as the joint names it
	Spot    reckon.Spot
	Part    *reckon.Part
	Feature solid.Feature // in the axes of the joint's assembly
}

// A Mating is one place of a joint without a screw, or of what a set screw grips.
type Mating struct {
	Mine, Theirs Mate
	Aside        float64 // how far their axis, or their face along its normal, lies off mine, mm
	Tilt         float64 // the angle between the axes or normals, radians
}

// Matings pairs the features that a joint of assembly a puts into, onto or round each
// other: each feature of the side with more of them with the nearest of the other. The list
// is the layout's own.
func (l *Layout) Matings(a *plan.Assembly, j *plan.Joint) []Mating {
	known, asked := l.mated[j]
	if !asked {
		known = l.matings(a, j)
		l.mated[j] = known
	}
	return known
}

func (l *Layout) matings(a *plan.Assembly, j *plan.Joint) []Mating {
	if !j.Only.Fits(l.r.Case.Options) {
		return nil
	}
	mine, theirs := l.layer(a, j.Mine.Features), l.layer(a, j.Theirs.Features)
	many, few, swapped := mine, theirs, false
	if len(theirs) > len(mine) {
		many, few, swapped = theirs, mine, true
	}
	var out []Mating
	for _, f := range many {
		n, found := nearest(f, few)
		if !found {
			continue
		}
		if swapped {
			f, n = n, f
		}
		m := Mating{Mine: f.mate(), Theirs: n.mate()}
		off := n.At.Sub(f.At)
		if n.Dir != (solid.Vec{}) {
			m.Aside = length(flat(off, n.Dir))
			if f.Kind == solid.FlatFace && n.Kind == solid.FlatFace {
				m.Aside = math.Abs(off.Dot(n.Dir))
			}
		}
		if cos := math.Abs(f.Dir.Dot(n.Dir)); f.Dir != (solid.Vec{}) && n.Dir != (solid.Vec{}) {
			m.Tilt = math.Acos(math.Min(1, cos))
		}
		out = append(out, m)
	}
	return out
}

func (f met) mate() Mate { return Mate{f.word, f.spot, f.part, f.Feature} }
