package publish

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/binder"
	"plansheaf/publish/compose"
	"plansheaf/publish/data"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/release"
	"plansheaf/publish/site"
	"plansheaf/publish/wording"
)

// Options say what to publish.
type Options struct {
	// Draft lets errors stand: where there are any, in the plan or in its
	// drawings, DRAFT is on every page and drawing.
	Draft bool
	// Choose overrides the plan's own choices for the binder and the lists; the
	// site holds all of them.
	Choose  plan.Selection
	Rules   []finding.Rule // for the findings as SARIF
	Version string         // of the program
	Say     func(string)   // told what is being made; may be nil
}

// A Publication is everything made.
type Publication struct {
	Files    []release.File
	Problems []finding.Finding // what could not be shown as meant
	Document *page.Document    // what site and binder show
}

// The paths of what is made beside the site's own files.
const (
	BinderPath   = "binder.pdf"
	PartsPath    = "lists/parts.csv"
	ShoppingPath = "lists/shopping.csv"
	CuttingPath  = "lists/cutting.csv"
	SawingPath   = "lists/cut-order.csv"
	ToolsPath    = "lists/tools.csv"
	PlanPath     = "data/plan.json"
	SchemaPath   = "data/plan.schema.json"
	FindingsPath = "data/findings.json"
	SARIFPath    = "data/findings.sarif"
)

// Make makes the publication.
func Make(w *check.Work, found []finding.Finding, o Options) (*Publication, error) {
	if o.Say == nil {
		o.Say = func(string) {}
	}
	out := &Publication{}
	o.Say("drawing")
	s := w.Choosing(o.Choose)
	if s == nil {
		return nil, fmt.Errorf("publish for %v: the plan was not worked out for these choices", o.Choose)
	}
	pictures, problems, draft, err := draw(w, o.Draft && finding.Count(found).Errors > 0, o.Draft)
	if err != nil {
		return nil, err
	}
	out.Problems = problems
	tongue, spoken := wording.For(w.Plan.Language.Text)
	if !spoken && w.Plan.Language.Given() {
		out.Problems = append(out.Problems, unspoken(w.Plan))
	}
	all := append(slices.Clone(found), out.Problems...)
	doc := compose.Document(compose.Input{Work: w, Findings: all, Draft: draft, Pictures: pictures})
	out.Document = doc
	o.Say("making the binder")
	pdf, troubles, err := binder.Render(doc, binder.Options{Combination: page.Combination(s.Case.Options)})
	if err != nil {
		return nil, fmt.Errorf("make the binder: %w", err)
	}
	out.Problems = append(out.Problems, troubled(w.Plan, troubles)...)
	all = append(slices.Clone(found), out.Problems...)
	finding.Sort(all)
	lists, err := lists(w, s, all, o)
	if err != nil {
		return nil, err
	}
	out.Files = append(lists, release.File{Path: BinderPath, Data: pdf})
	for _, f := range w.Plan.Files {
		out.Files = append(out.Files, release.File{Path: f.Path, Data: f.Data})
	}
	doc.Downloads = append(made(out.Files[:len(lists)+1], tongue, chosen(tongue, s)), doc.Downloads...)
	o.Say("making the site")
	pages, err := site.Render(doc)
	if err != nil {
		return nil, fmt.Errorf("make the site: %w", err)
	}
	for _, f := range pages {
		out.Files = append(out.Files, release.File{Path: f.Path, Data: f.Data})
	}
	for _, p := range w.Plan.Parts {
		for _, f := range pictures.Files[p.ID.Text] {
			out.Files = append(out.Files, release.File{Path: f.Path, Data: f.Data})
		}
	}
	return out, drawingFiles(out, pictures, w)
}

// Rules lists the rules of publishing.
func Rules() []finding.Rule {
	return []finding.Rule{NotPrintable, NotDrawable, NotDimensioned, DimensionedTwice, WordsInEnglish}
}

