package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/reckon"
)

// PartFloats finds parts, alone or several that hang together, that touch nothing else of
// the machine and are held by no joint.
var PartFloats = Rule{
	Rule: finding.Rule{
		Name: "part-floats", Severity: finding.Error,
		Reason: "In the drawing it hangs in the air; on the bench it falls, or somebody guesses what should hold it.",
		Remedy: "close the gap, or name the joint that holds it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		// Repeated uses float together: one finding for all of a use.
		var found []finding.Finding
		alike := map[string]int{}
		for _, group := range s.Clashes().Loose {
			f := s.floats(group)
			if alike[f.Subject]++; alike[f.Subject] == 1 {
				found = append(found, f)
			}
		}
		for _, f := range found {
			if n := alike[f.Subject]; n > 1 {
				f.Message += fmt.Sprintf("; so do %s more of it", number(n-1))
			}
			report(f)
		}
	},
}

func (s *Situation) floats(g clash.Loose) finding.Finding {
	in := holderOf(g)
	first := inAssembly(in, g.Bodies[0])
	text := fmt.Sprintf("%q touches nothing and nothing holds it", g.Bodies[0].Name())
	if n := len(g.Bodies); n > 1 {
		text = fmt.Sprintf("%q and %s that hang together touch nothing else and nothing else holds them", g.Bodies[0].Name(), more(n-1))
	}
	f := finding.Finding{At: first.word.At, Subject: in.Assembly.ID.Text + "." + first.name, Message: text}
	if g.Other != nil {
		f.Message += fmt.Sprintf(": gap of %s between %q and %q, at %s of the machine", hundredths(g.Gap), g.Mine.Name(), g.Other.Name(), placeText(g.At[0]))
		if other := g.Other.In; other.Use != nil {
			f.Also = append(f.Also, finding.Related{At: other.Use.ID.At, Say: "what is nearest"})
		}
	}
	return f
}

// more counts further bodies.
func more(n int) string {
	if n == 1 {
		return "1 more"
	}
	return number(n) + " more"
}

// holderOf is the innermost assembly that holds all of a group.
func holderOf(g clash.Loose) *reckon.Instance {
	holder := func(b *clash.Body) *reckon.Instance {
		if b.Joint != nil {
			return b.In
		}
		return b.In.Parent
	}
	in := holder(g.Bodies[0])
	for _, b := range g.Bodies[1:] {
		for in.Parent != nil && !under(holder(b), in) {
			in = in.Parent
		}
	}
	return in
}

// under reports whether an assembly's instance is or lies in another.
func under(in, outer *reckon.Instance) bool {
	for ; in != nil; in = in.Parent {
		if in == outer {
			return true
		}
	}
	return false
}
