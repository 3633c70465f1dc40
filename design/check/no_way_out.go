package check

import (
	"fmt"
	"maps"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/way"
)

// NoWayOut finds what no straight way leads out of its assembly, in whatever order
// things are taken off: it cannot have come in by one either. A part whose plan says
// by which bent way it comes in is left to that.
var NoWayOut = Rule{
	Rule: finding.Rule{
		Name: "no-way-out", Severity: finding.Warning,
		Reason: "What cannot be taken out straight cannot be put in straight: the builder stands before parts that block each other, and the exploded view leaves them where they are.",
		Remedy: "move or divide one of the two parts, or say by which way it comes in",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, a := range s.Reckoning.Plan.Assemblies {
			if !s.assembled(a) {
				continue
			}
			p := s.parting(a)
			if p == nil || p.Bounded {
				continue
			}
			told := map[[2]string]bool{}
			for _, stop := range p.Stopped {
				// What stopped screws hold is told with them.
				if stop.By == nil || stop.Held || s.followsFrom(a, p, stop) {
					continue
				}
				name, by := stop.Unit.Name(), stop.By.Name()
				if told[[2]string{name, by}] || told[[2]string{by, name}] || bent(a, stop.Unit) {
					continue
				}
				told[[2]string{name, by}] = true
				report(finding.Finding{
					At: unitAt(a, stop.Unit), Subject: a.ID.Text + "." + name,
					Message: fmt.Sprintf("no straight way leads %s out: it gets farthest along %s, and runs into %s after %s", unitName(stop.Unit), axisName(stop.Way), unitName(stop.By), mm(stop.Free)),
					Also:    []finding.Related{{At: unitAt(a, stop.By), Say: "what is in the way"}},
				})
			}
		}
	},
}

// parting is how an assembly comes apart, with every value as the plan gives it; nil
// when there are too many pieces to try.
func (s *Situation) parting(a *plan.Assembly) *way.Parting {
	base := s
	for _, c := range s.work.Combinations() {
		if maps.Equal(c.Case.Options, s.Case.Options) {
			base = c
		}
	}
	if p, known := base.facts.apart[a.ID.Text]; known {
		return p
	}
	var p *way.Parting
	if pieces := base.Layout.Pieces(a); len(pieces) <= mostParted {
		p = way.Of(a, base.Case.Options, pieces, s.work.Ways()).Apart()
	}
	if base.facts.apart == nil {
		base.facts.apart = map[string]*way.Parting{}
	}
	base.facts.apart[a.ID.Text] = p
	return p
}

// mostParted bounds the pieces of an assembly that is taken apart.
const mostParted = 4000

// Ways is what was found about how shapes pass each other.
func (w *Work) Ways() *way.Memory {
	if w.ways == nil {
		w.ways = way.NewMemory()
		w.ways.Kept = w.Kept
	}
	return w.ways
}

// Forget lets go of the shapes in the forms that the checks needed, most of the memory
// that they took; what they found stays.
func (w *Work) Forget() {
	w.store = nil
	w.Ways().Forget()
}

// bent reports whether the plan says for all of a unit by which way it comes in, by
// more than one leg.
func bent(a *plan.Assembly, u *way.Unit) bool {
	for _, name := range u.Uses {
		if use := a.Use(plan.Word{Text: name}.Path()[0]); use == nil || len(use.Way) < 2 {
			return false
		}
	}
	return len(u.Uses) > 0
}

// unitAt is where the plan names a unit.
func unitAt(a *plan.Assembly, u *way.Unit) finding.Span {
	if j := a.Joint(u.Joint); j != nil {
		return j.ID.At
	}
	for _, name := range u.Uses {
		if use := a.Use(plan.Word{Text: name}.Path()[0]); use != nil {
			return use.ID.At
		}
	}
	return a.ID.At
}

// unitName is a unit in words.
func unitName(u *way.Unit) string {
	switch {
	case u.Joint == "":
		return `"` + strings.Join(u.Uses, `", "`) + `"`
	case u.Nut:
		return fmt.Sprintf("the nut of %q", u.Joint)
	}
	return fmt.Sprintf("the screw of %q", u.Joint)
}

// axisName is a way in words: an axis of the assembly where it runs along one.
func axisName(v solid.Vec) string {
	const along = 1 - 1e-6
	for _, axis := range []struct {
		name string
		way  solid.Vec
	}{{"x", solid.Vec{X: 1}}, {"y", solid.Vec{Y: 1}}, {"z", solid.Vec{Z: 1}}} {
		switch cos := v.Dot(axis.way); {
		case cos > along:
			return axis.name
		case cos < -along:
			return "-" + axis.name
		}
	}
	return fmt.Sprintf("(%.2f, %.2f, %.2f)", v.X, v.Y, v.Z)
}
