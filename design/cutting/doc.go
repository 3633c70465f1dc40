// Package cutting finds how pieces are cut from bars and sheets of stock at least
// cost, and how near to that a plan is known to be.
//
// In goes a Problem: lengths and counts of pieces, the bars that can be had with
// their prices, what a saw cut takes and what is trimmed from a bar's ends. Out
// comes a Plan: patterns (what is cut from one bar) with how many bars are cut so,
// and a bound that no plan can go below. Where cost and bound meet the plan is the
// cheapest there is.
//
//	plan := cutting.Bars(cutting.Problem{Bars: bars, Pieces: pieces, Kerf: 3000})
//	plan.Cost == plan.Bound // proven
//
// The method is that of Gilmore and Gomory (A Linear Programming Approach to the
// Cutting-Stock Problem, Operations Research 9, 1961, and Part II, 11, 1963): a
// linear program over patterns, of which only those are made that lower its value,
// each by a knapsack problem; then branch and bound over how often a pattern is cut
// (Degraeve and Schrage, Optimal integer solutions to industrial cutting stock
// problems, INFORMS Journal on Computing 11, 1999). The bound is made sure in whole
// numbers from the program's prices (Farley, A note on bounding a class of linear
// programming problems, including cutting stock problems, Operations Research 38,
// 1990). Of plans of equal cost the one with the fewest different patterns is
// looked for; that it is the fewest is not proven.
//
// Rectangles from sheets are harder, and sawn from edge to edge they are cut
// differently than around each piece:
//
//	plan := cutting.Sheets(cutting.SheetProblem{Sheets: sheets, Rects: rects, Kerf: 3000})
//	plan.Cost - plan.Bound // 0: proven
//	cutting.SawCuts(problem, plan) // the cuts in order, by settings of the stop
//
// Plans are made outright in many manners, some from combinations of pieces that waste
// next to nothing (Wang, Two algorithms for constrained two-dimensional cutting stock
// problems, Operations Research 31, 1983). Few pieces are then solved exactly by all
// their collections; of more, a few sheets at a time are emptied and filled anew. The
// bound is the better of two: by dual feasible functions (Fekete and Schepers, New
// classes of lower bounds for bin packing problems, Mathematical Programming 91, 2001),
// and by the exact solution for as many of the largest pieces as can be enumerated.
//
// Lengths are whole micrometres, so that what fits is no matter of rounding. Work
// is counted, not timed: the same problem gives the same plan on any machine.
package cutting
