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
	if len(points) > 0 {
		out.Columns = append(out.Columns, page.Column{Head: c.said("Looked up for")})
	}
	rows := t.Data.Rows
	from, to := window(rows, points)
	next := 0
	add := func(limit float64) {
		for ; next < len(points) && points[next].x <= limit; next++ {
			out.Rows = append(out.Rows, c.lookupRow(k, t, points[next]))
		}
	}
	for i := from; i < to; i++ {
		if i == from {
			add(math.Inf(-1))
		}
		var row [][]page.Inline
		for _, v := range rows[i] {
			row = append(row, page.Words(figures(v)))
		}
		if len(points) > 0 {
			row = append(row, nil)
		}
		out.Rows = append(out.Rows, page.Row{Cells: cells(row...)})
		if i+1 < to {
			add(rows[i+1][0] - tiny*math.Abs(rows[i+1][0]))
		}
	}
	add(math.Inf(1))
	if from > 0 || to < len(rows) {
		note := [][]page.Inline{c.said("%d of %d rows", to-from, len(rows))}
		out.Foot = append(out.Foot, page.Row{Cells: cells(note...)})
	}
	return out
}

// tiny is a share by which figures of a table may differ and count as one.
const tiny = 1e-9

// lookupRow is a looked-up point among the rows.
func (c *composer) lookupRow(k *plan.Calc, t plan.TableFile, p lookup) page.Row {
	var row [][]page.Inline
	strong := func(x float64) []page.Inline {
		return []page.Inline{page.Strong{Words: page.Words(figures(quantity.Figures(x, 4)))}}
	}
	for i, name := range t.Data.Columns {
		switch {
		case i == 0:
			row = append(row, strong(p.x))
		case name == p.column:
			row = append(row, strong(p.y))
		default:
			row = append(row, nil)
		}
	}
	return page.Row{Cells: cells(append(row, []page.Inline{page.Text("◂ "), page.Formula{Is: c.setting(k).Name(p.by)}})...)}
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
