package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/solid"
)

// strewn is a plate with so many holes, each in a place of its own.
func strewn(t testing.TB, holes int) Request {
	var at []solid.Vec2
	columns := int(math.Ceil(math.Sqrt(float64(holes) * 4 / 3)))
	for i := range holes {
		x, y := float64(i%columns), float64(i/columns)
		at = append(at, solid.Vec2{X: 10 + 12*x + float64(i*7%5), Y: 10 + 12*y + float64(i*11%5)})
	}
	size := solid.RectangleOutline(20+12*float64(columns), 20+12*math.Ceil(float64(holes)/float64(columns)))
	return titled(fmt.Sprintf("strewn%d", holes), "Strewn plate", build(t, solid.Shape{Base: solid.Sheet{Outline: size, Thickness: 3},
		Holes: []solid.Hole{{Name: "strewn", At: at, Pattern: true, D: 4}}}), Plate)
}

// sieve is a plate with so many holes a side in rows and columns.
func sieve(t testing.TB, side int) Request {
	size := 10 * float64(side+1)
	return titled(fmt.Sprintf("sieve%d", side), "Sieve", build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(size, size), Thickness: 3},
		Holes: []solid.Hole{{Name: "mesh", At: solid.Grid(solid.Vec2{X: 10, Y: 10}, solid.Vec2{X: 10, Y: 10}, [2]int{side, side}), Pattern: true, D: 5}}}), Plate)
}

// star has so many points, no two corners level with each other.
func star(t testing.TB, points int) Request {
	var at []solid.Vec2
	for i := range 2 * points {
		sin, cos := math.Sincos(math.Pi*float64(i)/float64(points) + 0.01)
		radius := 60 + 20*float64(i%2)
		at = append(at, solid.Vec2{X: 100 + radius*cos, Y: 100 + radius*sin})
	}
	return titled(fmt.Sprintf("star%d", points), "Star", build(t, solid.Shape{Base: solid.Sheet{Outline: polygon(at...), Thickness: 4}}), Plate)
}

// TestManyHolesArePlaced: rows and columns by count and step, holes strewn about by a
// table in several columns.
func TestManyHolesArePlaced(t *testing.T) {
	for _, test := range []struct {
		request Request
		kind    Kind
		holds   string
	}{
		{request: sieve(t, 21), kind: Pitch, holds: "20× 10 [0.394] (= 200)"},
		{request: strewn(t, 150), kind: Table, holds: "⌀4 through"},
		{request: strewn(t, 420), kind: Table, holds: "⌀4 through"},
		{request: star(t, 12), kind: Table, holds: ""},
	} {
		t.Run(test.request.Name, func(t *testing.T) {
			r := draw(t, test.request)
			complete(t, r)
			for _, f := range faultMessages(r) {
				t.Error(f)
			}
			for _, o := range Audit(r.Facts, r.Ties, r.Dimensions) {
				t.Error(o)
			}
			if texts := dimensionTexts(r, test.kind); !slices.Contains(texts, test.holds) && test.holds != "" {
				t.Errorf("no %s %q", test.kind, test.holds)
			}
		})
	}
}

// TestWhatADrawingCannotHoldIsFound: beyond its limits the sheet gives sizes, and the
// audit says what it leaves open.
func TestWhatADrawingCannotHoldIsFound(t *testing.T) {
	for _, test := range []struct {
		request Request
		says    string
	}{
		{request: sieve(t, 46), says: "places of 2116 holes are not fixed"},
		{request: star(t, 100), says: "faces and corners are not fixed"},
	} {
		t.Run(test.request.Name, func(t *testing.T) {
			r := draw(t, test.request)
			open := Audit(r.Facts, r.Ties, r.Dimensions)
			if len(open) != 1 || !strings.Contains(open[0].String(), test.says) {
				t.Errorf("found %v", open)
			}
			for _, f := range faultMessages(r) {
				t.Error(f)
			}
		})
	}
}
