package clash

import (
	"cmp"
	"slices"

	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

const (
	// mostRows bounds how many ways of one motion, with the others in between, are looked
	// at for two bodies; mostRowsAll, for all.
	mostRows    = 400
	mostRowsAll = 20000
	// mostOpen bounds how many pairs are told whose motions were not followed together.
	mostOpen = 20
	// mostTogether bounds how many motions are followed together.
	mostTogether = 4
	// together is at how many places of all motions, beside their ends, it is tried how
	// they go together.
	together = 3
	// agreed (mm) is how closely displacements then have to agree.
	agreed = 1e-3
)

// A mover is how the motions move a body together.
type mover struct {
	order   []int // which motions move it, by journey; each carries those before it along
	coupled bool  // they do not go one after the other
	box     solid.Box
}

// combine follows bodies that several motions move to each other, with these at any
// places of their ranges.
//
// One motion is followed along all of its way, with the others in the middle of a cell of
// their ranges. What then keeps farther apart than the others can bring it together within
// the cell is clear in all of it; what does not is looked at in halves of the cell.
func (s *search) combine() {
	if len(s.journeys) < 2 {
		return
	}
	movers, ok := s.movers()
	if !ok {
		return
	}
	boxes := make([]solid.Box, len(movers))
	for i := range movers {
		boxes[i] = movers[i].box
	}
	var pairs [][2]int
	eachNear(boxes, 0, func(i, k int) { pairs = append(pairs, [2]int{i, k}) })
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	rows, told := mostRowsAll, map[[2]string]bool{}
	for _, pair := range pairs {
		c := s.combination(movers, pair[0], pair[1])
		if c == nil {
			continue
		}
		c.rows = min(rows, mostRows)
		switch {
		case c.coupled:
			if !s.store.touch(s.bodies[c.i], s.bodies[c.k]) { // else the one most likely guides the other
				s.open(c, true)
			}
			continue
		case c.followAny():
		case c.rows < 0:
			s.open(c, false)
		}
		rows -= c.spent
		if c.found == nil {
			continue
		}
		j := s.journeys[c.along]
		key := j.fault(c.ran)
		if told[key] {
			continue
		}
		told[key] = true
		one := j.clash(c.ran, c.found)
		one.Others = map[string]quantity.Value{}
		for i, m := range c.all {
			if m != c.along {
				one.Others[s.journeys[m].m.ID.Text] = s.journeys[m].m.at(c.foundAt[i])
			}
		}
		j.t.Clashes = append(j.t.Clashes, *one)
	}
}

func (s *search) open(c *combination, coupled bool) {
	if len(s.report.Open) >= mostOpen {
		return
	}
	o := Open{A: s.bodies[c.i], B: s.bodies[c.k], Coupled: coupled}
	if len(c.order[0]) == 0 && len(c.order[1]) > 0 { // what moves comes first
		o.A, o.B = o.B, o.A
	}
	for _, m := range c.all {
		o.Motions = append(o.Motions, s.journeys[m].m.Motion)
	}
	s.report.Open = append(s.report.Open, o)
}

// movers finds out how the motions move every body together.
func (s *search) movers() ([]mover, bool) {
	shares, moved, ok := s.tried()
	if !ok {
		return nil, false
	}
	out := make([]mover, len(s.bodies))
	for i, b := range s.bodies {
		m := &out[i]
		for n, j := range s.journeys {
			if !j.groups[j.of[i]].still {
				m.order = append(m.order, n)
			}
		}
		far := b.box.Corners()
		m.coupled = len(m.order) > mostTogether || !permuted(m.order, 0, func(order []int) bool {
			for k := range shares {
				if off(s.displacement(i, order, shares[k]), moved[k][i], far[:]) > agreed {
					return false
				}
			}
			return true
		})
		m.box = b.box
		for k := range shares {
			if m.coupled {
				for _, p := range far {
					m.box = m.box.Add(moved[k][i].Point(p))
				}
			}
		}
		for _, n := range m.order {
			j := s.journeys[n]
			m.box = sweptBox(m.box, j.groups[j.of[i]], -j.m.rest, 1-j.m.rest)
		}
	}
	return out, true
}

// tried are displacements of every body with all motions somewhere: by place, shares of
// the motions and displacements of the bodies.
func (s *search) tried() (shares [][]float64, moved [][]solid.Placement, ok bool) {
	for k := range together + 2 {
		at, list := map[string]quantity.Value{}, make([]float64, len(s.journeys))
		for n, j := range s.journeys {
			share := golden * float64(1+k*len(s.journeys)+n)
			if share -= float64(int(share)); k >= together {
				share = float64(k - together) // all at their ends
			}
			list[n] = share - j.m.rest
			at[j.m.ID.Text] = j.m.at(list[n])
		}
		p := s.pose(at)
		if p == nil {
			return nil, nil, false
		}
		places := make([]solid.Placement, len(s.bodies))
		for i, b := range s.bodies {
			places[i] = b.At.Inverse().Then(p.stands[i])
		}
		shares, moved = append(shares, list), append(moved, places)
	}
	return shares, moved, true
}

// permuted orders a list so that it suits; false where no order does. The list is then as
// it was.
func permuted(list []int, from int, suits func(list []int) bool) bool {
	if from >= len(list)-1 {
		return suits(list)
	}
	for i := from; i < len(list); i++ {
		list[from], list[i] = list[i], list[from]
		if permuted(list, from+1, suits) {
			return true
		}
		list[from], list[i] = list[i], list[from]
	}
	return false
}

// course is how a motion, by journey, moves a body.
func (s *search) course(body, motion int) *course {
	j := s.journeys[motion]
	return j.groups[j.of[body]]
}

// displacement is where motions take a body, each carrying those before it along, with
// all motions at some shares.
func (s *search) displacement(body int, order []int, at []float64) solid.Placement {
	d := solid.Stay
	for _, n := range order {
		d = d.Then(s.course(body, n).over(at[n]))
	}
	return d
}
