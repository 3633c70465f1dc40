package rewrite

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Set puts another scalar in place of the one at a path; a quoted one stays quoted.
func (f *File) Set(path []string, value string) error {
	_, old := find(f.root, path)
	if old == nil || old.Kind != yaml.ScalarNode {
		return f.refuse(path, "there is no single value")
	}
	if old.Value == value {
		return nil
	}
	start, end, err := f.span(old)
	if err != nil {
		return f.fail(path, err)
	}
	return f.replace(path, start, end, quoted(value, old), func(m *yaml.Node) {
		_, at := find(m, path)
		at.Value = value
	})
}

// Wrap puts a map {key: value} in place of the scalar at a path, which stays as it is
// written.
func (f *File) Wrap(path []string, key string) error {
	_, old := find(f.root, path)
	if old == nil || old.Kind != yaml.ScalarNode {
		return f.refuse(path, "there is no single value")
	}
	start, end, err := f.span(old)
	if err != nil {
		return f.fail(path, err)
	}
	text := fmt.Sprintf("{%s: %s}", key, f.inFlow(f.text[start:end], old))
	return f.replace(path, start, end, text, func(m *yaml.Node) {
		_, at := find(m, path)
		inner := *at
		*at = yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{{Kind: yaml.ScalarNode, Value: key}, &inner}}
	})
}

// inFlow is a scalar as written, quoted where its bare form would end early within braces.
func (f *File) inFlow(written string, n *yaml.Node) string {
	if n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) == 0 && strings.ContainsAny(written, ",[]{}") {
		return doubleQuoted(written)
	}
	return written
}

// Put sets the scalar at a path, or adds it behind the others of its map, which must be
// there.
func (f *File) Put(path []string, value string) error {
	if f.Has(path...) {
		return f.Set(path, value)
	}
	return f.add(path, bare(value), &yaml.Node{Kind: yaml.ScalarNode, Value: value})
}

// PutMap adds an empty map at a path behind the others of its map.
func (f *File) PutMap(path []string) error {
	if f.Has(path...) {
		return nil
	}
	return f.add(path, "{}", &yaml.Node{Kind: yaml.MappingNode})
}

// add puts a new entry into a map.
func (f *File) add(path []string, text string, value *yaml.Node) error {
	parent, key := path[:len(path)-1], path[len(path)-1]
	_, m := find(f.root, parent)
	if m == nil || m.Kind != yaml.MappingNode {
		return f.refuse(path, "there is no map to add it to")
	}
	at, text, err := f.roomFor(m, key+": "+text)
	if err != nil {
		return f.fail(path, err)
	}
	return f.replace(path, at, at, text, func(root *yaml.Node) {
		_, into := find(root, parent)
		into.Content = append(into.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, value)
	})
}

// lineLength is the length beyond which an entry added within braces begins a new line.
const lineLength = 120

// roomFor is where a new last entry of a map goes, and the text with what parts it from
// its neighbours.
func (f *File) roomFor(m *yaml.Node, entry string) (at int, text string, err error) {
	start, err := f.offset(m)
	if err != nil {
		return 0, "", err
	}
	flow := m.Style&yaml.FlowStyle != 0
	if len(m.Content) == 0 {
		if !flow {
			return 0, "", ErrLayout
		}
		return start + 1, entry, nil
	}
	last := m.Content[len(m.Content)-1]
	begin, err := f.offset(last)
	if err != nil {
		return 0, "", err
	}
	if at, err = f.end(last, begin); err != nil {
		return 0, "", err
	}
	if flow {
		line := f.lineStart(at)
		if utf8.RuneCountInString(f.text[line:at]+entry) <= lineLength {
			return at, ", " + entry, nil
		}
		deeper := ""
		if line == f.lineStart(start) {
			deeper = "  " // the first line to be begun within these braces
		}
		return at, "," + f.newline() + f.indent(line) + deeper + entry, nil
	}
	at = f.lineEnd(at)
	if at > 0 && f.text[at-1] == '\r' {
		at--
	}
	return at, f.newline() + strings.Repeat(" ", m.Column-1) + entry, nil
}

// lineStart is the first byte of the line that holds a byte.
func (f *File) lineStart(at int) int { return strings.LastIndexByte(f.text[:at], '\n') + 1 }

// indent is the blank that the line at a byte begins with.
func (f *File) indent(line int) string {
	rest := f.text[line:]
	return rest[:len(rest)-len(strings.TrimLeft(rest, " "))]
}

