package quantity

import (
	"math"
	"strconv"
	"strings"
)

// A base is one of the independent kinds that a Dimension is built from.
type base int

const (
	baseLength base = iota
	baseMass
	baseTime
	baseCurrent
	baseTemperature
	baseMoney
	baseAngle
	baseCount
)

// exponentParts is the common denominator of all exponents. Sixty holds
// halves, thirds, quarters, fifths and sixths, which is more than roots and
// powers in mechanical formulas need, and keeps Dimension comparable with ==.
const exponentParts = 60

// maxExponent bounds the exponent of a base, so that repeated multiplication
// in a hostile formula cannot overflow.
const maxExponent = 100

// A Dimension says what kind of thing a Value measures: the exponents of
// length, mass, time, current, temperature, money and angle. The zero
// Dimension is that of a plain number.
//
// Angle is soft: 1 rad = 1, so that a torque in N·m and one in N·m/rad may be
// added. Compare with Same, or with Value.Is, which pass over angle; == tells
// an angle from a number and is for printing.
type Dimension struct {
	exponents [baseCount]int16 // in parts of 1/exponentParts
}

func dim(length, mass, time, current, temperature, money, angle int) Dimension {
	var d Dimension
	for i, n := range [baseCount]int{length, mass, time, current, temperature, money, angle} {
		d.exponents[i] = int16(n * exponentParts)
	}
	return d
}

// Dimensions in common use.
var (
	Pure         = dim(0, 0, 0, 0, 0, 0, 0)
	Length       = dim(1, 0, 0, 0, 0, 0, 0)
	Area         = dim(2, 0, 0, 0, 0, 0, 0)
	Volume       = dim(3, 0, 0, 0, 0, 0, 0)
	AreaMoment   = dim(4, 0, 0, 0, 0, 0, 0) // second moment of area
	Mass         = dim(0, 1, 0, 0, 0, 0, 0)
	Time         = dim(0, 0, 1, 0, 0, 0, 0)
	Current      = dim(0, 0, 0, 1, 0, 0, 0)
	Temperature  = dim(0, 0, 0, 0, 1, 0, 0)
	Money        = dim(0, 0, 0, 0, 0, 1, 0)
	Angle        = dim(0, 0, 0, 0, 0, 0, 1)
	AngularSpeed = dim(0, 0, -1, 0, 0, 0, 1)
	Frequency    = dim(0, 0, -1, 0, 0, 0, 0)
	Speed        = dim(1, 0, -1, 0, 0, 0, 0)
	Acceleration = dim(1, 0, -2, 0, 0, 0, 0)
	Force        = dim(1, 1, -2, 0, 0, 0, 0)
	Torque       = dim(2, 1, -2, 0, 0, 0, 0) // also energy
	Energy       = dim(2, 1, -2, 0, 0, 0, 1) // a torque through an angle; Same as Torque
	Power        = dim(2, 1, -3, 0, 0, 0, 0)
	Pressure     = dim(-1, 1, -2, 0, 0, 0, 0) // also stress
	Density      = dim(-3, 1, 0, 0, 0, 0, 0)
	LineDensity  = dim(-1, 1, 0, 0, 0, 0, 0) // mass per length
	Stiffness    = dim(0, 1, -2, 0, 0, 0, 0) // force per length
	Flow         = dim(3, 0, -1, 0, 0, 0, 0)
	Inertia      = dim(2, 1, 0, 0, 0, 0, 0)
	Voltage      = dim(2, 1, -3, -1, 0, 0, 0)
	Resistance   = dim(2, 1, -3, -2, 0, 0, 0)
	Capacitance  = dim(-2, -1, 4, 2, 0, 0, 0)
	Inductance   = dim(2, 1, -2, -2, 0, 0, 0)
	Charge       = dim(0, 0, 1, 1, 0, 0, 0)
	PricePerMass = dim(0, -1, 0, 0, 0, 1, 0)
	PricePerRun  = dim(-1, 0, 0, 0, 0, 1, 0) // money per length
)

// tradeNames are the names by which messages call dimensions, with articles.
var tradeNames = map[Dimension]string{
	Pure:         "a plain number",
	Length:       "a length",
	Area:         "an area",
	Volume:       "a volume",
	AreaMoment:   "a second moment of area",
	Mass:         "a mass",
	Time:         "a time",
	Current:      "a current",
	Temperature:  "a temperature",
	Money:        "an amount of money",
	Angle:        "an angle",
	AngularSpeed: "a rotational speed",
	Frequency:    "a frequency",
	Speed:        "a speed",
	Acceleration: "an acceleration",
	Force:        "a force",
	Torque:       "a torque or energy",
	Energy:       "an energy",
	Power:        "a power",
	Pressure:     "a pressure or stress",
	Density:      "a density",
	LineDensity:  "a mass per length",
	Stiffness:    "a force per length",
	Flow:         "a flow",
	Inertia:      "a moment of inertia",
	Voltage:      "a voltage",
	Resistance:   "a resistance",
	Capacitance:  "a capacitance",
	Inductance:   "an inductance",
	Charge:       "a charge",
	PricePerMass: "a price per mass",
	PricePerRun:  "a price per length",
}

