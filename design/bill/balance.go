package bill

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Balance is what one of an assembly weighs and where its centre of mass lies with
// the motions at rest. Each body counts at the centroid of its solid, as if it were of
// one density: also a bought part, whose shape is what it takes up, with the mass that
// the plan gives. What has no mass, no shape or no place of its own is Left out.
type Balance struct {
	Assembly *plan.Assembly
	Mass     float64   // kilograms, of what counts
	Centre   solid.Vec // mm, in the assembly's own axes; nothing where Mass is 0
	Left     []string  // ids of parts that count as nothing, in the plan's order
}

// Balances are those of each assembly that the machine holds, in the plan's order.
func Balances(r *reckon.Reckoning, l *layout.Layout) []Balance {
	var all []Balance
	centres := map[*solid.Solid]solid.Measures{}
	whole := content(r)
	for _, a := range r.Plan.Assemblies {
		if r.Tally().Assembled[a.ID.Text] > 0 {
			all = append(all, balance(r, l, a, whole[a.ID.Text], centres))
		}
	}
	return all
}

func balance(r *reckon.Reckoning, l *layout.Layout, a *plan.Assembly, holds map[string]int, measured map[*solid.Solid]solid.Measures) Balance {
	b := Balance{Assembly: a}
	var moment solid.Vec
	placed := map[string]float64{} // how many of each part have a place
	for _, piece := range l.Pieces(a) {
		p := piece.Part
		m, known := measured[piece.Solid]
		if !known {
			m = p.Measures
			if piece.Solid != p.Solid {
				m = piece.Solid.Measure()
			}
			measured[piece.Solid] = m
		}
		share := 1.0
		if p.Solid != nil && piece.Solid != p.Solid && p.Measures.Volume > 0 { // one half of a part that stretches
			share = m.Volume / p.Measures.Volume
		}
		placed[p.Part.ID.Text] += share
		if p.Weighed {
			b.Mass += p.Mass * share
			moment = moment.Add(piece.At.Point(m.Centre).Mul(p.Mass * share))
		}
	}
	if b.Mass > 0 {
		b.Centre = moment.Mul(1 / b.Mass)
	}
	for _, p := range r.Plan.Parts {
		id := p.ID.Text
		n := holds[id]
		if n > 0 && (!r.Part(id).Weighed || math.Abs(placed[id]-float64(n)) > leftWithin) {
			b.Left = append(b.Left, id)
		}
	}
	return b
}

// leftWithin is the share of one part by which the halves of stretched parts may miss a
// whole one: shapes that slide in one another overlap a little.
const leftWithin = 0.2

// content is what one of each assembly holds with all that is nested in it, joints
// included: by assembly id, then by part id.
func content(r *reckon.Reckoning) map[string]map[string]int {
	t := r.Tally()
	joints := map[*reckon.Instance][]reckon.Held{}
	for _, held := range t.Joints {
		joints[held.In] = append(joints[held.In], held)
	}
	all := map[string]map[string]int{}
	var fill func(in *reckon.Instance) map[string]int
	fill = func(in *reckon.Instance) map[string]int {
		if known := all[in.Assembly.ID.Text]; known != nil {
			return known
		}
		own := map[string]int{}
		all[in.Assembly.ID.Text] = own
		for _, child := range in.Children {
			if child.Part != nil {
				own[child.Part.ID.Text]++
				continue
			}
			for id, n := range fill(child) {
				own[id] += n
			}
		}
		for _, held := range joints[in] {
			for _, id := range r.JointParts(held.Joint) {
				own[id] += held.Places
			}
		}
		return own
	}
	if t.Root != nil {
		fill(t.Root)
	}
	return all
}
