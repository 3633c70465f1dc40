package sheet

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

func polygon(points ...solid.Vec2) solid.Outline { return solid.PolygonOutline(points) }

// tilted is a plate with a side of 60 degrees and one that no round angle gives.
func tilted(t testing.TB) Request {
	o := polygon(solid.Vec2{}, solid.Vec2{X: 120}, solid.Vec2{X: 120, Y: 30}, solid.Vec2{X: 90, Y: 80}, solid.Vec2{X: 80 / math.Tan(math.Pi/3), Y: 80})
	r := titled("tilted", "Tilted plate", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 6}, Holes: []solid.Hole{
		{Name: "pin", At: []solid.Vec2{{X: 70, Y: 40}}, D: 8}}}), Plate)
	r.Sides = o
	return r
}

// gusset has round corners between slanted sides: their sharp corners have the places.
func gusset(t testing.TB) Request {
	sharp := polygon(solid.Vec2{}, solid.Vec2{X: 100}, solid.Vec2{X: 100, Y: 20}, solid.Vec2{X: 20, Y: 90}, solid.Vec2{Y: 90})
	o, err := sharp.Rounded(5)
	if err != nil {
		t.Fatal(err)
	}
	r := titled("gusset", "Gusset", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 6}, Holes: []solid.Hole{
		{Name: "holes", At: []solid.Vec2{{X: 15, Y: 15}, {X: 80, Y: 15}, {X: 15, Y: 70}}, Pattern: true, D: 6.6}}}), Plate)
	r.Sides = sharp
	return r
}

func chamfered(t testing.TB) Request {
	sharp := solid.RectangleOutline(100, 60)
	o, err := sharp.Chamfered(5)
	if err != nil {
		t.Fatal(err)
	}
	r := titled("chamfered", "Chamfered plate", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 8}}), Plate)
	r.Sides = sharp
	return r
}

func pin(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisX, Name: "pin", Shape: solid.Lathed{
		{D: 16, To: 20, L: 2}, {D: 20, L: 46}, {D: 30, L: 8}, {D: 30, To: 26, L: 2}}}},
		Holes: []solid.Hole{{Name: "cross", Face: "top", At: []solid.Vec2{{X: 12, Y: 15}}, D: 5, ThroughAll: true}}})
	return titled("pin", "Stop pin", s, Free)
}

// wedge is a block with a slanted top and a pocket.
func wedge(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Group{
		{Along: solid.AxisY, Name: "ramp", Shape: solid.Extruded{Outline: polygon(solid.Vec2{}, solid.Vec2{X: 80}, solid.Vec2{X: 80, Y: 20}, solid.Vec2{Y: 20 + 80*math.Tan(15*math.Pi/180)}), L: 40}},
		{Shape: solid.Block{Size: solid.Vec{X: 30, Y: 20, Z: 8}}, At: solid.Vec{X: 25, Y: 10}, Cut: true, Name: "pocket"}},
		Holes: []solid.Hole{{Name: "foot", Face: "bottom", At: []solid.Vec2{{X: 10, Y: 20}}, D: 6.8, Kind: solid.Tapped, Thread: m8, Depth: 15}}})
	return titled("wedge", "Wedge", s, Free)
}

// hexagon across flats of 60.
func hexagon(t testing.TB) Request {
	r := 60 / math.Sqrt(3)
	var o solid.Outline
	for k := range 6 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 3)
		o = append(o, solid.Span{From: solid.Vec2{X: r + r*cos, Y: 30 + r*sin}})
	}
	for k := range o {
		o[k].To = o[(k+1)%6].From
	}
	return titled("hexagon", "Hexagon", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 10}, Holes: []solid.Hole{
		{Name: "bore", At: []solid.Vec2{{X: r, Y: 30}}, D: 20}}}), Plate)
}