// lists are the lists and data files.
func lists(w *check.Work, s *check.Situation, found []finding.Finding, o Options) ([]release.File, error) {
	plan, err := data.PlanJSON(w, found)
	if err != nil {
		return nil, fmt.Errorf("write the plan as data: %w", err)
	}
	schema, err := data.PlanSchema()
	if err != nil {
		return nil, fmt.Errorf("write the schema of the plan as data: %w", err)
	}
	findings, err := data.FindingsJSON(found)
	if err != nil {
		return nil, fmt.Errorf("write the findings as data: %w", err)
	}
	sarif, err := data.SARIF(found, o.Rules, o.Version)
	if err != nil {
		return nil, fmt.Errorf("write the findings as SARIF: %w", err)
	}
	return []release.File{
		{Path: PartsPath, Data: data.PartsCSV(s)},
		{Path: ShoppingPath, Data: data.ShoppingCSV(s, w.Plan.Currency.Text)},
		{Path: CuttingPath, Data: data.CuttingCSV(s)},
		{Path: SawingPath, Data: data.CutOrderCSV(s)},
		{Path: ToolsPath, Data: data.ToolsCSV(s)},
		{Path: PlanPath, Data: plan},
		{Path: SchemaPath, Data: schema},
		{Path: FindingsPath, Data: findings},
		{Path: SARIFPath, Data: sarif},
	}, nil
}

// titles of the made files, for the downloads page; what is about one combination
// of choices says it at %s.
var titles = map[string][2]wording.Phrase{
	BinderPath:   {"Binder", "Everything to print and clip in, %s"},
	PartsPath:    {"Parts list", "CSV, %s"},
	ShoppingPath: {"Shopping list", "CSV, %s"},
	CuttingPath:  {"Cut list", "CSV, %s"},
	SawingPath:   {"Order of the cuts", "CSV, %s"},
	ToolsPath:    {"Tools list", "CSV, %s"},
	PlanPath:     {"The plan worked out", "JSON, every combination of choices"},
	SchemaPath:   {"What the plan worked out holds", "JSON Schema: every key and what it means"},
	FindingsPath: {"Findings", "JSON, the waived ones included"},
	SARIFPath:    {"Findings for review tools", "SARIF 2.1.0"},
}

// chosen says which combination the binder and the lists are for.
func chosen(tongue *wording.Table, s *check.Situation) string {
	if len(s.Says) == 0 {
		return tongue.Say("for the plan's own choices")
	}
	return tongue.Say("for %s|choices", strings.Join(s.Says, ", "))
}

// made lists the files that are made beside the site as downloads, binder first.
func made(files []release.File, tongue *wording.Table, choice string) []page.Download {
	var first, rest []page.Download
	for _, f := range files {
		title, about := titles[f.Path][0], titles[f.Path][1]
		d := page.Download{Path: f.Path, Title: tongue.Say(title), Bytes: int64(len(f.Data))}
		if strings.Contains(string(about), "%s") {
			d.About = tongue.Say(about, choice)
		} else {
			d.About = tongue.Say(about)
		}
		if f.Path == BinderPath {
			first = append(first, d)
		} else {
			rest = append(rest, d)
		}
	}
	return append(first, rest...)
}

// drawingFiles adds each drawing sheet as a file of its own where the site has not
// written it already.
func drawingFiles(out *Publication, pictures compose.Pictures, w *check.Work) error {
	have := map[string]bool{}
	for _, f := range out.Files {
		have[f.Path] = true
	}
	for _, p := range w.Plan.Parts {
		for _, s := range pictures.Sheets[p.ID.Text] {
			path := s.Picture.Name + ".svg"
			if have[path] {
				continue
			}
			svg, err := picture.SVG(s.Picture)
			if err != nil {
				return fmt.Errorf("write drawing %q: %w", path, err)
			}
			have[path] = true
			out.Files = append(out.Files, release.File{Path: path, Data: svg})
		}
	}
	return nil
}
