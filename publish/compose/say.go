package compose

import (
	"strings"

	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// say is a phrase in the plan's language.
func (c *composer) say(p wording.Phrase, values ...any) string { return c.tongue.Say(p, values...) }

// said is a phrase as running words.
func (c *composer) said(p wording.Phrase, values ...any) []page.Inline {
	return page.Words(c.say(p, values...))
}

// told is a sentence with links and the like put in, in order, where it says %s.
func (c *composer) told(p wording.Phrase, parts ...[]page.Inline) []page.Inline {
	var out []page.Inline
	for i, words := range strings.Split(c.say(p), "%s") {
		if i > 0 && i <= len(parts) {
			out = append(out, parts[i-1]...)
		}
		out = append(out, page.Words(words)...)
	}
	return out
}

// paragraph is a sentence as a block.
func (c *composer) paragraph(p wording.Phrase) page.Paragraph {
	return page.Paragraph{Words: c.said(p)}
}

// item is a sentence as an entry of a list.
func (c *composer) item(p wording.Phrase) page.Item {
	return page.Item{Blocks: []page.Block{c.paragraph(p)}}
}

// head is a table's column.
func (c *composer) head(p wording.Phrase) page.Column { return page.Column{Head: c.said(p)} }
