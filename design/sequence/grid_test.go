package sequence_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/sequence"
	"plansheaf/design/trial"
)

// Cubes come one by one, in random order, to random places of a grid. A cube has a way
// in when none of those before it lies in one of its six rows; else it gets as far as
// the nearest one in the row that is freest. Both follow by counting cells.
func TestRandomAssembliesAgreeWithCounting(t *testing.T) {
	const side, cubes, edge = 5, 118, 10
	rng := rand.New(rand.NewPCG(20, 26))
	seen := map[sequence.Kind]int{}
	for range 6 {
		cells := rng.Perm(side * side * side)[:cubes]
		at := func(cell int) [3]int { return [3]int{cell % side, cell / side % side, cell / side / side} }
		var holds, steps strings.Builder
		for i, cell := range cells {
			p := at(cell)
			fmt.Fprintf(&holds, "  c%d: {part: cube, at: [%d mm, %d mm, %d mm]}\n", i, edge*p[0], edge*p[1], edge*p[2])
			fmt.Fprintf(&steps, "  s%d: {title: S, adds: [c%d], text: T}\n", i, i)
		}
		rec := record(t, trial.Files{
			"parts/p.yaml":        fmt.Sprintf("cube: {title: Cube, made: bought, shape: [{box: [%d mm, %d mm, %d mm]}]}\n", edge, edge, edge),
			"assemblies/rig.yaml": "title: Rig\nholds:\n" + holds.String() + "steps:\n" + steps.String(),
		})
		got := map[string]sequence.Kind{}
		for _, o := range rec.Obstructions {
			got[o.Name] = o.Kind
		}
		for i := range cells {
			name := fmt.Sprintf("c%d", i)
			best := -1 // free cells in the freest row; side: all of them
			for axis := range 3 {
				for _, step := range []int{1, -1} {
					best = max(best, freeCells(at(cells[i]), axis, step, cells[:i], at, side))
				}
			}
			kind, blocked := got[name]
			switch {
			case best == side && blocked:
				t.Errorf("%s is told shut out (%d), and has a free row", name, kind)
			case best < side && !blocked:
				t.Errorf("%s has no free row, and is told free", name)
			case best == 0 && kind != sequence.PartShutOut, best > 0 && best < side && kind != sequence.PartMeets:
				t.Errorf("%s gets %d cells far, and is told %d", name, best, kind)
			}
			if blocked {
				seen[kind]++
			}
		}
	}
	if seen[sequence.PartMeets] == 0 || seen[sequence.PartShutOut] == 0 {
		t.Errorf("shut out were %v: too few to compare", seen)
	}
}

// freeCells counts the empty cells before the nearest of some cubes in a row; side
// where the row is empty.
func freeCells(from [3]int, axis, step int, cubes []int, at func(int) [3]int, side int) int {
	for n := 0; ; n++ {
		from[axis] += step
		if from[axis] < 0 || from[axis] >= side {
			return side
		}
		for _, cell := range cubes {
			if at(cell) == from {
				return n
			}
		}
	}
}
