package scene

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// heap is a plan of n blocks of different sizes that stand apart on a board or on
// each other; the first is the board.
func heap(random *rand.Rand, n int) trial.Files {
	var parts, holds, steps strings.Builder
	fmt.Fprintf(&parts, "p0: {title: P0, made: bought, shape: [{box: [400 mm, 400 mm, 20 mm]}]}\n")
	fmt.Fprintf(&holds, "  u0: {part: p0, at: [0 mm, 0 mm, -20 mm]}\n")
	top := map[[2]int]int{} // by square of the board
	for i := 1; i < n; i++ {
		c := [2]int{random.IntN(5), random.IntN(5)}
		x, y, z := 10+random.IntN(60), 10+random.IntN(60), 10+random.IntN(80)
		fmt.Fprintf(&parts, "p%d: {title: P%d, made: bought, shape: [{box: [%d mm, %d mm, %d mm]}]}\n", i, i, x, y, z)
		fmt.Fprintf(&holds, "  u%d: {part: p%d, at: [%d mm, %d mm, %d mm]}\n", i, i, c[0]*80+5, c[1]*80+5, top[c])
		top[c] += z
	}
	for i := range n {
		fmt.Fprintf(&steps, "  s%d: {title: S%d, adds: [u%d], text: T}\n", i, i, i)
	}
	return trial.Files{
		"plan.yaml":            "title: Heap\nmachine: heap\nrevision: A\n",
		"parts/all.yaml":       parts.String(),
		"assemblies/heap.yaml": "title: Heap\nholds:\n" + holds.String() + "steps:\n" + steps.String(),
	}
}

// groups are the balloons' marks, by item number.
func groups(pic *picture.Picture) map[string][]picture.Mark {
	out := map[string][]picture.Mark{}
	for _, m := range pic.Marks {
		if g, ok := m.(picture.Group); ok {
			out[g.ID] = g.Marks
		}
	}
	return out
}

// within reports marks that reach over a picture's edge.
func within(t *testing.T, pic *picture.Picture) {
	t.Helper()
	if err := picture.Check(pic); err != nil {
		t.Error(err)
	}
	for _, m := range pic.Marks {
		b := picture.Bounds([]picture.Mark{m})
		if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > pic.Width || b.Max.Y > pic.Height {
			t.Errorf("%s: a mark reaches to %v..%v of %g × %g mm", pic.Name, b.Min, b.Max, pic.Width, pic.Height)
		}
	}
}

// Every part that rays find has a balloon whose dot lies on it; none else has.
func TestBalloonedHeaps(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 3))
	studio := NewStudio(way.NewMemory())
	for run := range 12 {
		files := heap(random, 3+random.IntN(25))
		r := trial.Reckoning(t, files)
		a, l := r.Plan.Assembly("heap"), layout.Of(r)
		items := Items(r, a)
		together, err := studio.Together(l, a, r.Case.Options, items)
		pic, shown := together.Numbered, together.Shown
		if err != nil || pic == nil {
			t.Fatalf("run %d: picture %v, error %v", run, pic, err)
		}
		within(t, pic)
		pieces := l.Pieces(a)
		sees, total := rays(pieces, view.Isometric)
		marks := groups(pic)
		art, err := studio.project(pieces, view.Isometric, around(pieces, view.Isometric), artWide, artHigh, smallest)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range pieces {
			if !shown[i] && float64(sees[i]) > 1e-3*float64(total) {
				t.Errorf("run %d: %s is seen on %d of %d rays and has no balloon", run, p.Use, sees[i], total)
			}
			group := marks[fmt.Sprintf("item-%d", i+1)]
			if (group != nil) != shown[i] {
				t.Errorf("run %d: %s: shown is %v, drawn is %v", run, p.Use, shown[i], group != nil)
			}
			if group == nil {
				continue
			}
			dot := group[2].(picture.Path).Curves[0].(picture.Arc).Centre
			margin := (pic.Width - (art.box.Max.X-art.box.Min.X)*art.scale) / 2
			at := dot.Minus(picture.Point{X: margin, Y: margin}).Times(1 / art.scale).Plus(art.box.Min)
			if hit := newSight(pieces, view.Isometric).first(at); hit != i {
				t.Errorf("run %d: the leader of %s ends on piece %d", run, p.Use, hit)
			}
		}
	}
}

// rays counts on how many of a lattice of rays each piece is the first.
func rays(pieces []layout.Piece, dir view.Direction) (sees []int, total int) {
	sees = make([]int, len(pieces))
	box := around(pieces, dir)
	eye := newSight(pieces, dir)
	const lattice = 90
	for y := range lattice {
		for x := range lattice {
			at := picture.Point{
				X: box.Min.X + (float64(x)+0.5)/lattice*(box.Max.X-box.Min.X),
				Y: box.Min.Y + (float64(y)+0.5)/lattice*(box.Max.Y-box.Min.Y),
			}
			total++
			if i := eye.first(at); i >= 0 {
				sees[i]++
			}
		}
	}
	return sees, total
}

