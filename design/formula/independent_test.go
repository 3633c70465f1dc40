package formula

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"strings"
	"testing"

	"plansheaf/design/quantity"
)

// A twin is a formula in our language and the same one for the independent library,
// with how tightly the outermost operator binds; brackets are put by this rule alone,
// so that both readers must agree on what binds first.
type twin struct {
	ours, theirs string
	bind         int
}

// in is a twin as an operand of what binds as tightly as least.
func (w twin) in(least int) twin {
	if w.bind < least {
		return twin{"(" + w.ours + ")", "(" + w.theirs + ")", bindSpread}
	}
	return w
}

func call(ours, theirs string, args ...twin) twin {
	var a, b []string
	for _, arg := range args {
		a, b = append(a, arg.ours), append(b, arg.theirs)
	}
	return twin{ours + "(" + strings.Join(a, ", ") + ")", theirs + "(" + strings.Join(b, ", ") + ")", bindSpread}
}

func operator(op string, bind int, left, right twin) twin {
	theirs := op
	if op == "^" {
		theirs = "**"
	}
	if op == "=" {
		theirs = "=="
	}
	return twin{left.ours + " " + op + " " + right.ours, left.theirs + " " + theirs + " " + right.theirs, bind}
}

// kinds of quantity that the formulas below are made of, with units by our name and
// theirs.
var kinds = map[string][][2]string{
	"pure":     {{"", ""}, {"%", "percent_"}, {"deg", "degree"}, {"rad", "radian"}, {"turn", "turn"}},
	"length":   {{"mm", "mm"}, {"m", "m"}, {"in", "inch"}, {"ft", "foot"}, {"um", "um"}, {"mil", "thou"}},
	"area":     {{"mm^2", "mm**2"}, {"in^2", "inch**2"}, {"cm^2", "cm**2"}},
	"force":    {{"N", "N"}, {"kN", "kN"}, {"lbf", "lbf"}, {"kgf", "kgf"}},
	"torque":   {{"N*m", "N*m"}, {"lbf*ft", "lbf*foot"}, {"J", "J"}, {"Wh", "W*hour"}},
	"time":     {{"s", "s"}, {"min", "minute"}, {"h", "hour"}, {"ms", "ms"}},
	"speed":    {{"mm/s", "mm/s"}, {"m/min", "m/minute"}, {"ft/min", "foot/minute"}},
	"pressure": {{"MPa", "MPa"}, {"bar", "bar"}, {"psi", "psi"}, {"kN/mm^2", "kN/mm**2"}},
	"mass":     {{"kg", "kg"}, {"g", "g"}, {"lb", "pound"}, {"oz", "ounce"}, {"t", "tonne"}},
	"spin":     {{"rpm", "rpm"}, {"rad/s", "radian/s"}, {"deg/s", "degree/s"}},
	"warmth":   {{"K", "K"}},
}

// products say how one kind comes about from two others.
var products = map[string][][3]string{
	"area":     {{"*", "length", "length"}, {"/", "force", "pressure"}},
	"length":   {{"/", "area", "length"}, {"*", "speed", "time"}, {"/", "torque", "force"}},
	"force":    {{"*", "pressure", "area"}, {"/", "torque", "length"}},
	"torque":   {{"*", "force", "length"}},
	"time":     {{"/", "length", "speed"}, {"/", "pure", "spin"}},
	"speed":    {{"/", "length", "time"}, {"*", "spin", "length"}},
	"pressure": {{"/", "force", "area"}},
	"mass":     {{"/", "torque", "speed2"}},
	"speed2":   {{"*", "speed", "speed"}},
	"spin":     {{"/", "pure", "time"}, {"/", "speed", "length"}},
	"warmth":   {{"*", "pure", "warmth"}},
}

// an author writes random formulas.
type author struct {
	*rand.Rand
	locals []string // name and kind of what a sum's term may use, by turns
	sound  bool     // no wrong dimensions within
}

