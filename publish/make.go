package publish

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
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
	// Choose are the combinations that a binder and lists are made for, each over
	// the plan's own choices; none: the plan's own. The site holds all of them. The
	// first stands at the usual paths, each other one in a folder of its own.
	Choose []plan.Selection
	// Source is the plan as it was read, by path. Where it is given a release is
	// made: licence texts, the source, a manifest and an archive go with the
	// publication.
	Source []plan.File
	// Since is an earlier revision, with which the page of changes compares the plan and
	// from which it leads builders on who are half way; nil for none. Its source goes with
	// a release.
	Since   *Revision
	Rules   []finding.Rule // for the findings as SARIF
	Version string         // of the program
	Built   string         // the version of what it was built with
	Say     func(string)   // told what is being made; may be nil
}

// A Publication is everything made.
type Publication struct {
	Files    []release.File
	Problems []finding.Finding // what could not be shown as meant
	Document *page.Document    // what site and binder show
	Binders  []string          // the paths of the binders
	Archive  string            // the path of a release's archive
}

// The paths of what is made beside the site's own files.
const (
	BinderPath   = "binder.pdf"
	PartsPath    = "lists/parts.csv"
	ShoppingPath = "lists/shopping.csv"
	CuttingPath  = "lists/cutting.csv"
	SawingPath   = "lists/cut-order.csv"
	ToolsPath    = "lists/tools.csv"
	HeldPath     = "lists/assemblies.csv"
	KitsPath     = "lists/steps.csv"
	PrintsPath   = "lists/prints.csv"
	WholePath    = "lists/everything.csv"
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
	made, err := editions(w, o.Choose)
	if err != nil {
		return nil, err
	}
	var texts []release.File
	if o.Source != nil {
		var lacking []finding.Finding
		if texts, lacking = allLicenseTexts(w.Plan, o.Source, o.Since); len(lacking) > 0 {
			out.Problems = lacking
			return out, nil
		}
	}
	o.Say("drawing")
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
	doc, err := compose.Document(compose.Input{Work: w, Findings: all, Draft: draft, Pictures: pictures, Terms: terms(texts), Since: o.Since.comparison(w, found), Old: o.Since.old()})
	if err != nil {
		return nil, err
	}
	out.Document = doc
	o.Say("making the binder and the site")
	// Binder and site are made from the document alone, beside each other and beside what
	// is written from the plan; only the page that offers files waits for them.
	var pages *site.Site
	var beside errgroup.Group
	beside.Go(func() (err error) {
		if pages, err = site.Begin(doc, w.Kept); err != nil {
			err = fmt.Errorf("make the site: %w", err)
		}
		return err
	})
	all, forPrograms, err := out.write(w, found, made, o)
	if failed := beside.Wait(); err == nil {
		err = failed
	}
	if err != nil {
		return nil, err
	}
	var offered []page.Download
	for _, e := range made {
		out.Files = append(out.Files, e.files()...)
		out.Binders = append(out.Binders, e.binder.Path)
		offered = append(offered, e.downloads(tongue)...)
	}
	for _, f := range forPrograms {
		offered = append(offered, download(f, f.Path, tongue, ""))
	}
	out.Files = append(out.Files, forPrograms...)
	for _, f := range w.Plan.Files {
		out.Files = append(out.Files, release.File{Path: f.Path, Data: f.Data})
	}
	doc.Downloads = append(offered, doc.Downloads...)
	if o.Source != nil {
		doc.Downloads = append(released(w.Plan, texts, tongue), doc.Downloads...)
	}
	if err := out.addSite(w, pages, pictures); err != nil || o.Source == nil {
		return out, err
	}
	o.Say("packing")
	return out, out.pack(w, made, texts, all, o)
}

// write makes the editions' binders and lists and what programs read, and returns that
// with all findings: those of the binders are among them.
func (out *Publication) write(w *check.Work, found []finding.Finding, made []*edition, o Options) (all []finding.Finding, forPrograms []release.File, err error) {
	troubles, err := makeBinders(made, out.Document, w.Kept)
	if err != nil {
		return nil, nil, err
	}
	out.Problems = append(out.Problems, troubled(w.Plan, troubles)...)
	all = append(slices.Clone(found), out.Problems...)
	finding.Sort(all)
	if forPrograms, err = worked(w, all, o); err != nil {
		return nil, nil, err
	}
	for _, e := range made {
		e.makeLists(w.Plan.Currency.Text)
	}
	return all, forPrograms, nil
}

// addSite adds the pages with what they show, and the drawings as files of their own.
func (out *Publication) addSite(w *check.Work, begun *site.Site, pictures compose.Pictures) error {
	pages, err := begun.Finish(out.Document.Downloads)
	if err != nil {
		return fmt.Errorf("make the site: %w", err)
	}
	for _, f := range pages {
		out.Files = append(out.Files, release.File{Path: f.Path, Data: f.Data})
	}
	for _, p := range w.Plan.Parts {
		for _, f := range pictures.Files[p.ID.Text] {
			out.Files = append(out.Files, release.File{Path: f.Path, Data: f.Data})
		}
	}
	return drawingFiles(out, pictures, w)
}

// Rules lists the rules of publishing.
func Rules() []finding.Rule {
	return []finding.Rule{NotPrintable, NotDrawable, NotDimensioned, DimensionedTwice, WordsInEnglish, LicenseTextMissing}
}

// worked is what programs read: the plan worked out, and the findings.
func worked(w *check.Work, found []finding.Finding, o Options) ([]release.File, error) {
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
		{Path: WholePath, Data: data.EverythingCSV(w)},
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
	HeldPath:     {"Parts by assembly", "CSV, %s"},
	KitsPath:     {"Parts by step", "CSV, %s"},
	PrintsPath:   {"Printed parts", "CSV, %s"},
	WholePath:    {"Everything, whatever you choose", "CSV, every combination of choices"},
	PlanPath:     {"The plan worked out", "JSON, every combination of choices"},
	SchemaPath:   {"What the plan worked out holds", "JSON Schema: every key and what it means"},
	FindingsPath: {"Findings", "JSON, the waived ones included"},
	SARIFPath:    {"Findings for review tools", "SARIF 2.1.0"},
}

// download offers a made file, which has the title of what usually stands at the path.
func download(f release.File, usual string, tongue *wording.Table, choice string) page.Download {
	title, about := titles[usual][0], titles[usual][1]
	d := page.Download{Path: f.Path, Title: tongue.Say(title), Bytes: int64(len(f.Data))}
	if strings.Contains(string(about), "%s") {
		d.About = tongue.Say(about, choice)
	} else {
		d.About = tongue.Say(about)
	}
	return d
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
