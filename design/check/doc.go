// Package check holds the rules that a plan must keep, one file a rule, and runs
// them.
//
// In goes a plan as read; out come the plan worked out for every case that a
// builder may choose, and all findings: those of the working out and those of the
// rules, each stamped with its rule, sorted by place, the waived ones marked and
// kept. A rule never looks at files or pages; it sees the plan and what follows
// from it.
package check
