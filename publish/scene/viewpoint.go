package scene

import (
	"crypto/sha256"
	"math"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// direction is from where a step's author wants it seen, by the assembly's own sides:
// "front right above"; drawn as it lies on a face.
func direction(st *plan.Step, on string) (d view.Direction, given bool) {
	if st.Picture == nil || !st.Picture.From.Given() {
		return d, false
	}
	toward := solid.Vec{}
	for _, w := range strings.Fields(st.Picture.From.Text) {
		switch w {
		case "front":
			toward.Y--
		case "back":
			toward.Y++
		case "left":
			toward.X--
		case "right":
			toward.X++
		case "above", "top":
			toward.Z++
		case "below", "bottom":
			toward.Z--
		}
	}
	lies := lying(on)
	up := lies.Turn[2]
	if toward.Cross(up).Len() < solid.Tolerance {
		up = lies.Turn[1]
	}
	d, err := view.Look(toward, up)
	return d, err == nil
}

// A side is one that a step may be seen from, with how gladly: people stand before
// their work and look down on it, and find their way best when pictures do not jump.
type side struct {
	dir    view.Direction
	liking float64
}

// sides are seen with the machine upright in all of them.
var sides = []side{
	{view.Isometric, 1.1}, {look(-1, -1, 1), 1}, {look(1, 1, 1), 1}, {look(-1, 1, 1), 1},
	{look(1, -1, -1), 0.7}, {look(-1, -1, -1), 0.7}, {look(1, 1, -1), 0.7}, {look(-1, 1, -1), 0.7},
}

// staying is how much more gladly a step is seen from where the step before was.
const staying = 1.1

func look(x, y, z float64) view.Direction {
	d, err := view.Look(solid.Vec{X: x, Y: y, Z: z}, solid.Vec{Z: 1})
	if err != nil {
		panic(err) // the directions above are none along z
	}
	return d
}

// lookCells is how many cells the diagonal of an assembly has where sides to look
// from are compared.
const lookCells = 300.0

// lying takes what is said of work as it lies on the bench (x to the right, y away from
// the builder, z up) to the axes of the assembly: laid on its back or front it was
// tipped over that edge, laid on a side or on its top it keeps its front in front.
func lying(on string) solid.Placement {
	x, y, z := solid.Vec{X: 1}, solid.Vec{Y: 1}, solid.Vec{Z: 1}
	turns := map[string][3]solid.Vec{
		"back": {x, z, y.Mul(-1)}, "front": {x, z.Mul(-1), y},
		"left": {z.Mul(-1), y, x}, "right": {z, y, x.Mul(-1)},
		"top": {x.Mul(-1), y, z.Mul(-1)},
	}
	turn, lies := turns[on]
	if !lies {
		turn = [3]solid.Vec{x, y, z}
	}
	return solid.Placement{Turn: turn}
}

// lookouts are those of an assembly, for each face that it lies on in some step one.
type lookouts struct {
	s       *Studio
	a       *plan.Assembly
	sel     plan.Selection
	cast    *cast
	entered []int
	on      map[string]*lookout
}

// as is the lookout for work that lies on a face.
func (l *lookouts) as(on string) *lookout {
	o := l.on[on]
	if o == nil {
		o = l.s.newLookout(l.a, l.sel, l.cast, lying(on))
		o.enter(l.entered)
		l.on[on] = o
	}
	return o
}

// enter puts pieces in their places.
func (l *lookouts) enter(fresh []int) {
	l.entered = append(l.entered, fresh...)
	for _, o := range l.on {
		o.enter(fresh)
	}
}

// A lookout compares the sides that steps may be seen from. It holds what stands so
// far as seen from each; things enter once and never leave, so that all steps
// together cost as much as one picture of the whole. Nothing is put into its rasters
// before a question comes whose answer is not known.
type lookout struct {
	s       *Studio
	a       *plan.Assembly
	sel     plan.Selection
	cast    *cast
	sides   []side
	frames  []picture.Box  // of all pieces, by side
	grids   []*raster      // by side; none before they are needed
	known   memo.Key       // stands for what entered, in that order
	waiting []int          // what entered and is in no raster
	last    int            // side of the step before
	first   map[placed]int // the first piece at a joint's place: its screw
}

// placed is a joint's place.
type placed struct {
	joint string
	place int
}

func (s *Studio) newLookout(a *plan.Assembly, sel plan.Selection, cast *cast, lies solid.Placement) *lookout {
	o := &lookout{s: s, a: a, sel: sel, cast: cast, last: -1, first: map[placed]int{}}
	for _, side := range sides {
		d := side.dir
		side.dir = view.Direction{Right: lies.Point(d.Right), Up: lies.Point(d.Up), Toward: lies.Point(d.Toward)}
		o.sides = append(o.sides, side)
		o.frames = append(o.frames, around(cast.pieces, side.dir))
	}
	for i, p := range cast.pieces {
		if _, met := o.first[placed{p.Joint, p.Place}]; !met {
			o.first[placed{p.Joint, p.Place}] = i
		}
	}
	return o
}

// enter puts pieces in their places.
func (o *lookout) enter(fresh []int) {
	o.waiting = append(o.waiting, fresh...)
	if o.cast.keys != nil {
		now := o.cast.key(fresh)
		o.known = sha256.Sum256(append(o.known[:], now[:]...))
	}
}

// look puts what entered into the rasters.
func (o *lookout) look() {
	for i := range o.sides {
		if len(o.grids) == i {
			box := o.frames[i]
			o.grids = append(o.grids, newRaster(o.sides[i].dir, box, box.Min.Distance(box.Max)/lookCells))
		}
		for _, k := range o.waiting {
			o.grids[i].add(o.cast.pieces[k], o.s.mesh(o.cast.pieces[k].Solid), k)
		}
	}
	o.waiting = nil
}

// best is the side from which pieces that just entered are seen best: of each item
// the share of its outline that is not hidden, of screws as far as their heads look
// this way.
func (o *lookout) best(fresh []int) view.Direction {
	news := o.news(fresh)
	o.last = memo.Sure(o.s.memory.Kept, "from where a step is seen best", func() int {
		o.look()
		return o.compared(fresh, news)
	}, o.sides[0].dir, o.frames, o.known, o.cast.key(fresh), news, o.last)
	return o.sides[o.last].dir
}

// A news is what counts of a piece that just entered, besides its shape and place.
type news struct {
	Item   int  // equal for pieces of one item, counted as they come
	Screw  bool // of a joint
	Behind bool // on the nut's side of a joint
}

func (o *lookout) news(fresh []int) []news {
	items := map[string]int{}
	out := make([]news, len(fresh))
	for k, i := range fresh {
		p := o.cast.pieces[i]
		id := itemOf(o.a, o.sel, p)
		n, met := items[id]
		if !met {
			n = len(items)
			items[id] = n
		}
		out[k] = news{Item: n, Screw: p.Joint != "", Behind: p.Joint != "" && o.behind(i)}
	}
	return out
}

// compared is the index of the side that scores most.
func (o *lookout) compared(fresh []int, news []news) int {
	best, most := 0, -1.0
	for k, side := range o.sides {
		score := o.seen(k, fresh, news) * side.liking
		if k == o.last {
			score *= staying
		}
		if score > most+1e-9 {
			best, most = k, score
		}
	}
	return best
}

// seen is how well pieces are seen from a side, 0 to 1.
func (o *lookout) seen(k int, fresh []int, news []news) float64 {
	g := o.grids[k]
	type item struct{ sum, weight, count float64 }
	var items []item
	for n, i := range fresh {
		p := o.cast.pieces[i]
		share := g.share(p, o.s.mesh(p.Solid), i)
		if news[n].Screw {
			share *= headLooks(way.Outward(p).Dot(g.dir.Toward))
		}
		own := 1.0
		if news[n].Behind {
			own = nutWeight
		}
		if news[n].Item == len(items) {
			items = append(items, item{})
		}
		one := &items[news[n].Item]
		one.sum += share * own
		one.weight += own
		one.count++
	}
	var total, all float64
	for _, one := range items {
		mean := one.weight / one.count
		total += one.sum / one.weight * mean
		all += mean
	}
	return total / all
}

// nutWeight is how much nuts and what lies under them count against screws and parts:
// they are held, the screw is turned.
const nutWeight = 0.2

// behind reports whether a piece of a joint is on the nut's side: its top looks the
// other way than the screw's.
func (o *lookout) behind(i int) bool {
	p := o.cast.pieces[i]
	screw := o.cast.pieces[o.first[placed{p.Joint, p.Place}]]
	return way.Outward(screw).Dot(way.Outward(p)) < 0
}

// headLooks is how much a screw that is seen counts, by the cosine between the way
// that its head looks and the one to the eye: from behind, its end says little.
func headLooks(cos float64) float64 {
	const behind = 0.3
	return behind + (1-behind)*math.Min(1, math.Max(0, cos)*math.Sqrt(3))
}

// share is how much of a piece's outline is seen in the raster, 0 to 1.
func (g *raster) share(p layout.Piece, mesh *solid.Mesh, number int) float64 {
	alone := newRaster(g.dir, g.cells(drawnBox(p, g.dir)), g.cell)
	alone.add(p, mesh, number)
	x0, y0 := int(math.Round((alone.from.X-g.from.X)/g.cell)), int(math.Round((alone.from.Y-g.from.Y)/g.cell))
	all, seen := 0, 0
	for i, b := range alone.body {
		if b < 0 {
			continue
		}
		all++
		x, y := x0+i%alone.width, y0+i/alone.width
		if x >= 0 && y >= 0 && x < g.width && y < g.height && g.body[y*g.width+x] == int32(number) {
			seen++
		}
	}
	return float64(seen) / math.Max(1, float64(all))
}

// cells is a box that reaches to whole cells of the raster.
func (g *raster) cells(b picture.Box) picture.Box {
	down := func(x, from float64) float64 { return from + math.Floor((x-from)/g.cell)*g.cell }
	b.Min = picture.Point{X: down(b.Min.X, g.from.X), Y: down(b.Min.Y, g.from.Y)}
	return b
}
