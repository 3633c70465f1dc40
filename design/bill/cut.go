package bill

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A CutPlan says how the parts of one stock are cut from what is sold.
type CutPlan struct {
	Stock  *plan.Stock
	Pieces []Piece // longest or largest first
	Pieced []Stick // the bars or sheets to buy, each with what is cut from it
	Bound  int     // no plan can do with fewer bars or sheets of this size
	Size   [2]float64
	Sold   *plan.Sold // nil when the stock does not say how it is sold
	Kerf   float64    // mm
	Trim   float64    // mm at either end of a bar, along every side of a sheet
	TooBig []Piece    // pieces that no bar or sheet as sold can give
	Unlaid int        // pieces beyond the maxSticks bars or sheets that a plan may have
}

// A Piece is a part to cut: its length, or length and width, in millimetres.
type Piece struct {
	Part   *reckon.Part
	Count  int
	Length float64
	Width  float64 // sheets; 0 for bars
}

// A Stick is one bar or sheet with its cuts.
type Stick struct {
	Cuts []Cut
	Left float64 // bars: mm over after trims and cuts
}

// A Cut is one piece in its place on a bar or sheet, mm from its start or corner.
type Cut struct {
	Part          *reckon.Part
	X, Y          float64
	Length, Width float64
	Turned        bool // sheets: by a quarter turn
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
		return p, ok && p.Length > 0
	}
	if line.Part.Solid == nil {
		return p, false
	}
	size := line.Part.Solid.Box().Max.Sub(line.Part.Solid.Box().Min)
	p.Length, p.Width = size.X, size.Y
	return p, true
}

// best lays the pieces out on each size as sold and keeps the plan that leaves out
// the fewest pieces; of those the cheapest, of equal price the first. Stock sold
// only to length, or not said how, needs none.
func best(r *reckon.Reckoning, c CutPlan) CutPlan {
	kept := c
	price := math.Inf(1)
	for i := range c.Stock.Sold {
		sold := &c.Stock.Sold[i]
		try := c
		try.Sold = sold
		var ok bool
		switch {
		case sold.Cut:
			ok = true
		case c.Bars():
			if try.Size[0], ok = r.Length(sold.Length); ok {
				try.bars()
			}
		default:
			if try.Size, ok = sheetSize(r, sold); ok {
				try.sheets()
			}
		}
		if !ok {
			continue
		}
		cost := try.cost(r)
		fewer := len(try.TooBig) - len(kept.TooBig)
		if kept.Sold == nil || fewer < 0 || fewer == 0 && cost < price {
			kept, price = try, cost
		}
	}
	return kept
}

func sheetSize(r *reckon.Reckoning, sold *plan.Sold) (size [2]float64, ok bool) {
	if len(sold.Size) != 2 {
		return size, false
	}
	w, okW := r.Length(sold.Size[0])
	h, okH := r.Length(sold.Size[1])
	return [2]float64{w, h}, okW && okH
}

// cost is what the plan's bars or sheets cost; unknown prices count as dear so
// that a priced way is preferred.
func (c CutPlan) cost(r *reckon.Reckoning) float64 {
	v, ok := r.Quantity(c.Sold.Price)
	if !ok {
		return math.MaxFloat64
	}
	if !c.Sold.Cut {
		return v.SI * float64(len(c.Pieced))
	}
	var total float64
	perCut := 0.0
	if c.Sold.PerCut.Given() {
		cut, _ := r.Quantity(c.Sold.PerCut)
		perCut = cut.SI
	}
	for _, p := range c.Pieces {
		total += float64(p.Count) * (v.SI*p.Length/1000 + perCut)
	}
	return total
}

// purchase is what to buy for the plan. Pieces that could not be laid out leave it
// without a price.
func (c CutPlan) purchase(r *reckon.Reckoning) Purchase {
	p := Purchase{ID: c.Stock.ID.Text, Title: c.Stock.Title.Value, Pack: 1}
	if buy := c.Stock.Buy; buy != nil {
		p.Supplier, p.AskFor, p.Code, p.Checked = r.Plan.Supplier(buy.From.Text), buy.AskFor.Value, buy.Code.Value, buy.Checked.Text
	}
	if c.Sold == nil {
		return p
	}
	if c.Sold.Cut {
		var sizes []string
		for _, piece := range c.Pieces {
			p.Need += piece.Count
			sizes = append(sizes, fmt.Sprintf("%d × %s", piece.Count, millimetres(piece.Length)))
		}
		p.Packs = p.Need
		p.Size = "cut to length: " + strings.Join(sizes, ", ")
	} else {
		p.Need = len(c.Pieced)
		p.Spare = share(r, p.Need, func(kind string) bool { return kind == "stock" })
		p.Packs = p.Need + p.Spare
		p.Left = p.Spare
		p.Size = millimetres(c.Size[0])
		if !c.Bars() {
			p.Size = fmt.Sprintf("%s × %s", strings.TrimSuffix(millimetres(c.Size[0]), " mm"), millimetres(c.Size[1]))
		}
		if v, ok := r.QuantityIn(c.Sold.Price, quantity.Money); ok {
			p.Each = Rounded(v.SI)
			p.Price, p.Priced = p.Each.Times(p.Packs), c.Unlaid == 0
		}
		return p
	}
	if _, ok := r.Quantity(c.Sold.Price); ok {
		p.Price, p.Priced = Rounded(c.cost(r)), true
	}
	return p
}

func millimetres(mm float64) string { return quantity.Text(quantity.MM(mm), quantity.Metric) }
