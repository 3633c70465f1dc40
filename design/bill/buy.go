package bill

import (
	"math"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Purchase is one line of the shopping list: a part in packs, or a length of
// stock.
type Purchase struct {
	ID       string // of the part or stock
	Title    string
	Supplier *plan.Supplier // nil: any
	AskFor   string         // what to ask for where any supplier will do
	Code     string
	Checked  string // date of the price
	Need     int    // pieces that the machine holds
	Spare    int    // pieces added by the plan's spares
	Pack     int    // pieces in a pack
	Packs    int    // packs to buy
	Left     int    // pieces over
	Size     string // stock: "1000 mm", "1220 × 610 mm", "cut to length"
	Each     Money  // one pack, bar or sheet
	Price    Money  // all
	Priced   bool
}

// buy lists what to buy for every line and every cut plan.
func (b *Bill) buy(r *reckon.Reckoning) {
	for _, line := range b.Lines {
		if Bought(line.Part) {
			b.add(purchase(r, line))
		}
		for _, base := range alteredFrom(line.Part) {
			b.addBase(r, line, base)
		}
	}
	for _, c := range b.Cuts {
		for _, p := range c.purchases(r) {
			b.add(p)
		}
	}
}

func (b *Bill) add(p Purchase) {
	b.Purchases = append(b.Purchases, p)
	b.Cost += p.Price
	if !p.Priced && !slices.Contains(b.Unpriced, p.ID) {
		b.Unpriced = append(b.Unpriced, p.ID)
	}
}

// Bought reports whether a part is bought as it is: a standard part, a bought one,
// a consumable.
func Bought(p *reckon.Part) bool {
	made := p.Part.Made.Text
	return p.Part.Standard.Given() || made == plan.Bought || made == plan.Consumable
}

// alteredFrom is the bought part that an altered one is made from.
func alteredFrom(p *reckon.Part) []*reckon.Part {
	base := p.Base
	for base != nil && base.Part.Made.Text == plan.Altered {
		base = base.Base
	}
	if base != nil && Bought(base) {
		return []*reckon.Part{base}
	}
	return nil
}

// addBase buys the part that an altered one is made from, together with what the
// machine holds of it unaltered.
func (b *Bill) addBase(r *reckon.Reckoning, line Line, base *reckon.Part) {
	id := base.Part.ID.Text
	for i, p := range b.Purchases {
		if p.ID == id {
			b.Cost -= p.Price
			more := purchase(r, Line{Part: base, Count: p.Need + line.Count})
			b.Purchases[i] = more
			b.Cost += more.Price
			return
		}
	}
	b.add(purchase(r, Line{Part: base, Count: line.Count}))
}

func purchase(r *reckon.Reckoning, line Line) Purchase {
	part := line.Part.Part
	p := Purchase{ID: part.ID.Text, Title: Title(line.Part), Need: line.Count, Pack: 1}
	if line.Amount > 0 {
		p.Need = int(math.Ceil(unitsOf(r, line) - wholeWithin))
	}
	p.Spare = spares(r, line.Part, p.Need)
	sale := SaleOf(r.Plan, part.ID.Text, part.Buy)
	if sale == nil {
		if part.Buy != nil {
			p.AskFor = part.Buy.AskFor.Value
		}
		p.Packs = p.Need + p.Spare
		return p
	}
	p.Supplier, p.Code, p.Checked = r.Plan.Supplier(sale.Supplier), sale.Code.Value, sale.Checked.Text
	if n, ok := r.Whole(sale.Pack); sale.Pack.Given() && ok && n > 0 {
		p.Pack = n
	}
	p.Packs = (p.Need + p.Spare + p.Pack - 1) / p.Pack
	p.Left = p.Packs*p.Pack - p.Need
	if v, ok := r.QuantityIn(sale.Price, quantity.Money); sale.Price.Given() && ok {
		p.Each, p.Priced = Rounded(v.SI), true
		p.Price = p.Each * Money(p.Packs)
	}
	return p
}

// wholeWithin lets 2.0000001 purchases be two.
const wholeWithin = 1e-6

// unitsOf is how many purchases of a consumable its use takes; one when the plan
// does not say what a purchase holds.
func unitsOf(r *reckon.Reckoning, line Line) float64 {
	v, ok := r.Quantity(line.Part.Part.Amount)
	if !line.Part.Part.Amount.Given() || !ok || v.SI <= 0 {
		return 1
	}
	return math.Min(line.Amount/v.SI, maxUnits)
}

const maxUnits = 1e6

// spares are the pieces to add by the plan's spares: for fasteners, or for a way
// of being made.
func spares(r *reckon.Reckoning, p *reckon.Part, need int) int {
	for _, s := range r.Plan.Spares {
		kind := s.Name.Text
		fastener := kind == "fasteners" && (p.Part.Standard.Given() || p.Part.Fastener != nil)
		if !fastener && kind != p.Part.Made.Text {
			continue
		}
		v, ok := r.QuantityIn(s.Is, quantity.Pure)
		if !ok || v.SI <= 0 || v.SI > 10 {
			return 0
		}
		return int(math.Ceil(float64(need)*v.SI - wholeWithin))
	}
	return 0
}

// SaleOf is who sells a part or stock: the first supplier that lists it, else its
// own short entry; nil when nobody does.
func SaleOf(p *plan.Plan, id string, own *plan.Buy) *plan.Sale {
	for _, s := range p.Suppliers {
		for i := range s.Sells {
			if s.Sells[i].Part.Text == id {
				sale := s.Sells[i]
				sale.Supplier = s.ID.Text
				return &sale
			}
		}
	}
	if own == nil || own.Any && !own.Price.Given() {
		return nil
	}
	return &plan.Sale{
		Supplier: own.From.Text, Pack: own.Pack, Price: own.Price, Code: own.Code, Checked: own.Checked, At: own.At,
		Part: plan.Word{Text: id, At: own.At},
	}
}

// Title is what a part is called: its own title, or that of its standard.
func Title(p *reckon.Part) string {
	switch {
	case p.Part.Title.Given():
		return p.Part.Title.Value
	case p.Fastener != nil:
		return p.Fastener.Title
	}
	return p.Part.ID.Text
}
