package publish

import (
	"crypto/sha256"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/compose"
	"plansheaf/publish/data"
	"plansheaf/publish/page"
	"plansheaf/publish/release"
	"plansheaf/publish/wording"
	"plansheaf/themes"
)

// The paths of what a release holds beside a publication.
const (
	SourcePath         = "source"   // the folder of the plan's own source
	LicensesPath       = "licenses" // the folder of licence texts
	ManifestPath       = "data/release.json"
	ManifestSchemaPath = "data/release.schema.json"
)

// programName is what the manifest calls this program.
const programName = "plansheaf"

// LicenseTextMissing finds releases whose terms nobody could read.
var LicenseTextMissing = finding.Rule{
	Name: "license-text-missing", Severity: finding.Error,
	Reason: "Most licences ask that their text goes with the work, and a reader without a network knows the terms only by name.",
	Remedy: "put the licence's text into the folder LICENSES beside plan.yaml, in a file named by the identifier, such as LICENSES/LicenseRef-ours.txt",
}

// ownLicense are the files that a plan with one licence keeps its text in.
var ownLicense = regexp.MustCompile(`^(LICEN[CS]E|COPYING)(\.(txt|md))?$`)

// licenseTexts are the texts of all licences that the plan and its files name: the
// plan's own copies first, then those that the program has.
func licenseTexts(p *plan.Plan, source []plan.File) (texts []release.File, lacking []finding.Finding) {
	from := map[string]plan.File{}
	for _, f := range source {
		from[f.Path] = f
	}
	named := []plan.Word{p.License}
	files := slices.Clone(p.Shipped)
	for _, part := range p.Parts {
		files = append(files, part.Files...)
	}
	for _, f := range files {
		named = append(named, f.License)
	}
	done := map[string]bool{}
	for i, license := range named {
		ids := licenseIDs(license.Text)
		for _, id := range ids {
			if done[id] {
				continue
			}
			done[id] = true
			text, has := ownText(id, source, from, i == 0 && len(ids) == 1)
			if !has {
				text, has = themes.License(id)
			}
			if !has {
				lacking = append(lacking, LicenseTextMissing.Stamp(finding.Finding{
					At: license.At, Subject: id, Message: fmt.Sprintf("a release holds the text of its licences, and none of %s is at hand", id),
					Remedy: fmt.Sprintf("put its text into LICENSES/%s.txt beside plan.yaml", id),
				}))
				continue
			}
			texts = append(texts, release.File{Path: licensePath(id), Data: text})
		}
	}
	return texts, lacking
}

func licensePath(id string) string { return LicensesPath + "/" + id + ".txt" }

// ownText is the plan's own copy of a licence's text; alone says that it is the plan's
// only one.
func ownText(id string, source []plan.File, from map[string]plan.File, alone bool) ([]byte, bool) {
	if f, has := from["LICENSES/"+id+".txt"]; has {
		return f.Data, true
	}
	if alone {
		for _, f := range source {
			if ownLicense.MatchString(f.Path) {
				return f.Data, true
			}
		}
	}
	return nil, false
}

// licenseID is an identifier of SPDX as it may name a file.
var licenseID = regexp.MustCompile(`^[0-9A-Za-z][0-9A-Za-z.-]*$`)

// licenseIDs are the identifiers of the licences and exceptions in an SPDX expression,
// in its order.
func licenseIDs(expression string) []string {
	var ids []string
	for _, word := range strings.FieldsFunc(expression, func(r rune) bool { return r == ' ' || r == '(' || r == ')' }) {
		word = strings.TrimSuffix(word, "+")
		switch {
		case slices.Contains([]string{"AND", "OR", "WITH"}, strings.ToUpper(word)):
		case licenseID.MatchString(word):
			ids = append(ids, word)
		}
	}
	return ids
}

// terms are the texts as the document links them.
func terms(texts []release.File) []compose.Terms {
	var list []compose.Terms
	for _, f := range texts {
		list = append(list, compose.Terms{ID: strings.TrimSuffix(path.Base(f.Path), ".txt"), Path: f.Path})
	}
	return list
}

// unfit is what an archive's name does not take from a revision's.
var unfit = regexp.MustCompile(`[^0-9A-Za-z._-]+`)

