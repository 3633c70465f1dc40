package bill

import (
	"math"
	"slices"

	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// Mitred pieces lie on a bar in rows: each end lies against the next piece's with a
// saw cut between them, every other piece turned over where that is what makes the
// ends match. Of a piece in a row the bar then gives only the length in the middle of
// its depth, and a row as a whole what its two ends leave over.
//
// What a bar's section looks like says how a piece may be turned: over about the
// bar's length where the section looks the same after half a turn, end for end where it is
// its own mirror image. Pieces that cannot be turned so that their ends match, and pieces
// whose ends are mitred about different axes, take their full length.
//
// Not counted is what two rows side by side, or a row of an even number of pieces
// with one slanted end, would leave less than a row does at most.

// A lie is how the two ends of a piece on a bar slant: how far each lies farther
// along the bar for each millimetre from the lower side to the upper.
type lie [2]float64

func (l lie) turned() lie  { return lie{-l[0], -l[1]} } // about the bar's length
func (l lie) about() lie   { return lie{l[1], l[0]} }   // by half a turn in the plane of the mitres
func (l lie) swapped() lie { return lie{-l[1], -l[0]} } // end for end with the same side up

// A slanted piece is one whose mitres lie in one plane.
type slanted struct {
	depth float64  // mm across the bar in the plane of the mitres
	lies  []lie    // the ways in which it may lie, its own first
	row   rowShape // which rows it may lie in; zero for none
}

// A rowShape is what pieces in a row have in common: the axis across the section
// about which they are not mitred, and the slants of their cuts.
type rowShape struct {
	nests bool
	axis  int
	cuts  lie
}

// slantOf is how a piece's ends slant; false for square cuts and for mitres about
// different axes.
func slantOf(p *reckon.Part) (slanted, bool) {
	if p.Bar == nil || p.Bar.Start.Angle == 0 && p.Bar.End.Angle == 0 {
		return slanted{}, false
	}
	moments, err := solid.SectionMoments(p.Bar.Section)
	if err != nil {
		return slanted{}, false
	}
	symmetry, err := solid.SectionSymmetry(p.Bar.Section)
	if err != nil {
		return slanted{}, false
	}
	own, axis := lie{}, -1
	for end, m := range [2]solid.Mitre{p.Bar.Start, p.Bar.End} {
		if m.Angle == 0 {
			continue
		}
		across, upper := p.Bar.Across(m.Long)
		if axis >= 0 && across != axis {
			return slanted{}, false
		}
		axis = across
		own[end] = math.Round(math.Tan(m.Angle)*1e9) / 1e9
		if upper != (end == 1) {
			own[end] = -own[end]
		}
	}
	s := slanted{depth: moments.High.X - moments.Low.X, lies: []lie{own}}
	mirrored, other := symmetry.First, symmetry.Second
	if axis == 1 {
		s.depth, mirrored, other = moments.High.Y-moments.Low.Y, other, mirrored
	}
	if symmetry.Half {
		s.add(own.turned())
	}
	if mirrored {
		s.add(own.about())
	}
	if other {
		s.add(own.swapped())
	}
	if symmetry.Quarter {
		axis = 0
	}
	s.row = s.shape(axis, symmetry.Half)
	return s, true
}

// add adds a way of lying that is not there yet.
func (s *slanted) add(l lie) {
	if !slices.Contains(s.lies, l) {
		s.lies = append(s.lies, l)
	}
}

// shape is the row that the piece may lie in: one where its ends turned round are
// among the ways it may lie, so that end follows end and start follows start. Where it
// may be turned over, all pieces with the one slant at both ends fit one row.
func (s *slanted) shape(axis int, over bool) rowShape {
	own := s.lies[0]
	if !slices.Contains(s.lies, own.about()) {
		return rowShape{}
	}
	row := rowShape{nests: true, axis: axis}
	if over && math.Abs(own[0]) == math.Abs(own[1]) {
		row.cuts = lie{-math.Abs(own[0]), math.Abs(own[0])}
		return row
	}
	for i, l := range s.lies {
		l = lie{min(l[0], l[1]), max(l[0], l[1])}
		if i == 0 || l[0] < row.cuts[0] || l[0] == row.cuts[0] && l[1] < row.cuts[1] {
			row.cuts = l
		}
	}
	return row
}

// along is what a saw cut of a slant takes along the bar, mm.
func along(kerf, slant float64) float64 { return kerf * math.Hypot(1, slant) }

// spared is what a piece with an end of a slant saves by lying against another with
// the same, beyond a square cut: its triangle, less what the cut is wider. mm; in
// truth half of the triangle is spared at each of the two pieces.
func (s slanted) spared(kerf, slant float64) float64 {
	return s.depth*math.Abs(slant) - (along(kerf, slant) - kerf)
}

// nested is the length that a piece takes of a bar in a row, and what the row takes
// beyond the lengths of its pieces; false where that is no gain.
func (s slanted) nested(kerf, length float64) (each, row float64, ok bool) {
	one, other := s.spared(kerf, s.row.cuts[0]), s.spared(kerf, s.row.cuts[1])
	if !s.row.nests || one < 0 || other < 0 {
		return 0, 0, false
	}
	half := (one + other) / 2
	return length - half, half, true
}

// over is how far the ends of a piece that lies so slant over the bar's depth, mm.
func (s slanted) over(l lie) [2]float64 { return [2]float64{l[0] * s.depth, l[1] * s.depth} }

// A row is mitred pieces as they are laid one after the other.
type row struct {
	kerf  float64
	begun bool
	last  Cut
	lie   lie // of the last
}

// lay lays a piece behind the row's last, a saw cut away; the first keeps its place.
func (r *row) lay(cut Cut, s slanted) Cut {
	best := s.lies[0]
	for _, l := range s.lies {
		if r.begun && l[0] == r.lie[1] || !r.begun && math.Abs(l[0]) < math.Abs(best[0]) {
			best = l
		}
	}
	cut.Slant = s.over(best)
	if r.begun {
		end, _ := r.last.Edge(1)
		start, _ := cut.Edge(0)
		cut.X += end + along(r.kerf, best[0]) - start
	}
	r.begun, r.last, r.lie = true, cut, best
	return cut
}

// Edge is where a bar's piece ends at the bar's lower and upper side, mm from the
// bar's start: its left end (0) or its right (1).
func (c Cut) Edge(end int) (lower, upper float64) {
	slant := c.Slant[end]
	if end == 0 {
		return c.X + math.Max(0, -slant), c.X + math.Max(0, slant)
	}
	return c.X + c.Length - math.Max(0, slant), c.X + c.Length - math.Max(0, -slant)
}

// Mitred reports whether a piece has an end that is not square.
func (p Piece) Mitred() bool { return p.Angles != [2]float64{} }

// Mitred reports whether the saw is turned for a setting.
func (s Setting) Mitred() bool { return s.Angles != [2]float64{} }
