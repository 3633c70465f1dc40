package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// BenchInTheWay finds screws, nuts and parts that would go in their step if the work did
// not rest on a bench as the plan says, or on its bottom where it does not say.
var BenchInTheWay = Rule{
	Rule: finding.Rule{
		Name: "bench-in-the-way", Severity: finding.Warning,
		Reason: "The builder would have to work through the bench. Work of less than 3 kg (what ISO 11228-1 does not count as lifting yet) in which nothing lies loose is taken to be picked up and turned in hand, and so is what a step adds and joins by itself; heavier work lies as rests_on says.",
		Remedy: "say on which face it rests while this is done: rests_on",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		for _, o := range rec.Obstructions {
			if o.Kind != sequence.OnlyBench || s.followsOn(o) {
				continue
			}
			f := finding.Finding{At: o.Word.At, Subject: o.Owner.ID.Text + "." + o.Name, Remedy: rec.Remedy(o)}
			if o.Joint != nil {
				f.Subject = jointSubject(o.Owner, o.Joint)
				f.Also = append(f.Also, finding.Related{At: o.Joint.ID.At, Say: "the joint"})
			}
			f.Message = fmt.Sprintf("%q %s%s in %s while the work rests on its %s: %s",
				o.Name, cannot[o.What], placesText(o), rec.Graph.Say(o.Step), o.On, triedText(o.Tried))
			report(f)
		}
	},
}

// cannot says what does not go.
var cannot = map[sequence.Kind]string{
	sequence.OutOfReach: "cannot be tightened", sequence.NoWayForTool: "is hard to get at", sequence.NutNotHeld: "turns along with its nut",
	sequence.ScrewShutOut: "cannot be put in", sequence.NutShutOut: "cannot have its nut put in", sequence.SlotShut: "cannot have its slot nut slid in",
	sequence.PartShutOut: "cannot come to its place", sequence.PartMeets: "cannot come to its place", sequence.WayBlocked: "cannot come in by the way that is given",
}

// restText says on what work rests.
func restText(on string) string {
	if on == plan.Hand {
		return "in hand"
	}
	return "on its " + on
}
