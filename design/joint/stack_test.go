package joint_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/trial"
)

const stackStock = "slotted: {title: Slotted bar, section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9.2 mm, pocket: 16 mm}}, material: aluminium_6063}\n"

// plate is a part of 80 × 40 mm with holes.
func plate(id string, thick float64, holes, material string) string {
	return fmt.Sprintf("%s: {title: %s, made: machined, material: %s, shape: [{box: [80 mm, 40 mm, %g mm]}], holes: {%s}}\n", id, id, material, thick, holes)
}

// measured are the stacks of the joint "hold" of a rig with parts as given.
func measured(t testing.TB, parts, holds, hold string) ([]joint.Stack, *layout.Layout) {
	t.Helper()
	r := trial.Reckoning(t, trial.Files{
		"stock.yaml": stackStock, "parts/all.yaml": parts,
		"assemblies/rig.yaml": "title: Rig\nholds:\n" + holds + "\njoints:\n  hold: {" + hold + "}\n",
	})
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	a := r.Plan.Assembly("rig")
	return joint.Of(r, l).Stacks(a, a.Joint("hold")), l
}

func serving(places []joint.Stack) string {
	var words []string
	for _, f := range joint.Serving(places) {
		words = append(words, f.LengthText)
	}
	return strings.Join(words, " ")
}

