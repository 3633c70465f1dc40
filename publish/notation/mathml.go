package notation

import (
	"fmt"
	"html"
	"strings"
)

// MathML is a formula as an element of MathML Core; display stands on lines of its own.
// Names are marked with the class "q" for the style sheet to slant, since a name of
// several letters would stand upright. Lines broken by Lines come one below the other.
func MathML(lines []*Node, display bool) string {
	var b strings.Builder
	said := make([]string, len(lines))
	for i, l := range lines {
		said[i] = Words(l)
	}
	mode := ""
	if display {
		mode = ` display="block"`
	}
	fmt.Fprintf(&b, `<math%s alttext="%s">`, mode, html.EscapeString(strings.Join(said, " ")))
	w := mathWriter{&b}
	if len(lines) == 1 {
		w.node(lines[0])
	} else {
		w.stack(lines)
	}
	b.WriteString("</math>")
	return b.String()
}

type mathWriter struct{ b *strings.Builder }

func (w mathWriter) element(tag, attributes string, inner func()) {
	w.b.WriteString("<" + tag + attributes + ">")
	inner()
	w.b.WriteString("</" + tag + ">")
}

func (w mathWriter) text(tag, attributes, words string) {
	w.element(tag, attributes, func() { w.b.WriteString(html.EscapeString(strings.ReplaceAll(words, " ", "\u00a0"))) })
}

func (w mathWriter) blank(ems string) { fmt.Fprintf(w.b, `<mspace width="%sem"></mspace>`, ems) }

func (w mathWriter) node(n *Node) {
	switch n.Kind {
	case Row:
		w.element("mrow", "", func() {
			for i, arg := range n.Args {
				w.between(n.Args, i)
				w.node(arg)
			}
		})
	case Symbol:
		w.text("mi", ` mathvariant="normal" class="q"`, n.Text)
	case Upright:
		w.text("mi", ` mathvariant="normal"`, n.Text)
	case Unit:
		w.text("mi", ` mathvariant="normal" class="u"`, n.Text)
	case Number:
		w.text("mn", "", n.Text)
	case Operator:
		w.operator(n)
	case Fraction:
		w.element("mfrac", "", func() { w.node(n.Args[0]); w.node(n.Args[1]) })
	case Root:
		w.element("msqrt", "", func() { w.node(n.Args[0]) })
	case Script:
		w.script(n)
	case Fence:
		w.element("mrow", "", func() {
			fmt.Fprintf(w.b, `<mo fence="true" form="prefix">%s</mo>`, n.Text)
			w.node(n.Args[0])
			fmt.Fprintf(w.b, `<mo fence="true" form="postfix">%s</mo>`, closing[n.Text])
		})
	case Cases:
		w.element("mrow", "", func() {
			w.b.WriteString(`<mo fence="true" form="prefix">{</mo>`)
			w.element("mtable", ` class="cases"`, func() { w.branches(n) })
		})
	case Large:
		w.large(n)
	case Stack:
		w.stack(n.Args)
	}
}

// between is the room that no operator's own spacing gives.
func (w mathWriter) between(nodes []*Node, i int) {
	if i == 0 {
		return
	}
	n, last := nodes[i], nodes[i-1]
	switch {
	case n.Kind == Operator, last.Kind == Operator:
	case n.Kind == Unit && !close(n.Text):
		w.blank("0.2")
	case n.Kind != Fence && (last.Kind == Upright || last.Kind == Script && last.Args[0].Kind == Upright):
		w.blank("0.17")
	}
}

func (w mathWriter) operator(n *Node) {
	switch {
	case n.Class == Conjunction && n.Text == "":
		w.blank("0.5")
	case n.Class == Conjunction:
		w.blank("0.4")
		w.text("mtext", "", n.Text)
		w.blank("0.4")
	case n.Class == Multiplication && n.Text == "":
		w.b.WriteString("<mo>\u2062</mo>") // the product that is not written
		w.blank("0.17")
	case n.Class == Prefix && len([]rune(n.Text)) > 1:
		w.text("mtext", "", n.Text)
		w.blank("0.35")
	case n.Class == Prefix:
		w.text("mo", ` form="prefix"`, n.Text)
	case n.Class == Comma:
		w.text("mo", ` separator="true"`, n.Text)
	case n.Class == Bracket:
		w.text("mo", ` fence="true" stretchy="false" lspace="0" rspace="0"`, n.Text)
	case n.Class == Division:
		w.text("mo", ` stretchy="false"`, n.Text)
	default:
		w.text("mo", ` form="infix"`, n.Text)
	}
}

func (w mathWriter) script(n *Node) {
	switch {
	case n.Sub != nil && n.Sup != nil:
		w.element("msubsup", "", func() { w.node(n.Args[0]); w.node(n.Sub); w.node(n.Sup) })
	case n.Sub != nil:
		w.element("msub", "", func() { w.node(n.Args[0]); w.node(n.Sub) })
	case n.Sup != nil:
		w.element("msup", "", func() { w.node(n.Args[0]); w.node(n.Sup) })
	default:
		w.node(n.Args[0])
	}
}

func (w mathWriter) large(n *Node) {
	sign := func() {
		fmt.Fprintf(w.b, `<mo largeop="true" movablelimits="false">%s</mo>`, html.EscapeString(n.Text))
	}
	w.element("mrow", "", func() {
		switch {
		case n.Sub != nil && n.Sup != nil:
			w.element("munderover", "", func() { sign(); w.node(n.Sub); w.node(n.Sup) })
		case n.Sub != nil:
			w.element("munder", "", func() { sign(); w.node(n.Sub) })
		default:
			sign()
		}
		w.node(least(n.Args[0], looseProduct))
	})
}

func (w mathWriter) branches(n *Node) {
	for i := 0; i+1 < len(n.Args); i += 2 {
		w.element("mtr", "", func() {
			w.element("mtd", "", func() { w.node(n.Args[i]) })
			w.element("mtd", "", func() { w.node(n.Args[i+1]) })
		})
	}
}

func (w mathWriter) stack(lines []*Node) {
	w.element("mtable", ` class="rows" displaystyle="true"`, func() {
		for _, l := range lines {
			w.element("mtr", "", func() { w.element("mtd", "", func() { w.node(l) }) })
		}
	})
}
