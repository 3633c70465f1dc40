package layout_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

// drive is a screw of 4 mm lead that turns while its nut, half an assembly, slides,
// and an arm that swings about it.
var drive = stand(map[string]string{
	"stand": `title: Stand
holds:
  screw: {part: post, at: [0 mm, 0 mm, 0 mm], moves: {about: axis, by: drop / 4 mm * 1 turn}}
  nut: {assembly: nut, at: [0 mm, 0 mm, 100 mm], moves: {along: z, by: -drop}}
  rider: {part: post, seat: {mine: bottom, onto: nut.lid.top, line_up: [foot, nut.lid.ends.1]}}
  arm: {part: lid, at: [-5 mm, -20 mm, 300 mm], moves: [{about: ends.1, by: swing - 90 deg}, {along: y, by: drop}]}
`,
	"nut": "title: Nut\nholds:\n  lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}\n",
})

// corner is the lowest corner of an instance.
func corner(t *testing.T, r *reckon.Reckoning, l *layout.Layout, path string) solid.Vec {
	t.Helper()
	for _, in := range r.Tally().Instances {
		if in.Path == path {
			at, ok := l.Placement(in)
			if !ok {
				t.Fatalf("%s has no place", path)
			}
			return r.Part(in.Part.ID.Text).Solid.BoxUnder(at).Min
		}
	}
	t.Fatalf("no %s", path)
	return solid.Vec{}
}

// The machine with its motions at rest, at both ends, and between: what slides, what
// turns, what is coupled by a formula, and what is seated on what moves.
func TestMotionsAnywhere(t *testing.T) {
	r := trial.Reckoning(t, drive)
	cases := []struct {
		name        string
		drop, swing float64 // mm, degrees
		want        map[string]solid.Vec
		turned      solid.Vec // where the screw's x goes
	}{
		// The post's foot is at (10, 10), the lid's first hole at (15, 30): the rider
		// stands at (5, 20), 10 over the nut's floor.
		{name: "from", drop: 0, swing: 90, turned: solid.Vec{X: 1}, want: map[string]solid.Vec{
			"nut.lid": {Z: 100}, "rider": {X: 5, Y: 20, Z: 110}, "arm": {X: -5, Y: -20, Z: 300},
		}},
		// The arm, 200 by 60 with its hole at (10, 10), after a quarter turn reaches
		// from -20 to 40 in x and from -5 to 195 in y; then slides.
		{name: "to", drop: 50, swing: 180, turned: solid.Vec{X: -1}, want: map[string]solid.Vec{
			"nut.lid": {Z: 50}, "rider": {X: 5, Y: 20, Z: 60}, "arm": {X: -20, Y: -5 + 50, Z: 300},
		}},
		{name: "between", drop: 9, swing: 90, turned: solid.Vec{Y: 1}, want: map[string]solid.Vec{
			"nut.lid": {Z: 91}, "rider": {X: 5, Y: 20, Z: 101}, "arm": {X: -5, Y: -11, Z: 300},
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			l, err := layout.At(r, map[string]quantity.Value{"drop": quantity.MM(c.drop), "swing": {SI: c.swing * math.Pi / 180, Dim: quantity.Angle}})
			if err != nil {
				t.Fatal(err)
			}
			trial.Clean(t, l.Findings())
			for path, want := range c.want {
				if got := corner(t, r, l, path); !near(got, want) {
					t.Errorf("%s stands at %v, want %v", path, got, want)
				}
			}
			for _, in := range r.Tally().Instances {
				if at, _ := l.Placement(in); in.Path == "screw" && !near(at.Direction(solid.Vec{X: 1}), c.turned) {
					t.Errorf("the screw's x points along %v, want %v", at.Direction(solid.Vec{X: 1}), c.turned)
				}
			}
		})
	}
	rest, err := layout.At(r, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"screw", "nut.lid", "rider", "arm"} {
		if a, b := corner(t, r, rest, path), corner(t, r, layout.Of(r), path); a != b {
			t.Errorf("%s rests at %v, and with no position given at %v", path, b, a)
		}
	}
}

// Positions that no motion can take are refused.
func TestPositionsOutside(t *testing.T) {
	r := trial.Reckoning(t, drive)
	cases := []struct {
		name, motion, says string
		at                 quantity.Value
	}{
		{name: "beyond", motion: "drop", at: quantity.MM(50.1), says: "not to 50.1 mm"},
		{name: "before", motion: "stroke", at: quantity.MM(0), says: "from 5 mm"},
		{name: "another kind", motion: "drop", at: quantity.Number(1), says: "not to 1"},
		{name: "no number", motion: "drop", at: quantity.Value{SI: math.NaN(), Dim: quantity.Length}, says: "drop"},
		{name: "no such motion", motion: "dorp", at: quantity.MM(1), says: `no motion "dorp"`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := layout.At(r, map[string]quantity.Value{c.motion: c.at})
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %q in it", err, c.says)
			}
		})
	}
}

// Square-on turns take the short way to the lowest corner; it comes to the same place
// as going over the body's faces.
func TestTurnedPartsStandByTheirLowestCorner(t *testing.T) {
	turns := []string{"x 90 deg", "x 180 deg", "y -90 deg", "z 270 deg", "[x 90 deg, z -90 deg]", "[y 90 deg, x 180 deg]", "x 30 deg", "[z 45 deg, x 90 deg]"}
	for _, turn := range turns {
		t.Run(turn, func(t *testing.T) {
			corners, _ := laid(t, map[string]string{"stand": "title: Stand\nholds:\n  lid: {part: lid, at: [7 mm, -8 mm, 9 mm], turn: " + turn + "}\n"})
			if at := corners["lid"]; !near(at, solid.Vec{X: 7, Y: -8, Z: 9}) {
				t.Errorf("the lowest corner stands at %v", at)
			}
		})
	}
}