// link is two eyes joined: half circles at either end, as a path gives them.
func linkPlate(t testing.TB) Request {
	o := solid.Outline{{From: solid.Vec2{X: 15}, To: solid.Vec2{X: 95}},
		{From: solid.Vec2{X: 95}, To: solid.Vec2{X: 95, Y: 30}, Arc: true, Centre: solid.Vec2{X: 95, Y: 15}},
		{From: solid.Vec2{X: 95, Y: 30}, To: solid.Vec2{X: 15, Y: 30}},
		{From: solid.Vec2{X: 15, Y: 30}, To: solid.Vec2{X: 15}, Arc: true, Centre: solid.Vec2{X: 15, Y: 15}}}
	r := titled("link", "Link", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 8}, Holes: []solid.Hole{
		{Name: "eyes", At: []solid.Vec2{{X: 15, Y: 15}, {X: 95, Y: 15}}, Pattern: true, D: 12},
		{Name: "slot", At: []solid.Vec2{{X: 55, Y: 15}}, Kind: solid.Obround, D: 8, Long: 30, Along: solid.AxisX}}}), Plate)
	r.Sides = o
	return r
}

// manyLevels has holes in a row of places that parallel lines would stack high.
func manyLevels(t testing.TB) Request {
	var at []solid.Vec2
	for i := range 8 {
		at = append(at, solid.Vec2{X: 12 + 21*float64(i) + float64(i*i%5), Y: 20})
	}
	return titled("rail", "Rail", build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(190, 40), Thickness: 8}, Holes: []solid.Hole{
		{Name: "row", At: at, Pattern: true, D: 6}}}), Plate)
}

func shapes(t testing.TB) []Request {
	return []Request{tilted(t), gusset(t), chamfered(t), pin(t), wedge(t), hexagon(t), linkPlate(t), manyLevels(t)}
}

// TestShapesAreCompleteAndClear draws parts with slanted sides, arcs, chamfers, cones
// and pockets.
func TestShapesAreCompleteAndClear(t *testing.T) {
	for _, request := range shapes(t) {
		t.Run(request.Name, func(t *testing.T) {
			r := draw(t, request)
			complete(t, r)
		})
	}
}

// complete fails for what a sheet leaves open, says twice, or draws over words.
func complete(t *testing.T, r *Result) {
	t.Helper()
	for _, f := range r.Faults {
		t.Errorf("fault: %s", f.Message)
	}
	for _, f := range faultsOf(r) {
		t.Error(f)
	}
	for _, o := range Audit(r.Facts, r.Ties, r.Dimensions) {
		t.Error(o)
	}
}

// stepped is a plate whose steps stand close to each other, from one datum.
func stepped(t testing.TB) Request {
	points := []solid.Vec2{{}, {X: 110}}
	for i := range 9 {
		x, y := 110-float64(i)*11, 4+float64(i)*6
		points = append(points, solid.Vec2{X: x, Y: y})
		if i < 8 {
			points = append(points, solid.Vec2{X: x - 11, Y: y})
		}
	}
	points = append(points, solid.Vec2{Y: 52})
	o := polygon(points...)
	r := titled("stepped", "Stepped plate", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 5}}), Plate)
	r.Sides = o
	r.Sheet, r.Scale = "A4 portrait", "1:1"
	return r
}

// TestRunningDimensionsBeforeALargerSheet: nine steps from one datum would take nine
// rows on either side.
func TestRunningDimensionsBeforeALargerSheet(t *testing.T) {
	r := draw(t, stepped(t))
	complete(t, r)
	texts := readSheet(r.Picture.Marks)
	zeros := 0
	for _, text := range texts {
		if text.words == "0" {
			zeros++
		}
	}
	if r.Size != "A4 portrait" || zeros == 0 {
		t.Errorf("drawn on %s with %d origins of running dimensions", r.Size, zeros)
	}
}

// TestValuesOfARunKeepTheirBracketsApart: levels closer than a line of letters.
func TestValuesOfARunKeepTheirBracketsApart(t *testing.T) {
	points := []solid.Vec2{{}, {X: 110}}
	for i := range 9 {
		x, y := 110-3*float64(i), 60+3*float64(i)
		points = append(points, solid.Vec2{X: x, Y: y}, solid.Vec2{X: x - 3, Y: y})
	}
	points = append(points, solid.Vec2{X: 83, Y: 100}, solid.Vec2{Y: 100})
	r := titled("close", "Close steps", build(t, solid.Shape{Base: solid.Sheet{Outline: polygon(points...), Thickness: 5}}), Plate)
	r.Sheet, r.Scale = "A4 portrait", "1:1"
	result := draw(t, r)
	complete(t, result)
	for _, f := range faultMessages(result) {
		t.Error(f)
	}
	if result.Size != "A4 portrait" || result.Scale != "1:1" {
		t.Errorf("drawn on %s at %s", result.Size, result.Scale)
	}
}