func (a *author) pick(list ...string) string { return list[a.Intn(len(list))] }

func (a *author) kind() string {
	return a.pick("pure", "pure", "length", "area", "force", "torque", "time", "speed", "pressure", "mass", "spin", "warmth")
}

func (a *author) literal(kind string) twin {
	units, found := kinds[kind]
	if !found {
		return a.product(kind, 0)
	}
	unit := units[a.Intn(len(units))]
	x := fmt.Sprintf("%.4g", math.Exp(a.NormFloat64()))
	if strings.ContainsAny(x, "e") {
		x = "1.5"
	}
	theirs := fmt.Sprintf("Q(%s, %q)", x, unit[1])
	if unit[1] == "percent_" {
		theirs = fmt.Sprintf("Q(%s / 100)", x)
	}
	bind := bindSpread
	if unit[0] == "" {
		return twin{x, theirs, bind}
	}
	// What stands before ^ is bracketed: 8 mm^2 is eight square millimetres.
	return twin{x + " " + unit[0], theirs, bindSign}
}

func (a *author) leaf(kind string) twin {
	for i := 0; i+1 < len(a.locals); i += 2 {
		if a.locals[i+1] == kind && a.Intn(2) == 0 {
			return twin{a.locals[i], a.locals[i], bindSpread}
		}
	}
	return a.literal(kind)
}

func (a *author) product(kind string, depth int) twin {
	ways := products[kind]
	way := ways[a.Intn(len(ways))]
	left, right := a.value(way[1], depth-1), a.value(way[2], depth-1)
	return operator(way[0], bindProduct, left.in(bindProduct), right.in(bindProduct+1))
}

// value writes a formula that comes to a kind of quantity.
func (a *author) value(kind string, depth int) twin {
	if depth <= 0 {
		return a.leaf(kind)
	}
	switch n := a.Intn(16); {
	case n < 3:
		return a.sum(kind, depth)
	case n < 5:
		scaled, by := a.value(kind, depth-1), a.value("pure", depth-1)
		return operator(a.pick("*", "/"), bindProduct, scaled.in(bindProduct), by.in(bindProduct+1))
	case n < 8 && products[kind] != nil:
		return a.product(kind, depth)
	case n < 11 && kind == "pure":
		return a.number(depth)
	case n == 11 && kind == "length":
		area := a.value("area", depth-1)
		if a.Intn(2) == 0 {
			return call("sqrt", "root", area)
		}
		return operator("^", bindPower, area.in(bindPower+1), twin{"0.5", "0.5", bindSpread})
	case n == 11 && kind == "area":
		return operator("^", bindPower, a.value("length", depth-1).in(bindPower+1), twin{"2", "2", bindSpread})
	case n == 12:
		v := a.value(kind, depth-1).in(bindPower)
		return twin{"-" + v.ours, "-" + v.theirs, bindSign}
	case n == 13:
		return a.chosen(kind, depth)
	case n == 14:
		return a.listed(kind, depth)
	case n == 15:
		return a.called(kind, depth)
	}
	return a.leaf(kind)
}

// sum adds or subtracts, now and then what does not go together.
func (a *author) sum(kind string, depth int) twin {
	other := kind
	if !a.sound && a.Intn(40) == 0 {
		other = a.kind()
	}
	return operator(a.pick("+", "-"), bindSum, a.value(kind, depth-1).in(bindSum), a.value(other, depth-1).in(bindSum+1))
}

