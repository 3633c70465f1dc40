package source

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A reader reads one file into the model and notes what must be looked up once all
// files are read.
type reader struct {
	*reading
	doc    *document
	faults int // findings so far in this file

	// What is being read, for names that only have a meaning within it.
	outermost *yaml.Node // the file's own map
	current   *yaml.Node // the map with known keys
	assembly  *plan.Assembly
	use       *plan.Use
	part      *plan.Part
	of        *plan.Word // what a drawing shows
}

// A reading is what the files of one plan share.
type reading struct {
	limits   Limits
	plan     *plan.Plan
	findings []finding.Finding
	links    []link
	prose    []proseText
	choosing []choosing
	// damaged holds what was read with faults, so that what is missing from it
	// is not reported a second time as something that it lacks.
	damaged map[any]bool
	// unread names the kinds of file of which one could not be read at all: a
	// name that nothing answers to may stand there.
	unread map[string]bool
	near   nearest
	nodes  int // values in all files so far
}

// report notes a finding of the rule. An empty remedy stands for the rule's own.
func (r *reader) report(rule finding.Rule, at finding.Span, message, remedy string, also ...finding.Related) {
	r.faults++
	switch {
	case r.faults <= r.limits.Findings:
		r.reading.report(rule, at, message, remedy, also...)
	case r.faults == r.limits.Findings+1:
		r.reading.report(tooManyFindings, finding.WholeFile(r.doc.file), fmt.Sprintf("more than %d findings; the others are left out", r.limits.Findings), "")
	}
}

func (g *reading) report(rule finding.Rule, at finding.Span, message, remedy string, also ...finding.Related) {
	g.findings = append(g.findings, rule.Stamp(finding.Finding{At: at, Message: message, Remedy: remedy, Also: also}))
}

// An entry is a value with the key that it stands under; a list's item has no key.
type entry struct{ key, value *yaml.Node }

// where is what to mark when something is missing from the entry as a whole.
func (r *reader) where(e entry) finding.Span {
	if e.key != nil {
		return r.doc.span(e.key)
	}
	at := r.doc.span(e.value)
	if at.EndLine != at.Line {
		return finding.OnLine(at.File, at.Line, at.Column, max(1, runes(strings.TrimRight(r.doc.from(at.Line, at.Column), " "))))
	}
	return at
}

// name is what messages call an entry.
func (r *reader) name(e entry) string {
	switch {
	case e.key != nil:
		return quoted(e.key.Value)
	case e.value == r.outermost:
		return r.doc.file
	}
	return "this entry"
}

func (r *reader) word(n *yaml.Node) plan.Word {
	return plan.Word{Text: n.Value, At: r.doc.span(n)}
}

func runes(s string) int { return utf8.RuneCountInString(s) }

// quoted is a name or text within a message, cut where it would swamp it.
func quoted(s string) string {
	const most = 60
	if runes(s) > most {
		s = string([]rune(s)[:most]) + "…"
	}
	return `"` + strings.ReplaceAll(s, "\n", " ") + `"`
}

// inQuotes is text as YAML takes it between double quotes.
func inQuotes(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// describe says what a node is, for messages.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a map"
	case yaml.SequenceNode:
		return "a list"
	default:
		return "text"
	}
}

// isNull reports whether nothing stands where a value belongs. The words null and ~
// are text like any other.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) == 0
}

// plain reports whether n uses nothing of YAML that the format refuses, and says
// so where it does.
func (r *reader) plain(n *yaml.Node) bool {
	at := finding.OnLine(r.doc.file, n.Line, n.Column, 1)
	switch {
	case n.Kind == yaml.AliasNode:
		r.report(yamlFeature, r.doc.span(n), fmt.Sprintf("an alias, *%s", n.Value), "write the value out here")
		return false
	case n.Anchor != "":
		at.EndColumn += runes(n.Anchor)
		r.report(yamlFeature, at, fmt.Sprintf("an anchor, &%s", n.Anchor), "take the anchor out and write the value where it is used")
		return false
	case n.Style&yaml.TaggedStyle != 0:
		at.EndColumn = at.Column + max(1, runes(firstWord(r.doc.from(n.Line, n.Column))))
		r.report(yamlFeature, at, "a tag, "+quoted(n.Tag), "take the tag out: the format says what each value is")
		return false
	}
	return true
}

func firstWord(s string) string {
	if cut := strings.IndexAny(s, " \t,]}"); cut >= 0 {
		return s[:cut]
	}
	return s
}
