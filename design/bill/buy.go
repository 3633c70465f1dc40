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
	Left     int    // pieces over, spares among them
	Size     string // stock: "1000 mm", "1220 × 610 mm", "cut to length"
	Each     Money  // one pack, bar or sheet
	Price    Money  // all
	Priced   bool
}

// buy lists what to buy for every part, in the plan's order, and for every cut
// plan. The parts that altered ones are made from are bought together with what the
// machine holds of them as they are.
func (b *Bill) buy(r *reckon.Reckoning) {
	bases := map[string]int{}
	for _, line := range b.Lines {
		if base := alteredFrom(line.Part); base != nil {
			bases[base.Part.ID.Text] += line.Count
		}
	}
	for _, p := range r.Plan.Parts {
		id := p.ID.Text
		line := Line{Part: r.Part(id)}
		if held := b.Line(id); held != nil {
			line = *held
		}
		line.Count += bases[id]
		if Bought(line.Part) && (line.Count > 0 || line.Amount > 0) {
			b.add(purchase(r, line))
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

// alteredFrom is the bought part that an altered one is made from, nil for others.
func alteredFrom(p *reckon.Part) *reckon.Part {
	base := p.Base
	for base != nil && base.Part.Made.Text == plan.Altered {
		base = base.Base
	}
	if base != nil && Bought(base) {
		return base
	}
	return nil
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
		p.Packs, p.Left = p.Need+p.Spare, p.Spare
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
		p.Price = p.Each.Times(p.Packs)
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
	fastener := p.Part.Standard.Given() || p.Part.Fastener != nil
	made := p.Part.Made.Text
	return share(r, need, func(kind string) bool {
		return kind == "fasteners" && fastener || kind == made || kind == made+"s" // consumables
	})
}

// share is the plan's share of spares, of the first kind that fits, on top of what
// is needed: whole pieces, rounded up.
func share(r *reckon.Reckoning, need int, fits func(kind string) bool) int {
	for _, s := range r.Plan.Spares {
		if !fits(s.Name.Text) {
			continue
		}
		v, ok := r.QuantityIn(s.Is, quantity.Pure)
		if !ok || v.SI <= 0 || v.SI > mostSpare {
			return 0
		}
		return int(math.Ceil(float64(need)*v.SI - wholeWithin))
	}
	return 0
}

// mostSpare is the largest share of spares that is believed: ten for one.
const mostSpare = 10

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
