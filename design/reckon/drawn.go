package reckon

import (
	"errors"
	"strings"

	"plansheaf/design/formula"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// Random draws take the most time of working a plan out, and hang on little of it: on the
// part of the web that they go through, and on what its formulas read besides. All of
// that is told here by its values and its place in the drawing's own list, so that
// neither another line of a file nor another value elsewhere makes it another.

// told is what the draws of a calculation follow from.
type told struct {
	Draws       int
	Calculation string
	Nodes       []toldNode
	Leaves      []int
	Targets     []int
	Truths      []toldTruth
}

// A toldNode is a node of the web in a drawing's list.
type toldNode struct {
	Source     string // of the formula; empty for none
	From, Long int    // the part of the source that it is
	Functions  []string
	Groups     [][]string
	Tables     []toldTable
	Reads      []toldName
	Uses       []toldUse
	Own, Still quantity.Value
	Nominal    float64
	Bad, Quick bool
}

// A toldUse is what a node leans on: a place in the list, or a node that stands still.
type toldUse struct {
	In      int // -1 for one outside of the list
	Nominal float64
}

// A toldName is what a name means to a formula at the nominal values.
type toldName struct {
	Name    string
	In      int // as of a toldUse
	Value   quantity.Value
	Fault   string
	Unknown bool // faults that formulas act on
	Kinds   [2]bool
}

// A toldTable is the table of a call.
type toldTable struct {
	Call, Between string
	Data          memo.Key
}

// A toldTruth is a condition by its places in the list.
type toldTruth struct {
	Whole toldUse
	Gaps  []toldUse
	Ops   []string
}

// known draws, or takes over what the same draws came to in another case or run.
func (d *drawing) known(calculation string) {
	shapes := d.w.r.shapes
	given, whole := d.told(calculation)
	if !whole {
		d.all(calculation)
		return
	}
	taken := true
	d.counts, _ = memo.Do(shapes.store(), "draws", func() (counts, error) {
		taken = false
		d.all(calculation)
		if shapes.work.Exhausted() {
			return d.counts, errNoted // a limit of the whole plan has cut it short
		}
		return d.counts, nil
	}, given)
	if taken && !shapes.work.Take(d.counts.Steps) {
		d.all(calculation) // runs into the limit where a full run does
	}
}

// told tells what the draws follow from; false where that cannot be told whole.
func (d *drawing) told(calculation string) (told, bool) {
	in := make(map[int]int, len(d.list))
	for i, at := range d.list {
		in[at] = i
	}
	use := func(at int) toldUse {
		if i, inside := in[at]; inside {
			return toldUse{In: i, Nominal: d.w.nodes[at].nominal}
		}
		return toldUse{In: -1, Nominal: d.w.nodes[at].nominal}
	}
	uses := func(list []int) []toldUse {
		out := make([]toldUse, len(list))
		for i, at := range list {
			out[i] = use(at)
		}
		return out
	}
	out := told{Draws: Draws, Calculation: calculation}
	for _, at := range d.list {
		n := d.w.nodes[at]
		one := toldNode{Uses: uses(n.uses), Own: n.own, Still: n.still, Nominal: n.nominal, Bad: n.bad, Quick: n.quick != nil}
		if n.formula.Expr != nil && !d.w.tell(n, use, &one) {
			return out, false
		}
		out.Nodes = append(out.Nodes, one)
	}
	for _, at := range d.leaves {
		out.Leaves = append(out.Leaves, in[at])
	}
	for _, at := range d.targets {
		out.Targets = append(out.Targets, in[at])
	}
	for _, t := range d.truths {
		out.Truths = append(out.Truths, toldTruth{Whole: use(t.whole), Gaps: uses(t.gaps), Ops: t.ops})
	}
	return out, true
}

// tell tells a node's formula and what it reads; false where that cannot be told.
func (w *web) tell(n *node, use func(at int) toldUse, out *toldNode) bool {
	e := n.formula.Expr
	root := e.Root()
	out.Source, out.From, out.Long = e.Source(), root.Offset, root.Length
	out.Functions, out.Groups = n.reads.Functions, n.reads.Groups
	for _, call := range n.reads.Calls {
		t, told := w.tellTable(n.calc, call)
		if !told {
			return false
		}
		out.Tables = append(out.Tables, t)
	}
	for _, name := range n.reads.Names {
		one := toldName{Name: name, In: -1}
		if at, held := n.scope.local[name]; held {
			one.In = use(at).In
		} else if at, woven := w.index[w.fullName(n.calc, name)]; woven && at >= 0 {
			return false // it came into the web after those that lean on it, as in a circle
		}
		var err error
		if one.Value, err = n.scope.Lookup(name); err != nil {
			one.Fault, one.Unknown = err.Error(), errors.As(err, new(*formula.UnknownNameError))
			one.Kinds = [2]bool{errors.Is(err, quantity.ErrUndefined), errors.Is(err, quantity.ErrMismatch)}
		}
		out.Reads = append(out.Reads, one)
	}
	return n.reads.Whole
}

// fullName is the dotted name of what a formula in a calculation calls name.
func (w *web) fullName(c *plan.Calc, name string) string {
	if c == nil {
		return name
	}
	return w.r.NameIn(c, name)
}

// tellTable tells the table that a call looks a value up in; false where there is none.
func (w *web) tellTable(c *plan.Calc, call string) (toldTable, bool) {
	if c == nil {
		return toldTable{}, false
	}
	name, _, _ := strings.Cut(call, ".")
	t, found := calcScope{w.r, c}.own().tables[name]
	if !found || t.Data == nil {
		return toldTable{}, false
	}
	key, err := w.r.shapes.tableKey(t.Data)
	return toldTable{Call: call, Between: t.Between.Text, Data: key}, err == nil
}

// tableKey is the key of a table's numbers, worked out once.
func (s *Shapes) tableKey(t *plan.Table) (memo.Key, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if key, known := s.tables[t]; known {
		return key, nil
	}
	key, err := memo.KeyOf(t)
	if err == nil {
		s.tables[t] = key
	}
	return key, err
}
