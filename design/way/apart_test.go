package way

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

// strewn is a plan of n bodies that hang in space without touching: blocks, blades
// thinner than any lattice of lines would find, and rods in tubes. It is what a
// search for ways has to do with, not what anybody would build.
func strewn(random *rand.Rand, n int) trial.Files {
	var parts, holds, adds strings.Builder
	var taken []solid.Box
	place := func(size solid.Vec) (at solid.Vec, ok bool) {
		for range 60 {
			at = solid.Vec{X: float64(random.IntN(90)), Y: float64(random.IntN(90)), Z: float64(random.IntN(90))}
			box := solid.Box{Min: at, Max: at.Add(size)}.Grow(0.5)
			if !slices.ContainsFunc(taken, box.Meets) {
				taken = append(taken, box)
				return at, true
			}
		}
		return at, false
	}
	for i := range n {
		size := solid.Vec{X: 5 + float64(random.IntN(60)), Y: 5 + float64(random.IntN(60)), Z: 5 + float64(random.IntN(60))}
		shape := ""
		switch i % 4 {
		case 0: // a blade
			size.X = 0.6
		case 1: // a rod in a tube
			size = solid.Vec{X: 20, Y: 20, Z: size.Z}
			shape = fmt.Sprintf("{tube: {d: 20 mm, bore: 10.1 mm, l: %g mm}, axis: z}", size.Z)
		}
		if shape == "" {
			shape = fmt.Sprintf("{box: [%g mm, %g mm, %g mm]}", size.X, size.Y, size.Z)
		}
		at, ok := place(size)
		if !ok {
			continue
		}
		fmt.Fprintf(&parts, "p%d: {title: P%d, made: bought, shape: [%s]}\n", i, i, shape)
		fmt.Fprintf(&holds, "  u%d: {part: p%d, at: [%g mm, %g mm, %g mm]}\n", i, i, at.X, at.Y, at.Z)
		fmt.Fprintf(&adds, "u%d, ", i)
		if i%4 == 1 {
			fmt.Fprintf(&parts, "r%d: {title: R%d, made: bought, shape: [{cylinder: {d: 10 mm, l: %g mm}, axis: z}]}\n", i, i, size.Z-2)
			fmt.Fprintf(&holds, "  v%d: {part: r%d, at: [%g mm, %g mm, %g mm]}\n", i, i, at.X+5, at.Y+5, at.Z+1)
			fmt.Fprintf(&adds, "v%d, ", i)
		}
	}
	return trial.Files{
		"plan.yaml":           "title: Rig\nmachine: rig\nrevision: A\n",
		"parts/all.yaml":      parts.String(),
		"assemblies/rig.yaml": "title: Rig\nholds:\n" + holds.String() + "steps:\n  all: {title: All, adds: [" + strings.TrimSuffix(adds.String(), ", ") + "], text: T}\n",
	}
}

func parted(t *testing.T, files trial.Files) (*Parting, []layout.Piece) {
	t.Helper()
	r := trial.Reckoning(t, files)
	a := r.Plan.Assembly("rig")
	pieces := layout.Of(r).Pieces(a)
	return Of(a, r.Case.Options, pieces, NewMemory()).Apart(), pieces
}

// Random assemblies, by brute force: along each way that something leaves by, no
// place in it comes to lie in what is still there; nothing is said to be stuck that
// is not.
func TestApartStrewn(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	left := 0
	for run := range 12 {
		p, pieces := parted(t, strewn(random, 6+random.IntN(14)))
		gone := make([]bool, len(pieces))
		for _, r := range p.Out {
			left++
			if !math.IsInf(r.Free, 1) {
				t.Errorf("run %d: %s runs into something after %g mm: boxes and rods come apart in some order", run, r.Unit.Name(), r.Free)
			}
			for _, i := range r.Unit.Pieces {
				gone[i] = true
			}
			for _, i := range r.Unit.Pieces {
				for k := range pieces {
					if !gone[k] {
						if at, hit := runsInto(random, pieces[i], pieces[k], r.Way, math.Min(r.Free, 250)); hit {
							t.Errorf("run %d: %s leaves along %v and is in %s after %.2f mm", run, pieces[i].Use, r.Way, pieces[k].Use, at)
						}
					}
				}
			}
		}
		if len(p.Stopped) > 0 {
			t.Errorf("run %d: %v are stopped", run, p.Stopped)
		}
	}
	if left < 100 {
		t.Errorf("%d left: the cases say little", left)
	}
}