// number comes to a plain number.
func (a *author) number(depth int) twin {
	switch a.Intn(6) {
	case 0:
		kind := a.kind()
		return operator("/", bindProduct, a.value(kind, depth-1).in(bindProduct), a.value(kind, depth-1).in(bindProduct+1))
	case 1:
		f := a.pick("sin", "cos", "tan", "asin", "acos", "atan", "exp", "ln", "log10")
		return call(f, f, a.value("pure", depth-1))
	case 2:
		kind := a.kind()
		return call("atan2", "direction", a.value(kind, depth-1), a.value(kind, depth-1))
	case 3:
		power := twin{a.pick("2", "3", "-1", "0.5", "-2"), "", bindSign}
		power.theirs = power.ours
		if a.Intn(3) == 0 {
			power = a.value("pure", depth-1)
		}
		return operator("^", bindPower, a.value("pure", depth-1).in(bindPower+1), power.in(bindSign))
	case 4:
		return twin{"pi", "pi", bindSpread}
	}
	return a.leaf("pure")
}

// chosen is a value by cases, a least or a greatest one, or one rounded.
func (a *author) chosen(kind string, depth int) twin {
	one, two := a.value(kind, depth-1), a.value(kind, depth-1)
	switch a.Intn(5) {
	case 0:
		return call("min", "least", one, two)
	case 1:
		return call("max", "most", one, two, a.leaf(kind))
	case 2:
		return call("abs", "absolute", one)
	case 3:
		return call("round", "nearest", one, a.literal(kind))
	}
	before := a.sound
	a.sound = true
	defer func() { a.sound = before }()
	var args []twin
	for range 1 + a.Intn(3) {
		args = append(args, a.truth(depth-1), a.value(kind, depth-1))
	}
	args = append(args, a.value(kind, depth-1))
	for i := range args {
		args[i].theirs = "lambda: " + args[i].theirs
	}
	return call("if", "cases", args...)
}

// listed adds up over values written out.
func (a *author) listed(kind string, depth int) twin {
	name := "v" + strings.Repeat("i", len(a.locals)/2)
	item := a.kind()
	var ours, theirs []string
	for range 1 + a.Intn(4) {
		v := a.value(item, depth-2)
		ours, theirs = append(ours, v.ours), append(theirs, v.theirs)
	}
	a.locals = append(a.locals, name, item)
	term := a.value(kind, depth-1)
	a.locals = a.locals[:len(a.locals)-2]
	return twin{
		fmt.Sprintf("sum(%s, (%s), %s)", name, strings.Join(ours, ", "), term.ours),
		fmt.Sprintf("total([%s], lambda %s: %s)", strings.Join(theirs, ", "), name, term.theirs), bindSpread,
	}
}

func (a *author) called(kind string, depth int) twin {
	switch a.Intn(3) {
	case 0:
		return call("twice", "twice", a.value(kind, depth-1))
	case 1:
		return call("mean", "mean", a.value(kind, depth-1), a.value(kind, depth-1))
	}
	return call("lever", "lever", a.value(kind, depth-1), a.value("length", depth-1), a.value("length", depth-1))
}

// truth writes a condition.
func (a *author) truth(depth int) twin {
	if depth > 1 && a.Intn(3) == 0 {
		switch a.Intn(3) {
		case 0:
			return operator("and", bindAnd, a.truth(depth-1).in(bindAnd), a.truth(depth-1).in(bindAnd+1))
		case 1:
			return operator("or", bindOr, a.truth(depth-1).in(bindOr), a.truth(depth-1).in(bindOr+1))
		}
		v := a.truth(depth - 1).in(bindCompare)
		return twin{"not " + v.ours, "not " + v.theirs, bindNot}
	}
	kind := a.kind()
	return operator(a.pick("<", "<=", ">", ">=", "!="), bindCompare, a.value(kind, depth-1).in(bindCompare+1), a.value(kind, depth-1).in(bindCompare+1))
}

// an answer is what evaluate.py says of a formula.
type answer struct {
	SI     *float64
	Dim    []float64
	Truth  *bool
	Fails  string
	Unsure bool
}

const randomFormulas = 2500

