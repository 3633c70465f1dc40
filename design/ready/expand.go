package ready

import (
	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

// Plan returns the calculation as a plan would have written it, everything standing
// at one place: the name after from. Its givens are the inputs that have a default;
// the others are for the plan to give. The caller owns the result.
func (c *Calc) Plan(at finding.Span) *plan.Calc {
	made := &plan.Calc{
		Title: text(c.Title, at), About: text(c.About, at), Source: text(c.Source, at), At: at,
		Tables: append([]plan.TableFile(nil), c.Tables...),
	}
	for _, in := range c.Inputs {
		if in.Default != nil {
			made.Givens = append(made.Givens, plan.Given{
				Name: plan.Word{Text: in.Name, At: at}, Is: written(in.Default, at), About: text(in.About, at), At: at,
			})
		}
	}
	for _, f := range c.Finds {
		made.Finds = append(made.Finds, plan.Find{
			Name: plan.Word{Text: f.Name, At: at}, Is: written(f.Is, at), About: text(f.About, at),
		})
	}
	for _, say := range c.Assumes {
		made.Assumes = append(made.Assumes, text(say, at))
	}
	for _, l := range c.Limits {
		made.Limits = append(made.Limits, plan.Require{That: written(l.That, at), Because: text(l.Because, at), At: at})
	}
	for i := range made.Tables {
		made.Tables[i].Name.At = at
	}
	return made
}

// text is a text at a place; one that is empty counts as not given.
func text(value string, at finding.Span) plan.Text {
	if value == "" {
		return plan.Text{}
	}
	return plan.Text{Value: value, At: at}
}

// written is a formula that stands nowhere in the plan's text: faults in it point at
// the place as a whole.
func written(e *formula.Expr, at finding.Span) plan.Quantity {
	return plan.Quantity{Plain: plan.Formula{Expr: e, At: at}, At: at}
}
