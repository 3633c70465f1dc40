// Package notation sets formulas as handbooks do: fractions, roots, powers,
// indices, growing brackets, cases.
//
// In goes a formula's tree, alone or with values for its names; out comes a tree of
// what is to be seen (Of, With), the same for every medium. From it are made MathML
// for the site (MathML), boxes of letters and rules for paper (Layout), one line of
// words for a table's cell (Linear, Pieces), and words for those who cannot see it
// (Words). A formula wider than its place is broken at relations, then at plus and
// minus, then at products and within brackets and fractions (Lines).
//
// Lengths are in ems of the text's size unless something else is said.
package notation
