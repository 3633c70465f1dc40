package picture

import (
	"math"
	"testing"
)

// TestHatchCoversTheArea uses that hatching lines, each standing for a strip as
// wide as their spacing, add up to the area.
func TestHatchCoversTheArea(t *testing.T) {
	ring := append(Circle(Point{30, 30}, 20), Circle(Point{33, 31}, 8)...)
	for _, test := range []struct {
		name    string
		outline []Curve
		area    float64
	}{
		{name: "rectangle", outline: Rectangle(Point{3, 4}, 40, 25), area: 1000},
		{name: "ring", outline: ring, area: math.Pi * (400 - 64)},
		{name: "rounded", outline: RoundRectangle(Point{-20, -5}, 60, 30, 6), area: 1800 - (4-math.Pi)*36},
		{name: "half ellipse", outline: []Curve{Arc{RX: 20, RY: 10, Tilt: 0.4, Sweep: math.Pi},
			Line{turned(Point{-20, 0}, 0.4), turned(Point{20, 0}, 0.4)}}, area: math.Pi * 100},
	} {
		for _, angle := range []float64{math.Pi / 4, -math.Pi / 4, 0, 1.1} {
			const spacing = 0.02
			sum := 0.0
			for _, line := range Hatch(test.outline, angle, spacing) {
				sum += line.Length() * spacing
			}
			if math.Abs(sum-test.area) > test.area*0.003 {
				t.Errorf("%s at %.2f rad: %.2f mm², want %.2f", test.name, angle, sum, test.area)
			}
		}
	}
}

func TestHatchRefusesNothingQuietly(t *testing.T) {
	for _, spacing := range []float64{0, -1, math.NaN()} {
		if got := Hatch(Circle(Point{}, 5), 0, spacing); got != nil {
			t.Errorf("spacing %v gave %d lines", spacing, len(got))
		}
	}
	if got := Hatch(Circle(Point{}, 5), 0, 1e-9); got != nil {
		t.Errorf("unbounded: %d lines", len(got))
	}
}
