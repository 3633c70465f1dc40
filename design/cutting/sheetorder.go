package cutting

import "slices"

// A SawCut is one cut of a saw's work, or several alike: the fence or stop is set,
// the panel is cut, and the part between fence and blade falls off.
type SawCut struct {
	Layout int   // index in the plan's layouts; done on each of its sheets
	Stop   int64 // from the fence to the blade: the size of the part, in micrometres
	Axis   int   // along which the stop measures: 0 the sheet's length, 1 its width
	From   [2]int64
	To     [2]int64 // where the cut's middle runs on the sheet, micrometres
	Of     int      // number of the panel that is cut, in its layout: 0 is the sheet
	Part   Outcome  // what falls off
	Rest   *Outcome // what remains of the panel, where this was its last cut
}

// An Outcome is what a cut makes: a finished piece, a panel to cut on, or what is
// left over, which may be nothing but chips.
type Outcome struct {
	Rect  int // index in the problem's rectangles; -1
	Panel int // number in its layout; 0: none
	Size  [2]int64
}

// SawCuts is the order of the cuts of all layouts: what can be cut with the stop as
// it stands is cut before the stop is moved. Of several ways to choose the next stop
// that which moves it least is taken. Layouts that no saw can cut have no cuts.
func SawCuts(p SheetProblem, plan SheetPlan) []SawCut {
	var best []SawCut
	for i, prefer := range []func(a, b *opening, alike func(*opening) int) bool{
		func(a, b *opening, alike func(*opening) int) bool {
			if x, y := alike(a), alike(b); x != y {
				return x > y
			}
			return a.cut.Stop > b.cut.Stop
		},
		func(a, b *opening, _ func(*opening) int) bool { return a.cut.Stop > b.cut.Stop },
		func(a, b *opening, alike func(*opening) int) bool {
			if a.depth != b.depth {
				return a.depth < b.depth
			}
			return a.cut.Stop > b.cut.Stop
		},
	} {
		order := ordered(openings(p, plan), prefer)
		if i == 0 || moves(order) < moves(best) {
			best = order
		}
	}
	return best
}

// moves is how often the stop is set.
func moves(cuts []SawCut) int {
	n := 0
	for i, c := range cuts {
		if i == 0 || c.Stop != cuts[i-1].Stop {
			n++
		}
	}
	return n
}

// An opening is a cut with the cuts that can be made once it is done.
type opening struct {
	cut   SawCut
	depth int
	then  []*opening
}

// openings are the first cuts of all layouts.
func openings(p SheetProblem, plan SheetPlan) []*opening {
	var out []*opening
	for i, l := range plan.Layouts {
		if l.Panel == nil {
			continue
		}
		panels := 0
		n := naming{layout: i, kerf: p.Kerf, panels: &panels}
		if first := n.cuts(l.Panel, 0, 0); first != nil {
			out = append(out, first)
		}
	}
	return out
}

// A naming numbers the panels of a layout as they come off.
type naming struct {
	layout int
	kerf   int64
	panels *int
}

// cuts is the first cut of a panel, the others behind it; nil for a panel that is
// not cut.
func (n naming) cuts(p *Panel, number, depth int) *opening {
	var first, last *opening
	for i := range p.Parts {
		part := &p.Parts[i]
		outcome, after := n.outcome(part, depth+1)
		if i == len(p.Parts)-1 {
			last.cut.Rest = &outcome
			if after != nil {
				last.then = append(last.then, after)
			}
			break
		}
		o := &opening{depth: depth, cut: SawCut{Layout: n.layout, Stop: part.Size[p.Axis], Axis: p.Axis, Of: number, Part: outcome}}
		across := 1 - p.Axis
		middle := part.At[p.Axis] + part.Size[p.Axis] + n.kerf/2
		o.cut.From[p.Axis], o.cut.To[p.Axis] = middle, middle
		o.cut.From[across], o.cut.To[across] = p.At[across], p.At[across]+p.Size[across]
		if after != nil {
			o.then = append(o.then, after)
		}
		if first == nil {
			first = o
		} else {
			last.then = append(last.then, o)
		}
		last = o
	}
	return first
}

func (n naming) outcome(p *Panel, depth int) (Outcome, *opening) {
	out := Outcome{Rect: p.Rect, Size: p.Size}
	if len(p.Parts) == 0 {
		return out, nil
	}
	*n.panels++
	out.Panel = *n.panels
	return out, n.cuts(p, out.Panel, depth)
}

// ordered makes cuts one after the other, at each stop all that it serves.
func ordered(open []*opening, prefer func(a, b *opening, alike func(*opening) int) bool) []SawCut {
	var out []SawCut
	alike := func(o *opening) int {
		n := 0
		for _, other := range open {
			if other.cut.Stop == o.cut.Stop {
				n++
			}
		}
		return n
	}
	for len(open) > 0 {
		next := -1
		for i, o := range open {
			if len(out) > 0 && o.cut.Stop == out[len(out)-1].Stop {
				next = i
				break
			}
		}
		if next < 0 {
			next = 0
			for i, o := range open {
				if prefer(o, open[next], alike) {
					next = i
				}
			}
		}
		o := open[next]
		out = append(out, o.cut)
		open = slices.Replace(open, next, next+1, o.then...)
	}
	return out
}
