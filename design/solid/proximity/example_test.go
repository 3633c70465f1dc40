package proximity_test

import (
	"fmt"

	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A screw's shank in a clearance hole, and the screw pulled out past a bracket.
func Example() {
	plate, err := solid.Build(solid.Shape{
		Base:  solid.Sheet{Outline: solid.RectangleOutline(40, 40), Thickness: 10},
		Holes: []solid.Hole{{Name: "h", Face: "top", At: []solid.Vec2{{X: 20, Y: 20}}, D: 9}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	screw, err := solid.Build(solid.Shape{Base: solid.Bar{Section: solid.Round{D: 8}, Length: 30, Lies: solid.AxisZ}})
	if err != nil {
		fmt.Println(err)
		return
	}
	a, b := proximity.New(screw), proximity.New(plate)
	in := solid.Moved(solid.Vec{X: 16, Y: 16, Z: -5})
	d, _ := proximity.Distance(a, in, b, solid.Stay)
	fmt.Printf("in the middle of its hole: %.3f mm of play all round\n", d)
	v, _ := proximity.Overlap(a, solid.Moved(solid.Vec{X: 17, Y: 16, Z: -5}), b, solid.Stay)
	fmt.Printf("1 mm aside: %.1f mm³ overlap\n", v)
	_, met := proximity.Sweep(a, in, []proximity.Motion{{Slide: solid.Vec{Z: 60}}}, b, solid.Stay, 0.2)
	fmt.Println("pulled straight out, it meets the plate:", met)
	hit, met := proximity.Sweep(a, in, []proximity.Motion{{Slide: solid.Vec{X: 10}}}, b, solid.Stay, 0.2)
	fmt.Printf("pushed aside by 10 mm, it meets the plate: %v, after %.1f mm\n", met, 10*hit.T)
	// Output:
	// in the middle of its hole: 0.500 mm of play all round
	// 1 mm aside: 29.0 mm³ overlap
	// pulled straight out, it meets the plate: false
	// pushed aside by 10 mm, it meets the plate: true, after 0.6 mm
}

// A cover comes off its box upward, though not past a bar above it.
func ExampleScene() {
	block := func(x, y, z float64) *proximity.Body {
		s, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Block{Size: solid.Vec{X: x, Y: y, Z: z}}}}})
		if err != nil {
			panic(err)
		}
		return proximity.New(s)
	}
	at := func(z float64) solid.Placement { return solid.Moved(solid.Vec{Z: z}) }
	var s proximity.Scene
	s.Add(proximity.Placed{Body: block(60, 40, 30), At: at(0)})
	cover := s.Add(proximity.Placed{Body: block(60, 40, 2), At: at(30)})
	bar := s.Add(proximity.Placed{Body: block(200, 10, 10), At: at(50)})

	p, _ := s.At(cover)
	up := []proximity.Motion{{Slide: solid.Vec{Z: 100}}}
	self := func(n int) bool { return n == cover }
	if h, n, met := s.Sweep(p, up, 0.1, self); met {
		fmt.Printf("up: free for %.0f mm, then in the way of the bar: %v\n", 100*h.T, n == bar)
	}
	s.Remove(bar)
	_, _, met := s.Sweep(p, up, 0.1, self)
	fmt.Println("without the bar:", met)
	// Output:
	// up: free for 18 mm, then in the way of the bar: true
	// without the bar: false
}
