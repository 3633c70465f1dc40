package formula

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/quantity"
)

// A Scope knows what a formula's names mean. Whatever error it returns is
// located at the name or call; one that has a method Remedy() string passes
// its remedy on, and errors.As finds it in the Error.
type Scope interface {
	// Lookup returns the value of a name, "opening" or "lead_screw.lead".
	Lookup(name string) (quantity.Value, error)
	// Call answers a function that is none of the built-in ones, such as a
	// table's column "curve.torque" or "diagonal". There may be any number of
	// arguments, none included. It may be called several times in one Eval,
	// with arguments varied within their spreads.
	Call(name string, args []Arg) (quantity.Value, error)
	// Members lists the things of a group in order, each once: what "press.parts"
	// or "press.steps" in a sum goes through.
	Members(group string) ([]Member, error)
	// Function returns a function that is itself written as a formula; nil
	// where no such function has the name. It is asked before Call.
	Function(name string) *Function
	// Work counts the steps of all formulas that share it; nil sets no limit
	// beyond the one on each formula (MaxWork).
	Work() *Work
}

// A Member is a thing that a sum goes through.
type Member struct {
	Name string // by which formulas call it: "left_post", "press.square_up"
	// Property returns the value of what stands after the local's dot in
	// sum(p, press.parts, p.mass): "mass".
	Property func(name string) (quantity.Value, error)
}

// A Function is a function of a calculation, written as a formula of its
// parameters: stiffness(e, i, l) = 3 * e * i / l^3. Its formula may use the
// names and functions of the scope that it is called in. A parameter that it
// reaches into, as in weight(p) = p.mass * g, is called with a thing's name.
type Function struct {
	Name       string
	Parameters []string
	Is         *Expr  // its parameters are Bound names
	things     []bool // of each parameter: the formula reaches into it, p.mass, so that it stands for a thing
}

// NewFunction makes a function of a formula that has been read by itself. Where
// a solve or sum in it has a local with a parameter's name, the local holds there.
func NewFunction(name string, parameters []string, is *Expr) *Function {
	f := &Function{Name: name, Parameters: parameters, Is: &Expr{source: is.source, root: bind(is.root, parameters)}, things: make([]bool, len(parameters))}
	walk(f.Is.root, "", func(n *Node, _ string) {
		if n.Kind == Name && n.Bound {
			head, _, dotted := strings.Cut(n.Text, ".")
			if i := slices.Index(parameters, head); i >= 0 && dotted {
				f.things[i] = true
			}
		}
	})
	return f
}

// bind copies a tree with the names of parameters bound.
func bind(n *Node, parameters []string) *Node {
	again := *n
	if n.Kind == Name {
		head, _, _ := strings.Cut(n.Text, ".")
		again.Bound = n.Bound || slices.Contains(parameters, head)
	}
	again.Args = make([]*Node, len(n.Args))
	for i, arg := range n.Args {
		again.Args[i] = bind(arg, parameters)
	}
	return &again
}

// Head is the function with its parameters, "stiffness(e, i, l)".
func (f *Function) Head() string { return f.Name + "(" + strings.Join(f.Parameters, ", ") + ")" }

// String is the whole definition as written, "stiffness(e, i, l) = 3 * e * i / l^3".
func (f *Function) String() string { return f.Head() + " = " + strings.TrimSpace(f.Is.Source()) }

// An Arg is an argument of a call to the scope.
type Arg struct {
	Name           string // the bare name if the argument is one, else empty
	Offset, Length int    // in the formula
	value          func() (quantity.Value, *Error)
}

// Value works the argument out; not before, for a bare name may mean a thing
// that has no value. The error, if any, is an *Error.
func (a Arg) Value() (quantity.Value, error) {
	if a.value == nil {
		return quantity.Value{}, fmt.Errorf("the argument has no value")
	}
	v, failed := a.value()
	if failed != nil {
		return quantity.Value{}, failed
	}
	return v, nil
}

// A CycleError says that a name depends on itself. Path lists the names in
// order of use, the first again at the end.
type CycleError struct {
	Path  []string
	Calls bool // the names are functions that call each other
}

// Error shows the whole loop: "a -> b -> a".
func (e *CycleError) Error() string {
	what := "the value depends on itself: "
	if e.Calls {
		what = "the function calls itself: "
	}
	return what + strings.Join(e.Path, " -> ")
}

// Remedy says what to do about a loop.
func (e *CycleError) Remedy() string {
	if e.Calls {
		return "write one of these functions without the others; solve finds what a formula leads back to"
	}
	return "give one of these names a value of its own"
}

// An UnknownNameError says that nothing answers to a name.
type UnknownNameError struct {
	Name    string
	Nearest string // a name that may be meant; may be empty
}

// Error names the name.
func (e *UnknownNameError) Error() string { return fmt.Sprintf("nothing is named %q", e.Name) }

// Remedy suggests the nearest name.
func (e *UnknownNameError) Remedy() string {
	if e.Nearest == "" {
		return ""
	}
	return fmt.Sprintf("is %q meant?", e.Nearest)
}

// Values is a Scope of plain names with values, without functions.
type Values map[string]quantity.Value

// Lookup returns the value of a name or an *UnknownNameError.
func (v Values) Lookup(name string) (quantity.Value, error) {
	if value, found := v[name]; found {
		return value, nil
	}
	return quantity.Value{}, &UnknownNameError{Name: name}
}

// Call knows no function.
func (v Values) Call(name string, _ []Arg) (quantity.Value, error) {
	return quantity.Value{}, &UnknownNameError{Name: name}
}

// Members knows no group.
func (v Values) Members(group string) ([]Member, error) {
	return nil, &UnknownNameError{Name: group}
}

// Function knows no function.
func (v Values) Function(string) *Function { return nil }

// Work sets no limit of its own.
func (v Values) Work() *Work { return nil }
