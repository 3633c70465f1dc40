package notation

import (
	"strings"
	"unicode"

	"plansheaf/design/quantity"
)

// Value is a quantity as it is printed in a system: figures, and its unit behind them.
func Value(v quantity.Value, system quantity.System) *Node {
	text := quantity.Text(v, system)
	number, unit := quantity.Parts(v, system)
	if v.HasSpread() || !strings.HasPrefix(text, number) || !v.Finite() {
		number, unit = text, ""
	}
	return printed(number, unit, v.Fit)
}

// printed puts a number's text and its unit beside each other.
func printed(number, unit, fit string) *Node {
	var nodes []*Node
	level := whole
	if rest, found := strings.CutPrefix(number, "−"); found {
		nodes, number, level = append(nodes, operator("−", Prefix)), rest, looseSign
	}
	nodes = append(nodes, &Node{Kind: Number, Text: number})
	if unit != "" {
		nodes, level = append(nodes, &Node{Kind: Unit, Text: unit}), min(level, looseSign)
	}
	if fit != "" {
		nodes, level = append(nodes, &Node{Kind: Unit, Text: fit}), min(level, looseSign)
	}
	switch {
	case strings.ContainsAny(number, "±+"):
		level = looseRelation
	case strings.ContainsRune(number, '×') || strings.ContainsRune(number, '/'):
		level = min(level, looseProduct)
	}
	return row(level, nodes...)
}

// close reports whether a unit stands at its number without a blank: the signs of
// angle. ISO 80000-1 puts a blank before all others.
func close(unit string) bool {
	return unit == "°" || unit == "′" || unit == "″"
}

// figure reports whether a node begins or ends with figures of a value, between which
// a product needs its sign.
func figure(n *Node) bool {
	return n.Kind == Number && strings.ContainsFunc(n.Text, unicode.IsDigit) || n.Kind == Unit
}
