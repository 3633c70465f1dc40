package reckon

import (
	"errors"
	"fmt"
	"sort"
	"strings"

	"github.com/agnivade/levenshtein"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// An AbsentError is a name that belongs to another choice than the case at hand.
type AbsentError struct {
	Name string
	Only plan.Only
}

// Error says with which options the name exists.
func (e *AbsentError) Error() string {
	var conds []string
	for _, c := range e.Only.Conditions {
		var options []string
		for _, o := range c.Options {
			options = append(options, o.Text)
		}
		conds = append(conds, c.Choice.Text+": "+strings.Join(options, " or "))
	}
	return fmt.Sprintf("%q exists only with %s", e.Name, strings.Join(conds, ", "))
}

// planScope answers the names that stand anywhere in a plan.
type planScope struct{ r *Reckoning }

// Scope answers the names that formulas outside calculations may use.
func (r *Reckoning) Scope() formula.Scope { return planScope{r} }

// Lookup is the value of a dotted name.
func (s planScope) Lookup(name string) (quantity.Value, error) {
	head, rest, dotted := strings.Cut(name, ".")
	if !dotted {
		return s.r.plain(head)
	}
	p := s.r.Plan
	switch {
	case p.Part(head) != nil:
		return s.r.PartProperty(head, rest)
	case p.StockOf(head) != nil:
		return s.r.stockProperty(head, rest)
	case p.Assembly(head) != nil:
		if step, property := stepNamed(p.Assembly(head), rest); step != nil {
			if !step.Only.Fits(s.r.Case.Options) {
				return quantity.Value{}, &AbsentError{Name: head + "." + step.ID.Text, Only: step.Only}
			}
			return s.r.stepProperty(p.Assembly(head), step, property)
		}
		return s.r.assemblyProperty(head, rest)
	case p.Calc(head) != nil:
		return s.r.Result(p.Calc(head), rest)
	}
	return quantity.Value{}, &formula.UnknownNameError{Name: name, Nearest: s.r.nearestTo(head, s.r.heads())}
}

// Call has no functions at the plan's level; tables belong to calculations and
// measures to steps.
func (s planScope) Call(name string, _ []formula.Arg) (quantity.Value, error) {
	return quantity.Value{}, &formula.UnknownNameError{Name: name}
}

// Function knows none at the plan's level; they belong to calculations.
func (s planScope) Function(string) *formula.Function { return nil }

// Work is what the formulas of all cases may repeat together.
func (s planScope) Work() *formula.Work { return s.r.shapes.work }

// plain is a plan value, at the end of its range that the case says, or where a
// motion stands while the machine is drawn.
func (r *Reckoning) plain(id string) (quantity.Value, error) {
	if v := r.Plan.Value(id); v != nil {
		return r.named(id, func() (quantity.Value, error) {
			switch r.Case.Ends[id] {
			case Low:
				return r.evaluate(v.From, planScope{r})
			case High:
				return r.evaluate(v.To, planScope{r})
			}
			return r.evaluate(v.Is, planScope{r})
		})
	}
	if m := r.Plan.Motion(id); m != nil {
		return r.named(id, func() (quantity.Value, error) { return r.rest(m) })
	}
	return quantity.Value{}, &formula.UnknownNameError{Name: id, Nearest: r.nearestTo(id, r.plainNames())}
}

// rest is where a motion stands in the drawings: at 0, or at from where 0 lies
// outside of it.
func (r *Reckoning) rest(m *plan.Motion) (quantity.Value, error) {
	from, to, err := r.Range(m)
	if err != nil {
		return from, err
	}
	low, high := min(from.SI, to.SI), max(from.SI, to.SI)
	if low <= 0 && high >= 0 {
		from.SI = 0
	}
	return from, nil
}

// heads are the ids that may stand before a dot.
func (r *Reckoning) heads() []string {
	var names []string
	for _, x := range r.Plan.Parts {
		names = append(names, x.ID.Text)
	}
	for _, x := range r.Plan.Stock {
		names = append(names, x.ID.Text)
	}
	for _, x := range r.Plan.Assemblies {
		names = append(names, x.ID.Text)
	}
	for _, x := range r.Plan.Calcs {
		names = append(names, x.ID.Text)
	}
	return names
}

func (r *Reckoning) plainNames() []string {
	var names []string
	for _, v := range r.Plan.Values {
		names = append(names, v.ID.Text)
	}
	for _, m := range r.Plan.Motions {
		names = append(names, m.ID.Text)
	}
	return names
}

const (
	// comparing is how many comparisons one reckoning may cost: a plan of nothing
	// but unknown names must not take minutes.
	comparing = 50_000
	// longestCompared is the length in bytes beyond which no name is compared.
	longestCompared = 64
)

// nearestTo is the candidate that a mistyped name most likely meant, "" when
// none is near.
func (r *Reckoning) nearestTo(name string, candidates []string) string {
	if name == "" || len(name) > longestCompared || r.compared > comparing {
		return ""
	}
	r.compared += len(candidates)
	sort.Strings(candidates)
	best, bestAt := "", 2+2*(len(name)/3) // twice the distance, so that a tie can weigh half
	for _, c := range candidates {
		if c == "" || len(c) > longestCompared {
			continue
		}
		d := 2 * levenshtein.ComputeDistance(name, c)
		if d > 0 && c[0] != name[0] {
			d++ // first letters are seldom mistyped
		}
		if d <= bestAt && (best == "" || d < bestAt) {
			best, bestAt = c, d
		}
	}
	return best
}

// calcScope answers the names inside a calculation: its givens, its results and
// its tables, then those of the plan.
type calcScope struct {
	r *Reckoning
	c *plan.Calc
}

// CalcScope answers the names that formulas of c may use.
func (r *Reckoning) CalcScope(c *plan.Calc) formula.Scope { return calcScope{r, c} }

// Lookup is the value of a name inside the calculation.
func (s calcScope) Lookup(name string) (quantity.Value, error) {
	if isGap(s.c, name) {
		return s.r.gap(s.c)
	}
	if !strings.Contains(name, ".") {
		if q, found := calcQuantity(s.c, name); found {
			return s.r.named(s.c.ID.Text+"."+name, func() (quantity.Value, error) { return s.r.calcValue(s.c, name, q) })
		}
	}
	v, err := planScope{s.r}.Lookup(name)
	var unknown *formula.UnknownNameError
	if err != nil && errors.As(err, &unknown) && !strings.Contains(name, ".") {
		var names []string
		for _, g := range s.c.Givens {
			names = append(names, g.Name.Text)
		}
		for _, f := range s.c.Finds {
			names = append(names, f.Name.Text)
		}
		return v, &formula.UnknownNameError{Name: name, Nearest: s.r.nearestTo(name, append(names, s.r.plainNames()...))}
	}
	return v, err
}

// calcQuantity is the formula of a given or a result.
func calcQuantity(c *plan.Calc, name string) (plan.Quantity, bool) {
	for _, g := range c.Givens {
		if g.Name.Text == name {
			return g.Is, true
		}
	}
	for _, f := range c.Finds {
		if f.Name.Text == name {
			return f.Is, true
		}
	}
	return plan.Quantity{}, false
}

// Result is a named given or result of a calculation.
func (r *Reckoning) Result(c *plan.Calc, name string) (quantity.Value, error) {
	if !c.Only.Fits(r.Case.Options) {
		return quantity.Value{}, &AbsentError{Name: c.ID.Text, Only: c.Only}
	}
	if isGap(c, name) {
		return r.gap(c)
	}
	q, found := calcQuantity(c, name)
	if !found {
		var names []string
		for _, f := range c.Finds {
			names = append(names, c.ID.Text+"."+f.Name.Text)
		}
		return quantity.Value{}, &formula.UnknownNameError{Name: c.ID.Text + "." + name, Nearest: r.nearestTo(c.ID.Text+"."+name, names)}
	}
	return r.named(c.ID.Text+"."+name, func() (quantity.Value, error) { return r.calcValue(c, name, q) })
}

// Call looks a value up in a table: curve.torque(speed) is the column torque of
// the table curve, found by its first column.
func (s calcScope) Call(name string, args []formula.Arg) (quantity.Value, error) {
	table, column, dotted := strings.Cut(name, ".")
	if !dotted {
		var names []string
		for _, d := range s.c.Defines {
			names = append(names, d.Name.Text)
		}
		return quantity.Value{}, &formula.UnknownNameError{Name: name, Nearest: s.r.nearestTo(name, names)}
	}
	if t, found := s.own().tables[table]; found {
		return s.r.tableLookup(t, column, args)
	}
	var names []string
	for _, t := range s.c.Tables {
		names = append(names, t.Name.Text)
	}
	return quantity.Value{}, &formula.UnknownNameError{Name: name, Nearest: s.r.nearestTo(table, names)}
}

// Members lists the things of a group of the plan.
func (s calcScope) Members(group string) ([]formula.Member, error) {
	return planScope{s.r}.Members(group)
}

// calcOwn is what a calculation has under names of its own that are called.
type calcOwn struct {
	functions map[string]*formula.Function
	tables    map[string]plan.TableFile
}

// own gathers a calculation's functions and tables once, since a solve may call them
// a thousand times.
func (s calcScope) own() *calcOwn {
	if own, known := s.r.own[s.c]; known {
		return own
	}
	own := &calcOwn{functions: map[string]*formula.Function{}, tables: map[string]plan.TableFile{}}
	s.r.own[s.c] = own
	for _, t := range s.c.Tables {
		own.tables[t.Name.Text] = t
	}
	for _, d := range s.c.Defines {
		f, ok := d.Is.Pick(s.r.Case.Options)
		if !ok || !f.Given() {
			continue
		}
		parameters := make([]string, len(d.Parameters))
		for i, p := range d.Parameters {
			parameters[i] = p.Text
		}
		own.functions[d.Name.Text] = formula.NewFunction(d.Name.Text, parameters, f.Expr)
	}
	return own
}

// Function is a function that the calculation defines.
func (s calcScope) Function(name string) *formula.Function { return s.own().functions[name] }

// Work is what the formulas of all cases may repeat together.
func (s calcScope) Work() *formula.Work { return planScope{s.r}.Work() }
