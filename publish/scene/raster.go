package scene

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// A raster tells for each cell of a grid on the paper, at 1:1, which body is seen
// there. It finds places; what is drawn comes from exact lines.
type raster struct {
	dir           view.Direction
	from          picture.Point // the top left corner of the grid
	cell          float64       // mm
	width, height int
	body          []int32   // by cell: index of the body in front, -1 for none
	face          []int32   // by cell: index of its face
	depth         []float64 // by cell: how near to the eye it is, mm
}

// mostCells bounds a raster in each direction.
const mostCells = 2000

// newRaster covers a box with cells of a size in mm, or larger ones where they
// would be too many.
func newRaster(dir view.Direction, box picture.Box, cell float64) *raster {
	size := box.Max.Minus(box.Min)
	cell = max(cell, size.X/mostCells, size.Y/mostCells)
	g := &raster{dir: dir, from: box.Min, cell: cell, width: int(size.X/cell) + 1, height: int(size.Y/cell) + 1}
	n := g.width * g.height
	g.body, g.face, g.depth = make([]int32, n), make([]int32, n), make([]float64, n)
	for i := range g.body {
		g.body[i], g.depth[i] = -1, math.Inf(-1)
	}
	return g
}

// spot is a point on the paper with its nearness to the eye.
type spot struct{ x, y, z float64 }

// add puts a piece into the raster under a number.
func (g *raster) add(p layout.Piece, mesh *solid.Mesh, number int) {
	spots := make([]spot, len(mesh.Vertices))
	for i, v := range mesh.Vertices {
		w := p.At.Point(v)
		f := g.dir.Flat(w)
		spots[i] = spot{(f.X-g.from.X)/g.cell - 0.5, (f.Y-g.from.Y)/g.cell - 0.5, w.Dot(g.dir.Toward)}
	}
	for i, t := range mesh.Triangles {
		g.triangle(spots[t[0]], spots[t[1]], spots[t[2]], int32(number), int32(mesh.Faces[i]))
	}
}

// triangle fills the cells whose middles lie in a triangle and before what is there.
// Those that look away from the eye hide nothing that others of their solid do not.
func (g *raster) triangle(a, b, c spot, body, face int32) {
	area := (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
	if !(area < 0) { // y runs downward
		return
	}
	// Shares of the three corners, and nearness, are linear in x and y.
	u0, ux, uy := ((b.x*c.y)-(b.y*c.x))/area, (b.y-c.y)/area, (c.x-b.x)/area
	v0, vx, vy := ((c.x*a.y)-(c.y*a.x))/area, (c.y-a.y)/area, (a.x-c.x)/area
	top, bottom := int(math.Ceil(max(0, min(a.y, b.y, c.y)))), int(min(float64(g.height-1), max(a.y, b.y, c.y)))
	low, high := math.Ceil(max(0, min(a.x, b.x, c.x))), math.Floor(min(float64(g.width-1), max(a.x, b.x, c.x)))
	for y := top; y <= bottom; y++ {
		u, v := u0+uy*float64(y), v0+vy*float64(y)
		left, right := inside(u, ux, low, high)
		left, right = inside(v, vx, left, right)
		left, right = inside(1-u-v, -ux-vx, left, right)
		if left > right {
			continue
		}
		z, step := c.z+u*(a.z-c.z)+v*(b.z-c.z), ux*(a.z-c.z)+vx*(b.z-c.z)
		row := y * g.width
		for x := int(left); x <= int(right); x++ {
			if near := z + step*float64(x); near > g.depth[row+x] {
				g.depth[row+x], g.body[row+x], g.face[row+x] = near, body, face
			}
		}
	}
}

// inside narrows a range of whole numbers to where a linear function is not negative.
func inside(at, step, low, high float64) (float64, float64) {
	switch {
	case step > 0:
		return max(low, math.Ceil(-at/step)), high
	case step < 0:
		return low, min(high, math.Floor(-at/step))
	case at < 0:
		return 1, 0
	}
	return low, high
}

// point is where on the paper, at 1:1, the middle of a cell lies.
func (g *raster) point(i int) picture.Point {
	return picture.Point{
		X: g.from.X + (float64(i%g.width)+0.5)*g.cell,
		Y: g.from.Y + (float64(i/g.width)+0.5)*g.cell,
	}
}

// survey is a raster of pieces on a paper's scale, each under its index.
func (s *Studio) survey(pieces []layout.Piece, dir view.Direction, a *art) *raster {
	g := newRaster(dir, a.box, sightCell/a.scale)
	for i, p := range pieces {
		if drawnBox(p, dir).Overlaps(a.box) {
			g.add(p, s.mesh(p.Solid), i)
		}
	}
	return g
}

// shown are those of so many bodies that are seen on some cell, in order.
func (g *raster) shown(bodies int) []int {
	there := make([]bool, bodies)
	for _, b := range g.body {
		if b >= 0 {
			there[b] = true
		}
	}
	var out []int
	for i, seen := range there {
		if seen {
			out = append(out, i)
		}
	}
	return out
}

// seen reports whether a point in space lies before everything in the raster.
func (g *raster) seen(p solid.Vec) bool {
	f := g.dir.Flat(p)
	x, y := int(math.Floor((f.X-g.from.X)/g.cell)), int(math.Floor((f.Y-g.from.Y)/g.cell))
	if x < 0 || y < 0 || x >= g.width || y >= g.height {
		return true
	}
	return p.Dot(g.dir.Toward) > g.depth[y*g.width+x]
}

// clearance is by cell how far, in cells, it is to the nearest one that shows
// another face, counted in steps to a neighbour.
func (g *raster) clearance() []int32 {
	clear := make([]int32, len(g.body))
	at := func(x, y, me int) int32 { // what a neighbour allows
		if x < 0 || y < 0 || x >= g.width || y >= g.height {
			return 0
		}
		i := y*g.width + x
		if g.body[i] != g.body[me] || g.face[i] != g.face[me] {
			return 0
		}
		return clear[i]
	}
	for i := range clear {
		clear[i] = int32(len(g.body))
	}
	for y := range g.height {
		for x := range g.width {
			i := y*g.width + x
			clear[i] = min(clear[i], 1+min(at(x-1, y, i), at(x, y-1, i), at(x-1, y-1, i), at(x+1, y-1, i)))
		}
	}
	for y := g.height - 1; y >= 0; y-- {
		for x := g.width - 1; x >= 0; x-- {
			i := y*g.width + x
			clear[i] = min(clear[i], 1+min(at(x+1, y, i), at(x, y+1, i), at(x+1, y+1, i), at(x-1, y+1, i)))
		}
	}
	return clear
}
