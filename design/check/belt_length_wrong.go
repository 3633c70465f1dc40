package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/reckon"
)

// BeltLengthWrong finds belts whose length, pitch times teeth, is not that of their
// path around the pulleys. A belt that a motion tensions fits where it fits somewhere
// in the motion's range.
var BeltLengthWrong = Rule{
	Rule: finding.Rule{
		Name: "belt-length-wrong", Severity: finding.Error,
		Reason: "The belt does not go on, or hangs loose and jumps teeth.",
		Remedy: "take a belt with another number of teeth, move a pulley, or say what takes up the slack with pressed_by",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		if len(s.Layout.Belts()) == 0 {
			return
		}
		shortest, longest, fits := map[*reckon.Instance]float64{}, map[*reckon.Instance]float64{}, map[*reckon.Instance]bool{}
		for _, p := range s.poses() {
			for _, b := range p.layout.Belts() {
				if _, seen := shortest[b.Instance]; !seen {
					shortest[b.Instance], longest[b.Instance] = b.Length, b.Length
				}
				shortest[b.Instance] = min(shortest[b.Instance], b.Length)
				longest[b.Instance] = max(longest[b.Instance], b.Length)
				fits[b.Instance] = fits[b.Instance] || b.Fits()
			}
		}
		for _, b := range s.Layout.Belts() {
			between := b.Stated >= shortest[b.Instance] && b.Stated <= longest[b.Instance]
			if fits[b.Instance] || between {
				continue
			}
			subject, also := instanceSubject(b.Instance)
			report(finding.Finding{
				At: loopOf(b).Teeth.At, Subject: subject, Message: beltSays(b), Remedy: beltRemedy(b), Also: []finding.Related{also},
			})
		}
	},
}

func beltSays(b *layout.Belt) string {
	word, by := "longer", b.Over()
	if by < 0 {
		word, by = "shorter", -by
	}
	return fmt.Sprintf("%g teeth of %s make a belt of %s: it is %s %s than its path, which is %s",
		b.Teeth, hundredths(b.Pitch), hundredths(b.Stated), hundredths(by), word, hundredths(b.Length))
}

// beltRemedy names the tooth counts next to the path, and the move that suits the belt.
func beltRemedy(b *layout.Belt) string {
	teeth := b.Length / b.Pitch
	var counts []string
	for _, n := range []float64{math.Floor(teeth), math.Ceil(teeth)} {
		if text := fmt.Sprintf("%g teeth make %s", n, hundredths(n*b.Pitch)); n > 0 && n != b.Teeth && !slices.Contains(counts, text) {
			counts = append(counts, text)
		}
	}
	says := strings.Join(counts, ", ")
	i, by, ok := b.Apart()
	if !ok {
		return says
	}
	if len(b.Pulleys) == 2 {
		way := "further apart"
		if by < 0 {
			way = "nearer together"
		}
		return fmt.Sprintf("%s; or set the pulleys %s %s", says, hundredths(math.Abs(by)), way)
	}
	way := "against the belt"
	if by < 0 {
		way = "away from the belt"
	}
	return fmt.Sprintf("%s; or move %s by %s %s", says, b.Pulleys[i].Ref.Text, hundredths(math.Abs(by)), way)
}
