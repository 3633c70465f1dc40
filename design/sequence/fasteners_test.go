package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// joined is a plan with a pin, a rivet, a retaining ring, a clamp and wood screws.
func joined(roof string) trial.Files {
	return trial.Files{
		"parts/p.yaml": `pin: {standard: ISO 8734 4x16}
spring: {standard: ISO 8752 3x16}
rivet: {standard: ISO 15981 4x6}
ring: {standard: DIN 471 12}
wood: {standard: DIN 7997 4x25}
boxed: {title: Chipboard screw, made: bought, fastener: {wood_screw: 4 mm, length: 25 mm, outside: 8 mm, tool: bit TX 20}}
coach: {standard: DIN 571 6x30}
collar: {title: Collar, made: bought, shape: [{cylinder: {d: 28 mm, l: 11 mm}}], holes: {bore: {at: [14 mm, 14 mm], bore: 12 mm}}, fastener: {clamp: 12 mm, closes: 0.4 mm, tool: hex key 3 mm}}
shaft:
  title: Shaft
  made: bought
  shape:
    - {cylinder: {d: 12 mm, l: 60 mm}, name: body}
    - {tube: {d: 12 mm, bore: 11.5 mm, l: 1.1 mm}, at: [0 mm, 0 mm, 50 mm], cut: yes, name: groove}
top: {title: Top, made: bought, material: birch_plywood, shape: [{box: [80 mm, 40 mm, 12 mm]}], holes: {pin: {at: [10 mm, 10 mm], bore: 4 mm H7}, spring: {at: [10 mm, 30 mm], bore: 3 mm}, fix: {at: [30 mm, 20 mm], bore: 4.5 mm}, box: {at: [50 mm, 20 mm], bore: 4.5 mm}, coach: {at: [70 mm, 20 mm], bore: 6.5 mm}}}
base: {title: Base, made: bought, material: birch_plywood, shape: [{box: [80 mm, 40 mm, 30 mm]}], holes: {pin: {at: [10 mm, 10 mm], bore: 4 mm H7}, spring: {at: [10 mm, 30 mm], bore: 3 mm}}}
strap: {title: Strap, made: bought, shape: [{box: [20 mm, 20 mm, 1 mm]}], holes: {eye: {at: [10 mm, 10 mm], bore: 4.1 mm}}}
roof: {title: Roof, made: bought, shape: [{box: [20 mm, 20 mm, 2 mm]}]}
`,
		"assemblies/rig.yaml": fmt.Sprintf(`title: Rig
holds:
  base: {part: base, at: [0 mm, 0 mm, 0 mm]}
  top: {part: top, at: [0 mm, 0 mm, 30 mm]}
  shaft: {part: shaft, at: [108 mm, 8 mm, 0 mm]}
  collar: {part: collar, at: [100 mm, 0 mm, 10 mm]}
  low: {part: strap, at: [200 mm, 0 mm, 0 mm]}
  high: {part: strap, at: [200 mm, 0 mm, 1 mm]}
  roof: {part: roof, at: [200 mm, 0 mm, %s]}
joints:
  placed: {pin: pin, through: [top.pin, base.pin]}
  sprung: {pin: spring, through: [top.spring, base.spring]}
  screwed: {screw: wood, through: [top.fix, base.top]}
  boxed: {screw: boxed, through: [top.box, base.top]}
  coached: {screw: coach, through: [top.coach, base.top]}
  riveted: {rivet: rivet, through: [high.eye, low.eye]}
  stop: {ring: ring, into: shaft.groove}
  held: {grip: shaft.body, by: collar.bore}
steps:
  all: {title: All, adds: [roof, base, top, shaft, collar, low, high], fastens: [placed, sprung, screwed, boxed, coached, riveted, stop, held], text: As it says.}
`, roof),
	}
}

func TestToolsOfOtherFasteners(t *testing.T) {
	rec := record(t, joined("300 mm"))
	expect(t, rec)
	var got []string
	for _, tool := range rec.Tools() {
		got = append(got, strings.TrimSpace(tool.Kind+" "+tool.Size))
	}
	want := "hex key 3 mm, spanner 10 mm, pin punch 4 mm, pin punch 3 mm, screwdriver PZ 2, bit TX 20, rivet pliers 4 mm, retaining ring pliers A1, hammer"
	if strings.Join(got, ", ") != want {
		t.Errorf("tools %s\nwant %s", strings.Join(got, ", "), want)
	}
}

// The rivet's head is 1.7 mm high on straps of 2 mm; the nose of the pliers and their
// jaws take 80 mm above it, and their nose is drawn off upward.
func TestRivetPliersNeedRoom(t *testing.T) {
	expect(t, record(t, joined("110 mm")))
	rec := record(t, joined("60 mm"))
	if len(rec.Obstructions) != 1 || rec.Obstructions[0].Name != "riveted" || !strings.Contains(strings.Join(rec.Obstructions[0].Tried, "; "), "rivet pliers") {
		t.Errorf("found %v", said(rec))
	}
}
