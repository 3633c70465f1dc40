package page

import (
	"slices"

	"plansheaf/publish/notation"
)

// Same reports whether two runs of words are equal, formulas by what they show. Words that
// are not given and words of no length differ.
func Same(a, b []Inline) bool {
	return (a == nil) == (b == nil) && slices.EqualFunc(a, b, sameInline)
}

func sameInline(a, b Inline) bool {
	switch a := a.(type) {
	case Strong:
		b, is := b.(Strong)
		return is && Same(a.Words, b.Words)
	case Emphasis:
		b, is := b.(Emphasis)
		return is && Same(a.Words, b.Words)
	case Formula:
		b, is := b.(Formula)
		return is && sameFormula(a.Is, b.Is)
	case Varies:
		b, is := b.(Varies)
		return is && (a.Variants == nil) == (b.Variants == nil) && slices.EqualFunc(a.Variants, b.Variants, func(a, b Variant) bool {
			return sameOnly(a.When, b.When) && Same(a.Words, b.Words)
		})
	case Link:
		b, is := b.(Link)
		return is && a.To == b.To && Same(a.Words, b.Words)
	}
	return a == b // the others hold text and numbers alone
}

func sameFormula(a, b *notation.Node) bool {
	if a == b || a == nil || b == nil {
		return a == b
	}
	return notation.Words(a) == notation.Words(b)
}

func sameOnly(a, b Only) bool {
	return (a == nil) == (b == nil) && slices.EqualFunc(a, b, func(a, b Condition) bool {
		return a.Choice == b.Choice && (a.Options == nil) == (b.Options == nil) && slices.Equal(a.Options, b.Options)
	})
}
