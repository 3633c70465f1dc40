package clash_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

// wired is a rig with a cable 6 mm thick among its parts, on a motion of 100 mm.
func wired(holds ...string) trial.Files {
	f := files(rig(holds...)).moving("  travel: {from: 0 mm, to: 100 mm, about: along}\n")
	return trial.Files(f).With(trial.Files{"parts/cable.yaml": `cable: {title: Cable, made: bought, buy: any, strand: {d: 6 mm, length: 400 mm}}
clip: {title: Clip, made: bought, buy: any, shape: [{box: [20 mm, 20 mm, 10 mm]}], holes: {eye: {face: left, at: [10 mm, 5 mm], bore: 7 mm}}}
frame: {title: Frame, made: bought, buy: any, shape: [{box: [4 mm, 60 mm, 60 mm]}], holes: {window: {face: left, at: [30 mm, 30 mm], bore: 30 mm}}}
`})
}

// Where on its way a slide meets a cable, and a cable with a moving end a body: in closed
// form from the middle lines.
func TestStrandsOnTheWay(t *testing.T) {
	cases := []struct {
		name    string
		holds   []string
		body    string  // that meets the cable; "" for none
		first   float64 // mm
		carried bool
	}{
		// The cable hangs at x = 150 across the way, its near side at 147; the slide's front starts at 60, 0.2 deep counts as a touch.
		{name: "across the way", body: "slide", first: 87.2,
			holds: []string{"slide: {part: slide, at: [40 mm, 20 mm, 10 mm], moves: {along: x, by: travel}}", "low: {part: post, at: [145 mm, 80 mm, 0 mm]}", "high: {part: post, at: [145 mm, -40 mm, 0 mm]}",
				"cable: {part: cable, from: low, to: high, via: [[150 mm, 70 mm, 15 mm], [150 mm, -20 mm, 15 mm]]}"}},
		{name: "above the way, by a hair",
			holds: []string{"slide: {part: slide, at: [40 mm, 20 mm, 10 mm], moves: {along: x, by: travel}}", "low: {part: post, at: [145 mm, 80 mm, 0 mm]}", "high: {part: post, at: [145 mm, -40 mm, 0 mm]}",
				"cable: {part: cable, from: low, to: high, via: [[150 mm, 70 mm, 23.1 mm], [150 mm, -20 mm, 23.1 mm]]}"}},
		// The cable's one end rides at x = 60 + travel, the other stays at x = 60, both at y = 0 and 100: half way along, at y = 50, it is at
		// x = 60 + travel / 2. The post's near corner is at (90, 45): 2.8 from the middle line where (30 - 0.55 u) / sqrt(1 + u² / 100²) is that.
		{name: "led into a post by its end", body: "post", carried: true, first: 48.88,
			holds: []string{"slide: {part: slide, at: [50 mm, -20 mm, 10 mm], moves: {along: x, by: travel}}", "far: {part: slide, at: [50 mm, 100 mm, 10 mm]}", "post: {part: post, at: [90 mm, 45 mm, 5 mm]}",
				"cable: {part: cable, from: slide.back, to: far.front}"}},
		{name: "led beside a post", holds: []string{"slide: {part: slide, at: [50 mm, -20 mm, 10 mm], moves: {along: x, by: travel}}", "far: {part: slide, at: [50 mm, 100 mm, 10 mm]}", "post: {part: post, at: [120 mm, 45 mm, 5 mm]}",
			"cable: {part: cable, from: slide.back, to: far.front}"}},
		{name: "carried along with all it is near to", holds: []string{"unit: {assembly: unit, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: travel}}"}},
		{name: "through a window that goes along it", holds: []string{"frame: {part: frame, at: [30 mm, 0 mm, 0 mm], moves: {along: x, by: travel}}", "low: {part: post, at: [0 mm, 25 mm, 20 mm]}", "high: {part: post, at: [180 mm, 25 mm, 20 mm]}",
			"cable: {part: cable, from: low.right, to: high.left}"}},
		{name: "through a window that goes across it", body: "frame", first: 15 - 3 + 0.2,
			holds: []string{"frame: {part: frame, at: [30 mm, 0 mm, 0 mm], moves: {along: y, by: travel}}", "low: {part: post, at: [0 mm, 25 mm, 20 mm]}", "high: {part: post, at: [180 mm, 25 mm, 20 mm]}",
				"cable: {part: cable, from: low.right, to: high.left}"}},
		{name: "the clip that it goes through, on its way along", holds: []string{"clip: {part: clip, at: [30 mm, 20 mm, 20 mm], moves: {along: y, by: travel}}", "low: {part: post, at: [0 mm, 25 mm, 20 mm]}", "high: {part: post, at: [180 mm, 25 mm, 20 mm]}",
			"cable: {part: cable, from: low.right, to: high.left, via: [clip.eye]}"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := wired(c.holds...)
			f["assemblies/unit.yaml"] = "title: Unit\nholds:\n  slide: {part: slide, at: [0 mm, 0 mm, 0 mm]}\n  other: {part: slide, at: [0 mm, 60 mm, 0 mm]}\n  post: {part: post, at: [13.5 mm, 35 mm, 0 mm]}\n  cable: {part: cable, from: slide.back, to: other.front, via: [[10 mm, 40 mm, 5 mm]]}\n"
			travels := look(t, f).Travels
			if len(travels) != 1 {
				t.Fatalf("%d travels", len(travels))
			}
			got := travels[0].Snags
			if c.body == "" {
				for _, s := range got {
					t.Errorf("%s at %v", s.Body.Name(), s.First.SI)
				}
				return
			}
			if len(got) != 1 || got[0].Body.Name() != c.body || got[0].Carried != c.carried {
				t.Fatalf("%+v", got)
			}
			if first := got[0].First.SI * 1000; math.Abs(first-c.first) > 0.15 {
				t.Errorf("first at %g, want %g", first, c.first)
			}
		})
	}
}

