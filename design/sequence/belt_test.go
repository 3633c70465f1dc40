package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// underRun is a screw below a run of a belt, or of a cable, that lies 42.5 to 57.5 above the
// ground: the short arm of its key reaches to 58 with the screw's head at 25.
func underRun(use string, aside float64) trial.Files {
	return trial.Files{
		"parts/p.yaml": `cap: {standard: ISO 4762 M6x16 - 8.8}
clamp: {title: Clamp, made: bought, shape: [{box: [40 mm, 40 mm, 9 mm]}], holes: {h: {at: [20 mm, 20 mm], for: M6}}}
frame: {title: Frame, made: bought, shape: [{box: [200 mm, 60 mm, 10 mm]}], holes: {h: {at: [100 mm, 25 mm], tap: M6}}}
pulley: {title: Pulley, made: bought, shape: [{cylinder: {d: 30.7 mm, l: 20 mm}}], has: {teeth: 20, pitch: 5 mm}}
belt: {title: Belt, made: bought, loop: {pitch: 5 mm, width: 15 mm, teeth: 84, thick: 3.6 mm}}
cable: {title: Cable, made: bought, strand: {d: 6 mm, length: 200 mm}}
`,
		"assemblies/rig.yaml": fmt.Sprintf(`title: Rig
holds:
  frame: {part: frame, at: [0 mm, 0 mm, 0 mm]}
  clamp: {part: clamp, at: [80 mm, 5 mm, 10 mm]}
  a: {part: pulley, at: [0 mm, %[2]g mm, 40 mm]}
  b: {part: pulley, at: [160 mm, %[2]g mm, 40 mm]}
  run: %[1]s
joints: {hold: {screw: cap, through: [clamp.h, frame.h]}}
steps:
  lay: {title: Lay, adds: [frame, clamp], text: T}
  lead: {title: Lead, adds: [a, b, run], text: T}
  fix: {title: Fix, fastens: [hold], text: T}
`, use, aside),
	}
}

// A belt stands in the way of a key like any part; a cable is pushed aside.
func TestBeltsAndCablesBeforeTools(t *testing.T) {
	const belt, cable = "{part: belt, around: [a, b]}", "{part: cable, from: a, to: b, via: [[100 mm, 25 mm, 50 mm]]}"
	for _, c := range []struct {
		name, use string
		aside     float64 // of the pulleys' corners, mm; the run lies 0.6 before them
		blocked   bool
	}{
		{name: "below the run of a belt", use: belt, aside: 25.6, blocked: true},
		{name: "far beside the run", use: belt, aside: 120},
		{name: "below a cable", use: cable, aside: 25.6},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := said(record(t, underRun(c.use, c.aside)))
			if c.blocked != (len(got) == 1 && strings.Contains(got[0], "by run since rig.lead latest rig.lay")) || !c.blocked && len(got) > 0 {
				t.Errorf("found %q", got)
			}
		})
	}
}
