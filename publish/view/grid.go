package view

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// grid sorts the plane of the view into square cells. Each cell knows the
// contours that run through it, the patches that lie over it, and how near to
// the eye the nearest plane face is that covers all of it.
type grid struct {
	x0, y0, size float64
	nx, ny       int
	contours     [][]over
	patches      [][]over
	// cover is the height below which everything in the cell is hidden.
	cover []float64
}

// over is something in a cell and how near to the eye it comes there.
type over struct {
	index int32
	top   float64
}

// mostCells along a side of the grid bounds its memory.
const mostCells = 320

// newGrid makes a grid over all items for about as many cells as there are
// items.
func newGrid(items []item, patches int) *grid {
	lowX, lowY, highX, highY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range items {
		lowX, lowY = math.Min(lowX, items[i].low.X), math.Min(lowY, items[i].low.Y)
		highX, highY = math.Max(highX, items[i].high.X), math.Max(highY, items[i].high.Y)
	}
	if len(items) == 0 {
		lowX, lowY, highX, highY = 0, 0, 1, 1
	}
	lowX, lowY, highX, highY = lowX-1, lowY-1, highX+1, highY+1
	w, h := highX-lowX, highY-lowY
	size := math.Max(math.Sqrt(w*h/(2*float64(max(len(items), patches))+16)), math.Max(w, h)/mostCells)
	g := &grid{x0: lowX, y0: lowY, size: size, nx: int(w/size) + 1, ny: int(h/size) + 1}
	n := g.nx * g.ny
	g.contours, g.patches, g.cover = make([][]over, n), make([][]over, n), make([]float64, n)
	for i := range g.cover {
		g.cover[i] = math.Inf(-1)
	}
	return g
}

// column and row of a coordinate, kept within the grid.
func (g *grid) column(x float64) int { return max(0, min(g.nx-1, int((x-g.x0)/g.size))) }
func (g *grid) row(y float64) int    { return max(0, min(g.ny-1, int((y-g.y0)/g.size))) }

// cell returns the cell of a point.
func (g *grid) cell(x, y float64) int { return g.row(y)*g.nx + g.column(x) }

// walk calls visit for every cell that a track may run through, with how near
// to the eye it comes there; a cell may come up again.
func (g *grid) walk(k *track, visit func(cell int, top float64)) {
	switch {
	case k.form == free:
		for i := range chainLinks {
			low, high := linkBox(k.chain[i], k.chain[i+1])
			g.visitBox(low, high, visit)
		}
		return
	case k.linear && k.lift == nil:
		g.walkLine(k.at(k.t0), k.at(k.t1), visit)
		return
	}
	const parts = 8
	step := (k.t1 - k.t0) / parts
	for i := range parts {
		g.walkPart(k, k.t0+step*float64(i), k.t0+step*float64(i+1), 0, visit)
	}
}

// linkBox returns a box around the part of a free track between two points of its
// chain.
func linkBox(p, q solid.Vec) (low, high solid.Vec) {
	d := p.Dist(q) / 2
	return solid.Vec{X: math.Min(p.X, q.X) - d, Y: math.Min(p.Y, q.Y) - d, Z: math.Min(p.Z, q.Z) - d},
		solid.Vec{X: math.Max(p.X, q.X) + d, Y: math.Max(p.Y, q.Y) + d, Z: math.Max(p.Z, q.Z) + d}
}

// visitBox calls visit for every cell that a box touches.
func (g *grid) visitBox(low, high solid.Vec, visit func(cell int, top float64)) {
	c0, c1 := g.column(low.X-hair), g.column(high.X+hair)
	r0, r1 := g.row(low.Y-hair), g.row(high.Y+hair)
	for r := r0; r <= r1; r++ {
		for c := c0; c <= c1; c++ {
			visit(r*g.nx+c, high.Z)
		}
	}
}

// walkLine calls visit for every cell along a straight line: column by column, or
// row by row on a line that rises more than it runs.
func (g *grid) walkLine(p, q solid.Vec, visit func(cell int, top float64)) {
	along, beside := g.column, g.row
	start, cells := g.x0, g.nx
	steep := math.Abs(q.Y-p.Y) > math.Abs(q.X-p.X)
	at := func(v solid.Vec) (long, short float64) { return v.X, v.Y }
	if steep {
		along, beside, start, cells = g.row, g.column, g.y0, g.ny
		at = func(v solid.Vec) (long, short float64) { return v.Y, v.X }
	}
	if a, _ := at(p); a > first(at(q)) {
		p, q = q, p
	}
	from, y0 := at(p)
	to, y1 := at(q)
	share := func(x float64) float64 {
		if to == from {
			return 0
		}
		return math.Max(0, math.Min(1, (x-from)/(to-from)))
	}
	for n, last := along(from-hair), along(to+hair); n <= last; n++ {
		a, b := 0.0, 1.0
		if n > 0 {
			a = share(start + float64(n)*g.size)
		}
		if n < cells-1 && to > from {
			b = share(start + float64(n+1)*g.size)
		}
		ya, yb := y0+(y1-y0)*a, y0+(y1-y0)*b
		top := math.Max(p.Z+(q.Z-p.Z)*a, p.Z+(q.Z-p.Z)*b)
		for m, end := beside(math.Min(ya, yb)-hair), beside(math.Max(ya, yb)+hair); m <= end; m++ {
			if steep {
				visit(n*g.nx+m, top)
			} else {
				visit(m*g.nx+n, top)
			}
		}
	}
}

