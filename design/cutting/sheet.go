package cutting

// A SheetProblem is which rectangles are to be cut, and from what. Lengths are
// micrometres. Of sheets and rectangles the first size runs along the sheet's
// length, the second across.
type SheetProblem struct {
	Sheets []Sheet
	Rects  []Rect
	Kerf   int64 // what a cut takes: the least distance between two pieces
	Trim   int64 // cut off along every side of a sheet, the trimming cuts included
	// Free is set where a router or a laser cuts around each piece. Else a saw cuts
	// from edge to edge of what the cut before left.
	Free bool
}

// A Sheet is a size that can be had. Sides beyond 50 m count as 50 m.
type Sheet struct {
	Size  [2]int64
	Price int64 // of one, in the smallest coin; 1 each where sheets are to be counted
	Count int   // how many there are; 0: as many as are needed
}

// A Rect is a rectangle to cut.
type Rect struct {
	Size  [2]int64
	Count int
	Turn  bool // may be turned by a quarter turn: no grain forbids it
}

// A SheetPlan says how to cut. Of two plans for the same problem the one of lower
// cost is better.
type SheetPlan struct {
	Layouts []Layout
	Cost    int64
	Bound   int64 // no plan that cuts all that is cut here costs less
	Unfit   []int // indices of rectangles that no sheet can give
	Unlaid  []int // by rectangle, how many the sheets did not suffice for; nil: none
}

// Proven reports whether no plan can cost less.
func (p SheetPlan) Proven() bool { return p.Cost == p.Bound }

// Count is how many sheets the plan takes.
func (p SheetPlan) Count() int {
	n := 0
	for _, l := range p.Layouts {
		n += l.Times
	}
	return n
}

// A Layout is what is cut from one sheet, and how many sheets are cut so.
type Layout struct {
	Sheet  int // index in the problem's sheets
	Places []Place
	Times  int
	// Panel is the sheet within its trim as cuts from edge to edge divide it, nil
	// where pieces lie so that none can.
	Panel *Panel
	Rests []Place // what is left over, largest first; of what is not sawn the largest piece
}

// A Place is a rectangle where it lies, micrometres from the sheet's corner.
type Place struct {
	Rect   int // index in the problem's rectangles; rest for what is left over
	At     [2]int64
	Size   [2]int64
	Turned bool
}

// rest is the rectangle of what is left over.
const rest = -1

const longestSide = 50_000_000 // µm: areas and their sums stay within 63 bits

// A kind is rectangles of one size, grown by a kerf, so that what a cut takes needs
// no more thought: sheets are grown by one as well.
type kind struct {
	size  [2]int64
	turn  bool
	count int
	of    []int // the rectangles as given
}

// Sheets solves a problem. Rectangles without size, and those that no sheet can
// give, are left out and told in Unfit.
func Sheets(p SheetProblem) SheetPlan {
	var plan SheetPlan
	s := &sheeting{rooms: rooms(p), free: p.Free}
	for _, sheet := range p.Sheets {
		s.prices, s.stock = append(s.prices, sheet.Price), append(s.stock, stockOf(sheet.Count))
	}
	s.gather(p, &plan)
	if len(s.kinds) == 0 {
		return plan
	}
	s.solve()
	if s.best.short != nil {
		plan.Unlaid = s.unlaid(len(p.Rects))
	}
	plan.Cost, plan.Bound = s.best.cost, min(s.best.cost, s.bound)
	plan.Layouts = s.label(p, plan.Unlaid)
	return plan
}

func stockOf(count int) int {
	if count == 0 {
		return unlimited
	}
	return max(0, count)
}

// rooms are what the sheets give to pieces grown by a kerf.
func rooms(p SheetProblem) [][2]int64 {
	var out [][2]int64
	for _, sheet := range p.Sheets {
		var room [2]int64
		for axis := range room {
			room[axis] = max(0, min(sheet.Size[axis], longestSide)-2*min(p.Trim, longestSide)+min(p.Kerf, longestSide))
		}
		out = append(out, room)
	}
	return out
}

// gather puts equal rectangles together, in the order of the first of each.
func (s *sheeting) gather(p SheetProblem, plan *SheetPlan) {
	at := map[kindKey]int{}
	for i, r := range p.Rects {
		if r.Count <= 0 {
			continue
		}
		k := kind{turn: r.Turn, size: [2]int64{min(r.Size[0], longestSide) + p.Kerf, min(r.Size[1], longestSide) + p.Kerf}}
		if k.turn && k.size[0] < k.size[1] {
			k.size[0], k.size[1] = k.size[1], k.size[0]
		}
		if r.Size[0] <= 0 || r.Size[1] <= 0 || !s.fitsAny(k) {
			plan.Unfit = append(plan.Unfit, i)
			continue
		}
		key := kindKey{k.size, k.turn}
		n, known := at[key]
		if !known {
			n = len(s.kinds)
			at[key] = n
			s.kinds = append(s.kinds, k)
		}
		s.kinds[n].count += r.Count
		s.kinds[n].of = append(s.kinds[n].of, i)
	}
}

type kindKey struct {
	size [2]int64
	turn bool
}

// ways are how a piece may lie.
func (k kind) ways() [][2]int64 {
	if k.turn && k.size[0] != k.size[1] {
		return [][2]int64{k.size, {k.size[1], k.size[0]}}
	}
	return [][2]int64{k.size}
}

func (k kind) area() int64 { return k.size[0] * k.size[1] }

func (k kind) fits(room [2]int64) bool {
	for _, w := range k.ways() {
		if w[0] <= room[0] && w[1] <= room[1] {
			return true
		}
	}
	return false
}

func (s *sheeting) fitsAny(k kind) bool {
	for t, room := range s.rooms {
		if s.stock[t] != 0 && k.fits(room) {
			return true
		}
	}
	return false
}

// unlaid is by rectangle how many the sheets did not suffice for, the last of equal
// ones first.
func (s *sheeting) unlaid(rects int) []int {
	out := make([]int, rects)
	for k, n := range s.best.short {
		out[s.kinds[k].of[len(s.kinds[k].of)-1]] += n
	}
	return out
}
