package quantity

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"golang.org/x/text/currency"
)

// A Unit is a unit of measure, simple ("kN") or compound ("W/(m*K)").
type Unit struct {
	Text     string // as written
	Factor   float64
	Zero     float64 // what 0 of this unit is in SI units; only degC and degF have one
	Dim      Dimension
	Absolute bool   // a temperature scale
	Currency string // ISO 4217 code where money is part of Dim
	System   UnitSystem
}

// A UnitSystem says where a unit is at home.
type UnitSystem int

const (
	Neutral    UnitSystem = iota // used everywhere: rpm, V, min, EUR, %
	MetricOnly                   // mm, kg, N
	InchOnly                     // in, lb, psi
)

func (u Unit) value(x float64) Value {
	return Value{
		SI:  x*u.Factor + u.Zero,
		Dim: u.Dim, Unit: u.Text, Absolute: u.Absolute, Currency: u.Currency,
	}
}

// number is the inverse of value: what v, of the same dimension, is in u. A
// difference of temperatures converts without the zero of the scale.
func (u Unit) number(v Value) float64 {
	if u.Absolute && v.Absolute {
		return (v.SI - u.Zero) / u.Factor
	}
	return v.SI / u.Factor
}

// Exact factors that other factors are built from.
// Source: NIST SP 811 (2008), appendix B.8; avoirdupois pound and inch are
// exact by definition, standard gravity by CGPM 1901.
const (
	inch          = 0.0254
	foot          = 0.3048
	pound         = 0.45359237
	gravity       = 9.80665
	poundForce    = pound * gravity
	usGallon      = 231 * inch * inch * inch
	turn          = 2 * math.Pi
	degree        = math.Pi / 180
	rankine       = 5.0 / 9
	celsiusZero   = 273.15
	fahrenheitGap = 459.67 // degF at absolute zero lies this far below zero
	// btu is the International Table British thermal unit, SP 811 B.8, footnote 9.
	btu = 1055.05585262
)

// symbol is an entry of the unit table.
type symbol struct {
	factor   float64
	dim      Dimension
	system   UnitSystem
	prefixes bool // takes SI prefixes
}

var symbols = map[string]symbol{
	"%":      {0.01, Pure, Neutral, false},
	"m":      {1, Length, MetricOnly, true},
	"in":     {inch, Length, InchOnly, false},
	"ft":     {foot, Length, InchOnly, false},
	"yd":     {3 * foot, Length, InchOnly, false},
	"mi":     {5280 * foot, Length, InchOnly, false},
	"mil":    {inch / 1000, Length, InchOnly, false},
	"thou":   {inch / 1000, Length, InchOnly, false},
	"l":      {1e-3, Volume, MetricOnly, true},
	"L":      {1e-3, Volume, MetricOnly, true},
	"gal":    {usGallon, Volume, InchOnly, false},
	"g":      {1e-3, Mass, MetricOnly, true},
	"t":      {1000, Mass, MetricOnly, true},
	"lb":     {pound, Mass, InchOnly, false},
	"oz":     {pound / 16, Mass, InchOnly, false},
	"s":      {1, Time, Neutral, true},
	"min":    {60, Time, Neutral, false},
	"h":      {3600, Time, Neutral, false},
	"d":      {86400, Time, Neutral, false},
	"N":      {1, Force, MetricOnly, true},
	"kgf":    {gravity, Force, MetricOnly, false},
	"lbf":    {poundForce, Force, InchOnly, false},
	"ozf":    {poundForce / 16, Force, InchOnly, false},
	"kip":    {1000 * poundForce, Force, InchOnly, false},
	"Pa":     {1, Pressure, MetricOnly, true},
	"bar":    {1e5, Pressure, MetricOnly, true},
	"atm":    {101325, Pressure, MetricOnly, false},
	"psi":    {poundForce / (inch * inch), Pressure, InchOnly, false},
	"ksi":    {1000 * poundForce / (inch * inch), Pressure, InchOnly, false},
	"W":      {1, Power, Neutral, true},
	"VA":     {1, Power, Neutral, true},
	"hp":     {550 * foot * poundForce, Power, InchOnly, false},
	"J":      {1, Energy, MetricOnly, true},
	"Wh":     {3600, Energy, Neutral, true},
	"Btu":    {btu, Energy, InchOnly, false},
	"V":      {1, Voltage, Neutral, true},
	"A":      {1, Current, Neutral, true},
	"Ah":     {3600, Charge, Neutral, true},
	"C":      {1, Charge, Neutral, true},
	"Ohm":    {1, Resistance, Neutral, true},
	"Ω":      {1, Resistance, Neutral, true},
	"S":      {1, dim(-2, -1, 3, 2, 0, 0, 0), Neutral, true},
	"F":      {1, Capacitance, Neutral, true},
	"H":      {1, Inductance, Neutral, true},
	"T":      {1, dim(0, 1, -2, -1, 0, 0, 0), Neutral, true},
	"Wb":     {1, dim(2, 1, -2, -1, 0, 0, 0), Neutral, true},
	"Hz":     {1, Frequency, Neutral, true},
	"rad":    {1, Angle, Neutral, true},
	"deg":    {degree, Angle, Neutral, false},
	"°":      {degree, Angle, Neutral, false},
	"'":      {degree / 60, Angle, Neutral, false},
	"arcmin": {degree / 60, Angle, Neutral, false},
	"arcsec": {degree / 3600, Angle, Neutral, false},
	"turn":   {turn, Angle, Neutral, false},
	"rev":    {turn, Angle, Neutral, false},
	"rpm":    {turn / 60, AngularSpeed, Neutral, false},
	"K":      {1, Temperature, MetricOnly, true},
	"Δ°F":    {rankine, Temperature, InchOnly, false},
	"degC":   {1, Temperature, MetricOnly, false},
	"°C":     {1, Temperature, MetricOnly, false},
	"degF":   {rankine, Temperature, InchOnly, false},
	"°F":     {rankine, Temperature, InchOnly, false},
}

