package cutting

import "slices"

// simplify looks for fewer patterns at the same cost: any three patterns of a bar
// may be two others, and any two may be one.
func (s *search) simplify() {
	for s.fewer() {
	}
}

// splitSteps bounds the search for one pattern fewer.
const splitSteps = 500_000

func (s *search) fewer() bool {
	steps := splitSteps
	for i := range s.best {
		for j := i + 1; j < len(s.best); j++ {
			if s.best[i].Bar != s.best[j].Bar {
				continue
			}
			if s.replace(&steps, i, j) {
				return true
			}
			if steps < 0 {
				return false
			}
			for k := j + 1; k < len(s.best); k++ {
				if s.best[k].Bar == s.best[i].Bar && s.replace(&steps, i, j, k) {
					return true
				}
			}
		}
	}
	return false
}

// replace puts one pattern fewer in the place of those named, if that can be done
// with as many bars.
func (s *search) replace(steps *int, which ...int) bool {
	if *steps -= len(s.problem.Pieces); *steps < 0 {
		return false
	}
	demand, bars := make([]int, len(s.problem.Pieces)), 0
	for _, w := range which {
		bars += s.best[w].Times
		for i, c := range s.best[w].Counts {
			demand[i] += c * s.best[w].Times
		}
	}
	bar := s.best[which[0]].Bar
	for first := bars; first >= (bars+1)/2; first-- {
		if len(which) == 2 && first < bars {
			return false
		}
		if *steps <= 0 {
			return false
		}
		sp := split{s: s, bar: bar, demand: demand, times: [2]int{first, bars - first}, steps: steps}
		sp.counts[0], sp.counts[1] = make([]int, len(demand)), make([]int, len(demand))
		if !sp.try(0) {
			continue
		}
		var kept []Pattern
		for i, p := range s.best {
			if !slices.Contains(which, i) {
				kept = append(kept, p)
			}
		}
		for n, times := range sp.times {
			if times > 0 {
				kept = append(kept, Pattern{Bar: bar, Counts: slices.Clone(sp.counts[n]), Times: times})
			}
		}
		s.best = merged(kept)
		return true
	}
	return false
}

// A split is a search for one or two patterns that together give a demand.
type split struct {
	s      *search
	bar    int
	demand []int
	times  [2]int
	counts [2][]int
	steps  *int
}

// try shares piece at and those after it out over the patterns.
func (sp *split) try(at int) bool {
	if *sp.steps--; *sp.steps < 0 {
		return false
	}
	if at == len(sp.demand) {
		return true
	}
	most := sp.demand[at] / sp.times[0]
	for n := most; n >= 0; n-- {
		rest, second := sp.demand[at]-n*sp.times[0], 0
		if sp.times[1] > 0 {
			if rest%sp.times[1] != 0 {
				continue
			}
			second = rest / sp.times[1]
		} else if rest > 0 {
			break
		}
		sp.counts[0][at], sp.counts[1][at] = n, second
		if sp.fit() && sp.try(at+1) {
			return true
		}
	}
	sp.counts[0][at], sp.counts[1][at] = 0, 0
	return false
}

func (sp *split) fit() bool {
	p := sp.s.problem
	for _, counts := range sp.counts {
		pieces := 0
		for _, c := range counts {
			pieces += c
		}
		if p.Taken(counts)+p.Kerf > p.room(p.Bars[sp.bar]) && pieces > 0 || p.Most > 0 && pieces > p.Most {
			return false
		}
	}
	return true
}
