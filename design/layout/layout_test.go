package layout_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

const stock = `slotted:
  title: Slotted bar
  section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9 mm, pocket: 16 mm}}
  material: aluminium_6063
bar:
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
  holes:
    crown: {face: top, at: [10 mm, 10 mm], tap: M8, depth: 20 mm}
    foot: {face: bottom, at: [10 mm, 10 mm], tap: M8, depth: 20 mm}
mast:
  title: Mast
  made: cut
  stock: slotted
  length: 100 mm
  lies: z
cap: {standard: ISO 4762 M8x25 - 8.8}
lid:
  title: Lid
  made: sheet
  stock: plate
  outline: {rectangle: [200 mm, 60 mm]}
  holes: {ends: {line: {from: [15 mm, 30 mm], step: [170 mm, 0 mm], count: 2}, for: M8}}
`

// stand is a plan with the parts above and the assemblies given.
func stand(assemblies map[string]string) trial.Files {
	files := trial.Files{
		"plan.yaml": `title: Stand
machine: stand
revision: A
motions: {stroke: {from: 5 mm, to: 60 mm}, swing: {from: 90 deg, to: 180 deg}, drop: {from: 0 mm, to: 50 mm}}
`,
		"stock.yaml":     stock,
		"parts/all.yaml": parts,
	}
	for name, text := range assemblies {
		files["assemblies/"+name+".yaml"] = text
	}
	return files
}

