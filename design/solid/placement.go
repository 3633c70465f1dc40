package solid

import "math"

// Placement is a rigid motion: turn first, then move. The zero value is not a
// placement; start from [Stay].
type Placement struct {
	// Turn holds the images of the x, y and z axes, unit vectors at right
	// angles to each other, right-handed.
	Turn [3]Vec
	// Move is where the origin goes, in millimetres.
	Move Vec
}

// Stay is the placement that leaves everything where it is.
var Stay = Placement{Turn: [3]Vec{{X: 1}, {Y: 1}, {Z: 1}}}

// Moved returns the placement that only moves by v.
func Moved(v Vec) Placement {
	p := Stay
	p.Move = v
	return p
}

// Turned returns the right-handed turn by angle radians about the given
// direction through the origin. Quarter turns about the axes come out exact.
func Turned(about Vec, angle float64) Placement {
	k := about.Unit()
	s, c := math.Sincos(angle)
	if quarters := angle / (math.Pi / 2); math.Abs(quarters-math.Round(quarters)) < 1e-14 {
		s, c = math.Round(s), math.Round(c)
	}
	turn := func(v Vec) Vec {
		return v.Mul(c).Add(k.Cross(v).Mul(s)).Add(k.Mul(k.Dot(v) * (1 - c)))
	}
	return Placement{Turn: [3]Vec{turn(Vec{X: 1}), turn(Vec{Y: 1}), turn(Vec{Z: 1})}}
}

// TurnedAt returns the right-handed turn by angle radians about the line
// through the point at along the given direction.
func TurnedAt(at, about Vec, angle float64) Placement {
	t := Turned(about, angle)
	t.Move = at.Sub(t.Direction(at))
	return t
}

// Then returns the placement that does p first and q after it.
func (p Placement) Then(q Placement) Placement {
	return Placement{
		Turn: [3]Vec{q.Direction(p.Turn[0]), q.Direction(p.Turn[1]), q.Direction(p.Turn[2])},
		Move: q.Point(p.Move),
	}
}

// Inverse returns the placement that undoes p.
func (p Placement) Inverse() Placement {
	a, b, c := p.Turn[0], p.Turn[1], p.Turn[2]
	inv := Placement{Turn: [3]Vec{{a.X, b.X, c.X}, {a.Y, b.Y, c.Y}, {a.Z, b.Z, c.Z}}}
	inv.Move = inv.Direction(p.Move).Mul(-1)
	return inv
}

// Direction returns the turned direction.
func (p Placement) Direction(v Vec) Vec {
	return p.Turn[0].Mul(v.X).Add(p.Turn[1].Mul(v.Y)).Add(p.Turn[2].Mul(v.Z))
}

// Point returns the turned and moved point.
func (p Placement) Point(v Vec) Vec { return p.Direction(v).Add(p.Move) }

// Frame returns the turned and moved frame.
func (p Placement) Frame(f Frame) Frame {
	return Frame{O: p.Point(f.O), X: p.Direction(f.X), Y: p.Direction(f.Y), Z: p.Direction(f.Z)}
}

// LowestAt returns the placement that turns s by turn (whose Move counts for
// nothing) and brings the lowest corner of the turned solid's bounding box to
// at: what a plan's at and turn mean.
func LowestAt(s *Solid, turn Placement, at Vec) Placement {
	turn.Move = Vec{}
	turn.Move = at.Sub(s.BoxUnder(turn).Min)
	return turn
}
