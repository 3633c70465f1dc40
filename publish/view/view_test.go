package view

import (
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// build makes a solid that must come out.
func build(t testing.TB, sh solid.Shape) *solid.Solid {
	t.Helper()
	s, err := solid.Build(sh)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func box(t testing.TB, x, y, z float64, holes ...solid.Hole) *solid.Solid {
	return build(t, solid.Shape{Base: solid.Group{{Shape: solid.Block{Size: solid.Vec{X: x, Y: y, Z: z}}}}, Holes: holes})
}

func rod(t testing.TB, d, l float64, along solid.Axis) *solid.Solid {
	return build(t, solid.Shape{Base: solid.Group{{Shape: solid.Rod{D: d, L: l}, Along: along}}})
}

// at moves a solid.
func at(s *solid.Solid, x, y, z float64) Body {
	return Body{Solid: s, At: solid.Moved(solid.Vec{X: x, Y: y, Z: z})}
}

// project draws what must be drawn.
func project(t testing.TB, bodies []Body, dir Direction, opt Options) *Drawing {
	t.Helper()
	d, err := Project(bodies, dir, opt)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestClosedCases compares with lengths worked out by hand.
func TestClosedCases(t *testing.T) {
	iso := math.Sqrt(2.0 / 3) // how much lengths along the axes shrink: ISO 5456-3
	third := math.Sqrt(1.0 / 3)
	hole := solid.Hole{Name: "h", At: []solid.Vec2{{X: 20, Y: 30}}, D: 8}
	cases := []struct {
		name            string
		bodies          []Body
		dir             Direction
		visible, hidden float64
		lines           int
	}{
		{name: "box from the front", bodies: []Body{at(box(t, 100, 60, 10), 0, 0, 0)}, dir: Front, visible: 220, lines: 4},
		{name: "box at a slant", bodies: []Body{at(box(t, 100, 60, 10), 0, 0, 0)}, dir: Isometric,
			visible: 3 * 170 * iso, hidden: 170 * iso, lines: 12},
		{name: "hole from the front", bodies: []Body{at(box(t, 100, 60, 10, hole), 0, 0, 0)}, dir: Front, visible: 220, hidden: 20, lines: 6},
		{name: "hole from above", bodies: []Body{at(box(t, 100, 60, 10, hole), 0, 0, 0)}, dir: Top, visible: 320 + 8*math.Pi, lines: 5},
		{name: "cylinder from the side", bodies: []Body{at(rod(t, 12, 40, solid.AxisZ), 5, 5, 5)}, dir: Left, visible: 104, lines: 4},
		{name: "cylinder along its axis", bodies: []Body{at(rod(t, 12, 40, solid.AxisY), 0, 0, 0)}, dir: Front, visible: 12 * math.Pi, lines: 1},
		{name: "cylinder at a slant", bodies: []Body{at(rod(t, 12, 40, solid.AxisZ), 0, 0, 0)}, dir: Isometric,
			visible: 1.5*ellipse(6, 6*third) + 80*iso, hidden: ellipse(6, 6*third) / 2, lines: 5},
		// The rod stands before the box and ends below its top.
		{name: "cylinder before a box", bodies: []Body{at(box(t, 60, 10, 40), 0, 20, 0), at(rod(t, 12, 30, solid.AxisZ), 24, 0, 5)}, dir: Front,
			visible: 200 + 84, lines: 8},
		{name: "cylinder behind a box", bodies: []Body{at(box(t, 60, 10, 40), 0, 20, 0), at(rod(t, 12, 30, solid.AxisZ), 24, 0, 5)}, dir: Back,
			visible: 200, hidden: 84, lines: 8},
		// Half of the rod sticks out above.
		{name: "cylinder rising behind a box", bodies: []Body{at(box(t, 60, 10, 40), 0, 20, 0), at(rod(t, 12, 30, solid.AxisZ), 24, 40, 25)}, dir: Front,
			visible: 200 + 30 + 12, hidden: 30 + 12, lines: 10},
		// Two boxes side by side: the joint is drawn once.
		{name: "touching boxes", bodies: []Body{at(box(t, 30, 20, 10), 0, 0, 0), at(box(t, 40, 20, 10), 30, 0, 0)}, dir: Front, visible: 170, lines: 7},
		{name: "box on a box, flush", bodies: []Body{at(box(t, 30, 20, 10), 0, 0, 0), at(box(t, 30, 20, 5), 0, 0, 10)}, dir: Top, visible: 100, lines: 4},
		// What lies exactly behind is not drawn again.
		{name: "box behind a box", bodies: []Body{at(box(t, 30, 20, 10), 0, 0, 0), at(box(t, 30, 20, 10), 0, 40, 0)}, dir: Front, visible: 80, lines: 4},
		{name: "pin in its hole", bodies: []Body{at(box(t, 40, 40, 10, solid.Hole{Name: "h", At: []solid.Vec2{{X: 20, Y: 20}}, D: 8}), 0, 0, 0), at(rod(t, 8, 10, solid.AxisZ), 16, 16, 0)},
			dir: Top, visible: 160 + 8*math.Pi, lines: 5},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := project(t, c.bodies, c.dir, Options{})
			if v, h := d.Length(true), d.Length(false); math.Abs(v-c.visible) > 1e-6 || math.Abs(h-c.hidden) > 1e-6 {
				t.Errorf("visible %.7f, hidden %.7f mm; want %.7f and %.7f", v, h, c.visible, c.hidden)
			}
			if len(d.Lines) != c.lines {
				t.Errorf("%d lines, want %d: %v", len(d.Lines), c.lines, d.Lines)
			}
		})
	}
}

// ellipse is the circumference of an ellipse, by Gauss's arithmetic-geometric
// means: 2π (a0² - Σ 2^(n-1) c_n²) / M(a, b).
func ellipse(a, b float64) float64 {
	sum, power := a*a-(a*a-b*b)/2, 0.5
	for math.Abs(a-b) > 1e-15*a {
		c := (a - b) / 2
		a, b = (a+b)/2, math.Sqrt(a*b)
		power *= 2
		sum -= power * c * c
	}
	return 2 * math.Pi * sum / a
}

func TestCirclesStayCircles(t *testing.T) {
	cross := build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 12}, Length: 100}, Holes: []solid.Hole{{Name: "a", Face: "top", At: []solid.Vec2{{X: 20, Y: 6}}, D: 4}}})
	for _, l := range project(t, []Body{at(cross, 0, 0, 0)}, Top, Options{}).Lines {
		for _, c := range l.Curves {
			switch c := c.(type) {
			case picture.Arc:
				// The rim of a hole in a round bar is a circle seen from above.
				if !l.Visible || c.RX != c.RY || math.Abs(c.RX-2) > 1e-9 || math.Abs(math.Abs(c.Sweep)-2*math.Pi) > 1e-9 ||
					c.Centre.Distance(picture.Point{X: 20, Y: -6}) > 1e-9 {
					t.Errorf("rim is %+v", c)
				}
				return
			}
		}
	}
	t.Error("the rim is no circle")
}

