package check

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// StrandHasNoRoom finds holes, channels and glands through which more cables, hoses and
// wires are led than fit into them, or one that is thicker than they are. What only
// begins or ends there may go in stripped, and does not count.
var StrandHasNoRoom = Rule{
	Rule: finding.Rule{
		Name: "strand-has-no-room", Severity: finding.Error,
		Reason: "The last one cannot be pulled through, or takes the others' jackets with it.",
		Remedy: "make the opening wider, or lead one of them another way",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		var order []string
		led := map[string][]leading{}
		for _, strand := range s.Layout.Strands() {
			for i := 1; i < len(strand.Stops)-1; i++ {
				p := leading{strand, i}
				if !p.inside() {
					continue
				}
				name := strand.Stops[i].Path + "." + strand.Stops[i].Feature.Name
				if led[name] == nil {
					order = append(order, name)
				}
				led[name] = append(led[name], p)
			}
		}
		for _, name := range order {
			if f, ok := crowded(name, led[name]); ok {
				report(f)
			}
		}
	},
}

// A leading is a strand at one of the places that it passes.
type leading struct {
	strand layout.Strand
	stop   int
}

// waypoint is where the plan says what the strand passes there.
func (p leading) waypoint() plan.Waypoint { return p.strand.Instance.Use.Via[p.stop-1] }

// inside reports whether the strand lies within the diameter of what it passes: a hole,
// or the round stem of something that it goes through lengthwise, as through a gland.
func (p leading) inside() bool {
	s, i := p.strand, p.stop
	stop := s.Stops[i]
	if stop.Feature == nil || stop.Feature.D <= 0 || s.D <= 0 {
		return false
	}
	if stop.Open {
		return true
	}
	in := s.Points[i].Sub(s.Points[i-1]).Unit().Dot(stop.Feature.Dir)
	out := s.Points[i+1].Sub(s.Points[i]).Unit().Dot(stop.Feature.Dir)
	return stop.Feature.Kind == solid.NamedShape && in*out > 0 && min(math.Abs(in), math.Abs(out)) > lengthwise
}

// lengthwise is the cosine of how far a strand may slant against the axis of a stem that
// it goes through; one that is slung around it lies across.
const lengthwise = 0.5

// crowded is the finding about a feature that does not take the strands led through it.
func crowded(name string, led []leading) (finding.Finding, bool) {
	f := led[0].strand.Stops[led[0].stop].Feature
	var ds []float64
	var names []string
	for _, p := range led {
		ds = append(ds, p.strand.D)
		names = append(names, fmt.Sprintf("%q (%s)", p.strand.Instance.Path, hundredths(p.strand.D)))
	}
	slices.Sort(ds)
	slices.Reverse(ds)
	size, least, ok := tooNarrow(*f, ds)
	if !ok {
		return finding.Finding{}, false
	}
	last := led[len(led)-1]
	subject, _ := instanceSubject(last.strand.Instance)
	out := finding.Finding{
		At: last.waypoint().Of.At, Subject: subject,
		Message: fmt.Sprintf("%q is %s, and %q, %s thick, is led through it", name, size, last.strand.Instance.Path, hundredths(last.strand.D)),
		Remedy:  fmt.Sprintf("make it %s at least and a little more, or lead the strand another way", least),
	}
	if len(led) == 1 {
		return out, true
	}
	out.Message = fmt.Sprintf("%q is %s, and %s strands are led through it: %s; they need one %s at least", name, size, number(len(led)), joined(names), least)
	out.Remedy = fmt.Sprintf("make it %s at least and a little more, or lead one of them another way", least)
	for _, p := range led[:len(led)-1] {
		out.Also = append(out.Also, finding.Related{At: p.waypoint().Of.At, Say: "another that is led through it"})
	}
	return out, true
}

// tooNarrow compares a feature with the diameters of what is led through it, the thickest
// first: its size and the least that it would have to be, in words; ok is false where
// nothing shows that it is too small.
func tooNarrow(f solid.Feature, ds []float64) (size, least string, ok bool) {
	if f.Hole == nil || f.Hole.Kind != solid.Obround {
		need := roundFor(ds)
		return mm(f.D) + " across", upToHundredths(need) + " across", need > f.D+solid.Tolerance
	}
	size = fmt.Sprintf("%s wide and %s long", mm(f.D), mm(f.Hole.Long))
	if ds[0] > f.D+solid.Tolerance {
		return size, upToHundredths(ds[0]) + " wide", true
	}
	need := longFor(ds, f.D)
	return size, fmt.Sprintf("%s long at this width", upToHundredths(need)), need > f.Hole.Long+solid.Tolerance
}
