package plan

import "plansheaf/design/finding"

// A Supplier sells parts and stock.
type Supplier struct {
	ID       Word
	Title    Text
	Shipping Shipping
	Least    Quantity // the key "least_order": no order is worth less
	Sells    []Sale
	At       finding.Span
}

// Shipping is what a supplier takes for sending an order.
type Shipping struct {
	Price    Quantity
	FreeFrom Quantity // the worth of an order that ships free; not given: none does
	At       finding.Span
}

// A Sale is one part as one supplier sells it, in packs of one size.
type Sale struct {
	Part     Word
	Supplier string // id, also where the sale stands in the part itself
	Pack     Quantity
	Price    Quantity
	Least    Quantity // packs, at least
	Breaks   []Break
	Code     Text
	Checked  Word // date
	At       finding.Span
}

// A Break is the price of a pack where so many packs are bought.
type Break struct {
	From, Price Quantity
	At          finding.Span
}

// A Buy is a part's or stock's own word on where it comes from.
type Buy struct {
	From        Word // supplier id
	Any         bool // buy: any
	AskFor      Text // buy: {any: "what to ask for"}
	Pack, Price Quantity
	Code        Text
	Checked     Word
	At          finding.Span
}

// A Substitute is what serves in a part's place: whatever is as its text says, or
// another part of the plan.
type Substitute struct {
	Say       Text
	Part      Word
	When      Quantity // a condition on the properties of what is taken, by their plain names
	IfCheaper bool     // the other part is bought wherever that costs less
	At        finding.Span
}
