// Package mesh reads a body in triangles from an STL file, binary or ASCII, and
// tells what is wrong with it.
//
// In go the bytes of the file and the unit that the plan gives it (an STL file
// has none of its own that counts). Out come the welded vertices in millimetres
// and the triangles between them, anticlockwise seen from outside, and a list of
// [Fault] values, each saying where: open edges, corners that stand on a neighbour's
// side (T-junctions), sides in which more than two triangles meet, triangles that lie
// on others, cross others, have no area or face the wrong way, a unit that the file
// itself contradicts. Triangles that overlap within one plane are not found. A mesh without faults becomes a part's shape by
// [Mesh.Shape]; finding its flat faces and its sharp edges is solid's work.
//
// The package reads no files and does not panic, whatever the bytes are: how many
// there may be, and how many triangles, is limited.
package mesh
