package binder

// An atom is a piece of a chapter that is never cut: a line, a row, a figure.
// Its marks are placed from the top-left corner of the column: x is final
// within the leaf's frame, y counts from the atom's own top.
type atom struct {
	height float64
	before float64 // space above; the larger of it and the neighbour's after counts
	after  float64 // space below
	base   float64 // of the one line that it holds, from its top; 0 where that does not matter
	stay   stay    // how bad a leaf's end after this atom would be
	marks  []mark
	frames []*frame // what is drawn around it, outermost first
	head   *tableHead
	start  *start // set where a page of the document begins
}

// stay says how much an atom wants the next one on the same leaf.
type stay int

const (
	free    stay = iota // a leaf may end here
	inTable             // between two rows of one table
	last                // better not: the next atom is the last of its table
	held                // inside a group that should stay whole
	widowed             // would leave a single line of a paragraph
	whole               // inside a step that has room on one leaf
	glued               // never: a heading and what it heads
)

// cost of ending a leaf at an atom, against the square of the share of the leaf
// left empty: a group is broken rather than leave about two thirds of a leaf
// blank, a step only where it has no room on a leaf.
var cost = map[stay]float64{free: 0, inTable: 0.03, last: 0.12, held: 0.42, widowed: 0.5, whole: 2.5, glued: 50}

// A frame is drawn around or beside a stretch of atoms, on each leaf anew.
type frame struct {
	// draw gives the marks behind the stretch from top to bottom on one leaf;
	// opens and closes say whether the stretch begins and ends there.
	draw func(top, bottom float64, opens, closes bool) []mark
	pad  float64 // room kept inside where the frame is cut by a leaf's end
}

// framePad is the room that a frame keeps inside where a leaf's end cuts it.
const framePad = 1.5

// framePads is the room that the frames around a column's blocks may need on a
// leaf, in millimetres.
func (col column) framePads() float64 { return 2 * framePad * float64(col.depth+2) }

// A tableHead is repeated where a table goes on on the next leaf, or a step does.
type tableHead struct {
	height float64
	marks  []mark
	outer  *tableHead // stands above it; nil for none
}

// headGap is the room between a head and the one that it stands in.
const headGap = 2.0

// all is a head with those that it stands in, outermost first, as one.
func (h *tableHead) all() *tableHead {
	if h == nil || h.outer == nil {
		return h
	}
	above := h.outer.all()
	out := &tableHead{height: above.height + headGap + h.height, marks: append([]mark(nil), above.marks...)}
	for _, m := range h.marks {
		out.marks = append(out.marks, m.moved(0, above.height+headGap))
	}
	return out
}

// shares is the innermost head that both stand under; nil for none.
func (h *tableHead) shares(other *tableHead) *tableHead {
	for ; h != nil; h = h.outer {
		for o := other; o != nil; o = o.outer {
			if h == o {
				return h
			}
		}
	}
	return nil
}

// A start says that a page of the document, or one of its drawings, begins.
type start struct {
	section string // what the running head says from here on
}

// size is the room that atoms take from the first one's top to the last one's
// bottom.
func size(atoms []atom) float64 {
	total, after := 0.0, 0.0
	for i, a := range atoms {
		if i > 0 {
			total += max(after, a.before)
		}
		total, after = total+a.height, a.after
	}
	return total
}

// together marks atoms as a group that should stay whole, if it can.
func together(atoms []atom, room float64) []atom {
	if size(atoms) > room {
		return atoms
	}
	return holding(atoms, held)
}

// holding raises the wish to stay of all atoms but the last.
func holding(atoms []atom, want stay) []atom {
	for i := range atoms[:max(0, len(atoms)-1)] {
		atoms[i].stay = max(atoms[i].stay, want)
	}
	return atoms
}

// framed puts a frame around atoms, inside those that they already have.
func framed(atoms []atom, f *frame) []atom {
	for i := range atoms {
		atoms[i].frames = append([]*frame{f}, atoms[i].frames...)
	}
	return atoms
}

// gap is empty room that does not collapse, as inside a frame.
func gap(height float64) atom { return atom{height: height, stay: glued} }

// stacked are atoms melted into one, which is then never cut. Frames are drawn
// within it.
func stacked(atoms []atom) atom {
	body, height := placeAll(atoms)
	whole := atom{height: height, marks: body}
	if len(atoms) > 0 {
		whole.before, whole.after = atoms[0].before, atoms[len(atoms)-1].after
	}
	return whole
}

// beside puts two stacks next to each other, tops level, as one atom.
func beside(left, right atom) atom {
	return atom{
		height: max(left.height, right.height),
		before: max(left.before, right.before),
		after:  max(left.after, right.after),
		marks:  append(append([]mark(nil), left.marks...), right.marks...),
	}
}
