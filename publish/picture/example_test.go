package picture_test

import (
	"fmt"
	"strings"

	"plansheaf/publish/picture"
)

// A plate with one hole becomes an SVG fragment for a page.
func ExampleInlineSVG() {
	p := &picture.Picture{Name: "plate", Title: "Plate", Width: 40, Height: 20}
	p.Add(
		picture.Path{Curves: picture.Rectangle(picture.Point{X: 5, Y: 5}, 30, 10), Line: picture.Visible},
		picture.Path{Curves: picture.Circle(picture.Point{X: 20, Y: 10}, 3), Line: picture.Hidden},
	)
	svg, err := picture.InlineSVG(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range strings.Split(string(svg), "\n") {
		if strings.HasPrefix(line, "<path") {
			fmt.Println(line)
		}
	}
	// Output:
	// <path d="M5 5L35 5L35 15L5 15Z" class="pic-visible pic-s-ink" stroke-width="0.5" />
}
