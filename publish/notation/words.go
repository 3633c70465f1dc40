package notation

import "strings"

// Words is a formula on one line of plain words, for those who cannot see it and for
// places without letters of several kinds: "force = 2 π · torque / lead_lead screw".
func Words(n *Node) string {
	var b strings.Builder
	speak(&b, Linear(n))
	return strings.Join(strings.Fields(b.String()), " ")
}

func speak(b *strings.Builder, n *Node) {
	switch n.Kind {
	case Row:
		for i, arg := range n.Args {
			if i > 0 && (arg.Kind == Unit && !close(arg.Text) || n.Args[i-1].Kind == Upright && arg.Kind != Fence) {
				b.WriteString(" ")
			}
			speak(b, arg)
		}
	case Operator:
		if n.Class == Comma || n.Class == Division || n.Class == Bracket {
			b.WriteString(strings.TrimSpace(n.Text))
			if n.Class == Comma {
				b.WriteString(" ")
			}
			return
		}
		if n.Class == Prefix && n.Text == "−" {
			b.WriteString(n.Text)
			return
		}
		b.WriteString(" " + n.Text + " ")
	case Root:
		b.WriteString("√")
		speak(b, least(n.Args[0], whole))
	case Fence:
		b.WriteString(n.Text)
		speak(b, n.Args[0])
		b.WriteString(closing[n.Text])
	case Script:
		speak(b, n.Args[0])
		index(b, "_", n.Sub)
		index(b, "^", n.Sup)
	case Large:
		b.WriteString(n.Text)
		index(b, "_", n.Sub)
		index(b, "^", n.Sup)
		b.WriteString(" ")
		speak(b, least(n.Args[0], looseProduct))
	case Symbol, Upright, Number, Unit:
		b.WriteString(n.Text)
	default:
		for _, arg := range n.Args {
			speak(b, arg)
		}
	}
}

// index speaks an index or a power, in brackets unless it is one word.
func index(b *strings.Builder, mark string, n *Node) {
	if n == nil {
		return
	}
	var inner strings.Builder
	speak(&inner, n)
	text := strings.Join(strings.Fields(inner.String()), " ")
	if strings.ContainsAny(text, " +−·×/") {
		text = "(" + text + ")"
	}
	b.WriteString(mark + text)
}