func TestEllipseIsExact(t *testing.T) {
	d := project(t, []Body{at(rod(t, 20, 5, solid.AxisZ), 0, 0, 0)}, Isometric, Options{VisibleOnly: true})
	for _, l := range d.Lines {
		if a, ok := l.Curves[0].(picture.Arc); ok && a.Sweep > 6 {
			// A circle in a plane at right angles to an axis: full width, and the
			// sine of 35.26° of it in height (ISO 5456-3).
			if math.Abs(a.RX-10) > 1e-9 || math.Abs(a.RY-10*math.Sqrt(1.0/3)) > 1e-9 || math.Abs(a.Tilt) > 1e-9 {
				t.Errorf("upper rim is %+v", a)
			}
			return
		}
	}
	t.Error("no whole ellipse")
}

func TestThreads(t *testing.T) {
	m8 := &solid.Thread{Designation: "M8", Major: 8, Minor: 6.647, Pitch: 1.25, Length: 15}
	tapped := box(t, 40, 30, 25, solid.Hole{Name: "a", Face: "top", At: []solid.Vec2{{X: 12, Y: 15}}, D: 6.8, Depth: 20, Kind: solid.Tapped, Thread: m8})
	stud := build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 8}, Length: 30, Lies: solid.AxisZ, Thread: &solid.Thread{Designation: "M8", Major: 8, Minor: 6.466, Pitch: 1.25}}})
	cases := []struct {
		name    string
		body    *solid.Solid
		dir     Direction
		kind    Kind
		visible bool
		want    []picture.Curve
	}{
		{name: "tapped hole from above", body: tapped, dir: Top, kind: Thread, visible: true, want: []picture.Curve{
			picture.Arc{Centre: picture.Point{X: 12, Y: -15}, RX: 4, RY: 4, Start: 0, Sweep: 1.5 * math.Pi}}},
		{name: "tapped hole from the front", body: tapped, dir: Front, kind: Thread, want: []picture.Curve{
			picture.Line{A: picture.Point{X: 8, Y: -25}, B: picture.Point{X: 8, Y: -10}}, picture.Line{A: picture.Point{X: 16, Y: -25}, B: picture.Point{X: 16, Y: -10}}}},
		{name: "end of the thread", body: tapped, dir: Front, kind: Limit, want: []picture.Curve{
			picture.Line{A: picture.Point{X: 8, Y: -10}, B: picture.Point{X: 16, Y: -10}}}},
		{name: "stud from the front", body: stud, dir: Front, kind: Thread, visible: true, want: []picture.Curve{
			picture.Line{A: picture.Point{X: 0.767, Y: -30}, B: picture.Point{X: 0.767}}, picture.Line{A: picture.Point{X: 7.233, Y: -30}, B: picture.Point{X: 7.233}}}},
		{name: "stud from its end", body: stud, dir: Top, kind: Thread, visible: true, want: []picture.Curve{
			picture.Arc{Centre: picture.Point{X: 4, Y: -4}, RX: 3.233, RY: 3.233, Start: 0, Sweep: 1.5 * math.Pi}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := project(t, []Body{at(c.body, 0, 0, 0)}, c.dir, Options{}).Curves(c.visible, c.kind)
			if len(got) != len(c.want) {
				t.Fatalf("%d curves %v, want %v", len(got), got, c.want)
			}
			for i := range got {
				if !alike(got[i], c.want[i]) && !alike(got[i], c.want[len(got)-1-i]) {
					t.Errorf("curve %d is %+v, want one of %+v", i, got[i], c.want)
				}
			}
			if d := project(t, []Body{at(c.body, 0, 0, 0)}, c.dir, Options{NoThreads: true}); len(d.Curves(c.visible, c.kind)) > 0 {
				t.Error("drawn against the option")
			}
		})
	}
}

