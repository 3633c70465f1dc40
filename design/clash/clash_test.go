package clash_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/clash"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/trial"
)

// look lays a plan out and looks it over.
func look(t testing.TB, files trial.Files) *clash.Report {
	t.Helper()
	r := trial.Reckoning(t, files)
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	return clash.Of(r, l, joint.Of(r, l), clash.NewStore(nil))
}

const partsFile = `
base: {title: Plate, made: bought, buy: any, material: steel_s235, shape: [{box: [200 mm, 60 mm, 10 mm]}], holes: {seat: {at: [20 mm, 30 mm], bore: 7.9 mm, depth: 6 mm}, spot: {at: [120 mm, 30 mm], bore: 10 mm, depth: 2 mm}, tapped: {at: [180 mm, 30 mm], tap: M6}}}
post: {title: Post, made: bought, buy: any, shape: [{box: [10 mm, 10 mm, 20 mm]}]}
pin: {title: Pin, made: bought, buy: any, shape: [{cylinder: {d: 8 mm, l: 16 mm}, name: body}]}
cap: {title: Cap, made: bought, buy: any, shape: [{box: [20 mm, 20 mm, 6 mm]}], holes: {h: {at: [10 mm, 10 mm], for: M6}}}
screw: {standard: ISO 4762 M6x12 - 8.8, buy: any}
stud: {title: Stud, made: bought, buy: any, shape: [{cylinder: {d: 10 mm, l: 4 mm}}]}
slide: {title: Slide, made: bought, buy: any, shape: [{box: [20 mm, 20 mm, 10 mm]}]}
arm: {title: Arm, made: bought, buy: any, shape: [{box: [50 mm, 10 mm, 10 mm]}, {cylinder: {d: 4 mm, l: 10 mm}, at: [3 mm, 3 mm, 0 mm], cut: yes, name: eye}]}
`

// rig is a plan of parts above that holds something.
func rig(holds ...string) trial.Files {
	return trial.Files{"parts/p.yaml": partsFile, "assemblies/rig.yaml": "title: Rig\nholds:\n  " + strings.Join(holds, "\n  ") + "\n"}
}

func (f files) moving(motions string) trial.Files {
	return trial.Files(f).With(trial.Files{"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\ndate: 2026-05-02\nlicense: CERN-OHL-S-2.0\ncurrency: EUR\nhistory:\n  - {revision: A, date: 2026-05-02, says: First release.}\nmotions:\n" + motions})
}

type files trial.Files

const onBase = "base: {part: base, at: [0 mm, 0 mm, 0 mm]}"

