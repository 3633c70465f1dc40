package reckon_test

import (
	"fmt"
	"math"
	"testing"

	"plansheaf/design/trial"
)

// Walls and closed layers of a block follow from its faces: 20 × 20 × 20 mm has 1600 mm²
// upright and 800 mm² level, a block of 10 × 20 × 40 mm by the face that lies down.
func TestPrintedMass(t *testing.T) {
	const petg = 1270e-9 // kg/mm³, as the table of materials has it
	cases := []struct {
		name, shape, print string
		more               string
		want               float64 // kilograms
	}{
		{name: "full where nothing is said", shape: "box: [20 mm, 20 mm, 20 mm]", print: "face: bottom", want: 8000 * petg},
		{name: "walls, layers and infill", shape: "box: [20 mm, 20 mm, 20 mm]", print: "face: bottom, walls: 3, infill: 20 %",
			want: petg * (2800 + 0.2*5200)}, // 3 × 0.45 × 1600 + 4 × 0.2 × 800
		{name: "as set", shape: "box: [20 mm, 20 mm, 20 mm]", print: "face: bottom, walls: 2, infill: 10 %, nozzle: 0.6 mm, layer: 0.3 mm, caps: 3",
			want: petg * (2880 + 0.1*5120)}, // 2 × 0.675 × 1600 + 3 × 0.3 × 800
		{name: "lying on its side", shape: "box: [10 mm, 20 mm, 40 mm]", print: "face: left, walls: 2, infill: 0 %",
			want: petg * (2*0.45*1200 + 4*0.2*1600)},
		{name: "standing", shape: "box: [10 mm, 20 mm, 40 mm]", print: "face: bottom, walls: 2, infill: 0 %",
			want: petg * (2*0.45*2400 + 4*0.2*400)},
		{name: "never more than the part", shape: "box: [20 mm, 20 mm, 1 mm]", print: "face: bottom, walls: 6, infill: 20 %", want: 400 * petg},
		{name: "as weighed", shape: "box: [20 mm, 20 mm, 20 mm]", print: "face: bottom, walls: 3, infill: 20 %, mass: 4.9 g", want: 0.0049},
		{name: "the part's own mass first", shape: "box: [20 mm, 20 mm, 20 mm]", print: "face: bottom, mass: 4.9 g", more: ", mass: 7 g", want: 0.007},
		// π × 10 × 30 upright, 2 × π × 25 level.
		{name: "round", shape: "cylinder: {d: 10 mm, l: 30 mm}", print: "face: bottom, walls: 2, infill: 0 %",
			want: petg * (0.9*math.Pi*300 + 0.8*math.Pi*50)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"parts/a.yaml":        fmt.Sprintf("p: {title: P, made: printed, material: petg, shape: [{%s}], print: {%s}%s}\n", c.shape, c.print, c.more),
				"assemblies/rig.yaml": "title: Rig\nholds: {p: {part: p, at: [0 mm, 0 mm, 0 mm]}}\n",
			})
			p := r.Part("p")
			trial.Clean(t, r.Findings())
			// The round one's triangles stray by 0.05 mm, one in a hundred of its radius.
			if !p.Weighed || math.Abs(p.Mass-c.want) > 0.01*c.want {
				t.Errorf("%.5f g, want %.5f g", p.Mass*1000, c.want*1000)
			}
		})
	}
}
