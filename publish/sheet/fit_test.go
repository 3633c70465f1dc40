package sheet

import (
	"slices"
	"testing"

	"plansheaf/design/solid"
)

// TestFitsShowTheirDeviations against ISO 286-2:2010, tables 2 to 32.
func TestFitsShowTheirDeviations(t *testing.T) {
	for _, test := range []struct {
		diameter float64
		class    string
		system   System
		want     string
	}{
		{diameter: 12, class: "H7", want: "H7 (+0.018/0)"},
		{diameter: 20, class: "g6", want: "g6 (−0.007/−0.020)"},
		{diameter: 25, class: "p6", want: "p6 (+0.035/+0.022)"},
		{diameter: 12, class: "js6", want: "js6 (±0.0055)"},
		{diameter: 40, class: "N7", want: "N7 (−0.008/−0.033)"},
		{diameter: 25.4, class: "H7", system: Inch, want: "H7 (+0.0008/0)"},
		{diameter: 130, class: "H7", want: "H7"},
		{diameter: 12, class: "Q9", want: "Q9"},
		{diameter: 12, class: "", want: ""},
	} {
		t.Run(test.class, func(t *testing.T) {
			if got := test.system.fit(test.diameter, test.class); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

// TestHoleTablesCarryFitsAndSlots: what a callout would say stands in the table too,
// and which way a slot lies; what a callout says already is in brackets.
func TestHoleTablesCarryFitsAndSlots(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(180, 140), Thickness: 8}, Holes: []solid.Hole{
		{Name: "pins", At: []solid.Vec2{{X: 12, Y: 13}, {X: 33, Y: 51}, {X: 77, Y: 22}, {X: 120, Y: 100}, {X: 160, Y: 31}}, Pattern: true, D: 6},
		{Name: "bore", At: []solid.Vec2{{X: 90, Y: 70}}, D: 20},
		{Name: "strap", At: []solid.Vec2{{X: 150, Y: 122}}, Kind: solid.Obround, D: 6.6, Long: 18, Along: solid.AxisY}}})
	r := titled("tabled", "Tabled plate", s, Plate)
	r.Called = map[string]HoleWord{"pins": {Fit: "H7"}}
	r.Dimensions = []DimensionRequest{{Diameter: "bore", Fit: "H8"}}
	result := draw(t, r)
	complete(t, result)
	texts := readSheet(result.Picture.Marks)
	for _, want := range []string{"⌀6 H7 (+0.012/0) through", "slot 18×6.6 along y through", "⌀20 H8 (+0.033/0) through", "(⌀20 through)"} {
		if !slices.ContainsFunc(texts, func(d drawnText) bool { return d.words == want }) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
}

// TestRoundFacesCarryFits: what stands with a round face's diameter in the plan is
// behind it on the sheet.
func TestRoundFacesCarryFits(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Group{
		{Shape: solid.Rod{D: 16, L: 60}, Name: "seat", Along: solid.AxisZ},
		{Shape: solid.Rod{D: 12, L: 30}, Name: "journal", Along: solid.AxisZ, At: solid.Vec{X: 2, Y: 2, Z: 60}},
	}})
	r := titled("pin", "Pin", s, Free)
	r.Called = map[string]HoleWord{"journal.body": {Fit: "h6"}, "seat.body": {Tolerance: "± 0.05"}}
	result := draw(t, r)
	complete(t, result)
	texts := readSheet(result.Picture.Marks)
	for _, want := range []string{"⌀12 h6 (0/−0.011) [0.472]", "⌀16 ± 0.05 [0.630]"} {
		if !slices.ContainsFunc(texts, func(d drawnText) bool { return d.words == want }) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
}
