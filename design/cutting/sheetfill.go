package cutting

import "slices"

// A box is a piece of a kind where it lies on a sheet, both grown by a kerf.
type box struct {
	kind     int
	at, size [2]int64
}

// An area is a rectangle that is still free.
type area struct{ at, size [2]int64 }

// A fit says which free area a piece goes to, and a parting how a saw divides what is
// left of it.
type (
	fit     int
	parting int
)

const (
	bestArea  fit = iota // the area that the piece fills best
	shortSide            // the one where the shorter of the two rests is shortest
	longSide             // the one where the longer is shortest
	lowest               // the one nearest to the sheet's corner
	fits
)

const (
	shorterRest parting = iota // cut along the shorter rest
	longerRest
	smallerArea // so that the smaller of the two areas is as small as can be
	largerArea  // so that they are as equal as can be
	across      // always across the first axis
	along
	splits
)

// A manner is how a sheet is filled: kinds of pieces in order, and two rules.
type manner struct {
	order []int
	fit   fit
	split parting
	free  bool // around each piece, not from edge to edge
	sway  bool // pieces go to any corner of a free area, drawn by lot, not to the lowest; where free
}

// fill lays as many of the pieces left on a sheet as go, kind after kind, and takes
// them from left.
func (s *sheeting) fill(room [2]int64, left []int, m manner) []box {
	var boxes []box
	open := []area{{size: room}}
	for _, k := range m.order {
		for left[k] > 0 {
			i, size, found := s.place(open, s.kinds[k], m.fit)
			if !found {
				break
			}
			left[k]--
			b := box{k, open[i].at, size}
			for axis := range size {
				if m.sway && s.roll(2) == 0 {
					b.at[axis] += open[i].size[axis] - size[axis]
				}
			}
			boxes = append(boxes, b)
			if m.free && len(boxes) <= mostFree {
				open = s.without(open, b)
			} else {
				open = sawn(open, i, size, m.split)
			}
		}
	}
	return boxes
}

// mostFree bounds how many pieces on a sheet are laid with overlapping free areas,
// whose number grows with that of the pieces.
const mostFree = 250

// place chooses a free area and how the piece lies in it.
func (s *sheeting) place(open []area, k kind, f fit) (at int, size [2]int64, found bool) {
	best := [2]int64{}
	for _, way := range k.ways() {
		for i, a := range open {
			d0, d1 := a.size[0]-way[0], a.size[1]-way[1]
			if d0 < 0 || d1 < 0 {
				continue
			}
			var score [2]int64
			switch f {
			case bestArea:
				score = [2]int64{a.size[0]*a.size[1] - way[0]*way[1], min(d0, d1)}
			case shortSide:
				score = [2]int64{min(d0, d1), max(d0, d1)}
			case longSide:
				score = [2]int64{max(d0, d1), min(d0, d1)}
			default:
				score = [2]int64{a.at[1] + way[1], a.at[0]}
			}
			if !found || score[0] < best[0] || score[0] == best[0] && score[1] < best[1] {
				at, size, found, best = i, way, true, score
			}
		}
		s.work += 1 + len(open)
	}
	return at, size, found
}

// sawn puts the two rests of a free area in its place.
func sawn(open []area, i int, size [2]int64, rule parting) []area {
	a := open[i]
	d0, d1 := a.size[0]-size[0], a.size[1]-size[1]
	beside, over := a, a // across: the rest beside the piece has the area's full width
	beside.at[0], beside.size[0] = a.at[0]+size[0], d0
	over.at[1], over.size[1] = a.at[1]+size[1], d1
	wide := false // the rest over the piece keeps the area's full length
	switch rule {
	case shorterRest:
		wide = d0 < d1
	case longerRest:
		wide = d0 >= d1
	case smallerArea:
		wide = d0*size[1] <= d1*size[0]
	case largerArea:
		wide = d0*size[1] > d1*size[0]
	case along:
		wide = true
	}
	if wide {
		beside.size[1] = size[1]
	} else {
		over.size[0] = size[0]
	}
	open = slices.Delete(open, i, i+1)
	for _, r := range []area{beside, over} {
		if r.size[0] > 0 && r.size[1] > 0 {
			open = append(open, r)
		}
	}
	return open
}

// without cuts a piece out of free areas that may overlap, each as large as can be.
// Source: the maximal rectangles of Jylänki, A Thousand Ways to Pack the Bin (2010).
func (s *sheeting) without(open []area, b box) []area {
	var kept, cut []area
	for _, a := range open {
		if b.at[0] >= a.at[0]+a.size[0] || b.at[0]+b.size[0] <= a.at[0] || b.at[1] >= a.at[1]+a.size[1] || b.at[1]+b.size[1] <= a.at[1] {
			kept = append(kept, a)
			continue
		}
		for axis := range 2 {
			if d := b.at[axis] - a.at[axis]; d > 0 {
				low := a
				low.size[axis] = d
				cut = append(cut, low)
			}
			if end, from := a.at[axis]+a.size[axis], b.at[axis]+b.size[axis]; end > from {
				high := a
				high.at[axis], high.size[axis] = from, end-from
				cut = append(cut, high)
			}
		}
	}
	for i, c := range cut {
		s.work += len(cut) + len(kept)
		inner := slices.ContainsFunc(kept, func(a area) bool { return a.holds(c) })
		for j := 0; j < len(cut) && !inner; j++ {
			inner = j != i && cut[j].holds(c) && (j < i || cut[j] != c)
		}
		if !inner {
			kept = append(kept, c)
		}
	}
	return kept
}

func (a area) holds(b area) bool {
	return a.at[0] <= b.at[0] && a.at[1] <= b.at[1] && a.at[0]+a.size[0] >= b.at[0]+b.size[0] && a.at[1]+a.size[1] >= b.at[1]+b.size[1]
}
