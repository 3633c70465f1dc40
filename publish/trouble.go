package publish

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish/binder"
	"plansheaf/publish/wording"
)

// NotPrintable finds text and pictures that cannot be printed as meant.
var NotPrintable = finding.Rule{
	Name: "not-printable", Severity: finding.Warning,
	Reason: "The binder shows something else in its place, and a reader at the bench cannot see what was meant.",
	Remedy: "write it with characters that the fonts have, or mend the picture",
}

// WordsInEnglish finds plans in a language that the publication has no own words in.
var WordsInEnglish = finding.Rule{
	Name: "words-in-english", Severity: finding.Note,
	Reason: "Heads, labels and the sentences that every plan shares are English beside the author's own words, and a reader meets two languages.",
	Remedy: "set the language to one that there are words in, or add a column for it to themes/words.csv and build the program anew",
}

// unspoken says that a plan's language has no words.
func unspoken(p *plan.Plan) finding.Finding {
	return WordsInEnglish.Stamp(finding.Finding{
		At: p.Language.At,
		Message: fmt.Sprintf("there are no words in the language %q for what the publication says of itself: they are English (there are words in %s)",
			p.Language.Text, strings.Join(wording.Languages(), ", ")),
	})
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
