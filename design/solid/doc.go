// Package solid turns the shape of a part into a closed solid with exact faces
// and edges, and measures it.
//
// In goes a [Shape]: a base (a length of bar, a sheet, a group of boxes,
// cylinders, cones, prisms and turned pieces) and holes. Out comes a [Solid]: a
// boundary representation of faces on exact surfaces ([Plane], [Cylinder],
// [Cone]), edges on exact curves ([Line], [Circle], [Ellipse], [Meet]) and
// vertices; circles stay circles. Each face carries the name of the feature that
// made it, and [Solid.Features] lists what a plan can name: faces, slots, holes,
// axes.
//
// Units: lengths are millimetres, areas mm², volumes mm³, angles radians, all
// float64. Axes are right-handed: x right, y back, z up; a built solid has its
// bounding box's left-front-bottom corner at the origin.
//
// Looking at a solid from a direction needs [Solid.Ray] (every place where a ray
// meets the trimmed faces, sorted), [Solid.Contains], the edges with the two
// faces they join ([Edge].Faces), and the surfaces' normals. A Solid is never
// altered after it was built, so many goroutines may read one.
//
// Cutting and joining is an exact boolean on the boundary representation, not
// one on facets: see [Union] and [Subtract]. Two points nearer than [Tolerance]
// are one point. Curves in which round faces meet, where they are neither lines
// nor circles nor ellipses, are kept as a [Meet] of the two surfaces and followed
// to about 1e-9 mm, 1e-6 mm where they turn back.
//
// A body from a file is a [Facets]: triangles in one plane become one face, curved
// regions stay in facets whose edges are smooth ones ([Solid.Smooth]). Package mesh
// reads such files; package proximity tells how near placed solids are.
//
// A further kind of surface, such as a file of another program may bring, joins with
// its own file: the methods of [Surface] and those of kind.go, among them the curves in
// which it meets each kind there is. Union, Subtract and Intersect, trimming, rays
// and meshes ask nothing else of it, and know curves they have no closed form for by
// [Curve] alone; neither names a kind. What rests on the straight lines that all
// surfaces have so far must be told about one that has none: faceBox (its extremes may
// lie within a face), addPart (it integrates along those lines) and roundFace (it cuts
// along them only). A curve that bounds a face but is no closed form needs its case in
// sameCurve only where edges of it should be joined. publish/view takes silhouettes
// from planes, cylinders and cones, and needs a case for each further kind; so does
// packed.go, by which solids are kept from one run to the next.
//
// To read on: shape.go and section.go say what can be asked for, solid.go what
// comes out; build.go, hole.go and group.go lead from one to the other; boolean.go,
// meeting.go, arrange.go, emit.go and stitch.go are the boolean in its order.
//
// A shape that cannot be made gives [Faults], an error that lists what is wrong
// and which field says so. The package never reads files, knows no standards
// (thread sizes come in as numbers) and does not panic on bad shapes.
package solid
