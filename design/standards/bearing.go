package standards

import (
	"strings"
	"sync"
)

// A Bearing is a rolling bearing by its boundary dimensions in millimetres.
type Bearing struct {
	Designation string // "608", "6204", without suffixes
	Kind        string // "ball" (deep groove) or "thrust"
	Bore        float64
	Outside     float64
	Width       float64 // height of a thrust bearing
}

// BearingByDesignation finds a bearing. Suffixes for seals, shields and
// clearance ("608-2RS", "6204 ZZ", "6001-2Z/C3") do not change the sizes of the
// bearings listed and are passed over. It reports false for a bearing that the
// table lacks and for anything that is no designation.
// Sources: ISO 15 (ball), ISO 104 (thrust).
func BearingByDesignation(designation string) (Bearing, bool) {
	designation = strings.TrimSpace(designation)
	digits := strings.IndexFunc(designation, func(r rune) bool { return r < '0' || r > '9' })
	suffix := ""
	if digits >= 0 {
		designation, suffix = designation[:digits], designation[digits:]
	}
	if !bearingSuffix(suffix) {
		return Bearing{}, false
	}
	for _, bearing := range bearings() {
		if bearing.Designation == designation {
			return bearing, true
		}
	}
	return Bearing{}, false
}

// bearingSuffix reports whether a suffix says only how a bearing is sealed,
// shielded or set. The names differ between makers; these are in common use.
func bearingSuffix(suffix string) bool {
	for part := range strings.FieldsFuncSeq(strings.ToUpper(suffix), func(r rune) bool { return r == '-' || r == '/' || r == ' ' }) {
		switch part {
		case "2RS", "2RS1", "2RSH", "2RSR", "DDU", "LLU", "RS", "Z", "ZZ", "2Z", "C2", "C3", "C4", "CN":
		default:
			return false
		}
	}
	return true
}

// Bearings returns every bearing in the order of the table.
func Bearings() []Bearing {
	return append([]Bearing(nil), bearings()...)
}

// NearestBearing returns the designation that is spelled most alike, "" when
// none is near.
func NearestBearing(designation string) string {
	var all []string
	for _, bearing := range bearings() {
		all = append(all, bearing.Designation)
	}
	return nearest(designation, all)
}

var bearings = sync.OnceValue(func() []Bearing {
	var all []Bearing
	for _, r := range readTable("bearings").rows {
		all = append(all, Bearing{
			Designation: r.text("designation"), Kind: r.text("kind"),
			Bore: r.number("bore_mm"), Outside: r.number("outside_mm"), Width: r.number("width_mm"),
		})
	}
	return all
})