// newline is how the file ends its lines.
func (f *File) newline() string {
	if i := strings.IndexByte(f.text, '\n'); i > 0 && f.text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// Remove takes the entry at a path out of its map, which keeps others.
func (f *File) Remove(path []string) error {
	parent, name := path[:len(path)-1], path[len(path)-1]
	_, m := find(f.root, parent)
	key, value := find(f.root, path)
	if m == nil || key == nil {
		return nil
	}
	start, err := f.offset(key)
	if err != nil {
		return f.fail(path, err)
	}
	begin, err := f.offset(value)
	if err != nil {
		return f.fail(path, err)
	}
	end, err := f.end(value, begin)
	if err != nil {
		return f.fail(path, err)
	}
	if m.Style&yaml.FlowStyle != 0 {
		start, end = f.withComma(start, end)
	} else if start, end, err = f.wholeLines(m, start, end); err != nil {
		return f.fail(path, err)
	}
	return f.replace(path, start, end, "", func(root *yaml.Node) {
		_, from := find(root, parent)
		i := slices.IndexFunc(from.Content, func(n *yaml.Node) bool { return n.Value == name })
		from.Content = slices.Delete(from.Content, i, i+2)
	})
}

// withComma widens an entry of a flow map by the comma and blank behind it, or, for the
// last one, before it.
func (f *File) withComma(start, end int) (int, int) {
	behind := end
	for behind < len(f.text) && f.text[behind] == ' ' {
		behind++
	}
	if behind < len(f.text) && f.text[behind] == ',' {
		behind++
		for behind < len(f.text) && f.text[behind] == ' ' {
			behind++
		}
		return start, behind
	}
	before := strings.TrimRight(f.text[:start], " \r\n")
	if strings.HasSuffix(before, ",") {
		return len(before) - 1, end
	}
	return start, end
}

// wholeLines widens an entry of a block map to its lines, with the comment behind it; the
// only entry of a map cannot go, nor one that shares its line.
func (f *File) wholeLines(m *yaml.Node, start, end int) (int, int, error) {
	line := f.lineStart(start)
	if len(m.Content) <= 2 || strings.TrimSpace(f.text[line:start]) != "" {
		return 0, 0, ErrLayout
	}
	end = f.lineEnd(end)
	if end < len(f.text) {
		end++
	}
	return line, end, nil
}

func (f *File) span(n *yaml.Node) (start, end int, err error) {
	if start, err = f.offset(n); err != nil {
		return 0, 0, err
	}
	end, err = f.end(n, start)
	return start, end, err
}

// replace puts text in place of bytes, and keeps it only if the file then reads as meant
// says: every value where it was, but for the one change.
func (f *File) replace(path []string, start, end int, text string, meant func(root *yaml.Node)) error {
	want := clone(f.root)
	meant(want)
	next := f.text[:start] + text + f.text[end:]
	root, err := parse(next)
	if err != nil || !same(root, want) {
		return f.fail(path, ErrLayout)
	}
	f.text, f.root = next, root
	return nil
}

// clone copies a tree.
func clone(n *yaml.Node) *yaml.Node {
	again := *n
	again.Content = make([]*yaml.Node, len(n.Content))
	for i, c := range n.Content {
		again.Content[i] = clone(c)
	}
	return &again
}

// same reports whether two trees hold the same values under the same keys, in the same
// order.
func same(a, b *yaml.Node) bool {
	if a.Kind != b.Kind || a.Kind == yaml.ScalarNode && a.Value != b.Value || len(a.Content) != len(b.Content) {
		return false
	}
	for i := range a.Content {
		if !same(a.Content[i], b.Content[i]) {
			return false
		}
	}
	return true
}

func (f *File) refuse(path []string, why string) error {
	return fmt.Errorf("%s: %s: %w", strings.Join(path, "."), why, ErrLayout)
}

func (f *File) fail(path []string, err error) error {
	return fmt.Errorf("%s: %w", strings.Join(path, "."), err)
}

// quoted is a value in the quotes that another scalar has.
func quoted(value string, like *yaml.Node) string {
	switch {
	case like.Style&yaml.DoubleQuotedStyle != 0:
		return doubleQuoted(value)
	case like.Style&yaml.SingleQuotedStyle != 0:
		return "'" + strings.ReplaceAll(value, "'", "''") + "'"
	}
	return bare(value)
}

// bare is a value without quotes where it needs none, inside of braces or out.
func bare(value string) string {
	if value == "" || strings.ContainsAny(value, ",[]{}:#\"'\\\n&*!|>%@`") && !plainQuantity(value) || strings.TrimSpace(value) != value || strings.HasPrefix(value, "-") && len(value) > 1 && value[1] == ' ' {
		return doubleQuoted(value)
	}
	return value
}

// plainQuantity reports whether a value is one of those that quantities are written as,
// N*m and ± 1 % among them, which YAML reads bare.
func plainQuantity(value string) bool {
	return strings.IndexFunc(value[:1], func(c rune) bool { return c >= '0' && c <= '9' || c == '-' }) == 0 &&
		!strings.ContainsAny(value, ",[]{}:#\"'\\\n&!|>@`")
}

func doubleQuoted(value string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(value) + `"`
}
