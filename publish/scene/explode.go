package scene

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	explodedWide = 124.0 // mm, the largest width of an exploded view without its balloons
	explodedHigh = 170.0 // mm, its largest height
	maskCells    = 220.0 // cells along the diagonal of what is taken apart
	maskGap      = 2     // cells that are kept free between two units
	leastShift   = 0.06  // of the diagonal: less would not show
	shiftStep    = 0.02  // of the diagonal: distances are tried at such steps
	mostShift    = 2.5   // of the diagonal
)

// A Move is how something leaves in an exploded view.
type Move struct {
	Uses  []string  // numbered: "feet.2"; none for screws
	Joint string    // of screws
	Way   solid.Vec // unit vector of the free way, in the assembly's axes
	By    solid.Vec // mm from its place to where it is drawn: its own way, and that of what it stands on
}

// An Explosion is an assembly drawn apart.
type Explosion struct {
	Picture *picture.Picture // nil where nothing moves
	Moves   []Move           // in the order in which things can be taken off
	Stuck   []string         // uses, and joints with their screws, that no free straight way was found for: they stay, or go with what holds them fast
	Bounded bool             // there was too much to try: what is stuck may have a way all the same
	Shown   []bool           // by item: it has a balloon
}

// Exploded draws an assembly apart as it was found to come apart: everything is moved
// along a straight way on which it really could leave what is put together before it,
// far enough to be seen beside the rest; sub-assemblies stay whole. Thin chain lines
// lead to where things belong, balloons give their numbers in the list of items. What
// has no free way stays in place. It is nil for fewer than two things with a shape,
// and for more than 4000: too many to take apart.
func (s *Studio) Exploded(l *layout.Layout, a *plan.Assembly, sel plan.Selection, items []Item) (*Explosion, error) {
	pieces := s.Pieces(l, a)
	if len(pieces) < 2 || len(pieces) > mostExploded {
		return nil, nil
	}
	p := way.Of(a, sel, pieces, s.memory).Apart()
	apart := s.newSpread(p.Assembly, a, sel, view.Isometric)
	for _, u := range p.Stays {
		apart.put(u, solid.Vec{}, solid.Vec{})
	}
	for _, r := range slices.Backward(p.Out) {
		apart.place(r)
	}
	e := &Explosion{Bounded: p.Bounded}
	for _, r := range p.Out {
		e.Moves = append(e.Moves, Move{Uses: r.Unit.Uses, Joint: r.Unit.Joint, Way: r.Way, By: apart.shift[r.Unit]})
	}
	for _, u := range slices.Concat(p.Stays[1:], p.Locked) {
		if u.Joint == "" {
			e.Stuck = append(e.Stuck, u.Uses...)
		} else if !slices.Contains(e.Stuck, u.Joint) {
			e.Stuck = append(e.Stuck, u.Joint)
		}
	}
	if len(p.Out) == 0 {
		return e, nil
	}
	var err error
	e.Picture, e.Shown, err = apart.draw(items)
	if e.Picture != nil && len(e.Stuck) > 0 {
		e.Picture.Description += fmt.Sprintf(" No free way was found for %s: not moved by itself.", strings.ReplaceAll(strings.Join(e.Stuck, ", "), "_", " "))
	}
	return e, err
}

// mostExploded bounds the pieces that are taken apart.
const mostExploded = 4000

// A spread holds where the units of an exploded view go.
type spread struct {
	*way.Assembly
	a      *plan.Assembly
	sel    plan.Selection
	dir    view.Direction
	size   float64 // mm, diagonal of the assembly as it is seen
	cell   float64 // mm
	studio *Studio
	placed []*way.Unit
	shift  map[*way.Unit]solid.Vec
	from   map[*way.Unit]solid.Vec // the shift of what a unit stands on
	taken  map[[2]int]bool         // cells of the paper
}

func (studio *Studio) newSpread(m *way.Assembly, a *plan.Assembly, sel plan.Selection, dir view.Direction) *spread {
	s := &spread{Assembly: m, studio: studio, a: a, sel: sel, dir: dir, shift: map[*way.Unit]solid.Vec{}, from: map[*way.Unit]solid.Vec{}, taken: map[[2]int]bool{}}
	box := around(m.Pieces, dir)
	s.size = box.Min.Distance(box.Max)
	s.cell = s.size / maskCells
	return s
}

