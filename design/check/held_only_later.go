package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// HeldOnlyLater finds parts of an assembly that hang in the air when its steps are done,
// because what holds them belongs to the assembly around it.
var HeldOnlyLater = Rule{
	Rule: finding.Rule{
		Name: "held-only-later", Severity: finding.Advice,
		Reason: "Whoever builds it apart has them lying beside it, and the pictures show them where nothing holds them.",
		Remedy: "add them in the step that makes the joint which holds them, or give them something that holds them until then",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		told := map[string]bool{}
		for _, l := range s.Clashes().Later {
			f := s.heldLater(l)
			if !told[f.Subject] {
				told[f.Subject] = true
				report(f)
			}
		}
	},
}

func (s *Situation) heldLater(l clash.Later) finding.Finding {
	first := inAssembly(l.In, l.Bodies[0])
	text := fmt.Sprintf("%q touches nothing in %q and nothing there holds it", l.Bodies[0].Name(), l.In.Assembly.ID.Text)
	if n := len(l.Bodies); n > 1 {
		text = fmt.Sprintf("%q and %s that hang together touch nothing else in %q and nothing there holds them", l.Bodies[0].Name(), more(n-1), l.In.Assembly.ID.Text)
	}
	f := finding.Finding{At: first.word.At, Subject: l.In.Assembly.ID.Text + "." + first.name, Message: text}
	if l.Joint == nil {
		return f
	}
	f.Message += fmt.Sprintf(": only %q does", jointSubject(l.Of, l.Joint))
	f.Also = append(f.Also, finding.Related{At: l.Joint.ID.At, Say: "what holds it"})
	for _, st := range l.Of.Steps {
		for _, w := range st.Fastens {
			if w.Text == l.Joint.ID.Text {
				f.Message += fmt.Sprintf(", from step %q on", stepSubject(l.Of, st))
				return f
			}
		}
	}
	return f
}