// laid places the machine of an assembly text beside the parts above, and returns
// where each instance's lowest corner came to stand.
func laid(t *testing.T, assemblies map[string]string) (corners map[string]solid.Vec, l *layout.Layout) {
	t.Helper()
	r := trial.Reckoning(t, stand(assemblies))
	l = layout.Of(r)
	corners = map[string]solid.Vec{}
	for _, in := range r.Tally().Instances {
		if at, ok := l.Placement(in); ok && in.Part != nil {
			corners[in.Path] = r.Part(in.Part.ID.Text).Solid.BoxUnder(at).Min
		}
	}
	trial.Clean(t, r.Findings())
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
			// The lid is turned by 90 degrees so that its second hole lies over the far
			// post: my (15, 30) to (185, 30) becomes (0, 170) in the plane. Turned about z
			// the lid's box is 60 by 200, its first hole 30 from the left, 15 from the front.
			name: "two pairs settle the turn",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  near: {part: post, at: [0 mm, 0 mm, 0 mm]}
  far:  {part: post, at: [0 mm, 170 mm, 0 mm]}
  lid:  {part: lid, seat: {mine: bottom, onto: near.top, line_up: [[ends.1, near.crown], [ends.2, far.crown]]}}
`},
			want: map[string]solid.Vec{"lid": {X: 10 - 30, Y: 10 - 15, Z: 100}},
		},
		{
			name: "spun by a quarter turn, right-handed about the face's normal",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  near: {part: post, at: [0 mm, 0 mm, 0 mm]}
  lid:  {part: lid, seat: {mine: bottom, onto: near.top, line_up: [ends.1, near.crown], spin: 90 deg}}
`},
			want: map[string]solid.Vec{"lid": {X: 10 - 30, Y: 10 - 15, Z: 100}},
		},
		{
			// Hung under the plate: the lid's top lies against the post's bottom.
			name: "seated from below",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  near: {part: post, at: [0 mm, 0 mm, 50 mm]}
  lid:  {part: lid, seat: {mine: top, onto: near.bottom, line_up: [ends.1, near.foot]}}
`},
			want: map[string]solid.Vec{"lid": {X: 10 - 15, Y: 10 - 30, Z: 40}},
		},
		{
			// y 90 deg takes the post's z to x; z 90 deg then turns about the post's own z,
			// which lies along x by now, so that it goes on lying there.
			name: "turns in their order, about the part's own axes",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  rail: {part: post, at: [5 mm, 6 mm, 7 mm], turn: [y 90 deg, z 90 deg]}
  pin:  {part: post, seat: {mine: bottom, onto: rail.top}}
`},
			// What sits on its top, at x = 105, goes on along x.
			want: map[string]solid.Vec{"rail": {X: 5, Y: 6, Z: 7}, "pin": {X: 105, Y: 6, Z: 7}},
		},
		{
			name: "motions where they rest: at 0, or at from",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  fixed: {part: post, at: [0 mm, 0 mm, 0 mm], moves: {along: z, by: -drop}}
  slid:  {part: post, at: [0 mm, 0 mm, 0 mm], moves: {along: x, by: 2 * stroke}}
  swung: {part: post, at: [0 mm, 0 mm, 0 mm], moves: {about: fixed.crown, by: swing}}
`},
			// A quarter turn about the upright axis through (10, 10) takes the post onto itself.
			want: map[string]solid.Vec{"fixed": {}, "slid": {X: 10}, "swung": {}},
		},
		{
			name: "a sub-assembly's parts move with it",
			assemblies: map[string]string{"stand": `title: Stand
holds:
  legs: {assembly: legs, at: [100 mm, 0 mm, 0 mm], turn: z 90 deg, moves: {along: y, by: stroke}, count: 2, step: [0 mm, 0 mm, 200 mm]}
`, "legs": `title: Legs
holds:
  left: {part: post, at: [30 mm, 50 mm, 18 mm]}
`},
			// (30..50, 50..70) turned by 90 degrees about the origin is (-70..-50, 30..50).
			want: map[string]solid.Vec{"legs.1.left": {X: 30, Y: 35, Z: 18}, "legs.2.left": {X: 30, Y: 35, Z: 218}},
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

// A place that depends on itself, or names nothing, is one finding at the words
// that say so, and no endless loop.
func TestPlacesThatCannotBe(t *testing.T) {
	cases := []struct{ name, holds, at, says string }{
		{name: "seats in a circle", holds: "  a: {part: lid, seat: {mine: bottom, onto: b.top}}\n  b: {part: lid, seat: {mine: bottom, onto: a.top}}\n", at: "{mine: bottom, onto: b.top}", says: "depends on itself"},
		{name: "seated on itself", holds: "  a: {part: lid, seat: {mine: bottom, onto: a.top}}\n", at: "{mine: bottom, onto: a.top}", says: "depends on itself"},
		{name: "turning about each other", holds: "  a: {part: post, at: [0 mm, 0 mm, 0 mm], moves: {about: b.crown, by: swing}}\n  b: {part: post, at: [0 mm, 0 mm, 0 mm], moves: {about: a.crown, by: swing}}\n", says: "depends on itself"},
		{name: "by a hole that its pattern lacks", holds: "  a: {part: lid, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: post, seat: {mine: bottom, onto: a.top, line_up: [crown, a.ends.7]}}\n", at: "a.ends.7", says: "no feature"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := stand(map[string]string{"stand": "title: Stand\nholds:\n" + c.holds})
			p, _ := trial.Read(t, files)
			l := layout.Of(reckon.New(p, reckon.Default(p), nil))
			found := l.Findings()
			if len(found) == 0 {
				t.Fatal("no finding")
			}
			if got := trial.Covered(files, found[0]); c.at != "" && got != c.at {
				t.Errorf("marks %q, want %q", got, c.at)
			}
			if !strings.Contains(found[0].Message, c.says) {
				t.Errorf("says %q, want %q in it", found[0].Message, c.says)
			}
		})
	}
}

// Where screws stand, in the axes of the assembly, by hand.
func TestScrews(t *testing.T) {
	down, up := solid.Vec{Z: -1}, solid.Vec{Z: 1}
	cases := []struct {
		name, holds, joint string
		want               []layout.Fastening // Seat and Dir alone
	}{
		{
			name: "plate on two posts, from above",
			holds: `  left:  {part: post, at: [30 mm, 50 mm, 18 mm]}
  right: {part: post, at: [200 mm, 50 mm, 18 mm]}
  lid:   {part: lid, seat: {mine: bottom, onto: left.top, line_up: [ends.1, left.crown]}}`,
			joint: "{screw: cap, through: [lid.ends, [left.crown, right.crown]]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 40, Y: 60, Z: 128}, Dir: down}, {Seat: solid.Vec{X: 210, Y: 60, Z: 128}, Dir: down}},
		},
		{
			name: "plate under a post, from below, though its holes are drilled from the top",
			holds: `  lid:  {part: lid, at: [0 mm, 0 mm, 0 mm]}
  left: {part: post, seat: {mine: bottom, onto: lid.top, line_up: [foot, lid.ends.1]}}`,
			joint: "{screw: cap, through: [lid.ends.1, left.foot]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 15, Y: 30}, Dir: up}},
		},
		{
			name: "two plates, from below",
			holds: `  low:  {part: lid, at: [0 mm, 0 mm, 0 mm]}
  high: {part: lid, at: [0 mm, 0 mm, 10 mm]}`,
			joint: "{screw: cap, through: [low.ends, high.ends]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 15, Y: 30}, Dir: up}, {Seat: solid.Vec{X: 185, Y: 30}, Dir: up}},
		},
		{
			// The lid stands upright before the mast's front (y = 0): x 90 deg takes its z
			// to -y, so its top looks to the front, its holes at x 15 and 185, z 30.
			name: "upright plate on a slot",
			holds: `  mast: {part: mast, at: [0 mm, 0 mm, 0 mm]}
  lid:  {part: lid, at: [0 mm, -10 mm, 20 mm], turn: x 90 deg}`,
			joint: "{screw: cap, through: [lid.ends.1, mast.slot_front]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 15, Y: -10, Z: 50}, Dir: solid.Vec{Y: 1}}},
		},
		{
			name: "upright plate on a slot, its holes drilled from the side of the slot",
			holds: `  mast: {part: mast, at: [0 mm, 0 mm, 0 mm]}
  lid:  {part: lid, at: [0 mm, -10 mm, 20 mm], turn: x -90 deg}`,
			joint: "{screw: cap, through: [lid.ends.1, mast.slot_front]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 15, Y: -10, Z: 50}, Dir: solid.Vec{Y: 1}}},
		},
		{
			name: "places written out",
			holds: `  left:  {part: post, at: [30 mm, 50 mm, 18 mm]}
  right: {part: post, at: [200 mm, 50 mm, 18 mm]}
  lid:   {part: lid, seat: {mine: bottom, onto: left.top, line_up: [ends.1, left.crown]}}`,
			joint: "{screw: cap, through: [lid.ends.1, left.crown], also: [[lid.ends.2, right.crown]]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 40, Y: 60, Z: 128}, Dir: down}, {Seat: solid.Vec{X: 210, Y: 60, Z: 128}, Dir: down}},
		},
		{
			name:  "one layer: into its hole",
			holds: "  left: {part: post, at: [0 mm, 0 mm, 0 mm]}",
			joint: "{screw: cap, through: [left.crown]}",
			want:  []layout.Fastening{{Seat: solid.Vec{X: 10, Y: 10, Z: 100}, Dir: down}},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, stand(map[string]string{"stand": "title: Stand\nholds:\n" + c.holds + "\njoints:\n  hold: " + c.joint + "\n"}))
			l := layout.Of(r)
			trial.Clean(t, l.Findings())
			a := r.Plan.Assembly("stand")
			got := l.Fastenings(a, a.Joint("hold"))
			if len(got) != len(c.want) {
				t.Fatalf("%d screws, want %d", len(got), len(c.want))
			}
			for i, want := range c.want {
				if !near(got[i].Seat, want.Seat) || !near(got[i].Dir, want.Dir) {
					t.Errorf("screw %d: head at %v along %v, want %v along %v", i+1, got[i].Seat, got[i].Dir, want.Seat, want.Dir)
				}
			}
			if n := r.JointPlaces(a, a.Joint("hold")); n != len(got) {
				t.Errorf("%d screws stand, the joint counts %d", len(got), n)
			}
			headsOutside(t, l, a, got)
		})
	}
}

// headsOutside checks the screws as pieces: the shank lies from the head along the
// screw's way, the head on the other side.
func headsOutside(t *testing.T, l *layout.Layout, a *plan.Assembly, screws []layout.Fastening) {
	t.Helper()
	var placed []layout.Piece
	for _, p := range l.Pieces(a) {
		if p.Joint != "" {
			placed = append(placed, p)
		}
	}
	if len(placed) != len(screws) {
		t.Fatalf("%d screws are pieces, want %d", len(placed), len(screws))
	}
	for i, s := range screws {
		box := placed[i].Solid.BoxUnder(placed[i].At)
		tip, top := s.Seat.Add(s.Dir.Mul(25)), s.Seat.Sub(s.Dir.Mul(8)) // M8x25, head 8 high: ISO 4762
		for _, end := range []solid.Vec{tip, top} {
			reach := math.Min(math.Abs(box.Min.Sub(end).Dot(s.Dir)), math.Abs(box.Max.Sub(end).Dot(s.Dir)))
			if reach > 0.2 { // the head's height has a tolerance
				t.Errorf("screw %d reaches from %v to %v, want an end at %v", i+1, box.Min, box.Max, end)
			}
		}
	}
}

// What is made of repeats has its pieces in each, screws included, and no use or
// joint of another assembly's name.
func TestPiecesOfRepeatedAssemblies(t *testing.T) {
	r := trial.Reckoning(t, stand(map[string]string{"stand": `title: Stand
holds:
  legs: {assembly: legs, at: [0 mm, 0 mm, 0 mm], count: 3, step: [0 mm, 0 mm, 200 mm]}
  none: {part: post, at: [0 mm, 0 mm, 0 mm], count: 0}
`, "legs": `title: Legs
holds:
  left: {part: post, at: [0 mm, 0 mm, 0 mm]}
joints:
  hold: {screw: cap, through: [left.crown]}
`}))
	pieces := layout.Of(r).Pieces(r.Plan.Assembly("stand"))
	var got []string
	for _, p := range pieces {
		got = append(got, p.Use+" "+p.Part.Part.ID.Text)
		if p.Joint != "" {
			t.Errorf("%s says joint %q, which is none of the stand's", p.Use, p.Joint)
		}
	}
	want := []string{"legs.1 post", "legs.1 cap", "legs.2 post", "legs.2 cap", "legs.3 post", "legs.3 cap"}
	if strings.Join(got, ", ") != strings.Join(want, ", ") {
		t.Errorf("pieces %v, want %v", got, want)
	}
}

// Two posts of 20 × 20 × 100, their outer sides 190 apart: the diagonal of the face
// that they span is that of 190 by 100.
func TestDiagonalAcrossTwoPosts(t *testing.T) {
	r := trial.Reckoning(t, stand(map[string]string{"stand": `title: Stand
holds:
  left: {part: post, at: [30 mm, 50 mm, 18 mm]}
  right: {part: post, at: [200 mm, 50 mm, 18 mm]}
`}))
	mm, ok := layout.Of(r).Diagonal(r.Plan.Assembly("stand"), "left", "right")
	if want := math.Hypot(190, 100); !ok || math.Abs(mm-want) > 1e-9 {
		t.Errorf("diagonal is %.3f mm (%t), want %.3f mm", mm, ok, want)
	}
	if _, ok := layout.Of(r).Diagonal(r.Plan.Assembly("stand"), "left", "middle"); ok {
		t.Error("a diagonal to something that is not there was measured")
	}
}
