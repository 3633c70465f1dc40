package ready_test

import (
	"math"
	"testing"

	"plansheaf/design/ready"
)

// The table of the resting plate against the double sine series of Navier, of which
// the table prints three figures.
func TestRestingPlateAgainstSeries(t *testing.T) {
	c, _ := ready.Named("rectangular_plate_resting")
	for _, row := range c.Tables[0].Data.Rows {
		deflection, moment := navier(row[0])
		if math.Abs(row[1]/deflection-1) > 0.005 || math.Abs(row[2]/moment-1) > 0.005 {
			t.Errorf("sides 1:%g: the table has %g and %g, the series gives %.5f and %.4f", row[0], row[1], row[2], deflection, moment)
		}
	}
}

// navier is the deflection in the middle of a plate 1 wide and long long, for load
// and rigidity 1, and the moment across the shorter way for a Poisson's ratio of 0.3.
func navier(long float64) (deflection, moment float64) {
	for m := 1; m < 200; m += 2 {
		for n := 1; n < 200; n += 2 {
			x, y := float64(m*m), float64(n*n)/(long*long)
			sign := 1.0
			if (m+n)/2%2 == 0 {
				sign = -1
			}
			w := sign * 16 / (math.Pow(math.Pi, 6) * float64(m*n) * (x + y) * (x + y))
			deflection += w
			moment += w * math.Pi * math.Pi * (x + 0.3*y)
		}
	}
	return deflection, moment
}

// A long plate that is held bends in its middle as a beam held at both ends does, a
// square one as Ritz' and other methods have it: 0.00126 and 0.0513.
func TestHeldPlateTable(t *testing.T) {
	c, _ := ready.Named("rectangular_plate_held")
	rows := c.Tables[0].Data.Rows
	beam := []float64{1. / 384, 1. / 12}
	for column := 1; column <= 2; column++ {
		for i := 1; i < len(rows); i++ {
			if rows[i][column] <= rows[i-1][column] {
				t.Errorf("column %d does not rise at row %d", column, i+1)
			}
		}
		last := rows[len(rows)-1][column]
		if limit := beam[column-1]; last > limit || last < 0.97*limit {
			t.Errorf("column %d ends at %g, a long plate has %g", column, last, limit)
		}
	}
}
