package scene

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
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

// Exploded draws an assembly apart: everything is moved along a straight way on
// which it really could leave what is put together before it, far enough to be seen
// beside the rest; sub-assemblies stay whole. Thin chain lines lead to where things
// belong, balloons give their numbers in the list of items. What has no free way
// stays in place. It is nil for fewer than two things with a shape, and for more than
// 4000: too many to take apart.
func Exploded(l *layout.Layout, a *plan.Assembly, sel plan.Selection, items []Item) (*Explosion, error) {
	pieces := l.Pieces(a)
	if len(pieces) < 2 || len(pieces) > mostExploded {
		return nil, nil
	}
	m := newMachine(a, sel, pieces)
	out, stay, locked := m.apart()
	s := newSpread(m, view.Isometric)
	for _, u := range stay {
		s.put(u, solid.Vec{}, solid.Vec{})
	}
	for _, r := range slices.Backward(out) {
		s.place(r)
	}
	e := &Explosion{Bounded: m.ways.lines > mostLines}
	for _, r := range out {
		e.Moves = append(e.Moves, Move{Uses: r.unit.uses, Joint: r.unit.joint, Way: r.way, By: s.shift[r.unit]})
	}
	for _, u := range append(stay[1:len(stay):len(stay)], locked...) {
		if e.Stuck = append(e.Stuck, u.uses...); u.joint != "" && !slices.Contains(e.Stuck, u.joint) {
			e.Stuck = append(e.Stuck, u.joint)
		}
	}
	if len(out) == 0 {
		return e, nil
	}
	var err error
	e.Picture, e.Shown, err = s.draw(items)
	if e.Picture != nil && len(e.Stuck) > 0 {
		e.Picture.Description += fmt.Sprintf(" No free way was found for %s: not moved by itself.", strings.ReplaceAll(strings.Join(e.Stuck, ", "), "_", " "))
	}
	return e, err
}

// mostExploded bounds the pieces that are taken apart.
const mostExploded = 4000

// A spread holds where the units of an exploded view go.
type spread struct {
	m      *machine
	dir    view.Direction
	size   float64 // mm, diagonal of the assembly as it is seen
	cell   float64 // mm
	meshes *mesher
	placed []*unit
	shift  map[*unit]solid.Vec
	from   map[*unit]solid.Vec // the shift of what a unit stands on
	taken  map[[2]int]bool     // cells of the paper
}

func newSpread(m *machine, dir view.Direction) *spread {
	s := &spread{m: m, dir: dir, shift: map[*unit]solid.Vec{}, from: map[*unit]solid.Vec{}, taken: map[[2]int]bool{}}
	box := picture.Nothing
	for _, p := range m.pieces {
		box = box.Join(drawnBox(p, dir))
	}
	s.size = box.Min.Distance(box.Max)
	s.cell = s.size / maskCells
	s.meshes = newMesher(s.cell / 2)
	return s
}