// A cable of 6 beside a post, its middle line at (30, 30): how deep it is drawn into it, and
// how much longer it is pushed aside.
func TestStrandBesideAPost(t *testing.T) {
	for _, c := range []struct {
		name, post string
		deep       float64 // 0: not drawn into it
		through    int
	}{
		{name: "clear by a hair", post: "[80 mm, 33.1 mm, 20 mm]"},
		{name: "drawn into it by 1", post: "[80 mm, 32 mm, 20 mm]", deep: 1},
		{name: "by its middle line", post: "[80 mm, 28 mm, 20 mm]", through: 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := look(t, wired("low: {part: post, at: [0 mm, 25 mm, 20 mm]}", "high: {part: post, at: [180 mm, 25 mm, 20 mm]}", "post: {part: post, at: "+c.post+"}", "cable: {part: cable, from: low.right, to: high.left}")).Strands
			if c.deep == 0 && c.through == 0 {
				if len(got) > 0 {
					t.Errorf("%+v", got)
				}
				return
			}
			if len(got) != 1 || got[0].Body.Name() != "post" || got[0].Through != c.through || math.Abs(got[0].Deep-c.deep) > 1e-3 {
				t.Fatalf("%+v", got)
			}
			// From x = 10 to 180 past x = 80 to 90.
			if by := got[0].Around; c.through == 0 && (by < math.Hypot(80, 1)+math.Hypot(90, 1)-170-1e-6 || by > math.Hypot(70, 1)+math.Hypot(100, 1)-170+1e-6) {
				t.Errorf("%g longer", by)
			}
		})
	}
}

// TestRandomStrandsOnTheWay compares with points along the cable at places of the way.
func TestRandomStrandsOnTheWay(t *testing.T) {
	r := rand.New(rand.NewSource(31))
	hits, clear := 0, 0
	for round := range 60 {
		any := func() solid.Vec {
			return solid.Vec{X: 60 + 120*r.Float64(), Y: 100*r.Float64() - 40, Z: 50*r.Float64() - 10}
		}
		p, q := any(), any()
		f := wired("slide: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: travel}}", "low: {part: post, at: [60 mm, 120 mm, 0 mm]}", "high: {part: post, at: [60 mm, -120 mm, 0 mm]}",
			fmt.Sprintf("cable: {part: cable, from: low, to: high, via: [[%.6f mm, %.6f mm, %.6f mm], [%.6f mm, %.6f mm, %.6f mm]]}", p.X, p.Y, p.Z, q.X, q.Y, q.Z))
		tr := look(t, f).Travels[0]
		l := layout.Of(trial.Reckoning(t, f))
		points := l.Strands()[0].Points
		nearest := math.Inf(1) // of the middle line, anywhere on the way
		first := -1.0          // where it first is nearer than 2.8
		for u := 0.0; u <= 100; u += 0.25 {
			for leg := range len(points) - 1 {
				for k := 0; k <= 400; k++ {
					at := points[leg].Add(points[leg+1].Sub(points[leg]).Mul(float64(k) / 400))
					off := solid.Vec{X: math.Max(0, math.Max(u-at.X, at.X-u-20)), Y: math.Max(0, math.Max(-at.Y, at.Y-20)), Z: math.Max(0, math.Max(10-at.Z, at.Z-20))}.Len()
					nearest = math.Min(nearest, off)
					if off < 2.8 && first < 0 {
						first = u
					}
				}
			}
		}
		switch {
		case nearest < 2.6 && len(tr.Snags) != 1:
			t.Errorf("round %d: %g from the middle line and %d found", round, nearest, len(tr.Snags))
		case nearest > 2.9 && len(tr.Snags) > 0:
			t.Errorf("round %d: no nearer than %g to the middle line and found", round, nearest)
		case nearest < 2.6:
			hits++
			if got := tr.Snags[0].First.SI * 1000; math.Abs(got-first) > 1 {
				t.Errorf("round %d: first at %g, by points at %g", round, got, first)
			}
		default:
			clear++
		}
	}
	if hits < 15 || clear < 10 {
		t.Errorf("%d met, %d clear: that says little", hits, clear)
	}
}
