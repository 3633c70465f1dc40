package reckon

import (
	"fmt"
	"strings"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// The groups that a sum goes through, named after an assembly: press.parts.
const (
	partsOf = "parts"
	stepsOf = "steps"
)

// Members lists the things of a group. press.parts are the parts that one press
// holds with all that is in it and the fasteners of its joints, each kind once, in
// the plan's order; their count is how many one press holds, all else is as of
// lead_screw.mass. press.steps are its own steps in order, with time and people,
// which is 1 where the step does not say.
func (s planScope) Members(group string) ([]formula.Member, error) {
	head, rest, _ := strings.Cut(group, ".")
	a := s.r.Plan.Assembly(head)
	switch {
	case a == nil:
		return nil, &formula.UnknownNameError{Name: group, Nearest: s.r.nearestGroup(head)}
	case rest == partsOf:
		return s.r.partMembers(a)
	case rest == stepsOf:
		return s.r.stepMembers(a), nil
	}
	return nil, fmt.Errorf("%s is no group; a sum goes through %s.%s or %s.%s", group, head, partsOf, head, stepsOf)
}

// nearestGroup is what a mistyped assembly before .parts most likely meant.
func (r *Reckoning) nearestGroup(head string) string {
	var ids []string
	for _, a := range r.Plan.Assemblies {
		ids = append(ids, a.ID.Text)
	}
	if near := r.nearestTo(head, ids); near != "" {
		return near + "." + partsOf
	}
	return ""
}

func (r *Reckoning) partMembers(a *plan.Assembly) ([]formula.Member, error) {
	counts, err := r.contentsOf(a)
	if err != nil {
		return nil, err
	}
	var members []formula.Member
	for _, p := range r.Plan.Parts {
		id := p.ID.Text
		n := counts[id]
		if n == 0 {
			continue
		}
		members = append(members, formula.Member{Name: id, Property: func(name string) (quantity.Value, error) {
			if name == "count" {
				return quantity.Number(float64(n)), nil
			}
			return r.PartProperty(id, name)
		}})
	}
	return members, nil
}

// contentsOf is how many of each part one of an assembly holds, by id; the error is
// a circle: a count that depends on what is counted.
func (r *Reckoning) contentsOf(a *plan.Assembly) (map[string]int, error) {
	if counts, known := r.contents[a.ID.Text]; known {
		return counts, nil
	}
	if r.base != nil {
		return r.base.contentsOf(a)
	}
	name := a.ID.Text + "." + partsOf
	if err := r.circle(name); err != nil {
		return nil, err
	}
	r.stack = append(r.stack, name)
	defer func() { r.stack = r.stack[:len(r.stack)-1] }()
	counts := map[string]int{}
	add := func(id string, n int) {
		if n > 0 && r.Plan.Part(id) != nil {
			counts[id] = min(counts[id]+n, maxInstances)
		}
	}
	for _, use := range a.Holds {
		if use.Only.Fits(r.Case.Options) {
			if err := r.useContents(use, add); err != nil {
				return nil, err
			}
		}
	}
	for _, j := range a.Joints {
		if !j.Only.Fits(r.Case.Options) {
			continue
		}
		places := r.JointPlaces(a, j)
		for _, id := range r.JointParts(j) {
			add(id, places)
		}
	}
	r.contents[a.ID.Text] = counts
	return counts, nil
}

// useContents adds what all instances of a use hold.
func (r *Reckoning) useContents(use *plan.Use, add func(id string, n int)) error {
	first, last := r.Numbers(use)
	if id, ok := use.Part.Pick(r.Case.Options); ok {
		add(id.Text, last-first+1)
		return nil
	}
	id, _ := use.Assembly.Pick(r.Case.Options)
	sub := r.Plan.Assembly(id.Text)
	if sub == nil {
		return nil
	}
	inner, err := r.contentsOf(sub)
	for id, n := range inner {
		add(id, n*(last-first+1))
	}
	return err
}

func (r *Reckoning) stepMembers(a *plan.Assembly) []formula.Member {
	var members []formula.Member
	for _, step := range a.Steps {
		if !step.Only.Fits(r.Case.Options) {
			continue
		}
		members = append(members, formula.Member{Name: a.ID.Text + "." + step.ID.Text, Property: func(property string) (quantity.Value, error) {
			return r.stepProperty(a, step, property)
		}})
	}
	return members
}

// stepNamed is the step that a name such as press.square_up.time reaches into from
// its assembly, and the property; nil where it is none of the assembly's steps.
func stepNamed(a *plan.Assembly, rest string) (step *plan.Step, property string) {
	id, property, dotted := strings.Cut(rest, ".")
	if !dotted {
		return nil, ""
	}
	return a.Step(id), property
}

// stepProperty is the time of a step, or how many people it takes.
func (r *Reckoning) stepProperty(a *plan.Assembly, step *plan.Step, property string) (quantity.Value, error) {
	name := a.ID.Text + "." + step.ID.Text
	return r.named(name+"."+property, func() (quantity.Value, error) {
		switch {
		case property == "time" && step.Time.Given():
			return r.evaluateAs(step.Time, quantity.Time, planScope{r})
		case property == "people" && step.People.Given():
			return r.evaluateAs(step.People, quantity.Pure, planScope{r})
		case property == "people":
			return quantity.Number(1), nil
		}
		near := r.nearestTo(property, []string{"time", "people"})
		if near != "" {
			near = name + "." + near
		}
		return quantity.Value{}, &formula.UnknownNameError{Name: name + "." + property, Nearest: near}
	})
}