// Same reports whether values of the two dimensions may be added and
// compared: whether they agree in everything but angle.
func (d Dimension) Same(e Dimension) bool {
	return d.soft() == e.soft()
}

// soft is the dimension without its angle.
func (d Dimension) soft() Dimension {
	d.exponents[baseAngle] = 0
	return d
}

// Angular returns the exponent of angle: 1 for rad and rpm, -1 for mm/turn.
func (d Dimension) Angular() float64 {
	return float64(d.exponents[baseAngle]) / exponentParts
}

// String returns the trade's name ("length", "torque or energy"), or the SI
// units where the trade has none ("kg·m/s").
func (d Dimension) String() string {
	name, found := d.tradeName()
	if !found {
		return d.Units()
	}
	_, name, _ = strings.Cut(name, " ")
	return name
}

// Article returns String with its article, to stand in a sentence: "a
// length", "an area", or "a quantity in kg·m/s".
func (d Dimension) Article() string {
	if name, found := d.tradeName(); found {
		return name
	}
	return "a quantity in " + d.Units()
}

func (d Dimension) tradeName() (string, bool) {
	if name, found := tradeNames[d]; found {
		return name, true
	}
	name, found := tradeNames[d.soft()]
	return name, found
}

// Units returns the SI base units of the dimension, "kg·m/s²"; "1" for a
// plain number. Money stands as ¤.
func (d Dimension) Units() string {
	symbols := [baseCount]string{"m", "kg", "s", "A", "K", "¤", "rad"}
	order := [baseCount]base{baseMoney, baseMass, baseLength, baseTime, baseCurrent, baseTemperature, baseAngle}
	var above, below []string
	for _, b := range order {
		switch n := d.exponents[b]; {
		case n > 0:
			above = append(above, symbols[b]+powerText(n))
		case n < 0:
			below = append(below, symbols[b]+powerText(-n))
		}
	}
	text := strings.Join(above, "·")
	if text == "" {
		text = "1"
	}
	switch len(below) {
	case 0:
		return text
	case 1:
		return text + "/" + below[0]
	}
	return text + "/(" + strings.Join(below, "·") + ")"
}

// powerText writes an exponent given in parts: "" for 1, "²", "^1.5".
func powerText(parts int16) string {
	switch {
	case parts == exponentParts:
		return ""
	case parts%exponentParts == 0:
		return superscript(int(parts / exponentParts))
	}
	return "^" + strconv.FormatFloat(float64(parts)/exponentParts, 'g', 4, 64)
}

// Mul returns the dimension of a product. Exponents beyond ±100 are an error.
func (d Dimension) Mul(e Dimension) (Dimension, error) { return d.combine(e, 1) }

// Div returns the dimension of a quotient. Exponents beyond ±100 are an error.
func (d Dimension) Div(e Dimension) (Dimension, error) { return d.combine(e, -1) }

func (d Dimension) combine(e Dimension, sign int) (Dimension, error) {
	for i := range d.exponents {
		n := int(d.exponents[i]) + sign*int(e.exponents[i])
		if n > maxExponent*exponentParts || n < -maxExponent*exponentParts {
			return Pure, errExponent
		}
		d.exponents[i] = int16(n)
	}
	return d, nil
}

// Pow returns the dimension raised to a power. It is an error when an
// exponent of the result is no fraction with a denominator up to six, or lies
// beyond ±100.
func (d Dimension) Pow(power float64) (Dimension, error) {
	for i, n := range d.exponents {
		if n == 0 {
			continue
		}
		raised := float64(n) * power
		whole := math.Round(raised)
		// The tolerance lets 1/3, which no float holds exactly, be a third.
		if !(math.Abs(raised-whole) < 1e-6) {
			if base(i) == baseAngle {
				d.exponents[i] = 0 // angle is soft: it is forgotten rather than refused
				continue
			}
			return Pure, errFraction
		}
		if math.Abs(whole) > maxExponent*exponentParts {
			return Pure, errExponent
		}
		d.exponents[i] = int16(whole)
	}
	return d, nil
}
