// Package standards holds what a workshop looks up: screw threads and the holes
// that go with them, screws, nuts, washers and pins with the lengths a shop
// keeps, their strength, the tools that turn them, fits and general tolerances,
// bearings, materials, drawing sheets and safety signs.
//
// The values stand in embedded CSV tables under tables/. Every table begins with
// comment lines that name the standard, its edition where known, and how far
// each column was checked. A figure that rests on memory alone says so there.
// Each table is read once, when it is first asked for.
//
// Units are plain float64 values: lengths in millimetres, areas in square
// millimetres, forces in newtons, stresses in megapascals, densities in
// kilograms per cubic metre, masses in kilograms, torques in newton metres,
// temperatures in degrees Celsius, angles in degrees. A size written in inches
// keeps its written form beside the millimetres (Thread.Name, Fastener.LengthText).
//
// Designations are read by [Parse] and printed by [Fastener.String]:
//
//	ISO 4762 M8x25 - 8.8
//	ISO 7089 8
//	ASME B18.2.1 1/4-20 x 1 1/4 grade 5
//
// The package never reads a plan, draws nothing and prices nothing. It gives
// nominal sizes; where only a limit is meant, the field says which limit.
package standards
