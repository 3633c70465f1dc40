package scene

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
)

const (
	// rubbing (mm) is how deep along the way one piece may run into another
	// before it counts as in the way, and how far two must overlap across it.
	rubbing = 0.05
	// Lines are laid through two pieces about fine mm apart in each direction, at
	// least fewLines and at most manyLines of them, to find whether one meets the
	// other: what is narrower where they overlap, seen along the way, may be missed.
	fine      = 1.5
	fewLines  = 6
	manyLines = 16
	// mostLines bounds the lines laid for one picture. After that, nothing more is
	// found to be free.
	mostLines = 600_000
)

// ways answers how far pieces could move straight out before they run into others.
//
// First boxes are compared, seen along the way; where they overlap, lines along the
// way through both solids tell exactly what lies ahead on them. Lines on which both
// share material from the start are those of threads and press fits, and do not
// count.
type ways struct {
	pieces []layout.Piece
	known  map[meeting]float64
	boxes  map[boxed]solid.Box
	lines  int // laid so far
}

// meeting is a question already answered: how far does a move along a direction
// before it meets b?
type meeting struct {
	a, b int
	way  solid.Vec
}

type boxed struct {
	piece int
	way   solid.Vec
}

func newWays(pieces []layout.Piece) *ways {
	return &ways{pieces: pieces, known: map[meeting]float64{}, boxes: map[boxed]solid.Box{}}
}

// along is the frame whose z axis runs along a way.
func along(way solid.Vec) solid.Placement {
	f := solid.FrameAlong(solid.Vec{}, way)
	return solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}}
}

// box is a piece's box in axes whose z runs along a way.
func (w *ways) box(piece int, way solid.Vec) solid.Box {
	key := boxed{piece, way}
	b, known := w.boxes[key]
	if !known {
		p := w.pieces[piece]
		b = p.Solid.BoxUnder(p.At.Then(along(way).Inverse()))
		w.boxes[key] = b
	}
	return b
}

// clear is how far, in mm, piece a moves along a way before it runs into b; infinite
// when it never does.
func (w *ways) clear(a, b int, way solid.Vec) float64 {
	key := meeting{a, b, way}
	known, asked := w.known[key]
	if !asked {
		known = w.find(a, b, way)
		w.known[key] = known
	}
	return known
}

func (w *ways) find(a, b int, way solid.Vec) float64 {
	free := math.Inf(1)
	mine, other := w.box(a, way), w.box(b, way)
	if other.Max.Z < mine.Min.Z+rubbing {
		return free // all behind
	}
	low := solid.Vec{X: math.Max(mine.Min.X, other.Min.X), Y: math.Max(mine.Min.Y, other.Min.Y)}
	high := solid.Vec{X: math.Min(mine.Max.X, other.Max.X), Y: math.Min(mine.Max.Y, other.Max.Y)}
	if high.X-low.X < rubbing || high.Y-low.Y < rubbing {
		return free
	}
	if w.lines > mostLines {
		return 0
	}
	nearest := math.Max(0, other.Min.Z-mine.Max.Z) + rubbing // it cannot be much nearer
	frame := along(way)
	across, up := rows(high.X-low.X), rows(high.Y-low.Y)
	for i := range across * up {
		// Lines at the same share of each row would run along seams: the lattice leans.
		x := (float64(i%across) + 0.5 + 0.37*math.Sin(float64(i/across))) / float64(across)
		y := (float64(i/across) + 0.5 + 0.37*math.Sin(float64(i%across)+1)) / float64(up)
		at := frame.Point(solid.Vec{X: low.X + x*(high.X-low.X), Y: low.Y + y*(high.Y-low.Y)})
		w.lines++
		if mine := stretches(w.pieces[a], at, way); len(mine) > 0 {
			free = math.Min(free, gap(mine, stretches(w.pieces[b], at, way)))
		}
		if free < nearest {
			break
		}
	}
	return free
}

// rows is how many lines are laid over a length in mm.
func rows(length float64) int {
	return int(math.Max(fewLines, math.Min(manyLines, math.Ceil(length/fine))))
}

// stretches are where a line runs within a piece's material, in order: from, to in
// mm along it; none where rounding decides.
func stretches(p layout.Piece, at, way solid.Vec) [][2]float64 {
	back := p.At.Inverse()
	hits := p.Solid.Line(back.Point(at), back.Direction(way))
	slices.SortFunc(hits, func(a, b solid.Hit) int { return cmp.Compare(a.T, b.T) })
	var out [][2]float64
	for i, h := range hits {
		if h.Unsure || h.Enters != (i%2 == 0) {
			return nil
		}
		if h.Enters {
			out = append(out, [2]float64{h.T, h.T})
		} else {
			out[len(out)-1][1] = h.T
		}
	}
	if len(hits)%2 != 0 {
		return nil
	}
	return out
}

// gap is how far material on a line moves up it before it runs into other material
// on it; infinite when it never does.
func gap(mine, other [][2]float64) float64 {
	free := math.Inf(1)
	for _, o := range other {
		for _, m := range mine {
			switch {
			case math.Min(m[1], o[1])-math.Max(m[0], o[0]) > solid.Tolerance:
				return math.Inf(1) // they share material already
			case m[1] < o[1] && o[1]-o[0] > rubbing:
				free = math.Min(free, math.Max(0, o[0]-m[1]))
			}
		}
	}
	return free
}
