// Package joint works out what holds the machine together: which fastener a joint
// uses, what it threads into, how tight it may be, and which tool turns it.
//
// In go a reckoning and a joint of the plan; out come numbers in SI units and
// millimetres and the assumptions behind them. The package places nothing in
// space.
package joint
