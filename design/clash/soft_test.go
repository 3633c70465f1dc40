package clash_test

import (
	"math"
	"testing"

	"plansheaf/design/trial"
)

// A belt whose one pulley moves aside by 60 sweeps over a post that stands in the middle
// between both: before, the post is outside of the belt, afterwards within.
func TestBeltLedElsewhere(t *testing.T) {
	for _, c := range []struct {
		name, post string
		clashes    bool
	}{
		{name: "over a post", post: "[60 mm, 42 mm, 10 mm]", clashes: true},
		{name: "below a post", post: "[60 mm, 80 mm, 10 mm]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := files(rig(onBase, "deck: {part: base, at: [0 mm, 60 mm, 0 mm]}", "a: {part: pulley, at: [0 mm, 0 mm, 10 mm]}", "b: {part: pulley, at: [100 mm, 0 mm, 10 mm], moves: {along: y, by: travel}}",
				"belt: {part: belt, around: [a, b]}", "post: {part: post, at: "+c.post+"}")).moving("  travel: {from: 0 mm, to: 60 mm, about: aside}\n")
			f = trial.Files(f).With(trial.Files{"parts/belt.yaml": "pulley: {title: Pulley, made: bought, buy: any, shape: [{cylinder: {d: 30.7 mm, l: 20 mm}}], has: {teeth: 20, pitch: 5 mm}}\nbelt: {title: Belt, made: bought, buy: any, loop: {pitch: 5 mm, width: 15 mm, teeth: 64, thick: 3.6 mm}}\n"})
			tr := look(t, f).Travels[0]
			if !tr.Sampled {
				t.Error("not looked at in samples")
			}
			if !c.clashes {
				if len(tr.Clashes) > 0 {
					t.Errorf("%+v", tr.Clashes)
				}
				return
			}
			if len(tr.Clashes) != 1 || tr.Clashes[0].A.Name() != "belt" || tr.Clashes[0].B.Name() != "post" {
				t.Fatalf("%+v", tr.Clashes)
			}
			// The upper run rises by half of the way above the middle: it reaches the
			// post's lower side, some 7 higher, after some 14.
			if first := tr.Clashes[0].First.SI * 1000; math.Abs(first-14) > 5 {
				t.Errorf("first at %g", first)
			}
		})
	}
}
