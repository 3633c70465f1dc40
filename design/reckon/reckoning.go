package reckon

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A Reckoning is a plan worked out for one case. It is filled as it is asked and
// is not safe for several goroutines at once.
type Reckoning struct {
	Plan *plan.Plan
	Case Case

	memo     map[string]*entry
	still    *Reckoning                // of one with motions elsewhere: answers what they do not move
	fixed    map[string]quantity.Value // names held at a value, to see what follows from them
	gaps     map[string]Measured       // gaps of tolerance chains, by their dotted names
	stack    []string                  // names being worked out, each because of the one before
	parts    map[string]*Part
	tally    *Tally
	places   map[*plan.Joint]int
	masses   map[string]*assemblyMass
	contents map[string]map[string]int // what one of each assembly holds: part id -> how many
	own      map[*plan.Calc]*calcOwn
	found    map[spotKey][]Spot // what references stand for
	patterns map[*plan.Hole]int // how many holes those have that were counted
	findings []finding.Finding
	said     map[string]bool
	shapes   *Shapes
	woven    *web       // for spreads, once they were asked for
	base     *Reckoning // of one that stands under a web: answers what the web does not hold
	web      *web
	compared int // names compared to find what a mistyped one meant
}

// An entry is one named value, known once it is done.
type entry struct {
	value quantity.Value
	err   error
	done  bool
}

// errNoted marks a value that cannot be had because of something already
// reported where it stands; who needs the value stays silent.
var errNoted = errors.New("reported where it stands")

// New prepares to work out p for c. Reckonings that share shapes build equal
// solids once; nil gives the reckoning its own.
func New(p *plan.Plan, c Case, shapes *Shapes) *Reckoning {
	if shapes == nil {
		shapes = NewShapes()
	}
	return &Reckoning{
		Plan: p, Case: c, shapes: shapes,
		memo: map[string]*entry{}, parts: map[string]*Part{}, said: map[string]bool{},
		found: map[spotKey][]Spot{}, places: map[*plan.Joint]int{}, patterns: map[*plan.Hole]int{}, masses: map[string]*assemblyMass{},
		contents: map[string]map[string]int{}, own: map[*plan.Calc]*calcOwn{},
	}
}

// Findings are what could not be worked out of what was asked so far.
func (r *Reckoning) Findings() []finding.Finding { return slices.Clone(r.findings) }

// note reports f once, however often its value is asked for.
func (r *Reckoning) note(rule finding.Rule, f finding.Finding) error {
	f = rule.Stamp(f)
	key := f.Rule + "|" + f.At.String() + "|" + f.Message
	if !r.said[key] {
		r.said[key] = true
		r.findings = append(r.findings, f)
	}
	return errNoted
}

// Quantity works out q with the plan's own names. ok is false when q was not
// given, or could not be worked out, which is then among the findings.
func (r *Reckoning) Quantity(q plan.Quantity) (v quantity.Value, ok bool) {
	v, err := r.evaluate(q, planScope{r})
	return v, err == nil
}

// QuantityIn is Quantity for a field that needs the dimension want.
func (r *Reckoning) QuantityIn(q plan.Quantity, want quantity.Dimension) (v quantity.Value, ok bool) {
	v, err := r.evaluateAs(q, want, planScope{r})
	return v, err == nil
}

// Length is q in millimetres.
func (r *Reckoning) Length(q plan.Quantity) (mm float64, ok bool) {
	v, ok := r.QuantityIn(q, quantity.Length)
	return v.SI * 1000, ok
}

// Whole is q as a whole number, for counts.
func (r *Reckoning) Whole(q plan.Quantity) (n int, ok bool) {
	v, ok := r.QuantityIn(q, quantity.Pure)
	if !ok {
		return 0, false
	}
	if v.SI >= 0 && v.SI <= maxCount {
		n = int(v.SI + 0.5)
	}
	if !(math.Abs(v.SI-float64(n)) <= wholeWithin) { // nor is it when it is no number
		f, _ := q.Pick(r.Case.Options)
		r.note(WrongDimension, finding.Finding{
			At:      f.At,
			Message: fmt.Sprintf("a count is a whole number from 0 to %d, this is %s", maxCount, quantity.Text(v, quantity.Metric)),
		})
		return 0, false
	}
	return n, true
}

