package publish

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/binder"
)

// NotPrintable finds text and pictures that cannot be printed as meant.
var NotPrintable = finding.Rule{
	Name: "not-printable", Severity: finding.Warning,
	Reason: "The binder shows something else in its place, and a reader at the bench cannot see what was meant.",
	Remedy: "write it with characters that the fonts have, or mend the picture",
}

// troubled places what the binder could not print as meant: at the characters in
// the plan's texts, or at the picture's file; at the plan as a whole where neither
// is found.
func troubled(p *plan.Plan, troubles []binder.Problem) []finding.Finding {
	var found []finding.Finding
	said := map[string]bool{}
	for _, t := range troubles {
		f := NotPrintable.Stamp(finding.Finding{At: placeOf(p, t), Message: t.String()})
		if t.Kind == binder.MissingGlyph {
			f.Message = fmt.Sprintf("no font of the binder has the character %q (U+%04X)", t.Rune, t.Rune)
		}
		if key := f.At.String() + f.Message; !said[key] {
			said[key] = true
			found = append(found, f)
		}
	}
	return found
}

func placeOf(p *plan.Plan, t binder.Problem) finding.Span {
	if t.Rune != 0 {
		for _, text := range p.Texts() {
			if at := strings.IndexRune(text.Value, t.Rune); at >= 0 && text.At.Known() {
				return text.Place(at, utf8.RuneLen(t.Rune))
			}
		}
	}
	for _, f := range p.Files {
		if strings.Contains(t.Text, f.Path) {
			return finding.WholeFile(f.Path)
		}
	}
	return p.At
}
