package publish

import (
	"fmt"

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
	out := compose.Pictures{Sheets: map[string][]page.Sheet{}, Thumbs: map[string]*picture.Picture{}, CutPlan: map[string]cutplan.Drawing{}, Files: map[string][]compose.File{}}
	for i := range w.Default().Bill.Cuts {
		c := &w.Default().Bill.Cuts[i]
		out.CutPlan[c.Stock.ID.Text] = cutplan.Draw(c, check.System(w.Plan))
	}
	problems, err := drawParts(w, draft, &out)
	if err != nil {
		return out, nil, err
	}
	return out, problems, assemblies(w, &out)
}

// assemblies draws each assembly put together, with balloons and taken apart, and at
// each of its steps: with the options of the first combination of choices that holds
// it, and the numbered pictures once for each parts list that choices give.
func assemblies(w *check.Work, out *compose.Pictures) error {
	out.Whole, out.Steps = map[string]*picture.Picture{}, map[string]*picture.Picture{}
	out.Assembled, out.Items = map[string][]compose.Assembled{}, map[string][]scene.Item{}
	for _, a := range w.Plan.Assemblies {
		var cases []*check.Situation
		for _, s := range w.Combinations() {
			if s.Reckoning.Tally().Assembled[a.ID.Text] > 0 {
				cases = append(cases, s)
			}
		}
		if len(cases) == 0 {
			continue
		}
		pic, err := scene.Whole(cases[0].Layout, a)
		if err != nil {
			return err
		}
		if pic != nil {
			out.Whole[a.ID.Text] = pic
		}
		if err := numbered(a, cases, out); err != nil {
			return err
		}
		for _, s := range cases {
			if err := steps(a, s, out); err != nil {
				return err
			}
		}
	}
	return nil
}

// numbered draws an assembly with balloons and taken apart, once for each parts list
// that the cases give; things stand in the same order in all of them.
func numbered(a *plan.Assembly, cases []*check.Situation, out *compose.Pictures) error {
	id := a.ID.Text
	lists := make([][]scene.Item, len(cases))
	for i, s := range cases {
		lists[i] = scene.Items(s.Reckoning, a)
	}
	items := scene.Merged(lists...)
	out.Items[id] = items
	var drawn []compose.Assembled
	known := map[string]int{}
	for i, s := range cases {
		key := fmt.Sprint(lists[i])
		if k, done := known[key]; done {
			drawn[k].Cases = append(drawn[k].Cases, s)
			continue
		}
		known[key] = len(drawn)
		one, err := assembled(a, s, scene.Present(items, lists[i]))
		if err != nil {
			return err
		}
		if n := len(drawn); n > 0 && one.Together != nil {
			one.Together.Name += fmt.Sprintf(".%d", n+1)
			if one.Apart != nil {
				one.Apart.Name += fmt.Sprintf(".%d", n+1)
			}
		}
		drawn = append(drawn, one)
	}
	for _, one := range drawn {
		if one.Together != nil {
			out.Assembled[id] = append(out.Assembled[id], one)
		}
	}
	return nil
}

// assembled draws an assembly of one case.
func assembled(a *plan.Assembly, s *check.Situation, items []scene.Item) (compose.Assembled, error) {
	one := compose.Assembled{Cases: []*check.Situation{s}}
	var err error
	one.Together, _, err = scene.Ballooned(s.Layout, a, s.Case.Options, items)
	if err != nil || one.Together == nil {
		return one, err
	}
	e, err := scene.Exploded(s.Layout, a, s.Case.Options, items)
	if e != nil {
		one.Apart = e.Picture
	}
	return one, err
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