// runsInto moves places within a piece, its corners among them, along a way by small
// steps, and tells where the first of them lies in another one.
func runsInto(random *rand.Rand, p, q layout.Piece, way solid.Vec, far float64) (float64, bool) {
	box := p.Solid.Box()
	size := box.Size()
	inset := math.Min(1.5*Allowance, size.X/2-0.01)
	var inner []solid.Vec
	for i := range 60 {
		share := solid.Vec{X: random.Float64(), Y: random.Float64(), Z: random.Float64()}
		if i < 8 {
			share = solid.Vec{X: float64(i & 1), Y: float64(i >> 1 & 1), Z: float64(i >> 2)}
		}
		at := box.Min.Add(solid.Vec{
			X: inset + share.X*(size.X-2*inset), Y: inset + share.Y*(size.Y-2*inset), Z: inset + share.Z*(size.Z-2*inset),
		})
		if p.Solid.Where(at) == solid.Inside {
			inner = append(inner, p.At.Point(at))
		}
	}
	back := q.At.Inverse()
	// A blade is 0.6 mm thin: no step goes past one.
	for s := 0.0; s <= far; s += 0.5 {
		for _, at := range inner {
			local := back.Point(at.Add(way.Mul(s)))
			if q.Solid.Box().Holds(local) && q.Solid.Where(local) == solid.Inside {
				return s, true
			}
		}
	}
	return 0, false
}

const hardwareParts = `plate: {title: Plate, made: bought, shape: [{box: [60 mm, 60 mm, 5 mm]}], holes: {ends: {line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, for: M5}}}
block: {title: Block, made: bought, shape: [{box: [60 mm, 60 mm, 8 mm]}], holes: {ends: {face: top, line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, for: M5}}}
cap: {standard: ISO 4762 M5x25 - 8.8}
washer: {standard: ISO 7089 5}
nut: {standard: ISO 4032 M5 - 8}
`

// Screws with the washers under their heads leave as one, head first; nuts with
// theirs the other way; what they held leaves after the screws.
func TestHardware(t *testing.T) {
	p, pieces := parted(t, trial.Files{
		"plan.yaml":      "title: Rig\nmachine: rig\nrevision: A\n",
		"parts/all.yaml": hardwareParts,
		"assemblies/rig.yaml": `title: Rig
holds:
  block: {part: block, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 8 mm]}
joints:
  hold: {screw: cap, under_head: [washer], under_nut: [washer], through: [plate.ends, block.ends], into: nut}
steps:
  one: {title: One, adds: [block, plate], fastens: [hold], text: T}
`,
	})
	if len(pieces) != 10 || len(p.Stopped) > 0 {
		t.Fatalf("%d pieces, stopped %v", len(pieces), p.Stopped)
	}
	order := map[string]int{}
	for i, r := range p.Out {
		name := r.Unit.Name()
		want := solid.Vec{Z: 1}
		if r.Unit.Nut {
			name, want = "nuts", solid.Vec{Z: -1}
		}
		order[name] = i + 1
		if r.Way != want {
			t.Errorf("%s leaves along %v, want %v", name, r.Way, want)
		}
		if r.Unit.Joint != "" && len(r.Unit.Pieces) != 4 {
			t.Errorf("%s: %d pieces leave together, want two screws or nuts and their washers", name, len(r.Unit.Pieces))
		}
	}
	if order["hold"] == 0 || order["nuts"] == 0 || order["plate"] < order["hold"] {
		t.Errorf("order %v: the plate leaves after its screws", order)
	}
}

