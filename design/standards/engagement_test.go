package standards_test

import (
	"testing"

	"plansheaf/design/standards"
)

// Engagement as engineering pages print it: 1 diameter in steel, 1.5 in cast iron,
// brass and bronze, 1.5 to 2 in aluminium, 2 in plastics. Pressures: VDI 2230 as a
// fastener maker reprints it.
func TestJoiningInMaterials(t *testing.T) {
	cases := []struct {
		material  string
		diameters float64
		pressure  float64 // 0: not known
	}{
		{material: "steel", diameters: 1, pressure: 490},
		{material: "steel_s235", diameters: 1, pressure: 490},
		{material: "steel_s355", diameters: 1, pressure: 760},
		{material: "stainless_304", diameters: 1, pressure: 630},
		{material: "aluminium_6082", diameters: 1.5, pressure: 260},
		{material: "aluminium_7075", diameters: 1.5, pressure: 410},
		{material: "cast_iron", diameters: 1.5, pressure: 800},
		{material: "brass", diameters: 1.5},
		{material: "petg", diameters: 2, pressure: 50},
		{material: "ptfe", diameters: 2},
		{material: "birch_plywood", diameters: 3, pressure: 8},
	}
	for _, c := range cases {
		t.Run(c.material, func(t *testing.T) {
			m, known := standards.MaterialByID(c.material)
			if !known {
				t.Fatal("no such material")
			}
			if got, ok := standards.LeastEngagement(m); !ok || got.Diameters != c.diameters || got.Says == "" {
				t.Errorf("engagement %+v, want %g diameters", got, c.diameters)
			}
			if got, ok := standards.BearingPressure(m); got != c.pressure || ok != (c.pressure > 0) {
				t.Errorf("pressure %g, want %g MPa", got, c.pressure)
			}
		})
	}
	if got, ok := standards.LeastEngagement(standards.Material{ID: "sintered_iron", Modulus: 160e3}); !ok || got.Diameters != 1 {
		t.Errorf("a plan's own stiff metal: %+v", got)
	}
	if _, ok := standards.LeastEngagement(standards.Material{}); ok {
		t.Error("a rule for a material of which nothing is known")
	}
}

// Another length is what the designation with that length gives.
func TestWithLength(t *testing.T) {
	for _, pair := range [][2]string{
		{"ISO 4762 M8x25 - 8.8", "ISO 4762 M8x60 - 8.8"},
		{"ISO 4014 M8x60 - 10.9", "ISO 4014 M8x130 - 10.9"},
		{"ISO 4026 M6x10 - 45H", "ISO 4026 M6x6 - 45H"},
		{"ASME B18.2.1 1/4-20 x 1 grade 5", "ASME B18.2.1 1/4-20 x 1 1/4 grade 5"},
		{"ISO 2338 6x30", "ISO 2338 6x40"},
	} {
		from, err := standards.Parse(pair[0])
		if err != nil {
			t.Fatal(err)
		}
		want, err := standards.Parse(pair[1])
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := from.WithLength(want.Length); !ok || got != want {
			t.Errorf("%s at %g mm: %+v, want %+v", pair[0], want.Length, got, want)
		}
	}
	nut, _ := standards.Parse("ISO 4032 M8 - 8")
	if _, ok := nut.WithLength(10); ok {
		t.Error("a nut has got a length")
	}
}
