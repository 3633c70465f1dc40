package clash

import (
	"sort"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// A Later is bodies of an assembly that neither touch nor are held by the rest of it: what
// holds them comes in an assembly around it.
type Later struct {
	In        *reckon.Instance // of the assembly
	Instances int
	Bodies    []*Body // parts first
	// Joint of assembly Of is the first that holds them; nil where they only touch
	// something.
	Joint *plan.Joint
	Of    *plan.Assembly
}

// later finds what in an assembly is held only by what comes around it; what hangs in the
// air in the whole machine is told as loose.
func (s *search) later() {
	loose := map[*Body]bool{}
	for _, l := range s.report.Loose {
		for _, b := range l.Bodies {
			loose[b] = true
		}
	}
	for _, in := range s.r.Tally().Instances {
		if in.Assembly == nil || len(in.Assembly.Steps) == 0 || !s.leads(in) || len(s.report.Later) >= mostLoose {
			continue
		}
		for _, group := range s.separate(in) {
			if !loose[group[0]] {
				one := Later{In: in, Instances: s.count[in.Assembly], Bodies: group}
				one.Joint, one.Of = s.holding(in, group)
				s.report.Later = append(s.report.Later, one)
			}
		}
	}
}

// inside reports whether a body belongs to an assembly's instance.
func (b *Body) inside(in *reckon.Instance) bool {
	for one := b.holder(); one != nil; one = one.Parent {
		if one == in {
			return true
		}
	}
	return false
}

// separate are the groups of bodies of an assembly that hang together with nothing but
// themselves, without the largest.
func (s *search) separate(in *reckon.Instance) [][]*Body {
	g := make(groups, len(s.bodies))
	mine := make([]bool, len(s.bodies))
	for i, b := range s.bodies {
		g[i], mine[i] = i, b.inside(in)
	}
	s.joinHeldIn(g, func(i int) bool { return mine[i] })
	for _, pair := range s.pairs {
		if mine[pair[0]] && mine[pair[1]] && g.root(pair[0]) != g.root(pair[1]) && (s.meets[pair] || s.store.touch(s.bodies[pair[0]], s.bodies[pair[1]])) {
			g.join(pair[0], pair[1])
		}
	}
	members := map[int][]*Body{}
	for i, b := range s.bodies {
		if mine[i] {
			members[g.root(i)] = append(members[g.root(i)], b)
		}
	}
	var out [][]*Body
	for _, list := range members {
		out = append(out, list)
	}
	sort.Slice(out, func(i, k int) bool {
		if len(out[i]) != len(out[k]) {
			return len(out[i]) > len(out[k])
		}
		return out[i][0].number < out[k][0].number
	})
	if len(out) == 0 {
		return nil
	}
	return out[1:]
}

// holding is the first joint outside of an assembly that holds one of some bodies.
func (s *search) holding(in *reckon.Instance, group []*Body) (*plan.Joint, *plan.Assembly) {
	for i, h := range s.r.Tally().Joints {
		if h.In == in || (&Body{Joint: h.Joint, In: h.In}).inside(in) {
			continue
		}
		for _, b := range group {
			for place := 1; place <= h.Places; place++ {
				if s.kin.layers[layer{i, place, b.Path}] {
					return h.Joint, h.Assembly
				}
			}
			for _, w := range append(append([]plan.Word{}, h.Joint.Mine.Features...), h.Joint.Theirs.Features...) {
				for _, spot := range s.r.Spots(h.Assembly, w) {
					if below(h.In, spot.Path) == b.Path {
						return h.Joint, h.Assembly
					}
				}
			}
		}
	}
	return nil, nil
}