func TestItems(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nchoices: {feet: {title: Feet, options: {bare: Bare, padded: Padded}, default: bare}}\n",
		"parts/all.yaml": `plate: {title: Plate, made: bought, shape: [{box: [60 mm, 60 mm, 5 mm]}], holes: {ends: {line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, for: M5}}}
block: {title: Block, made: bought, shape: [{box: [60 mm, 60 mm, 30 mm]}], holes: {ends: {face: top, line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, tap: M5, depth: 20 mm}}}
pad: {title: Pad, made: bought, shape: [{box: [60 mm, 60 mm, 2 mm]}]}
cap: {standard: ISO 4762 M5x16 - 8.8}
washer: {standard: ISO 7089 5}
`,
		"assemblies/half.yaml": `title: Half
holds:
  block: {part: block, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 30 mm]}
joints:
  hold: {screw: cap, under_head: [washer], through: [plate.ends, block.ends]}
steps:
  one: {title: One, adds: [block, plate], fastens: [hold], text: T}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  halves: {assembly: half, at: [0 mm, 0 mm, 0 mm], count: 2, step: [100 mm, 0 mm, 0 mm]}
  pad: {part: pad, at: [0 mm, 0 mm, -2 mm], only: {feet: padded}}
steps:
  one: {title: One, adds: [halves], text: T}
  two: {title: Two, adds: [pad], text: T, only: {feet: padded}}
`,
	})
	for _, c := range []struct {
		assembly string
		want     []Item
	}{
		{"half", []Item{{"block", 1}, {"plate", 1}, {"cap", 2}, {"washer", 2}}},
		{"rig", []Item{{"half", 2}}}, // one for the sub-assembly, the pad is of another choice
	} {
		if got := Items(r, r.Plan.Assembly(c.assembly)); fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: items %v, want %v", c.assembly, got, c.want)
		}
	}
	merged := Merged([]Item{{"a", 1}, {"b", 2}}, []Item{{"b", 5}, {"c", 1}})
	if want := []Item{{"a", 1}, {"b", 2}, {"c", 1}}; fmt.Sprint(merged) != fmt.Sprint(want) {
		t.Errorf("merged %v, want %v", merged, want)
	}
	// Sub-assemblies move as one body: two halves, one part list line, one balloon.
	together, err := NewStudio(way.NewMemory()).Together(layout.Of(r), r.Plan.Assembly("rig"), r.Case.Options, Items(r, r.Plan.Assembly("rig")))
	if err != nil || len(groups(together.Numbered)) != 1 || !together.Shown[0] {
		t.Errorf("%d balloons, shown %v, error %v", len(groups(together.Numbered)), together.Shown, err)
	}
}

// Nothing to draw gives no picture.
func TestNothingToNumber(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{})
	a := r.Plan.Assembly("rig")
	together, err := NewStudio(way.NewMemory()).Together(layout.Of(r), a, r.Case.Options, Items(r, a))
	if together.Numbered != nil || together.Whole != nil || err != nil {
		t.Errorf("pictures %v, error %v", together, err)
	}
	e, err := NewStudio(way.NewMemory()).Exploded(layout.Of(r), a, r.Case.Options, Items(r, a))
	if e != nil || err != nil {
		t.Errorf("explosion %v, error %v", e, err)
	}
}

// Exploded heaps: each block leaves along a way on which its box meets no box of
// what is still there; apart, no two are drawn over each other; all of it twice gives
// the same picture.
func TestExplodedHeaps(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for run := range 10 {
		files := heap(random, 2+random.IntN(14))
		explode := func() (*Explosion, []layout.Piece) {
			r := trial.Reckoning(t, files)
			a, l := r.Plan.Assembly("heap"), layout.Of(r)
			e, err := NewStudio(way.NewMemory()).Exploded(l, a, r.Case.Options, Items(r, a))
			if err != nil || e == nil {
				t.Fatalf("run %d: explosion %v, error %v", run, e, err)
			}
			return e, l.Pieces(a)
		}
		e, pieces := explode()
		again, _ := explode()
		within(t, e.Picture)
		if !bytes.Equal(vector(t, e.Picture), vector(t, again.Picture)) {
			t.Errorf("run %d: two pictures of one plan differ", run)
		}
		if len(e.Stuck) > 0 || len(e.Moves) != len(pieces)-1 {
			t.Errorf("run %d: of %d blocks %d leave, %v are stuck", run, len(pieces), len(e.Moves), e.Stuck)
		}
		boxes, gone, by := map[string]solid.Box{}, map[string]bool{}, map[string]solid.Vec{}
		for _, p := range pieces {
			boxes[p.Use] = p.Solid.BoxUnder(p.At)
		}
		for _, move := range e.Moves {
			use := move.Uses[0]
			gone[use], by[use] = true, move.By
			swept := boxes[use].Join(shifted(boxes[use], move.Way.Mul(1e4))).Grow(-0.01)
			for other, box := range boxes {
				if !gone[other] && swept.Meets(box) {
					t.Errorf("run %d: %s leaves along %v through %s", run, use, move.Way, other)
				}
			}
		}
		for a, boxA := range boxes {
			for b, boxB := range boxes {
				if a < b && overlaid(shifted(boxA, by[a]), shifted(boxB, by[b]), view.Isometric) {
					t.Errorf("run %d: %s and %s are drawn over each other", run, a, b)
				}
			}
		}
	}
}

