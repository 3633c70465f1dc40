package compose

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// shownRows is how many rows of a table are printed; of a longer one those around what
// is looked up.
const shownRows = 16

// A lookup is a value looked up in a column of a table, in the table's units.
type lookup struct {
	column string
	x, y   float64
	by     string // the result or given that wants it
}

// lookups are the tables that a calculation uses, small, with what it looks up put in
// where it stands between the rows.
func (c *composer) lookups(k *plan.Calc, s *check.Situation, report *calc.Report) []page.Block {
	var blocks []page.Block
	for _, t := range k.Tables {
		if t.Data == nil || len(t.Data.Columns) == 0 {
			continue
		}
		blocks = append(blocks, c.lookedUp(k, t, c.lookupsIn(k, s, t, report)))
		words := c.said("Between two rows values lie on a straight line.")
		if t.Between.Text == "smooth" {
			words = c.said("Between two rows values lie on a smooth curve that neither overshoots nor turns back.")
		}
		if t.File.Text != "" {
			words = append(c.told("From %s.", []page.Inline{page.Link{To: page.Target{File: t.File.Text}, Words: page.Words(c.fileTitle(t.File.Text))}}), append([]page.Inline{page.Text(" ")}, words...)...)
		}
		blocks = append(blocks, page.Paragraph{Words: words})
	}
	return blocks
}

// lookupsIn are the lookups in one table, by rising argument.
func (c *composer) lookupsIn(k *plan.Calc, s *check.Situation, t plan.TableFile, report *calc.Report) []lookup {
	var out []lookup
	for _, r := range append(slices.Clone(report.Givens), report.Finds...) {
		if !r.Known || !r.Formula.Given() {
			continue
		}
		leaves := r.Formula.Expr.Leaves(s.Reckoning.CalcScope(k))
		visit(r.Formula.Expr.Root(), func(n *formula.Node) {
			column, found := strings.CutPrefix(n.Text, t.Name.Text+".")
			at := slices.Index(t.Data.Columns, column)
			if n.Kind != formula.Call || !found || at < 0 || len(n.Args) != 1 {
				return
			}
			x, err := leaves[n.Args[0]].In(t.Data.Units[0])
			y, err2 := leaves[n].In(t.Data.Units[at])
			if err == nil && err2 == nil && !math.IsNaN(x+y) {
				out = append(out, lookup{column, x, y, r.Name})
			}
		})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].x < out[j].x })
	return out
}

func visit(n *formula.Node, each func(*formula.Node)) {
	each(n)
	for _, arg := range n.Args {
		visit(arg, each)
	}
}

func (c *composer) lookedUp(k *plan.Calc, t plan.TableFile, points []lookup) page.Table {
	out := page.Table{ID: "table-" + t.Name.Text, Caption: c.said("Table %s", spoken(t.Name.Text))}
	for i, name := range t.Data.Columns {
		head := capital(spoken(name))
		if unit := t.Data.Units[i]; unit != "" {
			head += " [" + quantity.UnitText(unit) + "]"
		}
		out.Columns = append(out.Columns, page.Column{Head: page.Words(head), Align: page.Right})
	}
	from, to := window(t.Data.Rows, points)
	for i := from; i < to; i++ {
		row := t.Data.Rows[i]
		for len(points) > 0 && points[0].x < row[0]-tiny*math.Abs(row[0]) {
			out.Rows = append(out.Rows, c.lookupRow(k, t, points[0], nil))
			points = points[1:]
		}
		if len(points) > 0 && points[0].x <= row[0]+tiny*math.Abs(row[0]) {
			out.Rows = append(out.Rows, c.lookupRow(k, t, points[0], row))
			points = points[1:]
			continue
		}
		out.Rows = append(out.Rows, c.lookupRow(k, t, lookup{x: math.NaN()}, row))
	}
	if from > 0 || to < len(t.Data.Rows) {
		out.Foot = append(out.Foot, page.Row{Cells: cells(c.said("%d of %d rows", to-from, len(t.Data.Rows)))})
	}
	return out
}

// tiny is a share by which figures of a table may differ and count as one.
const tiny = 1e-9

// lookupRow is a row of a table, or a looked-up point between two rows, which has its
// argument and its value alone. What is looked up is marked, and named before its value.
func (c *composer) lookupRow(k *plan.Calc, t plan.TableFile, p lookup, row []float64) page.Row {
	var out [][]page.Inline
	for i, name := range t.Data.Columns {
		var words []page.Inline
		figure := func(x float64) { words = append(words, page.Strong{Words: page.Words(figures(x))}) }
		switch {
		case i == 0 && !math.IsNaN(p.x):
			words = page.Words("▸ ")
			figure(quantity.Figures(p.x, 4))
		case name == p.column:
			words = []page.Inline{page.Formula{Is: c.setting(k).Name(p.by)}, page.Text(" = ")}
			figure(quantity.Figures(p.y, 4))
		case row != nil:
			words = page.Words(figures(row[i]))
		}
		out = append(out, words)
	}
	return page.Row{Cells: cells(out...)}
}

// window is which rows of a long table are shown: those around the lookups.
func window(rows [][]float64, points []lookup) (from, to int) {
	if len(rows) <= shownRows {
		return 0, len(rows)
	}
	at := 0
	if len(points) > 0 {
		middle := points[len(points)/2].x
		at = sort.Search(len(rows), func(i int) bool { return rows[i][0] >= middle })
	}
	from = max(0, min(at-shownRows/2, len(rows)-shownRows))
	return from, from + shownRows
}

func figures(x float64) string {
	return strings.Replace(strconv.FormatFloat(x, 'g', -1, 64), "-", "−", 1)
}

// spoken is a name of the plan as words.
func spoken(name string) string { return strings.ReplaceAll(name, "_", " ") }
