package cutting

import "math"

// A program is a linear program: least cost of columns so that every row is met.
// It is solved by the revised simplex method with the inverse of the basis kept
// whole; the rows are few.
type program struct {
	need    []float64 // by row; rows from limits on may not go above it, those before not below
	limits  int
	columns []column

	basis   []int // column by row; ^row for a row's own slack
	inverse [][]float64
	amount  []float64 // of the basis
	in      map[int]bool
	pivots  int
}

// A column is one thing to do, what it costs and what it gives to which rows.
type column struct {
	cost  float64
	rows  []int
	gives []float64
}

// exact is what counts as nothing beside numbers about one.
const exact = 1e-9

// begin takes as basis a column for each row that must be reached, which gives one
// to that row alone, and the slacks of the limits.
func (lp *program) begin(first []int) {
	m := len(lp.need)
	lp.basis = make([]int, m)
	lp.in = map[int]bool{}
	for row := range lp.basis {
		if row < lp.limits {
			lp.basis[row] = first[row]
		} else {
			lp.basis[row] = ^row
		}
		lp.in[lp.basis[row]] = true
	}
	lp.invert()
}

// vector is a column written out; a slack takes from a row to be reached and adds to
// a limit.
func (lp *program) vector(c int) []float64 {
	v := make([]float64, len(lp.need))
	if c < 0 {
		row := ^c
		if v[row] = 1; row < lp.limits {
			v[row] = -1
		}
		return v
	}
	for i, row := range lp.columns[c].rows {
		v[row] += lp.columns[c].gives[i]
	}
	return v
}

func (lp *program) cost(c int) float64 {
	if c < 0 {
		return 0
	}
	return lp.columns[c].cost
}

// invert works the inverse of the basis out anew, by elimination with the greatest
// pivot. A basis that has become singular by rounding is left as it was.
func (lp *program) invert() {
	m := len(lp.need)
	work := make([][]float64, m)
	for row := range work {
		work[row] = make([]float64, 2*m)
		work[row][m+row] = 1
	}
	for col, c := range lp.basis {
		for row, v := range lp.vector(c) {
			work[row][col] = v
		}
	}
	for col := range m {
		pivot := col
		for row := col; row < m; row++ {
			if math.Abs(work[row][col]) > math.Abs(work[pivot][col]) {
				pivot = row
			}
		}
		if math.Abs(work[pivot][col]) < exact {
			return
		}
		work[col], work[pivot] = work[pivot], work[col]
		scale := 1 / work[col][col]
		for j := range work[col] {
			work[col][j] *= scale
		}
		for row := range work {
			if f := work[row][col]; row != col && f != 0 {
				for j := range work[row] {
					work[row][j] -= f * work[col][j]
				}
			}
		}
	}
	lp.inverse = make([][]float64, m)
	lp.amount = make([]float64, m)
	for row := range work {
		lp.inverse[row] = work[row][m:]
		for j, v := range lp.inverse[row] {
			lp.amount[row] += v * lp.need[j]
		}
	}
}

// prices are what one more of each row's need would cost.
func (lp *program) prices() []float64 {
	y := make([]float64, len(lp.need))
	for row, c := range lp.basis {
		if cost := lp.cost(c); cost != 0 {
			for j, v := range lp.inverse[row] {
				y[j] += cost * v
			}
		}
	}
	return y
}

// saving is how much a column lowers the cost, each.
func (lp *program) saving(c int, y []float64) float64 {
	if c < 0 {
		if ^c < lp.limits {
			return -y[^c]
		}
		return y[^c]
	}
	v := -lp.columns[c].cost
	for i, row := range lp.columns[c].rows {
		v += y[row] * lp.columns[c].gives[i]
	}
	return v
}

// patience is how many pivots in a row may change nothing before the first column
// that helps is taken instead of the best (Bland's rule, which cannot go in circles).
const patience = 40

// solve goes on until no column lowers the cost, or the pivots run out.
func (lp *program) solve(scale float64) (y []float64) {
	idle := 0
	for {
		y = lp.prices()
		enter, best := 0, exact*scale
		found := false
		for c := -len(lp.need); c < len(lp.columns); c++ {
			if lp.in[c] {
				continue
			}
			if s := lp.saving(c, y); s > best {
				enter, found = c, true
				if idle > patience {
					break
				}
				best = s
			}
		}
		if !found || lp.pivots > mostPivots {
			return y
		}
		if lp.pivot(enter) {
			idle = 0
		} else {
			idle++
		}
	}
}

const mostPivots = 400_000

// pivot takes a column into the basis and reports whether anything changed by it.
func (lp *program) pivot(enter int) bool {
	lp.pivots++
	m := len(lp.need)
	v := lp.vector(enter)
	d := make([]float64, m)
	for row := range d {
		for j, x := range v {
			if x != 0 {
				d[row] += lp.inverse[row][j] * x
			}
		}
	}
	leave, step := -1, math.Inf(1)
	for row := range d {
		if d[row] <= exact {
			continue
		}
		ratio := math.Max(0, lp.amount[row]) / d[row]
		if ratio < step-exact || ratio < step+exact && (leave < 0 || lp.basis[row] < lp.basis[leave]) {
			leave, step = row, ratio
		}
	}
	if leave < 0 { // cannot be: every column costs something
		lp.in[enter] = true
		return false
	}
	delete(lp.in, lp.basis[leave])
	lp.basis[leave], lp.in[enter] = enter, true
	if lp.pivots%64 == 0 {
		lp.invert()
		return step > exact
	}
	scale := 1 / d[leave]
	for j := range lp.inverse[leave] {
		lp.inverse[leave][j] *= scale
	}
	lp.amount[leave] = step
	for row := range d {
		if row == leave || d[row] == 0 {
			continue
		}
		for j, x := range lp.inverse[leave] {
			lp.inverse[row][j] -= d[row] * x
		}
		lp.amount[row] -= d[row] * step
	}
	return step > exact
}

// value is the cost of the present solution.
func (lp *program) value() float64 {
	sum := 0.0
	for row, c := range lp.basis {
		sum += lp.cost(c) * lp.amount[row]
	}
	return sum
}
