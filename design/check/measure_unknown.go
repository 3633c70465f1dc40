package check

import (
	"errors"
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// MeasureUnknown finds measures of steps that come to nothing: a formula without a
// value, a place that is not there, a tolerance of another kind.
var MeasureUnknown = Rule{
	Rule: finding.Rule{
		Name: "measure-unknown", Severity: finding.Error,
		Reason: "The builder is asked to measure and is not told what should come out.",
		Remedy: "give what to measure with of, or the wanted value with is, and within in the same unit",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStep(func(a *plan.Assembly, st *plan.Step) {
			for _, m := range st.Measures {
				if m.Only.Fits(s.Case.Options) {
					s.measure(a, st, m, report)
				}
			}
		})
	},
}

func (s *Situation) measure(a *plan.Assembly, st *plan.Step, m plan.Measure, report func(finding.Finding)) {
	wanted, of := m.Of, true
	if !m.Of.Given() {
		wanted, of = m.Is, false
	}
	f, ok := wanted.Pick(s.Case.Options)
	if !ok || !f.Given() {
		report(finding.Finding{
			At: m.At, Subject: stepSubject(a, st),
			Message: fmt.Sprintf("%q says neither what to measure nor what should come out", m.Say.Value),
		})
		return
	}
	result, failed := f.Expr.Eval(measureScope{Scope: s.Reckoning.Scope(), s: s, a: a})
	if failed != nil {
		report(finding.Finding{
			At: f.Place(failed.Offset, failed.Length), Subject: stepSubject(a, st),
			Message: failed.Message, Remedy: failed.Remedy,
		})
		return
	}
	within, ok := s.Reckoning.Quantity(m.Within)
	if ok && !within.Is(result.Value.Dim) {
		g, _ := m.Within.Pick(s.Case.Options)
		word := "wanted"
		if of {
			word = "measured"
		}
		report(finding.Finding{
			At: g.At, Subject: stepSubject(a, st),
			Message: fmt.Sprintf("what is %s is %s, within is %s", word, result.Value.Dim.Article(), within.Dim.Article()),
		})
	}
}

// A measureScope adds to the plan's names what can be measured between the uses of
// an assembly.
type measureScope struct {
	formula.Scope
	s *Situation
	a *plan.Assembly
}

// diagonals are measured between two uses.
const diagonals = "diagonal"

// Call answers diagonal(a, b), see layout.Diagonal.
func (m measureScope) Call(name string, args []formula.Arg) (quantity.Value, error) {
	if name != diagonals {
		return quantity.Value{}, &formula.UnknownNameError{Name: name, Nearest: diagonals}
	}
	if len(args) != 2 {
		return quantity.Value{}, fmt.Errorf("%s is taken between two parts, here are %d", name, len(args))
	}
	for _, arg := range args {
		paths, absent := m.s.instances(m.a, plan.Word{Text: arg.Name})
		switch {
		case arg.Name == "":
			return quantity.Value{}, errors.New("name the two parts, as the assembly calls them")
		case absent != nil:
			return quantity.Value{}, fmt.Errorf("%q is there only with %s", arg.Name, onlyText(absent.Only))
		case len(paths) == 0:
			return quantity.Value{}, fmt.Errorf("the assembly %q has nothing called %q", m.a.ID.Text, arg.Name)
		}
	}
	mm, _ := m.s.Layout.Diagonal(m.a, args[0].Name, args[1].Name) // what has no place is found as such
	return quantity.MM(mm), nil
}

// Measured is what a measure of assembly a comes to under the situation: what it is
// taken of, or else the wanted value; ok is false where neither can be worked out.
func (s *Situation) Measured(a *plan.Assembly, m plan.Measure) (v quantity.Value, ok bool) {
	wanted := m.Of
	if !m.Of.Given() {
		wanted = m.Is
	}
	f, ok := wanted.Pick(s.Case.Options)
	if !ok || !f.Given() {
		return v, false
	}
	result, failed := f.Expr.Eval(measureScope{Scope: s.Reckoning.Scope(), s: s, a: a})
	return result.Value, failed == nil
}