// Depths and volumes of boxes and cylinders in closed form.
func TestOverlaps(t *testing.T) {
	cases := []struct {
		name   string
		files  trial.Files
		depth  float64 // 0: nothing overlaps
		volume float64
	}{
		{name: "a tenth of a millimetre", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, 9.9 mm]}"), depth: 0.1, volume: 10},
		{name: "touching", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, 10 mm]}")},
		{name: "right through", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, -5 mm]}"), depth: 5, volume: 1000},
		{name: "pin in a hole too small for it", files: rig(onBase, "pin: {part: pin, at: [16 mm, 26 mm, 4 mm]}"), depth: 0.05, volume: math.Pi / 4 * (8*8 - 7.9*7.9) * 6},
		{name: "pressed", files: rig(onBase, "pin: {part: pin, at: [16 mm, 26 mm, 4 mm]}", "other: {part: pin, at: [100 mm, 26 mm, 10 mm]}\njoints:\n  fit: {press: pin.body, into: base.seat}")},
		{name: "pressed in too deep", files: rig(onBase, "pin: {part: pin, at: [16 mm, 26 mm, 3 mm]}\njoints:\n  fit: {press: pin.body, into: base.seat}"), depth: 1, volume: math.Pi / 4 * (8*8 + (8*8-7.9*7.9)*6)},
		{name: "beside the hole's axis, which another rule tells, joined by its end", files: rig(onBase, "stud: {part: stud, at: [115.5 mm, 25 mm, 8 mm]}\njoints:\n  fit: {push: stud.bottom, into: base.spot}")},
		{name: "screw in its thread", files: rig(onBase, "cap: {part: cap, at: [170 mm, 20 mm, 10 mm]}\njoints:\n  fit: {screw: screw, through: [cap.h, base.tapped]}")},
		{name: "head of a screw in a part that is no layer", files: rig(onBase, "cap: {part: cap, at: [170 mm, 20 mm, 10 mm]}", "post: {part: post, at: [183 mm, 25 mm, 16 mm]}\njoints:\n  fit: {screw: screw, through: [cap.h, base.tapped]}"), depth: -1},
		{name: "stated", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, 9.5 mm], overlaps: {with: base, by: 0.5 mm, because: it bites}}")},
		{name: "deeper than stated", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, 9 mm], overlaps: {with: base, by: 0.5 mm, because: it bites}}"), depth: 1, volume: 100},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := look(t, c.files).Overlaps
			if c.depth == 0 {
				for _, o := range got {
					t.Errorf("%s and %s overlap by %g", o.A.Name(), o.B.Name(), o.Depth)
				}
				return
			}
			if len(got) != 1 {
				t.Fatalf("%d overlaps: %+v", len(got), got)
			}
			if c.depth > 0 && (math.Abs(got[0].Depth-c.depth) > 0.05*c.depth || math.Abs(got[0].Volume-c.volume) > 1e-3*c.volume) {
				t.Errorf("depth %g, volume %g; want %g, %g", got[0].Depth, got[0].Volume, c.depth, c.volume)
			}
		})
	}
}

func TestInsideOfAnAssemblyIsToldOnce(t *testing.T) {
	f := rig("left: {assembly: pair, at: [0 mm, 0 mm, 0 mm]}", "right: {assembly: pair, at: [0 mm, 60 mm, 0 mm]}", "last: {assembly: pair, at: [0 mm, 120 mm, 0 mm], turn: z 90 deg}")
	f["assemblies/pair.yaml"] = "title: Pair\nholds:\n  " + onBase + "\n  post: {part: post, at: [50 mm, 10 mm, 9 mm]}\n"
	got := look(t, f).Overlaps
	found := 0
	for _, o := range got {
		if o.In.Assembly.ID.Text == "pair" {
			found++
			if o.Instances != 3 || math.Abs(o.Depth-1) > 1e-6 {
				t.Errorf("%d instances, depth %g", o.Instances, o.Depth)
			}
		}
	}
	if found != 1 {
		t.Errorf("told %d times", found)
	}
}

func TestLoose(t *testing.T) {
	cases := []struct {
		name  string
		files trial.Files
		loose string // bodies of each group, the nearest and the gap
	}{
		{name: "gap above a post", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, 10 mm]}", "top: {part: base, at: [0 mm, 0 mm, 40 mm]}"), loose: "top: post 10"},
		{name: "two that hang together", files: rig(onBase, "foot: {part: base, at: [0 mm, 0 mm, -10 mm]}", "rail: {part: base, at: [0 mm, 60 mm, -10 mm]}", "post: {part: post, at: [50 mm, 10 mm, 13 mm]}", "pin: {part: pin, at: [51 mm, 11 mm, 33 mm]}"), loose: "post pin: base 3"},
		{name: "held by a joint only", files: rig(onBase, "pin: {part: pin, at: [16 mm, 26 mm, 20 mm]}\njoints:\n  fit: {slide: pin.body, into: base.seat}")},
		{name: "a hair apart", files: rig(onBase, "post: {part: post, at: [50 mm, 10 mm, 10.05 mm]}")},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, l := range look(t, c.files).Loose {
				var names []string
				for _, b := range l.Bodies {
					names = append(names, b.Name())
				}
				got = append(got, fmt.Sprintf("%s: %s %g", strings.Join(names, " "), l.Other.Name(), math.Round(l.Gap*1000)/1000))
			}
			if strings.Join(got, "; ") != c.loose {
				t.Errorf("%q, want %q", got, c.loose)
			}
		})
	}
}

