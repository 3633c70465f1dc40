// Package layout places every part of a machine in space for one case.
//
// In goes a reckoning; out comes, for each instance, the placement that takes the
// part's own axes to those of the machine, in millimetres. Motions stand where they
// rest. Belts, cables and telescoping parts have no rigid place and are left out.
// What cannot be placed as the plan asks is a finding.
package layout
