// Package way finds how an assembly comes apart: which straight ways lead its parts
// out past what still stands, and in which order.
//
// In go the pieces of an assembly where they stand ([layout.Layout.Pieces]); out
// come unit vectors in the assembly's axes and millimetres. A [Space] tells how far
// one piece may move before it runs into another, by the overlap of their solids
// along the whole way; an [Assembly] moves what belongs together as one [Unit].
//
// Things only slide straight: a way that needs a turn, a bend or a detour is not
// found. Nothing is drawn here, and no layout is altered.
package way
