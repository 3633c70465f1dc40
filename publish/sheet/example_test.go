package sheet_test

import (
	"fmt"

	"plansheaf/design/solid"
	"plansheaf/publish/sheet"
)

// A plate is drawn without being told anything but what it is; the audit finds
// nothing missing and nothing doubled.
func ExampleDraw() {
	plate, err := solid.Build(solid.Shape{
		Base: solid.Sheet{Outline: solid.RectangleOutline(80, 50), Thickness: 6},
		Holes: []solid.Hole{{Name: "feet", At: solid.Grid(solid.Vec2{X: 10, Y: 10}, solid.Vec2{X: 60, Y: 30}, [2]int{2, 2}),
			Pattern: true, D: 5.5}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := sheet.Draw(sheet.Request{Name: "foot_plate", Title: "Foot plate", Solid: plate, Body: sheet.Plate})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(result.Size, result.Scale, result.Views)
	for _, d := range result.Dimensions {
		fmt.Println(d.Kind, d.Text)
	}
	fmt.Println("left open or doubled:", len(sheet.Audit(result.Facts, result.Ties, result.Dimensions)))
	// Output:
	// A4 portrait 1:1 [top]
	// linear 80 [3.150]
	// linear 50 [1.969]
	// linear 10 [0.394]
	// linear 70 [2.756]
	// linear 10 [0.394]
	// linear 40 [1.575]
	// callout 4× ⌀5.5 through
	// thickness t = 6 [0.236]
	// left open or doubled: 0
}
