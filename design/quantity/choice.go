package quantity

import "math"

// candidate is a unit in common use for a dimension, and the least number of
// it for which it is chosen. Lists go from small to large units.
type candidate struct {
	unit string
	from float64
}

// neutralUnits serve both systems.
var neutralUnits = map[Dimension][]candidate{
	Pure:         {{"", 0}},
	Time:         {{"ms", 0}, {"s", 1}, {"min", 2}, {"h", 2}},
	Angle:        {{"deg", 0}},
	AngularSpeed: {{"rpm", 0}},
	Frequency:    {{"1/s", 0}},
	Current:      {{"mA", 0}, {"A", 1}},
	Voltage:      {{"mV", 0}, {"V", 1}, {"kV", 1}},
	Resistance:   {{"mΩ", 0}, {"Ω", 1}, {"kΩ", 1}, {"MΩ", 1}},
	Capacitance:  {{"pF", 0}, {"nF", 1}, {"µF", 1}, {"mF", 1}, {"F", 1}},
	Inductance:   {{"µH", 0}, {"mH", 1}, {"H", 1}},
	Charge:       {{"mAh", 0}, {"Ah", 1}},
}

var metricUnits = map[Dimension][]candidate{
	Length:       {{"µm", 0}, {"mm", 0.001}, {"m", 10}},
	Area:         {{"mm²", 0}, {"m²", 0.1}},
	Volume:       {{"mm³", 0}, {"cm³", 1}, {"l", 1}, {"m³", 1}},
	AreaMoment:   {{"mm⁴", 0}},
	Mass:         {{"g", 0}, {"kg", 1}, {"t", 1}},
	Speed:        {{"mm/s", 0}, {"m/s", 1}},
	Acceleration: {{"m/s²", 0}},
	Force:        {{"mN", 0}, {"N", 0.1}, {"kN", 1}, {"MN", 1}},
	Torque:       {{"mN·m", 0}, {"N·m", 0.1}, {"kN·m", 1}},
	Energy:       {{"mJ", 0}, {"J", 0.1}, {"kJ", 1}, {"MJ", 1}},
	Power:        {{"mW", 0}, {"W", 0.1}, {"kW", 1}, {"MW", 1}},
	Pressure:     {{"Pa", 0}, {"kPa", 1}, {"MPa", 0.1}, {"GPa", 1}},
	Density:      {{"kg/m³", 0}},
	LineDensity:  {{"g/m", 0}, {"kg/m", 0.1}},
	Stiffness:    {{"N/m", 0}, {"N/mm", 0.1}, {"kN/mm", 1}},
	Flow:         {{"ml/min", 0}, {"l/min", 0.1}},
	Inertia:      {{"g·cm²", 0}, {"kg·cm²", 1}, {"kg·m²", 0.1}},
	Temperature:  {{"K", 0}},
}

var inchUnits = map[Dimension][]candidate{
	Length:       {{"in", 0}, {"ft", 20}},
	Area:         {{"in²", 0}, {"ft²", 10}},
	Volume:       {{"in³", 0}, {"ft³", 1}},
	AreaMoment:   {{"in⁴", 0}},
	Mass:         {{"oz", 0}, {"lb", 1}},
	Speed:        {{"in/s", 0}, {"ft/s", 5}},
	Acceleration: {{"ft/s²", 0}},
	Force:        {{"ozf", 0}, {"lbf", 1}},
	Torque:       {{"ozf·in", 0}, {"lbf·in", 1}, {"lbf·ft", 10}},
	Energy:       {{"lbf·in", 0}, {"lbf·ft", 1}},
	Power:        {{"W", 0}, {"hp", 0.05}},
	Pressure:     {{"psi", 0}, {"ksi", 10}},
	Density:      {{"lb/in³", 0}},
	LineDensity:  {{"lb/ft", 0}},
	Stiffness:    {{"lbf/in", 0}},
	Flow:         {{"gal/min", 0}},
	Inertia:      {{"lb·in²", 0}},
	Temperature:  {{"Δ°F", 0}},
}

// choice is a unit to print in; makeshift when there is no usual one.
type choice struct {
	unit      Unit
	makeshift bool
}

// choose picks the unit to print v in.
func choose(v Value, system System) choice {
	written, err := ParseUnit(v.Unit)
	fits := err == nil && v.Unit != "" && written.serves(v) && written.athome(system)
	if fits && readable(written.number(v)) {
		return choice{unit: written}
	}
	if list := candidates(v, system); list != nil {
		return choice{unit: pick(list, v)}
	}
	if err == nil && v.Unit != "" && written.serves(v) {
		return choice{unit: written, makeshift: !written.athome(system)}
	}
	return choice{unit: coherent(v), makeshift: true}
}

// serves reports whether a unit can express v.
func (u Unit) serves(v Value) bool {
	return u.Dim.Same(v.Dim) && u.Currency == v.Currency && u.Absolute == v.Absolute
}

// athome reports whether a unit is used in a system.
func (u Unit) athome(system System) bool {
	return u.System == Neutral || (u.System == InchOnly) == (system == Inch)
}

// readable reports whether a number is of a size that its unit suits.
func readable(x float64) bool {
	size := math.Abs(x)
	return size == 0 || size >= 1e-3 && size < 1e6
}

// candidates are the usual units for v in a system; nil when there are none.
func candidates(v Value, system System) []candidate {
	switch {
	case v.Absolute:
		return []candidate{{map[System]string{Metric: "degC", Inch: "degF"}[system], 0}}
	case v.Dim.Same(Money):
		return []candidate{{v.Currency, 0}}
	case v.Dim.Same(PricePerMass):
		return []candidate{{v.Currency + map[System]string{Metric: "/kg", Inch: "/lb"}[system], 0}}
	case v.Dim.Same(PricePerRun):
		return []candidate{{v.Currency + map[System]string{Metric: "/m", Inch: "/ft"}[system], 0}}
	}
	own := metricUnits
	if system == Inch {
		own = inchUnits
	}
	// Angle decides between torque and energy, number and angle; elsewhere it
	// is passed over.
	for _, d := range []Dimension{v.Dim, v.Dim.soft()} {
		if list, found := neutralUnits[d]; found {
			return list
		}
		if list, found := own[d]; found {
			return list
		}
	}
	return nil
}

// usualSize is the SI value whose unit zero is printed in: 0 mm, 0 N, 0 kg.
const usualSize = 5

// pick takes the largest unit of which v makes enough. Zero counts as
// usualSize, a value about zero as large as its spread.
func pick(list []candidate, v Value) Unit {
	size := v
	if v.SI == 0 && !v.Absolute {
		if size.SI = math.Max(v.Minus, v.Plus); size.SI == 0 {
			size.SI = usualSize
		}
	}
	var chosen Unit
	for i, c := range list {
		u, err := ParseUnit(c.unit)
		if err != nil {
			continue // a currency that is none: the caller's value, not our table
		}
		const slack = 1 - 1e-9 // 999.9999999999 g is 1 kg
		enough := math.Abs(u.number(size)) >= c.from*slack
		if i == 0 || enough {
			chosen = u
		}
	}
	if chosen.Factor == 0 {
		return coherent(v)
	}
	return chosen
}

// coherent is the SI unit of v.
func coherent(v Value) Unit {
	text := v.Dim.soft().Units()
	if text == "1" {
		text = ""
	}
	if v.Currency != "" {
		text = replaceMoney(text, v.Currency)
	}
	return Unit{Text: text, Factor: 1, Dim: v.Dim, Currency: v.Currency}
}
