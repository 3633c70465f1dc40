package view

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// onOne (mm) is how far apart two lines, or two circles, may lie and still be
// drawn in one place.
const onOne = 3e-4

// carrier is a line or ellipse that marks lie on, with those marks.
type carrier struct {
	curve picture.Curve
	marks []mark
}

// carriers finds the carrier of a mark by cells of a table: lines by direction
// and distance from the origin, ellipses by their centre.
type carriers struct {
	list  []carrier
	cells map[[3]int64][]int
}

// mergeAll leaves of marks that lie on each other only the one that counts
// most, and joins those of one body that run on.
func mergeAll(marks []mark) []mark {
	c := carriers{cells: map[[3]int64][]int{}}
	// Long ones first: their direction is known best.
	order, length := make([]int, 0, len(marks)), make([]float64, len(marks))
	var out []mark
	for i := range marks {
		if marks[i].curve == nil {
			out = append(out, marks[i])
			continue
		}
		order, length[i] = append(order, i), marks[i].curve.Length()
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(length[b], length[a])
	})
	for _, i := range order {
		c.add(marks[i])
	}
	for i := range c.list {
		out = append(out, c.list[i].merge()...)
	}
	return out
}

// Sizes of the table's cells: radians of direction, mm of distance.
const (
	directionCell = 1e-5
	distanceCell  = 1e-2
)

// key returns where in the table a curve belongs, in cells.
func key(c picture.Curve) (a, b, kind float64) {
	switch c := c.(type) {
	case picture.Line:
		d := c.B.Minus(c.A)
		l := math.Hypot(d.X, d.Y)
		mid := c.A.Plus(c.B).Times(0.5)
		return math.Atan2(d.Y, d.X) / directionCell, (d.X*mid.Y - d.Y*mid.X) / l / distanceCell, 0
	case picture.Arc:
		return c.Centre.X / distanceCell, c.Centre.Y / distanceCell, 1
	}
	return 0, 0, 2
}

// add gives a mark to its carrier, a new one if there is none.
func (c *carriers) add(m mark) {
	a, b, kind := key(m.curve)
	// A curve near the border of a cell is looked for on the other side too.
	for _, i := range sides(a) {
		for _, j := range sides(b) {
			for _, at := range c.cells[[3]int64{i, j, int64(kind)}] {
				if from, to, ok := c.list[at].place(&m); ok {
					m.from, m.to, m.curve = from, to, c.list[at].curve
					c.list[at].marks = append(c.list[at].marks, m)
					return
				}
			}
		}
	}
	k := [3]int64{int64(math.Floor(a)), int64(math.Floor(b)), int64(kind)}
	c.cells[k] = append(c.cells[k], len(c.list))
	c.list = append(c.list, carrier{m.curve, []mark{m}})
	// A line that stands up runs either way by rounding.
	if l, line := m.curve.(picture.Line); line && math.Abs(math.Abs(a*directionCell)-math.Pi/2) < 2*directionCell {
		a, b, _ = key(picture.Line{A: l.B, B: l.A})
		k = [3]int64{int64(math.Floor(a)), int64(math.Floor(b)), 0}
		c.cells[k] = append(c.cells[k], len(c.list)-1)
	}
}

// sides returns the cell of a coordinate and the neighbour it is nearest to.
func sides(a float64) [2]int64 {
	f := math.Floor(a)
	if a-f < 0.5 {
		return [2]int64{int64(f), int64(f) - 1}
	}
	return [2]int64{int64(f), int64(f) + 1}
}

