package quantity

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// theirs are the units that the independent program units calls otherwise.
var theirs = map[string]string{
	"%": "percent", "lb": "lbm", "oz": "ounce", "t": "tonne", "l": "liter", "L": "liter", "d": "day", "h": "hour", "min": "minute", "mil": "mil", "thou": "mil",
	"Btu": "btu_IT", "Ohm": "ohm", "Ω": "ohm", "VA": "V A", "Wh": "W hour", "Ah": "A hour", "kip": "kip", "hp": "hp", "ozf": "lbf/16",
	"deg": "degree", "°": "degree", "'": "arcmin", "rpm": "revolution/minute", "rev": "revolution", "Δ°F": "degF", "degC": "degC", "°C": "degC", "degF": "degF", "°F": "degF",
	"C": "coulomb", "S": "siemens", "H": "henry", "T": "tesla", "Wb": "weber", "F": "farad", "A": "ampere", "V": "volt", "g": "gram", "gal": "gallon", "in": "inch", "rad": "radian",
}

// prefixNames are what that program calls prefixes before units named in words.
var prefixNames = map[string]string{
	"p": "pico", "n": "nano", "u": "micro", "µ": "micro", "m": "milli", "c": "centi", "d": "deci", "da": "deka", "h": "hecto", "k": "kilo", "M": "mega", "G": "giga", "T": "tera",
}

// Every unit, with every prefix where it takes them, and compound ones, have the factor
// that GNU units has, to twelve digits.
func TestFactorsAgainstUnitsProgram(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the program units is missing")
		}
		t.Skip("the program units (Debian package units) is missing")
	}
	type pair struct{ ours, theirs string }
	var pairs []pair
	for _, known := range Symbols() {
		name, renamed := theirs[known.Text]
		if !renamed {
			name = known.Text
		}
		pairs = append(pairs, pair{known.Text, name})
		if !known.Prefixes {
			continue
		}
		for _, p := range prefixes {
			pairs = append(pairs, pair{p.text + known.Text, prefixNames[p.text] + " " + name})
		}
	}
	for _, compound := range []pair{
		{"N*m", "N m"}, {"lbf*ft", "lbf foot"}, {"lbf*in", "lbf inch"}, {"ozf*in", "inch lbf/16"}, {"kg/m^3", "kg/m^3"}, {"lb/in^3", "lbm/inch^3"}, {"mm^4", "mm^4"}, {"in^4", "inch^4"},
		{"m/s^2", "m/s^2"}, {"ft/min", "foot/minute"}, {"l/min", "liter/minute"}, {"gal/min", "gallon/minute"}, {"W/(m*K)", "W/(m K)"}, {"Btu/h", "btu_IT/hour"}, {"kg*m^2", "kg m^2"}, {"lbf/in", "lbf/inch"}, {"lb/ft", "lbm/foot"},
	} {
		pairs = append(pairs, compound)
	}
	var input strings.Builder
	for _, p := range pairs {
		v, err := New(1, p.ours)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&input, "%s\n%s\n", p.theirs, inProgram.Replace(v.Dim.Units()))
	}
	cmd := exec.Command(program, "--quiet", "--terse", "--digits", "17")
	cmd.Stdin = strings.NewReader(input.String())
	cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(pairs) {
		t.Fatalf("%d answers for %d units: %s", len(lines), len(pairs), out)
	}
	for i, p := range pairs {
		ours, _ := New(1, p.ours)
		difference := ours.SI
		if unit, err := ParseUnit(p.ours); err == nil {
			difference = unit.Factor // the program's degC and degF in a product are differences
		}
		want, err := strconv.ParseFloat(strings.TrimSpace(lines[i]), 64)
		if err != nil || math.Abs(difference/want-1) > 1e-12 {
			t.Errorf("1 %s is %.15g in SI units, the program says %s", p.ours, difference, lines[i])
		}
	}
}

// inProgram writes SI base units as the program reads them.
var inProgram = strings.NewReplacer("·", " ", "rad", "radian", "²", "^2", "³", "^3", "⁴", "^4")
