package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/prose"
)

// TranslationBehind finds pages that lack something of the page that they
// translate: headings, quoted cautions, or names in braces.
var TranslationBehind = Rule{
	Rule: finding.Rule{
		Name: "translation-behind", Severity: finding.Advice,
		Reason: "Who reads the translation misses what was added to the original; a missing caution is a gap in safety.",
		Remedy: "translate what was added",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, page := range w.Plan.Pages {
			if !page.Translates.Given() {
				continue
			}
			original := w.Plan.Page(page.Translates.Text)
			if original == nil {
				continue
			}
			if lacks := lacking(original, page); lacks != "" {
				report(finding.Finding{
					At: page.Translates.At, Subject: page.ID.Text,
					Message: fmt.Sprintf("the page %q lacks %s of %q", page.ID.Text, lacks, original.ID.Text),
					Also:    []finding.Related{{At: original.Title.At, Say: "the original"}},
				})
			}
		}
	},
}

// lacking says what a page has less of than its original.
func lacking(original, page *plan.Page) string {
	theirs, _ := prose.Parse(original.Body.Value)
	mine, _ := prose.Parse(page.Body.Value)
	var lacks []string
	for _, kind := range []struct {
		what string
		is   func(prose.Block) bool
	}{
		{"headings", func(b prose.Block) bool { _, ok := b.(prose.Heading); return ok }},
		{"quoted cautions", func(b prose.Block) bool { _, ok := b.(prose.Quote); return ok }},
	} {
		if has, needs := countBlocks(mine.Blocks, kind.is), countBlocks(theirs.Blocks, kind.is); has < needs {
			lacks = append(lacks, fmt.Sprintf("%d of %d %s", needs-has, needs, kind.what))
		}
	}
	named := map[string]bool{}
	for _, r := range mine.References {
		named[r.Name] = true
	}
	for _, r := range theirs.References {
		if !named[r.Name] {
			named[r.Name] = true
			lacks = append(lacks, "{"+r.Name+"}")
		}
	}
	return strings.Join(lacks, ", ")
}

func countBlocks(blocks []prose.Block, is func(prose.Block) bool) (n int) {
	for _, b := range blocks {
		if is(b) {
			n++
		}
	}
	return n
}
