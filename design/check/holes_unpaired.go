package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// HolesUnpaired finds holes of a joint that have no partner in the next layer, or that
// two of its screws would share.
var HolesUnpaired = Rule{
	Rule: finding.Rule{
		Name: "holes-unpaired", Severity: finding.Error,
		Reason: "Screws and holes do not add up: the builder is left with a hole and no place to screw to.",
		Remedy: "name as many holes in each layer, or give the odd ones a joint of their own",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			if !j.Fastener.Given() {
				return
			}
			type group struct {
				word   plan.Word
				shared bool
			}
			var order []group
			names := map[group][]string{}
			for _, l := range s.joints().Loners(a, j) {
				g := group{l.Word, l.Shared > 1}
				if names[g] == nil {
					order = append(order, g)
				}
				names[g] = append(names[g], l.Spot.Path+"."+l.Spot.Feature)
			}
			for _, g := range order {
				list := names[g]
				if len(list) > mostNamed {
					list = append(list[:mostNamed:mostNamed], "…")
				}
				message := fmt.Sprintf("%s of the joint %q: no hole of the other layers pairs with it", strings.Join(list, ", "), j.ID.Text)
				if g.shared {
					message = fmt.Sprintf("%s of the joint %q: several screws would share it", strings.Join(list, ", "), j.ID.Text)
				}
				report(finding.Finding{At: g.word.At, Subject: jointSubject(a, j), Message: message})
			}
		})
	},
}
