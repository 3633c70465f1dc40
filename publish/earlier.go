package publish

import (
	"fmt"
	"io/fs"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/source"
	"plansheaf/publish/release"
)

// EarlierPath is the folder of a release that holds the source of the revision that its
// page of changes compares with. It stands behind the plan's own, so that who opens the
// release as a revision finds that one first.
const EarlierPath = "source-earlier"

// A Revision is a plan worked out and checked, with its source as it was read.
type Revision struct {
	change.Revision
	Source []plan.File
}

// Read reads the plan in a directory with its source, works it out and checks it. The
// error is what keeps the directory from being read.
func Read(dir fs.FS) (*Revision, error) {
	kept := source.Keep(dir)
	p, found, err := source.Read(kept, source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	found = append(found, kept.Beside(source.DefaultLimits())...)
	w := check.Out(p)
	return &Revision{change.Revision{Work: w, Findings: check.Run(w, found)}, kept.Files()}, nil
}

// comparison is how a plan differs from the earlier revision; nil where there is none.
func (r *Revision) comparison(w *check.Work, found []finding.Finding) *change.Comparison {
	if r == nil {
		return nil
	}
	return change.Between(r.Revision, change.Revision{Work: w, Findings: found})
}

// old is the revision for those who are half way through it; nil for none.
func (r *Revision) old() *change.Revision {
	if r == nil {
		return nil
	}
	return &r.Revision
}

// files are the revision's source as a release holds it.
func (r *Revision) files() []release.File {
	if r == nil {
		return nil
	}
	return beneath(EarlierPath, r.Source)
}

// beneath are a plan's files in a folder.
func beneath(folder string, files []plan.File) []release.File {
	var list []release.File
	for _, f := range files {
		list = append(list, release.File{Path: folder + "/" + f.Path, Data: f.Data})
	}
	return list
}

// allLicenseTexts are the texts of all licences of the plan and of the earlier revision
// that goes with it.
func allLicenseTexts(p *plan.Plan, files []plan.File, r *Revision) ([]release.File, []finding.Finding) {
	texts, lacking := licenseTexts(p, files)
	if r == nil {
		return texts, lacking
	}
	old := r.Work.Plan
	more, missing := licenseTexts(old, r.Source)
	has := map[string]bool{}
	for _, f := range texts {
		has[f.Path] = true
	}
	for _, f := range more {
		if !has[f.Path] {
			texts = append(texts, f)
		}
	}
	for _, f := range missing {
		if has[licensePath(f.Subject)] {
			continue // the plan's own copy is the same licence
		}
		f.At, f.Message = p.License.At, fmt.Sprintf("the source of revision %s goes with the release: %s", old.Revision.Text, f.Message)
		lacking = append(lacking, f)
	}
	return texts, lacking
}