// A screw in a thread leaves along it, though it is drawn into the part; one under a
// lid does not, and holds what it holds.
func TestThreads(t *testing.T) {
	rig := func(lid string) trial.Files {
		return trial.Files{
			"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n",
			"parts/all.yaml": `plate: {title: Plate, made: bought, shape: [{box: [20 mm, 20 mm, 5 mm]}], holes: {eye: {at: [10 mm, 10 mm], for: M5}}}
block: {title: Block, made: bought, shape: [{box: [60 mm, 60 mm, 40 mm]}, {box: [24 mm, 24 mm, 30 mm], at: [18 mm, 18 mm, 10 mm], cut: yes}], holes: {eye: {at: [30 mm, 30 mm], face: bottom, tap: M5}}}
cap: {standard: ISO 4762 M5x12 - 8.8}
` + lid,
			"assemblies/rig.yaml": `title: Rig
holds:
  block: {part: block, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [20 mm, 20 mm, 10 mm]}
` + map[bool]string{true: "  lid: {part: lid, at: [0 mm, 0 mm, 40 mm]}\n"}[lid != ""] + `joints:
  hold: {screw: cap, through: [plate.eye, block.eye]}
` + map[bool]string{true: "  shut: {glue: lid.bottom, onto: block.top}\n"}[lid != ""] + `steps:
  one: {title: One, adds: [block, plate], fastens: [hold], text: T}
` + map[bool]string{true: "  two: {title: Two, adds: [lid], text: T}\n"}[lid != ""],
		}
	}
	open, _ := parted(t, rig(""))
	if len(open.Out) != 2 || open.Out[0].Unit.Joint != "hold" || open.Out[0].Way != (solid.Vec{Z: 1}) || !math.IsInf(open.Out[0].Free, 1) {
		t.Errorf("out %+v, stopped %+v", open.Out, open.Stopped)
	}
	shut, _ := parted(t, rig("lid: {title: Lid, made: bought, shape: [{box: [60 mm, 60 mm, 3 mm]}]}\n"))
	if len(shut.Out) != 3 || shut.Out[0].Unit.Name() != "lid" {
		t.Errorf("out %+v: the lid comes off first", shut.Out)
	}
}

// What stops a thing is told, and how far it gets.
func TestStop(t *testing.T) {
	p, _ := parted(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n",
		"parts/all.yaml": `case: {title: Case, made: bought, shape: [{box: [60 mm, 60 mm, 60 mm]}, {box: [50 mm, 50 mm, 50 mm], at: [5 mm, 5 mm, 5 mm], cut: yes}]}
ball: {title: Ball, made: bought, shape: [{box: [10 mm, 10 mm, 10 mm]}]}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  case: {part: case, at: [0 mm, 0 mm, 0 mm]}
  ball: {part: ball, at: [10 mm, 20 mm, 20 mm]}
steps:
  one: {title: One, adds: [case, ball], text: T}
`,
	})
	if len(p.Stopped) != 1 {
		t.Fatalf("out %v, stopped %v", p.Out, p.Stopped)
	}
	if s := p.Stopped[0]; s.Unit.Name() != "ball" || s.By.Name() != "case" || s.Way != (solid.Vec{X: 1}) || s.Free < 35 || s.Free > 35+Allowance {
		t.Errorf("%s is stopped along %v by %s after %g mm, want the case after 35 along x", s.Unit.Name(), s.Way, s.By.Name(), s.Free)
	}
}

// A part leaves against the way by which its plan says it comes in.
func TestSaidWay(t *testing.T) {
	for _, c := range []struct {
		says string
		want solid.Vec
	}{
		{"", solid.Vec{Z: 1}},
		{", way: [-z 20 mm, -x 30 mm]", solid.Vec{X: 1}},
	} {
		p, _ := parted(t, trial.Files{
			"plan.yaml":      "title: Rig\nmachine: rig\nrevision: A\n",
			"parts/all.yaml": "foot: {title: Foot, made: bought, shape: [{box: [80 mm, 80 mm, 5 mm]}]}\nblock: {title: Block, made: bought, shape: [{box: [20 mm, 20 mm, 20 mm]}]}\n",
			"assemblies/rig.yaml": "title: Rig\nholds:\n  foot: {part: foot, at: [0 mm, 0 mm, 0 mm]}\n  block: {part: block, at: [30 mm, 30 mm, 5 mm]" + c.says + "}\n" +
				"steps:\n  one: {title: One, adds: [foot, block], text: T}\n",
		})
		if len(p.Out) != 1 || p.Out[0].Way != c.want {
			t.Errorf("%q: out %v, want along %v", c.says, p.Out, c.want)
		}
	}
}
