package sheet

import (
	"math"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/solid"
)

// TestGivenDimensionsOfEveryKind follows one request each; the rest is completed so
// that the audit finds nothing.
func TestGivenDimensionsOfEveryKind(t *testing.T) {
	for _, test := range []struct {
		name    string
		request Request
		given   DimensionRequest
		want    string
	}{
		{name: "linear", request: headPlate(t), given: DimensionRequest{From: "rods.1", To: "rods.2", Along: "x", Tolerance: "± 0.05"}, want: "180 ± 0.05 [7.087]"},
		{name: "linear for information", request: headPlate(t), given: DimensionRequest{From: "posts.1", To: "posts.2", Along: "x", Reference: true}, want: "(230 [9.055])"},
		{name: "linear to a corner", request: gusset(t), given: DimensionRequest{From: "corner_3", To: "corner_4", Along: "y"}, want: "70 [2.756]"},
		{name: "linear to a side", request: gusset(t), given: DimensionRequest{From: "side_5", To: "holes.2", Along: "x"}, want: "80 [3.150]"},
		{name: "diameter of a hole", request: headPlate(t), given: DimensionRequest{Diameter: "screw", Fit: "H8"}, want: "⌀22 H8 (+0.033/0) through"},
		{name: "diameter with a tolerance", request: headPlate(t), given: DimensionRequest{Diameter: "posts", Tolerance: "± 0.1"}, want: "4× ⌀9 ± 0.1 through"},
		{name: "diameter for information", request: headPlate(t), given: DimensionRequest{Diameter: "posts", Reference: true}, want: "(4× ⌀9 through)"},
		{name: "radius of a corner", request: headPlate(t), given: DimensionRequest{Radius: "corner_1", Tolerance: "± 1"}, want: "4× R8 ± 1 [0.315]"},
		{name: "radius of a side", request: linkPlate(t), given: DimensionRequest{Radius: "side_2"}, want: "2× R15 [0.591]"},
		{name: "angle of a slanted side", request: gusset(t), given: DimensionRequest{Angle: []string{"side_3"}, Tolerance: "± 0.5°"}, want: "48.81° ± 0.5°"},
		{name: "angle of two sides", request: tilted(t), given: DimensionRequest{Angle: []string{"side_5", "bottom_line"}}, want: ""},
		{name: "angle with a face", request: tilted(t), given: DimensionRequest{Angle: []string{"side_3", "right"}}, want: "149.04°"},
		{name: "angle of two slanted sides", request: tilted(t), given: DimensionRequest{Angle: []string{"side_3", "side_5"}}, want: "60.96°"},
		{name: "angle for information", request: gusset(t), given: DimensionRequest{Angle: []string{"side_3"}, Reference: true}, want: "(48.81°)"},
		{name: "chamfer", request: chamfered(t), given: DimensionRequest{Chamfer: "corner_2", Tolerance: "± 0.2"}, want: "4× 5 ± 0.2×45° [0.197]"},
		{name: "chamfer of a turned part", request: pin(t), given: DimensionRequest{Chamfer: "pin"}, want: "2× 2×45° [0.079]"},
		{name: "depth of a hole", request: wedge(t), given: DimensionRequest{Depth: "foot", Tolerance: "± 0.5"}, want: "M8 ↧15 ± 0.5"},
		{name: "depth of a pocket", request: wedge(t), given: DimensionRequest{Depth: "pocket", Tolerance: "± 0.1"}, want: "8 ± 0.1 [0.315]"},
	} {
		t.Run(test.name, func(t *testing.T) {
			test.request.Dimensions = []DimensionRequest{test.given}
			if test.request.Name == "head_plate" {
				test.request.Sides = solid.RectangleOutline(260, 120)
			}
			r := draw(t, test.request)
			if test.want == "" {
				if len(r.Faults) != 1 || !strings.Contains(r.Faults[0].Message, "bottom_line") {
					t.Errorf("faults %v", r.Faults)
				}
				return
			}
			complete(t, r)
			if len(r.Dimensions) == 0 || r.Dimensions[0].Text != test.want || !r.Dimensions[0].Given {
				t.Errorf("first dimension %+v, want %q", r.Dimensions[0], test.want)
			}
			if test.given.Reference != r.Dimensions[0].Reference {
				t.Error("brackets and reference differ")
			}
		})
	}
}

