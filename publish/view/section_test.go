package view

import (
	"math"
	"slices"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// area is what closed runs enclose, holes taken away, from points along them.
func area(t *testing.T, outline []picture.Curve) float64 {
	t.Helper()
	sum := 0.0
	var start, last picture.Point
	open := false
	for _, c := range outline {
		from, to := c.Ends()
		if open && from.Distance(last) > 1e-5 {
			t.Errorf("outline breaks off at %v, goes on at %v", last, from)
		}
		if !open {
			start = from
		}
		points := []picture.Point{from, to}
		if a, ok := c.(picture.Arc); ok {
			points = points[:0]
			for i := range 2001 {
				points = append(points, a.At(a.Start+a.Sweep*float64(i)/2000))
			}
		}
		for i := 1; i < len(points); i++ {
			p, q := points[i-1], points[i]
			sum += (p.X*q.Y - p.Y*q.X) / 2
		}
		last, open = to, to.Distance(start) > 1e-5
	}
	if open {
		t.Error("outline does not close")
	}
	return math.Abs(sum)
}

func TestSection(t *testing.T) {
	hole := solid.Hole{Name: "h", At: []solid.Vec2{{X: 20, Y: 30}, {X: 70, Y: 15}}, D: 8}
	plate := at(box(t, 100, 60, 10, hole), 0, 0, 0)
	shaft := at(rod(t, 8, 30, solid.AxisZ), 16, 26, -10)
	cases := []struct {
		name    string
		bodies  []Body
		dir     Direction
		cut     Cut
		areas   []float64
		visible float64
	}{
		// The rims behind the plane join the outline; the walls stand at both sides.
		{name: "full", bodies: []Body{plate}, dir: Front, cut: FullSection(-30), areas: []float64{92 * 10}, visible: 220 + 20},
		{name: "before everything", bodies: []Body{plate}, dir: Front, cut: FullSection(5), visible: 220},
		{name: "behind everything", bodies: []Body{plate}, dir: Front, cut: FullSection(-70)},
		{name: "across the axis", bodies: []Body{plate}, dir: Top, cut: FullSection(4), areas: []float64{6000 - 2*16*math.Pi}, visible: 320 + 16*math.Pi},
		// Left half cut through the middle of the first hole, right half whole.
		{name: "half", bodies: []Body{plate}, dir: Front, cut: Cut{Steps: []Step{{At: -30}, {From: 50, At: math.Inf(1)}}},
			areas: []float64{50*10 - 80}, visible: 220 + 20},
		// Through both holes, in two planes.
		{name: "stepped", bodies: []Body{plate}, dir: Front, cut: Cut{Steps: []Step{{At: -30}, {From: 45, At: -15}}},
			areas: []float64{45*10 - 80, 55*10 - 80}, visible: 220 + 40},
		{name: "shaft left whole", bodies: []Body{plate, shaft}, dir: Front, cut: Cut{Steps: []Step{{At: -30}}, Whole: func(body int) bool { return body == 1 }},
			areas: []float64{92 * 10}, visible: 200 - 16 + 20 + 60 + 16},
		{name: "shaft cut", bodies: []Body{plate, shaft}, dir: Front, cut: FullSection(-30), areas: []float64{92 * 10, 240}, visible: 200 - 16 + 20 + 60 + 16},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, regions, err := Section(c.bodies, c.dir, c.cut, Options{VisibleOnly: true})
			if err != nil {
				t.Fatal(err)
			}
			var got []float64
			total, want := 0.0, 0.0
			for _, r := range regions {
				got = append(got, area(t, r.Outline))
				total += got[len(got)-1]
			}
			for _, a := range c.areas {
				want += a
			}
			if math.Abs(total-want) > 1e-3 {
				t.Errorf("areas cut %v, want %v", got, c.areas)
			}
			if math.Abs(d.Length(true)-c.visible) > 1e-6 {
				t.Errorf("visible %.6f mm, want %.6f: %v", d.Length(true), c.visible, d.Lines)
			}
			if n := len(regions); n > 1 && regions[0].Body != regions[n-1].Body && regions[0].Pattern == regions[n-1].Pattern {
				t.Error("neighbours are hatched alike")
			}
		})
	}
}