// Lengths by hand. ISO 4762, ISO 7089 (M8: 1.6 mm), ISO 4032 (M8: 6.8 mm), pitch 1.25.
func TestStacks(t *testing.T) {
	const h = "h: {at: [20 mm, 20 mm], "
	slot := func(screw string) (string, string, string) {
		return "screw: {standard: ISO 4762 " + screw + " - 8.8}\nwasher: {standard: ISO 7089 8}\nnut: {title: N, made: bought, fastener: {nut: M8, slot: 8 mm, height: 6 mm}}\nbar: {title: Bar, made: cut, stock: slotted, length: 80 mm}\n" +
				plate("side", 10, h+"for: M8}", "steel_s235"), "  bar: {part: bar, at: [0 mm, 5 mm, 0 mm]}\n  side: {part: side, at: [0 mm, 0 mm, 30 mm]}",
			"screw: screw, under_head: [washer], through: [side.h, bar.slot_top], into: nut"
	}
	cases := []struct {
		name, parts, holds, hold string
		clamped, filled, past    float64
		least, floor             float64 // floor 0: nothing behind
		serves, sum              string
	}{
		{
			name:  "one plate, washer and nut",
			parts: "screw: {standard: ISO 4762 M8x20 - 8.8}\nwasher: {standard: ISO 7089 8}\nnut: {standard: ISO 4032 M8 - 8}\n" + plate("plate", 12, h+"for: M8}", "steel_s235"),
			holds: "  plate: {part: plate, at: [0 mm, 0 mm, 0 mm]}", hold: "screw: screw, under_head: [washer], through: [plate.h], into: nut",
			clamped: 13.6, filled: 6.4, past: -0.4, least: 22.9, serves: "25 30",
			sum: "1.6 mm washer, 12 mm plate, 6.8 mm nut, 2.5 mm for two turns showing",
		},
		{
			name:  "as far as it goes in a tapped hole, a tenth too short",
			parts: "screw: {standard: ISO 4762 M8x20 - 8.8}\n" + plate("lid", 12.1, h+"for: M8}", "steel_s235") + plate("base", 20, h+"tap: M8, depth: 15 mm}", "steel_s235"),
			holds: "  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 20 mm]}", hold: "screw: screw, through: [lid.h, base.h]",
			clamped: 12.1, filled: 7.9, past: -7.1, least: 20.1, floor: 27.1, serves: "25",
			sum: "12.1 mm lid, 8 mm of thread (1 × 8 mm in steel)",
		},
		{
			name:  "the same hole in aluminium wants one and a half diameters",
			parts: "screw: {standard: ISO 4762 M8x25 - 8.8}\n" + plate("lid", 12, h+"for: M8}", "steel_s235") + plate("base", 20, h+"tap: M8, depth: 15 mm}", "aluminium_6082"),
			holds: "  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 20 mm]}", hold: "screw: screw, through: [lid.h, base.h]",
			clamped: 12, filled: 13, past: -2, least: 24, floor: 27, serves: "25",
			sum: "12 mm lid, 12 mm of thread (1.5 × 8 mm in aluminium)",
		},
		{
			// A motor's face tapped 4.5 deep, its material not told: M3x10 through 6 mm.
			name:  "shallow thread in what is bought",
			parts: "screw: {standard: ISO 4762 M3x10 - 8.8}\n" + plate("lid", 6, h+"for: M3}", "steel_s235") + "motor: {title: M, made: bought, shape: [{box: [40 mm, 40 mm, 40 mm]}], holes: {h: {at: [20 mm, 20 mm], tap: M3, depth: 4.5 mm}}}\n",
			holds: "  motor: {part: motor, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 40 mm]}", hold: "screw: screw, through: [lid.h, motor.h]",
			clamped: 6, filled: 4, past: -0.5, least: 9, floor: 10.5, serves: "10",
			sum: "6 mm lid, 3 mm of thread (1 × 3 mm, its material not being known)",
		},
		{
			// The shank of M8x60 is 60 - 28 = 32 long (ISO 4762), so 30 in front of the thread
			// does not take it; of 45 and 50 the shanks are 17 and 22.
			name:  "shank that reaches the thread",
			parts: "screw: {standard: ISO 4762 M8x60 - 8.8}\n" + plate("lid", 30, h+"for: M8}", "steel_s235") + plate("base", 40, h+"tap: M8, depth: 35 mm}", "steel_s235"),
			holds: "  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 40 mm]}", hold: "screw: screw, through: [lid.h, base.h]",
			clamped: 30, filled: 30, past: -5, least: 38, floor: 65, serves: "40 45 50 55",
			sum: "30 mm lid, 8 mm of thread (1 × 8 mm in steel)",
		},
		{
			name:  "gap between the layers",
			parts: "screw: {standard: ISO 4762 M8x30 - 8.8}\n" + plate("lid", 10, h+"for: M8}", "steel_s235") + plate("base", 20, h+"tap: M8}", "steel_s235"),
			holds: "  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 22 mm]}", hold: "screw: screw, through: [lid.h, base.h]",
			clamped: 12, filled: 18, past: -2, least: 20, serves: "20 25 30 35 40",
			sum: "10 mm lid, 2 mm gap, 8 mm of thread (1 × 8 mm in steel)",
		},
		{
			// Head 4 deep in a counterbore: what is left of the lid is 8.
			name:  "head in a counterbore",
			parts: "screw: {standard: ISO 4762 M8x20 - 8.8}\n" + plate("lid", 12, h+"for: M8, counterbore: {d: 15 mm, depth: 4 mm}}", "steel_s235") + plate("base", 20, h+"tap: M8}", "steel_s235"),
			holds: "  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 20 mm]}", hold: "screw: screw, through: [lid.h, base.h]",
			clamped: 8, filled: 12, past: -8, least: 16, serves: "16 20 25 30 35",
			sum: "8 mm lid, 8 mm of thread (1 × 8 mm in steel)",
		},
	}
	for _, screw := range []struct {
		text         string
		filled, past float64
	}{{"M8x25", 6, 5.4}, {"M8x20", 6, 0.4}, {"M8x16", 2.4, -3.6}} {
		c := cases[0]
		c.name = "slot nut, " + screw.text
		c.parts, c.holds, c.hold = slot(screw.text)
		c.clamped, c.filled, c.past, c.least, c.floor, c.serves = 13.6, screw.filled, screw.past, 19.6, 20.8, "20"
		c.sum = "1.6 mm washer, 10 mm side, 2 mm lip of bar, 6 mm in the slot nut"
		cases = append(cases, c)
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			places, l := measured(t, c.parts, c.holds, c.hold)
			if len(places) != 1 {
				t.Fatalf("%d places", len(places))
			}
			s := &places[0]
			floor := c.floor
			if floor == 0 {
				floor = math.Inf(1)
			}
			for _, n := range []struct {
				what      string
				got, want float64
			}{{"clamped", s.Clamped(), c.clamped}, {"filled", s.Filled(), c.filled}, {"past", s.Past(), c.past}, {"least", s.Least(), c.least}, {"floor", s.Floor(), floor}} {
				if n.got != n.want && math.Abs(n.got-n.want) > 1e-6 {
					t.Errorf("%s is %g, want %g", n.what, n.got, n.want)
				}
			}
			if got := serving(places); got != c.serves {
				t.Errorf("lengths %q serve, want %q", got, c.serves)
			}
			if got := s.Sum(l); got != c.sum {
				t.Errorf("made up of %q, want %q", got, c.sum)
			}
		})
	}
}

