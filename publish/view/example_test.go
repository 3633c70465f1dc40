package view_test

import (
	"fmt"

	"plansheaf/design/solid"
	"plansheaf/publish/view"
)

func ExampleProject() {
	plate, err := solid.Build(solid.Shape{
		Base:  solid.Sheet{Outline: solid.RectangleOutline(100, 60), Thickness: 10},
		Holes: []solid.Hole{{Name: "screw", At: []solid.Vec2{{X: 20, Y: 30}}, D: 8}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := view.Project([]view.Body{{Solid: plate, At: solid.Stay, Tag: "head_plate"}}, view.Front, view.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range d.Lines {
		from, to := l.Curves[0].Ends()
		fmt.Printf("%v visible %v (%g %g) to (%g %g)\n", l.Kind, l.Visible, from.X, from.Y, to.X, to.Y)
	}
	// Output:
	// edge visible true (0 0) to (100 0)
	// edge visible true (0 -10) to (100 -10)
	// edge visible true (0 -10) to (0 0)
	// edge visible true (100 -10) to (100 0)
	// silhouette visible false (24 -10) to (24 0)
	// silhouette visible false (16 -10) to (16 0)
}
