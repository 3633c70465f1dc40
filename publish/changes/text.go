package changes

import (
	"fmt"
	"strings"

	"plansheaf/design/change"
	"plansheaf/design/finding"
)

// Text is the report for a terminal.
func (r Report) Text() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", finding.Visible(r.title()), r.sum())
	for _, s := range r.outline() {
		fmt.Fprintf(&b, "\n%s\n", s.title)
		if s.about != "" {
			fmt.Fprintf(&b, "  (%s)\n", finding.Visible(s.about))
		}
		for _, one := range s.items {
			fmt.Fprintf(&b, "  %s\n", finding.Visible(one.words))
			for _, f := range one.rows {
				fmt.Fprintf(&b, "      %s\n", finding.Visible(row(f)))
			}
			for _, text := range one.list {
				fmt.Fprintf(&b, "      %s\n", finding.Visible(text))
			}
		}
	}
	return []byte(b.String())
}

// row is a field on one line.
func row(f change.Field) string {
	switch {
	case f.Old == "":
		return f.What + ": " + f.New
	case f.New == "":
		return f.What + ": " + f.Old + " → nothing"
	}
	return f.What + ": " + f.Old + " → " + f.New
}