// scaleZero holds the zero points of temperature scales in kelvin.
var scaleZero = map[string]float64{
	"degC": celsiusZero, "°C": celsiusZero,
	"degF": fahrenheitGap * rankine, "°F": fahrenheitGap * rankine,
}

// prefixes are the SI prefixes, SP 811 table 5, in the range that machines
// meet. A longer prefix stands before the shorter one it begins with.
var prefixes = []struct {
	text   string
	factor float64
}{
	{"da", 1e1}, {"p", 1e-12}, {"n", 1e-9}, {"u", 1e-6}, {"µ", 1e-6}, {"m", 1e-3}, {"c", 1e-2}, {"d", 1e-1},
	{"h", 1e2}, {"k", 1e3}, {"M", 1e6}, {"G", 1e9}, {"T", 1e12},
}

// spellings fold characters that look alike into those of the tables.
var spellings = strings.NewReplacer("μ", "µ", "Ω", "Ω", "′", "'")

// maxUnit bounds the length of a unit in characters.
const maxUnit = 64

// ParseUnit reads a unit: symbols with SI prefixes and powers ("mm^2", "m²"),
// joined by * · and /, with one bracketed group at a time ("W/(m*K)"), or
// after "1/" ("1/K"). As in formulas a/b*c is (a/b)*c. A temperature scale inside a compound counts as
// its difference. The empty text is the unit of a plain number. The error is
// *UnknownUnitError.
func ParseUnit(text string) (Unit, error) {
	if text == "" {
		return Unit{Factor: 1}, nil
	}
	if unit, found := usual[text]; found {
		return unit, nil
	}
	return readUnit(text)
}

// usual holds the units that printing chooses from and their like, read once.
var usual = func() map[string]Unit {
	read := map[string]Unit{}
	for _, table := range []map[Dimension][]candidate{neutralUnits, metricUnits, inchUnits} {
		for _, list := range table {
			for _, c := range list {
				if unit, err := readUnit(c.unit); err == nil && c.unit != "" {
					read[c.unit] = unit
				}
			}
		}
	}
	for name := range symbols {
		if unit, err := readUnit(name); err == nil {
			read[name] = unit
		}
	}
	return read
}()

