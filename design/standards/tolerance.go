package standards

import (
	"strings"
	"sync"
)

// GeneralTolerance returns the permissible deviation, plus or minus, in
// millimetres of a length in millimetres that has no tolerance of its own, for
// the class f, m, c or v. It reports false for other classes, for sizes below
// 0.5 mm and above 4 m, and where a class is not defined.
// Source: ISO 2768-1:1989, table 1.
func GeneralTolerance(class string, size float64) (float64, bool) {
	// The first range of the table begins with 0.5 mm itself, the others after
	// their lower end.
	if size == 0.5 {
		size = 1
	}
	return generalTolerance("linear", class, size)
}

// GeneralRadiusTolerance is [GeneralTolerance] for external radii and chamfer
// heights. Source: ISO 2768-1:1989, table 2.
func GeneralRadiusTolerance(class string, size float64) (float64, bool) {
	if size == 0.5 {
		size = 1
	}
	return generalTolerance("radius", class, size)
}

// GeneralAngleTolerance returns the permissible deviation, plus or minus, in
// degrees of an angle whose shorter side is as long as given in millimetres.
// Source: ISO 2768-1:1989, table 3.
func GeneralAngleTolerance(class string, shorterSide float64) (float64, bool) {
	minutes, known := generalTolerance("angular", class, shorterSide)
	return minutes / 60, known
}

func generalTolerance(kind, class string, size float64) (float64, bool) {
	if class == "" || !strings.Contains("fmcv", class) || len(class) != 1 {
		return 0, false
	}
	r, found := rangeOf(generalTolerances()[kind], size)
	if !found || r.text(class) == "" {
		return 0, false
	}
	return r.number(class), true
}

var generalTolerances = sync.OnceValue(func() map[string][]row {
	tables := make(map[string][]row)
	for _, r := range readTable("tolerances").rows {
		tables[r.text("kind")] = append(tables[r.text("kind")], r)
	}
	return tables
})
