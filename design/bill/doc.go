// Package bill counts what a builder must get: how many of each part, in which
// packs, what is left over, what it costs and weighs, and what bars and sheets the
// cut parts come from.
//
// In goes a reckoning (a plan worked out for one case); out come lists in the
// order of the plan. Money is counted in whole hundredths of the plan's currency,
// so that sums never drift. What has no price counts as unpriced, never as free.
package bill