func readUnit(text string) (Unit, error) {
	runes := []rune(text)
	if len(runes) > maxUnit {
		return Unit{}, &UnknownUnitError{Text: string(runes[:maxUnit]) + "…"}
	}
	reader := unitReader{text: runes}
	if strings.HasPrefix(text, "1/") {
		reader.at = 1 // as in 1/K
	}
	unit, err := reader.product(false)
	if err != nil {
		return Unit{}, err
	}
	if reader.at != len(runes) {
		return Unit{}, reader.trailing()
	}
	unit.Text = text
	return unit, nil
}

// An UnknownUnitError says that a text is no unit.
type UnknownUnitError struct {
	Text    string // the whole unit as written
	Part    string // the part that nobody knows; may be the whole
	Nearest string // a known unit that may be meant; may be empty
}

// Error names the unit and the part of it that is unknown.
func (e *UnknownUnitError) Error() string {
	if e.Part == "" || e.Part == e.Text {
		return fmt.Sprintf("unknown unit %q", e.Text)
	}
	return fmt.Sprintf("unknown unit %q in %q", e.Part, e.Text)
}

// Remedy suggests what may be meant; empty when nothing is near.
func (e *UnknownUnitError) Remedy() string {
	if e.Nearest == "" {
		return ""
	}
	return fmt.Sprintf("write %s", e.Nearest)
}

// unitReader reads a compound unit.
type unitReader struct {
	text []rune
	at   int
}

func (r *unitReader) product(nested bool) (Unit, error) {
	out := Unit{Factor: 1}
	var err error
	if r.at != 1 || r.text[0] != '1' {
		if out, err = r.factor(nested); err != nil {
			return Unit{}, err
		}
	}
	for r.at < len(r.text) {
		divide := false
		switch r.text[r.at] {
		case '*', '·', '⋅':
		case '/':
			divide = true
		default:
			return out, nil
		}
		r.at++
		next, err := r.factor(nested)
		if err != nil {
			return Unit{}, err
		}
		if out, err = out.times(next, divide); err != nil {
			return Unit{}, r.unknown("")
		}
	}
	return out, nil
}

func (r *unitReader) factor(nested bool) (Unit, error) {
	var unit Unit
	start := r.at
	if r.at < len(r.text) && r.text[r.at] == '(' && !nested {
		r.at++
		inner, err := r.product(true)
		if err != nil {
			return Unit{}, err
		}
		if r.at >= len(r.text) || r.text[r.at] != ')' {
			return Unit{}, r.unknown(string(r.text[start:]))
		}
		r.at++
		unit = inner
	} else {
		for r.at < len(r.text) && isUnitRune(r.text[r.at]) {
			r.at++
		}
		name := string(r.text[start:r.at])
		known, found := lookupSymbol(name)
		if !found {
			return Unit{}, r.unknown(name)
		}
		unit = known
	}
	power, err := r.power()
	if err != nil {
		return Unit{}, err
	}
	if power == 1 {
		return unit, nil
	}
	return unit.raised(power)
}

// power reads ^2, ^-1, ², ⁻¹; 1 when there is none.
func (r *unitReader) power() (int, error) {
	start := r.at
	if r.at < len(r.text) && r.text[r.at] == '^' {
		r.at++
		sign := 1
		if r.at < len(r.text) && (r.text[r.at] == '-' || r.text[r.at] == minus) {
			sign = -1
			r.at++
		}
		if r.at < len(r.text) && r.text[r.at] >= '1' && r.text[r.at] <= '9' {
			n := int(r.text[r.at] - '0')
			r.at++
			return sign * n, nil
		}
		return 0, r.unknown(string(r.text[start:]))
	}
	sign := 1
	if r.at < len(r.text) && r.text[r.at] == '⁻' {
		sign = -1
		r.at++
	}
	if r.at < len(r.text) {
		if n := superscriptDigit(r.text[r.at]); n > 0 {
			r.at++
			return sign * n, nil
		}
	}
	if sign < 0 {
		return 0, r.unknown(string(r.text[start:]))
	}
	return 1, nil
}

