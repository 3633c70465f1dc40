package reckon

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// mitre is how a bar is cut at its start (0) or end (1).
func (s *shaper) mitre(m *plan.Mitre, end int) solid.Mitre {
	angle := [2]plan.Quantity{m.Start, m.End}[end]
	if !angle.Given() {
		return solid.Mitre{}
	}
	return solid.Mitre{Angle: s.angle(angle), Long: m.LongAt(end).Text}
}

// noMitre reports a mitre of a part that is no length of bar.
func (s *shaper) noMitre(p *plan.Part) {
	if p.Mitre != nil {
		s.fault(p.Mitre.At, fmt.Errorf("only a part that is cut from a bar to a length can be mitred"))
	}
}

// meanLength is the length of square-cut bar that holds as much as a mitred one does
// before holes, mm; false for other parts.
func (p *Part) meanLength() (float64, bool) {
	if p.Bar == nil || p.Bar.Start.Angle == 0 && p.Bar.End.Angle == 0 {
		return 0, false
	}
	m, err := solid.SectionMoments(p.Bar.Section)
	if err != nil || !(m.Area > 0) {
		return 0, false
	}
	return p.Whole / m.Area, true
}

// mitrePlace is where the field of a mitre's fault stands.
func mitrePlace(m *plan.Mitre, field string) finding.Span {
	switch {
	case m == nil:
		return finding.Span{}
	case field == "mitre.start":
		return m.Start.At
	case field == "mitre.end":
		return m.End.At
	case len(m.Long) > 0:
		return m.Long[0].At
	}
	return m.At
}
