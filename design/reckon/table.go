package reckon

import (
	"fmt"
	"slices"
	"sort"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// tableLookup interpolates column linearly over the table's first column, which
// must rise. Beyond its ends the table says nothing, and no value is made up. The
// argument's spread carries over by the slope where it stands.
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
	x, err := args[0].Value()
	if err != nil {
		return none, err
	}
	zero, one, err := unitSteps(t.Data.Units[0])
	if err != nil {
		return none, err
	}
	if !x.Is(one.Dim) {
		return none, fmt.Errorf("%s.%s is looked up by %s in %s, this is %s", t.Name.Text, column, t.Data.Columns[0], t.Data.Units[0], x.Dim.Article())
	}
	number, err := x.In(t.Data.Units[0])
	if err != nil {
		return none, err
	}
	y, slope, err := interpolate(t, at, number)
	if err != nil {
		return none, err
	}
	result, err := quantity.New(y, t.Data.Units[at])
	if err != nil {
		return none, err
	}
	from, to, err := unitSteps(t.Data.Units[at])
	if err != nil || !x.HasSpread() {
		return result, err
	}
	// Degrees Celsius do not begin at zero kelvin, so a unit is a difference.
	rise := slope * (to.SI - from.SI) / (one.SI - zero.SI)
	result.Minus, result.Plus = x.Minus*rise, x.Plus*rise
	if rise < 0 {
		result.Minus, result.Plus = -x.Plus*rise, -x.Minus*rise
	}
	return result, nil
}

// unitSteps are 0 and 1 of a unit.
func unitSteps(unit string) (zero, one quantity.Value, err error) {
	if zero, err = quantity.New(0, unit); err != nil {
		return zero, one, err
	}
	one, err = quantity.New(1, unit)
	return zero, one, err
}

// interpolate is the value of a column at x of the first, and the slope there,
// both in the columns' units.
func interpolate(t plan.TableFile, column int, x float64) (y, slope float64, err error) {
	rows := t.Data.Rows
	if len(rows) < 2 {
		return 0, 0, fmt.Errorf("table %s has fewer than two rows", t.Name.Text)
	}
	for i := 1; i < len(rows); i++ {
		if rows[i][0] <= rows[i-1][0] {
			return 0, 0, fmt.Errorf("table %s: column %s must rise from row to row, and does not at row %d", t.Name.Text, t.Data.Columns[0], i+1)
		}
	}
	first, last := rows[0][0], rows[len(rows)-1][0]
	if !(x >= first && x <= last) { // not a number is outside, too
		return 0, 0, fmt.Errorf("table %s runs from %g to %g %s, and %g lies outside", t.Name.Text, first, last, t.Data.Units[0], x)
	}
	i := sort.Search(len(rows), func(i int) bool { return rows[i][0] >= x })
	i = max(i, 1)
	a, b := rows[i-1], rows[i]
	slope = (b[column] - a[column]) / (b[0] - a[0])
	return a[column] + slope*(x-a[0]), slope, nil
}
