// Package layout places every part of a machine in space for one case.
//
// In goes a reckoning; out comes, for each instance, the placement that takes the
// part's own axes to those of the machine, in millimetres. Motions stand where they
// rest, or where the caller asks. Belts are laid around their pulleys, strands run
// straight from point to point, telescoping parts are stretched between two places;
// these have no placement of their own but are listed with what they need and what
// they have. At each place of a joint its screw, washers, nut or insert stand in their
// places along the axis, with what the screw meets there. What cannot be placed as the
// plan asks is a finding.
package layout
