package cutting

import (
	"slices"
	"sort"
)

// Bars solves a problem. Pieces of a length that is not positive, and those that no
// bar can give, are left out and told in Unfit.
func Bars(p Problem) Plan {
	var plan Plan
	kinds := kindsOf(p, &plan)
	if len(kinds.problem.Pieces) == 0 || len(p.Bars) == 0 {
		return plan
	}
	s := newSearch(&kinds.problem)
	s.run()
	if short := s.short(); short != nil {
		plan.Unlaid = kinds.spread(short, len(p.Pieces))
		for i := range kinds.problem.Pieces {
			kinds.problem.Pieces[i].Count -= short[i]
		}
		s = newSearch(&kinds.problem)
		s.run()
	}
	s.simplify()
	plan.Cost, plan.Bound = s.cost, min(s.bound, s.cost)
	plan.Patterns = kinds.label(s.best, p, plan.Unlaid)
	return plan
}

// short is by piece how many the bars did not suffice for, nil for none.
func (s *search) short() []int {
	var short []int
	for _, p := range s.best {
		if p.Bar != none {
			continue
		}
		if short == nil {
			short = make([]int, len(s.problem.Pieces))
		}
		for i, c := range p.Counts {
			short[i] += c * p.Times
		}
	}
	return short
}

// Kinds are a problem's pieces with equal ones put together.
type kinds struct {
	problem Problem
	of      [][]int // by kind: the pieces of the problem as given
}

func kindsOf(p Problem, plan *Plan) kinds {
	k := kinds{problem: p}
	k.problem.Pieces = nil
	at := map[Piece]int{}
	for i, piece := range p.Pieces {
		if piece.Count <= 0 {
			continue
		}
		if piece.Length <= 0 || !slices.ContainsFunc(p.Bars, func(b Bar) bool { return p.fits(b, piece) }) {
			plan.Unfit = append(plan.Unfit, i)
			continue
		}
		kind := Piece{Length: piece.Length, Nest: piece.Nest}
		n, known := at[kind]
		if !known {
			n = len(k.of)
			at[kind] = n
			k.of, k.problem.Pieces = append(k.of, nil), append(k.problem.Pieces, kind)
		}
		k.of[n] = append(k.of[n], i)
		k.problem.Pieces[n].Count += piece.Count
	}
	return k
}

// spread gives counts by kind back to the pieces, the last first.
func (k kinds) spread(counts []int, pieces int) []int {
	out := make([]int, pieces)
	for kind, n := range counts {
		out[k.of[kind][len(k.of[kind])-1]] = n
	}
	return out
}

// label says of each pattern which of the pieces of a kind are cut by it, in the
// order of the pieces; bars that differ in that alone stay side by side.
func (k kinds) label(patterns []Pattern, p Problem, unlaid []int) []Pattern {
	left := make([]int, len(p.Pieces))
	for i, piece := range p.Pieces {
		left[i] = piece.Count
		if unlaid != nil {
			left[i] -= unlaid[i]
		}
	}
	var out []Pattern
	for _, pattern := range patterns {
		for times := pattern.Times; times > 0; {
			counts := make([]int, len(p.Pieces))
			for kind, n := range pattern.Counts {
				for _, i := range k.of[kind] {
					c := min(n, left[i])
					counts[i] += c
					left[i] -= c
					n -= c
				}
			}
			times--
			if last := len(out) - 1; last >= 0 && out[last].Bar == pattern.Bar && slices.Equal(out[last].Counts, counts) {
				out[last].Times++
				continue
			}
			out = append(out, Pattern{Bar: pattern.Bar, Counts: counts, Times: 1})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return p.Bars[out[i].Bar].Length > p.Bars[out[j].Bar].Length })
	return out
}
