package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// TestDetail compares with lengths and areas worked out by hand.
func TestDetail(t *testing.T) {
	hole := solid.Hole{Name: "h", At: []solid.Vec2{{X: 20, Y: 30}}, D: 8}
	plate := []Body{at(box(t, 100, 60, 10, hole), 0, 0, 0)}
	cases := []struct {
		name          string
		dir           Direction
		cut           Cut
		centre        picture.Point
		radius        float64
		visible, area float64
		arcs          int
	}{
		{name: "round the hole", dir: Top, centre: picture.Point{X: 20, Y: -30}, radius: 6, visible: 8 * math.Pi, arcs: 1},
		{name: "through the hole", dir: Top, centre: picture.Point{X: 20, Y: -26}, radius: 4 * math.Sqrt2, visible: 4 * math.Pi, arcs: 1, area: -1},
		{name: "at the corner", dir: Top, centre: picture.Point{}, radius: 5, visible: 10},
		{name: "where nothing is", dir: Top, centre: picture.Point{X: 60, Y: -30}, radius: 5},
		// In the section the wall of the hole stands at x = 16 and 24.
		{name: "corner of a section", dir: Front, cut: FullSection(-30), centre: picture.Point{}, radius: 5, visible: 10, area: math.Pi * 25 / 4},
		{name: "within the material", dir: Front, cut: FullSection(-30), centre: picture.Point{X: 60, Y: -5}, radius: 3, area: math.Pi * 9},
		{name: "across the hole", dir: Front, cut: FullSection(-30), centre: picture.Point{X: 16, Y: -5}, radius: 3, visible: 6, area: math.Pi * 9 / 2},
		{name: "all of it", dir: Front, cut: FullSection(-30), centre: picture.Point{X: 50, Y: -5}, radius: 300, visible: 240, area: 920},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var d *Drawing
			var regions []Region
			if c.cut.Steps != nil {
				var err error
				if d, regions, err = Section(plate, c.dir, c.cut, Options{VisibleOnly: true}); err != nil {
					t.Fatal(err)
				}
			} else {
				d = project(t, plate, c.dir, Options{VisibleOnly: true})
			}
			got, cut, err := Detail(d, regions, c.centre, c.radius)
			if err != nil {
				t.Fatal(err)
			}
			want := c.visible
			if c.area < 0 { // the part of the rim within 4√2 mm of a point 4 mm off its centre
				x := (4*math.Sqrt2*4*math.Sqrt2 - 16 - 16) / (2 * 4 * 4) // law of cosines
				want = 8 * (math.Pi - math.Acos(-x))
			}
			if math.Abs(got.Length(true)-want) > 1e-6 || len(arcs(got)) != c.arcs {
				t.Errorf("%.7f mm with %d arcs, want %.7f with %d", got.Length(true), len(arcs(got)), want, c.arcs)
			}
			sum := 0.0
			for _, r := range cut {
				sum += area(t, r.Outline)
			}
			if math.Abs(sum-math.Max(0, c.area)) > 1e-3 {
				t.Errorf("area %.5f mm², want %.5f", sum, c.area)
			}
		})
	}
	for _, r := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, _, err := Detail(&Drawing{}, nil, picture.Point{}, r); err == nil {
			t.Errorf("no error for a radius of %v", r)
		}
	}
}

// TestDetailWithinAndBeyond: what lies within a circle, and within it only, is
// there, to the length, whatever is drawn.
func TestDetailWithinAndBeyond(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 29))
		d := project(t, []Body{{Solid: randomSolid(r), At: solid.Stay}}, randomDirection(r), Options{})
		centre := d.Bounds().Centre().Plus(picture.Point{X: r.NormFloat64() * 10, Y: r.NormFloat64() * 10})
		radius := 1 + r.Float64()*20
		got, _, err := Detail(d, nil, centre, radius)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		const steps = 4000
		for _, l := range d.Lines {
			for _, c := range l.Curves {
				n := 0
				for i := range steps {
					if !part(c, (float64(i)+0.5)/steps, 1).startsBeyond(ring{centre, radius}) {
						n++
					}
				}
				switch n {
				case 0:
				case steps:
					want += c.Length()
				default: // arcs of ellipses run at no steady pace
					for i := range steps {
						p := part(c, float64(i)/steps, float64(i+1)/steps)
						if !part(c, (float64(i)+0.5)/steps, 1).startsBeyond(ring{centre, radius}) {
							from, to := p.Ends()
							want += from.Distance(to)
						}
					}
				}
			}
		}
		if g := got.Length(true) + got.Length(false); math.Abs(g-want) > 2e-3*want+1e-2 {
			t.Errorf("seed %d: %.4f mm within the circle, want %.4f", seed, g, want)
		}
		if b := got.Bounds(); !b.Empty() {
			for _, l := range got.Lines {
				for _, c := range l.Curves {
					for _, k := range []float64{0, 0.3, 1} {
						p, q := part(c, k, 1).Ends()
						if k == 1 {
							p = q
						}
						if p.Distance(centre) > radius+1e-6 {
							t.Errorf("seed %d: %v lies beyond the circle", seed, p)
						}
					}
				}
			}
		}
	}
}
