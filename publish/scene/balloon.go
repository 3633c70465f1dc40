package scene

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	artWide       = 112.0 // mm, the largest width of what balloons point at
	artHigh       = 96.0  // mm, its largest height
	balloonRadius = 4.0   // mm: a number of two figures stands in it
	balloonGap    = 1.5   // mm of paper between two balloons
	dotRadius     = 0.5   // mm, of the dot that ends a leader (ISO 128-22)
	figureHeight  = 3.5   // mm, of the numbers (ISO 3098-1); 2.5 from 100 on
	smallFigures  = 2.5
	sightCell     = 0.3 // mm on paper: visible spots are looked for on such a grid
)

// An Assembled is an assembly drawn put together.
type Assembled struct {
	Whole    *picture.Picture // as it is; nil when nothing in it has a shape and a place
	Numbered *picture.Picture // with a balloon for every item that is seen
	Shown    []bool           // by item: it has a balloon
}

// Together draws an assembly put together, as it is and with balloons: circles with
// the items' numbers, leaders ending in dots on what is meant. Numbers are places in
// the list, from 1.
func (s *Studio) Together(l *layout.Layout, a *plan.Assembly, sel plan.Selection, items []Item) (*Assembled, error) {
	cast := s.cast(l, a)
	owner := owners(a, sel, cast.pieces, items)
	return memo.Do(s.memory.Kept, "an assembly put together", func() (*Assembled, error) {
		return s.together(a, cast.pieces, owner, len(items))
	}, a.ID.Text, a.Title.Value, cast.key(cast.all()), owner, len(items))
}

// together draws pieces that belong to some of so many items.
func (s *Studio) together(a *plan.Assembly, pieces []layout.Piece, owner []int, items int) (*Assembled, error) {
	out := &Assembled{Shown: make([]bool, items)}
	art, err := s.project(pieces, view.Isometric, around(pieces, view.Isometric), artWide, artHigh, smallest)
	if err != nil || art == nil {
		return out, err
	}
	pic := &picture.Picture{Name: "assemblies/" + a.ID.Text + ".numbered", Title: a.Title.Value + ", numbered"}
	balloons := numbered(pic, art, pieces, owner, items)
	for _, b := range balloons {
		out.Shown[b.item] = true
	}
	pic.Description = fmt.Sprintf("%s put together, seen from the front, the right and above. %s", a.Title.Value, told(len(balloons), items))
	out.Numbered = pic
	out.Whole = &picture.Picture{
		Name: "assemblies/" + a.ID.Text, Title: a.Title.Value,
		Description: fmt.Sprintf("%s put together, seen from the front, the right and above: %d bodies.", a.Title.Value, len(pieces)),
	}
	art.scale *= math.Min((wide-2*edge)/(artWide-2*edge), (high-2*edge)/(artHigh-2*edge))
	art.paper(out.Whole, edge)
	out.Whole.Add(picture.Path{Curves: art.placed(art.curves()), Line: picture.Visible})
	return out, nil
}

// owners gives the index of each piece's item, -1 for none.
func owners(a *plan.Assembly, sel plan.Selection, pieces []layout.Piece, items []Item) []int {
	place := map[string]int{}
	for i, item := range items {
		if _, listed := place[item.ID]; !listed {
			place[item.ID] = i
		}
	}
	out := make([]int, len(pieces))
	for i, p := range pieces {
		n, listed := place[itemOf(a, sel, p)]
		if !listed {
			n = -1
		}
		out[i] = n
	}
	return out
}

// numbered fills a picture with art and with balloons around it, under curves of
// the art drawn otherwise.
func numbered(pic *picture.Picture, art *art, pieces []layout.Piece, owner []int, items int, traces ...picture.Curve) []balloon {
	spots := sightings(pieces, owner, items, art)
	frame := picture.Box{Max: art.box.Max.Minus(art.box.Min).Times(art.scale)}
	for _, list := range spots {
		for i := range list {
			list[i].at = list[i].at.Minus(art.box.Min).Times(art.scale)
		}
	}
	balloons, margin := arrange(frame, spots)
	margin += balloonRadius + edge
	art.paper(pic, margin)
	if len(traces) > 0 {
		pic.Add(picture.Path{Curves: art.placed(traces), Line: picture.Centre})
	}
	pic.Add(picture.Path{Curves: art.placed(art.curves()), Line: art.weight()})
	for _, b := range balloons {
		b.draw(pic, picture.Point{X: margin, Y: margin})
	}
	return balloons
}

// told says in words how many items have balloons.
func told(shown, all int) string {
	if shown == all {
		return fmt.Sprintf("Each of the %d items of its parts list has a balloon.", all)
	}
	return fmt.Sprintf("Of the %d items of its parts list, the %d that are seen have a balloon.", all, shown)
}

// A balloon is an item's circle with its leader, on the paper.
type balloon struct {
	item   int // index
	centre picture.Point
	spot   picture.Point // where the leader ends
}

// leader is the line from the circle to the spot.
func (b balloon) leader() picture.Line {
	way := b.spot.Minus(b.centre)
	return picture.Line{A: b.centre.Plus(way.Times(balloonRadius / math.Hypot(way.X, way.Y))), B: b.spot}
}

