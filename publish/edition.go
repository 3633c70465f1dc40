package publish

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/publish/binder"
	"plansheaf/publish/data"
	"plansheaf/publish/page"
	"plansheaf/publish/release"
	"plansheaf/publish/wording"
)

// An edition is the binder and the lists for one combination of choices.
type edition struct {
	s      *check.Situation
	folder string // with a slash; empty for the first
	binder release.File
	lists  []release.File
}

// editions are those asked for, each combination once, in the order asked; the plan's
// own where none is.
func editions(w *check.Work, asked []plan.Selection) ([]*edition, error) {
	if len(asked) == 0 {
		asked = []plan.Selection{nil}
	}
	var list []*edition
	for _, choose := range asked {
		s := w.Choosing(choose)
		if s == nil {
			return nil, fmt.Errorf("publish for %v: the plan was not worked out for these choices", choose)
		}
		if slices.ContainsFunc(list, func(e *edition) bool { return e.s == s }) {
			continue
		}
		e := &edition{s: s}
		if len(list) > 0 {
			var marks []string
			for _, c := range w.Plan.Choices {
				marks = append(marks, s.Case.Options[c.ID.Text])
			}
			e.folder = "choices/" + strings.Join(marks, ".") + "/"
		}
		list = append(list, e)
	}
	return list, nil
}

// makeBinders renders the editions' binders; kept holds what is known of earlier runs. What
// one of several drew the next takes over even where nothing is kept.
func makeBinders(made []*edition, doc *page.Document, kept *memo.Store) ([]binder.Problem, error) {
	if kept == nil && len(made) > 1 {
		kept = memo.New()
	}
	var troubles []binder.Problem
	for _, e := range made {
		some, err := e.makeBinder(doc, kept)
		if err != nil {
			return nil, err
		}
		troubles = append(troubles, some...)
	}
	return troubles, nil
}

// makeBinder renders the edition's binder.
func (e *edition) makeBinder(doc *page.Document, kept *memo.Store) ([]binder.Problem, error) {
	pdf, troubles, err := binder.Render(doc, binder.Options{Combination: page.Combination(e.s.Case.Options), Kept: kept})
	if err != nil {
		return nil, fmt.Errorf("make the binder: %w", err)
	}
	e.binder = release.File{Path: e.folder + BinderPath, Data: pdf}
	return troubles, nil
}

// makeLists writes the edition's lists.
func (e *edition) makeLists(currency string) {
	for _, one := range []release.File{
		{Path: PartsPath, Data: data.PartsCSV(e.s)},
		{Path: ShoppingPath, Data: data.ShoppingCSV(e.s, currency)},
		{Path: CuttingPath, Data: data.CuttingCSV(e.s)},
		{Path: SawingPath, Data: data.CutOrderCSV(e.s)},
		{Path: ToolsPath, Data: data.ToolsCSV(e.s)},
		{Path: HeldPath, Data: data.AssembliesCSV(e.s)},
		{Path: KitsPath, Data: data.StepsCSV(e.s)},
		{Path: PrintsPath, Data: data.PrintsCSV(e.s)},
	} {
		e.lists = append(e.lists, release.File{Path: e.folder + one.Path, Data: one.Data})
	}
}

// files are the binder and the lists.
func (e *edition) files() []release.File { return append([]release.File{e.binder}, e.lists...) }

// downloads offer the edition's files.
func (e *edition) downloads(tongue *wording.Table) []page.Download {
	var list []page.Download
	for _, f := range e.files() {
		list = append(list, download(f, strings.TrimPrefix(f.Path, e.folder), tongue, chosen(tongue, e.s)))
	}
	return list
}

// note tells programs of the edition.
func (e *edition) note() data.Edition {
	out := data.Edition{Options: e.s.Case.Options, Says: strings.Join(e.s.Says, ", "), Binder: e.binder.Path, Lists: []string{}}
	if out.Options == nil {
		out.Options = map[string]string{}
	}
	for _, f := range e.lists {
		out.Lists = append(out.Lists, f.Path)
	}
	return out
}

// chosen says which combination the binder and the lists are for.
func chosen(tongue *wording.Table, s *check.Situation) string {
	if len(s.Says) == 0 {
		return tongue.Say("for the plan's own choices")
	}
	return tongue.Say("for %s|choices", strings.Join(s.Says, ", "))
}
