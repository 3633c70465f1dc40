package sheet

import (
	"math"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/solid"
)

// TestMitredBars: a mitred bar's sheet gives its length from tip to tip and an angle for
// each mitred end, in a view that shows it, and nothing of its section. Angles lie
// between the end and the long side, so they are what the saw's leaves of a right one.
func TestMitredBars(t *testing.T) {
	mitre := func(degrees float64, long string) solid.Mitre {
		return solid.Mitre{Angle: degrees * math.Pi / 180, Long: long}
	}
	slotted := solid.Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}
	for _, c := range []struct {
		name   string
		bar    solid.Bar
		linear []string
		angles []string
		views  []string
	}{
		{"flat on edge", solid.Bar{Section: solid.Rectangle{W: 20, H: 40}, Start: mitre(45, "bottom"), End: mitre(45, "bottom")},
			[]string{"300 [11.811]"}, []string{"45°", "45°"}, []string{"front"}},
		{"flat lying", solid.Bar{Section: solid.Rectangle{W: 40, H: 20}, Start: mitre(45, "front"), End: mitre(45, "front")},
			[]string{"300 [11.811]"}, []string{"45°", "45°"}, []string{"top"}},
		{"box with round corners, a parallelogram", solid.Bar{Section: solid.BoxTube{W: 20, H: 40, Wall: 2, Corner: 3}, Start: mitre(30, "bottom"), End: mitre(30, "top")},
			[]string{"300 [11.811]"}, []string{"60°", "60°"}, []string{"front", "right"}},
		{"tube", solid.Bar{Section: solid.Tube{D: 25, Wall: 2}, Start: mitre(30, "bottom"), End: mitre(45, "top")},
			[]string{"300 [11.811]"}, []string{"60°", "45°"}, []string{"front"}},
		{"slotted bar, one end", solid.Bar{Section: slotted, End: mitre(45, "top")},
			[]string{"300 [11.811]"}, []string{"45°"}, []string{"front", "right"}},
		{"slotted bar that stands", solid.Bar{Section: slotted, Lies: solid.AxisZ, End: mitre(45, "left")},
			[]string{"300 [11.811]"}, []string{"45°"}, []string{"front", "top"}},
		{"angle", solid.Bar{Section: solid.Angle{W: 40, H: 40, Wall: 4}, Start: mitre(45, "front"), End: mitre(45, "front")},
			[]string{"300 [11.811]"}, []string{"45°", "45°"}, []string{"top", "right"}},
		{"about two axes", solid.Bar{Section: solid.BoxTube{W: 20, H: 40, Wall: 2, Corner: 3}, Start: mitre(45, "bottom"), End: mitre(30, "front")},
			[]string{"300 [11.811]"}, []string{"45°", "60°"}, []string{"front", "top"}},
		// An angle that no saw is set to is given by the place of the heel: 40 × tan 33.33° = 26.305.
		{"no round angle", solid.Bar{Section: solid.Rectangle{W: 20, H: 40}, Start: mitre(33.33, "bottom")},
			[]string{"300 [11.811]", "26.31 [1.036]"}, nil, []string{"front"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.bar.Length = 300
			r := titled("mitred", "Mitred", build(t, solid.Shape{Base: c.bar}), Bar)
			r.Along = c.bar.Lies
			result := draw(t, r)
			complete(t, result)
			if got := dimensionTexts(result, Linear); !slices.Equal(got, c.linear) {
				t.Errorf("sizes %q, want %q", got, c.linear)
			}
			if got := dimensionTexts(result, Angle); !slices.Equal(got, c.angles) {
				t.Errorf("angles %q, want %q", got, c.angles)
			}
			for _, d := range result.Dimensions {
				if d.Kind == Angle && d.View == "" {
					t.Errorf("no view shows the angle of %s", d.Text)
				}
			}
			if got := slices.DeleteFunc(slices.Clone(result.Views), func(v string) bool { return v == "pictorial" }); strings.Join(got, " ") != strings.Join(c.views, " ") {
				t.Errorf("views %q, want %q", got, c.views)
			}
		})
	}
}
