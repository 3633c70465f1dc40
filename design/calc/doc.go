// Package calc runs a plan's calculations: what each formula comes to, shown
// worked, with its spread and what drives it, against what was recorded and what
// is required.
//
// In goes a reckoning (a plan worked out for one case); out comes a report a
// calculation. Judging which report is a fault of the plan is left to package
// check.
package calc