// TestThreadsAtASlant: the circles become ellipses on what bounds the thread,
// three quarters of them; the lines along it stand as far apart as the circle is
// wide (ISO 6410-1; lengths by ISO 5456-3).
func TestThreadsAtASlant(t *testing.T) {
	const r, minor = 4.0, 3.233
	iso, third := math.Sqrt(2.0/3), math.Sqrt(1.0/3)
	m8 := &solid.Thread{Designation: "M8", Major: 8, Minor: 2 * minor, Pitch: 1.25}
	short := &solid.Thread{Designation: "M8", Major: 8, Minor: 2 * minor, Pitch: 1.25, Length: 15}
	bar := func(th *solid.Thread, holes ...solid.Hole) *solid.Solid {
		return build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 8}, Length: 30, Lies: solid.AxisZ, Thread: th}, Holes: holes})
	}
	tap := solid.Hole{Name: "a", Face: "top", At: []solid.Vec2{{X: 12, Y: 15}}, D: 6.8, Depth: 20, Kind: solid.Tapped, Thread: m8}
	sunk := tap
	sunk.Countersink = &solid.Countersink{D: 10, Angle: math.Pi / 2}
	arc := func(r float64) float64 { // three quarters, the open one at the upper right
		whole := ellipse(r, r*third)
		gap := picture.Arc{RX: r, RY: r * third, Sweep: math.Pi / 2}
		return whole - gap.Length()
	}
	part := func(start, sweep float64) float64 {
		return picture.Arc{RX: r, RY: r * third, Start: start, Sweep: sweep}.Length()
	}
	behindRim := math.Acos((5*5 - 4*4 - 2) / (2 * 4 * math.Sqrt2))
	sunkArc := part(math.Pi/2, math.Pi-behindRim) + part(math.Pi*3/2+behindRim, math.Pi/2-behindRim)
	cases := []struct {
		name                            string
		body                            *solid.Solid
		visible, hidden, limit, hidden2 float64
	}{
		{name: "stud", body: bar(m8), visible: arc(minor) + 60*iso, hidden: arc(minor)},
		// The end of the thread goes round; its far half is hidden.
		{name: "stud threaded halfway", body: bar(short), visible: 30 * iso, hidden: arc(minor), limit: ellipse(r, r*third) / 2, hidden2: ellipse(r, r*third) / 2},
		{name: "tapped hole", body: box(t, 40, 30, 25, tap), visible: arc(r), hidden: 40 * iso},
		// On the countersink, 1 mm below its rim, hence hidden by it where √2 mm
		// towards the eye lies beyond the rim.
		{name: "sunk tapped hole", body: box(t, 40, 30, 25, sunk), visible: sunkArc, hidden: arc(r) - sunkArc + 2*(20-(10-6.8)/2)*iso},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := project(t, []Body{at(c.body, 0, 0, 0)}, Isometric, Options{})
			sum := func(visible bool, k Kind) float64 {
				n := 0.0
				for _, l := range d.Curves(visible, k) {
					n += l.Length()
				}
				return n
			}
			got := [4]float64{sum(true, Thread), sum(false, Thread), sum(true, Limit), sum(false, Limit)}
			for i, want := range [4]float64{c.visible, c.hidden, c.limit, c.hidden2} {
				if math.Abs(got[i]-want) > 1e-4 {
					t.Errorf("thread visible and hidden, its end visible and hidden: %.5f mm, want %.5f", got, [4]float64{c.visible, c.hidden, c.limit, c.hidden2})
					break
				}
			}
		})
	}
}

