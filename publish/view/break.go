package view

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// Axis is an axis of the paper.
type Axis int

// The axes along which a view can be broken.
const (
	Across  Axis = iota // x, to the right
	Upright             // y, downward
)

// String returns the axis in a word.
func (a Axis) String() string { return [...]string{"across", "upright"}[a] }

// of returns a point's coordinate along the axis.
func (a Axis) of(p picture.Point) float64 {
	if a == Upright {
		return p.Y
	}
	return p.X
}

// beside returns a point's coordinate along the other axis.
func (a Axis) beside(p picture.Point) float64 { return (1 - a).of(p) }

// point returns the point at a coordinate along the axis and one beside it.
func (a Axis) point(along, beside float64) picture.Point {
	if a == Upright {
		return picture.Point{X: beside, Y: along}
	}
	return picture.Point{X: along, Y: beside}
}

// Range is a stretch of an axis of the paper, mm at 1:1.
type Range struct{ From, To float64 }

// StandardGap (mm on the sheet, whatever the scale) is how far apart the ends of
// a cut stand after breaking; the break lines and the space between them lie
// within. Common practice, no source.
const StandardGap = 6.0

// Broken says how a view was broken: which stretches are left out, and where
// what is left is drawn.
type Broken struct {
	Axis Axis
	// Cuts are the stretches, in order, of which only Gap is left; nothing but
	// lines along the axis runs through them.
	Cuts []Range
	// Gap is how far apart the ends of each cut are drawn, mm.
	Gap float64
	// Lines are the break lines where they are drawn: two for each cut,
	// continuous narrow lines with a zigzag (ISO 128-2, line type 01.1). Lines of
	// the drawing end on them.
	Lines []picture.Curve
	// zigzags are the corners of the break lines of each cut.
	zigzags [][2][]picture.Point
}

// errCuts is what [Break] gives for cuts that are none.
var errCuts = errors.New("view: a broken view needs a gap, and cuts longer than it that follow one another")

// Break leaves out stretches of a view and moves the rest together (broken or
// interrupted views, ISO 128-3): what lies beyond a cut moves along the axis
// towards smaller coordinates. gap is how far apart the ends of a cut are drawn
// then, mm at the drawing's 1:1: [StandardGap] divided by the scale. A line that
// runs through a cut becomes two, which end on the break lines. It returns an
// error where the cuts do not follow one another, are not longer than the gap, or
// where anything but lines along the axis lies in one: a dimension taken there
// would be lost. [Plain] tells where nothing does.
func Break(d *Drawing, axis Axis, cuts []Range, gap float64) (*Drawing, *Broken, error) {
	b := &Broken{Axis: axis, Cuts: slices.Clone(cuts), Gap: gap}
	if err := b.check(); err != nil {
		return nil, nil, err
	}
	for _, cut := range b.Cuts {
		if err := b.addLines(d, cut); err != nil {
			return nil, nil, err
		}
	}
	out := &Drawing{Direction: d.Direction}
	for _, l := range d.Lines {
		for _, part := range b.parts(l.Curves) {
			piece := l
			piece.Curves = part
			out.Lines = append(out.Lines, piece)
		}
	}
	return out, b, nil
}

func (b *Broken) check() error {
	if !(b.Gap > 0) || math.IsInf(b.Gap, 1) || len(b.Cuts) == 0 || b.Axis != Across && b.Axis != Upright {
		return errCuts
	}
	last := math.Inf(-1)
	for _, c := range b.Cuts {
		if !(c.From >= last) || !(c.To-c.From > b.Gap) || !(math.Abs(c.From) < furthest && math.Abs(c.To) < furthest) {
			return errCuts
		}
		last = c.To
	}
	return nil
}

// shift returns how far what lies at a coordinate along the axis is moved, and
// whether it lies within a cut.
func (b *Broken) shift(along float64) (by float64, within bool) {
	for _, c := range b.Cuts {
		if along < c.To-hair {
			return by, along > c.From+hair
		}
		by -= c.To - c.From - b.Gap
	}
	return by, false
}

// Paper returns where a point of the whole view is drawn in the broken one. What
// lies within a cut is drawn at the middle of its gap.
func (b *Broken) Paper(whole picture.Point) picture.Point {
	along := b.Axis.of(whole)
	by := 0.0
	for _, c := range b.Cuts {
		if along <= c.From+hair {
			break
		}
		if along < c.To-hair {
			along = c.From + b.Gap/2
			break
		}
		by -= c.To - c.From - b.Gap
	}
	return b.Axis.point(along+by, b.Axis.beside(whole))
}

