package ready_test

import (
	"math"
	"testing"

	"plansheaf/design/ready"
)

// Every beam is also bent by finite elements, which know nothing of the formulas:
// straight beam elements between equal nodes, E and I both one, one newton (or one
// newton for each millimetre) on 10 mm.
func TestBeamsAgainstElements(t *testing.T) {
	for _, row := range bent() {
		t.Run(row.calc, func(t *testing.T) {
			c, _ := ready.Named(row.calc)
			given := map[string]string{"load": "1 N", "line_load": "1 N/mm", "length": "10 mm", "modulus": "1 MPa", "inertia": "1 mm^4", "section_modulus": "1 mm^3"}
			for k, v := range row.given {
				given[k] = v
			}
			for k := range given {
				if _, found := c.Input(k); !found {
					delete(given, k)
				}
			}
			results := work(t, c, given)
			deflection, moment := bend(cells, length/cells, row.fixed, row.loads, row.from, row.to)
			name := row.overall
			share := 1e-4 // between two nodes
			if name == "" {
				name = "deflection"
			} else {
				share = 0.01 // that the formula says
			}
			if got := results[name].SI * 1000; math.Abs(got/deflection-1) > share {
				t.Errorf("%s = %g mm, elements give %g", name, got, deflection)
			}
			if got := results["moment"].SI * 1000; math.Abs(got/moment-1) > 1e-4 {
				t.Errorf("moment = %g N*mm, elements give %g", got, moment)
			}
		})
	}
}

// bentBeam is a beam of the library as elements see it.
type bentBeam struct {
	calc    string
	fixed   []int // degrees of freedom: twice the node its shift, one more its turn
	loads   map[int]float64
	from    int // the first node of an even load, to its end
	to      int
	given   map[string]string
	overall string // the result that is the greatest deflection
}

const (
	cells  = 200  // elements of a beam
	length = 10.0 // of a beam, mm
)

// bent are the beams with their supports and loads.
func bent() []bentBeam {
	at := func(x float64) int { return int(math.Round(x / length * cells)) }
	resting, held := []int{0, 2 * cells}, []int{0, 1, 2 * cells, 2*cells + 1}
	wall, propped := []int{0, 1}, []int{2 * cells, 2*cells + 1, 0} // the prop is the first node
	return []bentBeam{
		{calc: "cantilever_end_load", fixed: wall, loads: map[int]float64{cells: 1}},
		{calc: "cantilever_load_anywhere", fixed: wall, loads: map[int]float64{at(3): 1}, given: map[string]string{"distance": "3 mm"}},
		{calc: "cantilever_spread_load", fixed: wall, to: cells},
		{calc: "beam_centre_load", fixed: resting, loads: map[int]float64{cells / 2: 1}},
		{calc: "beam_load_anywhere", fixed: resting, loads: map[int]float64{at(3): 1}, given: map[string]string{"distance": "3 mm"}},
		{calc: "beam_load_anywhere", fixed: resting, loads: map[int]float64{at(8): 1}, given: map[string]string{"distance": "8 mm"}},
		{calc: "beam_spread_load", fixed: resting, to: cells},
		{calc: "beam_half_spread_load", fixed: resting, to: cells / 2, overall: "middle"},
		{calc: "beam_two_loads", fixed: resting, loads: map[int]float64{at(2): 1, at(8): 1}, given: map[string]string{"distance": "2 mm"}},
		{calc: "beam_held_centre_load", fixed: held, loads: map[int]float64{cells / 2: 1}},
		{calc: "beam_held_load_anywhere", fixed: held, loads: map[int]float64{at(3): 1}, given: map[string]string{"distance": "3 mm"}},
		{calc: "beam_held_load_anywhere", fixed: held, loads: map[int]float64{at(8): 1}, given: map[string]string{"distance": "8 mm"}},
		{calc: "beam_held_spread_load", fixed: held, to: cells},
		{calc: "propped_beam_centre_load", fixed: propped, loads: map[int]float64{cells / 2: 1}},
		{calc: "propped_beam_spread_load", fixed: propped, to: cells},
		{calc: "overhanging_beam", fixed: []int{0, 2 * at(8)}, loads: map[int]float64{cells: 1}, given: map[string]string{"length": "8 mm", "overhang": "2 mm"}},
	}
}

// bend returns the greatest deflection at a node and the greatest moment of a beam of
// elements h long, with some degrees of freedom fixed.
func bend(cells int, h float64, fixed []int, loads map[int]float64, from, to int) (deflection, moment float64) {
	n := 2 * (cells + 1)
	k, f := make([][]float64, n), make([]float64, n)
	for i := range k {
		k[i] = make([]float64, n)
	}
	element := [4][4]float64{{12, 6 * h, -12, 6 * h}, {6 * h, 4 * h * h, -6 * h, 2 * h * h}, {-12, -6 * h, 12, -6 * h}, {6 * h, 2 * h * h, -6 * h, 4 * h * h}}
	even := [4]float64{h / 2, h * h / 12, h / 2, -h * h / 12}
	for e := range cells {
		for i := range 4 {
			for j := range 4 {
				k[2*e+i][2*e+j] += element[i][j] / (h * h * h)
			}
			if e >= from && e < to {
				f[2*e+i] += even[i]
			}
		}
	}
	for node, force := range loads {
		f[2*node] += force
	}
	for _, d := range fixed {
		for j := range n {
			k[d][j], k[j][d] = 0, 0
		}
		k[d][d], f[d] = 1, 0
	}
	solveBand(k, f, 4)
	for e := range cells {
		deflection = math.Max(deflection, math.Abs(f[2*e+2]))
		for i, row := range [][4]float64{element[1], element[3]} {
			var m float64
			for j := range 4 {
				m += row[j] / (h * h * h) * f[2*e+j]
			}
			if e >= from && e < to {
				m -= even[2*i+1]
			}
			moment = math.Max(moment, math.Abs(m))
		}
	}
	return deflection, moment
}

// solveBand solves k x = f in place for a positive matrix of which only as many places
// from the diagonal on are not zero.
func solveBand(k [][]float64, f []float64, band int) {
	n := len(f)
	for i := range n {
		for r := i + 1; r < min(n, i+band); r++ {
			m := k[r][i] / k[i][i]
			for c := i; c < min(n, i+band); c++ {
				k[r][c] -= m * k[i][c]
			}
			f[r] -= m * f[i]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for c := i + 1; c < min(n, i+band); c++ {
			f[i] -= k[i][c] * f[c]
		}
		f[i] /= k[i][i]
	}
}
