package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// InstanceNeverAdded finds parts and assemblies that an assembly holds and none of
// its steps adds. An assembly without steps is found as a whole.
var InstanceNeverAdded = Rule{
	Rule: finding.Rule{
		Name: "instance-never-added", Severity: finding.Error,
		Reason: "The builder follows every step and has a part left on the bench.",
		Remedy: "name it under adds of the step that puts it in",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		for _, a := range s.Reckoning.Plan.Assemblies {
			if !s.assembled(a) || len(a.Steps) == 0 {
				continue
			}
			for _, u := range a.Holds {
				missing, all := o.left(a, a, u, "", 0)
				if len(missing) == 0 {
					continue
				}
				message := fmt.Sprintf("no step adds %q", u.ID.Text)
				if len(missing) < all {
					message = fmt.Sprintf("no step adds %s of the %d in %q", strings.Join(missing, ", "), all, u.ID.Text)
				}
				report(finding.Finding{At: u.ID.At, Subject: a.ID.Text + "." + u.ID.Text, Message: message})
			}
		}
	},
}

// left are the instances of a use that no step of assembly a adds, and how many
// there are. A sub-assembly that comes in piece by piece is looked at piece by
// piece; holder is what holds the use, prefix the path to it.
func (o *order) left(a, holder *plan.Assembly, u *plan.Use, prefix string, depth int) (missing []string, all int) {
	if !u.Only.Fits(o.s.Case.Options) || depth > sequence.MostNested {
		return nil, 0
	}
	whole := prefix + u.ID.Text
	switch {
	case o.There(a, whole) != nil:
		return nil, 1
	case !o.AddsWithin(a, whole):
		return []string{whole}, 1
	}
	names, _ := sequence.Numbered(o.s.Reckoning, u, nil)
	id, _ := u.Assembly.Pick(o.s.Case.Options)
	sub := o.s.Reckoning.Plan.Assembly(id.Text)
	for _, name := range names {
		path := prefix + name
		switch {
		case o.There(a, path) != nil:
			all++
		case sub != nil && sub != holder && o.AddsWithin(a, path):
			for _, child := range sub.Holds {
				gone, n := o.left(a, sub, child, path+".", depth+1)
				missing = append(missing, gone...)
				all += n
			}
		default:
			missing = append(missing, path)
			all++
		}
	}
	return missing, all
}

// piecewise reports whether steps of what holds an assembly add its parts one by
// one.
func (o *order) piecewise(sub *plan.Assembly) bool {
	for _, a := range o.s.Reckoning.Plan.Assemblies {
		for _, u := range a.Holds {
			if id, ok := u.Assembly.Pick(o.s.Case.Options); !ok || id.Text != sub.ID.Text {
				continue
			}
			if o.AddsWithin(a, u.ID.Text) {
				return true
			}
		}
	}
	return false
}
