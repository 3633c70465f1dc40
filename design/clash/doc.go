// Package clash finds what cannot stand or move as a plan has it: bodies of the
// machine that overlap, parts that float, and what runs into what on the way of a
// motion.
//
// In go a reckoning and its layout; out comes a [Report] with bodies named by their
// paths, depths and gaps in millimetres, volumes in cubic millimetres and places in
// the machine's axes.
//
// What is meant to overlap is known and left out: the screw, washers and nut of a
// joint with each other and with the layers that they go through, which package
// joint looks at; shaft and hole of a fit, running thread or grip as far as their
// diameters differ; a belt and its pulleys; the two halves of a telescoping part, and
// such a part and what its ends are fixed to; and what the plan states as overlapping, down to the depth that it states.
//
// Of a sub-assembly with several instances, which all hold the same, the inside is
// looked at once. Pairs of bodies of the same shapes in the same position are measured
// once for all that share a [Store]: instances, cases, positions of motions.
//
// From one run to the next these, the ways of two bodies past each other and what strands
// meet are kept in [Store.Kept], by the shapes, the exact places and how they move; layouts
// and boxes are made anew each time. Bodies are prepared for measuring only where something
// is measured.
//
// Each motion is followed from where it rests to both of its ends, with all other
// motions at rest and then with each other one alone at either of its ends. How the bodies
// move follows from positions in which the machine is laid out: where a body slides and
// turns evenly, which a tiny step tells and samples confirm, all of its way is known;
// others are taken piece by piece between samples. On that way no overlap deeper than
// [Deep] is missed (conservative advancement, see [proximity.Sweep]). What turns about an
// axis of its own is first taken as the body of revolution that it sweeps. Where bodies
// come nearest is known to within [Close] (see [proximity.Nears]). A belt that a motion
// leads another way is looked at in 25 places along it, and not between these.
//
// Cables, hoses and wires are drawn straight from place to place, as cylinders with rounded
// ends, and go along with what they are fixed to; where a motion moves them, they are laid
// in 25 places of its range and taken as straight in between, with all other motions at
// rest. What they begin at, pass or end at may touch them anywhere, and so may other
// strands: they give way to each other. At rest they give way as far as their length lets
// them ([Crossed]); where a hole or a clip holds them they cannot ([Pierced]); what runs
// into them on a motion's way is a [Snag].
//
// Two bodies that several motions move to each other are then followed with all of these
// anywhere: one motion along its way, the others in cells of their ranges, halved until
// the bodies are farther apart than the others can bring them within the cell (branch and
// bound). No overlap deeper than one and a half times [Deep] is missed; where the work is
// bounded before that is known, and where motions alter each other, the report leaves the
// pair [Open].
//
// Running threads and sliding fits are followed along the motions too: see [Guided]. The
// package never alters a layout.
package clash
