package view

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// longBar is a bar of 1200 mm with a cross hole near its end and one in its middle.
func longBar(t testing.TB) Body {
	return at(build(t, solid.Shape{
		Base: solid.Bar{Section: solid.Slotted{W: 30, H: 60, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 1200},
		Holes: []solid.Hole{
			{Name: "end", Face: "front", At: []solid.Vec2{{X: 25, Y: 15}}, D: 10, ThroughAll: true},
			{Name: "middle", Face: "front", At: []solid.Vec2{{X: 600, Y: 15}}, D: 10, ThroughAll: true},
		},
	}), 0, 0, 0)
}

// TestPlain: where nothing changes along an axis, worked out by hand.
func TestPlain(t *testing.T) {
	m8 := &solid.Thread{Designation: "M8", Major: 8, Minor: 6.466, Pitch: 1.25, Length: 70}
	cases := []struct {
		name   string
		bodies []Body
		dir    Direction
		axis   Axis
		want   []Range
	}{
		{name: "bar with holes", bodies: []Body{longBar(t)}, dir: Front, axis: Across, want: []Range{{0, 20}, {30, 595}, {605, 1200}}},
		{name: "bar with holes, from behind", bodies: []Body{longBar(t)}, dir: Back, axis: Across, want: []Range{{-1200, -605}, {-595, -30}, {-20, 0}}},
		{name: "across the bar", bodies: []Body{at(rod(t, 10, 500, solid.AxisX), 0, 0, 0)}, dir: Front, axis: Upright},
		{name: "standing rod, thread ends within", bodies: []Body{at(build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 8}, Length: 200, Lies: solid.AxisZ, Thread: m8}}), 0, 0, 0)},
			dir: Front, axis: Upright, want: []Range{{-200, -70}, {-70, 0}}},
		{name: "taper", bodies: []Body{at(build(t, solid.Shape{Base: solid.Group{{Shape: solid.Taper{D: 20, To: 10, L: 300}, Along: solid.AxisX}}}), 0, 0, 0)}, dir: Front, axis: Across},
		{name: "at a slant", bodies: []Body{longBar(t)}, dir: Isometric, axis: Across},
		// Rods side by side that do not end together.
		{name: "two rods", bodies: []Body{at(rod(t, 10, 500, solid.AxisX), 0, 0, 0), at(rod(t, 10, 500, solid.AxisX), 100, 20, 40)}, dir: Top, axis: Across,
			want: []Range{{0, 100}, {100, 500}, {500, 600}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := Plain(c.bodies, c.dir, c.axis)
			if err != nil {
				t.Fatal(err)
			}
			same := func(a, b Range) bool { return math.Abs(a.From-b.From)+math.Abs(a.To-b.To) < 1e-6 }
			if !slices.EqualFunc(got, c.want, same) {
				t.Errorf("%v, want %v", got, c.want)
			}
			for _, r := range got { // what is plain can be broken
				d := project(t, c.bodies, c.dir, Options{})
				if _, _, err := Break(d, c.axis, []Range{r}, 6); err != nil {
					t.Errorf("%v: %v", r, err)
				}
			}
		})
	}
}

// TestBreak: the holes' circles stay what they are, both halves keep their
// lengths, and lengths on the paper lead back to true ones.
func TestBreak(t *testing.T) {
	bodies := []Body{longBar(t)}
	d := project(t, bodies, Front, Options{})
	cuts := []Range{{60, 560}, {640, 1150}}
	const gap = 12.0
	broken, b, err := Break(d, Across, cuts, gap)
	if err != nil {
		t.Fatal(err)
	}
	const left = 1200 - 500 - 510 + 2*gap
	if w := broken.Bounds().Width(); math.Abs(w-left) > 1e-9 {
		t.Errorf("drawn %.6f mm wide, want %.6f", w, left)
	}
	if n, m := len(arcs(broken)), len(arcs(d)); n != m || n == 0 {
		t.Errorf("%d arcs, %d before", n, m)
	}
	// Upright lines are all there; level ones have lost the cuts less half a gap.
	level := func(d *Drawing) (sum float64, count int) {
		for _, l := range d.Lines {
			for _, c := range l.Curves {
				if s, ok := c.(picture.Line); ok && s.A.Y == s.B.Y {
					sum, count = sum+s.Length(), count+1
				}
			}
		}
		return sum, count
	}
	before, n := level(d)
	after, m := level(broken)
	through, lost := 0, 0.0
	for _, c := range append(d.Curves(true, Edge, Silhouette), d.Curves(false, Edge, Silhouette)...) {
		box := c.Bounds()
		for _, cut := range cuts {
			if box.Min.X < cut.From && box.Max.X > cut.To {
				through++
				lost += cut.To - cut.From - gap/2
			}
		}
	}
	if through == 0 || m != n+through || math.Abs(before-after-lost) > 1e-6 {
		t.Errorf("%d level lines became %d, %d cuts lie in them; they lost %.6f mm, want %.6f", n, m, through, before-after, lost)
	}
	if got := picture.CurveBounds(b.Lines); got.Min.Y >= -60 || got.Max.Y <= 0 || len(b.Lines) != 4*5 {
		t.Errorf("break lines %v in %v", b.Lines, got)
	}
	for _, x := range []float64{0, 25, 59.9, 600, 1155, 1200} {
		p := picture.Point{X: x, Y: -7}
		if back, ok := b.Whole(b.Paper(p)); !ok || back.Distance(p) > 1e-9 {
			t.Errorf("%v is drawn at %v, which leads back to %v", p, b.Paper(p), back)
		}
	}
	if _, ok := b.Whole(b.Paper(picture.Point{X: 300})); ok {
		t.Error("a place in the gap stands for a true one")
	}
}