// mask are the cells of the paper that a unit covers where it belongs.
func (s *spread) mask(u *way.Unit) [][2]int {
	box := picture.Nothing
	for _, i := range u.Pieces {
		box = box.Join(drawnBox(s.Pieces[i], s.dir))
	}
	// On whole cells, so that the masks of all units lie on one grid; what is
	// narrower than a cell is widened by a rim.
	box.Min = picture.Point{X: math.Floor(box.Min.X/s.cell) * s.cell, Y: math.Floor(box.Min.Y/s.cell) * s.cell}
	g := newRaster(s.dir, box, s.cell)
	for _, i := range u.Pieces {
		g.add(s.Pieces[i], s.studio.mesh(s.Pieces[i].Solid), i)
	}
	x0, y0 := int(math.Round(box.Min.X/s.cell)), int(math.Round(box.Min.Y/s.cell))
	var cells [][2]int
	for i, b := range g.body {
		if b >= 0 {
			cells = append(cells, [2]int{x0 + i%g.width, y0 + i/g.width})
		}
	}
	if len(cells) == 0 {
		cells = append(cells, [2]int{x0, y0})
	}
	return cells
}

// cells is a shift in space as whole cells on the paper.
func (s *spread) cells(shift solid.Vec) [2]int {
	f := s.dir.Flat(shift)
	return [2]int{int(math.Round(f.X / s.cell)), int(math.Round(f.Y / s.cell))}
}

// put sets a unit down, shifted, and marks the paper that it takes.
func (s *spread) put(u *way.Unit, shift, from solid.Vec) {
	s.placed = append(s.placed, u)
	s.shift[u], s.from[u] = shift, from
	by := s.cells(shift)
	for _, c := range s.mask(u) {
		for dx := -maskGap; dx <= maskGap; dx++ {
			for dy := -maskGap; dy <= maskGap; dy++ {
				s.taken[[2]int{c[0] + by[0] + dx, c[1] + by[1] + dy}] = true
			}
		}
	}
}

// overlap counts the cells of a mask, shifted, that are taken.
func (s *spread) overlap(mask [][2]int, shift solid.Vec) (n int) {
	by := s.cells(shift)
	for _, c := range mask {
		if s.taken[[2]int{c[0] + by[0], c[1] + by[1]}] {
			n++
		}
	}
	return n
}

// place finds how far a unit moves out: past everything that could not leave before
// it, and on to paper that is free. It starts from where what it stands on has gone.
func (s *spread) place(r way.Removal) {
	u := r.Unit
	base := s.base(r)
	from := solid.Vec{}
	if base != nil {
		from = s.shift[base]
	}
	least := leastShift * s.size
	for _, v := range s.placed {
		if s.Blocks(u, v, r.Way) {
			least = math.Max(least, s.shift[v].Sub(from).Dot(r.Way)+leastShift*s.size)
		}
	}
	mask := s.mask(u)
	least = math.Min(least, r.Free)
	best, fewest := least, math.MaxInt
	for off := least; off <= math.Min(r.Free, least+mostShift*s.size); off += shiftStep * s.size {
		if n := s.overlap(mask, from.Add(r.Way.Mul(off))); n < fewest {
			best, fewest = off, n
		}
		if fewest == 0 {
			break
		}
	}
	s.put(u, from.Add(r.Way.Mul(best)), from)
}

// base is what a unit stands on and moves out with: what its head bears on for
// screws, otherwise what it is joined to, best of all behind it; nil for none.
func (s *spread) base(r way.Removal) *way.Unit {
	var joined, behind *way.Unit
	for _, v := range s.placed {
		if v.Joint != "" {
			continue
		}
		bound := s.Bound(r.Unit, v)
		if !bound && joined != nil {
			continue
		}
		back := s.Blocks(r.Unit, v, r.Way)
		switch {
		case bound && (joined == nil || back):
			joined = v
		case back && (behind == nil || s.shift[v].Dot(r.Way) > s.shift[behind].Dot(r.Way)):
			behind = v
		}
	}
	if joined != nil {
		return joined
	}
	return behind
}