// Random formulas with units come to what an independent library makes of them, to a
// part in 10⁹, or fail alike. See testdata/independent/evaluate.py.
func TestAgainstIndependentLibrary(t *testing.T) {
	a := &author{Rand: rand.New(rand.NewSource(8))}
	var list []twin
	for len(list) < randomFormulas {
		var one twin
		if a.sound = false; a.Intn(8) == 0 {
			a.sound = true // where a comparison decides, the rest is not looked at by all
			one = a.truth(4)
		} else {
			one = a.value(a.kind(), 2+a.Intn(4))
		}
		if len(one.ours) < MaxLength/2 {
			list = append(list, one)
		}
	}
	answers := askLibrary(t, list)
	scope := testWorkshop(t, map[string]string{"twice(v)": "2 * v", "mean(v, w)": "(v + w) / 2", "lever(f, a, b)": "f * a / b"})
	alikeSI, unsure, failing := 0, 0, map[string]int{}
	for i, one := range list {
		if answers[i].Unsure {
			unsure++
			continue
		}
		e, failed := Parse(one.ours)
		var result Result
		if failed == nil {
			result, failed = e.Eval(scope)
		}
		if why := differs(result, failed, answers[i]); why != "" {
			t.Errorf("%s\n  %s\n  %s", one.ours, one.theirs, why)
		}
		if answers[i].Fails != "" {
			failing[answers[i].Fails]++
		} else {
			alikeSI++
		}
	}
	t.Logf("%d of %d formulas alike, %d unsure, failing %v", alikeSI, len(list), unsure, failing)
	if alikeSI < 1800 || unsure > len(list)/10 || failing["dimension"] < 50 || failing["undefined"] < 50 {
		t.Errorf("too little is compared")
	}
}

// differs says how a result departs from an answer; empty where it does not.
func differs(result Result, failed *Error, want answer) string {
	switch {
	case want.Fails == "dimension" && !errors.Is(failed, quantity.ErrMismatch):
		return fmt.Sprintf("dimensions do not agree; got %+v, %v", result, failed)
	case want.Fails == "undefined" && !errors.Is(failed, quantity.ErrUndefined):
		return fmt.Sprintf("has no value; got %+v, %v", result, failed)
	case want.Fails != "":
		return ""
	case failed != nil:
		return fmt.Sprintf("want %+v, got %v", want, failed)
	case want.Truth != nil:
		if !result.IsTruth || result.Truth != *want.Truth {
			return fmt.Sprintf("want %v, got %+v", *want.Truth, result)
		}
		return ""
	}
	dim := quantity.Pure
	for i, base := range []quantity.Dimension{quantity.Length, quantity.Mass, quantity.Time, quantity.Temperature} {
		power, err := base.Pow(want.Dim[i])
		if err == nil {
			dim, err = dim.Mul(power)
		}
		if err != nil {
			return err.Error()
		}
	}
	if got := result.Value; !got.Is(dim) || math.Abs(got.SI-*want.SI) > 1e-9*math.Abs(*want.SI) {
		return fmt.Sprintf("want %.15g in %s, got %.15g in %s", *want.SI, dim.Units(), got.SI, got.Dim.Units())
	}
	return ""
}

// askLibrary has the independent library work out all formulas.
func askLibrary(t *testing.T, list []twin) []answer {
	t.Helper()
	python := ""
	for _, program := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(program, "-c", "import pint").Run() == nil {
			python = program
			break
		}
	}
	if python == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3 with pint is missing")
		}
		t.Skip("python3 with pint (Debian package python3-pint) is missing")
	}
	var input bytes.Buffer
	write := json.NewEncoder(&input)
	write.SetEscapeHTML(false)
	for _, one := range list {
		if err := write.Encode(one.theirs); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(python, "testdata/independent/evaluate.py")
	cmd.Stdin, cmd.Stderr = &input, os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	answers := make([]answer, len(list))
	read := json.NewDecoder(bytes.NewReader(out))
	for i := range answers {
		if err := read.Decode(&answers[i]); err != nil {
			t.Fatal(err)
		}
	}
	return answers
}