// TestDepthAndDiameterShareACallout: what is asked of one hole apart stands together.
func TestDepthAndDiameterShareACallout(t *testing.T) {
	request := wedge(t)
	request.Dimensions = []DimensionRequest{{Depth: "foot", Tolerance: "± 0.5"}, {Diameter: "foot", Fit: "6H"}}
	r := draw(t, request)
	complete(t, r)
	if got := dimensionTexts(r, Callout); !slices.Equal(got, []string{"M8 6H ↧15 ± 0.5"}) {
		t.Errorf("callouts %q", got)
	}
}

func TestFaultsOfGivenDimensions(t *testing.T) {
	for _, test := range []struct {
		name    string
		request Request
		given   DimensionRequest
		says    string
	}{
		{name: "radius of a hole", request: headPlate(t), given: DimensionRequest{Radius: "screw"}, says: "is a hole"},
		{name: "radius of a sharp corner", request: tilted(t), given: DimensionRequest{Radius: "corner_1"}, says: "nothing rounded"},
		{name: "side beyond the outline's", request: gusset(t), given: DimensionRequest{Radius: "side_9"}, says: "nothing rounded"},
		{name: "angle of a straight side", request: tilted(t), given: DimensionRequest{Angle: []string{"side_1"}}, says: "nothing that slants"},
		{name: "angle of three", request: tilted(t), given: DimensionRequest{Angle: []string{"side_3", "side_4", "side_5"}}, says: "not 3"},
		{name: "angle of a side with itself", request: tilted(t), given: DimensionRequest{Angle: []string{"side_3", "side_3"}}, says: "make no angle"},
		{name: "chamfer of a sharp corner", request: tilted(t), given: DimensionRequest{Chamfer: "corner_1"}, says: "no chamfer"},
		{name: "depth of a through hole", request: headPlate(t), given: DimensionRequest{Depth: "screw"}, says: "goes through"},
		{name: "depth of a face", request: wedge(t), given: DimensionRequest{Depth: "top"}, says: "nothing with a depth"},
		{name: "angle as tolerance of a length", request: headPlate(t), given: DimensionRequest{Diameter: "screw", Tolerance: "± 1°"}, says: "is an angle"},
		{name: "length as tolerance of an angle", request: tilted(t), given: DimensionRequest{Angle: []string{"side_3"}, Tolerance: "± 1"}, says: "is none"},
		{name: "what comes with the stock", request: rod(t), given: DimensionRequest{Diameter: "body"}, says: "comes with the stock"},
		{name: "several diameters", request: shaft(t), given: DimensionRequest{Diameter: "body"}, says: "nothing round"},
	} {
		t.Run(test.name, func(t *testing.T) {
			test.request.Dimensions = []DimensionRequest{test.given}
			r := draw(t, test.request)
			if len(r.Faults) != 1 || r.Faults[0].Index != 0 || !strings.Contains(r.Faults[0].Message, test.says) || r.Faults[0].Remedy == "" {
				t.Errorf("faults %+v", r.Faults)
			}
		})
	}
}

