package check_test

import (
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// What is stretched, led and laid is checked at both ends of every motion, and the
// finding says at which.
func TestChecksAtTheEndsOfMotions(t *testing.T) {
	const lift = "lift: {from: 0 mm, to: 60 mm}"
	cases := []struct{ name, motion, holds, rule, says string }{
		{
			name: "a strut that the motion pulls too far", motion: lift,
			holds: "  low: {part: lug, at: [0 mm, 0 mm, 0 mm]}\n  high: {part: lug, at: [0 mm, 0 mm, 80 mm], moves: {along: z, by: lift}}\n  strut: {part: strut, between: {low: low.pin, high: high.pin}}\n",
			rule:  "telescope-out-of-reach", says: `with lift at 60 mm the places of "strut" are 140 mm apart, and it reaches 70 mm to 100 mm: 40 mm are missing`,
		},
		{
			name: "a strut that reaches to both ends", motion: "lift: {from: 0 mm, to: 20 mm}",
			holds: "  low: {part: lug, at: [0 mm, 0 mm, 0 mm]}\n  high: {part: lug, at: [0 mm, 0 mm, 80 mm], moves: {along: z, by: lift}}\n  strut: {part: strut, between: {low: low.pin, high: high.pin}}\n",
		},
		{
			name: "a cable that the motion tears off", motion: lift,
			holds: "  low: {part: lug, at: [0 mm, 0 mm, 0 mm]}\n  high: {part: lug, at: [0 mm, 0 mm, 80 mm], moves: {along: z, by: lift}}\n  lead: {part: lead, from: low, to: high}\n",
			rule:  "strand-too-short", says: `with lift at 60 mm "lead" is 100 mm long, and the straight path from place to place is 130 mm`,
		},
		{
			name: "a belt that a motion tensions", motion: "lift: {from: 0 mm, to: 5 mm}",
			holds: "  a: {part: pulley, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: pulley, at: [97 mm, 0 mm, 0 mm], moves: {along: x, by: lift}}\n  belt: {part: belt, around: [a, b]}\n",
		},
		{
			name: "a belt that stays loose", motion: "lift: {from: 0 mm, to: 5 mm}",
			holds: "  a: {part: pulley, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: pulley, at: [90 mm, 0 mm, 0 mm], moves: {along: x, by: lift}}\n  belt: {part: belt, around: [a, b]}\n",
			rule:  "belt-length-wrong", says: "20 mm longer than its path, which is 280 mm",
		},
		{
			name: "a pulley that the motion takes out of line", motion: "lift: {from: 0 mm, to: 5 mm}",
			holds: "  a: {part: pulley, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: pulley, at: [100 mm, 0 mm, 0 mm], moves: {along: z, by: lift}}\n  belt: {part: belt, around: [a, b]}\n",
			rule:  "belt-out-of-line", says: "with lift at 5 mm the belt runs 5 mm out of line",
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := trial.Plan(t, trial.Files{
				"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nmotions: {" + c.motion + "}\n",
				"parts/p.yaml": `lug: {title: Lug, made: bought, shape: [{box: [10 mm, 10 mm, 10 mm]}], holes: {pin: {face: front, at: [5 mm, 5 mm], bore: 4 mm}}}
strut:
  title: Strut
  made: bought
  telescopes: {closed: 70 mm, stroke: 30 mm, shapes: [rod]}
  shape: [{cylinder: {d: 20 mm, l: 60 mm}}, {cylinder: {d: 8 mm, l: 80 mm}, at: [6 mm, 6 mm, 0 mm], name: rod}]
  holes: {low: {face: front, at: [10 mm, 5 mm], bore: 4 mm, through: all}, high: {face: front, at: [10 mm, 75 mm], bore: 4 mm, through: all}}
lead: {title: Lead, made: bought, strand: {d: 2 mm, length: 100 mm}}
pulley: {title: Pulley, made: bought, shape: [{cylinder: {d: 30 mm, l: 20 mm}}], has: {teeth: 20, pitch: 5 mm}}
belt: {title: Belt, made: bought, loop: {pitch: 5 mm, width: 15 mm, teeth: 60, thick: 3 mm}}
`,
				"assemblies/rig.yaml": "title: Rig\nholds:\n" + c.holds,
			})
			var said []string
			for _, f := range check.Run(check.Out(p), nil) {
				if strings.HasPrefix(f.Rule, "belt-") || strings.HasPrefix(f.Rule, "strand-") || strings.HasPrefix(f.Rule, "telescope-") {
					said = append(said, f.Rule+": "+f.Message)
				}
			}
			switch {
			case c.rule == "" && len(said) > 0:
				t.Errorf("found %q", said)
			case c.rule != "" && (len(said) != 1 || !strings.HasPrefix(said[0], c.rule) || !strings.Contains(said[0], c.says)):
				t.Errorf("found %q, want %s: %s", said, c.rule, c.says)
			}
		})
	}
}
