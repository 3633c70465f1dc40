// Package stackup draws tolerance chains as the trade sketches them: a loop of arrows,
// one below the other, each a size of a part with its tolerance, and the gap that they
// leave.
//
// In goes a chain as package chain works it out, with the system of units and the words
// of a language; out come pictures, millimetres of paper, each low enough for a leaf.
// The sketch is not to scale: places along the chain keep their order, and what lies
// apart is drawn apart, a hundredth of a millimetre as well as half a metre.
package stackup
