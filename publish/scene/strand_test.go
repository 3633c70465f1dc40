package scene

import (
	"math"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
	"plansheaf/design/way"
)

// A cable is drawn along its points: each point that it passes lies in a tube of its
// own thickness, in its assembly's axes and in those of the machine; it blocks nothing.
func TestStrandsAreDrawn(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n",
		"parts/all.yaml": `box: {title: Box, made: bought, shape: [{box: [40 mm, 40 mm, 40 mm]}]}
lead: {title: Lead, made: bought, strand: {d: 4 mm, length: 400 mm}}
`,
		"assemblies/pair.yaml": `title: Pair
holds:
  near: {part: box, at: [0 mm, 0 mm, 0 mm]}
  knee: {part: box, at: [100 mm, 0 mm, 0 mm]}
  far:  {part: box, at: [100 mm, 120 mm, 0 mm]}
  lead: {part: lead, from: near.top, via: [knee.top], to: far.top}
steps:
  all: {title: All, adds: [near, knee, far, lead], text: T}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  pair: {assembly: pair, at: [7 mm, 0 mm, 30 mm]}
steps:
  all: {title: All, adds: [pair], text: T}
`,
	})
	l, studio := layout.Of(r), NewStudio(way.NewMemory())
	strand := l.Strands()[0]
	if len(strand.Points) != 3 || strand.D != 4 {
		t.Fatalf("strand %+v", strand)
	}
	for _, c := range []struct {
		assembly, use string
		off           solid.Vec
	}{{"rig", "pair", solid.Vec{}}, {"pair", "lead", solid.Vec{X: 7, Z: 30}}} {
		pieces := studio.Pieces(l, r.Plan.Assembly(c.assembly))
		if len(pieces) != 5 {
			t.Fatalf("%s: %d pieces, want three boxes and two stretches", c.assembly, len(pieces))
		}
		length := 0.0
		for i, p := range pieces[3:] {
			size := p.Solid.Box().Size()
			if length += size.Z; p.Use != c.use || math.Abs(size.X-4) > 1e-9 {
				t.Errorf("%s: stretch %d of %q is %v", c.assembly, i, p.Use, size)
			}
			for _, k := range []int{i, i + 1} {
				at := p.At.Inverse().Point(strand.Points[k].Sub(c.off))
				if math.Hypot(at.X, at.Y) > 1e-6 || at.Z < -1e-6 || at.Z > size.Z+1e-6 {
					t.Errorf("%s: point %d lies at %v of stretch %d", c.assembly, k, at, i)
				}
			}
		}
		if length < strand.Path || length > strand.Path+4+0.1 {
			t.Errorf("%s: stretches of %.2f mm for a path of %.2f", c.assembly, length, strand.Path)
		}
	}
	a := r.Plan.Assembly("pair")
	e, err := studio.Exploded(l, a, r.Case.Options, Items(r, a))
	if err != nil || len(e.Stuck) > 0 {
		t.Errorf("stuck %v, error %v: a cable gives way", e.Stuck, err)
	}
}
