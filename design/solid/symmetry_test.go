package solid

import "testing"

func TestSectionSymmetry(t *testing.T) {
	for _, c := range []struct {
		name    string
		section Section
		want    Symmetry
	}{
		{"round", Round{D: 20}, Symmetry{true, true, true, true}},
		{"tube", Tube{D: 20, Wall: 2}, Symmetry{true, true, true, true}},
		{"square", Rectangle{W: 20, H: 20, Corner: 2}, Symmetry{true, true, true, true}},
		{"flat", Rectangle{W: 40, H: 20}, Symmetry{true, true, true, false}},
		{"box", BoxTube{W: 40, H: 20, Wall: 2, Corner: 3}, Symmetry{true, true, true, false}},
		{"slotted", Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8, Corner: 1}, Symmetry{true, true, true, true}},
		{"two slots wide", Slotted{W: 60, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Symmetry{true, true, true, false}},
		{"angle", Angle{W: 40, H: 40, Wall: 4, Corner: 3}, Symmetry{}},
		{"channel", Channel{W: 40, H: 20, Wall: 3, Corner: 2}, Symmetry{First: true}},
		{"Z", Profile{Outline: PolygonOutline([]Vec2{{0, 0}, {23, 0}, {23, 27}, {40, 27}, {40, 30}, {20, 30}, {20, 3}, {0, 3}})}, Symmetry{}},
		{"S", Profile{Outline: PolygonOutline([]Vec2{{0, 0}, {22, 0}, {22, 27}, {40, 27}, {40, 30}, {18, 30}, {18, 3}, {0, 3}})}, Symmetry{Half: true}},
	} {
		got, err := SectionSymmetry(c.section)
		if err != nil || got != c.want {
			t.Errorf("%s: %+v, %v, want %+v", c.name, got, err, c.want)
		}
	}
}