// Where a travel first touches follows from the sizes; angles in radians, lengths in
// metres.
func TestTravels(t *testing.T) {
	const slide = "slide: {part: slide, at: [0 mm, %s, 10 mm], moves: {along: x, by: travel}}"
	stud := "stud: {part: stud, at: [80 mm, 10 mm, 10 mm]}" // its axis at 85, 15
	cases := []struct {
		name    string
		files   trial.Files
		first   float64 // of the one clash; NaN for none
		passes  bool
		gap     float64 // of the least clearance, mm; NaN where there is none
		from    float64 // between which places
		to      float64
		sampled bool
	}{
		{name: "only in the middle", files: files(rig(onBase, stud, fmt.Sprintf(slide, "0 mm"))).moving("  travel: {from: 0 mm, to: 150 mm, about: to and fro}\n"), first: 0.060, passes: true, gap: math.NaN()},
		{name: "at the end", files: files(rig(onBase, stud, fmt.Sprintf(slide, "0 mm"))).moving("  travel: {from: 0 mm, to: 61 mm, about: to and fro}\n"), first: 0.060, gap: math.NaN()},
		{name: "just not", files: files(rig(onBase, stud, fmt.Sprintf(slide, "0 mm"))).moving("  travel: {from: 0 mm, to: 59.5 mm, about: to and fro}\n"), first: math.NaN(), gap: 0.5, from: 0.0595, to: 0.0595},
		{name: "past it", files: files(rig(onBase, stud, fmt.Sprintf(slide, "20.4 mm"))).moving("  travel: {from: 0 mm, to: 150 mm, about: to and fro}\n"), first: math.NaN(), gap: 0.4, from: 0.065, to: 0.085},
		{name: "the other way from rest", files: files(rig(onBase, stud, "slide: {part: slide, at: [120 mm, 0 mm, 10 mm], moves: {along: x, by: travel}}")).moving("  travel: {from: -100 mm, to: 40 mm, about: to and fro}\n"), first: -0.030, passes: true, gap: math.NaN()},
		// The head of the screw is 10 wide about 180, 30.
		{name: "into a screw's head", files: files(rig(onBase, "slide: {part: slide, at: [100 mm, 20 mm, 11 mm], moves: {along: x, by: travel}}", "post: {part: base, at: [0 mm, 60 mm, 0 mm]}\njoints:\n  fit: {screw: screw, through: [base.tapped]}")).moving("  travel: {from: 0 mm, to: 75 mm, about: to and fro}\n"), first: 0.055, gap: math.NaN()},
		{name: "unevenly", files: files(rig(onBase, stud, "slide: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: 150 mm * sin(swing)}}")).moving("  swing: {from: 0 deg, to: 90 deg, about: a crank}\n"), first: math.Asin(60.0 / 150), passes: true, gap: math.NaN(), sampled: true},
		// An arm 45 mm long from its axis, 10 wide, about (100, 30); the stud's middle at
		// 131, 30 and then a quarter turn further.
		{name: "turning", files: files(rig(onBase, "stud: {part: stud, at: [95 mm, 56 mm, 10 mm]}", "arm: {part: arm, at: [95 mm, 25 mm, 10 mm], moves: {about: eye, by: swing}}")).moving("  swing: {from: 0 deg, to: 170 deg, about: to and fro}\n"), first: math.Pi/2 - math.Asin(10.0/31), passes: true, gap: math.NaN()},
		{name: "turning many times", files: files(rig(onBase, "stud: {part: stud, at: [95 mm, 56 mm, 10 mm]}", "arm: {part: arm, at: [95 mm, 25 mm, 10 mm], moves: {about: eye, by: 30 * swing}}")).moving("  swing: {from: 0 turn, to: 1 turn, about: round and round}\n"), first: (math.Pi/2 - math.Asin(10.0/31)) / 30, passes: true, gap: math.NaN()},
		{name: "turning clear", files: files(rig(onBase, "stud: {part: stud, at: [95 mm, 76 mm, 6 mm]}", "arm: {part: arm, at: [95 mm, 25 mm, 10 mm], moves: {about: eye, by: 30 * swing}}")).moving("  swing: {from: 0 turn, to: 1 turn, about: round and round}\n"), first: math.NaN(), gap: 46 - math.Hypot(45, 5), from: 0, to: 2 * math.Pi},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := look(t, c.files).Travels
			if len(got) != 1 {
				t.Fatalf("%d travels", len(got))
			}
			tr := got[0]
			if math.IsNaN(c.first) != (len(tr.Clashes) == 0) || len(tr.Clashes) > 1 {
				t.Fatalf("clashes: %+v", tr.Clashes)
			}
			if !math.IsNaN(c.first) {
				// Down to an overlap of Deep, which counts as met or not.
				if f := tr.Clashes[0]; math.Abs(f.First.SI-c.first) > 4e-3*math.Max(math.Abs(c.first), 0.1) || f.Passes != c.passes {
					t.Errorf("first at %g, passes %v; want %g, %v", f.First.SI, f.Passes, c.first, c.passes)
				}
			}
			if tr.Sampled != c.sampled {
				t.Errorf("sampled %v", tr.Sampled)
			}
			if math.IsNaN(c.gap) {
				return
			}
			if l := tr.Least; l == nil || math.Abs(l.Gap-c.gap) > 0.02 || l.Stands.SI < c.from-1e-4 || l.Stands.SI > c.to+1e-4 {
				t.Errorf("least %+v, want %g", l, c.gap)
			}
		})
	}
}