// releaseName is what the archive and the folder in it are called.
func releaseName(p *plan.Plan) string {
	name := unfit.ReplaceAllString(p.Machine.Text+"-"+p.Revision.Text, "-")
	if len(name) > 80 {
		name = name[:80]
	}
	return strings.Trim(name, "-.")
}

// archivePath is where the archive stands.
func archivePath(p *plan.Plan) string { return releaseName(p) + ".zip" }

// released offers what a release holds beside a publication.
func released(p *plan.Plan, texts []release.File, tongue *wording.Table) []page.Download {
	list := []page.Download{{
		Path: archivePath(p), Title: tongue.Say("All of it in one archive"),
		About: tongue.Say("ZIP: everything here with the plan's own source; an unpacked archive does not hold itself"),
	}}
	for _, f := range texts {
		id := strings.TrimSuffix(path.Base(f.Path), ".txt")
		list = append(list, page.Download{Path: f.Path, Title: tongue.Say("Licence %s", id), About: tongue.Say("The terms in full"), Bytes: int64(len(f.Data))})
	}
	return append(list,
		page.Download{Path: ManifestPath, Title: tongue.Say("What this release holds"), About: tongue.Say("JSON, for programs: every file with its SHA-256")},
		page.Download{Path: ManifestSchemaPath, Title: tongue.Say("What the list of this release means"), About: tongue.Say("JSON Schema: every key and what it means")},
	)
}

// pack makes a release of the publication: it adds the licence texts, the source, the
// manifest and the archive of it all.
func (out *Publication) pack(w *check.Work, made []*edition, texts []release.File, found []finding.Finding, o Options) error {
	out.Files = append(out.Files, texts...)
	out.Files = append(append(out.Files, beneath(SourcePath, o.Source)...), o.Since.files()...)
	schema, err := data.ManifestSchema()
	if err != nil {
		return fmt.Errorf("write the schema of the release: %w", err)
	}
	out.Files = append(out.Files, release.File{Path: ManifestSchemaPath, Data: schema})
	p := w.Plan
	m := data.Manifest{
		Form: data.ManifestForm, Title: p.Title.Value, Machine: p.Machine.Text, Revision: p.Revision.Text, Date: p.Date.Text,
		License: p.License.Text, Language: out.Document.Language, Authors: append([]string{}, out.Document.Authors...),
		Program: data.Program{Name: programName, Version: o.Version, Built: o.Built},
		Front:   out.Document.Pages[0].ID + ".html", Source: SourcePath, List: release.ListName, Archive: archivePath(p),
		Tally: finding.Count(found), Waived: data.WaivedNotes(found),
	}
	if o.Since != nil {
		m.Earlier = EarlierPath
	}
	for _, e := range made {
		m.Editions = append(m.Editions, e.note())
	}
	slices.SortFunc(out.Files, func(a, b release.File) int { return strings.Compare(a.Path, b.Path) })
	for _, f := range out.Files {
		m.Files = append(m.Files, data.FileNote{Path: f.Path, Type: mediaType(f.Path), Bytes: len(f.Data), SHA256: fmt.Sprintf("%x", sha256.Sum256(f.Data))})
	}
	text, err := m.JSON()
	if err != nil {
		return fmt.Errorf("write the manifest: %w", err)
	}
	out.Files = append(out.Files, release.File{Path: ManifestPath, Data: text})
	out.Archive = m.Archive
	out.Files, err = release.Pack(out.Files, archivePath(p), releaseName(p), p.Date.Text)
	return err
}

// mediaTypes are by the ending of a name (IANA). The system's own table is not asked:
// it differs from machine to machine.
var mediaTypes = map[string]string{
	".css": "text/css", ".csv": "text/csv", ".dxf": "image/vnd.dxf", ".html": "text/html", ".jpeg": "image/jpeg", ".jpg": "image/jpeg",
	".js": "text/javascript", ".json": "application/json", ".md": "text/markdown", ".pdf": "application/pdf", ".png": "image/png",
	".sarif": "application/sarif+json", ".step": "model/step", ".stl": "model/stl", ".stp": "model/step", ".svg": "image/svg+xml",
	".txt": "text/plain", ".webp": "image/webp", ".yaml": "application/yaml",
}

func mediaType(name string) string {
	if t, known := mediaTypes[strings.ToLower(path.Ext(name))]; known {
		return t
	}
	return "application/octet-stream"
}
