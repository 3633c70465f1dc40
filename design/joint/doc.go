// Package joint works out what holds the machine together: what each screw goes
// through and how long it must be, what it threads into, how tight it may be, which
// tool turns it.
//
// In go a reckoning, its layout and a joint of the plan; out come, for each place of
// the joint, lengths in millimetres along the screw (a [Stack]), the lengths that
// serve, what stands in the way, and torques in SI units with the assumptions behind
// them. The package places nothing in space.
package joint
