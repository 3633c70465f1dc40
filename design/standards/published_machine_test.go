package standards

import (
	"fmt"
	"strings"
	"testing"
)

func TestShaftTolerancesAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "shaft-tolerances-h") {
		for grade := 4; grade <= 12; grade++ {
			class := fmt.Sprintf("h%d", grade)
			for _, d := range []float64{p.number(t, "over_mm") + 0.1, p.number(t, "up_to_mm")} {
				lower, upper, err := Limits(d, class)
				if err != nil || upper != 0 {
					t.Errorf("%v %s: upper %v, %v", d, class, upper, err)
				}
				p.expect(t, fmt.Sprintf("%v %s", d, class), class, lower*1000, exact)
			}
		}
	}
}

func TestPinTolerancesAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "shaft-tolerances-m6") {
		lower, upper, err := Limits(p.number(t, "up_to_mm"), "m6")
		if err != nil {
			t.Error(err)
		}
		p.expect(t, p["up_to_mm"], "lower", lower*1000, exact)
		p.expect(t, p["up_to_mm"], "upper", upper*1000, exact)
	}
}

func TestBearingsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "bearings") {
		b, known := BearingByDesignation(p["designation"])
		if !known {
			t.Errorf("no bearing %s", p["designation"])
		}
		p.expect(t, b.Designation, "bore_mm", b.Bore, 0)
		p.expect(t, b.Designation, "outside_mm", b.Outside, 0)
		p.expect(t, b.Designation, "width_mm", b.Width, 0)
	}
}

func TestParallelKeysAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "parallel-keys") {
		for _, shaft := range []float64{p.number(t, "over_mm") + 0.1, p.number(t, "up_to_mm")} {
			key, known := ParallelKeyFor(shaft)
			if !known {
				t.Errorf("no key for a shaft of %v mm", shaft)
			}
			name := fmt.Sprintf("shaft %v", shaft)
			p.expect(t, name, "width_mm", key.Width, 0)
			p.expect(t, name, "height_mm", key.Height, 0)
			p.expect(t, name, "shaft_depth_mm", key.ShaftDepth, 0)
			p.expect(t, name, "hub_depth_mm", key.HubDepth, 0)
		}
	}
}

func TestShaftDeviationsAsPublished(t *testing.T) {
	classes := map[string]string{
		"d": "d9", "e": "e8", "f": "f7", "g": "g6", "j6": "j6", "j7": "j7", "k": "k6",
		"m": "m6", "n": "n6", "p": "p6", "r": "r6", "s": "s6", "u": "u6",
	}
	for _, p := range readPublished(t, "shaft-deviations") {
		for _, d := range []float64{p.number(t, "over_mm") + 0.1, p.number(t, "up_to_mm")} {
			for column, class := range classes {
				lower, upper, err := Limits(d, class)
				if err != nil {
					t.Error(err)
				}
				nearer := lower
				if strings.Contains("defg", column) {
					nearer = upper
				}
				p.expect(t, fmt.Sprintf("%v %s", d, class), column, nearer*1000, exact)
			}
		}
	}
}
