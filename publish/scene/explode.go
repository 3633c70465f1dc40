package scene

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
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
	cast := s.cast(l, a)
	if len(cast.pieces) < 2 || len(cast.pieces) > mostExploded {
		return nil, nil
	}
	p := way.Of(a, sel, cast.pieces, s.memory).Apart()
	e := &Explosion{Bounded: p.Bounded}
	for _, u := range slices.Concat(p.Stays[1:], p.Locked) {
		if u.Joint == "" {
			e.Stuck = append(e.Stuck, u.Uses...)
		} else if !slices.Contains(e.Stuck, u.Joint) {
			e.Stuck = append(e.Stuck, u.Joint)
		}
	}
	units, owner := parted(a, p), owners(a, sel, cast.pieces, items)
	drawn, err := memo.Do(s.memory.Kept, "an assembly taken apart", func() (scattered, error) {
		return s.spreadOut(a, cast.pieces, units, owner, len(items))
	}, a.ID.Text, a.Title.Value, cast.key(cast.all()), cast.brings, units, owner, len(items))
	if err != nil {
		return nil, err
	}
	for k, r := range p.Out {
		e.Moves = append(e.Moves, Move{Uses: r.Unit.Uses, Joint: r.Unit.Joint, Way: r.Way, By: drawn.Shift[len(units)-1-k]})
	}
	e.Picture, e.Shown = drawn.Picture, drawn.Shown
	if e.Picture != nil && len(e.Stuck) > 0 {
		e.Picture.Description += fmt.Sprintf(" No free way was found for %s: not moved by itself.", strings.ReplaceAll(strings.Join(e.Stuck, ", "), "_", " "))
	}
	return e, nil
}

// A scattered is what is drawn of an assembly taken apart.
type scattered struct {
	Picture *picture.Picture // nil where nothing moves
	Shown   []bool           // by item: it has a balloon
	Shift   []solid.Vec      // by unit: mm from its place to where it is drawn
}

// A unit is what moves as one, with all that its place on the paper follows from but the
// shapes. Units stand in the order in which they are set down.
type unit struct {
	Pieces []int
	Uses   []string
	Joint  string
	Way    solid.Vec // the way out; none for what stays
	Free   float64   // mm: how far it is known to be free
	Before []bool    // by unit set down before: that one, moving the same way, runs into it
	Bound  []bool    // by unit set down before that is no screws: a joint ties it to that
	Held   []string  // the joints that hold it
}

// moves reports whether the unit leaves its place.
func (u *unit) moves() bool { return u.Way != solid.Vec{} }

// parted are the units of an assembly that was taken apart, in the order in which it is
// put together again.
func parted(a *plan.Assembly, p *way.Parting) []unit {
	var out []unit
	var down []*way.Unit
	set := func(u *way.Unit, one unit) {
		one.Pieces, one.Uses, one.Joint = u.Pieces, u.Uses, u.Joint
		for _, j := range a.Joints {
			if slices.ContainsFunc(j.Through, func(l plan.Layer) bool { return way.Names(l.Features, u.Uses) }) {
				one.Held = append(one.Held, j.ID.Text)
			}
		}
		out, down = append(out, one), append(down, u)
	}
	for _, u := range p.Stays {
		set(u, unit{})
	}
	for _, r := range slices.Backward(p.Out) {
		one := unit{Way: r.Way, Free: r.Free}
		for _, v := range down {
			one.Before = append(one.Before, p.Blocks(r.Unit, v, r.Way))
			one.Bound = append(one.Bound, v.Joint == "" && p.Bound(r.Unit, v))
		}
		set(r.Unit, one)
	}
	return out
}

// mostExploded bounds the pieces that are taken apart.
const mostExploded = 4000

// A spread holds where the units of an exploded view go.
type spread struct {
	pieces []layout.Piece
	units  []unit
	dir    view.Direction
	size   float64 // mm, diagonal of the assembly as it is seen
	cell   float64 // mm
	studio *Studio
	shift  []solid.Vec // by unit set down
	from   []solid.Vec // the shift of what a unit stands on
	taken  cells
}

// spreadOut sets units down and draws them; owner gives each piece's item of so many.
func (studio *Studio) spreadOut(a *plan.Assembly, pieces []layout.Piece, units []unit, owner []int, items int) (scattered, error) {
	s := &spread{pieces: pieces, units: units, studio: studio, dir: view.Isometric}
	box := around(pieces, s.dir)
	s.size = box.Min.Distance(box.Max)
	s.cell = s.size / maskCells
	out := scattered{}
	moving := false
	for i := range units {
		if !units[i].moves() {
			s.put(s.mask(&units[i]), solid.Vec{}, solid.Vec{})
			continue
		}
		moving = true
		s.place(&units[i])
	}
	out.Shift = s.shift
	if !moving {
		return out, nil
	}
	var err error
	out.Picture, out.Shown, err = s.draw(a, owner, items)
	return out, err
}

