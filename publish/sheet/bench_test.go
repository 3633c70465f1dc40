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
	requests = append(requests, strewn(b, 100), strewn(b, 400))
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

// BenchmarkLeaders times the search for free places alone: one layout of a crowded
// small sheet, as most parts have, and of plates with so many callouts of different
// sizes, without a hole table, on a large one.
func BenchmarkLeaders(b *testing.B) {
	for _, test := range []struct {
		name    string
		request Request
		paper   string
		scale   scale
	}{
		{name: "small", request: towerPlate(b, 172.3), paper: "A4 landscape", scale: scale{"1:1", 1}},
		{name: "10", request: scattered(b, 10), paper: "A0 landscape", scale: scale{"1:1", 1}},
		{name: "40", request: scattered(b, 40), paper: "A0 landscape", scale: scale{"1:1", 1}},
		{name: "160", request: scattered(b, 160), paper: "A0 landscape", scale: scale{"1:1", 1}},
	} {
		request := test.request
		p := study(request.Solid, request.Body, request.Along)
		s := p.plan(&request, func(Fault) {})
		if test.name != "small" {
			for i := range p.groups {
				s.callout(i, HoleWord{}, holeWords{}, true)
			}
		}
		request.Views = []ViewRequest{{Kind: "top"}}
		panes := p.choose(&request, func(Fault) {})
		for i := range panes {
			if err := p.project(&panes[i]); err != nil {
				b.Fatal(err)
			}
		}
		size, err := parsePaper(test.paper)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(test.name, func(b *testing.B) {
			for b.Loop() {
				l := newLayout(&request, p, s, panes, size, test.scale)
				l.arrange()
				l.views()
				l.dimensionLines(l.strips())
				l.callouts()
			}
		})
	}
}
