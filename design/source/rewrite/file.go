package rewrite

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// ErrLayout is the error for a place whose layout cannot be changed safely.
var ErrLayout = errors.New("the file's layout there cannot be changed without a person")

// A File is a YAML text with the changes made so far.
type File struct {
	text string
	root *yaml.Node
}

const byteOrderMark = "\uFEFF"

// Parse reads the text of a YAML file whose outermost value is a map.
func Parse(text []byte) (*File, error) {
	root, err := parse(string(text))
	if err != nil {
		return nil, err
	}
	return &File{text: string(text), root: root}, nil
}

func parse(text string) (*yaml.Node, error) {
	var doc yaml.Node
	d := yaml.NewDecoder(bytes.NewReader([]byte(strings.TrimPrefix(text, byteOrderMark))))
	if err := d.Decode(&doc); err != nil {
		return nil, fmt.Errorf("read the YAML: %w", err)
	}
	if len(doc.Content) != 1 || doc.Content[0].Kind != yaml.MappingNode {
		return nil, fmt.Errorf("read the YAML: %w: it is no map", ErrLayout)
	}
	return doc.Content[0], nil
}

// Text returns the file with its changes.
func (f *File) Text() []byte { return []byte(f.text) }

// Has reports whether there is a value at a path of keys.
func (f *File) Has(path ...string) bool {
	_, value := find(f.root, path)
	return value != nil
}

// Scalar returns the value at a path of keys, where that is no map or list.
func (f *File) Scalar(path ...string) (string, bool) {
	_, value := find(f.root, path)
	if value == nil || value.Kind != yaml.ScalarNode {
		return "", false
	}
	return value.Value, true
}

// Keys returns the keys of the map at a path, in order; nil where there is none.
func (f *File) Keys(path ...string) []string {
	_, value := find(f.root, path)
	if value == nil || value.Kind != yaml.MappingNode {
		return nil
	}
	var keys []string
	for i := 0; i+1 < len(value.Content); i += 2 {
		keys = append(keys, value.Content[i].Value)
	}
	return keys
}

// Line is the line, from 1, that the key at a path stands on; 0 where there is none.
func (f *File) Line(path ...string) int {
	key, _ := find(f.root, path)
	if key == nil {
		return 0
	}
	return key.Line
}

// find is the key and the value at a path below a map; the map itself for no path.
func find(at *yaml.Node, path []string) (key, value *yaml.Node) {
	value = at
	for _, name := range path {
		if value == nil || value.Kind != yaml.MappingNode {
			return nil, nil
		}
		key, value = entry(value, name)
	}
	return key, value
}

func entry(m *yaml.Node, name string) (key, value *yaml.Node) {
	for i := 0; i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == name {
			return m.Content[i], m.Content[i+1]
		}
	}
	return nil, nil
}

// offset is the byte at which a node begins.
func (f *File) offset(n *yaml.Node) (int, error) {
	text, at := f.text, 0
	if strings.HasPrefix(text, byteOrderMark) {
		at = len(byteOrderMark)
	}
	for line := 1; line < n.Line; line++ {
		next := strings.IndexByte(text[at:], '\n')
		if next < 0 {
			return 0, ErrLayout
		}
		at += next + 1
	}
	for column := 1; column < n.Column; column++ {
		_, size := utf8.DecodeRuneInString(text[at:])
		if size == 0 {
			return 0, ErrLayout
		}
		at += size
	}
	return at, nil
}

// end is the byte behind a node that begins at a byte.
func (f *File) end(n *yaml.Node, start int) (int, error) {
	if n.Anchor != "" || n.Kind == yaml.AliasNode || n.Style&yaml.TaggedStyle != 0 {
		return 0, ErrLayout
	}
	switch {
	case n.Kind == yaml.ScalarNode:
		return f.scalarEnd(n, start)
	case n.Style&yaml.FlowStyle == 0:
		return f.blockEnd(n)
	}
	return f.flowEnd(n, start)
}

func (f *File) scalarEnd(n *yaml.Node, start int) (int, error) {
	rest := f.text[start:]
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for i := 1; i < len(rest); i++ {
			switch rest[i] {
			case '\\':
				i++
			case '"':
				return start + i + 1, nil
			}
		}
	case n.Style&yaml.SingleQuotedStyle != 0:
		for i := 1; i < len(rest); i++ {
			if rest[i] != '\'' {
				continue
			}
			if i+1 < len(rest) && rest[i+1] == '\'' {
				i++
				continue
			}
			return start + i + 1, nil
		}
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 && n.Value != "" && strings.HasPrefix(rest, n.Value):
		return start + len(n.Value), nil
	}
	return 0, ErrLayout
}

// blockEnd is the end of the last thing in a block map or list.
func (f *File) blockEnd(n *yaml.Node) (int, error) {
	if len(n.Content) == 0 {
		return 0, ErrLayout
	}
	last := n.Content[len(n.Content)-1]
	start, err := f.offset(last)
	if err != nil {
		return 0, err
	}
	return f.end(last, start)
}

// flowEnd is behind the bracket that closes a flow map or list.
func (f *File) flowEnd(n *yaml.Node, start int) (int, error) {
	at := start + 1
	if len(n.Content) > 0 {
		last := n.Content[len(n.Content)-1]
		begin, err := f.offset(last)
		if err != nil {
			return 0, err
		}
		if at, err = f.end(last, begin); err != nil {
			return 0, err
		}
	}
	closing := byte('}')
	if n.Kind == yaml.SequenceNode {
		closing = ']'
	}
	for ; at < len(f.text); at++ {
		switch c := f.text[at]; {
		case c == closing:
			return at + 1, nil
		case c == '#':
			if at = f.lineEnd(at); at >= len(f.text) {
				return 0, ErrLayout
			}
		case c != ' ' && c != '\t' && c != '\r' && c != '\n' && c != ',':
			return 0, ErrLayout
		}
	}
	return 0, ErrLayout
}

// lineEnd is the line break behind a byte, or the end of the text.
func (f *File) lineEnd(at int) int {
	if next := strings.IndexByte(f.text[at:], '\n'); next >= 0 {
		return at + next
	}
	return len(f.text)
}
