package notation

import "strings"

// A Piece is letters of one look in a formula that is set on a line of text.
type Piece struct {
	Text    string
	Slanted bool
	Rise    float64 // ems of the text around it, above its baseline
	Scale   float64 // of the text around it
}

// noBreak is the narrow blank at which no line ends.
const noBreak = "\u202f"

// Pieces set a formula on a line of text. Blanks before relations, sums and words are
// ordinary ones, at which a line may end; all others are not.
func Pieces(n *Node) []Piece {
	w := &pieceWriter{scale: 1}
	w.node(Linear(n))
	return w.out
}

type pieceWriter struct {
	out         []Piece
	rise, scale float64
}

func (w *pieceWriter) put(text string, slanted bool) {
	if text == "" {
		return
	}
	if i := len(w.out) - 1; i >= 0 && w.out[i].Slanted == slanted && w.out[i].Rise == w.rise && w.out[i].Scale == w.scale {
		w.out[i].Text += text
		return
	}
	w.out = append(w.out, Piece{text, slanted, w.rise, w.scale})
}

func (w *pieceWriter) node(n *Node) {
	switch n.Kind {
	case Row:
		for i, arg := range n.Args {
			w.put(w.before(n.Args, i), false)
			w.node(arg)
		}
	case Symbol:
		w.put(strings.ReplaceAll(n.Text, " ", noBreak), true)
	case Upright, Number:
		w.put(strings.ReplaceAll(n.Text, " ", "\u00a0"), false)
	case Unit:
		w.put(strings.ReplaceAll(n.Text, " ", "\u00a0"), false)
	case Operator:
		w.operator(n)
	case Root:
		w.put("√", false)
		w.node(least(n.Args[0], whole))
	case Script:
		w.node(n.Args[0])
		w.script(n.Sub, -0.17)
		w.script(n.Sup, 0.36)
	case Fence:
		w.put(n.Text, false)
		w.node(n.Args[0])
		w.put(closing[n.Text], false)
	case Large:
		w.put(n.Text, false)
		w.script(n.Sub, -0.17)
		w.script(n.Sup, 0.36)
		w.put(noBreak, false)
		w.node(least(n.Args[0], looseProduct))
	default:
		for _, arg := range n.Args {
			w.node(arg)
		}
	}
}

// before is the blank between a node of a row and the one before it.
func (w *pieceWriter) before(nodes []*Node, i int) string {
	if i == 0 {
		return ""
	}
	n, last := nodes[i], nodes[i-1]
	switch {
	case n.Kind == Unit && !close(n.Text):
		return noBreak
	case last.Kind == Upright && n.Kind == Symbol, last.Kind == Script && n.Kind == Symbol && last.Args[0].Kind == Upright:
		return noBreak
	case last.Kind == Script && last.Args[0].Kind == Upright && n.Kind == Script:
		return noBreak
	case last.Kind == Upright && n.Kind == Script:
		return noBreak
	}
	return ""
}

func (w *pieceWriter) operator(n *Node) {
	switch {
	case w.scale < 1 && n.Class != Comma && n.Class != Conjunction:
		w.put(n.Text, false)
	case n.Class == Conjunction && n.Text == "":
		w.put(" ", false)
	case n.Class == Conjunction, n.Class == Relation, n.Class == Addition, n.Class == Allowance:
		w.put(" "+n.Text+"\u00a0", false)
	case n.Class == Multiplication && n.Text == "×":
		w.put("\u00a0×\u00a0", false)
	case n.Class == Multiplication && n.Text == "·":
		w.put(noBreak+"·"+noBreak, false)
	case n.Class == Multiplication:
		w.put(noBreak, false)
	case n.Class == Comma:
		w.put(n.Text+" ", false)
	case n.Class == Bracket:
		w.put(n.Text, false)
	case n.Class == Prefix && len(n.Text) > len("−"):
		w.put(n.Text+"\u00a0", false)
	default:
		w.put(n.Text, false)
	}
}

// script is an index or a power, smaller and moved by rise.
func (w *pieceWriter) script(n *Node, rise float64) {
	if n == nil {
		return
	}
	outer, around := w.rise, w.scale
	w.rise, w.scale = outer+rise*around, max(around*scriptScale, 0.5)
	w.node(n)
	w.rise, w.scale = outer, around
}
