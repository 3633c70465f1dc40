// Package trial supports tests: it reads small plans that stand in the test itself,
// and works them out.
//
// A plan is given as the text of its files by path; what every plan must have
// (plan.yaml, a machine named rig) is added where it is missing.
package trial
