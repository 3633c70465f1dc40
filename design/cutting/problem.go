package cutting

// A Problem is what is to be cut, and from what. Lengths are micrometres.
type Problem struct {
	Bars   []Bar
	Pieces []Piece
	Kerf   int64 // what a saw cut takes
	Trim   int64 // cut off at either end of a bar, the trimming cuts included
	Most   int   // pieces a bar, at most; 0: any number
	// Nests are what pieces that lie nested in a bar take beyond their lengths, once
	// a bar: the waste at both ends of a row of mitred pieces.
	Nests []int64
}

// A Bar is a length that can be had.
type Bar struct {
	Length int64
	Price  int64 // of one, in the smallest coin; 1 each where bars are to be counted
	Count  int   // how many there are; 0: as many as are needed
}

// A Piece is a length to cut.
type Piece struct {
	Length int64
	Count  int
	Nest   int // 1 + the index in Nests that it belongs to; 0: none
}

// A Plan says how to cut. Of two plans for the same problem the one of lower cost is
// better, then the one with fewer patterns.
type Plan struct {
	Patterns []Pattern
	Cost     int64
	Bound    int64 // no plan that cuts all that is cut here costs less
	Unfit    []int // indices of pieces that no bar can give
	Unlaid   []int // by piece, how many the bars did not suffice for; nil: none
}

// Proven reports whether no plan can cost less.
func (p Plan) Proven() bool { return p.Cost == p.Bound }

// Count is how many bars the plan takes.
func (p Plan) Count() int {
	n := 0
	for _, pattern := range p.Patterns {
		n += pattern.Times
	}
	return n
}

// A Pattern is what is cut from one bar, and how many bars are cut so.
type Pattern struct {
	Bar    int   // index in the problem's bars
	Counts []int // by piece
	Times  int
}

// Taken is the length of a bar that a pattern's pieces take with the cuts between
// them, without the trims.
func (p Problem) Taken(counts []int) int64 {
	taken, pieces := int64(0), int64(0)
	nested := make([]bool, len(p.Nests))
	for i, n := range counts {
		if n == 0 {
			continue
		}
		taken += int64(n) * p.Pieces[i].Length
		pieces += int64(n)
		if nest := p.Pieces[i].Nest; nest > 0 && !nested[nest-1] {
			nested[nest-1] = true
			taken += p.Nests[nest-1]
		}
	}
	return taken + max(0, pieces-1)*p.Kerf
}

// room is what a bar gives to pieces that count one kerf each: the last needs none.
func (p Problem) room(b Bar) int64 { return b.Length - 2*p.Trim + p.Kerf }

// fits reports whether a bar can give one of the pieces.
func (p Problem) fits(b Bar, piece Piece) bool {
	length := piece.Length
	if piece.Nest > 0 {
		length += p.Nests[piece.Nest-1]
	}
	return length+p.Kerf <= p.room(b)
}