// mask are the cells of the paper that a unit covers where it belongs.
func (s *spread) mask(u *unit) [][2]int {
	box := picture.Nothing
	for _, i := range u.Pieces {
		box = box.Join(drawnBox(s.pieces[i], s.dir))
	}
	// On whole cells, so that the masks of all units lie on one grid; what is
	// narrower than a cell is widened by a rim.
	box.Min = picture.Point{X: math.Floor(box.Min.X/s.cell) * s.cell, Y: math.Floor(box.Min.Y/s.cell) * s.cell}
	g := newRaster(s.dir, box, s.cell)
	for _, i := range u.Pieces {
		g.add(s.pieces[i], s.studio.mesh(s.pieces[i].Solid), i)
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

// put sets the next unit down, shifted, and marks the paper that its mask takes.
func (s *spread) put(mask [][2]int, shift, from solid.Vec) {
	s.shift, s.from = append(s.shift, shift), append(s.from, from)
	by := s.cells(shift)
	for _, c := range mask {
		for dx := -maskGap; dx <= maskGap; dx++ {
			for dy := -maskGap; dy <= maskGap; dy++ {
				s.taken.add(c[0]+by[0]+dx, c[1]+by[1]+dy)
			}
		}
	}
}

// overlap counts the cells of a mask, shifted, that are taken.
func (s *spread) overlap(mask [][2]int, shift solid.Vec) (n int) {
	by := s.cells(shift)
	for _, c := range mask {
		if s.taken.has(c[0]+by[0], c[1]+by[1]) {
			n++
		}
	}
	return n
}

// place finds how far a unit moves out: past everything that could not leave before
// it, and on to paper that is free. It starts from where what it stands on has gone.
func (s *spread) place(u *unit) {
	from := solid.Vec{}
	if base := s.base(u); base >= 0 {
		from = s.shift[base]
	}
	least := leastShift * s.size
	for v, shift := range s.shift {
		if u.Before[v] {
			least = math.Max(least, shift.Sub(from).Dot(u.Way)+leastShift*s.size)
		}
	}
	mask := s.mask(u)
	least = math.Min(least, u.Free)
	best, fewest := least, math.MaxInt
	for off := least; off <= math.Min(u.Free, least+mostShift*s.size); off += shiftStep * s.size {
		if n := s.overlap(mask, from.Add(u.Way.Mul(off))); n < fewest {
			best, fewest = off, n
		}
		if fewest == 0 {
			break
		}
	}
	s.put(mask, from.Add(u.Way.Mul(best)), from)
}

// base is what a unit stands on and moves out with: what its head bears on for
// screws, otherwise what it is joined to, best of all behind it; -1 for none.
func (s *spread) base(u *unit) int {
	joined, behind := -1, -1
	for v := range s.shift {
		if s.units[v].Joint != "" {
			continue
		}
		bound, back := u.Bound[v], u.Before[v]
		switch {
		case !bound && joined >= 0:
		case bound && (joined < 0 || back):
			joined = v
		case back && (behind < 0 || s.shift[v].Dot(u.Way) > s.shift[behind].Dot(u.Way)):
			behind = v
		}
	}
	if joined >= 0 {
		return joined
	}
	return behind
}

// draw makes the picture.
func (s *spread) draw(a *plan.Assembly, owner []int, items int) (*picture.Picture, []bool, error) {
	shown := make([]bool, items)
	pieces := slices.Clone(s.pieces)
	for k, shift := range s.shift {
		for _, i := range s.units[k].Pieces {
			pieces[i].At = pieces[i].At.Then(solid.Moved(shift))
		}
	}
	art, err := s.studio.project(pieces, s.dir, around(pieces, s.dir), explodedWide, explodedHigh, smallestApart)
	if err != nil || art == nil {
		return nil, shown, err
	}
	pic := &picture.Picture{Name: "assemblies/" + a.ID.Text + ".exploded", Title: a.Title.Value + ", exploded"}
	balloons := numbered(pic, art, pieces, owner, items, s.traces(art)...)
	for _, b := range balloons {
		shown[b.item] = true
	}
	pic.Description = fmt.Sprintf("%s taken apart: everything is moved along a straight way on which it can leave, thin chain lines lead to its place. %s",
		a.Title.Value, told(len(balloons), items))
	return pic, shown, nil
}

// traces are the lines from where things are drawn to where they belong, as far as
// nothing hides them.
func (s *spread) traces(a *art) []picture.Curve {
	var out []picture.Curve
	for k, shift := range s.shift {
		from := s.from[k]
		if shift == from {
			continue
		}
		for _, c := range s.tracks(&s.units[k], shift.Sub(from).Unit()) {
			out = append(out, visible(a.grid, c.Add(from), c.Add(shift), sightCell/a.scale)...)
		}
	}
	return out
}

// mostTracks bounds the trace lines of one unit: more would not be told apart.
const mostTracks = 8

// tracks are the points of a unit, where it belongs, that trace lines run through:
// the screws themselves; of other things those of the screws that hold them along
// the way, or else the middle of each use.
func (s *spread) tracks(u *unit, along solid.Vec) []solid.Vec {
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
	for i, p := range s.pieces {
		if p.Joint == "" {
			continue
		}
		mine := slices.Contains(u.Pieces, i)
		if u.Joint == "" && math.Abs(way.Outward(p).Dot(along)) > 1-solid.Tolerance {
			mine = slices.Contains(u.Held, p.Joint)
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
			if p := s.pieces[i]; p.Use == use {
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
