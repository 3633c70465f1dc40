package sequence_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/sequence"
	"plansheaf/design/trial"
)

// Heavy cubes come one by one on a bench, in random order, to random places of a grid.
// What keeps one out is the bench alone where only the row below it is free, it stands on
// other cubes' height above the bench, and no row of the lowest cell below it is free
// sideways. All of it follows by counting cells.
func TestRandomAssembliesOnABenchAgreeWithCounting(t *testing.T) {
	const side, edge = 4, 10
	rng := rand.New(rand.NewPCG(19, 35))
	blocked, slid, free := 0, 0, 0
	for range 60 {
		at := func(cell int) [3]int { return [3]int{cell % side, cell / side % side, cell / side / side} }
		last := rng.IntN(side*side*(side-1)) + side*side // comes last, over an empty column
		cells := slices.DeleteFunc(rng.Perm(side*side*side), func(cell int) bool { return cell <= last && cell%(side*side) == last%(side*side) })
		cells = append(cells[rng.IntN(6):], last)
		var holds, steps strings.Builder
		for i, cell := range cells {
			p := at(cell)
			fmt.Fprintf(&holds, "  c%d: {part: cube, at: [%d mm, %d mm, %d mm]}\n", i, edge*p[0], edge*p[1], edge*p[2])
			fmt.Fprintf(&steps, "  s%d: {title: S, adds: [c%d], text: T}\n", i, i)
		}
		rec := record(t, trial.Files{
			"parts/p.yaml":        fmt.Sprintf("cube: {title: Cube, made: bought, mass: 4 kg, shape: [{box: [%d mm, %d mm, %d mm]}]}\n", edge, edge, edge),
			"assemblies/rig.yaml": "title: Rig\nholds:\n" + holds.String() + "steps:\n" + steps.String(),
		})
		told := map[string]sequence.Kind{}
		for _, o := range rec.Obstructions {
			told[o.Name] = o.Kind
		}
		for i := range cells {
			from, low := at(cells[i]), side
			for _, cell := range cells[:i+1] {
				low = min(low, at(cell)[2])
			}
			open := func(from [3]int, axis, step int) bool {
				return freeCells(from, axis, step, cells[:i], at, side) == side
			}
			aside := func(from [3]int) bool {
				return open(from, 0, 1) || open(from, 0, -1) || open(from, 1, 1) || open(from, 1, -1)
			}
			bottom := [3]int{from[0], from[1], low}
			down, others := open(from, 2, -1), aside(from) || open(from, 2, 1)
			_, shut := told[fmt.Sprintf("c%d", i)]
			bench := shut && told[fmt.Sprintf("c%d", i)] == sequence.OnlyBench
			want := down && !others && from[2] > low && !aside(bottom)
			if bench != want || shut != (want || !down && !others) {
				t.Errorf("cube %d at %v over %d: shut out %v, by the bench %v, want %v (free down %v, else %v)", i, from, low, shut, bench, want, down, others)
			}
			switch {
			case want:
				blocked++
			case down && !others && from[2] > low:
				slid++
			default:
				free++
			}
		}
	}
	if blocked < 5 || slid < 5 || free < 500 {
		t.Errorf("%d blocked by the bench, %d slid out over it, %d other: too few to compare", blocked, slid, free)
	}
}

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
