// Package bill counts what a builder must get: how many of each part, in which
// packs, what is left over, what it costs and weighs, and what bars and sheets the
// cut parts come from.
//
// In goes a reckoning (a plan worked out for one case); out come lists in the
// order of the plan. Who gets which order is the cheapest way that design/basket
// finds, over all suppliers with their shipping and least orders. Money is counted in
// ten-thousandths of the plan's currency and rounded to hundredths, half up, once a
// line, so that sums never drift. What has no price counts as unpriced, never as free.
package bill
