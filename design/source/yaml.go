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
	r.report(yamlSyntax, at, "not readable as YAML: "+message, "")
}

// faultLine takes the library's error apart; 0 where it names no line.
func faultLine(err error) (line int, message string) {
	if m := yamlErrorLine.FindStringSubmatch(err.Error()); m != nil {
		line, _ = strconv.Atoi(m[1])
		return line, m[2]
	}
	return 0, strings.TrimPrefix(err.Error(), "yaml: ")
}

const (
	reach   = 200 // lines after the library's that are looked through
	repairs = 8   // causes tried before giving up
)

// usualCause looks for tabs in the indentation, text that needs quotes and brackets
// or quotes left open, near the line that the library named. A cause counts only if
// the text reads further once its line is taken out.
func (r *reader) usualCause(text string, err error, firstLine int) (at finding.Span, say, remedy string, found bool) {
	lines := strings.Split(text, "\n")
	line, message := faultLine(err)
	tried := 0
	for i := max(0, line-3); i < min(len(lines), line+reach) && tried < repairs; i++ {
		at, say, remedy, found := r.doc.lineCause(firstLine + i)
		if !found {
			continue
		}
		tried++
		without := append([]string(nil), lines...)
		without[i] = ""
		var n yaml.Node
		left := decodeNode(yaml.NewDecoder(strings.NewReader(strings.Join(without, "\n"))), &n)
		if left == nil || errors.Is(left, io.EOF) {
			return at, say, remedy, true
		}
		if next, other := faultLine(left); next > line || other != message {
			return at, say, remedy, true
		}
	}
	return finding.Span{}, "", "", false
}

var (
	tabIndent    = regexp.MustCompile(`^ *\t+`)
	plainPair    = regexp.MustCompile(`^(\s*(?:- +)?)([A-Za-z_][\w.-]*): +([^\s"'|>\[{#&*!%@` + "`" + `].*?)\s*(?: #.*)?$`)
	reservedPair = regexp.MustCompile(`^(\s*(?:- +)?)([A-Za-z_][\w.-]*): +([%@` + "`" + `].*?)\s*(?: #.*)?$`)
)

func (d *document) lineCause(n int) (at finding.Span, say, remedy string, found bool) {
	text := d.line(n)
	if tab := tabIndent.FindString(text); tab != "" && strings.TrimSpace(text) != "" {
		column := strings.IndexByte(tab, '\t') + 1
		return finding.OnLine(d.file, n, column, len(tab)-column+1), "a tab in the indentation", "indent with blanks", true
	}
	for _, pair := range []*regexp.Regexp{plainPair, reservedPair} {
		m := pair.FindStringSubmatch(text)
		if m == nil || pair == plainPair && !strings.Contains(m[3], ": ") && !strings.HasSuffix(m[3], ":") {
			continue
		}
		column := runes(m[1]) + runes(m[2]) + 3
		for strings.HasPrefix(d.from(n, column), " ") {
			column++
		}
		return finding.OnLine(d.file, n, column, runes(m[3])), "this text needs quotes: YAML gives a colon and some first characters a meaning of their own",
			"write " + m[2] + ": " + quoted(m[3]), true
	}
	return d.openBracket(n)
}

// openBracket finds a bracket or quote on one line that does not close there, where
// the next line begins a new key and so cannot close it either.
func (d *document) openBracket(n int) (at finding.Span, say, remedy string, found bool) {
	type open struct {
		mark   rune
		column int
	}
	var stack []open
	column, quote := 0, open{}
	previous := ' '
scan:
	for _, c := range d.line(n) {
		column++
		switch {
		case quote.mark != 0:
			if c == quote.mark {
				quote = open{}
			}
		case (c == '"' || c == '\'') && strings.ContainsRune(" [{,:", previous):
			quote = open{c, column}
		case c == '#' && previous == ' ':
			break scan
		case c == '{' || c == '[':
			stack = append(stack, open{c, column})
		case c == '}' || c == ']':
			if len(stack) == 0 || (c == '}') != (stack[len(stack)-1].mark == '{') {
				return finding.OnLine(d.file, n, column, 1), fmt.Sprintf("%q closes nothing that was opened on this line", c), "open the bracket, or put the text in quotes", true
			}
			stack = stack[:len(stack)-1]
		}
		previous = c
	}
	if quote.mark != 0 {
		stack = append(stack, quote)
	}
	next := d.line(n + 1)
	if len(stack) == 0 || next != "" && !plainKey.MatchString(next) {
		return finding.Span{}, "", "", false
	}
	last := stack[len(stack)-1]
	return finding.OnLine(d.file, n, last.column, 1), fmt.Sprintf("%q is opened here and not closed", last.mark), "close it on this line", true
}

var plainKey = regexp.MustCompile(`^\s*[A-Za-z_][\w.-]*:(\s|$)`)
