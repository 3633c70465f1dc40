package reckon

import (
	"fmt"
	"slices"
	"sort"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// smoothly is the word for a table that is read along a curve.
const smoothly = "smooth"

// tableLookup reads column at a value of the table's first column, which must rise:
// on straight lines between rows, or on a curve where the table says so. Beyond its
// ends the table says nothing, and no value is made up.
func (r *Reckoning) tableLookup(t plan.TableFile, column string, args []formula.Arg) (quantity.Value, error) {
	none := quantity.Value{}
	if t.Data == nil {
		return none, errNoted
	}
	at := slices.Index(t.Data.Columns, column)
	if at < 0 {
		return none, &formula.UnknownNameError{Name: t.Name.Text + "." + column, Nearest: r.nearestTo(column, slices.Clone(t.Data.Columns))}
	}
	if len(args) != 1 {
		return none, fmt.Errorf("%s.%s takes one value, the %s", t.Name.Text, column, t.Data.Columns[0])
	}
	if err := r.shapes.rises(t); err != nil {
		return none, err
	}
	x, err := args[0].Value()
	if err != nil {
		return none, err
	}
	unit, err := quantity.ParseUnit(t.Data.Units[0])
	if err != nil {
		return none, err
	}
	if !x.Is(unit.Dim) {
		return none, fmt.Errorf("%s.%s is looked up by %s in %s, this is %s", t.Name.Text, column, t.Data.Columns[0], t.Data.Units[0], x.Dim.Article())
	}
	number, err := x.In(t.Data.Units[0])
	if err != nil {
		return none, err
	}
	y, err := between(t, at, number)
	if err != nil {
		return none, err
	}
	return quantity.New(y, t.Data.Units[at])
}

// rises is an error where a table's first column does not rise from row to row. A
// table is looked through once.
func (s *Shapes) rises(t plan.TableFile) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	at, known := s.falls[t.Data]
	if !known {
		for i := 1; i < len(t.Data.Rows) && at == 0; i++ {
			if t.Data.Rows[i][0] <= t.Data.Rows[i-1][0] {
				at = i + 1
			}
		}
		s.falls[t.Data] = at
	}
	switch {
	case at > 0:
		return fmt.Errorf("table %s: column %s must rise from row to row, and does not at row %d", t.Name.Text, t.Data.Columns[0], at)
	case len(t.Data.Rows) < 2:
		return fmt.Errorf("table %s has fewer than two rows", t.Name.Text)
	}
	return nil
}

// An outsideError says within which values of its first column a table holds.
type outsideError struct {
	table     plan.TableFile
	low, high float64
}

func (e *outsideError) Error() string {
	return fmt.Sprintf("table %s runs from %s to %s and says nothing beyond", e.table.Name.Text, e.text(e.low), e.text(e.high))
}

func (e *outsideError) text(x float64) string {
	v, err := quantity.New(x, e.table.Data.Units[0])
	if err != nil {
		return fmt.Sprint(x)
	}
	text, err := quantity.TextIn(v, e.table.Data.Units[0])
	if err != nil {
		return fmt.Sprint(x)
	}
	return text
}

// Unwrap tells that there is no value, for solve to look for one elsewhere.
func (e *outsideError) Unwrap() error { return quantity.ErrUndefined }

// Remedy says what to do where a table ends.
func (e *outsideError) Remedy() string {
	return "extend the table by rows that were measured, or keep within it"
}

// between is the value of a column at x of the first, both in the columns' units.
func between(t plan.TableFile, column int, x float64) (float64, error) {
	rows := t.Data.Rows
	first, last := rows[0][0], rows[len(rows)-1][0]
	if slack := endSlack * max(last-first, last, -first); x < first && x >= first-slack {
		x = first
	} else if x > last && x <= last+slack {
		x = last
	}
	if !(x >= first && x <= last) { // not a number is outside, too
		return 0, &outsideError{t, first, last}
	}
	i := max(1, sort.Search(len(rows), func(i int) bool { return rows[i][0] >= x }))
	a, b := rows[i-1], rows[i]
	h := b[0] - a[0]
	part := (x - a[0]) / h
	if t.Between.Text != smoothly {
		return a[column] + part*(b[column]-a[column]), nil
	}
	return hermite(a[column], b[column], h*slopeAt(rows, column, i-1), h*slopeAt(rows, column, i), part), nil
}

// endSlack is how far, relatively, a value may lie beyond a table's end for the
// rounding of units.
const endSlack = 1e-12

// hermite is the cubic from a to b over a length of 1 that leaves with the slope p
// and arrives with q.
func hermite(a, b, p, q, part float64) float64 {
	rest := 1 - part
	return a*(1+2*part)*rest*rest + b*part*part*(3-2*part) + p*part*rest*rest - q*part*part*rest
}

// slopeAt is the slope of the smooth curve at row i: between rows the weighted
// harmonic mean of the slopes to either side, so that the curve rises and falls only
// as the rows do and is level where they turn round; at an end that of the parabola
// through three rows, held back where it would overshoot.
// Source: F. N. Fritsch and R. E. Carlson, Monotone Piecewise Cubic Interpolation,
// SIAM J. Numer. Anal. 17 (1980); means after F. N. Fritsch and J. Butland, SIAM J.
// Sci. Stat. Comput. 5 (1984).
func slopeAt(rows [][]float64, column, i int) float64 {
	step := func(i int) (h, slope float64) {
		h = rows[i+1][0] - rows[i][0]
		return h, (rows[i+1][column] - rows[i][column]) / h
	}
	last := len(rows) - 1
	switch {
	case last == 1:
		_, slope := step(0)
		return slope
	case i == 0:
		h, near := step(0)
		k, far := step(1)
		return endSlope(h, near, k, far)
	case i == last:
		h, near := step(last - 1)
		k, far := step(last - 2)
		return endSlope(h, near, k, far)
	}
	h, before := step(i - 1)
	k, after := step(i)
	if !(before*after > 0) {
		return 0
	}
	left, right := 2*k+h, k+2*h
	return (left + right) / (left/before + right/after)
}

// endSlope is the slope at an end next to a step of length h and slope near, beyond
// which lies one of length k and slope far.
func endSlope(h, near, k, far float64) float64 {
	slope := ((2*h+k)*near - h*far) / (h + k)
	switch {
	case !(slope*near > 0):
		return 0
	case !(near*far > 0) && slope*slope > 9*near*near:
		return 3 * near
	}
	return slope
}
