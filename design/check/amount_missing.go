package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// AmountMissing finds consumables that steps use up and that do not say what one
// purchase holds, or say it in another kind of quantity.
var AmountMissing = Rule{
	Rule: finding.Rule{
		Name: "amount-missing", Severity: finding.Warning,
		Reason: "Nobody can tell how many tubes to buy, and the list counts one whatever the steps use.",
		Remedy: "say what one purchase holds, amount: 30 g",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		r := w.Default().Reckoning
		seen := map[string]bool{}
		for _, a := range w.Plan.Assemblies {
			for _, st := range a.Steps {
				for _, u := range st.Uses {
					p := w.Plan.Part(u.Part.Text)
					if p == nil || seen[p.ID.Text] {
						continue
					}
					f := finding.Finding{At: p.ID.At, Subject: p.ID.Text, Also: []finding.Related{{At: u.At, Say: "used here"}}}
					has, known := r.Quantity(p.Amount)
					takes, used := r.Quantity(u.Amount)
					switch {
					case !p.Amount.Given():
						f.Message = fmt.Sprintf("steps use %q, and nothing says what one purchase holds", p.ID.Text)
					case known && used && !has.Is(takes.Dim):
						f.Message = fmt.Sprintf("%q is sold by %s, the step %s uses %s", p.ID.Text, has.Dim, stepSubject(a, st), takes.Dim.Article())
						f.Remedy = "give both in the same kind of quantity"
					default:
						continue
					}
					seen[p.ID.Text] = true
					report(f)
				}
			}
		}
	},
}