func TestValuesOfARunSpreadApart(t *testing.T) {
	for _, test := range []struct {
		name string
		at   []float64
		want []float64
	}{
		{name: "far apart", at: []float64{0, 10, 20}, want: []float64{0, 10, 20}},
		{name: "two close", at: []float64{0, 10, 11}, want: []float64{0, 8.5, 12.5}},
		{name: "a chain", at: []float64{0, 1, 2, 3}, want: []float64{-4.5, -0.5, 3.5, 7.5}},
		{name: "pushed into the next", at: []float64{0, 4.5, 5}, want: []float64{-0.8333, 3.1667, 7.1667}},
	} {
		t.Run(test.name, func(t *testing.T) {
			var ends []runEnd
			for _, at := range test.at {
				ends = append(ends, runEnd{along: at})
			}
			spreadApart(ends, 4)
			for i, e := range ends {
				if math.Abs(e.label-test.want[i]) > 1e-3 {
					t.Errorf("value %d at %.4f, want %.4f", i, e.label, test.want[i])
				}
			}
		})
	}
}

// TestShapesGolden keeps sheets of slanted, rounded and turned parts, and one with
// running dimensions, as files that were looked at.
func TestShapesGolden(t *testing.T) {
	kept := []Request{tilted(t), gusset(t), pin(t), linkPlate(t), stepped(t)}
	for _, request := range kept {
		t.Run(request.Name, func(t *testing.T) {
			got, err := picture.SVG(draw(t, request).Picture)
			if err != nil {
				t.Fatal(err)
			}
			golden.Compare(t, filepath.Join("testdata", "dimensions", request.Name+".svg"), got)
		})
	}
	files, err := filepath.Glob("testdata/dimensions/*.svg")
	if err != nil || len(files) != len(kept) {
		t.Errorf("%d golden files for %d sheets: %v", len(files), len(kept), err)
	}
}

// TestAnArcTangentAtOneEndIsFixedOnce: a slanted side runs smoothly into an arc that
// ends at a corner. The side's end and the radius settle where: of the 2 unknowns of
// the arc's middle and the one of its end along x, three equations (tangent, radius,
// end on the circle) leave none.
func TestAnArcTangentAtOneEndIsFixedOnce(t *testing.T) {
	at := func(x, y float64) solid.Vec2 { return solid.Vec2{X: x, Y: y} }
	o := solid.Outline{{From: at(0, 0), To: at(100, 0)}, {From: at(100, 0), To: at(100, 30)}, {From: at(100, 30), To: at(60, 60)},
		{From: at(60, 60), To: at(28, 44), Arc: true, Centre: at(48, 44)}, {From: at(28, 44), To: at(0, 44)}, {From: at(0, 44), To: at(0, 0)}}
	r := titled("tangent", "Tangent", build(t, solid.Shape{Base: solid.Sheet{Outline: o, Thickness: 6}}), Plate)
	r.Sides = o
	result := draw(t, r)
	complete(t, result)
	for _, f := range result.Facts {
		if f.Axis == "x" && math.Abs(f.At-28) < near {
			t.Errorf("the end of the arc has a place of its own: %v", f)
		}
	}
	if texts := dimensionTexts(result, Radius); len(texts) != 1 || texts[0] != "R20 [0.787]" {
		t.Errorf("radii %q", texts)
	}
}

// TestGroovesHaveTheirWidth: a groove is dimensioned by its width, not by both sides.
func TestGroovesHaveTheirWidth(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisX, Shape: solid.Lathed{{D: 30, L: 40}, {D: 26, L: 2}, {D: 30, L: 18}}}}})
	result := draw(t, titled("grooved", "Grooved pin", s, Free))
	complete(t, result)
	if got, want := dimensionTexts(result, Linear), []string{"60 [2.362]", "2 [0.079]", "40 [1.575]"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
