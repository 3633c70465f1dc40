package ready

import (
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A Calc is a ready calculation. It is shared by all who ask and must not be changed.
type Calc struct {
	Name    string // by which a plan calls it: power_screw
	Subject string // what it belongs to: Screws
	Title   string
	About   string // may be empty
	Inputs  []Input
	Tables  []plan.TableFile // looked up by its formulas; Data is there, File is not
	Finds   []Find
	Assumes []string
	Limits  []Limit // within what it is valid
	Source  string  // the books or standards that the method comes from
}

// An Input is what the plan puts in.
type Input struct {
	Name    string
	Symbol  string             // as handbooks write it: "F", "d_m"
	Unit    string             // a usual one, "N*m"; empty for a plain number
	Dim     quantity.Dimension // of Unit
	About   string
	Default *formula.Expr // what counts where the plan gives nothing; nil: it must give one
}

// A Find is a result.
type Find struct {
	Name   string
	Symbol string
	Unit   string // a usual one; empty for a plain number
	Dim    quantity.Dimension
	Is     *formula.Expr
	About  string // may be empty
}

// A Limit is a condition within which the method is valid.
type Limit struct {
	That    *formula.Expr
	Because string // may be empty
}

// Input returns the input of that name.
func (c *Calc) Input(name string) (Input, bool) {
	for _, in := range c.Inputs {
		if in.Name == name {
			return in, true
		}
	}
	return Input{}, false
}

// Find returns the result of that name.
func (c *Calc) Find(name string) (Find, bool) {
	for _, f := range c.Finds {
		if f.Name == name {
			return f, true
		}
	}
	return Find{}, false
}
