package check

import (
	"strings"

	"plansheaf/design/joint"
)

// byPart is a text about a place with the instances that it crosses called by their
// parts: of the posts left_front and right_back, "post".
func byPart(p *joint.Stack, text string) string {
	for i := range p.Crossings {
		c := &p.Crossings[i]
		text = renamed(text, c.Spot.Path, c.Part.Part.ID.Text)
	}
	return text
}

// renamed puts one name in place of another wherever that stands whole in a text.
func renamed(text, from, to string) string {
	if from == "" || from == to {
		return text
	}
	var out strings.Builder
	for rest := text; ; {
		i := strings.Index(rest, from)
		if i < 0 {
			out.WriteString(rest)
			return out.String()
		}
		end := i + len(from)
		whole := (i == 0 || !inName(rest[i-1]) && rest[i-1] != '.') && (end == len(rest) || !inName(rest[end]))
		out.WriteString(rest[:i])
		if whole {
			out.WriteString(to)
		} else {
			out.WriteString(from)
		}
		rest = rest[end:]
	}
}

// inName reports whether an id may hold the byte.
func inName(b byte) bool {
	return b == '_' || '0' <= b && b <= '9' || 'a' <= b && b <= 'z'
}
