package bill

import (
	"math"

	"plansheaf/design/basket"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Purchase is one line of the shopping list: a part in packs, or a length of
// stock.
type Purchase struct {
	ID       string // of the part or stock that is needed
	As       string // of the alternative that is bought in its place, "" for none
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
	Size     string // stock: "1000 mm", "1220 × 610 mm", "2 × 430 mm, 1 × 200 mm" where it is cut to length
	ToLength bool   // stock cut to length: nothing is left over
	Each     Money  // one pack, bar or sheet, at the price for so many
	Price    Money  // all, rounded
	Priced   bool
}

// An Order is what one supplier gets.
type Order struct {
	Supplier *plan.Supplier // nil: any dealer
	Goods    Money          // its purchases that have a price
	Fill     Money          // whatever else, up to the least order or to free shipping
	Shipping Money
	Least    Money // no order is worth less; 0: any
	FreeFrom Money // ships free where it is worth so much; 0: never, or shipping costs nothing
}

// Total is what the order costs.
func (o Order) Total() Money { return o.Goods + o.Fill + o.Shipping }

// A want is a line of the shopping list before it is known who gets it.
type want struct {
	purchase Purchase
	sales    []sale
}

// A sale is one way to get a want.
type sale struct {
	supplier *plan.Supplier // nil: any
	as       string         // id of the alternative part that it is
	title    string         // of the alternative
	pack     int
	least    int
	price    Price
	breaks   []basket.Break
	code     string
	checked  string
}

// buy lists what to buy for every part, in the plan's order, and for every cut plan,
// each from where all together costs least. The parts that altered ones are made from
// are bought together with what the machine holds of them as they are.
func (b *Bill) buy(r *reckon.Reckoning) {
	bases := map[string]int{}
	for _, line := range b.Lines {
		if base := alteredFrom(line.Part); base != nil {
			bases[base.Part.ID.Text] += line.Count
		}
	}
	var wants []want
	for _, p := range r.Plan.Parts {
		id := p.ID.Text
		line := Line{Part: r.Part(id)}
		if held := b.Line(id); held != nil {
			line = *held
		}
		line.Count += bases[id]
		if Bought(line.Part) && (line.Count > 0 || line.Amount > 0) {
			wants = append(wants, wanted(r, line))
		}
	}
	for _, c := range b.Cuts {
		wants = append(wants, c.wants(r)...)
	}
	b.order(r, wants)
}

// wanted is a part to buy, with its spares and all who sell it.
func wanted(r *reckon.Reckoning, line Line) want {
	part := line.Part.Part
	w := want{purchase: Purchase{ID: part.ID.Text, Title: Title(line.Part), Need: line.Count, Pack: 1}}
	if line.Amount > 0 {
		w.purchase.Need = int(math.Ceil(unitsOf(r, line) - wholeWithin))
	}
	w.purchase.Spare = spares(r, line.Part, w.purchase.Need)
	if part.Buy != nil {
		w.purchase.AskFor = part.Buy.AskFor.Value
	}
	w.sales = salesOf(r, part)
	for _, o := range part.Or {
		other := r.Plan.Part(o.Part.Text)
		if other == nil || other == part || !o.IfCheaper || !Serves(r, part, o) {
			continue
		}
		for _, s := range salesOf(r, other) {
			s.as, s.title = other.ID.Text, Title(r.Part(other.ID.Text))
			if s.price.Known {
				w.sales = append(w.sales, s)
			}
		}
	}
	return w
}

// Serves reports whether a part that an alternative names is as the part's
// conditions ask: the alternative's own, or else all that its fellows state.
func Serves(r *reckon.Reckoning, p *plan.Part, o plan.Substitute) bool {
	for _, when := range Conditions(p, o) {
		if s := r.Serves(o.Part.Text, when); !s.Holds {
			return false
		}
	}
	return true
}

// Conditions are what a part that an alternative names must be: what the alternative
// says itself, or else what those say that name no part.
func Conditions(p *plan.Part, o plan.Substitute) []plan.Quantity {
	if o.When.Given() {
		return []plan.Quantity{o.When}
	}
	var all []plan.Quantity
	for _, other := range p.Or {
		if !other.Part.Given() && other.When.Given() {
			all = append(all, other.When)
		}
	}
	return all
}

// salesOf are all ways in which a part is sold.
func salesOf(r *reckon.Reckoning, p *plan.Part) []sale {
	var out []sale
	for _, s := range SalesOf(r.Plan, p.ID.Text, p.Buy) {
		one := sale{supplier: r.Plan.Supplier(s.Supplier), pack: 1, price: priceOf(r, s.Price), code: s.Code.Value, checked: s.Checked.Text}
		if n, ok := r.Whole(s.Pack); s.Pack.Given() && ok && n > 0 {
			one.pack = n
		}
		if n, ok := r.Whole(s.Least); s.Least.Given() && ok {
			one.least = n
		}
		for _, b := range s.Breaks {
			from, ok := r.Whole(b.From)
			if price := priceOf(r, b.Price); ok && price.Known {
				one.breaks = append(one.breaks, basket.Break{From: from, Price: int64(price.Money)})
			}
		}
		out = append(out, one)
	}
	return out
}

// priceOf is a price of the plan in its currency. One in another currency is not
// known: the plan gives no rates.
func priceOf(r *reckon.Reckoning, q plan.Quantity) Price {
	if !q.Given() {
		return Price{}
	}
	v, ok := r.QuantityIn(q, quantity.Money)
	if !ok || OtherCurrency(r.Plan, v) || v.SI < 0 {
		return Price{}
	}
	return Price{Money: MoneyOf(v.SI), Known: true}
}

// OtherCurrency reports whether an amount is not in the plan's currency.
func OtherCurrency(p *plan.Plan, v quantity.Value) bool {
	return p.Currency.Given() && v.Currency != "" && v.Currency != p.Currency.Text
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

// SaleOf is who sells a part or stock first; nil when nobody does.
func SaleOf(p *plan.Plan, id string, own *plan.Buy) *plan.Sale {
	if all := SalesOf(p, id, own); len(all) > 0 {
		return &all[0]
	}
	return nil
}

// SalesOf are all who sell a part or stock: the suppliers that list it, in the plan's
// order, and its own short entry where that gives a price or nobody lists it.
func SalesOf(p *plan.Plan, id string, own *plan.Buy) []plan.Sale {
	var all []plan.Sale
	for _, s := range p.Suppliers {
		for _, sale := range s.Sells {
			if sale.Part.Text == id {
				sale.Supplier = s.ID.Text
				all = append(all, sale)
			}
		}
	}
	if own == nil || own.Any && !own.Price.Given() || len(all) > 0 && !own.Price.Given() {
		return all
	}
	return append(all, plan.Sale{
		Supplier: own.From.Text, Pack: own.Pack, Price: own.Price, Code: own.Code, Checked: own.Checked, At: own.At,
		Part: plan.Word{Text: id, At: own.At},
	})
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
