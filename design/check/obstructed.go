package check

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// obstructed makes the check of a rule about what does not go at its step.
func obstructed(says string, kinds ...sequence.Kind) func(s *Situation, report func(finding.Finding)) {
	return func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		for _, o := range rec.Obstructions {
			if !slices.Contains(kinds, o.Kind) || s.followsOn(o) {
				continue
			}
			f := finding.Finding{At: o.Word.At, Subject: o.Owner.ID.Text + "." + o.Name}
			name := o.Name
			if o.Joint != nil {
				f.Subject = jointSubject(o.Owner, o.Joint)
			}
			f.Message = fmt.Sprintf("%q %s%s: %s", name, says, placesText(o), triedText(o.Tried))
			if o.Since >= 0 {
				f.Message += fmt.Sprintf(" (%s comes in %s)", o.Blocks.Name(), rec.Graph.Say(o.Since))
				if o.Since != o.Step {
					f.Also = append(f.Also, finding.Related{At: rec.Graph.Steps[o.Since].Step.ID.At, Say: "what is in the way comes in this step"})
				}
			}
			if o.Joint != nil {
				f.Also = append(f.Also, finding.Related{At: o.Joint.ID.At, Say: "the joint"})
			}
			f.Remedy = rec.Remedy(o)
			report(f)
		}
	}
}

// placesText says at which places of a joint something does not go, where that is not
// everywhere.
func placesText(o sequence.Obstruction) string {
	if len(o.Places) == 0 || len(o.Places) == o.All {
		return ""
	}
	var numbers []string
	for _, n := range o.Places {
		numbers = append(numbers, strconv.Itoa(n))
	}
	if len(numbers) == 1 {
		return fmt.Sprintf(" at place %s of %d", numbers[0], o.All)
	}
	return fmt.Sprintf(" at the places %s of %d", strings.Join(numbers, ", "), o.All)
}

// mostTried bounds how many tools a message tells of.
const mostTried = 3

// triedText is what was tried, the first few.
func triedText(tried []string) string {
	if more := len(tried) - mostTried; more > 1 {
		return strings.Join(tried[:mostTried], "; ") + fmt.Sprintf("; %d more tools reach no better", more)
	}
	return strings.Join(tried, "; ")
}