func TestSectionRefused(t *testing.T) {
	bodies := []Body{at(box(t, 10, 10, 10), 0, 0, 0)}
	for name, steps := range map[string][]Step{
		"no plane":         nil,
		"no place":         {{At: math.NaN()}},
		"from the right":   {{At: 0}, {From: 5}, {From: 2}},
		"behind all there": {{At: math.Inf(-1)}},
	} {
		if _, _, err := Section(bodies, Front, Cut{Steps: steps}, Options{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestSectionShowsThread(t *testing.T) {
	m8 := &solid.Thread{Designation: "M8", Major: 8, Minor: 6.647, Pitch: 1.25, Length: 15}
	tapped := at(box(t, 40, 30, 25, solid.Hole{Name: "a", Face: "top", At: []solid.Vec2{{X: 12, Y: 15}}, D: 6.8, Depth: 20, Kind: solid.Tapped, Thread: m8}), 0, 0, 0)
	d, _, err := Section([]Body{tapped}, Front, FullSection(-15), Options{VisibleOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	threads := d.Curves(true, Thread)
	if len(threads) != 2 || math.Abs(threads[0].Length()-15) > 1e-6 || len(d.Curves(true, Limit)) == 0 {
		t.Errorf("thread is drawn as %v, its end as %v", threads, d.Curves(true, Limit))
	}
	cutLines := slices.IndexFunc(d.Lines, func(l Line) bool { return slices.Contains(l.Faces, CutFace) })
	if cutLines < 0 {
		t.Error("no line says that it bounds what is cut")
	}
}

// clamped is an assembly of two plates that a screw holds together, its thread in
// the lower one, with a washer under the head and a pin pressed through both.
func clamped(t testing.TB) (bodies []Body, whole func(int) bool) {
	m8 := &solid.Thread{Designation: "M8", Major: 8, Minor: 6.466, Pitch: 1.25}
	upper := box(t, 60, 30, 10, solid.Hole{Name: "s", At: []solid.Vec2{{X: 15, Y: 15}}, D: 9}, solid.Hole{Name: "p", At: []solid.Vec2{{X: 45, Y: 15}}, D: 6})
	lower := box(t, 60, 30, 20, solid.Hole{Name: "s", At: []solid.Vec2{{X: 15, Y: 15}}, D: 6.8, Kind: solid.Tapped, Thread: m8}, solid.Hole{Name: "p", At: []solid.Vec2{{X: 45, Y: 15}}, D: 6})
	washer := build(t, solid.Shape{Base: solid.Group{{Shape: solid.Pipe{D: 16, Bore: 8.4, L: 1.6}, Along: solid.AxisZ}}})
	screw := build(t, solid.Shape{Base: solid.Group{{Shape: solid.Lathed{{D: 8, L: 25, Thread: m8}, {D: 13, L: 8}}, Along: solid.AxisZ}}})
	return []Body{
		at(upper, 0, 0, 20), at(lower, 0, 0, 0), at(washer, 7, 7, 30), at(screw, 8.5, 8.5, 6.6), at(rod(t, 6.02, 25, solid.AxisZ), 41.99, 11.99, 3),
	}, func(body int) bool { return body >= 3 }
}

// TestSectionOfAssembly: full, half and stepped, of several parts: fasteners and
// pins stay whole and cover the hatching, parts that touch are hatched differently,
// and a thread in its hole is drawn as the screw's (ISO 128-3, ISO 6410-1). Areas
// in mm² by hand.
func TestSectionOfAssembly(t *testing.T) {
	bodies, whole := clamped(t)
	cases := []struct {
		name  string
		steps []Step
		area  [3]float64 // upper, lower, washer
	}{
		// The screw reaches from z = 6.6, at its major diameter; the drilled hole goes on below;
		// the pin from 3 to 28.
		{name: "full", steps: []Step{{At: -15}}, area: [3]float64{10*(60-9) - 8*6.02 - 2*6, 20*(60-6.8) - 13.4*(8-6.8) - 17*6.02 - 3*6, 1.6 * (16 - 8.4)}},
		{name: "half", steps: []Step{{At: -15}, {From: 30, At: math.Inf(1)}}, area: [3]float64{10 * (30 - 9), 20*(30-6.8) - 13.4*(8-6.8), 1.6 * (16 - 8.4)}},
		// The right half is cut behind the pin.
		{name: "stepped", steps: []Step{{At: -15}, {From: 30, At: -25}}, area: [3]float64{10 * (60 - 9), 20*(60-6.8) - 13.4*(8-6.8), 1.6 * (16 - 8.4)}},
		{name: "before all", steps: []Step{{At: 1}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, regions, err := Section(bodies, Front, Cut{Steps: c.steps, Whole: whole}, Options{VisibleOnly: true})
			if err != nil {
				t.Fatal(err)
			}
			var got [3]float64
			pattern := map[int]int{}
			for _, r := range regions {
				if whole(r.Body) {
					t.Fatalf("body %d is cut", r.Body)
				}
				got[r.Body] += area(t, r.Outline)
				pattern[r.Body] = r.Pattern
			}
			for i := range got {
				if math.Abs(got[i]-c.area[i]) > 1e-3 {
					t.Errorf("areas %v, want %v", got, c.area)
					break
				}
			}
			if len(pattern) > 0 && (pattern[0] == pattern[1] || pattern[0] == pattern[2]) {
				t.Errorf("parts that touch are hatched alike: %v", pattern)
			}
			// Below the screw's head, within its outline, no line of a plate shows.
			for _, l := range d.Lines {
				for _, k := range l.Curves {
					b := k.Bounds()
					if l.Visible && len(regions) > 0 && l.Body < 3 && b.Min.X > 8.5+2.5+1e-6 && b.Max.X < 21.5-2.5-1e-6 && b.Max.Y < -6.7 {
						t.Errorf("%v %v of body %d shows through the screw", l.Kind, k, l.Body)
					}
				}
			}
		})
	}
}

// TestHatchReachesCrest: the hatching of a tapped hole reaches the crest of its
// thread, across the narrow line of its root (ISO 6410-1); on a screw that is cut
// too it reaches the crest outside.
func TestHatchReachesCrest(t *testing.T) {
	bodies, _ := clamped(t)
	_, regions, err := Section(bodies[1:2], Front, FullSection(-15), Options{})
	if err != nil {
		t.Fatal(err)
	}
	total := 0.0
	for _, r := range regions {
		total += area(t, r.Outline)
	}
	if want := 20 * (60 - 6.8 - 6); math.Abs(total-want) > 1e-3 {
		t.Errorf("hatched %.4f mm² of a plate with a tapped hole, want %.4f", total, want)
	}
	_, regions, err = Section(bodies, Front, FullSection(-15), Options{})
	if err != nil {
		t.Fatal(err)
	}
	total = 0
	for _, r := range regions {
		if r.Body == 3 {
			total += area(t, r.Outline)
		}
	}
	if want := 8*25 + 13*8.0; math.Abs(total-want) > 1e-3 {
		t.Errorf("hatched %.4f mm² of a screw that is cut in its hole, want %.4f", total, want)
	}
}

// TestHatchingTellsApart: no two patterns are hatched alike.
func TestHatchingTellsApart(t *testing.T) {
	seen := map[[2]float64]int{}
	for pattern := range 12 {
		angle, apart := Region{Pattern: pattern}.Hatching(2)
		if other, ok := seen[[2]float64{angle, apart}]; ok || math.Abs(math.Abs(angle)-math.Pi/4) > 1e-12 || apart < 2 {
			t.Errorf("pattern %d: %g rad, %g mm apart, like pattern %d", pattern, angle, apart, other)
		}
		seen[[2]float64{angle, apart}] = pattern
	}
}
