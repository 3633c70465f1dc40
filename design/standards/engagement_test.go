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
