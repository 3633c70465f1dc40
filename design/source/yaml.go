package source

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
)

// parse takes a file's text apart. It returns nil where the text holds nothing or
// cannot be taken apart; ok is false in the second case, and a finding says why.
func (r *reader) parse(text string, firstLine int) (root *yaml.Node, ok bool) {
	if strings.TrimSpace(text) == "" {
		return nil, true
	}
	if line, found := directive(text); found {
		r.report(yamlFeature, r.doc.wholeLine(firstLine-1+line), "a YAML directive", "take the line out: every file is read as YAML 1.2")
		return nil, false
	}
	var document yaml.Node
	decoder := yaml.NewDecoder(strings.NewReader(text))
	err := decodeNode(decoder, &document)
	if errors.Is(err, io.EOF) {
		return nil, true
	}
	if err != nil {
		r.syntaxFault(text, err, firstLine)
		return nil, false
	}
	if firstLine > 1 {
		moveDown(&document, firstLine-1)
	}
	var second yaml.Node
	switch err := decodeNode(decoder, &second); {
	case err == nil:
		r.report(yamlFeature, r.doc.wholeLine(firstLine-1+max(1, second.Line)), "a second document begins in one file", "take out the line --- or make it a file of its own")
	case !errors.Is(err, io.EOF):
		r.syntaxFault(text, err, firstLine)
	}
	if len(document.Content) == 0 {
		return nil, true
	}
	return document.Content[0], r.bounded(document.Content[0])
}

// decodeNode turns a panic of the YAML library on some input into an error: the
// input is the author's, and nothing may bring the program down.
func decodeNode(decoder *yaml.Decoder, into *yaml.Node) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("yaml: %v", fault)
		}
	}()
	return decoder.Decode(into)
}

// directive finds a line that begins with % before the first content.
func directive(text string) (line int, found bool) {
	for i, l := range strings.Split(text, "\n") {
		switch trimmed := strings.TrimSpace(l); {
		case strings.HasPrefix(l, "%"):
			return i + 1, true
		case trimmed != "" && !strings.HasPrefix(trimmed, "#"):
			return 0, false
		}
	}
	return 0, false
}

func moveDown(n *yaml.Node, lines int) {
	n.Line += lines
	for _, child := range n.Content {
		moveDown(child, lines)
	}
}

// bounded refuses files with too many or too deeply nested values.
func (r *reader) bounded(root *yaml.Node) bool {
	count := 0
	var tooDeepAt *yaml.Node
	var walk func(n *yaml.Node, depth int)
	walk = func(n *yaml.Node, depth int) {
		count++
		if depth > r.limits.Nesting {
			if tooDeepAt == nil {
				tooDeepAt = n
			}
			return
		}
		for _, child := range n.Content {
			walk(child, depth+1)
		}
	}
	walk(root, 0)
	if tooDeepAt != nil {
		r.report(tooDeep, finding.OnLine(r.doc.file, tooDeepAt.Line, tooDeepAt.Column, 1), fmt.Sprintf("values are nested more than %d deep", r.limits.Nesting), "")
		return false
	}
	if count > r.limits.Nodes {
		r.report(tooLarge, finding.WholeFile(r.doc.file), fmt.Sprintf("the file holds %d values, more than %d", count, r.limits.Nodes), "split the file")
		return false
	}
	if r.nodes += count; r.nodes > r.limits.AllNodes {
		r.report(tooLarge, finding.WholeFile(r.doc.file), fmt.Sprintf("the plan's files together hold more than %d values; this one is not read", r.limits.AllNodes), "")
		return false
	}
	return true
}

var yamlErrorLine = regexp.MustCompile(`^yaml: line (\d+): (.*)$`)

// syntaxFault reports what YAML could not take apart at the line that seems to
// cause it. The library knows a line at best, and often the one where the
// surrounding block began; so the lines from there on are looked through for the
// usual causes.
func (r *reader) syntaxFault(text string, err error, firstLine int) {
	line, message := faultLine(err)
	if at, say, remedy, found := r.usualCause(text, err, firstLine); found {
		r.report(yamlSyntax, at, say, remedy)
		return
	}
	at := r.doc.wholeLine(min(firstLine-1+max(line, 1), len(r.doc.lines)))
	r.report(yamlSyntax, at, plainly(message), "")
}

// faultLine takes the library's error apart; 0 where it names no line.
func faultLine(err error) (line int, message string) {
	if m := yamlErrorLine.FindStringSubmatch(err.Error()); m != nil {
		line, _ = strconv.Atoi(m[1])
		return line, m[2]
	}
	return 0, strings.TrimPrefix(err.Error(), "yaml: ")
}