// TestThreadOnRoundFace: the mouth of a hole across a round bar is no circle; the
// thread's other diameter follows the bar there, and is a circle where one looks
// along the hole.
func TestThreadOnRoundFace(t *testing.T) {
	m6 := &solid.Thread{Designation: "M6", Major: 6, Minor: 4.917, Pitch: 1}
	bar := build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 20}, Length: 60},
		Holes: []solid.Hole{{Name: "a", Face: "top", At: []solid.Vec2{{X: 30, Y: 10}}, D: 5, Kind: solid.Tapped, Thread: m6}}})
	turned, err := Look(solid.Vec{X: 0.3, Y: -0.4, Z: 1}, solid.Vec{Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, dir := range []Direction{Top, turned} {
		most := 0.0
		d := project(t, []Body{at(bar, 0, 0, 0)}, dir, Options{})
		for _, c := range d.Curves(true, Thread) {
			from, to := c.Ends()
			for _, p := range []picture.Point{from, to} {
				// Back along the line of sight to the bar: the point lies 3 mm from the hole's axis.
				bar := solid.Cylinder{Frame: solid.Frame{O: solid.Vec{Y: 10, Z: 10}, X: solid.Vec{Y: 1}, Y: solid.Vec{Z: 1}, Z: solid.Vec{X: 1}}, R: 10}
				o := dir.Right.Mul(p.X).Add(dir.Up.Mul(-p.Y))
				hits := bar.LineHits(o, dir.Toward)
				q := o.Add(dir.Toward.Mul(hits[1]))
				most = math.Max(most, math.Abs(math.Hypot(q.X-30, q.Y-10)-3))
			}
		}
		if len(d.Curves(true, Thread)) == 0 || most > 1e-6 {
			t.Errorf("from %v: %d curves, off the thread by %g mm", dir.Toward, len(d.Curves(true, Thread)), most)
		}
	}
}

// alike tells whether two curves are one within 1e-9 mm.
func alike(a, b picture.Curve) bool {
	a0, a1 := a.Ends()
	b0, b1 := b.Ends()
	same := a0.Distance(b0)+a1.Distance(b1) < 1e-8 || a0.Distance(b1)+a1.Distance(b0) < 1e-8
	return same && math.Abs(a.Length()-b.Length()) < 1e-8 && reflect.TypeOf(a) == reflect.TypeOf(b)
}

func TestOptions(t *testing.T) {
	o, err := solid.RectangleOutline(60, 40).Rounded(8)
	if err != nil {
		t.Fatal(err)
	}
	bodies := []Body{at(build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 10}, Holes: []solid.Hole{{Name: "h", At: []solid.Vec2{{X: 20, Y: 20}}, D: 1}}}), 0, 0, 0)}
	all := project(t, bodies, Isometric, Options{})
	if n := len(all.Curves(true, Smooth)); n != 0 {
		t.Errorf("%d smooth edges drawn unasked", n)
	}
	if n := len(project(t, bodies, Isometric, Options{Smooth: true}).Curves(true, Smooth)); n == 0 {
		t.Error("no smooth edge drawn")
	}
	seen := project(t, bodies, Isometric, Options{VisibleOnly: true})
	if seen.Length(false) != 0 || math.Abs(seen.Length(true)-all.Length(true)) > 1e-9 {
		t.Errorf("visible only: %v and %v mm hidden, %v visible of all", seen.Length(true), seen.Length(false), all.Length(true))
	}
	coarse := project(t, bodies, Isometric, Options{VisibleOnly: true, Smallest: 2})
	if d := seen.Length(true) - coarse.Length(true); math.Abs(d-ellipse(0.5, 0.5*math.Sqrt(1.0/3))) > 1e-6 {
		t.Errorf("without small edges %v mm less", d)
	}
}

