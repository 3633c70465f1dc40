// Package basket finds the cheapest way to buy a list of items: each needed in a
// number of pieces, sold in packs by several suppliers, with prices that fall from
// so many packs, a least number of packs, shipping that is free from a value, and a
// least value of an order. It knows nothing of plans.
//
//	found := basket.Cheapest(problem)
//	found.Proven() // nothing is cheaper
//
// An item may be split between suppliers. An order below a supplier's least value
// costs that value: the rest, told as the order's fill, buys whatever the builder
// likes. An order that is nearer to free shipping than shipping costs is filled up
// likewise. So an order never becomes cheaper when more is put into it, and buying
// more of an item than is needed can pay by a lower price or a larger pack alone.
//
// The search decides supplier by supplier: nothing is ordered there, or shipping is
// paid, or the order is worth enough to go without. The bound at each decision is a
// Lagrangian one: what an order must at least be worth is shared between the order
// and its lines. Where all is decided, the items are gone through one by one, with
// what has been spent at each supplier as the state. The work is counted, not timed,
// and where it runs out the bound says how far from the best the basket may be.
//
// Costs that are equal are told apart by fewer lines and preferred suppliers, as far
// as no order is filled up.
package basket
