package solid_test

import (
	"fmt"
	"math"

	"plansheaf/design/solid"
)

// A head plate of the bench press: a sheet with rounded corners and holes.
func ExampleBuild() {
	outline, err := solid.RectangleOutline(260, 120).Rounded(8)
	if err != nil {
		fmt.Println(err)
		return
	}
	plate, err := solid.Build(solid.Shape{
		Base: solid.Sheet{Outline: outline, Thickness: 10},
		Holes: []solid.Hole{
			{Name: "screw", At: []solid.Vec2{{X: 130, Y: 60}}, D: 22},
			{Name: "posts", At: solid.Grid(solid.Vec2{X: 15, Y: 15}, solid.Vec2{X: 230, Y: 90}, [2]int{2, 2}), Kind: solid.Clearance, D: 9},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	m := plate.Measure()
	fmt.Printf("%.1f mm³ about %.2f, %.2f, %.2f\n", m.Volume, m.Centre.X, m.Centre.Y, m.Centre.Z)
	for _, f := range plate.Features() {
		if f.Kind == solid.HoleFeature {
			fmt.Printf("%s: ⌀%g at %g, %g, %g deep\n", f.Name, f.D, f.At.X, f.At.Y, f.Depth)
		}
	}
	// Output:
	// 305104.6 mm³ about 130.00, 60.00, 5.00
	// screw: ⌀22 at 130, 60, 10 deep
	// posts.1: ⌀9 at 15, 15, 10 deep
	// posts.2: ⌀9 at 245, 15, 10 deep
	// posts.3: ⌀9 at 15, 105, 10 deep
	// posts.4: ⌀9 at 245, 105, 10 deep
}

// What is wrong with a shape comes back with the field that says so.
func ExampleFaults() {
	_, err := solid.Build(solid.Shape{Base: solid.Bar{
		Section: solid.Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 14, Pocket: 16, Core: 6.8},
		Length:  440,
	}})
	for _, f := range err.(solid.Faults) {
		fmt.Printf("%s: %s\n", f.Field, f.Reason)
	}
	// Output:
	// section.slotted.depth: slot is 14 mm deep; the core leaves 11.6 mm in a module of 30 mm
}

// A ray through a tube meets four walls.
func ExampleSolid_Ray() {
	tube, err := solid.Build(solid.Shape{Base: solid.Bar{Section: solid.Tube{D: 30, Wall: 3}, Length: 100}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range tube.Ray(solid.Vec{X: 20, Y: -5, Z: 15}, solid.Vec{Y: 1}) {
		fmt.Printf("%s at %g, into the material: %v\n", tube.Faces[h.Face].Name, math.Round(h.T*1e6)/1e6, h.Enters)
	}
	// Output:
	// body at 5, into the material: true
	// bore at 8, into the material: false
	// bore at 32, into the material: true
	// body at 35, into the material: false
}