// Everywhere that two bodies are as near as any come is told, from where to where.
func TestPlacesOfLeastClearance(t *testing.T) {
	f := files(rig(onBase, "low: {part: stud, at: [60 mm, 20.4 mm, 10 mm]}", "other: {part: stud, at: [120 mm, 20.4 mm, 10 mm]}", "far: {part: stud, at: [90 mm, 21 mm, 10 mm]}",
		"slide: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: travel}}")).moving("  travel: {from: 0 mm, to: 170 mm, about: to and fro}\n")
	tr := look(t, f).Travels[0]
	got := ""
	for _, p := range tr.Places {
		got += fmt.Sprintf("%s %s %.2f ", p.A.Name(), p.B.Name(), p.Gap)
	}
	if got != "slide low 0.40 slide other 0.40 " {
		t.Fatalf("%q", got)
	}
	// The middles of the studs pass the slide's face from 45 to 65, and 60 further on; a
	// twentieth more than the gap is left 0.7 further.
	for i, want := range [][2]float64{{45, 65}, {105, 125}} {
		more := math.Sqrt(5.05*5.05 - 5*5)
		if p := tr.Places[i]; math.Abs(p.From.SI*1000-want[0]+more) > 0.6 || math.Abs(p.To.SI*1000-want[1]-more) > 0.6 {
			t.Errorf("from %g to %g, want %v", p.From.SI*1000, p.To.SI*1000, want)
		}
	}
}

// Two slides whose ways cross meet only where the other one is at its end.
func TestOtherMotionsAtTheirEnds(t *testing.T) {
	f := files(rig(onBase, "foot: {part: base, at: [0 mm, 60 mm, 0 mm]}", "one: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}",
		"two: {part: slide, at: [100 mm, 50 mm, 10 mm], moves: {along: y, by: -across}}")).moving("  along: {from: 0 mm, to: 150 mm, about: one}\n  across: {from: 0 mm, to: 45 mm, about: two}\n")
	got := look(t, f).Travels
	if len(got) != 2 {
		t.Fatalf("%d travels", len(got))
	}
	tr := got[0]
	if len(tr.Clashes) != 1 || math.Abs(tr.Clashes[0].First.SI-0.080) > 3e-4 || math.Abs(tr.Clashes[0].Others["across"].SI-0.045) > 1e-9 {
		t.Errorf("clashes %+v", tr.Clashes)
	}
	if len(got[1].Clashes) != 0 {
		t.Errorf("the second by itself: %+v", got[1].Clashes)
	}
}