// Whole returns the point of the whole view that is drawn at a point of the
// broken one, so that lengths measured between them are true ones. ok is false
// between the break lines' ends of the halves, where nothing is.
func (b *Broken) Whole(paper picture.Point) (whole picture.Point, ok bool) {
	along, ok := b.Axis.of(paper), true
	for _, c := range b.Cuts {
		if along <= c.From+hair {
			break
		}
		if along < c.From+b.Gap-hair {
			ok = false
			break
		}
		along += c.To - c.From - b.Gap
	}
	return b.Axis.point(along, b.Axis.beside(paper)), ok
}

// A break line's zigzag, in shares of the gap.
const (
	zigSwing  = 0.25 // how far it swings to either side
	zigLength = 0.75 // how much of the break line it takes up
	zigBeyond = 0.25 // how far the break line runs beyond the outline
)

// breakAt is where in the gap both break lines stand.
var breakAt = [2]float64{zigSwing, 1 - zigSwing}

// addLines adds the two break lines of a cut: straight across what runs through
// it, with one zigzag in the middle.
func (b *Broken) addLines(d *Drawing, cut Range) error {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range d.Lines {
		for _, c := range d.Lines[i].Curves {
			box := c.Bounds()
			from, to := b.Axis.of(box.Min), b.Axis.of(box.Max)
			if to < cut.From+hair || from > cut.To-hair {
				continue
			}
			if _, line := c.(picture.Line); !line || b.Axis.beside(box.Max)-b.Axis.beside(box.Min) > onOne ||
				from > cut.From+hair || to < cut.To-hair {
				return fmt.Errorf("view: %s of %s lies between %.3f and %.3f mm %s, where the view is to be broken",
					d.Lines[i].Kind, cmp.Or(d.Lines[i].Tag, fmt.Sprintf("body %d", d.Lines[i].Body)), math.Max(from, cut.From), math.Min(to, cut.To), b.Axis)
			}
			low, high = math.Min(low, b.Axis.beside(box.Min)), math.Max(high, b.Axis.beside(box.Max))
		}
	}
	var pair [2][]picture.Point
	if low <= high { // else nothing is there that could be broken
		by, _ := b.shift(cut.From)
		for side := range pair {
			pair[side] = b.zigzag(cut.From+by+breakAt[side]*b.Gap, low, high)
			b.Lines = append(b.Lines, picture.Polyline(pair[side]...)...)
		}
	}
	b.zigzags = append(b.zigzags, pair)
	return nil
}

// zigzag returns the corners of a break line across what lies between two
// coordinates beside the axis.
func (b *Broken) zigzag(along, low, high float64) []picture.Point {
	middle, beyond, swing := (low+high)/2, zigBeyond*b.Gap, zigSwing*b.Gap
	half := math.Min(zigLength*b.Gap, high-low) / 2
	return []picture.Point{
		b.Axis.point(along, low-beyond), b.Axis.point(along, middle-half),
		b.Axis.point(along+swing, middle-half/3), b.Axis.point(along-swing, middle+half/3),
		b.Axis.point(along, middle+half), b.Axis.point(along, high+beyond),
	}
}

// onBreak returns where a line along the axis, beside it at a coordinate, ends
// on a break line: the first or the second of a cut.
func (b *Broken) onBreak(cut, side int, beside float64) float64 {
	by, _ := b.shift(b.Cuts[cut].From)
	at := b.Cuts[cut].From + by + breakAt[side]*b.Gap
	line := b.zigzags[cut][side]
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		from, to := b.Axis.beside(p), b.Axis.beside(q)
		if beside >= from && beside <= to && to > from {
			share := (beside - from) / (to - from)
			return b.Axis.of(p) + (b.Axis.of(q)-b.Axis.of(p))*share
		}
	}
	return at
}

// Curves returns curves of the whole view where the broken one shows them. Lines
// along the axis that run through a cut end on its break lines; of other curves
// none may lie in a cut.
func (b *Broken) Curves(curves []picture.Curve) []picture.Curve {
	var out []picture.Curve
	for _, part := range b.parts(curves) {
		out = append(out, part...)
	}
	return out
}

