package clash_test

import (
	"math"
	"testing"

	"plansheaf/design/trial"
)

// A strut of a tube of 20 and a rod of 8 leans from an eye at (5, 5) to one at
// (95, 145 + lift), the closer to the upright the higher that is: its side comes to a
// post's lower right corner where the corner is a radius off the axis.
func TestTelescopeOnTheWay(t *testing.T) {
	// touch is where an axis so leaning passes a corner at a distance, by bisection.
	touch := func(x, z, r float64) float64 {
		off := func(lift float64) float64 {
			return ((z-5)*90 - (x-5)*(140+lift)) / math.Hypot(90, 140+lift)
		}
		low, high := 0.0, 80.0
		for range 60 {
			if middle := (low + high) / 2; off(middle) > r {
				low = middle
			} else {
				high = middle
			}
		}
		return low
	}
	for _, c := range []struct {
		name  string
		post  string  // its lowest corner
		first float64 // mm; 0 for never
	}{
		{name: "the tube meets it", post: "[21.8 mm, 10 mm, 81 mm]", first: touch(31.8, 81, 10)},
		{name: "the rod meets it", post: "[61.1 mm, 10 mm, 161.7 mm]", first: touch(71.1, 161.7, 4)},
		{name: "beside the rod, where the tube would meet it", post: "[57 mm, 10 mm, 174 mm]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := files(rig("low: {part: lug, at: [0 mm, 0 mm, 0 mm]}", "high: {part: lug, at: [90 mm, 0 mm, 140 mm], moves: {along: z, by: lift}}",
				"strut: {part: strut, between: {eye_low: low.pin, eye_high: high.pin}}", "post: {part: post, at: "+c.post+"}")).moving("  lift: {from: 0 mm, to: 80 mm, about: up}\n")
			f = f.With(trial.Files{"parts/strut.yaml": `strut:
  title: Strut
  made: bought
  telescopes: {closed: 160 mm, stroke: 100 mm, shapes: [rod]}
  shape:
    - {cylinder: {d: 20 mm, l: 150 mm}}
    - {cylinder: {d: 8 mm, l: 175 mm}, at: [6 mm, 6 mm, 5 mm], name: rod}
  holes:
    eye_low: {face: front, at: [10 mm, 10 mm], bore: 2 mm, through: all}
    eye_high: {face: front, at: [10 mm, 170 mm], bore: 3 mm, through: all}
lug: {title: Lug, made: bought, shape: [{box: [10 mm, 30 mm, 10 mm]}], holes: {pin: {face: front, at: [5 mm, 5 mm], bore: 4 mm, through: all}}}
`})
			tr := look(t, f).Travels[0]
			if c.first == 0 {
				if len(tr.Clashes) > 0 {
					t.Errorf("%+v", tr.Clashes)
				}
				return
			}
			if len(tr.Clashes) != 1 || tr.Clashes[0].A.Name() != "strut" || tr.Clashes[0].B.Name() != "post" {
				t.Fatalf("%+v", tr.Clashes)
			}
			// The corner goes 0.1 deep at most before it is told: some 0.6 of the lift.
			if first := tr.Clashes[0].First.SI * 1000; first < c.first-0.05 || first > c.first+0.7 {
				t.Errorf("first at %g, want %g", first, c.first)
			}
		})
	}
}
