package clash

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// A Pierced is a strand that a screw, or what a joint brings beside it, is drawn into
// where the strand is held and cannot give way.
type Pierced struct {
	Strand layout.Strand
	Stop   int // by what it is held there
	Body   *Body
	Depth  float64 // mm
	At     solid.Vec
}

// pierces finds fasteners in strands where these pass a hole or a clip.
func (s *search) pierces() {
	for _, c := range s.l.Strands() {
		if c.D <= 0 {
			continue
		}
		own := &Body{Path: c.Instance.Path, In: c.Instance}
		for i, stop := range c.Stops {
			if stop.Feature == nil {
				continue
			}
			held := s.boxOf(stop.Path)
			for leg := max(0, i-1); leg < min(i+1, len(c.Points)-1); leg++ {
				s.pierce(c, own, i, leg, held)
			}
		}
	}
}

// boxOf is a box around the part at a path.
func (s *search) boxOf(path string) solid.Box {
	box := solid.EmptyBox()
	for _, b := range s.bodies {
		if b.Joint == nil && b.Path == path {
			box = box.Join(b.box)
		}
	}
	return box
}

// pierce looks at one leg of a strand within the box of what holds it.
func (s *search) pierce(c layout.Strand, own *Body, stop, leg int, held solid.Box) {
	from, to, ok := clipped(c.Points[leg], c.Points[leg+1], held)
	if !ok {
		return
	}
	line := solid.EmptyBox().Add(from).Add(to)
	for _, b := range s.bodies {
		if b.Joint == nil || b.Joint.Kind.Text == plan.Grip || apart(line, b.box) > c.D/2 || !s.leads(common(own, b)) {
			continue
		}
		off := s.store.line(from, to, b, c.D/2)
		depth := c.D/2 - off.Gap
		if depth <= math.Max(Slight, c.D/4) {
			continue
		}
		last := len(s.report.Pierced) - 1
		if last >= 0 && s.report.Pierced[last].Body == b && s.report.Pierced[last].Strand.Instance == c.Instance {
			continue // the other leg meets it too
		}
		s.report.Pierced = append(s.report.Pierced, Pierced{Strand: c, Stop: stop, Body: b, Depth: depth, At: off.At[0]})
	}
}

// clipped is what of a straight line lies in a box; false where nothing does.
func clipped(from, to solid.Vec, box solid.Box) (a, b solid.Vec, ok bool) {
	if box.Empty() {
		return a, b, false
	}
	low, high := 0.0, 1.0
	d := to.Sub(from)
	for _, k := range [3][4]float64{{from.X, d.X, box.Min.X, box.Max.X}, {from.Y, d.Y, box.Min.Y, box.Max.Y}, {from.Z, d.Z, box.Min.Z, box.Max.Z}} {
		if k[1] == 0 {
			if k[0] < k[2] || k[0] > k[3] {
				return a, b, false
			}
			continue
		}
		t, u := (k[2]-k[0])/k[1], (k[3]-k[0])/k[1]
		low, high = math.Max(low, math.Min(t, u)), math.Min(high, math.Max(t, u))
	}
	return from.Add(d.Mul(low)), from.Add(d.Mul(high)), low <= high
}