func first(a, _ float64) float64 { return a }

func (g *grid) walkPart(k *track, t0, t1 float64, depth int, visit func(cell int, top float64)) {
	low, high := k.span(t0, t1)
	c0, c1 := g.column(low.X-hair), g.column(high.X+hair)
	r0, r1 := g.row(low.Y-hair), g.row(high.Y+hair)
	if depth < 12 && c1 > c0 && r1 > r0 && (c1-c0+1)*(r1-r0+1) > 4 {
		mid := (t0 + t1) / 2
		g.walkPart(k, t0, mid, depth+1, visit)
		g.walkPart(k, mid, t1, depth+1, visit)
		return
	}
	g.visitBox(low, high, visit)
}

// addContours sorts in the contours.
func (g *grid) addContours(items []item) {
	for i := range items {
		if !items[i].contour {
			continue
		}
		g.walk(&items[i].track, func(cell int, top float64) {
			list := g.contours[cell]
			if n := len(list); n > 0 && list[n-1].index == int32(i) {
				list[n-1].top = math.Max(list[n-1].top, top)
				return
			}
			g.contours[cell] = append(list, over{int32(i), top})
		})
	}
}

// addPatches sorts in the patches, and takes out what they cover. Those nearest
// to the eye come first, so that what they cover never takes up room.
func (g *grid) addPatches(patches []patch) {
	order := make([]int, len(patches))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(patches[b].high.Z, patches[a].high.Z) })
	mark := make([]int32, g.nx*g.ny)
	for _, i := range order {
		p := &patches[i]
		id := int32(i + 1)
		for _, k := range p.outline {
			g.walk(k, func(cell int, _ float64) {
				if mark[cell] != id {
					mark[cell] = id
					g.put(cell, i, p.topOver(g, cell))
				}
			})
		}
		g.fill(p, i, func(cell int) bool { return mark[cell] == id })
	}
}

// put sorts a patch into a cell unless it is covered there.
func (g *grid) put(cell, index int, top float64) {
	if top >= g.cover[cell]-depthTolerance {
		g.patches[cell] = append(g.patches[cell], over{int32(index), top})
	}
}

// fill sorts a patch into the cells that its outline does not touch and that lie
// within it.
func (g *grid) fill(p *patch, index int, touched func(cell int) bool) {
	c0, c1 := g.column(p.low.X), g.column(p.high.X)
	r0, r1 := g.row(p.low.Y), g.row(p.high.Y)
	for r := r0; r <= r1; r++ {
		y := g.y0 + (float64(r)+0.5)*g.size
		inside, known := false, false
		for c := c0; c <= c1; c++ {
			cell := r*g.nx + c
			if touched(cell) {
				known = false
				continue
			}
			if !known { // between two touched cells nothing changes
				inside, known = p.covers(g.x0+(float64(c)+0.5)*g.size, y), true
			}
			if !inside {
				continue
			}
			g.put(cell, index, p.topOver(g, cell))
			if p.plane {
				g.cover[cell] = math.Max(g.cover[cell], p.bottomOver(g, cell))
			}
		}
	}
}

// corners calls visit with the height of a plane patch over the corners of a
// cell.
func (p *patch) corners(g *grid, cell int, visit func(z float64)) {
	x, y := g.x0+float64(cell%g.nx)*g.size, g.y0+float64(cell/g.nx)*g.size
	for _, d := range [4][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		z, _ := p.depth(x+d[0]*g.size, y+d[1]*g.size)
		visit(z)
	}
}

// topOver returns how near to the eye a patch comes over a cell.
func (p *patch) topOver(g *grid, cell int) float64 {
	if !p.plane {
		return p.high.Z
	}
	top := math.Inf(-1)
	p.corners(g, cell, func(z float64) { top = math.Max(top, z) })
	return math.Min(top, p.high.Z)
}

// bottomOver returns how far from the eye a plane patch gets over a cell.
func (p *patch) bottomOver(g *grid, cell int) float64 {
	bottom := math.Inf(1)
	p.corners(g, cell, func(z float64) { bottom = math.Min(bottom, z) })
	return bottom
}

// prune takes out what is covered, and sorts what is left by nearness.
func (g *grid) prune() {
	for cell := range g.cover {
		for _, list := range [2]*[]over{&g.contours[cell], &g.patches[cell]} {
			*list = slices.DeleteFunc(*list, func(o over) bool { return o.top < g.cover[cell]-depthTolerance })
		}
		slices.SortStableFunc(g.patches[cell], func(a, b over) int {
			return cmp.Or(cmp.Compare(b.top, a.top), cmp.Compare(a.index, b.index))
		})
	}
}

// work returns how many pairs of lines and of lines and faces come near each
// other in the drawing, which is what drawing it costs.
func (st *stage) work() float64 {
	sum := 0.0
	for cell, list := range st.grid.contours {
		n := float64(len(list))
		sum += n * (n + float64(len(st.grid.patches[cell])))
	}
	return sum
}
