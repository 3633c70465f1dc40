package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
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
				if missing, all := o.left(a, u); len(missing) > 0 {
					message := fmt.Sprintf("no step adds %q", u.ID.Text)
					if len(missing) < all {
						message = fmt.Sprintf("no step adds %s of the %d %q", strings.Join(missing, ", "), all, u.ID.Text)
					}
					report(finding.Finding{At: u.ID.At, Subject: a.ID.Text + "." + u.ID.Text, Message: message})
				}
			}
		}
	},
}

// left are the instances of a use that no step adds, as a whole or by any of what
// they hold.
func (o *order) left(a *plan.Assembly, u *plan.Use) (missing []string, all int) {
	paths, absent := o.s.instances(a, u.ID)
	if absent != nil {
		return nil, 0
	}
	for _, path := range paths {
		found := o.there(a, path) != nil
		for added := range o.added[a] {
			found = found || strings.HasPrefix(added, path+".")
		}
		if !found {
			missing = append(missing, path)
		}
	}
	return missing, len(paths)
}
