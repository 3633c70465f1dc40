package formula

import (
	"strconv"
	"strings"

	"plansheaf/design/quantity"
)

// String returns the formula in its normal form: one blank around operators,
// only the brackets that are needed. It reads back to the same tree.
func (e *Expr) String() string {
	p := printer{leaf: func(n *Node) (string, bool) {
		return n.Text, n.Kind == Number || n.Kind == Constant || n.Kind == Name || n.Kind == Group
	}}
	return p.text(e.root)
}

// Worked returns the formula with values put in for names and for the scope's
// functions, in a system's units and without spreads: "12 mm + 3 mm / 2". What
// has no value of its own keeps its name: locals, what a sum goes through, and
// functions written as formulas, whose arguments are worked out.
func (e *Expr) Worked(scope Scope, system quantity.System) string {
	ev := newEvaluator(e, scope)
	p := printer{nominal: true, leaf: func(n *Node) (string, bool) {
		switch {
		case n.Kind == Constant:
			return "π", true
		case n.Kind == Number:
			return bare(n.Value, system), true
		case n.Kind == Spread, n.Kind == Fit:
			return "", false
		case n.Kind == Group, n.Kind == Name && n.Bound:
			return n.Text, true
		case n.Kind == Call && n.Text == "has":
			return "has(" + n.Args[0].Text + ")", true
		case n.Kind == Name, n.Kind == Call && !isBuiltin(n.Text) && scope.Function(n.Text) == nil:
			v, failed := ev.value(n)
			if failed == nil {
				return bare(v, system), true
			}
			return n.Text, n.Kind == Name
		}
		return "", false
	}}
	return p.text(e.root)
}

// bare prints a value without spread and fit.
func bare(v quantity.Value, system quantity.System) string {
	v = v.Nominal()
	v.Fit = ""
	return quantity.Text(v, system)
}

// typeset are the operators as Worked writes them, where that differs.
var typeset = map[string]string{"*": "×", "-": "−", "<=": "≤", ">=": "≥", "!=": "≠"}

// printer writes a tree as text with the brackets it needs.
type printer struct {
	nominal bool                       // leave spreads and fits out, and write operators as printed
	leaf    func(*Node) (string, bool) // the text of a node that is not taken apart
}

func (p printer) text(n *Node) string {
	if text, whole := p.leaf(n); whole {
		return text
	}
	switch n.Kind {
	case Call, Cases, Solve, Sum, List:
		return p.call(n)
	case Unary:
		if n.Text == "not" {
			return "not " + p.within(n.Args[0], bindCompare)
		}
		return p.operator(n.Text) + p.within(n.Args[0], bindPower)
	case Spread, Fit:
		return p.allowance(n)
	}
	bind := bindOf(n)
	left, right := bind, bind+1
	switch n.Text {
	case "^":
		left, right = bind+1, bindSign
	case "=", "!=", "<", "<=", ">", ">=":
		left = bind + 1
	}
	return p.within(n.Args[0], left) + " " + p.operator(n.Text) + " " + p.within(n.Args[1], right)
}

// call writes a function with its arguments, its local first where it has one.
func (p printer) call(n *Node) string {
	var args []string
	if n.Local != "" {
		args = append(args, n.Local)
	}
	for i, arg := range n.Args {
		if n.Kind == Sum && i == 0 && arg.Kind == List {
			args = append(args, p.things(arg))
			continue
		}
		args = append(args, p.text(arg))
	}
	return n.Text + "(" + strings.Join(args, ", ") + ")"
}

// things writes the list of a sum; names in it stand for things, and stay.
func (p printer) things(list *Node) string {
	items := make([]string, len(list.Args))
	for i, item := range list.Args {
		if items[i] = item.Text; item.Kind != Name {
			items[i] = p.text(item)
		}
	}
	return "(" + strings.Join(items, ", ") + ")"
}

func (p printer) operator(op string) string {
	if printed, found := typeset[op]; found && p.nominal {
		return printed
	}
	return op
}

// allowance writes a spread or fit after its value.
func (p printer) allowance(n *Node) string {
	if p.nominal {
		return p.text(n.Args[0])
	}
	value := p.within(n.Args[0], bindSpread+1)
	if n.Kind == Fit {
		return value + " " + n.Text
	}
	if len(n.Args) > 1 {
		return value + " ± " + p.within(n.Args[1], bindSpread+1)
	}
	plus, minus := amountText(n.Amount.Plus), amountText(n.Amount.Minus)
	if n.Amount.Plus == n.Amount.Minus {
		return value + " ± " + plus
	}
	return value + " +" + plus + "/-" + minus
}

// within writes a node, in brackets when it binds more loosely than least.
func (p printer) within(n *Node, least int) string {
	text := p.text(n)
	_, whole := p.leaf(n)
	bind := bindOf(n)
	if p.nominal && (n.Kind == Spread || n.Kind == Fit) {
		return p.within(n.Args[0], least)
	}
	if whole {
		bind = leafBind(n, text)
	}
	if bind < least {
		return "(" + text + ")"
	}
	return text
}

// leafBind is how tightly the text of a name or literal hangs together: a
// sign and a unit are loosened by a power, a fraction or a spread by any
// neighbour.
func leafBind(n *Node, text string) int {
	first := []rune(text)[0]
	switch {
	case n.Kind == Constant || n.Kind == Name && text == n.Text:
		return bindSpread + 1
	case first == '-' || first == '−' || first == '+' || first == '±':
		return bindCompare
	case strings.ContainsAny(text, "±+") || strings.ContainsRune(text, '/') && fraction(text):
		return bindSum + 1
	case strings.ContainsAny(text, " ^") || n.Value.Unit != "" || strings.ContainsRune(text, '×'):
		return bindSign
	}
	return bindSpread
}

// fraction reports whether text holds a fraction of figures, such as 3/8.
func fraction(text string) bool {
	before, after, _ := strings.Cut(text, "/")
	if before == "" || after == "" {
		return false
	}
	last, next := before[len(before)-1], after[0]
	return last >= '0' && last <= '9' && next >= '0' && next <= '9'
}

func bindOf(n *Node) int {
	switch n.Kind {
	case Unary:
		if n.Text == "not" {
			return bindNot
		}
		return bindSign
	case Spread, Fit:
		return bindSpread
	case Binary:
		switch n.Text {
		case "or":
			return bindOr
		case "and":
			return bindAnd
		case "+", "-":
			return bindSum
		case "*", "/":
			return bindProduct
		case "^":
			return bindPower
		}
		return bindCompare
	}
	return bindSpread + 1
}

// amountText writes an amount of a spread so that it reads back.
func amountText(v quantity.Value) string {
	x, err := v.In(v.Unit)
	if err != nil {
		x = v.SI
	}
	text := strconv.FormatFloat(x, 'g', 12, 64)
	if v.Unit == "" {
		return text
	}
	return text + " " + v.Unit
}
