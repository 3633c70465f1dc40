package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
)

// cornered is a plate whose corners are left, broken at 45 degrees, cut off at a whole
// or any angle, or stepped, each as chance has it; some are rounded besides; with
// holes in places of their own, in rows and on circles.
func cornered(t testing.TB, seed uint64) Request {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 11))
	between := func(low, high float64) float64 { return math.Round(low + r.Float64()*(high-low)) }
	w, h := between(120, 300), between(100, 240)
	var points []solid.Vec2
	for k, corner := range []solid.Vec2{{}, {X: w}, {X: w, Y: h}, {Y: h}} {
		in := []solid.Vec2{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}}[k]
		a, b := between(8, 40), between(8, 40)
		switch r.IntN(5) {
		case 0: // left sharp
			points = append(points, corner)
			continue
		case 1:
			a, b = between(2, 10), 0
			b = a
		case 2:
			b = a * math.Tan(float64(15+5*r.IntN(12))*math.Pi/180)
			b = min(b, 45)
		}
		first, second := solid.Vec2{X: corner.X, Y: corner.Y + in.Y*b}, solid.Vec2{X: corner.X + in.X*a, Y: corner.Y}
		if k%2 == 1 {
			first, second = second, first
		}
		points = append(points, first)
		if r.IntN(4) == 0 {
			points = append(points, solid.Vec2{X: corner.X + in.X*a, Y: corner.Y + in.Y*b})
		}
		points = append(points, second)
	}
	sharp := solid.PolygonOutline(points)
	outline := sharp
	if r.IntN(3) == 0 {
		if rounded, err := sharp.Rounded(between(1, 3)); err == nil {
			outline = rounded
		}
	}
	shape := solid.Shape{Base: solid.Sheet{Outline: outline, Thickness: 6}}
	for i := range r.IntN(5) {
		at := solid.Vec2{X: between(50, w-50), Y: between(45, h-45)}
		hole := solid.Hole{Name: fmt.Sprintf("h%d", i), At: []solid.Vec2{at}, D: between(3, 6)}
		if i == 0 && r.IntN(3) == 0 {
			hole.At, hole.Pattern, hole.D = solid.Ring(solid.Vec2{X: w / 2, Y: h / 2}, between(40, 70), 3+r.IntN(5), r.Float64()), true, 2
		}
		shape.Holes = append(shape.Holes, hole)
	}
	s, err := solid.Build(shape)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	q := titled(fmt.Sprintf("cornered%d", seed), "Cornered plate", s, Plate)
	q.Sides = sharp
	return q
}

// TestRandomSchemesFixEverythingOnce audits the schemes of a hundred random plates,
// and counts their constraints in another way: the rank of what they say about all
// coordinates, angles included, equals both their number and that of the coordinates.
func TestRandomSchemesFixEverythingOnce(t *testing.T) {
	for seed := range uint64(100) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			request := cornered(t, seed)
			p := study(request.Solid, request.Body, request.Along)
			p.sides = request.Sides
			s := p.plan(&request, func(f Fault) { t.Errorf("fault: %s", f.Message) })
			for _, o := range Audit(p.facts(), s.ties, s.list) {
				t.Error(o)
			}
			rows, columns := constraints(s)
			if rank := rankOf(rows); rank != columns || len(rows) != columns {
				t.Errorf("%d constraints of rank %d for %d coordinates", len(rows), rank, columns)
			}
		})
	}
}

// constraints are the rows of a scheme's Jacobian over the places of a plate's levels
// along x and y, the datum's left out.
func constraints(s *scheme) (rows [][]float64, columns int) {
	p := s.part
	index := map[[2]int]int{}
	for _, axis := range []solid.Axis{solid.AxisX, solid.AxisY} {
		for i := range p.levels[axis] {
			if i != 0 {
				index[[2]int{int(axis), i}] = columns
				columns++
			}
		}
	}
	row := func() []float64 { rows = append(rows, make([]float64, columns)); return rows[len(rows)-1] }
	add := func(row []float64, axis solid.Axis, at, value float64) {
		if k, known := index[[2]int{int(axis), p.levelAt(axis, at)}]; known {
			row[k] += value
		}
	}
	slanted := func(side slope) {
		off := side.ends[1].Sub(side.ends[0])
		r := row()
		for k, sign := range []float64{-1, 1} {
			add(r, solid.AxisX, on(side.ends[k], solid.AxisX), sign*off.Y/off.Len())
			add(r, solid.AxisY, on(side.ends[k], solid.AxisY), -sign*off.X/off.Len())
		}
	}
	for _, tie := range s.ties {
		if axis := axisNamed(tie.Axis); axis != solid.AxisZ {
			r := row()
			add(r, axis, tie.A, -1)
			add(r, axis, tie.B, 1)
		}
	}
	for _, d := range s.list {
		if d.Kind == Angle {
			for _, side := range p.slopes {
				if math.Abs(side.dir(0).Dot(d.corner.rays[0])) > 1-1e-9 && math.Abs(on(side.ends[0], d.axis)-d.Low)*math.Abs(on(side.ends[0], d.axis)-d.High) < near &&
					side.ends[0].Sub(d.corner.vertex).Cross(d.corner.rays[0]).Len() < near {
					slanted(side)
					break
				}
			}
			continue
		}
		for _, axis := range []solid.Axis{solid.AxisX, solid.AxisY} {
			for _, l := range d.joins(axis) {
				r := row()
				add(r, axis, l.a, -1)
				add(r, axis, l.b, 1)
			}
		}
	}
	return rows, columns
}

func axisNamed(name string) solid.Axis {
	for _, axis := range axes {
		if axis.String() == name {
			return axis
		}
	}
	return solid.AxisZ
}

// rankOf is the rank of a matrix, by elimination with the largest pivots.
func rankOf(rows [][]float64) int {
	m := make([][]float64, len(rows))
	for i := range rows {
		m[i] = append([]float64(nil), rows[i]...)
	}
	rank := 0
	for column := 0; len(m) > 0 && column < len(m[0]) && rank < len(m); column++ {
		pivot := rank
		for i := rank; i < len(m); i++ {
			if math.Abs(m[i][column]) > math.Abs(m[pivot][column]) {
				pivot = i
			}
		}
		if math.Abs(m[pivot][column]) < 1e-9 {
			continue
		}
		m[rank], m[pivot] = m[pivot], m[rank]
		for i := rank + 1; i < len(m); i++ {
			factor := m[i][column] / m[rank][column]
			for k := column; k < len(m[0]); k++ {
				m[i][k] -= factor * m[rank][k]
			}
		}
		rank++
	}
	return rank
}
