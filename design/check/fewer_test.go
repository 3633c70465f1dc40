package check_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/source/fixture"
)

// Five lengths of M5 where three would do. By hand: a plate on steel tapped 12 deep takes
// screws from its thickness + 5 (one diameter in steel) to its thickness + 12 less half a
// turn: 10, 12 and 16 under 5 mm, 20 and 25 under 15 mm, 35 and 40 under 30 mm.
func TestFiveLengthsWhereThreeWouldDo(t *testing.T) {
	fsys := func(screws ...int) fstest.MapFS {
		var parts, holds, joints strings.Builder
		var adds, fastens []string
		for _, long := range []int{10, 16, 20, 25, 35} {
			fmt.Fprintf(&parts, "m5x%d: {standard: ISO 4762 M5x%d - 8.8, buy: any}\n", long, long)
		}
		parts.WriteString("base: {title: Base, made: machined, material: steel_s235, shape: [{box: [200 mm, 40 mm, 20 mm]}], holes: {h: {line: {from: [20 mm, 20 mm], step: [40 mm, 0 mm], count: 5}, tap: M5, depth: 12 mm}}}\n")
		for _, thick := range []int{5, 15, 30} {
			fmt.Fprintf(&parts, "plate_%d: {title: Plate of %d mm, made: machined, material: steel_s235, shape: [{box: [40 mm, 40 mm, %d mm]}], holes: {h: {at: [20 mm, 20 mm], for: M5}}}\n", thick, thick, thick)
		}
		for i, thick := range []int{5, 5, 15, 15, 30} {
			fmt.Fprintf(&holds, "  p%d: {part: plate_%d, at: [%d mm, 0 mm, 20 mm]}\n", i, thick, 40*i)
			fmt.Fprintf(&joints, "  j%d: {screw: m5x%d, through: [p%d.h, base.h.%d]}\n", i, screws[i], i, i+1)
			adds, fastens = append(adds, fmt.Sprintf("p%d", i)), append(fastens, fmt.Sprintf("j%d", i))
		}
		files := map[string]string{
			"plan.yaml":           "title: Rig\nmachine: rig\nrevision: A\nlicense: CERN-OHL-S-2.0\ncurrency: EUR\n",
			"parts/p.yaml":        parts.String(),
			"assemblies/rig.yaml": "title: Rig\nholds:\n  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n" + holds.String() + "joints:\n" + joints.String() + "steps:\n  join: {title: Join, adds: [base, " + strings.Join(adds, ", ") + "], fastens: [" + strings.Join(fastens, ", ") + "], text: Join them., time: 1 min}\n",
		}
		out := fstest.MapFS{}
		for name, text := range files {
			out[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
		}
		return out
	}
	told := func(screws ...int) (messages []string) {
		for _, f := range run(t, fixture.Complete(fsys(screws...))) {
			switch f.Rule {
			case "screws-could-be-fewer":
				messages = append(messages, f.Message)
			case "fastener-never-used", "revision-not-in-history", "mass-unknown":
			default:
				t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
			}
		}
		return messages
	}
	const want = "comes in 5 lengths (10 mm, 16 mm, 20 mm, 25 mm, 35 mm), where 3 would do: 10 mm, 20 mm, 35 mm"
	if got := told(10, 16, 20, 25, 35); len(got) != 1 || !strings.Contains(got[0], want) {
		t.Errorf("told %q, want %q", got, want)
	}
	if got := told(10, 10, 20, 20, 35); len(got) != 0 {
		t.Errorf("told of three lengths: %q", got)
	}
}