// place returns the range of a mark on the carrier, if it lies on it.
func (c *carrier) place(m *mark) (from, to float64, ok bool) {
	switch base := c.curve.(type) {
	case picture.Line:
		l, line := m.curve.(picture.Line)
		if !line {
			return 0, 0, false
		}
		d := base.B.Minus(base.A)
		d = d.Times(1 / math.Hypot(d.X, d.Y))
		a, b := l.A.Minus(base.A), l.B.Minus(base.A)
		if math.Abs(d.X*a.Y-d.Y*a.X) > onOne || math.Abs(d.X*b.Y-d.Y*b.X) > onOne {
			return 0, 0, false
		}
		from, to = a.X*d.X+a.Y*d.Y, b.X*d.X+b.Y*d.Y
		return math.Min(from, to), math.Max(from, to), true
	case picture.Arc:
		e, arc := m.curve.(picture.Arc)
		if !arc || base.Centre.Distance(e.Centre) > onOne || math.Abs(base.RX-e.RX) > onOne || math.Abs(base.RY-e.RY) > onOne {
			return 0, 0, false
		}
		turn := math.Remainder(e.Tilt-base.Tilt, math.Pi)
		// What the tilt moves is the difference of the half axes.
		if math.Abs(turn)*(base.RX-base.RY) > onOne {
			return 0, 0, false
		}
		shift := math.Remainder(e.Tilt-base.Tilt, 2*math.Pi)
		if base.RX-base.RY > onOne {
			shift = math.Pi * math.Round(shift/math.Pi)
		}
		from = m.from + shift
		back := 2 * math.Pi * math.Floor(from/(2*math.Pi))
		return from - back, m.to + shift - back, true
	}
	return 0, 0, false
}

// rank sorts marks on one carrier by which counts where they lie on each other:
// seen before hidden (ISO 128-2), edges before narrow lines, near before far.
func rank(a, b *mark) int {
	// In steps, so that the order is one whatever is compared first.
	near := cmp.Compare(math.Round(b.depth/onOne), math.Round(a.depth/onOne))
	return cmp.Or(seenFirst(a, b), cmp.Compare(a.kind, b.kind), near, cmp.Compare(a.body, b.body), cmp.Compare(a.order, b.order))
}

// merge leaves each place of the carrier one mark.
func (c *carrier) merge() []mark {
	if len(c.marks) == 1 {
		return c.marks
	}
	full, perUnit := 0.0, 1.0
	if arc, ok := c.curve.(picture.Arc); ok {
		full, perUnit = 2*math.Pi, math.Max(arc.RY, onOne)
	}
	gap := onOne / perUnit
	slices.SortStableFunc(c.marks, func(a, b mark) int { return rank(&a, &b) })
	var kept []mark
	var taken [][2]float64
	for _, m := range c.marks {
		for _, r := range untaken(m.from, m.to, taken, full, gap) {
			p := m
			p.from, p.to = r[0], r[1]
			kept = append(kept, p)
			taken = append(taken, r)
		}
	}
	return joinRuns(kept, full, gap)
}

// untaken returns what of the range from..to is not taken, without pieces shorter
// than gap. On a ring of circumference full ranges come round.
func untaken(from, to float64, taken [][2]float64, full, gap float64) [][2]float64 {
	left := [][2]float64{{from, to}}
	cut := func(a, b float64) {
		var next [][2]float64
		for _, r := range left {
			if b <= r[0] || a >= r[1] {
				next = append(next, r)
				continue
			}
			if a-r[0] > gap {
				next = append(next, [2]float64{r[0], a})
			}
			if r[1]-b > gap {
				next = append(next, [2]float64{b, r[1]})
			}
		}
		left = next
	}
	for _, t := range taken {
		cut(t[0], t[1])
		if full > 0 {
			cut(t[0]-full, t[1]-full)
			cut(t[0]+full, t[1]+full)
		}
	}
	return left
}

// joinRuns makes one mark of two of one body and sort that run on into each
// other.
func joinRuns(marks []mark, full, gap float64) []mark {
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare(a.from, b.from) })
	same := func(a, b *mark) bool { return a.visible == b.visible && a.kind == b.kind && a.body == b.body }
	absorb := func(a, b *mark) {
		a.to = b.to
		a.order = min(a.order, b.order)
		for _, f := range b.faces {
			if !slices.Contains(a.faces, f) {
				a.faces = append(slices.Clip(a.faces), f)
			}
		}
	}
	var out []mark
	for _, m := range marks {
		joined := false
		for i := range out {
			if o := &out[i]; same(o, &m) && math.Abs(o.to-m.from) <= 2*gap {
				absorb(o, &m)
				joined = true
				break
			}
		}
		if !joined {
			out = append(out, m)
		}
	}
	if full == 0 || len(out) < 2 {
		return out
	}
	// The last may run on into the first, which begins a turn later.
	for i := range out {
		for j := range out {
			if i != j && same(&out[i], &out[j]) && math.Abs(out[i].to-full-out[j].from) <= 2*gap {
				first := out[j]
				first.to += full
				absorb(&out[i], &first)
				return slices.Delete(out, j, j+1)
			}
		}
	}
	return out
}
