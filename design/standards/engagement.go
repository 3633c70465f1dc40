package standards

import (
	"strings"
	"sync"
)

// An Engagement is how long a screw should turn in a thread that is cut into a part.
type Engagement struct {
	Diameters float64 // least length, in screw diameters
	Says      string  // what it holds for: "aluminium"
}

// LeastEngagement returns the least length of thread in a material, false for one of
// which nothing is known. Source: rule of thumb, see tables/engagement.csv.
func LeastEngagement(m Material) (Engagement, bool) {
	for _, r := range joiningTable("engagement") {
		id, family, stiff := r.text("id"), r.text("family"), r.text("modulus_over_mpa")
		switch {
		case id != "" && m.ID != id && !strings.HasPrefix(m.ID, id+"_"):
			continue
		case family != "" && m.Family != family:
			continue
		case stiff != "" && (m.Modulus <= r.number("modulus_over_mpa") || m.Family != "" && m.Family != "metal"):
			continue
		}
		return Engagement{r.number("diameters"), r.text("says")}, true
	}
	return Engagement{}, false
}

// BearingPressure returns the largest pressure in megapascals under a head, a washer
// or a nut, false for a material of which none is known. Plastics bear their yield
// strength. Source: VDI 2230 Part 1, see tables/bearing-pressures.csv.
func BearingPressure(m Material) (float64, bool) {
	for _, r := range joiningTable("bearing-pressures") {
		if id := r.text("id"); id != "" && id == m.ID || id == "" && r.text("family") == m.Family {
			return r.number("pressure_mpa"), true
		}
	}
	return m.Yield, m.Family == "plastic" && m.Yield > 0
}

var joining = sync.OnceValue(func() map[string][]row {
	tables := map[string][]row{}
	for _, name := range []string{"engagement", "bearing-pressures"} {
		tables[name] = readTable(name).rows
	}
	return tables
})

func joiningTable(name string) []row { return joining()[name] }