// draw adds the balloon to a picture: the leader over a strip of cleared paper, the
// dot, the circle and its number.
func (b balloon) draw(pic *picture.Picture, shift picture.Point) {
	b.lettered(pic, shift, strconv.Itoa(b.item+1))
}

// lettered draws the balloon with other letters than its number.
func (b balloon) lettered(pic *picture.Picture, shift picture.Point, letters string) {
	b.centre, b.spot = b.centre.Plus(shift), b.spot.Plus(shift)
	leader := []picture.Curve{b.leader()}
	n := strconv.Itoa(b.item + 1)
	height := figureHeight
	if utf8.RuneCountInString(letters) > 2 {
		height = smallFigures
	}
	pic.Add(picture.Group{ID: "item-" + n, Title: "Item " + n, Marks: []picture.Mark{
		picture.Path{Curves: leader, Line: picture.Visible, Ink: picture.Paper},
		picture.Path{Curves: leader, Line: picture.Thin},
		picture.Path{Curves: picture.Circle(b.spot, dotRadius), Fill: picture.Ink},
		picture.Path{Curves: picture.Circle(b.centre, balloonRadius), Line: picture.Visible, Fill: picture.Paper},
		picture.Text{At: b.centre, Words: letters, Height: height, Anchor: picture.Middle, Rise: picture.MidCapital},
	}})
}

// A sighting is a spot at which an item is seen.
type sighting struct {
	at    picture.Point // at 1:1
	clear float64       // mm on paper to where another face is seen
}

// mostSightings bounds the spots that one item's leader may choose from.
const mostSightings = 48

// sightings are the spots at which each of some items is seen; owner gives each
// piece's item, -1 for none.
func sightings(pieces []layout.Piece, owner []int, items int, a *art) [][]sighting {
	out := make([][]sighting, items)
	grid := a.grid
	eye := newSight(pieces, grid.dir)
	clear := grid.clearance()
	for i, cells := range grid.choice(clear, len(pieces)) {
		if owner[i] < 0 {
			continue
		}
		for _, c := range cells {
			at := grid.point(c)
			if eye.first(at) == i {
				out[owner[i]] = append(out[owner[i]], sighting{at, float64(clear[c]) * grid.cell * a.scale})
			}
		}
	}
	for i, list := range out {
		slices.SortStableFunc(list, func(a, b sighting) int { return cmp.Compare(b.clear, a.clear) })
		out[i] = list[:min(len(list), mostSightings)]
	}
	return out
}

// roomy is how much of one face, mm on paper, should be seen around a dot.
const roomy = 1.5

// choice are, by body, the cells that its leader may end at: the one with most of
// a face around it, and those farthest in eight directions that have enough.
func (g *raster) choice(clear []int32, bodies int) [][]int {
	best := make([]int, bodies)
	for i := range best {
		best[i] = -1
	}
	for i, b := range g.body {
		if b >= 0 && (best[b] < 0 || clear[i] > clear[best[b]]) {
			best[b] = i
		}
	}
	const ways = 8
	enough := int32(roomy / sightCell)
	far := make([][ways]int, bodies)
	for b := range far {
		for w := range ways {
			far[b][w] = best[b]
		}
	}
	var cos, sin [ways]float64
	for w := range ways {
		sin[w], cos[w] = math.Sincos(2 * math.Pi * float64(w) / ways)
	}
	along := func(i, w int) float64 { return cos[w]*float64(i%g.width) + sin[w]*float64(i/g.width) }
	for i, b := range g.body {
		if b < 0 || clear[i] < min(enough, clear[best[b]]) {
			continue
		}
		for w := range ways {
			if along(i, w) > along(far[b][w], w)+1e-9 {
				far[b][w] = i
			}
		}
	}
	out := make([][]int, bodies)
	for b := range out {
		if best[b] < 0 {
			continue
		}
		out[b] = append(out[b], best[b])
		for _, i := range far[b] {
			if !slices.Contains(out[b], i) {
				out[b] = append(out[b], i)
			}
		}
	}
	return out
}

// A sight looks at pieces along rays, exactly.
type sight struct {
	pieces []layout.Piece
	dir    view.Direction
	boxes  []picture.Box
}

func newSight(pieces []layout.Piece, dir view.Direction) *sight {
	s := &sight{pieces: pieces, dir: dir}
	for _, p := range pieces {
		s.boxes = append(s.boxes, drawnBox(p, dir))
	}
	return s
}

// first is the index of the piece that is seen at a point of the paper, at 1:1; -1
// for none.
func (s *sight) first(at picture.Point) int {
	origin := s.dir.Right.Mul(at.X).Add(s.dir.Up.Mul(-at.Y))
	nearest, found := math.Inf(-1), -1
	for i, p := range s.pieces {
		b := s.boxes[i]
		if at.X < b.Min.X || at.X > b.Max.X || at.Y < b.Min.Y || at.Y > b.Max.Y {
			continue
		}
		back := p.At.Inverse()
		for _, hit := range p.Solid.Line(back.Point(origin), back.Direction(s.dir.Toward)) {
			if !hit.Unsure && hit.T > nearest+solid.Tolerance {
				nearest, found = hit.T, i
			}
		}
	}
	return found
}
