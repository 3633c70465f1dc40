package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// FitFails finds shafts, pins, bushes and bearings whose limits do not give the fit
// that their joint asks for.
var FitFails = Rule{
	Rule: finding.Rule{
		Name: "fit-fails", Severity: finding.Error,
		Reason: "The part does not go in, or falls out of its seat.",
		Remedy: "give hole and shaft limits that make the fit: 12 mm H7 and 12 mm h6",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachMating(func(a *plan.Assembly, j *plan.Joint, at layout.Mating, fit joint.Fit) {
			if fit.Suits(j.Kind.Text) {
				return
			}
			report(finding.Finding{
				At: at.Theirs.Word.At, Subject: jointSubject(a, j), Message: fitText(j.Kind.Text, at, fit), Remedy: fitRemedy(j.Kind.Text, fit),
				Also: []finding.Related{{At: fit.Shaft.At, Say: "the shaft"}, {At: fit.Hole.At, Say: "the hole"}},
			})
		})
	},
}

// eachMating visits the places of joints that fit a shaft in a hole, equal ones of one
// joint once.
func (s *Situation) eachMating(visit func(a *plan.Assembly, j *plan.Joint, at layout.Mating, fit joint.Fit)) {
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
		if _, _, fits := joint.Bounds(j.Kind.Text, 1); !fits {
			return
		}
		at, fits := s.Fits(a, j)
		for i := range fits {
			visit(a, j, at[i], fits[i])
		}
	})
}

// fitText says how a fit fails.
func fitText(kind string, at layout.Mating, fit joint.Fit) string {
	what := fmt.Sprintf("%q (%s) in %q (%s", at.Mine.Word.Text, fit.Shaft.Text, at.Theirs.Word.Text, fit.Hole.Text)
	if fit.Hole.Printed > 0 {
		what += fmt.Sprintf(", comes out %s smaller", mm(fit.Hole.Printed))
	}
	what += ")"
	least, most, _ := joint.Bounds(kind, fit.Shaft.Nominal)
	if kind == plan.Press || fit.Most > most {
		if kind == plan.Press {
			return fmt.Sprintf("%s may have %s of play, a press fit has none", what, microns(fit.Most))
		}
		return fmt.Sprintf("%s may have %s of play, a %s fit has %s at most", what, microns(fit.Most), kind, microns(most))
	}
	if least == 0 {
		return fmt.Sprintf("%s may be %s too tight to go in, a %s fit needs play", what, microns(-fit.Least), kind)
	}
	return fmt.Sprintf("%s may be %s too tight, a %s fit goes in with %s at most", what, microns(-fit.Least), kind, microns(-least))
}

// printedPlay is by how much wider than its shaft a printed hole is drawn, beyond the
// printing allowance, for a kind of joint, in mm: common practice, no source.
var printedPlay = map[string]float64{plan.Press: -0.1, plan.Push: 0, plan.Slide: 0.1, plan.Grip: 0.1}

func fitRemedy(kind string, fit joint.Fit) string {
	if fit.Hole.Printed > 0 {
		return fmt.Sprintf("draw the hole %s wide", hundredths(fit.Shaft.Nominal+fit.Hole.Printed+printedPlay[kind]))
	}
	class := fit.Class(kind)
	if class == "" {
		return ""
	}
	return fmt.Sprintf("make the hole %s %s", mm(fit.Shaft.Nominal), class)
}

// microns is a length for a message, in thousandths of a millimetre.
func microns(v float64) string {
	return quantity.Text(quantity.MM(math.Round(v*1000)/1000+0), quantity.Metric)
}
