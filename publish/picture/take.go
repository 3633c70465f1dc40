package picture

// A Piece of a line of text is a run of letters, or one symbol that no font has.
type Piece struct {
	At    Point   // left end of the piece on the baseline, as turned on the paper
	Words string  // as an output can show them; empty for a symbol
	Drawn []Curve // the symbol's lines on the paper; nil for letters
}

// Pieces splits the line where symbols stand, from left to right. Runs of blanks
// are left out: they lie between the places of the others.
func (t Text) Pieces() []Piece {
	var list []Piece
	from := t.baseline()
	for _, p := range t.pieces() {
		left := Point{from.X + p.offset, from.Y}
		one := Piece{At: t.At.Plus(turned(left.Minus(t.At), -t.Turn)), Words: p.words}
		if p.words == "" {
			one.Drawn = p.symbol.placed(left, t.Height, t.Turn, t.At)
		}
		list = append(list, one)
	}
	return list
}

// Dashes are the lengths of a line's dashes and gaps in turn, in millimetres, for a
// line group; nil for continuous lines. A stroke is dashed with these lengths
// stretched a little, so that it begins and ends with a dash.
func (t LineType) Dashes(group float64) []float64 {
	var list []float64
	for _, d := range lineStyles[t].dashes {
		list = append(list, d*t.Width(group))
	}
	return list
}

// Ink is the line's own colour; "" for NoLine.
func (t LineType) Ink() Colour { return lineStyles[t].ink }
