package standards

import "sync"

// A Material is one row of the table of materials at room temperature. A value
// that is not defined or not known is 0.
type Material struct {
	ID        string  // "aluminium_6063"
	Title     string  // "Aluminium 6063-T5"
	Family    string  // "metal", "wood", "plastic", "rubber", "mineral"
	Density   float64 // kg/m³
	Modulus   float64 // Young's modulus, MPa
	Yield     float64 // MPa
	Softening float64 // °C where a plastic loses its shape under load
	Conducts  bool    // electricity
	Note      string
	Source    string // how far the row was checked
}

// MaterialByID finds a material, false when the table lacks it.
func MaterialByID(id string) (Material, bool) {
	for _, material := range materials() {
		if material.ID == id {
			return material, true
		}
	}
	return Material{}, false
}

// Materials returns every material in the order of the table.
func Materials() []Material {
	return append([]Material(nil), materials()...)
}

// NearestMaterial returns the id in the table that is spelled most like the one
// given, "" when none is near.
func NearestMaterial(id string) string {
	var ids []string
	for _, material := range materials() {
		ids = append(ids, material.ID)
	}
	return nearest(id, ids)
}

var materials = sync.OnceValue(func() []Material {
	var all []Material
	for _, r := range readTable("materials").rows {
		all = append(all, Material{
			ID: r.text("id"), Title: r.text("title"), Family: r.text("family"),
			Density: r.number("density_kg_m3"), Modulus: r.number("modulus_mpa"), Yield: r.number("yield_mpa"),
			Softening: r.number("softening_degc"), Conducts: r.text("conducts") == "yes",
			Note: r.text("note"), Source: r.text("verification"),
		})
	}
	return all
})
