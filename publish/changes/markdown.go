package changes

import (
	"fmt"
	"strings"

	"plansheaf/design/change"
	"plansheaf/design/finding"
)

const (
	// mostMarkdown is how long the Markdown becomes, bytes: places that take comments
	// refuse longer ones. Sections that no longer fit are named and counted.
	mostMarkdown = 60_000
	// mostSection is how many items of one section the Markdown shows.
	mostSection = 40
	// mostValue is how many characters of a value it shows.
	mostValue = 300
)

// Markdown is the report for a comment on a change: what matters first, the rest folded.
// Nothing of the plan becomes a mark, a link or a mention in it.
func (r Report) Markdown() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "### %s\n\n%s\n", escaped(r.title()), escaped(r.sum()))
	var left []string
	for _, s := range r.outline() {
		text := s.markdown()
		if b.Len()+len(text) > mostMarkdown {
			left = append(left, fmt.Sprintf("%s (%d)", s.title, len(s.items)))
			continue
		}
		b.WriteString(text)
	}
	if len(left) > 0 {
		fmt.Fprintf(&b, "\nLeft out because this would become too long: %s.\n", escaped(strings.Join(left, ", ")))
	}
	return []byte(b.String())
}

func (s section) markdown() string {
	var b strings.Builder
	if s.long {
		fmt.Fprintf(&b, "\n<details><summary>%s (%d)</summary>\n\n", escaped(s.title), len(s.items))
	} else {
		fmt.Fprintf(&b, "\n**%s**\n\n", escaped(s.title))
	}
	if s.about != "" {
		fmt.Fprintf(&b, "%s\n\n", escaped(s.about))
	}
	for i, one := range s.items {
		if i == mostSection {
			fmt.Fprintf(&b, "- and %d more\n", len(s.items)-mostSection)
			break
		}
		fmt.Fprintf(&b, "- %s\n", escaped(shortened(one.words)))
		for _, f := range one.rows {
			fmt.Fprintf(&b, "  - %s\n", markedRow(f))
		}
		for _, text := range one.list {
			fmt.Fprintf(&b, "  - %s\n", escaped(shortened(text)))
		}
	}
	if s.long {
		b.WriteString("\n</details>\n")
	}
	return b.String()
}

func markedRow(f change.Field) string {
	was, is := escaped(shortened(f.Old)), escaped(shortened(f.New))
	switch {
	case f.Old == "":
		return escaped(f.What) + ": **" + is + "**"
	case f.New == "":
		return escaped(f.What) + ": ~~" + was + "~~"
	}
	return escaped(f.What) + ": " + was + " → **" + is + "**"
}

func shortened(text string) string {
	if r := []rune(text); len(r) > mostValue {
		return string(r[:mostValue]) + "…"
	}
	return text
}

// escaped is text as Markdown that shows it and does nothing else: on one line, with
// every mark, angle bracket, mention and address taken apart.
func escaped(text string) string {
	text = finding.Visible(strings.Join(strings.Fields(text), " "))
	var b strings.Builder
	for _, c := range text {
		switch {
		case c == '<':
			b.WriteString("&lt;")
		case c == '>':
			b.WriteString("&gt;")
		case c == '&':
			b.WriteString("&amp;")
		case c == '@':
			b.WriteString("&#64;")
		case c == '#':
			b.WriteString("&#35;")
		case strings.ContainsRune("\\`*_{}[]~|!$^", c):
			b.WriteByte('\\')
			b.WriteRune(c)
		default:
			b.WriteRune(c)
		}
	}
	text = strings.ReplaceAll(b.String(), "://", "&#58;//")
	return strings.ReplaceAll(text, "www.", "www&#46;")
}
