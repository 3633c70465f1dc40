// Package risk finds what in a machine can hurt and whether the plan's hazards
// answer it.
//
// In goes a reckoning; out come calls, each a place that can hurt with the kinds of
// hazard that would answer it, and how much current a wire bears. What calls is
// read off properties (voltage, speed, temperature, pressure, laser_class, power),
// off what moves, and off what parts are made of; it is a list of reminders that
// errs on the side of calling, not an assessment of risk. Nothing here says that a
// machine is safe.
package risk
