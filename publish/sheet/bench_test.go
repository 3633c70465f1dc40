package sheet

import (
	"fmt"
	"testing"

	"plansheaf/design/solid"
)

// towerPlate is a plate with two rows of holes, counterbored and tapped, as a plan
// of many like parts holds by the hundred.
func towerPlate(t testing.TB, width float64) Request {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(width, 40), Thickness: 10}, Holes: []solid.Hole{
		{Name: "down", At: solid.Row(solid.Vec2{X: 20, Y: 10}, solid.Vec2{X: 30}, 5), Pattern: true, D: 5.5, Kind: solid.Clearance,
			Counterbore: &solid.Counterbore{D: 10, Depth: 5.4}},
		{Name: "up", At: solid.Row(solid.Vec2{X: 20, Y: 30}, solid.Vec2{X: 30}, 5), Pattern: true, D: 4.2, Kind: solid.Tapped,
			Thread: &solid.Thread{Designation: "M5", Major: 5, Minor: 4.134, Pitch: 0.8}}}})
	return titled("tower_plate", "Plate", s, Plate)
}

// scattered is a plate with so many holes of as many sizes as fit, each in a place
// of its own: the growth of the search for free places.
func scattered(t testing.TB, holes int) Request {
	shape := solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(400, 300), Thickness: 6}}
	for i := range holes {
		x, y := 15+float64(i*83%370), 15+float64(i*59%270)
		shape.Holes = append(shape.Holes, solid.Hole{Name: fmt.Sprintf("h%d", i), At: []solid.Vec2{{X: x, Y: y}}, D: 3 + float64(i%7)/2})
	}
	return titled(fmt.Sprintf("scattered%d", holes), "Scattered plate", build(t, shape), Plate)
}

func BenchmarkDraw(b *testing.B) {
	requests := []Request{headPlate(b), drilled(b), post(b), towerPlate(b, 172.3), towerPlate(b, 200.1)}
	for _, n := range []int{10, 20, 40, 80} {
		requests = append(requests, scattered(b, n))
	}
	for i, request := range requests {
		b.Run(fmt.Sprintf("%d_%s", i, request.Name), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Draw(request); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
