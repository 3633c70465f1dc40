package check

import (
	"maps"
	"sync"

	"plansheaf/design/bill"
	"plansheaf/design/calc"
	"plansheaf/design/chain"
	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
	"plansheaf/design/way"
)

// A Work is a plan worked out for every case that checks must hold for.
type Work struct {
	Plan       *plan.Plan
	Situations []*Situation // the plan's own case first
	Whole      bool         // false: there were more cases than MaxCases
	Kept       *memo.Store  // what is kept from one run to the next; nil for none

	sequencing  sync.Mutex      // over the store and the orders that situations keep
	store       *sequence.Store // what the order of work of all cases shares
	named       *mentions
	settled     []finding.Finding // what choosing screws found
	typedDone   bool
	typedFound  []typed
	counted     []counted
	countedDone bool
	ways        *way.Memory
	clashes     *clash.Store // what the clashes of all cases share
}

// A Situation is a plan worked out for one case.
type Situation struct {
	Case      reckon.Case
	Says      []string // what the case departs from the defaults in; empty for the plan's own
	Reckoning *reckon.Reckoning
	Layout    *layout.Layout
	Bill      *bill.Bill
	Calcs     []*calc.Report  // those that belong to the case, in the plan's order
	Chains    []*chain.Report // the tolerance chains among them

	work  *Work
	facts facts
}

// MaxCases bounds how many cases a plan is worked out for.
const MaxCases = 64

// Out works p out for every case, the plan's own first.
func Out(p *plan.Plan) *Work { return Keeping(p, nil) }

// Keeping is [Out], with what a store has kept of earlier runs taken over; what is then
// worked out, checked or drawn anew is kept in it.
func Keeping(p *plan.Plan, kept *memo.Store) *Work {
	w := &Work{Plan: p, Kept: kept}
	shapes := reckon.NewShapes()
	shapes.Kept = kept
	cases, whole := reckon.Cases(p, MaxCases)
	w.Whole = whole
	w.settled = joint.Settle(p, cases, shapes)
	for _, c := range cases {
		w.Situations = append(w.Situations, w.situation(c, shapes))
	}
	return w
}

func (w *Work) situation(c reckon.Case, shapes *reckon.Shapes) *Situation {
	p := w.Plan
	r := reckon.New(p, c, shapes)
	s := &Situation{Case: c, Says: c.Says(p), Reckoning: r, work: w}
	s.measureChains() // before formulas are worked out that name a gap
	r.All()
	if s.Layout == nil {
		s.Layout = layout.Of(r)
	}
	s.Bill = bill.Of(r)
	for _, one := range p.Calcs {
		if report := calc.Run(r, one, System(p)); report != nil {
			s.Calcs = append(s.Calcs, report)
		}
	}
	return s
}

// System is the system of units that the plan is written in.
func System(p *plan.Plan) quantity.System {
	system, err := quantity.ParseSystem(p.Units.Text)
	if err != nil {
		return quantity.Metric
	}
	return system
}

// Default is the plan's own case.
func (w *Work) Default() *Situation { return w.Situations[0] }

// Choosing is the situation with the plan's own choices but for those given; nil
// when the plan was not worked out for it, or has no such choice.
func (w *Work) Choosing(choose plan.Selection) *Situation {
	want := w.Plan.Defaults()
	for choice, option := range choose {
		if _, known := want[choice]; !known {
			return nil
		}
		want[choice] = option
	}
	for _, s := range w.Combinations() {
		if maps.Equal(s.Case.Options, want) {
			return s
		}
	}
	return nil
}

// Calc is the report of a calculation, nil when it does not belong to the case.
func (s *Situation) Calc(id string) *calc.Report {
	for _, c := range s.Calcs {
		if c.Calc.ID.Text == id {
			return c
		}
	}
	return nil
}

// Combinations are the situations with every value as the plan gives it: one for
// each combination of choices, the plan's own first.
func (w *Work) Combinations() []*Situation {
	var list []*Situation
	for _, s := range w.Situations {
		if len(s.Case.Ends) == 0 {
			list = append(list, s)
		}
	}
	return list
}
