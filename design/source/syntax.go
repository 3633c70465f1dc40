package source

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
)

// inPlainWords are the YAML library's usual messages and what they mean to an author.
var inPlainWords = map[string]string{
	"did not find expected key":                      "a key does not line up with those above it, or text before it has a quote or bracket that is not closed",
	"did not find expected ',' or '}'":               "a map in braces is broken: a comma, a colon or a closing brace is missing or one too many",
	"did not find expected ',' or ']'":               "a list in brackets is broken: a comma or the closing bracket is missing",
	"did not find expected '-' indicator":            "a list goes on with something that is no item",
	"mapping values are not allowed in this context": "a key stands where none can: it is indented more deeply than the one above it, or text with a colon needs quotes",
	"could not find expected ':'":                    "a key without its colon, or text that goes on where a key should be",
	"found character that cannot start any token":    "a text begins with a character that has a meaning of its own in YAML",
}

// plainly is the library's message in an author's words.
func plainly(message string) string {
	if plain, known := inPlainWords[message]; known {
		return plain
	}
	return "not readable as YAML: " + message
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
			"write " + m[2] + ": " + inQuotes(m[3]), true
	}
	if at, say, remedy, found := d.flowCause(n); found {
		return at, say, remedy, true
	}
	return d.openBracket(n)
}

var (
	// flowPair is a key and a plain text in a one-line map.
	flowPair = regexp.MustCompile(`[{,] *([A-Za-z_]\w*): +([^\s"'\[\]{}>|&*!#,][^,{}]*?) *[,}]`)
	// pastQuote is quoted text with more behind its end.
	pastQuote = regexp.MustCompile(`: +('(?:[^']|'')*'|"(?:[^"\\]|\\.)*")([^\s,}\]#:'"][^,}]*)`)
)

// flowCause looks for text that needs quotes within a one-line map, and for quotes
// that end too soon.
func (d *document) flowCause(n int) (at finding.Span, say, remedy string, found bool) {
	text := d.line(n)
	if m := pastQuote.FindStringSubmatchIndex(text); m != nil {
		return finding.OnLine(d.file, n, runes(text[:m[2]])+1, runes(text[m[2]:m[5]])), "the quoted text ends before its last words",
			`put it in the other kind of quotes, or write \" for a quote within "`, true
	}
	for start := 0; start < len(text); {
		m := flowPair.FindStringSubmatchIndex(text[start:])
		if m == nil {
			break
		}
		key, value := text[start+m[2]:start+m[3]], text[start+m[4]:start+m[5]]
		if strings.Contains(value, ": ") || strings.HasSuffix(value, ":") || strings.ContainsAny(value, "[]") || strings.ContainsAny(value[:1], "@%`") {
			return finding.OnLine(d.file, n, runes(text[:start+m[4]])+1, runes(value)), "this text needs quotes: YAML gives a colon, a bracket and some first characters a meaning of their own",
				"write " + key + ": " + inQuotes(value), true
		}
		start += m[5]
	}
	return finding.Span{}, "", "", false
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
