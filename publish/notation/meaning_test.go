package notation

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/formula"
	"plansheaf/design/quantity"
	"plansheaf/publish/notation/specimen"
)

// set is a formula as it is shown.
func set(text string) *Node {
	return Setting{Tongue: English}.Of(specimen.Parsed(text))
}

// TestSetFormulasMeanWhatIsWritten reads random formulas back from what is seen alone:
// bars, brackets and signs, without a bracket more. They must work out alike.
func TestSetFormulasMeanWhatIsWritten(t *testing.T) {
	scope := formula.Values{}
	for name, v := range specimen.Values() {
		scope[name] = quantity.Number(v)
	}
	worth := 0
	for seed := range uint64(1500) {
		text := specimen.Random(seed, 4)
		e, _ := formula.Parse(text)
		want, failed := e.Value(scope)
		if failed != nil {
			continue
		}
		worth++
		for manner, n := range map[string]*Node{"two-dimensional": set(text), "linear": Linear(set(text)), "worked": worked(e, scope)} {
			seen := spelled(n)
			again, failed := formula.Parse(seen)
			if failed != nil {
				t.Fatalf("%s, %s: seen as %s, which does not read: %v", text, manner, seen, failed)
			}
			got, failed := again.Value(seenScope(scope))
			if failed != nil {
				t.Fatalf("%s, %s: seen as %s, which does not work out: %v", text, manner, seen, failed)
			}
			allowed := 1e-9
			if manner == "worked" {
				continue // rounded values; that it reads is enough
			}
			if math.Abs(got.SI-want.SI) > allowed*math.Max(1, math.Abs(want.SI)) {
				t.Fatalf("%s, %s: is %g; seen as %s, which is %g", text, manner, want.SI, seen, got.SI)
			}
		}
	}
	if worth < 600 {
		t.Errorf("only %d of the formulas work out", worth)
	}
}

func worked(e *formula.Expr, scope formula.Scope) *Node {
	return Setting{Tongue: English}.With(e.Root(), e.Leaves(scope))
}

// seenScope knows names as they are spelled by what is seen.
func seenScope(values formula.Values) formula.Values {
	out := formula.Values{}
	for name, v := range values {
		out[spelled(Name(name))] = v
	}
	return out
}

// spelled is what is seen as a formula of the language.
func spelled(n *Node) string {
	switch n.Kind {
	case Row:
		return spelledRow(n.Args)
	case Symbol:
		return "n" + spelledName(n.Text)
	case Number:
		return strings.NewReplacer("π", "pi", "−", "-", "\u202f", "").Replace(n.Text)
	case Upright:
		if written, found := writtenAs[n.Text]; found {
			return written
		}
		return n.Text
	case Operator:
		if n.Class == Multiplication {
			return " * "
		}
		return " " + strings.NewReplacer("−", "-", "≤", "<=", "≥", ">=").Replace(n.Text) + " "
	case Fraction:
		return "((" + spelled(n.Args[0]) + ")/(" + spelled(n.Args[1]) + "))"
	case Root:
		return "sqrt(" + spelled(n.Args[0]) + ")"
	case Script:
		base := spelled(n.Args[0])
		if n.Sub != nil && n.Args[0].Kind == Symbol {
			base += "_" + spelledName(n.Sub.Text)
		}
		if n.Sup != nil {
			return base + "^(" + spelled(n.Sup) + ")"
		}
		return base
	case Fence:
		return map[string]string{"(": "(", "|": "abs(", "⌈": "ceil(", "⌊": "floor("}[n.Text] + spelled(n.Args[0]) + ")"
	case Cases:
		var parts []string
		for i := 0; i+1 < len(n.Args); i += 2 {
			if i+2 < len(n.Args) {
				condition := n.Args[i+1]
				parts = append(parts, spelledRow(condition.Args[1:])) // without the word if
			}
			parts = append(parts, spelled(n.Args[i]))
		}
		return "if(" + strings.Join(parts, ", ") + ")"
	case Stack:
		return spelledRow(n.Args)
	}
	return "unknown"
}

// writtenAs are functions whose printed name differs from the written one.
var writtenAs = map[string]string{"arctan": "atan", "e": "exp(1)"}

// spelledName is a name in the letters that names may have.
func spelledName(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == ' ' || r == ',':
			b.WriteByte('_')
		case r > 127:
			fmt.Fprintf(&b, "u%x", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// spelledRow spells nodes beside each other: a function takes what follows it, sin² x
// is the square of sin x, and cases on one line are told apart by their words.
func spelledRow(nodes []*Node) string {
	if parts, linear := linearCases(nodes); linear {
		return parts
	}
	var b strings.Builder
	for i := 0; i < len(nodes); i++ {
		n := nodes[i]
		power := ""
		name := n
		if n.Kind == Script && n.Args[0].Kind == Upright && n.Args[0].Text != "e" {
			name, power = n.Args[0], "^("+spelled(n.Sup)+")"
		}
		if name.Kind == Upright && name.Text != "e" && i+1 < len(nodes) {
			i++
			argument := spelled(nodes[i])
			if nodes[i].Kind != Fence || nodes[i].Text != "(" {
				argument = "(" + argument + ")"
			}
			b.WriteString("(" + spelled(name) + argument + power + ")")
			continue
		}
		b.WriteString(spelled(n))
	}
	return b.String()
}

// linearCases spells "a if c; b otherwise".
func linearCases(nodes []*Node) (string, bool) {
	var parts []string
	from := 0
	for i, n := range nodes {
		if n.Kind == Operator && n.Class == Prefix && n.Text == English.If {
			end := i + 1
			for end < len(nodes) && !(nodes[end].Kind == Operator && nodes[end].Text == ";") {
				end++
			}
			parts = append(parts, spelledRow(nodes[i+1:end]), spelledRow(nodes[from:i-1]))
			from = end + 1
		}
	}
	if len(parts) == 0 {
		return "", false
	}
	parts = append(parts, spelledRow(nodes[from:len(nodes)-2]))
	return "if(" + strings.Join(parts, ", ") + ")", true
}
