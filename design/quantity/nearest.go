package quantity

import (
	"sort"
	"strings"

	"github.com/agnivade/levenshtein"
)

// habits are spellings in daily use that are no symbols, with the symbol.
var habits = map[string]string{
	"ftlb": "lbf*ft", "lbft": "lbf*ft", "ftlbs": "lbf*ft", "inlb": "lbf*in", "lbin": "lbf*in", "inlbs": "lbf*in", "ozin": "ozf*in",
	"inch": "in", "inches": "in", "\"": "in", "″": "in", "foot": "ft", "feet": "ft",
	"metre": "m", "meter": "m", "metres": "m", "meters": "m", "micron": "um", "microns": "um",
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "mins": "min", "minute": "min", "minutes": "min",
	"hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d",
	"lbs": "lb", "pound": "lb", "pounds": "lb", "kgs": "kg", "gram": "g", "grams": "g", "kilo": "kg", "gr": "g",
	"degree": "deg", "degrees": "deg", "degs": "deg", "turns": "turn", "revs": "rev", "radian": "rad", "radians": "rad",
	"ohm": "Ohm", "ohms": "Ohm", "amp": "A", "amps": "A", "volt": "V", "volts": "V", "watt": "W", "watts": "W",
	"percent": "%", "litre": "l", "liter": "l", "HP": "hp", "PSI": "psi", "RPM": "rpm", "Rpm": "rpm",
	"cc": "cm^3", "€": "EUR", "$": "USD", "£": "GBP", "C": "degC", "cel": "degC",
}

// common are the units worth suggesting, beside the plain symbols.
var common = []string{
	"mm", "cm", "km", "um", "kg", "mg", "ms", "kN", "mN", "kPa", "MPa", "GPa", "kW", "mW", "kJ", "kWh", "mV", "kV", "mA",
	"kOhm", "mH", "uF", "kHz", "MHz", "ml", "EUR", "USD", "GBP", "CHF",
}

var suggestions = func() []string {
	list := append([]string(nil), common...)
	for name := range symbols {
		list = append(list, name)
	}
	sort.Strings(list)
	return list
}()

// joinedUnits parts Nm, kNmm or lbfin into the two units that were written
// without the sign between them; empty when the second is no length or time.
func joinedUnits(name string) string {
	for i := len(name) - 1; i > 0; i-- {
		first, known := lookupSymbol(name[:i])
		second, also := lookupSymbol(name[i:])
		if known && also && first.Currency == "" && (second.Dim == Length || second.Dim == Time) {
			return name[:i] + "*" + name[i:]
		}
	}
	return ""
}

// nearestUnit returns the known unit that an unknown one most resembles;
// empty when none is near. A difference in letter case alone is nearest.
func nearestUnit(name string) string {
	if name == "" || len(name) > 16 {
		return ""
	}
	if habit, found := habits[name]; found {
		return habit
	}
	// mm2 for mm^2, the power written flat
	if stem := strings.TrimRight(name, "234"); len(name)-len(stem) == 1 {
		if _, found := lookupSymbol(stem); found {
			return stem + "^" + name[len(stem):]
		}
	}
	for _, candidate := range suggestions {
		if strings.EqualFold(candidate, name) {
			return candidate
		}
	}
	if joined := joinedUnits(name); joined != "" {
		return joined
	}
	// One wrong letter in a symbol of three or more; in shorter ones any
	// symbol would be near any other.
	if len([]rune(name)) < 3 {
		return ""
	}
	for _, candidate := range suggestions {
		if len([]rune(candidate)) >= 2 && levenshtein.ComputeDistance(candidate, name) == 1 {
			return candidate
		}
	}
	return ""
}
