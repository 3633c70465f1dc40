package check

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// StepTakesApart finds texts of steps that tell the builder to take off what an earlier
// step has put in, or to undo a joint that one has made.
var StepTakesApart = Rule{
	Rule: finding.Rule{
		Name: "step-takes-apart", Severity: finding.Advice,
		Reason: "What is put in, taken off and put in again is done twice; and what is checked of later steps counts it as there.",
		Remedy: "put it in later, once; where it must be tried first, say so and waive this",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		language, _, _ := strings.Cut(strings.ToLower(s.Reckoning.Plan.Language.Text), "-")
		speaks := removingBy[language]
		if speaks == nil {
			speaks = removingBy["en"]
		}
		for _, p := range s.work.mentions().passages {
			if p.step == nil || p.assembly == nil {
				continue
			}
			step, present := s.order().Index(p.step)
			if !present {
				continue
			}
			for _, r := range speaks.removals(p.text.Value) {
				put, known := s.putInBefore(speaks, p.assembly, step, r)
				if !known {
					continue
				}
				by := s.order().Steps[put.step]
				report(finding.Finding{
					At: p.text.Place(r.offset, r.length), Subject: stepSubject(p.assembly, p.step),
					Message: fmt.Sprintf("the step %s takes off or undoes %q, which %s has %s", p.assembly.ID.Text+"."+p.step.ID.Text, put.name, by, put.deed),
					Also:    []finding.Related{{At: by.Step.ID.At, Say: put.deed + " here"}},
					Remedy:  s.laterRemedy(put.step, step),
				})
			}
		}
	},
}

// A putIn is what an earlier step has put in or made.
type putIn struct {
	step       int
	name, deed string
}

// putInBefore finds what an object stands for among what steps before one have put in,
// the last of them.
func (s *Situation) putInBefore(l *removing, a *plan.Assembly, step int, r removal) (best putIn, known bool) {
	o := s.order()
	for k := range o.Steps {
		if !o.Before(k, step) {
			continue
		}
		in := o.Steps[k].Assembly
		for _, w := range o.Steps[k].Step.Adds {
			if use := in.Use(w.Path()[0]); use != nil && s.means(l, a, in, use, w, r) {
				best, known = putIn{k, w.Text, "put in"}, true
			}
		}
		for _, w := range o.Steps[k].Step.Fastens {
			owner, j := jointOf(s.Reckoning.Plan, in, w)
			if j != nil && o.Handled(j) != nil && s.meansJoint(a, owner, j, r) {
				best, known = putIn{k, w.Text, "made"}, true
			}
		}
	}
	return best, known
}

// means reports whether an object is what a step adds by a word: by its use, its part or
// assembly, or that one's title.
func (s *Situation) means(l *removing, here, in *plan.Assembly, use *plan.Use, w plan.Word, r removal) bool {
	var names []string
	if name := lastName(w); here == in {
		names = append(names, name)
	}
	var ids []string
	for _, id := range slices.Concat(use.Part.All(), use.Assembly.All()) {
		ids = append(ids, id.Text)
		if p := s.Reckoning.Plan.Part(id.Text); p != nil {
			names = append(names, p.Title.Value)
		}
		if sub := s.Reckoning.Plan.Assembly(id.Text); sub != nil {
			names = append(names, sub.Title.Value)
		}
	}
	if r.ref {
		return slices.Contains(ids, r.object[0]) || here == in && r.object[0] == w.Text
	}
	return slices.ContainsFunc(slices.Concat(names, ids), func(name string) bool { return l.names(r.object, name) })
}

// lastName is the name at the end of a path, without a number.
func lastName(w plan.Word) string {
	path := w.Path()
	for len(path) > 1 && strings.Trim(path[len(path)-1], "0123456789") == "" {
		path = path[:len(path)-1]
	}
	return path[len(path)-1]
}

// meansJoint reports whether an object is a joint: its name in braces, or so many screws
// as it has where the text gives their number.
func (s *Situation) meansJoint(here, owner *plan.Assembly, j *plan.Joint, r removal) bool {
	if r.ref {
		name := strings.TrimSuffix(r.object[0], "."+plan.Screw)
		return name == owner.ID.Text+"."+j.ID.Text || here == owner && name == j.ID.Text
	}
	return r.screws && r.count > 0 && here == owner && j.Kind.Text == plan.Screw && s.Reckoning.JointPlaces(owner, j) == r.count
}

// laterRemedy says that a step could come after another, where it could.
func (s *Situation) laterRemedy(first, after int) string {
	rec := s.Sequence()
	with, ok := rec.CanFollow(first, after)
	if !ok {
		return ""
	}
	var also []string
	for _, k := range with {
		also = append(also, rec.Graph.Say(k))
	}
	text := ""
	if len(also) > 0 {
		text = " with " + strings.Join(also, ", ")
	}
	return fmt.Sprintf("do %s%s after %s: nothing before that needs it, and all still goes", rec.Graph.Say(first), text, rec.Graph.Say(after))
}