func TestRefused(t *testing.T) {
	s := box(t, 1, 2, 3)
	nan := math.NaN()
	cases := []struct {
		name   string
		bodies []Body
		dir    Direction
	}{
		{name: "no direction", bodies: []Body{at(s, 0, 0, 0)}},
		{name: "left-handed direction", bodies: []Body{at(s, 0, 0, 0)}, dir: Direction{Front.Right, Front.Up, Front.Toward.Mul(-1)}},
		{name: "no solid", bodies: []Body{{At: solid.Stay}}, dir: Front},
		{name: "no placement", bodies: []Body{{Solid: s}}, dir: Front},
		{name: "not a number", bodies: []Body{at(s, nan, 0, 0)}, dir: Front},
		{name: "out of reach", bodies: []Body{at(s, 1e7, 0, 0)}, dir: Front},
		{name: "too many", bodies: make([]Body, MostBodies+1), dir: Front},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Project(c.bodies, c.dir, Options{}); err == nil {
				t.Error("no error")
			}
		})
	}
	if _, err := Look(solid.Vec{Z: 1}, solid.Vec{Z: 2}); err == nil {
		t.Error("a direction along its own up")
	}
	if d := project(t, nil, Front, Options{}); len(d.Lines) != 0 || !d.Bounds().Empty() {
		t.Errorf("nothing is drawn as %v", d)
	}
}

