package binder

import (
	"math"
	"sort"
)

// A leaf is one side of paper with all its marks, placed in its own
// millimetres.
type leaf struct {
	width, height float64
	marks         []mark
	section       string  // what the running head says
	used          float64 // height taken by the chapter's atoms
	drawing       bool    // holds a drawing sheet instead of text
	bare          bool    // the cover: no running head
}

// placer puts atoms one below the other and draws their frames.
type placer struct {
	marks  []mark
	y      float64
	after  float64
	any    bool
	placed []placedAtom
}

type placedAtom struct {
	atom        *atom
	top, bottom float64
}

func (p *placer) put(a *atom) {
	if p.any {
		p.y += max(p.after, a.before)
	}
	for _, m := range a.marks {
		p.marks = append(p.marks, m.moved(0, p.y))
	}
	p.placed = append(p.placed, placedAtom{a, p.y, p.y + a.height})
	p.y, p.after, p.any = p.y+a.height, a.after, true
}

// frameMarks are the frames around what was placed, outermost first. continued
// and continues hold the frames that began on an earlier leaf or go on on the
// next.
func (p *placer) frameMarks(continued, continues map[*frame]bool) []mark {
	type stretch struct{ top, bottom float64 }
	var order []*frame
	stretches := map[*frame]stretch{}
	depth := map[*frame]int{}
	for _, at := range p.placed {
		for level, f := range at.atom.frames {
			s, known := stretches[f]
			if !known {
				order, s.top, depth[f] = append(order, f), at.top, level
			}
			s.bottom = at.bottom
			stretches[f] = s
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return depth[order[i]] < depth[order[j]] })
	var marks []mark
	for _, f := range order {
		s, opens, closes := stretches[f], !continued[f], !continues[f]
		if !opens {
			s.top -= f.pad
		}
		if !closes {
			s.bottom += f.pad
		}
		marks = append(marks, f.draw(s.top, s.bottom, opens, closes)...)
	}
	return marks
}

// placeAll sets atoms one below the other as one piece.
func placeAll(atoms []atom) ([]mark, float64) {
	p := &placer{}
	for i := range atoms {
		p.put(&atoms[i])
	}
	none := map[*frame]bool{}
	return append(p.frameMarks(none, none), p.marks...), p.y
}

// paginate breaks a chapter's atoms into leaves of room millimetres' height; the
// marks of each are still placed from the frame's top-left corner.
func paginate(atoms []atom, room float64) []leaf {
	var leaves []leaf
	section := ""
	next := leafEnds(atoms, room)
	for from := 0; from < len(atoms); from = next[from] {
		l := place(atoms, from, next[from], repeatedHead(atoms, from))
		l.section = section
		for i := from; i < next[from]; i++ {
			if s := atoms[i].start; s != nil {
				if section = s.section; l.section == "" || i == from {
					l.section = s.section
				}
			}
		}
		leaves = append(leaves, l)
	}
	return leaves
}

// repeatedHead is the head that a leaf beginning with an atom repeats; nil where the
// table or the step itself begins there, or none goes on.
func repeatedHead(atoms []atom, from int) *tableHead {
	if from == 0 {
		return nil
	}
	return atoms[from-1].head.shares(atoms[from].head).all()
}

// leafEnds gives for each atom where a leaf that begins with it should end: the
// index after its last atom. All leaves from there on together cost least, so
// that nothing is torn apart and little is left blank.
func leafEnds(atoms []atom, room float64) []int {
	next := make([]int, len(atoms))
	total := make([]float64, len(atoms)+1)
	for from := len(atoms) - 1; from >= 0; from-- {
		total[from] = math.Inf(1)
		fits(atoms, from, room, func(end int, used float64) {
			c := 0.0
			if end < len(atoms) {
				empty := max(0, 1-used/room)
				c = cost[atoms[end-1].stay] + empty*empty + total[end]
			}
			// Of equals the fuller leaf.
			if c <= total[from]+tolerance {
				total[from], next[from] = min(c, total[from]), end
			}
		})
	}
	return next
}

// fits calls try with each index at which a leaf that begins with from may end,
// and the height that it then fills. One atom always goes on a leaf.
func fits(atoms []atom, from int, room float64, try func(end int, used float64)) {
	y, after := 0.0, 0.0
	if head := repeatedHead(atoms, from); head != nil {
		y = head.height
	}
	if from > 0 {
		y += sharedPad(atoms[from-1], atoms[from])
	}
	for i := from; i < len(atoms); i++ {
		if i > from {
			y += max(after, atoms[i].before)
		}
		y, after = y+atoms[i].height, atoms[i].after
		if y > room+tolerance && i > from {
			return
		}
		pad := 0.0
		if i+1 < len(atoms) {
			pad = sharedPad(atoms[i], atoms[i+1])
		}
		if y+pad <= room+tolerance || i == from {
			try(i+1, y)
		}
	}
}

// sharedPad is the room that frames around both neighbours need where a leaf
// ends between them.
func sharedPad(a, b atom) float64 {
	pad := 0.0
	for _, f := range commonFrames(a, b) {
		pad += f.pad
	}
	return pad
}

// place sets atoms from up to to on one leaf.
func place(atoms []atom, from, to int, head *tableHead) leaf {
	p := &placer{}
	continued, continues := map[*frame]bool{}, map[*frame]bool{}
	if from > 0 {
		shared(atoms[from-1], atoms[from], continued)
		p.y += sharedPad(atoms[from-1], atoms[from])
	}
	if to < len(atoms) {
		shared(atoms[to-1], atoms[to], continues)
	}
	if head != nil {
		p.put(&atom{height: head.height, marks: head.marks, frames: commonFrames(atoms[from-1], atoms[from])})
		p.any = false
	}
	for i := from; i < to; i++ {
		p.put(&atoms[i])
	}
	return leaf{marks: append(p.frameMarks(continued, continues), p.marks...), used: p.y}
}

// commonFrames are the frames around both neighbours.
func commonFrames(a, b atom) []*frame {
	n := 0
	for n < min(len(a.frames), len(b.frames)) && a.frames[n] == b.frames[n] {
		n++
	}
	return a.frames[:n:n]
}

// shared marks the frames around both neighbours.
func shared(a, b atom, into map[*frame]bool) {
	for _, f := range commonFrames(a, b) {
		into[f] = true
	}
}