// draw makes the picture.
func (s *spread) draw(items []Item) (*picture.Picture, []bool, error) {
	shown := make([]bool, len(items))
	pieces := slices.Clone(s.Pieces)
	for _, u := range s.placed {
		for _, i := range u.Pieces {
			pieces[i].At = pieces[i].At.Then(solid.Moved(s.shift[u]))
		}
	}
	art, err := s.studio.project(pieces, s.dir, around(pieces, s.dir), explodedWide, explodedHigh, smallestApart)
	if err != nil || art == nil {
		return nil, shown, err
	}
	a := s.a
	pic := &picture.Picture{Name: "assemblies/" + a.ID.Text + ".exploded", Title: a.Title.Value + ", exploded"}
	balloons := numbered(pic, art, pieces, owners(a, s.sel, pieces, items), len(items), s.traces(art)...)
	for _, b := range balloons {
		shown[b.item] = true
	}
	pic.Description = fmt.Sprintf("%s taken apart: everything is moved along a straight way on which it can leave, thin chain lines lead to its place. %s",
		a.Title.Value, told(len(balloons), len(items)))
	return pic, shown, nil
}

// traces are the lines from where things are drawn to where they belong, as far as
// nothing hides them.
func (s *spread) traces(a *art) []picture.Curve {
	var out []picture.Curve
	for _, u := range s.placed {
		if s.shift[u] == s.from[u] {
			continue
		}
		for _, c := range s.tracks(u, s.shift[u].Sub(s.from[u]).Unit()) {
			out = append(out, visible(a.grid, c.Add(s.from[u]), c.Add(s.shift[u]), sightCell/a.scale)...)
		}
	}
	return out
}

// mostTracks bounds the trace lines of one unit: more would not be told apart.
const mostTracks = 8

// tracks are the points of a unit, where it belongs, that trace lines run through:
// the screws themselves; of other things those of the screws that hold them along
// the way, or else the middle of each use.
func (s *spread) tracks(u *way.Unit, along solid.Vec) []solid.Vec {
	var out []solid.Vec
	add := func(p solid.Vec) {
		for _, q := range out { // washers lie on the axis of their screw
			if off := p.Sub(q); off.Sub(along.Mul(off.Dot(along))).Len() < solid.Tolerance*1e3 {
				return
			}
		}
		if len(out) < mostTracks {
			out = append(out, p)
		}
	}
	for i, p := range s.Pieces {
		if p.Joint == "" {
			continue
		}
		mine := slices.Contains(u.Pieces, i)
		if u.Joint == "" && math.Abs(way.Outward(p).Dot(along)) > 1-solid.Tolerance {
			j := s.a.Joint(p.Joint)
			mine = j != nil && slices.ContainsFunc(j.Through, func(l plan.Layer) bool { return way.Names(l.Features, u.Uses) })
		}
		if mine {
			add(p.At.Point(p.Solid.Box().Centre()))
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, use := range u.Uses {
		box := solid.EmptyBox()
		for _, i := range u.Pieces {
			if p := s.Pieces[i]; p.Use == use {
				box = box.Join(p.Solid.BoxUnder(p.At))
			}
		}
		if !box.Empty() {
			add(box.Centre())
		}
	}
	return out
}

// visible are the parts of a line in space that nothing in a raster hides, found at
// steps in mm.
func visible(grid *raster, from, to solid.Vec, step float64) []picture.Curve {
	n := min(int(from.Dist(to)/step)+1, 4*mostCells)
	at := func(i int) solid.Vec { return from.Add(to.Sub(from).Mul(float64(i) / float64(n))) }
	var out []picture.Curve
	start := -1
	for i := 0; i <= n+1; i++ {
		open := i <= n && grid.seen(at(i))
		switch {
		case open && start < 0:
			start = i
		case !open && start >= 0:
			if i-1 > start {
				out = append(out, picture.Line{A: grid.dir.Flat(at(start)), B: grid.dir.Flat(at(i - 1))})
			}
			start = -1
		}
	}
	return out
}
