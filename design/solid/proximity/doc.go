// Package proximity tells how near placed solids are to each other: how far
// apart, how much they overlap, and whether one runs into another on its way.
//
// In go solids, each prepared once by [New], and placements; out come
// millimetres, cubic millimetres and places in the world. A [Body] holds its
// faces in triangles in a tree of boxes, which finds what is near; the answer
// itself is then worked out on the exact faces and edges, so that a shaft in a
// bore a hundredth of a millimetre wider is found clear of it by just half that.
//
// [Distance], [Overlap] and [Depth] measure; [Clear] only answers whether two bodies
// keep apart, or overlap no deeper than is allowed, and costs least. [Sweep] moves a
// body along a way.
//
// For an assembly, [Pairs] first gives the few pairs whose boxes are near, and a
// [Scene] holds its bodies while parts come and go, to be asked what a placed body
// is near, does not keep clear of, or runs into on its way.
//
// The package never alters a solid; its functions may run in many goroutines.
package proximity