// trailing is the error for what follows a unit; a bare 2 to 4 is taken for a
// power written flat.
func (r *unitReader) trailing() error {
	rest := string(r.text[r.at:])
	err := &UnknownUnitError{Text: string(r.text), Part: rest}
	if rest == "2" || rest == "3" || rest == "4" {
		err.Part, err.Nearest = "", string(r.text[:r.at])+"^"+rest
	}
	return err
}

func (r *unitReader) unknown(part string) error {
	whole := string(r.text)
	err := &UnknownUnitError{Text: whole, Part: part}
	if near := nearestUnit(part); near != "" {
		err.Nearest = strings.Replace(whole, part, near, 1)
	}
	return err
}

// times multiplies or divides units. Inside a compound a temperature scale is
// a difference, and the system is that of the part that has one; inch wins,
// for nobody writes lbf beside metric units but by mistake.
func (u Unit) times(w Unit, divide bool) (Unit, error) {
	var err error
	out := Unit{System: max(u.System, w.System)}
	if divide {
		out.Factor = u.Factor / w.Factor
		out.Dim, err = u.Dim.Div(w.Dim)
	} else {
		out.Factor = u.Factor * w.Factor
		out.Dim, err = u.Dim.Mul(w.Dim)
	}
	if err != nil {
		return Unit{}, err
	}
	if u.Currency != "" && w.Currency != "" && u.Currency != w.Currency {
		return Unit{}, ErrMismatch
	}
	if out.Dim.exponents[baseMoney] != 0 {
		out.Currency = u.Currency + w.Currency
		if u.Currency == w.Currency {
			out.Currency = u.Currency
		}
	}
	return out, nil
}

func (u Unit) raised(power int) (Unit, error) {
	d, err := u.Dim.Pow(float64(power))
	if err != nil {
		return Unit{}, err
	}
	return Unit{Factor: math.Pow(u.Factor, float64(power)), Dim: d, Currency: u.Currency, System: u.System}, nil
}

// A Symbol is a simple unit for a list of units.
type Symbol struct {
	Text     string
	Dim      Dimension
	System   UnitSystem
	Prefixes bool // takes SI prefixes
}

// Symbols returns the simple units that ParseUnit knows, currencies left out,
// sorted by their text.
func Symbols() []Symbol {
	list := make([]Symbol, 0, len(symbols))
	for text, known := range symbols {
		list = append(list, Symbol{Text: text, Dim: known.dim, System: known.system, Prefixes: known.prefixes})
	}
	sort.Slice(list, func(i, j int) bool { return list[i].Text < list[j].Text })
	return list
}

// lookupSymbol finds a symbol, prefixed or not, or a currency.
func lookupSymbol(name string) (Unit, bool) {
	if unit, found := exactSymbol(name); found {
		return unit, true
	}
	if plain := spellings.Replace(name); plain != name {
		return exactSymbol(plain)
	}
	return Unit{}, false
}

func exactSymbol(name string) (Unit, bool) {
	if known, found := symbols[name]; found {
		zero, scale := scaleZero[name]
		return Unit{Text: name, Factor: known.factor, Zero: zero, Dim: known.dim, Absolute: scale, System: known.system}, true
	}
	for _, prefix := range prefixes {
		rest, found := strings.CutPrefix(name, prefix.text)
		if !found {
			continue
		}
		if known, found := symbols[rest]; found && known.prefixes {
			return Unit{Text: name, Factor: prefix.factor * known.factor, Dim: known.dim, System: known.system}, true
		}
	}
	if isCurrency(name) {
		return Unit{Text: name, Factor: 1, Dim: Money, Currency: name}, true
	}
	return Unit{}, false
}

// isCurrency reports whether code is a currency of ISO 4217.
func isCurrency(code string) bool {
	if len(code) != 3 || strings.ToUpper(code) != code {
		return false
	}
	for _, letter := range code {
		if letter < 'A' || letter > 'Z' {
			return false
		}
	}
	_, err := currency.ParseISO(code)
	return err == nil && code != "XXX" // XXX stands for no currency
}