// TestHeapedBodies: equal bodies in one place are drawn once; those that lie on
// each other in different places cost by the square of their number, which is
// what is bounded.
func TestHeapedBodies(t *testing.T) {
	s := capScrew(t)
	heap := func(n int, apart float64) []Body {
		var out []Body
		for i := range n {
			out = append(out, at(s, float64(i)*apart, 0, 0))
		}
		return out
	}
	one, many := project(t, heap(1, 0), Isometric, Options{}), project(t, heap(500, 0), Isometric, Options{})
	if !reflect.DeepEqual(one, many) {
		t.Errorf("500 screws in one place are drawn in %d lines, one in %d", len(many.Lines), len(one.Lines))
	}
	few, _ := staged(heap(10, 1e-3), Isometric, Options{})
	more, _ := staged(heap(40, 1e-3), Isometric, Options{})
	if few.work()*8 > more.work() || more.work() > mostWork {
		t.Errorf("work %g for 10, %g for 40", few.work(), more.work())
	}
}

func TestFromUnfolds(t *testing.T) {
	for _, c := range []struct {
		name      string
		right, up int
		want      Direction
	}{{"right", 1, 0, Right}, {"left", -1, 0, Left}, {"above", 0, 1, Top}, {"below", 0, -1, Bottom}, {"itself", 0, 0, Front}} {
		if got := Front.From(c.right, c.up); got.Toward.Dist(c.want.Toward)+got.Up.Dist(c.want.Up)+got.Right.Dist(c.want.Right) > 1e-12 {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestOppositeViewsMirror: seen from behind, all lines together are as long, and
// the outline is the mirror image.
func TestOppositeViewsMirror(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 11))
		bodies := []Body{{Solid: randomSolid(r), At: solid.Stay}, at(randomSolid(r), 10, 20, 30)}
		dir := randomDirection(r)
		back := Direction{dir.Right.Mul(-1), dir.Up, dir.Toward.Mul(-1)}
		a, b := project(t, bodies, dir, Options{}), project(t, bodies, back, Options{})
		la, lb := a.Length(true)+a.Length(false), b.Length(true)+b.Length(false)
		if math.Abs(la-lb) > 1e-4*la {
			t.Errorf("seed %d: %.6f mm of lines, %.6f from behind", seed, la, lb)
		}
		ba, bb := a.Bounds(), b.Bounds()
		for _, d := range []float64{ba.Min.X + bb.Max.X, ba.Max.X + bb.Min.X, ba.Min.Y - bb.Min.Y, ba.Max.Y - bb.Max.Y} {
			if math.Abs(d) > 2*DefaultChord {
				t.Errorf("seed %d: bounds %v and %v", seed, ba, bb)
				break
			}
		}
	}
}

// TestAllIsVisibleOrHidden: a screen in front hides everything, and takes
// nothing away from what is drawn.
func TestAllIsVisibleOrHidden(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 13))
		s := randomSolid(r)
		turn := solid.Turned(solid.Vec{X: 1, Y: 0.3, Z: -0.2}, float64(r.IntN(3)))
		alone := project(t, []Body{{Solid: s, At: turn}}, Front, Options{})
		both := project(t, []Body{{Solid: s, At: turn}, at(box(t, 400, 1, 400), -200, -200, -200)}, Front, Options{})
		sum := 0.0
		for _, l := range both.Lines {
			if l.Body == 0 {
				sum += l.Length()
				if l.Visible {
					t.Errorf("seed %d: %v shows through the screen", seed, l)
				}
			}
		}
		if all := alone.Length(true) + alone.Length(false); math.Abs(sum-all) > 1e-4*all {
			t.Errorf("seed %d: %.6f mm alone, %.6f behind the screen", seed, all, sum)
		}
	}
}

func TestSameWhateverTheParallelism(t *testing.T) {
	bodies := frameOf(t, 3)
	var first *Drawing
	for _, n := range []int{1, 2, 7} {
		old := runtime.GOMAXPROCS(n)
		d := project(t, bodies, Isometric, Options{})
		runtime.GOMAXPROCS(old)
		if first == nil {
			first = d
		} else if !reflect.DeepEqual(first, d) {
			t.Fatalf("%d goroutines draw it differently", n)
		}
	}
}
