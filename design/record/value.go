package record

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/source/rewrite"
)

// A recorder changes one record in its file.
type recorder struct {
	*rewrite.File
	rec     calc.Record
	path    []string // of the record: recorded, force
	options plan.Selection
	now     string // as written, once that is known
}

// begin adds a record of a result that has none, without a tolerance.
func (r *recorder) begin(c *plan.Calc) error {
	r.now = Written(r.rec.Is, newDigits)
	if err := r.PutMap([]string{"recorded"}); err != nil {
		return err
	}
	return r.Put(r.path, r.now)
}

// newDigits are the significant digits of a record that begins.
const newDigits = 4

// value writes the result's number in place of the recorded one, its unit and tolerance
// as they stood. A record that still gives the result at its own digits stays.
func (r *recorder) value(change *Change) error {
	path := r.valuePath()
	old, found := r.Scalar(path...)
	if !found {
		return fmt.Errorf("the record is no single value")
	}
	change.Was, change.Is = old, old
	number, rest, ok := splitNumber(old)
	if !ok || !isLiteral(old) {
		return fmt.Errorf("the record %q is a formula, not a number", old)
	}
	fresh, err := r.number(number)
	if err != nil {
		return err
	}
	next := fresh + rest
	if err := r.reads(next); err != nil {
		return err
	}
	if was, err := strconv.ParseFloat(plainNumber(number), 64); err == nil {
		if is, err := r.rec.Is.In(r.unit()); err == nil && math.Abs(was-is) <= halfUnit(number) {
			return nil
		}
	}
	change.Is = next
	return r.Set(path, next)
}

// valuePath is where the record's value stands: itself, under is, by the default choice.
func (r *recorder) valuePath() []string {
	path := append([]string(nil), r.path...)
	if r.Has(append(path, "is")...) {
		path = append(path, "is")
	}
	if by, found := r.Scalar(append(append([]string(nil), path...), "by")...); found {
		path = append(path, r.options[by])
	}
	return path
}

func (r *recorder) unit() string { return r.rec.Was.Unit }

// numberForm is a number as records have it, with the blank behind it.
var numberForm = regexp.MustCompile(`^([-−]?[0-9][0-9 \x{202f}]*(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?)(\s*(?:[^0-9\s/].*)?)$`)

// splitNumber parts a written value into its number and the rest: unit and tolerance.
func splitNumber(text string) (number, rest string, ok bool) {
	m := numberForm.FindStringSubmatch(text)
	if m == nil {
		return "", "", false
	}
	number = strings.TrimRight(m[1], " \u202f")
	return number, text[len(number):], true
}

// isLiteral reports whether a text is one value, maybe with a spread.
func isLiteral(text string) bool {
	e, failed := formula.Parse(text)
	if failed != nil {
		return false
	}
	n := e.Root()
	for n.Kind == formula.Spread || n.Kind == formula.Unary {
		n = n.Args[0]
	}
	return n.Kind == formula.Number
}

// plainNumber is a number as Go reads it.
func plainNumber(number string) string {
	return strings.NewReplacer(" ", "", "\u202f", "", "−", "-").Replace(number)
}

// halfUnit is half a unit of a number's last digit.
func halfUnit(number string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(plainNumber(number)), "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	power, _ := strconv.Atoi(exponent)
	return 0.5 * math.Pow(10, float64(power-len(decimals))) * (1 + 1e-9)
}

// number is the result in the record's unit: as many decimals as the record had, or as it
// takes to be exact to a tenth of its tolerance.
func (r *recorder) number(old string) (string, error) {
	x, err := r.rec.Is.In(r.unit())
	if err != nil {
		return "", err
	}
	_, decimals, _ := strings.Cut(plainNumber(old), ".")
	places := len(decimals)
	if strings.ContainsAny(old, "eE") {
		places = 0
	}
	return strconv.FormatFloat(x, 'f', max(places, r.places(x)), 64), nil
}

// places are the decimals that the tolerance asks for.
func (r *recorder) places(x float64) int {
	share := 1e-3
	if r.rec.Was.HasSpread() && r.rec.Was.SI != 0 {
		share = math.Max(r.rec.Was.Minus, r.rec.Was.Plus) / math.Abs(r.rec.Was.SI)
	}
	if x == 0 || share == 0 {
		return 0
	}
	return min(max(0, int(math.Ceil(-math.Log10(share*math.Abs(x)/5)))), mostPlaces)
}

// mostPlaces bounds the decimals of a record.
const mostPlaces = 9