func vector(t *testing.T, pic *picture.Picture) []byte {
	t.Helper()
	b, err := picture.SVG(pic)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func shifted(b solid.Box, by solid.Vec) solid.Box {
	return solid.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)}
}

// overlaid tells whether two boxes are seen over each other: the outline of a box is
// a hexagon, with sides along the three axes as they are drawn; two convex outlines
// lie apart when a side of one parts them (separating axes).
func overlaid(a, b solid.Box, dir view.Direction) bool {
	for _, axis := range []solid.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		side := dir.Flat(axis)
		lowA, highA := reach(a, dir, side)
		lowB, highB := reach(b, dir, side)
		if highA <= lowB || highB <= lowA {
			return false
		}
	}
	return true
}

// reach is how far a box as drawn extends square to a line's way.
func reach(b solid.Box, dir view.Direction, side picture.Point) (low, high float64) {
	for i := range 8 {
		c := b.Min
		if i&1 != 0 {
			c.X = b.Max.X
		}
		if i&2 != 0 {
			c.Y = b.Max.Y
		}
		if i&4 != 0 {
			c.Z = b.Max.Z
		}
		f := dir.Flat(c)
		off := f.Y*side.X - f.X*side.Y
		if i == 0 || off < low {
			low = off
		}
		if i == 0 || off > high {
			high = off
		}
	}
	return low, high
}

// explosion takes one assembly called rig apart.
func explosion(t *testing.T, parts, rig string) *Explosion {
	t.Helper()
	r := trial.Reckoning(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n", "parts/all.yaml": parts, "assemblies/rig.yaml": rig,
	})
	a := r.Plan.Assembly("rig")
	e, err := NewStudio(way.NewMemory()).Exploded(layout.Of(r), a, r.Case.Options, Items(r, a))
	if err != nil || e == nil {
		t.Fatalf("explosion %v, error %v", e, err)
	}
	return e
}

// Screws leave head first and before what they hold, though the plate under them
// could slide out sideways past nothing at all.
func TestScrewsLeaveFirst(t *testing.T) {
	e := explosion(t, `plate: {title: Plate, made: bought, shape: [{box: [60 mm, 60 mm, 5 mm]}], holes: {ends: {line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, for: M5}}}
block: {title: Block, made: bought, shape: [{box: [60 mm, 60 mm, 30 mm]}], holes: {ends: {face: top, line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, tap: M5, depth: 20 mm}}}
cap: {standard: ISO 4762 M5x16 - 8.8}
`, `title: Rig
holds:
  block: {part: block, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 30 mm]}
joints:
  hold: {screw: cap, through: [plate.ends, block.ends]}
steps:
  one: {title: One, adds: [block, plate], fastens: [hold], text: T}
`)
	if len(e.Moves) != 2 || e.Moves[0].Joint != "hold" || e.Moves[1].Uses[0] != "plate" {
		t.Fatalf("moves %v", e.Moves)
	}
	for _, move := range e.Moves {
		if move.Way != (solid.Vec{Z: 1}) {
			t.Errorf("%v%s leaves along %v, want up", move.Uses, move.Joint, move.Way)
		}
	}
	if e.Moves[0].By.Z <= e.Moves[1].By.Z {
		t.Errorf("screws go up by %g mm, the plate that they hold by %g", e.Moves[0].By.Z, e.Moves[1].By.Z)
	}
}

// A ring round the waist of a turned piece has no straight way off it, nor has the
// piece out of the ring; a block in a box with a lid can leave only after the lid.
func TestStuck(t *testing.T) {
	e := explosion(t, `waist: {title: Waist, made: turned, material: steel_s235, shape: [{turned: [{d: 40 mm, l: 10 mm}, {d: 20 mm, l: 20 mm}, {d: 40 mm, l: 10 mm}]}]}
ring: {title: Ring, made: bought, shape: [{tube: {d: 60 mm, bore: 24 mm, l: 10 mm}}]}
foot: {title: Foot, made: bought, shape: [{box: [80 mm, 80 mm, 5 mm]}]}
`, `title: Rig
holds:
  foot:  {part: foot, at: [0 mm, 0 mm, -5 mm]}
  waist: {part: waist, at: [20 mm, 20 mm, 0 mm]}
  ring:  {part: ring, at: [10 mm, 10 mm, 15 mm]}
steps:
  one: {title: One, adds: [foot, waist, ring], text: T}
`)
	if fmt.Sprint(e.Stuck) != "[ring]" && fmt.Sprint(e.Stuck) != "[waist]" || len(e.Moves) != 1 {
		t.Errorf("moves %v, stuck %v: ring and waist cannot part", e.Moves, e.Stuck)
	}
}