// mask are the cells of the paper that a unit covers where it belongs.
func (s *spread) mask(u *unit) [][2]int {
	box := picture.Nothing
	for _, i := range u.pieces {
		box = box.Join(drawnBox(s.m.pieces[i], s.dir))
	}
	// On whole cells, so that the masks of all units lie on one grid; what is
	// narrower than a cell is widened by a rim.
	box.Min = picture.Point{X: math.Floor(box.Min.X/s.cell) * s.cell, Y: math.Floor(box.Min.Y/s.cell) * s.cell}
	g := newRaster(s.dir, box, s.cell)
	for _, i := range u.pieces {
		g.add(s.m.pieces[i], s.meshes.mesh(s.m.pieces[i].Solid), i)
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
func (s *spread) put(u *unit, shift, from solid.Vec) {
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
func (s *spread) place(r removal) {
	u := r.unit
	base := s.base(r)
	from := solid.Vec{}
	if base != nil {
		from = s.shift[base]
	}
	least := leastShift * s.size
	for _, v := range s.placed {
		if s.m.blocks(u, v, r.way) {
			least = math.Max(least, s.shift[v].Sub(from).Dot(r.way)+leastShift*s.size)
		}
	}
	mask := s.mask(u)
	least = math.Min(least, r.free)
	best, fewest := least, math.MaxInt
	for off := least; off <= math.Min(r.free, least+mostShift*s.size); off += shiftStep * s.size {
		if n := s.overlap(mask, from.Add(r.way.Mul(off))); n < fewest {
			best, fewest = off, n
		}
		if fewest == 0 {
			break
		}
	}
	s.put(u, from.Add(r.way.Mul(best)), from)
}

// base is what a unit stands on and moves out with: what its head bears on for
// screws, otherwise what it is joined to, best of all behind it; nil for none.
func (s *spread) base(r removal) *unit {
	var joined, behind *unit
	for _, v := range s.placed {
		if v.joint != "" {
			continue
		}
		bound := s.m.bound(r.unit, v)
		if !bound && joined != nil {
			continue
		}
		back := s.m.blocks(r.unit, v, r.way)
		switch {
		case bound && (joined == nil || back):
			joined = v
		case back && (behind == nil || s.shift[v].Dot(r.way) > s.shift[behind].Dot(r.way)):
			behind = v
		}
	}
	if joined != nil {
		return joined
	}
	return behind
}

// bound reports whether a joint ties a unit to another: for screws, whether their
// heads bear on it.
func (m *machine) bound(u, v *unit) bool {
	if u.joint != "" {
		j := m.a.Joint(u.joint)
		return j != nil && len(j.Through) > 0 && names(j.Through[0].Features, v.uses)
	}
	for _, j := range m.a.Joints {
		mine, theirs := false, false
		for _, layer := range append([]plan.Layer{j.Mine, j.Theirs}, j.Through...) {
			mine = mine || names(layer.Features, u.uses)
			theirs = theirs || names(layer.Features, v.uses)
		}
		if mine && theirs {
			return true
		}
	}
	return false
}

// draw makes the picture.
func (s *spread) draw(items []Item) (*picture.Picture, []bool, error) {
	shown := make([]bool, len(items))
	pieces := slices.Clone(s.m.pieces)
	for _, u := range s.placed {
		for _, i := range u.pieces {
			pieces[i].At = pieces[i].At.Then(solid.Moved(s.shift[u]))
		}
	}
	art, err := project(pieces, s.dir, explodedWide, explodedHigh, smallestApart)
	if err != nil || art == nil {
		return nil, shown, err
	}
	a := s.m.a
	pic := &picture.Picture{Name: "assemblies/" + a.ID.Text + ".exploded", Title: a.Title.Value + ", exploded"}
	grid := survey(pieces, s.dir, art)
	balloons := numbered(pic, art, grid, pieces, owners(a, s.m.sel, pieces, items), len(items), s.traces(grid, art)...)
	for _, b := range balloons {
		shown[b.item] = true
	}
	pic.Description = fmt.Sprintf("%s taken apart: everything is moved along a straight way on which it can leave, thin chain lines lead to its place. %s",
		a.Title.Value, told(len(balloons), len(items)))
	return pic, shown, nil
}

// traces are the lines from where things are drawn to where they belong, as far as
// nothing hides them.
func (s *spread) traces(grid *raster, a *art) []picture.Curve {
	var out []picture.Curve
	for _, u := range s.placed {
		if s.shift[u] == s.from[u] {
			continue
		}
		for _, c := range s.m.tracks(u, s.shift[u].Sub(s.from[u]).Unit()) {
			out = append(out, visible(grid, c.Add(s.from[u]), c.Add(s.shift[u]), sightCell/a.scale)...)
		}
	}
	return out
}

// mostTracks bounds the trace lines of one unit: more would not be told apart.
const mostTracks = 8

// tracks are the points of a unit, where it belongs, that trace lines run through:
// the screws themselves; of other things those of the screws that hold them along
// the way, or else the middle of each use.
func (m *machine) tracks(u *unit, way solid.Vec) []solid.Vec {
	var out []solid.Vec
	for i, p := range m.pieces {
		if p.Joint == "" || len(out) >= mostTracks {
			continue
		}
		mine := slices.Contains(u.pieces, i)
		if u.joint == "" && math.Abs(outward(p).Dot(way)) > 1-solid.Tolerance {
			j := m.a.Joint(p.Joint)
			mine = j != nil && slices.ContainsFunc(j.Through, func(l plan.Layer) bool { return names(l.Features, u.uses) })
		}
		if mine {
			out = append(out, p.At.Point(p.Solid.Box().Centre()))
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, use := range u.uses {
		box := solid.EmptyBox()
		for _, i := range u.pieces {
			if p := m.pieces[i]; p.Use == use {
				box = box.Join(p.Solid.BoxUnder(p.At))
			}
		}
		if !box.Empty() {
			out = append(out, box.Centre())
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