// arcs returns the arcs of a drawing.
func arcs(d *Drawing) []picture.Arc {
	var out []picture.Arc
	for _, l := range d.Lines {
		for _, c := range l.Curves {
			if a, ok := c.(picture.Arc); ok {
				out = append(out, a)
			}
		}
	}
	return out
}

func TestBreakRefused(t *testing.T) {
	d := project(t, []Body{longBar(t)}, Front, Options{})
	cases := []struct {
		name string
		cuts []Range
		gap  float64
		want string
	}{
		{"no cut", nil, 6, "needs a gap"},
		{"no gap", []Range{{100, 200}}, 0, "needs a gap"},
		{"shorter than the gap", []Range{{100, 105}}, 6, "needs a gap"},
		{"backwards", []Range{{300, 400}, {100, 200}}, 6, "needs a gap"},
		{"no number", []Range{{math.NaN(), 200}}, 6, "needs a gap"},
		{"through a hole", []Range{{500, 700}}, 6, "of body 0 lies between"},
		{"beyond the end", []Range{{1100, 1300}}, 6, "lies between"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, _, err := Break(d, Across, c.cuts, c.gap); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
}

// TestBreakRegion: a section drawn broken has its material closed by the break
// lines: as much less as was left out.
func TestBreakRegion(t *testing.T) {
	pipe := at(build(t, solid.Shape{Base: solid.Group{{Shape: solid.Pipe{D: 30, Bore: 20, L: 800}, Along: solid.AxisX}}}), 0, 0, 0)
	d, regions, err := Section([]Body{pipe}, Front, FullSection(-15), Options{VisibleOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	const gap = 8.0
	_, b, err := Break(d, Across, []Range{{100, 300}, {400, 750}}, gap)
	if err != nil {
		t.Fatal(err)
	}
	total := 0.0
	runs := 0
	for _, r := range regions {
		r = b.Region(r)
		total += area(t, r.Outline)
		runs += len(picture.Runs(r.Outline))
	}
	// Both break lines of a cut run alike, so what a zigzag takes from one side it
	// gives to the other.
	if want := 2 * 5 * (800 - 200 - 350 + 2*gap/2); math.Abs(total-want) > 1e-6 || runs != 6 {
		t.Errorf("%.5f mm² in %d runs, want %.5f in 6", total, runs, want)
	}
}

// TestPlainCanBeBroken: on random assemblies, wherever nothing changes the view can
// be broken, from any direction: the cut is gone, nothing else is, and places on
// both sides lead back to true ones.
func TestPlainCanBeBroken(t *testing.T) {
	broken := 0
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 41))
		bodies, dir, axis := assembly(r), randomDirection(r), Axis(r.IntN(2))
		plain, err := Plain(bodies, dir, axis)
		if err != nil {
			t.Fatal(err)
		}
		d := project(t, bodies, dir, Options{Smooth: true})
		span := func(d *Drawing) float64 { b := d.Bounds(); return axis.of(b.Max) - axis.of(b.Min) }
		for _, cut := range plain {
			if cut.To-cut.From < 0.1 {
				continue
			}
			gap := (cut.To - cut.From) * (0.1 + 0.8*r.Float64())
			got, b, err := Break(d, axis, []Range{cut}, gap)
			if err != nil {
				t.Errorf("seed %d: %v", seed, err)
				continue
			}
			broken++
			if shorter := span(d) - span(got); math.Abs(shorter-(cut.To-cut.From-gap)) > 1e-4 {
				t.Errorf("seed %d: shorter by %.6f mm, want %.6f", seed, shorter, cut.To-cut.From-gap)
			}
			if n, m := len(arcs(d)), len(arcs(got)); n != m {
				t.Errorf("seed %d: %d arcs, %d before", seed, m, n)
			}
			for _, l := range got.Lines {
				for _, c := range l.Curves {
					from, to := c.Ends()
					for _, p := range []picture.Point{from, to} {
						if q, ok := b.Whole(p); ok && b.Paper(q).Distance(p) > 1e-9 {
							t.Errorf("seed %d: %v stands for %v, which is drawn at %v", seed, p, q, b.Paper(q))
						}
					}
				}
			}
		}
	}
	if broken < 20 {
		t.Errorf("only %d views were broken", broken)
	}
}
