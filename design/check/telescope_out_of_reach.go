package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
)

// TelescopeOutOfReach finds parts stretched between two places that lie further
// apart than the part reaches, or nearer together, at rest or at the ends of the
// motions.
var TelescopeOutOfReach = Rule{
	Rule: finding.Rule{
		Name: "telescope-out-of-reach", Severity: finding.Error,
		Reason: "The part does not go in between its two places, or stops the machine before its end of travel.",
		Remedy: "move one of the places, or take a part with another closed length or stroke",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		if len(s.Layout.Telescopes()) == 0 {
			return
		}
		said := map[string]bool{} // each part once a side, in the first pose that shows it
		for _, p := range s.poses() {
			for _, t := range p.layout.Telescopes() {
				key := fmt.Sprint(t.Instance.Path, t.Over() > 0)
				if math.Abs(t.Over()) <= reachWithin || said[key] {
					continue
				}
				said[key] = true
				subject, _ := instanceSubject(t.Instance)
				message, remedy := reachSays(t.Instance.Use.ID.Text, t)
				report(finding.Finding{
					At: t.Instance.Use.Between[0].Mine.At, Subject: subject, Message: p.at(message), Remedy: remedy,
					Also: telescopePlace(s, t),
				})
			}
		}
	},
}

// reachWithin (mm) is by how much a part may miss its places: below what a workshop
// sets. Common practice, no source.
const reachWithin = 0.1

func reachSays(id string, t layout.Telescope) (message, remedy string) {
	reach := fmt.Sprintf("%s to %s", hundredths(t.Closed), hundredths(t.Closed+t.Stroke))
	if t.Stroke == 0 {
		reach = hundredths(t.Closed)
	}
	if over := t.Over(); over > 0 {
		return fmt.Sprintf("the places of %q are %s apart, and it reaches %s: %s are missing", id, hundredths(t.Length), reach, hundredths(over)),
			fmt.Sprintf("bring the places %s nearer together, or take a part that reaches %s", hundredths(over), hundredths(t.Length))
	}
	short := -t.Over()
	return fmt.Sprintf("the places of %q are %s apart, and it reaches %s: it is %s too long", id, hundredths(t.Length), reach, hundredths(short)),
		fmt.Sprintf("bring the places %s further apart, or take a part that closes to %s", hundredths(short), hundredths(t.Length))
}

// telescopePlace is where the plan says how long the part can be.
func telescopePlace(s *Situation, t layout.Telescope) []finding.Related {
	if stretches, _ := s.Reckoning.Telescope(t.Instance.Part); stretches != nil {
		return []finding.Related{{At: stretches.At, Say: "how far it stretches"}}
	}
	return nil
}