// reads makes sure that what is to be written reads back as the result.
func (r *recorder) reads(text string) error {
	v, err := readValue(text)
	if err != nil || !v.Is(r.rec.Is.Dim) {
		return fmt.Errorf("the record cannot be written as %q", text)
	}
	off := math.Abs(v.SI - r.rec.Is.SI)
	if slack := math.Max(1e-3*math.Abs(r.rec.Is.SI), math.Max(v.Minus, v.Plus)/5); off > slack {
		return fmt.Errorf("the record would read %q, which is not the result", text)
	}
	return nil
}

// readValue reads a written value as the plan does.
func readValue(text string) (quantity.Value, error) {
	e, failed := formula.Parse(text)
	if failed != nil {
		return quantity.Value{}, failed
	}
	v, failed := e.Value(formula.Values{})
	if failed != nil {
		return quantity.Value{}, failed
	}
	return v, nil
}

// inputDigits are the significant digits of a recorded input.
const inputDigits = 6

// inputs writes what the result is made from: what has changed, what is new, what has
// gone; nothing else.
func (r *recorder) inputs(change *Change) error {
	if len(r.rec.Inputs) == 0 && !r.rec.Kept() {
		return nil
	}
	if r.Has(append(r.path, "by")...) || r.Has(append(r.path, "is", "by")...) {
		return nil // a value for each choice has no one set of inputs
	}
	if !r.Has(append(r.path, "is")...) {
		if err := r.Wrap(r.path, "is"); err != nil {
			return err
		}
	}
	made := append(append([]string(nil), r.path...), "made_from")
	if !r.Has(made...) {
		if err := r.PutMap(made); err != nil {
			return err
		}
		for _, in := range r.rec.Inputs {
			if err := r.input(change, made, in, "", ""); err != nil {
				return err
			}
		}
		return nil
	}
	for _, c := range r.rec.Changes {
		at := append(append([]string(nil), made...), c.Name)
		old, _ := r.Scalar(at...)
		var err error
		if c.Gone {
			continue
		}
		err = r.input(change, made, calc.Input{Name: c.Name, Value: c.Is}, old, c.Was.Unit)
		if err != nil {
			return err
		}
	}
	for _, c := range r.rec.Changes {
		if !c.Gone {
			continue
		}
		at := append(append([]string(nil), made...), c.Name)
		old, _ := r.Scalar(at...)
		if err := r.Remove(at); err != nil {
			return err
		}
		change.Inputs = append(change.Inputs, fmt.Sprintf("%s: %s -> gone", c.Name, old))
	}
	return nil
}

// input writes one input, in the unit that stood there.
func (r *recorder) input(change *Change, made []string, in calc.Input, old, unit string) error {
	v := in.Value
	if unit != "" {
		v.Unit = unit
	}
	text := Written(v, inputDigits)
	back, err := readValue(text)
	if err != nil || !back.Is(v.Dim) || math.Abs(back.SI-v.SI) > 1e-5*math.Abs(v.SI) {
		return fmt.Errorf("the input %s cannot be written as %q", in.Name, text)
	}
	say := in.Name + ": " + text
	if old != "" {
		say = fmt.Sprintf("%s: %s -> %s", in.Name, old, text)
	}
	change.Inputs = append(change.Inputs, say)
	return r.Put(append(append([]string(nil), made...), in.Name), text)
}

// Written is a value as a plan writes it, with so many significant digits, in its own
// unit or a usual one.
func Written(v quantity.Value, digits int) string {
	v = v.Nominal()
	v.Fit = ""
	unit := v.Unit
	if unit == "" {
		_, printed := quantity.Parts(v, quantity.Metric)
		unit = typed(printed)
	}
	x, err := v.In(unit)
	if err != nil {
		return strconv.FormatFloat(v.SI, 'g', digits, 64)
	}
	// Rounded as a text: binary fractions would show beyond the digits.
	if rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64); err == nil {
		x = rounded
	}
	number := strconv.FormatFloat(x, 'f', -1, 64)
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// typed is a unit as a keyboard has it, for one as it is printed: "N*m" for "N·m".
func typed(printed string) string {
	var out strings.Builder
	raised := false
	for _, c := range printed {
		if i := strings.IndexRune("⁰¹²³⁴⁵⁶⁷⁸⁹", c); i >= 0 || c == '⁻' {
			if !raised {
				out.WriteByte('^')
			}
			raised = true
			if c == '⁻' {
				out.WriteByte('-')
				continue
			}
			out.WriteRune(rune('0' + len([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹"[:i]))))
			continue
		}
		raised = false
		switch c {
		case '·':
			out.WriteByte('*')
		case '°':
			out.WriteString("deg")
		case 'Ω':
			out.WriteString("Ohm")
		case 'µ', 'μ':
			out.WriteByte('u')
		default:
			out.WriteRune(c)
		}
	}
	return out.String()
}
