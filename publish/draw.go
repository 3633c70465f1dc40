package publish

import (
	"fmt"
	"slices"

	"golang.org/x/sync/errgroup"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/compose"
	"plansheaf/publish/cutplan"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
	"plansheaf/publish/wording"
)

// draw makes every picture of the publication: the drawing sheets of made parts, a
// small picture of every part with a shape, assemblies, steps and cut plans. Where
// drafts may be made, and drawings come out with errors, it is one: the sheets, which
// say so, are drawn again.
func draw(w *check.Work, draft, mayDraft bool) (compose.Pictures, []finding.Finding, bool, error) {
	out := compose.Pictures{Sheets: map[string][]page.Sheet{}, Thumbs: map[string]*picture.Picture{}, CutPlan: map[string]cutplan.Drawing{}, Files: map[string][]compose.File{}}
	for i := range w.Default().Bill.Cuts {
		c := &w.Default().Bill.Cuts[i]
		out.CutPlan[c.Stock.ID.Text] = cutplan.Draw(c, check.System(w.Plan), cutWords(w.Plan))
	}
	// What is reckoned lazily is so here: after that, parts are drawn from their own
	// solids alone, beside the assemblies.
	list := requested(w, draft)
	var group errgroup.Group
	group.Go(func() error { return assemblies(w, &out) })
	problems, err := drawParts(w, list, &out)
	if failed := group.Wait(); err == nil {
		err = failed
	}
	if err == nil && mayDraft && !draft && finding.Count(problems).Errors > 0 {
		draft = true
		clear(out.Sheets)
		clear(out.Files)
		problems, err = drawParts(w, requested(w, draft), &out)
	}
	return out, problems, draft, err
}

// cutWords are the words of cut plans' pictures in the plan's language.
func cutWords(p *plan.Plan) cutplan.Words {
	words, _ := wording.For(p.Language.Text)
	return cutplan.Words{
		Title: words.Say("How %s is cut"), Another: words.Say("%s, picture %d"),
		Bars:   words.Say("%d bars of %s hold %d pieces; the list of pieces beside the picture gives their sizes."),
		Sheets: words.Say("%d sheets of %s hold %d pieces; the list of pieces beside the picture gives their sizes."),
		Over:   words.Say("left over"), OnHand: words.Say("on hand"),
	}
}

// mostDrawn is how many pieces are drawn before their cut-up shapes are let go of:
// making those of equal pieces again costs time, keeping those of a large machine
// hundreds of megabytes.
const mostDrawn = 1000

// assemblies draws each assembly put together, with balloons and taken apart, and at
// each of its steps: with the options of the first combination of choices that holds
// it, and the numbered pictures once for each parts list that choices give.
func assemblies(w *check.Work, out *compose.Pictures) error {
	out.Whole, out.Steps = map[string]*picture.Picture{}, map[string]*picture.Picture{}
	out.Assembled, out.Items = map[string][]compose.Assembled{}, map[string][]scene.Item{}
	studio := scene.NewStudio(w.Ways())
	defer w.Forget()
	drawn := 0 // pieces since
	for _, a := range w.Plan.Assemblies {
		if drawn > mostDrawn {
			w.Forget()
			drawn = 0
		}
		var cases []*check.Situation
		for _, s := range w.Combinations() {
			if s.Reckoning.Tally().Assembled[a.ID.Text] > 0 {
				cases = append(cases, s)
			}
		}
		if len(cases) == 0 {
			continue
		}
		drawn += len(studio.Pieces(cases[0].Layout, a))
		if err := numbered(studio, a, cases, out); err != nil {
			return err
		}
		for _, s := range cases {
			if err := steps(studio, a, s, out); err != nil {
				return err
			}
		}
	}
	return nil
}

// numbered draws an assembly with balloons and taken apart, once for each parts list
// that the cases give; things stand in the same order in all of them.
func numbered(studio *scene.Studio, a *plan.Assembly, cases []*check.Situation, out *compose.Pictures) error {
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
		one, whole, err := assembled(studio, a, s, scene.Present(items, lists[i]))
		if err != nil {
			return err
		}
		if whole != nil && out.Whole[id] == nil {
			out.Whole[id] = whole
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

// assembled draws an assembly of one case: numbered, and as it is.
func assembled(studio *scene.Studio, a *plan.Assembly, s *check.Situation, items []scene.Item) (one compose.Assembled, whole *picture.Picture, err error) {
	one.Cases = []*check.Situation{s}
	var together *scene.Assembled
	var beside errgroup.Group
	beside.Go(func() (err error) {
		together, err = studio.Together(s.Layout, a, s.Case.Options, items)
		return err
	})
	e, err := studio.Exploded(s.Layout, a, s.Case.Options, items)
	if failed := beside.Wait(); failed != nil {
		err = failed
	}
	if err != nil || together.Numbered == nil {
		return one, nil, err
	}
	one.Together = together.Numbered
	if e != nil {
		one.Apart = e.Picture
	}
	return one, together.Whole, nil
}

// steps draws the steps of an assembly that have no picture yet: those of other
// options come with the combination that they belong to.
func steps(studio *scene.Studio, a *plan.Assembly, s *check.Situation, out *compose.Pictures) error {
	missing := func(st *plan.Step) bool {
		return st.Only.Fits(s.Case.Options) && out.Steps[a.ID.Text+"."+st.ID.Text] == nil
	}
	if !slices.ContainsFunc(a.Steps, missing) {
		return nil
	}
	pics, err := studio.Steps(s.Layout, a, s.Case.Options, missing)
	if err != nil {
		return err
	}
	for id, pic := range pics {
		out.Steps[a.ID.Text+"."+id] = pic
	}
	return nil
}
