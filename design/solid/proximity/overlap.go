package proximity

import (
	"plansheaf/design/solid"
)

// touchDepth (mm): what is thinner than this counts as touching, not as
// overlapping. Solids whose faces all but coincide are moved by a ten-thousandth
// of a millimetre before they are cut with each other.
const touchDepth = 4e-4

// Overlap returns the volume that two placed bodies both fill, mm³, and the box
// around it in the world, empty where there is none. The volume is that of their
// exact intersection; bodies that only touch have none. Where the intersection
// cannot be worked out (solids.Intersect says when), the volume is counted out on
// a grid and good to a few percent of the box.
func Overlap(a *Body, pa solid.Placement, b *Body, pb solid.Placement) (volume float64, where solid.Box) {
	if !a.boxUnder(pa).Meets(b.boxUnder(pb)) {
		return 0, solid.EmptyBox()
	}
	m := newMeeting(a, pa, b, pb)
	if m.onlyTouch() {
		return 0, solid.EmptyBox()
	}
	o := m.overlap()
	if o.volume == 0 {
		return 0, solid.EmptyBox()
	}
	if o.body != nil {
		return o.volume, o.body.BoxUnder(pa)
	}
	return o.volume, o.box.Under(pa)
}

// common is what two bodies share, in the axes of the first.
type common struct {
	volume float64
	body   *solid.Solid // nil when it was counted out
	box    solid.Box
	at     solid.Vec // a point of it
}

func (m *meeting) overlap() common {
	body, err := solid.Intersect(m.a.Solid, m.b.Solid.Placed(m.rel))
	if err != nil {
		return m.counted()
	}
	if len(body.Faces) == 0 {
		return common{}
	}
	x := body.Measure()
	// A plate as thin as t has an area of twice its volume by t.
	if 2*x.Volume <= touchDepth*x.Area {
		return common{}
	}
	return common{volume: x.Volume, body: body, box: body.Box(), at: body.Vertices[0]}
}

// counted counts the overlap out on a grid.
func (m *meeting) counted() common {
	const n = 24
	a, b := m.a.Solid.Box(), m.b.Solid.BoxUnder(m.rel)
	lo := solid.Vec{X: max(a.Min.X, b.Min.X), Y: max(a.Min.Y, b.Min.Y), Z: max(a.Min.Z, b.Min.Z)}
	hi := solid.Vec{X: min(a.Max.X, b.Max.X), Y: min(a.Max.Y, b.Max.Y), Z: min(a.Max.Z, b.Max.Z)}
	cell := hi.Sub(lo).Mul(1.0 / n)
	if cell.X <= 0 || cell.Y <= 0 || cell.Z <= 0 {
		return common{}
	}
	c := common{box: solid.EmptyBox()}
	for i := range n {
		for j := range n {
			for k := range n {
				p := lo.Add(solid.Vec{X: cell.X * (float64(i) + 0.5), Y: cell.Y * (float64(j) + 0.5), Z: cell.Z * (float64(k) + 0.5)})
				if m.a.Solid.Where(p) == solid.Inside && m.b.Solid.Where(m.back.Point(p)) == solid.Inside {
					c.volume += cell.X * cell.Y * cell.Z
					c.at = p
					c.box = c.box.Add(p.Sub(cell.Mul(0.5))).Add(p.Add(cell.Mul(0.5)))
				}
			}
		}
	}
	return c
}