// TestAuditOfGivenSchemes judges schemes that are the author's alone.
func TestAuditOfGivenSchemes(t *testing.T) {
	full := []DimensionRequest{
		{From: "left", To: "right"}, {From: "front", To: "back"}, {Angle: []string{"side_5"}},
		{From: "left", To: "corner_4", Along: "x"}, {From: "front", To: "corner_3", Along: "y"},
		{From: "left", To: "pin", Along: "x"}, {From: "front", To: "pin", Along: "y"}, {Diameter: "pin"}}
	without := func(i int) []DimensionRequest { return append(slices.Clone(full[:i]), full[i+1:]...) }
	with := func(more DimensionRequest) []DimensionRequest { return append(slices.Clone(full), more) }
	for _, test := range []struct {
		name  string
		given []DimensionRequest
		want  []string
	}{
		{name: "complete", given: full},
		{name: "size missing", given: without(7), want: []string{"size of pin is not fixed"}},
		{name: "place missing", given: without(5), want: []string{"place of pin along x (70 mm) is not fixed"}},
		{name: "angle missing", given: without(2), want: []string{"place of corner along x (46.188 mm) is not fixed"}},
		{name: "doubled", given: with(DimensionRequest{From: "left", To: "pin", Along: "x"}), want: []string{"place of pin along x (70 mm) is fixed twice, again by 70 [2.756]"}},
		{name: "closed chain", given: with(DimensionRequest{From: "pin", To: "right", Along: "x"}), want: []string{"place of right along x (120 mm) is fixed twice, again by 50 [1.969]"}},
		{name: "angle and both coordinates", given: with(DimensionRequest{From: "left", To: "corner_5", Along: "x"}), want: []string{"place of corner along x (46.188 mm) is fixed twice, again by 46.19 [1.818]"}},
		{name: "a second angle", given: with(DimensionRequest{Angle: []string{"side_3"}}), want: []string{"place of right along x (120 mm) is fixed twice, again by 30.96°"}},
		{name: "diameter twice", given: with(DimensionRequest{Diameter: "pin"}), want: []string{"size of pin is fixed twice, again by ⌀8 through"}},
		{name: "for information", given: with(DimensionRequest{From: "pin", To: "right", Along: "x", Reference: true})},
		{name: "chain instead of base lines", given: append(without(5), DimensionRequest{From: "pin", To: "right", Along: "x"})},
	} {
		t.Run(test.name, func(t *testing.T) {
			request := tilted(t)
			request.OnlyGiven, request.Dimensions = true, test.given
			r := draw(t, request)
			var got []string
			for _, o := range Audit(r.Facts, r.Ties, r.Dimensions) {
				got = append(got, o.String())
			}
			for _, f := range r.Faults {
				t.Errorf("fault: %s", f.Message)
			}
			if !slices.Equal(got, test.want) {
				t.Errorf("found %q\nwant  %q", got, test.want)
			}
		})
	}
}

// TestConesByTheirAngle: an author's angle or taper takes the place of a cone's length,
// by what trigonometry gives; in brackets it takes the place of nothing.
func TestConesByTheirAngle(t *testing.T) {
	for _, test := range []struct {
		name      string
		to, long  float64
		reference bool
		want      string
		lengths   []string
	}{
		{name: "angle", to: 30 - 2*20*math.Tan(15*math.Pi/180), long: 20, want: "cone 30°", lengths: []string{"60 [2.362]", "20 [0.787]"}},
		{name: "taper", to: 28, long: 20, want: "taper 1:10", lengths: []string{"60 [2.362]", "20 [0.787]"}},
		{name: "odd angle", to: 27, long: 20, want: "cone 8.58°", lengths: []string{"60 [2.362]", "20 [0.787]"}},
		{name: "for information", to: 28, long: 20, reference: true, want: "(taper 1:10)", lengths: []string{"60 [2.362]", "20 [0.787]", "40 [1.575]"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisX, Name: "body", Shape: solid.Lathed{{D: 20, L: 20}, {D: test.to, To: 30, L: test.long}, {D: 36, L: 20}}}}})
			r := titled("cone", "Cone", s, Free)
			r.Dimensions = []DimensionRequest{{Angle: []string{"body"}, Reference: test.reference}}
			result := draw(t, r)
			complete(t, result)
			for _, f := range faultMessages(result) {
				t.Error(f)
			}
			if got := dimensionTexts(result, Taper); len(got) != 1 || got[0] != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
			if got := dimensionTexts(result, Linear); !slices.Equal(got, test.lengths) {
				t.Errorf("lengths %q, want %q", got, test.lengths)
			}
		})
	}
}
