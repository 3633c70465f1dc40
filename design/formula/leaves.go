package formula

import "plansheaf/design/quantity"

// Leaves are the values of what a formula leans on, for showing it with values put
// in: of each name, each call of the scope with its arguments, each solve and each sum.
// What lies within a solve or a sum is not there, nor is what has no value. A function
// that is written as a formula keeps its name, its arguments being among the leaves.
func (e *Expr) Leaves(scope Scope) map[*Node]quantity.Value {
	ev := newEvaluator(e, scope)
	found := map[*Node]quantity.Value{}
	put := func(n *Node) {
		if v, failed := ev.value(n); failed == nil {
			found[n] = v
		}
	}
	var visit func(n *Node)
	visit = func(n *Node) {
		switch {
		case n.Kind == Name, n.Kind == Solve, n.Kind == Sum:
			put(n)
			return
		case n.Kind == Call && !isBuiltin(n.Text) && scope.Function(n.Text) == nil:
			put(n)
			for _, arg := range n.Args {
				put(arg)
			}
			return
		}
		for _, arg := range n.Args {
			visit(arg)
		}
	}
	visit(e.root)
	return found
}
