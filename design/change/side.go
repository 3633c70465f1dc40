package change

import (
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

type situation = check.Situation

// A side is one revision as the comparison looks at it.
type side struct {
	Revision
	plan       *plan.Plan
	system     quantity.System
	own        *situation
	departures []departure
	uses       map[string]map[string]bool // by part, where it is used
	placed     map[string]*reckon.Instance
}

// A departure is a case that departs from the plan's own in one respect.
type departure struct {
	s      *situation
	of     string // the choice or value
	option string
	end    string // of a value: "at its low end"
	say    string
}

func newSide(r Revision) *side {
	s := &side{Revision: r, plan: r.Work.Plan, system: check.System(r.Work.Plan), own: r.Work.Default()}
	for _, one := range r.Work.Situations {
		if d, ok := departs(s.plan, one); ok {
			s.departures = append(s.departures, d)
		}
	}
	return s
}

// departs tells in which one respect a case departs from the plan's own.
func departs(p *plan.Plan, s *situation) (d departure, ok bool) {
	d.s = s
	for _, c := range p.Choices {
		if o := s.Case.Options[c.ID.Text]; o != c.Default.Text {
			if d.of != "" {
				return d, false
			}
			d.of, d.option, d.say = c.ID.Text, o, c.ID.Text+" "+o
		}
	}
	for _, v := range p.Values {
		end := s.Case.Ends[v.ID.Text]
		if end == reckon.AsGiven {
			continue
		}
		if d.of != "" {
			return d, false
		}
		d.of, d.end = v.ID.Text, "at its high end"
		if end == reckon.Low {
			d.end = "at its low end"
		}
		d.say = d.of + " " + d.end
	}
	return d, d.of != ""
}

// choosing is the plan's own case with one option changed.
func (s *side) choosing(choice, option string) *situation {
	for _, d := range s.departures {
		if d.of == choice && d.option == option {
			return d.s
		}
	}
	return s.own
}

// text is a value as the side's plan prints it.
func (s *side) text(v quantity.Value) string { return quantity.Text(v, s.system) }

// instance is the first instance of a use of an assembly, the first of those that
// repeat; nil where the plan's own case has none.
func (s *side) instance(a *plan.Assembly, u *plan.Use) *reckon.Instance {
	if s.placed == nil {
		s.placed = map[string]*reckon.Instance{}
		for _, in := range s.own.Reckoning.Tally().Instances {
			if in.Use == nil || in.Parent == nil || in.Parent.Assembly == nil {
				continue
			}
			key := in.Parent.Assembly.ID.Text + "." + in.Use.ID.Text
			if s.placed[key] == nil {
				s.placed[key] = in
			}
		}
	}
	return s.placed[a.ID.Text+"."+u.ID.Text]
}
