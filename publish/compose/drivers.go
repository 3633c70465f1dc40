package compose

import (
	"math"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

// shownDrivers is how many inputs are listed for a result: further ones hardly move it.
const shownDrivers = 4

// drivers rank for each result with a spread the inputs that move it.
func (c *composer) drivers(k *plan.Calc, report *calc.Report) []page.Block {
	t := page.Table{ID: "driver-list", Columns: []page.Column{
		c.head("Result"), c.head("Input"), {Head: c.said("Moves it by"), Align: page.Right}, {Head: c.said("Share of the statistical spread"), Align: page.Right},
	}}
	for _, f := range report.Finds {
		for n, d := range f.Drivers[:min(shownDrivers, len(f.Drivers))] {
			v := f.Value.Nominal()
			v.SI = d.Reach()
			if f.Value.SI == 0 || v.SI == 0 {
				continue
			}
			var result []page.Inline
			if n == 0 {
				result = []page.Inline{page.Formula{Is: c.setting(k).Name(f.Name)}}
			}
			moves := append([]page.Inline{page.Text("± ")}, c.difference(v), page.Text("; "+c.percent(math.Abs(d.Reach()/f.Value.SI))))
			t.Rows = append(t.Rows, page.Row{Cells: cells(result, []page.Inline{page.Formula{Is: c.inputName(k, d.Name)}}, moves, page.Words(c.percent(d.Share)))})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []page.Block{t}
}

// difference is a difference of values in both systems: of temperatures in kelvins.
func (c *composer) difference(v quantity.Value) page.Inline {
	if v.Absolute {
		v.Absolute, v.Unit = false, ""
	}
	return c.measure(v)
}

// inputName is an input as a symbol: the calculation's own without its name before it.
func (c *composer) inputName(k *plan.Calc, name string) *notation.Node {
	own, found := strings.CutPrefix(name, k.ID.Text+".")
	if found || !strings.Contains(name, ".") {
		return c.setting(k).Name(own)
	}
	return notation.Name(name)
}