const (
	// maxCount bounds any count that a plan may give, so that a hostile one cannot
	// ask for a billion instances.
	maxCount = 100000
	// wholeWithin is how far a computed count may miss a whole number.
	wholeWithin = 1e-6
)

func (r *Reckoning) evaluate(q plan.Quantity, scope formula.Scope) (quantity.Value, error) {
	f, ok := q.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return quantity.Value{}, errNoted
	}
	result, err := r.Evaluate(f, scope)
	return result.Value, err
}

func (r *Reckoning) evaluateAs(q plan.Quantity, want quantity.Dimension, scope formula.Scope) (quantity.Value, error) {
	v, err := r.evaluate(q, scope)
	if err != nil || v.Is(want) {
		return v, err
	}
	f, _ := q.Pick(r.Case.Options)
	return v, r.note(WrongDimension, finding.Finding{
		At:      f.At,
		Message: fmt.Sprintf("this is %s, the field needs %s", v.Dim.Article(), want.Article()),
	})
}

// Evaluate works out one formula with the names of scope and reports what goes
// wrong where it stands.
func (r *Reckoning) Evaluate(f plan.Formula, scope formula.Scope) (formula.Result, error) {
	result, ferr := f.Expr.Eval(scope)
	if ferr == nil {
		for _, w := range f.Expr.Warnings(scope) {
			r.note(SpeedMeetsLead, finding.Finding{At: f.Place(w.Offset, w.Length), Message: w.Message, Remedy: w.Remedy})
		}
		return result, nil
	}
	if errors.Is(ferr, errNoted) {
		return result, errNoted
	}
	rule := BadArithmetic
	var circle *formula.CycleError
	var unknown *formula.UnknownNameError
	var absent *AbsentError
	switch {
	case errors.As(ferr, &circle):
		rule = CircularFormula
	case errors.As(ferr, &unknown):
		rule = UnknownName
	case errors.As(ferr, &absent):
		rule = OtherChoice
	}
	return result, r.note(rule, finding.Finding{At: f.Place(ferr.Offset, ferr.Length), Message: ferr.Message, Remedy: ferr.Remedy})
}

// named works out the value called name once, with work, and finds circles. What
// it returns has no spread: how spreads of inputs carry through to a result is
// worked out as a whole by Spread, so that an input used twice counts once.
func (r *Reckoning) named(name string, work func() (quantity.Value, error)) (quantity.Value, error) {
	if v, fixed := r.fixed[name]; fixed {
		return v, nil
	}
	if r.web != nil {
		if v, err, held := r.web.now(name); held {
			return v, err
		}
		return r.base.Named(name)
	}
	if v, known := r.resting(name); known {
		return v, nil
	}
	e := r.memo[name]
	if e == nil {
		e = &entry{}
		r.memo[name] = e
	}
	if e.done {
		return e.value, e.err
	}
	if err := r.circle(name); err != nil {
		return quantity.Value{}, err
	}
	if len(r.stack) > maxDepth {
		return quantity.Value{}, fmt.Errorf("depends on more than %d other values one inside the other", maxDepth)
	}
	r.stack = append(r.stack, name)
	v, err := work()
	r.stack = r.stack[:len(r.stack)-1]
	*e = entry{value: v.Nominal(), err: err, done: true}
	var loop *formula.CycleError
	if errors.As(err, &loop) {
		e.err = errNoted // whoever asked first reports the circle, once
	}
	return e.value, err
}

// circle is an error that shows the whole loop when name is being worked out.
func (r *Reckoning) circle(name string) error {
	from := slices.Index(r.stack, name)
	if from < 0 {
		return nil
	}
	return &formula.CycleError{Path: append(slices.Clone(r.stack[from:]), name)}
}

// maxDepth bounds how deep values may hang on each other.
const maxDepth = 500
