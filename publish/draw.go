package publish

import (
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/compose"
	"plansheaf/publish/cutplan"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
)

// draw makes every picture of the publication: the drawing sheets of made parts, a
// small picture of every part with a shape, assemblies, steps and cut plans.
func draw(w *check.Work, draft bool) (compose.Pictures, []finding.Finding, error) {
	out := compose.Pictures{Sheets: map[string][]page.Sheet{}, Thumbs: map[string]*picture.Picture{}, CutPlan: map[string]*picture.Picture{}}
	for i := range w.Default().Bill.Cuts {
		c := &w.Default().Bill.Cuts[i]
		if pic := cutplan.Draw(c, check.System(w.Plan)); pic != nil {
			out.CutPlan[c.Stock.ID.Text] = pic
		}
	}
	problems, err := drawParts(w, draft, &out)
	if err != nil {
		return out, nil, err
	}
	return out, problems, assemblies(w, &out)
}

// assemblies draws each assembly put together, and at each of its steps: with the
// options of the first combination of choices that holds it.
func assemblies(w *check.Work, out *compose.Pictures) error {
	out.Whole, out.Steps = map[string]*picture.Picture{}, map[string]*picture.Picture{}
	for _, a := range w.Plan.Assemblies {
		for _, s := range w.Combinations() {
			if s.Reckoning.Tally().Assembled[a.ID.Text] == 0 {
				continue
			}
			if out.Whole[a.ID.Text] == nil {
				pic, err := scene.Whole(s.Layout, a)
				if err != nil {
					return err
				}
				if pic != nil {
					out.Whole[a.ID.Text] = pic
				}
			}
			if err := steps(a, s, out); err != nil {
				return err
			}
		}
	}
	return nil
}

// steps draws the steps of an assembly that have no picture yet: those of other
// options come with the combination that they belong to.
func steps(a *plan.Assembly, s *check.Situation, out *compose.Pictures) error {
	missing := false
	for _, st := range a.Steps {
		missing = missing || st.Only.Fits(s.Case.Options) && out.Steps[a.ID.Text+"."+st.ID.Text] == nil
	}
	if !missing {
		return nil
	}
	pics, err := scene.Steps(s.Layout, a, s.Case.Options)
	if err != nil {
		return err
	}
	for id, pic := range pics {
		if key := a.ID.Text + "." + id; out.Steps[key] == nil {
			out.Steps[key] = pic
		}
	}
	return nil
}
