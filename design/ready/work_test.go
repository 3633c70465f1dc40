package ready_test

import (
	"fmt"
	"sort"
	"testing"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/ready"
)

// work runs a ready calculation by itself with inputs as a plan would write them, and
// returns all its results.
func work(t *testing.T, c *ready.Calc, given map[string]string) map[string]quantity.Value {
	t.Helper()
	scope := bench{Values: formula.Values{}, c: c}
	for name, text := range given {
		in, found := c.Input(name)
		if !found {
			t.Fatalf("%s has no input %q", c.Name, name)
		}
		e, failed := formula.Parse(text)
		if failed != nil {
			t.Fatalf("%s: %v", name, failed)
		}
		v, failed := e.Value(formula.Values{})
		if failed != nil {
			t.Fatalf("%s: %v", name, failed)
		}
		if !v.Is(in.Dim) {
			t.Fatalf("%s is %s, %s is wanted", name, v.Dim.Article(), in.Dim.Article())
		}
		scope.Values[name] = v
	}
	results := map[string]quantity.Value{}
	for _, f := range c.Finds {
		v, err := scope.Lookup(f.Name)
		if err != nil {
			t.Errorf("%s.%s: %v", c.Name, f.Name, err)
			continue
		}
		if !v.Is(f.Dim) {
			t.Errorf("%s.%s is %s, and is said to be in %q", c.Name, f.Name, v.Dim.Article(), f.Unit)
		}
		results[f.Name] = v
	}
	for _, l := range c.Limits {
		held, failed := l.That.Eval(scope)
		if failed != nil || !held.IsTruth {
			t.Errorf("%s: the limit %s cannot be judged: %v", c.Name, l.That.Source(), failed)
		} else if !held.Truth {
			t.Errorf("%s: outside of its limit %s", c.Name, l.That.Source())
		}
	}
	return results
}

// bench answers a calculation's names: what is given, defaults, results, tables.
type bench struct {
	formula.Values // what has been worked out
	c              *ready.Calc
}

// Lookup works a name out, once.
func (b bench) Lookup(name string) (quantity.Value, error) {
	if v, known := b.Values[name]; known {
		return v, nil
	}
	var e *formula.Expr
	if in, found := b.c.Input(name); found {
		e = in.Default
	} else if f, found := b.c.Find(name); found {
		e = f.Is
	}
	if e == nil {
		return quantity.Value{}, fmt.Errorf("%q is not given", name)
	}
	v, failed := e.Value(b)
	if failed != nil {
		return v, failed
	}
	b.Values[name] = v
	return v, nil
}

// Call reads a table between its rows.
func (b bench) Call(name string, args []formula.Arg) (quantity.Value, error) {
	for _, t := range b.c.Tables {
		for column, title := range t.Data.Columns {
			if name != t.Name.Text+"."+title || len(args) != 1 {
				continue
			}
			x, err := args[0].Value()
			if err != nil {
				return x, err
			}
			return quantity.Number(between(t.Data, column, x.SI)), nil
		}
	}
	return quantity.Value{}, &formula.UnknownNameError{Name: name}
}

// between is the value of a column of plain numbers at x of the first.
func between(data *plan.Table, column int, x float64) float64 {
	i := sort.Search(len(data.Rows), func(i int) bool { return data.Rows[i][0] >= x })
	i = min(max(i, 1), len(data.Rows)-1)
	a, b := data.Rows[i-1], data.Rows[i]
	return a[column] + (b[column]-a[column])*(x-a[0])/(b[0]-a[0])
}
