package cutting

import "math"

// A node is what is left to cut after some patterns are settled.
type node struct {
	demand  []int       // by piece
	stock   []int       // by bar, how many are left; unlimited
	least   []int       // by bar, how many must still be used
	caps    map[use]int // how often a pattern may still be cut
	settled []Pattern
	cost    int64 // of settled
}

// unlimited is the stock of a bar of which there are as many as are needed.
const unlimited = -1

// A use is a pattern on a bar, to tell them apart.
type use struct {
	bar    int
	counts string
}

// none is the bar of a piece that no bar is left for.
const none = -1

// A relaxed is what the linear program over patterns says of a node.
type relaxed struct {
	patterns []Pattern // of the solution, with Times left out
	times    []float64
	prices   []float64 // by piece
	bound    float64   // no plan for the node costs less
}

// relax solves a node's linear program, making patterns until none lowers the cost.
func (s *search) relax(n *node) relaxed {
	rows := newRows(n)
	lp := &program{need: rows.need, limits: rows.limits, pivots: s.pivots}
	var patterns []Pattern
	add := func(p Pattern) {
		patterns = append(patterns, p)
		lp.columns = append(lp.columns, s.column(p, rows))
	}
	first := make([]int, rows.limits)
	for row, piece := range rows.pieces {
		counts := make([]int, len(n.demand))
		counts[piece] = 1
		add(Pattern{Bar: none, Counts: counts})
		first[row] = row
	}
	for i, bar := range rows.musts {
		row := len(rows.pieces) + i
		first[row] = len(patterns)
		patterns = append(patterns, Pattern{Bar: none})
		lp.columns = append(lp.columns, column{cost: float64(s.missing), rows: []int{row}, gives: []float64{1}})
		add(Pattern{Bar: bar, Counts: make([]int, len(n.demand))}) // a bar may be had and left whole
	}
	for _, p := range s.pool {
		if n.allows(p) {
			add(p)
		}
	}
	lp.begin(first)
	scale := float64(s.dearest)
	over := make([]float64, len(s.problem.Bars)) // the most that a bar may be worth
	var y []float64
	for {
		before := lp.pivots
		y = lp.solve(scale)
		s.tried += (1 + lp.pivots - before) * (len(lp.need)*len(lp.need) + 4*len(lp.columns))
		values := rows.values(y, len(n.demand))
		found := false
		for b := range s.problem.Bars {
			if n.stock[b] == 0 {
				continue
			}
			price := float64(s.problem.Bars[b].Price) - rows.limit(y, b) - rows.must(y, b)
			counts, most := s.fill(b, values, n.demand, price+exact*scale, n.barred(b))
			over[b] = most
			if counts != nil {
				p := Pattern{Bar: b, Counts: counts}
				s.pool = append(s.pool, p)
				add(p)
				found = true
			}
		}
		if !found || lp.pivots > mostPivots || s.tried > 2*mostTried {
			break
		}
	}
	s.pivots = lp.pivots
	r := relaxed{prices: rows.values(y, len(n.demand)), bound: s.below(n, rows, y, over)}
	for row, c := range lp.basis {
		if c >= 0 && lp.amount[row] > 1e-7 {
			r.patterns = append(r.patterns, patterns[c])
			r.times = append(r.times, lp.amount[row])
		}
	}
	return r
}

// below is the bound that prices prove: what they make the demand worth, where no
// bar may be worth more than it costs. A bar of which there are few may take the
// rest upon its limit; for others all prices are lowered alike.
func (s *search) below(n *node, rows rows, y, over []float64) float64 {
	shrink, sum := 1.0, 0.0
	for row, need := range rows.need {
		if row < rows.limits || row >= rows.limits+len(rows.few) {
			sum += need * y[row]
		}
	}
	for b, bar := range s.problem.Bars {
		switch {
		case n.stock[b] == 0:
		case n.stock[b] == unlimited:
			if most := over[b] + rows.must(y, b); bar.Price > 0 && most > float64(bar.Price) {
				shrink = math.Max(shrink, most/float64(bar.Price))
			}
		default:
			sum += float64(n.stock[b]) * math.Min(0, math.Min(rows.limit(y, b), float64(bar.Price)-rows.must(y, b)-over[b]))
		}
	}
	return float64(n.cost) + sum/shrink
}

// rows say which row of a node's program stands for what.
type rows struct {
	need   []float64
	limits int         // the rows before it are to be reached
	pieces []int       // by demand row
	musts  []int       // by the rows after those: the bar of which so many must be used
	few    []int       // by limit row: the bar
	caps   []use       // by the rows after those
	at     map[int]int // row of a piece
	limitd map[int]int // row of a bar's stock
	mustd  map[int]int // row of what must be used of a bar
	capped map[use]int
}

func newRows(n *node) rows {
	r := rows{at: map[int]int{}, limitd: map[int]int{}, mustd: map[int]int{}, capped: map[use]int{}}
	for piece, d := range n.demand {
		if d > 0 {
			r.at[piece] = len(r.need)
			r.pieces, r.need = append(r.pieces, piece), append(r.need, float64(d))
		}
	}
	for bar, least := range n.least {
		if least > 0 {
			r.mustd[bar] = len(r.need)
			r.musts, r.need = append(r.musts, bar), append(r.need, float64(least))
		}
	}
	r.limits = len(r.need)
	for bar, left := range n.stock {
		if left > 0 {
			r.limitd[bar] = len(r.need)
			r.few, r.need = append(r.few, bar), append(r.need, float64(left))
		}
	}
	for _, u := range n.sorted() {
		if left := n.caps[u]; left > 0 {
			r.capped[u] = len(r.need)
			r.caps, r.need = append(r.caps, u), append(r.need, float64(left))
		}
	}
	return r
}

// values are the prices by piece.
func (r rows) values(y []float64, pieces int) []float64 {
	v := make([]float64, pieces)
	for row, piece := range r.pieces {
		v[piece] = y[row]
	}
	return v
}

// limit is the price of a bar's scarcity, nothing or below.
func (r rows) limit(y []float64, bar int) float64 {
	if row, few := r.limitd[bar]; few {
		return y[row]
	}
	return 0
}

// must is the price of having to use a bar, nothing or above.
func (r rows) must(y []float64, bar int) float64 {
	if row, known := r.mustd[bar]; known {
		return y[row]
	}
	return 0
}

func (s *search) column(p Pattern, r rows) column {
	c := column{cost: float64(s.price(p.Bar))}
	put := func(row int, v float64) { c.rows, c.gives = append(c.rows, row), append(c.gives, v) }
	for piece, n := range p.Counts {
		if row, wanted := r.at[piece]; n > 0 && wanted {
			put(row, float64(n))
		}
	}
	if row, few := r.limitd[p.Bar]; few {
		put(row, 1)
	}
	if row, must := r.mustd[p.Bar]; must {
		put(row, 1)
	}
	if row, capped := r.capped[use{p.Bar, key(p.Counts)}]; capped {
		put(row, 1)
	}
	return c
}
