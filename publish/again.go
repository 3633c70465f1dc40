package publish

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/data"
	"plansheaf/publish/release"
)

// largestManifest bounds what is read of a release's manifest, in bytes.
const largestManifest = 32 << 20

// A Comparison is a release held against what its source gives.
type Comparison struct {
	// Manifest is what the release says of itself; nil where it has no manifest, so
	// that it is a publication without its source and nothing was compiled.
	Manifest *data.Manifest
	// Findings are of error severity, and keep the source from being released by
	// this program; nothing was compared then.
	Findings []finding.Finding
	// Faults are the files that are not as the source gives them.
	Faults []release.Fault
}

// Again compiles the source in a release for the choices that the release says it was
// made for, and compares what that gives with what is there. Of the options, Rules,
// Version, Built and Say count. An error is what keeps it from being done, such as a
// manifest that cannot be read.
func Again(c *release.Contents, o Options) (*Comparison, error) {
	out := &Comparison{}
	if !c.Has(ManifestPath) {
		return out, nil
	}
	text, err := c.Read(ManifestPath, largestManifest)
	if err != nil {
		return nil, err
	}
	m, err := data.ReadManifest(text)
	if err != nil {
		return nil, err
	}
	out.Manifest = &m
	o.Draft, o.Choose = false, nil
	for _, e := range m.Editions {
		o.Choose = append(o.Choose, plan.Selection(e.Options))
	}
	read, err := Read(c.FS(SourcePath))
	if err != nil {
		return nil, fmt.Errorf("read the source in the release: %w", err)
	}
	o.Source, o.Since = read.Source, nil
	if out.Findings = errorsOf(read.Findings); out.Findings != nil {
		return out, nil
	}
	for _, choose := range o.Choose {
		if read.Work.Choosing(choose) == nil {
			return nil, fmt.Errorf("the manifest names choices that the source does not have: %v", choose)
		}
	}
	if m.Earlier != "" {
		if o.Since, err = Read(c.FS(EarlierPath)); err != nil {
			return nil, fmt.Errorf("read the source of the earlier revision in the release: %w", err)
		}
	}
	made, err := Make(read.Work, read.Findings, o)
	if err != nil {
		return nil, err
	}
	if out.Findings = errorsOf(made.Problems); out.Findings != nil {
		return out, nil
	}
	files := made.Files
	if c.Archive { // it does not hold itself
		files = files[:len(files)-1]
	}
	out.Faults, err = c.Compare(files)
	return out, err
}

// errorsOf are the findings of error severity that nobody waived.
func errorsOf(found []finding.Finding) (list []finding.Finding) {
	for _, f := range found {
		if f.Severity == finding.Error && f.Waived == nil {
			list = append(list, f)
		}
	}
	return list
}
