package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/standards"
)

// ShankReachesThread finds screws whose plain shank reaches into the thread that they
// go into, where the screw is not too long for its place anyway.
var ShankReachesThread = Rule{
	Rule: finding.Rule{
		Name: "shank-reaches-thread", Severity: finding.Error,
		Reason: "The shank has no thread to turn in: the screw stops on it before its head clamps.",
		Remedy: "take a screw with thread up to the head, or a shorter one, or put a washer under the head",
	},
	Each: aboutLength(shankText),
}

func shankText(s *Situation, p *joint.Stack) string {
	f := p.Screw.Fastener
	if f == nil || p.Catch == joint.Nothing || p.Headless() || p.Wood() || f.ThreadLength >= f.Length || p.Plain() <= p.From+lengthWithin || longText(s, p) != "" || f.Head.Form == standards.Countersunk && p.From-p.Head < f.Head.Height {
		return "" // also where the head itself reaches there, which is told of its seat
	}
	return fmt.Sprintf("of %s the last %s have thread; the shank above them reaches %s into the %s, which begins %s behind the head",
		screwText(p), hundredths(f.ThreadLength), hundredths(p.Plain()-p.From), p.Catch, hundredths(p.From-p.Head))
}
