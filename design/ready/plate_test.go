package ready_test

import (
	"math"
	"testing"

	"plansheaf/design/ready"
)

// The tables of rectangular plates against other methods: for the resting one the
// double sine series of Navier, for the held one the least energy of sixty-four trial
// shapes. The tables print three figures, not all of them rounded.
func TestPlateTables(t *testing.T) {
	rows := []struct {
		calc   string
		method func(long float64) (deflection, moment float64)
	}{
		{"rectangular_plate_resting", navier},
		{"rectangular_plate_held", ritz},
	}
	const share = 0.008
	for _, row := range rows {
		c, _ := ready.Named(row.calc)
		for _, at := range c.Tables[0].Data.Rows {
			deflection, moment := row.method(at[0])
			if math.Abs(at[1]/deflection-1) > share || math.Abs(at[2]/moment-1) > share {
				t.Errorf("%s, sides 1:%g: the table has %g and %g, the other method gives %.5f and %.4f", row.calc, at[0], at[1], at[2], deflection, moment)
			}
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

// ritz is the deflection in the middle of a held plate 1 wide and long long, for load
// and rigidity 1, and the moment in the middle of its longer edges, by the method of
// Ritz: shapes (1-x^2)^2 x^2i (1-y^2)^2 y^2j, whose sum has the least energy.
func ritz(long float64) (deflection, moment float64) {
	const n = 8
	a, b := 0.5, long/2
	flat, bent, mixed, load := shapes(n)
	k, f := make([][]float64, n*n), make([]float64, n*n)
	for p := range k {
		k[p] = make([]float64, n*n)
		for q := range k {
			i, j, l, m := p/n, p%n, q/n, q%n
			k[p][q] = bent[i][l]*flat[j][m]/(a*a*a*a) + flat[i][l]*bent[j][m]/(b*b*b*b) + (mixed[i][l]*mixed[m][j]+mixed[l][i]*mixed[j][m])/(a*a*b*b)
		}
		f[p] = load[p/n] * load[p%n]
	}
	solveBand(k, f, n*n)
	for i := range n {
		moment += 8 * f[i*n] / (a * a) // each shape's second derivative at the edge is 8
	}
	return f[0], moment
}

// shapes are the integrals from -1 to 1 of the products of the trial shapes, of their
// second derivatives, of these with the shapes, and of the shapes.
func shapes(n int) (flat, bent, mixed [][]float64, load []float64) {
	// A polynomial of even powers: its coefficients.
	shape := func(i int) []float64 {
		p := make([]float64, i+3)
		p[i], p[i+1], p[i+2] = 1, -2, 1
		return p
	}
	twice := func(p []float64) []float64 {
		d := make([]float64, len(p)-1)
		for k := range d {
			d[k] = p[k+1] * float64((2*k+2)*(2*k+1))
		}
		return d
	}
	product := func(p, q []float64) (sum float64) {
		for i, x := range p {
			for j, y := range q {
				sum += x * y * 2 / float64(2*(i+j)+1)
			}
		}
		return sum
	}
	for i := range n {
		row := make([][]float64, 3)
		for j := range n {
			row[0] = append(row[0], product(shape(i), shape(j)))
			row[1] = append(row[1], product(twice(shape(i)), twice(shape(j))))
			row[2] = append(row[2], product(twice(shape(i)), shape(j)))
		}
		flat, bent, mixed = append(flat, row[0]), append(bent, row[1]), append(mixed, row[2])
		load = append(load, product(shape(i), []float64{1}))
	}
	return flat, bent, mixed, load
}
