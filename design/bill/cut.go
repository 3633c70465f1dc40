package bill

import (
	"math"
	"sort"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A CutPlan says how the parts of one stock are cut from what can be had.
type CutPlan struct {
	Stock  *plan.Stock
	Pieces []Piece // longest or largest first
	Ways   []Way   // the bars or sheets that can be had
	Pieced []Stick // those to take, each with what is cut from it
	// ToLength is set where the stock is bought cut to length: nothing is laid out.
	ToLength *plan.Sold
	CutCost  Price     // what it costs so, where it is sold so
	Cost     Price     // of the bars or sheets to buy
	Counted  bool      // bars or sheets are spared, not money: the plan says so or lacks a price
	Bound    Money     // no plan costs less; where they are counted it is Fewest that counts
	Fewest   int       // no plan takes fewer bars or sheets; 0 where cost is spared
	Kerf     float64   // mm
	Trim     float64   // mm at either end of a bar, along every side of a sheet
	TooBig   []Piece   // pieces that no bar or sheet that can be had can give
	Settings []Setting // the order of the cuts; none where a router cuts
	Unlaid   int       // pieces beyond the maxSticks bars or sheets that a plan may have
}

// A Price is money, if it is known.
type Price struct {
	Money Money
	Known bool
}

// A Way is a size of bar or sheet that can be had: as sold, or an offcut on hand.
type Way struct {
	Sold   *plan.Sold // nil: on hand
	OnHand int
	Size   [2]float64 // mm: length, of sheets also width
	Price  Price      // of one; nothing for an offcut
}

// Proven reports whether no plan can be better.
func (c CutPlan) Proven() bool {
	if c.Counted {
		return c.bought() == c.Fewest
	}
	return c.Cost.Money == c.Bound
}

// Largest is the size of the largest bar or sheet that can be had, zeros for none.
func (c CutPlan) Largest() (size [2]float64) {
	for _, w := range c.Ways {
		if w.Size[0] > size[0] || w.Size[0] == size[0] && w.Size[1] > size[1] {
			size = w.Size
		}
	}
	return size
}

// Size is that of a stick.
func (c CutPlan) Size(s Stick) [2]float64 { return c.Ways[s.Way].Size }

// Taken is how many bars or sheets of each way the plan takes.
func (c CutPlan) Taken() []int {
	taken := make([]int, len(c.Ways))
	for _, s := range c.Pieced {
		taken[s.Way]++
	}
	return taken
}

// bought is how many bars or sheets are to be bought.
func (c CutPlan) bought() int {
	n := 0
	for way, taken := range c.Taken() {
		if c.Ways[way].Sold != nil {
			n += taken
		}
	}
	return n
}

// A Piece is a part to cut: its length, or length and width, in millimetres.
type Piece struct {
	Part   *reckon.Part
	Count  int
	Length float64
	Width  float64 // sheets; 0 for bars
	// Angles are those by which the saw is turned from a square cut at the start and the
	// end of a bar's piece, radians; its length is then from tip to tip.
	Angles [2]float64
}

// A Stick is one bar or sheet with its cuts.
type Stick struct {
	Way  int // index in the plan's ways
	Cuts []Cut
	Left float64 // bars: mm over after trims and cuts
	// Rests are what is left over of a sheet, largest first; of a sheet cut by a
	// router the largest rectangle alone.
	Rests []Rest
}

// A Rest is a rectangle left over, mm from the sheet's corner.
type Rest struct{ X, Y, Length, Width float64 }

// A Cut is one piece in its place on a bar or sheet, mm from its start or corner.
type Cut struct {
	Part          *reckon.Part
	X, Y          float64
	Length, Width float64
	Turned        bool // sheets: by a quarter turn
	// Slant is how far the left and the right end of a bar's piece, as it lies on the bar,
	// lie farther along at the bar's upper side than at its lower, mm. Its sides are
	// those in whose plane it is mitred; ends mitred about different axes show none.
	Slant [2]float64
}

// Bars reports whether the plan cuts bars rather than sheets.
func (c CutPlan) Bars() bool { return c.Stock.Section != nil }

// maxSticks bounds a cut plan, so that a hostile count ends.
const maxSticks = 20000

// cutPlans lays out every stock that the lines cut from, in the plan's order.
func cutPlans(r *reckon.Reckoning, lines []Line) []CutPlan {
	var plans []CutPlan
	for _, stock := range r.Plan.Stock {
		c := CutPlan{Stock: stock}
		if kerf, ok := r.Length(stock.Kerf); ok {
			c.Kerf = math.Max(0, kerf)
		}
		if trim, ok := r.Length(stock.Trim); ok {
			c.Trim = math.Max(0, trim)
		}
		for _, line := range lines {
			if line.Part.Stock == stock && line.Count > 0 {
				if piece, ok := pieceOf(r, line); ok {
					c.Pieces = append(c.Pieces, piece)
				}
			}
		}
		if len(c.Pieces) == 0 {
			continue
		}
		sort.SliceStable(c.Pieces, func(i, j int) bool {
			if a, b := c.Pieces[i], c.Pieces[j]; a.Width != b.Width {
				return a.Width > b.Width
			}
			return c.Pieces[i].Length > c.Pieces[j].Length
		})
		plans = append(plans, best(r, c))
	}
	return plans
}

// pieceOf is the blank that a part is cut as.
func pieceOf(r *reckon.Reckoning, line Line) (Piece, bool) {
	p := Piece{Part: line.Part, Count: line.Count}
	if line.Part.Stock.Section != nil {
		var ok bool
		p.Length, ok = r.Length(line.Part.Part.Length)
		if bar := line.Part.Bar; bar != nil {
			p.Angles = [2]float64{bar.Start.Angle, bar.End.Angle}
		}
		return p, ok && p.Length > 0
	}
	if line.Part.Solid == nil {
		return p, false
	}
	size := line.Part.Solid.Box().Max.Sub(line.Part.Solid.Box().Min)
	p.Length, p.Width = size.X, size.Y
	return p, true
}

// best lays the pieces out on what can be had, and takes them cut to length where
// that is sold and costs less.
func best(r *reckon.Reckoning, c CutPlan) CutPlan {
	c.Ways = ways(r, c.Stock)
	c.Counted = c.Stock.Aim.Text == "bars"
	for _, w := range c.Ways {
		c.Counted = c.Counted || !w.Price.Known
	}
	if len(c.Ways) > 0 {
		if c.Bars() {
			c.bars(r)
		} else {
			c.sheets(r)
		}
		c.price()
	}
	for i := range c.Stock.Sold {
		sold := &c.Stock.Sold[i]
		if !sold.Cut {
			continue
		}
		c.CutCost = c.toLength(r, sold)
		laid := len(c.Ways) > 0 && len(c.TooBig) == 0 && c.Unlaid == 0
		if !laid || c.CutCost.Known && c.Cost.Known && c.CutCost.Money < c.Cost.Money {
			c.ToLength, c.Pieced, c.Settings, c.TooBig, c.Unlaid = sold, nil, nil, nil, 0
		}
		break
	}
	return c
}

// ways are what can be had of a stock, in the plan's order, what is on hand last.
func ways(r *reckon.Reckoning, s *plan.Stock) []Way {
	var out []Way
	add := func(w Way, length plan.Quantity, size []plan.Quantity) {
		var ok bool
		if s.Section != nil {
			w.Size[0], ok = r.Length(length)
		} else if len(size) == 2 {
			w.Size[0], ok = r.Length(size[0])
			if ok {
				w.Size[1], ok = r.Length(size[1])
			}
		}
		if ok && w.Size[0] > 0 && (s.Section != nil || w.Size[1] > 0) {
			out = append(out, w)
		}
	}
	for i := range s.Sold {
		sold := &s.Sold[i]
		if sold.Cut {
			continue
		}
		add(Way{Sold: sold, Price: priceOf(r, sold.Price)}, sold.Length, sold.Size)
	}
	for _, o := range s.Offcuts {
		w := Way{OnHand: 1, Price: Price{Known: true}}
		if o.Count.Given() {
			if n, ok := r.Whole(o.Count); ok {
				w.OnHand = n
			}
		}
		if w.OnHand > 0 {
			add(w, o.Length, o.Size)
		}
	}
	return out
}

// known takes over what was found beside the layouts: the pieces that nothing can
// give, by piece how many were left, and the bound.
func (c *CutPlan) known(unfit, unlaid []int, bound int64) {
	for _, i := range unfit {
		c.TooBig = append(c.TooBig, c.Pieces[i])
	}
	for _, n := range unlaid {
		c.Unlaid += n
	}
	if c.Counted {
		c.Fewest = int(bound)
	} else {
		c.Bound = Money(bound)
	}
}

// price adds up what the plan's bars or sheets cost.
func (c *CutPlan) price() {
	c.Cost = Price{Known: true}
	for way, n := range c.Taken() {
		w := c.Ways[way]
		c.Cost.Known = c.Cost.Known && (w.Price.Known || n == 0)
		c.Cost.Money += w.Price.Money.Times(n)
	}
}

// toLength is what the pieces cost bought cut to length.
func (c CutPlan) toLength(r *reckon.Reckoning, sold *plan.Sold) Price {
	v, ok := r.Quantity(sold.Price)
	if !ok || OtherCurrency(r.Plan, v) {
		return Price{}
	}
	var cut Price
	if sold.PerCut.Given() {
		if cut = priceOf(r, sold.PerCut); !cut.Known {
			return Price{}
		}
	}
	lengths, counts := make([]int64, len(c.Pieces)), make([]int, len(c.Pieces))
	for i, p := range c.Pieces {
		lengths[i], counts[i] = micro(p.Length), p.Count
	}
	return Price{Money: cutToLength(MoneyOf(v.SI), cut.Money, lengths, counts), Known: true}
}

func millimetres(mm float64) string { return quantity.Text(quantity.MM(mm), quantity.Metric) }