// parts returns what is left of curves, a new part where a cut parts a line.
func (b *Broken) parts(curves []picture.Curve) [][]picture.Curve {
	var out [][]picture.Curve
	var part []picture.Curve
	for _, c := range curves {
		pieces := b.pieces(c)
		for i, p := range pieces {
			if i > 0 {
				out, part = append(out, part), nil
			}
			part = append(part, p)
		}
	}
	return append(out, part)
}

// pieces returns a curve where it is drawn: in one piece, or a line in one more
// than cuts that it runs through.
func (b *Broken) pieces(c picture.Curve) []picture.Curve {
	box := c.Bounds()
	from, to := b.Axis.of(box.Min), b.Axis.of(box.Max)
	line, straight := c.(picture.Line)
	var through []int
	for i, cut := range b.Cuts {
		if straight && from < cut.From+hair && to > cut.To-hair {
			through = append(through, i)
		}
	}
	if len(through) == 0 {
		by, _ := b.shift((from + to) / 2)
		return []picture.Curve{c.Moved(1, b.Axis.point(by, 0))}
	}
	back := b.Axis.of(line.A) > b.Axis.of(line.B)
	if back {
		line.A, line.B = line.B, line.A
	}
	end := b.Paper(line.B)
	var out []picture.Curve
	start := b.Paper(line.A)
	for _, cut := range through {
		y := b.Axis.beside(line.A)
		out = append(out, picture.Line{A: start, B: b.Axis.point(b.onBreak(cut, 0, y), y)})
		start = b.Axis.point(b.onBreak(cut, 1, y), y)
	}
	out = append(out, picture.Line{A: start, B: end})
	if back {
		slices.Reverse(out)
		for i, c := range out {
			l := c.(picture.Line)
			out[i] = picture.Line{A: l.B, B: l.A}
		}
	}
	return out
}

// Region returns a region of a section where the broken view shows it, closed by
// the break lines, which lie within it.
func (b *Broken) Region(g Region) Region {
	var out []picture.Curve
	var open [][]picture.Curve
	for _, run := range picture.Runs(g.Outline) {
		parts := b.parts(run)
		if n := len(parts); n > 1 { // the last leads into the first
			parts[0] = append(slices.Clip(parts[n-1]), parts[0]...)
			open = append(open, parts[:n-1]...)
		} else {
			out = append(out, parts[0]...)
		}
	}
	// Along a break line, what lies between every second pair of ends is material.
	g.Outline = append(out, stitch(open, func(end picture.Point, starts []picture.Point) (int, []picture.Curve) {
		cut, side := b.breakOf(end)
		var on []picture.Point
		for _, c := range open {
			from, to := c[0], c[len(c)-1]
			p, _ := from.Ends()
			_, q := to.Ends()
			for _, v := range [2]picture.Point{p, q} {
				if c, s := b.breakOf(v); c == cut && s == side {
					on = append(on, v)
				}
			}
		}
		slices.SortFunc(on, func(p, q picture.Point) int { return cmp.Compare(b.Axis.beside(p), b.Axis.beside(q)) })
		i := slices.Index(on, end)
		partner := on[min(i^1, len(on)-1)]
		return max(0, slices.Index(starts, partner)), b.along(cut, side, end, partner)
	})...)
	return g
}

// breakOf returns the break line that a point lies on.
func (b *Broken) breakOf(p picture.Point) (cut, side int) {
	best := math.Inf(1)
	for i := range b.Cuts {
		for k := range 2 {
			if d := math.Abs(b.onBreak(i, k, b.Axis.beside(p)) - b.Axis.of(p)); d < best {
				best, cut, side = d, i, k
			}
		}
	}
	return cut, side
}

// along returns the part of a break line between two points on it.
func (b *Broken) along(cut, side int, from, to picture.Point) []picture.Curve {
	points := []picture.Point{from}
	low, high := b.Axis.beside(from), b.Axis.beside(to)
	line := slices.Clone(b.zigzags[cut][side])
	if low > high {
		slices.Reverse(line)
	}
	for _, p := range line {
		if y := b.Axis.beside(p); y > math.Min(low, high) && y < math.Max(low, high) {
			points = append(points, p)
		}
	}
	return picture.Polyline(append(points, to)...)
}