// The same screw is right in four places and pierces a cover in two.
func TestEachPlaceIsMeasured(t *testing.T) {
	const six = "h: {grid: {from: [10 mm, 10 mm], step: [30 mm, 20 mm], count: [3, 2]}, "
	places, _ := measured(t, "screw: {standard: ISO 4762 M6x25 - 8.8}\n"+plate("lid", 8, six+"for: M6}", "steel_s235")+plate("base", 12, six+"tap: M6}", "steel_s235")+
		"cover: {title: Cover, made: machined, material: petg, shape: [{box: [20 mm, 40 mm, 5 mm]}]}\n",
		"  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  lid: {part: lid, at: [0 mm, 0 mm, 12 mm]}\n  cover: {part: cover, at: [60 mm, 0 mm, -8 mm]}", "screw: screw, through: [lid.h, base.h]")
	pierced := 0
	for i := range places {
		if s := &places[i]; s.Stop != nil {
			pierced++
			if s.Stop.Say != "cover" || math.Abs(s.Stop.At-23) > 1e-6 || s.Stop.Own || s.Judge(*s.Screw.Fastener) != joint.Stands {
				t.Errorf("place %d: stopped by %+v, want the cover at 23", s.Place, *s.Stop)
			}
		} else if s.Judge(*s.Screw.Fastener) != joint.Fits {
			t.Errorf("place %d does not serve", s.Place)
		}
	}
	if len(places) != 6 || pierced != 2 {
		t.Errorf("%d of %d places pierce the cover, want 2 of 6", pierced, len(places))
	}
}

// Stacks at random agree with adding up, and what stands behind is where it was put.
func TestRandomStacks(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	for n := 0; n < 40; n++ {
		one, two := 3+math.Round(rng.Float64()*300)/10, 3+math.Round(rng.Float64()*300)/10
		behind := 10 + math.Round(rng.Float64()*200)/10 // from the lower plate down
		aside := rng.Float64()*30 - 15                  // of the block behind, from the axis
		washers := rng.IntN(3)
		under := strings.TrimSuffix(strings.Repeat("washer, ", washers), ", ")
		parts := "screw: {standard: ISO 4762 M8x40 - 8.8}\nwasher: {standard: ISO 7089 8}\nnut: {standard: ISO 4032 M8 - 8}\n" +
			plate("one", one, "h: {at: [20 mm, 20 mm], for: M8}", "steel_s235") + plate("two", two, "h: {at: [20 mm, 20 mm], for: M8}", "steel_s235") +
			"block: {title: Block, made: machined, material: steel_s235, shape: [{box: [10 mm, 10 mm, 10 mm]}]}\n"
		holds := fmt.Sprintf("  two: {part: two, at: [0 mm, 0 mm, 0 mm]}\n  one: {part: one, at: [0 mm, 0 mm, %g mm]}\n  block: {part: block, at: [%g mm, 15 mm, %g mm]}", two, 20+aside-5, -behind-10)
		places, _ := measured(t, parts, holds, "screw: screw, under_head: ["+under+"], through: [one.h, two.h], into: nut")
		s := &places[0]
		stack := one + two + 1.6*float64(washers)
		if got, want := s.Least(), stack+6.8+2.5; math.Abs(got-want) > 1e-6 {
			t.Errorf("%g on %g with %d washers: least %g, want %g", one, two, washers, got, want)
		}
		// The block is 10 wide: it is in the way where it covers some of the shank, 8 wide; a
		// hair of it may go unseen.
		switch gap := math.Abs(aside) - 9; {
		case gap > 0 && s.Stop != nil:
			t.Errorf("block %g aside is met at %g", aside, s.Stop.At)
		case gap < -0.6 && (s.Stop == nil || math.Abs(s.Stop.At-(one+two+behind)) > 1e-6):
			t.Errorf("block %g aside and %g behind is not met: %+v", aside, behind, s.Stop)
		}
	}
}
