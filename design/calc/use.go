package calc

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// uses are the tables that a calculation looks values up in, in its order, with the
// columns and the names of what looks them up; functions that the calculation defines
// stand for the formulas that call them.
func uses(r *reckon.Reckoning, c *plan.Calc) []Use {
	list := make([]Use, len(c.Tables))
	for i, t := range c.Tables {
		list[i].Table = t
	}
	look := func(name string, q plan.Quantity) {
		f, ok := q.Pick(r.Case.Options)
		if !ok || !f.Given() {
			return
		}
		for _, call := range lookups(r, c, f) {
			table, column, _ := strings.Cut(call, ".")
			i := slices.IndexFunc(list, func(u Use) bool { return u.Table.Name.Text == table })
			if i < 0 {
				continue
			}
			if !slices.Contains(list[i].Columns, column) {
				list[i].Columns = append(list[i].Columns, column)
			}
			if !slices.Contains(list[i].By, name) {
				list[i].By = append(list[i].By, name)
			}
		}
	}
	for _, g := range c.Givens {
		look(g.Name.Text, g.Is)
	}
	for _, f := range c.Finds {
		look(f.Name.Text, f.Is)
	}
	return slices.DeleteFunc(list, func(u Use) bool { return len(u.By) == 0 })
}

// lookups are the columns that a formula leads to, "curve.torque", each once.
func lookups(r *reckon.Reckoning, c *plan.Calc, f plan.Formula) []string {
	var found []string
	seen := map[string]bool{}
	var visit func(f plan.Formula)
	visit = func(f plan.Formula) {
		for _, call := range f.Expr.Calls() {
			if seen[call.Text] {
				continue
			}
			seen[call.Text] = true
			if strings.Contains(call.Text, ".") {
				found = append(found, call.Text)
				continue
			}
			for _, d := range c.Defines {
				if inner, ok := d.Is.Pick(r.Case.Options); ok && d.Name.Text == call.Text && inner.Given() {
					visit(inner)
				}
			}
		}
	}
	visit(f)
	return found
}
