package clash

import (
	"math"
	"sort"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// groups are sets of bodies that hang together.
type groups []int

func (g groups) root(i int) int {
	for g[i] != i {
		g[i] = g[g[i]]
		i = g[i]
	}
	return i
}

func (g groups) join(a, b int) {
	a, b = g.root(a), g.root(b)
	g[max(a, b)] = min(a, b)
}

// mostLoose bounds how many loose groups are reported.
const mostLoose = 20

// loose finds what neither touches nor is held by the rest of the machine.
func (s *search) loose() {
	g := make(groups, len(s.bodies))
	for i := range g {
		g[i] = i
	}
	s.joinHeld(g)
	for _, pair := range s.pairs {
		if g.root(pair[0]) == g.root(pair[1]) {
			continue
		}
		if s.meets[pair] || s.store.touch(s.bodies[pair[0]], s.bodies[pair[1]]) {
			g.join(pair[0], pair[1])
		}
	}
	members := map[int][]*Body{}
	var roots []int
	most := -1
	for i, b := range s.bodies {
		r := g.root(i)
		if members[r] == nil {
			roots = append(roots, r)
		}
		members[r] = append(members[r], b)
		if most < 0 || len(members[r]) > len(members[most]) {
			most = r
		}
	}
	for _, r := range roots {
		if r != most && len(s.report.Loose) < mostLoose {
			s.report.Loose = append(s.report.Loose, s.nearest(members[r], func(b *Body) bool { return g.root(b.number) == r }))
		}
	}
}

// joinHeld joins what joints, belts, telescopes and strands hold together.
func (s *search) joinHeld(g groups) { s.joinHeldIn(g, func(int) bool { return true }) }

// joinHeldIn joins only what is there.
func (s *search) joinHeldIn(g groups, there func(i int) bool) {
	byPath := map[string]int{}
	byPlace := map[[2]int]int{}
	for i, b := range s.bodies {
		if !there(i) {
			continue
		}
		if b.Joint == nil {
			if first, known := byPath[b.Path]; known {
				g.join(first, i)
			} else {
				byPath[b.Path] = i
			}
			continue
		}
		key := [2]int{b.held, b.Place}
		if first, known := byPlace[key]; known {
			g.join(first, i)
		} else {
			byPlace[key] = i
		}
	}
	for l := range s.kin.layers {
		part, known := byPath[l.path]
		hardware, too := byPlace[[2]int{l.held, l.place}]
		switch {
		case known && too:
			g.join(part, hardware)
		case known && there(part): // a screw without a shape holds all the same
			byPlace[[2]int{l.held, l.place}] = part
		}
	}
	join := func(a, b string) {
		i, known := byPath[a]
		if k, too := byPath[b]; known && too {
			g.join(i, k)
		}
	}
	for pair := range s.kin.fits {
		join(pair[0], pair[1])
	}
	for pair := range s.kin.ends {
		join(pair[0], pair[1])
	}
	for _, c := range s.l.Strands() {
		first := -1
		for _, w := range []plan.Word{c.Instance.Use.From, c.Instance.Use.To} {
			if i := s.named(byPath, c.Instance, w); i >= 0 && there(i) {
				if first >= 0 {
					g.join(first, i)
				}
				first = i
			}
		}
	}
}

// named is a body that a reference of a use names: the part whose feature it is, or the
// first inside of it; -1 for none.
func (s *search) named(byPath map[string]int, in *reckon.Instance, w plan.Word) int {
	for path := below(in.Parent, w.Text); path != ""; path = outer(path) {
		if i, known := byPath[path]; known {
			return i
		}
	}
	full := below(in.Parent, w.Text)
	for i, b := range s.bodies {
		if within(b.Path, full) {
			return i
		}
	}
	return -1
}

// outer is a path without its last piece.
func outer(path string) string {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] == '.' {
			return path[:i]
		}
	}
	return ""
}

// nearest finds what is nearest to some bodies among all others.
func (s *search) nearest(of []*Body, mine func(b *Body) bool) Loose {
	out := Loose{Bodies: of, Mine: of[0], Gap: math.Inf(1)}
	type candidate struct {
		a, b *Body
		gap  float64
	}
	var list []candidate
	for _, a := range of[:min(len(of), mostNear)] {
		for _, b := range s.bodies {
			if !mine(b) {
				list = append(list, candidate{a, b, apart(a.box, b.box)})
			}
		}
	}
	sort.SliceStable(list, func(i, k int) bool { return list[i].gap < list[k].gap })
	for _, c := range list {
		if c.gap >= out.Gap {
			break
		}
		if off := s.store.off(c.a, c.b); off.Gap < out.Gap {
			out.Mine, out.Other, out.Gap, out.At = c.a, c.b, off.Gap, off.At
		}
	}
	return out
}

// mostNear bounds of how many bodies of a loose group the nearest is looked for.
const mostNear = 50
