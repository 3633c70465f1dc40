package layout_test

import (
	"math"
	"testing"
	"testing/fstest"

	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/source"
)

const identity = `title: Stand
machine: stand
revision: A
date: 2026-01-01
license: CERN-OHL-S-2.0
language: en
units: metric
currency: EUR
`

const stock = `bar:
  title: Bar
  section: {square: {side: 20 mm}}
  material: steel_s235
plate:
  title: Plate
  sheet: 10 mm
  material: steel_s235
`

const parts = `post:
  title: Post
  made: cut
  stock: bar
  length: 100 mm
  lies: z
  holes: {crown: {face: top, at: [10 mm, 10 mm], tap: M8, depth: 20 mm}}
lid:
  title: Lid
  made: sheet
  stock: plate
  outline: {rectangle: [200 mm, 60 mm]}
  holes: {ends: {line: {from: [15 mm, 30 mm], step: [170 mm, 0 mm], count: 2}, for: M8}}
`

// laid places the machine of an assembly text beside the parts above, and returns
// where each instance's lowest corner came to stand.
func laid(t *testing.T, assemblies map[string]string) (corners map[string]solid.Vec, l *layout.Layout) {
	t.Helper()
	fsys := fstest.MapFS{
		"plan.yaml":      {Data: []byte(identity)},
		"stock.yaml":     {Data: []byte(stock)},
		"parts/all.yaml": {Data: []byte(parts)},
	}
	for name, text := range assemblies {
		fsys["assemblies/"+name+".yaml"] = &fstest.MapFile{Data: []byte(text)}
	}
	p, found, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
	}
	r := reckon.New(p, reckon.Default(p), nil)
	l = layout.Of(r)
	corners = map[string]solid.Vec{}
	for _, in := range r.Tally().Instances {
		if at, ok := l.Placement(in); ok && in.Part != nil {
			corners[in.Path] = r.Part(in.Part.ID.Text).Solid.BoxUnder(at).Min
		}
	}
	for _, f := range r.Findings() {
		t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
	}
	return corners, l
}

func near(a, b solid.Vec) bool {
	return math.Abs(a.X-b.X) < 1e-9 && math.Abs(a.Y-b.Y) < 1e-9 && math.Abs(a.Z-b.Z) < 1e-9
}

// The places follow from the sizes by hand: the lid's first hole (15, 30) comes
// over the crown of the left post (30 + 10, 50 + 10), so its corner stands at
// (25, 30), on top of the post at 18 + 100.
func TestPlaces(t *testing.T) {
	cases := []struct {
		name       string
		assemblies map[string]string
		want       map[string]solid.Vec
	}{
		{
			name: "at, count and step",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  posts: {part: post, at: [30 mm, 50 mm, 18 mm], count: 2, step: [170 mm, 0 mm, 0 mm]}
`},
			want: map[string]solid.Vec{"posts.1": {X: 30, Y: 50, Z: 18}, "posts.2": {X: 200, Y: 50, Z: 18}},
		},
		{
			name: "turned, its lowest corner comes to the place",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  rail: {part: post, at: [5 mm, 6 mm, 7 mm], turn: y 90 deg}
`},
			want: map[string]solid.Vec{"rail": {X: 5, Y: 6, Z: 7}},
		},
		{
			name: "seated with one pair",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  left: {part: post, at: [30 mm, 50 mm, 18 mm]}
  lid:  {part: lid, seat: {mine: bottom, onto: left.top, line_up: [ends.1, left.crown]}}
`},
			want: map[string]solid.Vec{"left": {X: 30, Y: 50, Z: 18}, "lid": {X: 25, Y: 30, Z: 118}},
		},
		{
			name: "seated with a gap through a sub-assembly",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  legs: {assembly: legs, at: [100 mm, 0 mm, 0 mm]}
  lid:  {part: lid, seat: {mine: bottom, onto: legs.left.top, line_up: [ends.1, legs.left.crown], gap: 2 mm}}
`, "legs": `title: Legs
holds:
  left: {part: post, at: [30 mm, 50 mm, 18 mm]}
`},
			want: map[string]solid.Vec{"legs.left": {X: 130, Y: 50, Z: 18}, "lid": {X: 125, Y: 30, Z: 120}},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, l := laid(t, c.assemblies)
			for _, f := range l.Findings() {
				t.Errorf("%s: %s", f.At, f.Message)
			}
			for path, want := range c.want {
				if at, ok := got[path]; !ok || !near(at, want) {
					t.Errorf("%s stands at %v, want %v", path, at, want)
				}
			}
		})
	}
}

func TestSeatsInACircleAreFound(t *testing.T) {
	_, l := laid(t, map[string]string{"stand": `title: Stand
holds:
  a: {part: lid, seat: {mine: bottom, onto: b.top}}
  b: {part: lid, seat: {mine: bottom, onto: a.top}}
`})
	if len(l.Findings()) == 0 {
		t.Error("two parts seated on each other gave no finding")
	}
}
