package prose

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// markdown is the one parser. HTML's own parsers are left out: its tags stay text.
// It keeps nothing between texts and may be used from several goroutines.
var markdown = parser.NewParser(
	parser.WithBlockParsers(
		util.Prioritized(parser.NewSetextHeadingParser(), 100),
		util.Prioritized(parser.NewThematicBreakParser(), 200),
		util.Prioritized(parser.NewListParser(), 300),
		util.Prioritized(parser.NewListItemParser(), 400),
		util.Prioritized(parser.NewCodeBlockParser(), 500),
		util.Prioritized(parser.NewATXHeadingParser(), 600),
		util.Prioritized(parser.NewFencedCodeBlockParser(), 700),
		util.Prioritized(parser.NewBlockquoteParser(), 800),
		util.Prioritized(extension.NewFootnoteBlockParser(), 999),
		util.Prioritized(parser.NewParagraphParser(), 1000),
	),
	parser.WithInlineParsers(
		util.Prioritized(extension.NewTaskCheckBoxParser(), 0),
		util.Prioritized(parser.NewCodeSpanParser(), 100),
		util.Prioritized(extension.NewFootnoteParser(), 101),
		util.Prioritized(braces{}, 150),
		util.Prioritized(parser.NewLinkParser(), 200),
		util.Prioritized(parser.NewAutoLinkParser(), 300),
		util.Prioritized(parser.NewEmphasisParser(), 500),
	),
	parser.WithParagraphTransformers(
		util.Prioritized(parser.LinkReferenceParagraphTransformer, 100),
		util.Prioritized(extension.NewTableParagraphTransformer(), 200),
	),
	parser.WithASTTransformers(
		util.Prioritized(extension.NewFootnoteASTTransformer(), 999),
	),
)

// Parse takes a text apart. The document is never nil; of a text past the limits it
// is empty and the one fault says why. Faults come in the order of the text.
func Parse(source string) (doc *Document, faults []Fault) {
	doc = &Document{}
	if fault, refused := refuse(source); refused {
		return doc, []Fault{fault}
	}
	defer func() {
		// The library has been fuzzed, but a text of a stranger's must never bring
		// the program down.
		if r := recover(); r != nil {
			doc, faults = &Document{}, []Fault{{Message: fmt.Sprintf("the text cannot be taken apart: %v", r), Remedy: "write it more plainly"}}
		}
	}()
	context := parser.NewContext()
	byOffset := map[int]Fault{}
	context.Set(faultsKey, byOffset)
	root := markdown.Parse(text.NewReader([]byte(source)), parser.WithContext(context))
	b := &builder{source: []byte(source), doc: doc}
	doc.Blocks = b.blocks(root)
	sort.SliceStable(doc.References, func(i, j int) bool { return doc.References[i].Offset < doc.References[j].Offset })
	sort.SliceStable(doc.Links, func(i, j int) bool { return doc.Links[i].Offset < doc.Links[j].Offset })
	for _, f := range byOffset {
		faults = append(faults, f)
	}
	sort.Slice(faults, func(i, j int) bool { return faults[i].Offset < faults[j].Offset })
	return doc, faults
}

// A builder makes our tree of the library's.
type builder struct {
	source []byte
	doc    *Document
}

func (b *builder) blocks(parent ast.Node) []Block {
	var list []Block
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		if made := b.block(n); made != nil {
			list = append(list, made)
		}
	}
	return list
}

func (b *builder) block(n ast.Node) Block {
	switch n := n.(type) {
	case *ast.Heading:
		return Heading{Level: n.Level, Words: b.words(n), Offset: n.Pos()}
	case *ast.Paragraph, *ast.TextBlock:
		return Paragraph{Words: b.words(n), Offset: n.Pos()}
	case *ast.List:
		return b.list(n)
	case *ast.Blockquote:
		return Quote{Blocks: b.blocks(n), Offset: n.Pos()}
	case *ast.CodeBlock:
		return Code{Text: b.lines(n), Offset: n.Pos()}
	case *ast.FencedCodeBlock:
		return Code{Text: b.lines(n), Language: string(n.Language(b.source)), Offset: n.Pos()}
	case *ast.ThematicBreak:
		return Break{Offset: n.Pos()}
	case *extast.Table:
		return b.table(n)
	case *extast.FootnoteList:
		return b.notes(n)
	}
	return nil
}

func (b *builder) lines(n ast.Node) string {
	var out strings.Builder
	for i := 0; i < n.Lines().Len(); i++ {
		line := n.Lines().At(i)
		out.Write(line.Value(b.source))
	}
	return out.String()
}

func (b *builder) list(n *ast.List) List {
	l := List{Ordered: n.IsOrdered(), Start: n.Start, Offset: n.Pos()}
	for item := n.FirstChild(); item != nil; item = item.NextSibling() {
		one := Item{Blocks: b.blocks(item)}
		if first := item.FirstChild(); first != nil {
			if box, ok := first.FirstChild().(*extast.TaskCheckBox); ok {
				one.Task, one.Done = true, box.IsChecked
			}
		}
		l.Items = append(l.Items, one)
	}
	return l
}

func (b *builder) table(n *extast.Table) Table {
	t := Table{Offset: n.Pos()}
	for row := n.FirstChild(); row != nil; row = row.NextSibling() {
		var cells [][]Inline
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			cells = append(cells, b.words(cell))
		}
		if _, head := row.(*extast.TableHeader); !head {
			t.Rows = append(t.Rows, cells)
			continue
		}
		for i, words := range cells {
			c := Column{Head: words}
			if i < len(n.Alignments) {
				c.Align = map[extast.Alignment]Align{extast.AlignRight: Right, extast.AlignCenter: Centre}[n.Alignments[i]]
			}
			t.Columns = append(t.Columns, c)
		}
	}
	return t
}

func (b *builder) notes(n *extast.FootnoteList) Notes {
	var notes Notes
	for note := n.FirstChild(); note != nil; note = note.NextSibling() {
		if f, ok := note.(*extast.Footnote); ok {
			notes.Notes = append(notes.Notes, Note{Number: f.Index, Blocks: b.blocks(f)})
		}
	}
	return notes
}

func (b *builder) words(parent ast.Node) []Inline {
	var words []Inline
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		words = b.word(words, n)
	}
	return words
}

// say adds text, joined to the text before it.
func say(words []Inline, more string) []Inline {
	if more == "" {
		return words
	}
	if last := len(words) - 1; last >= 0 {
		if before, ok := words[last].(Text); ok {
			words[last] = before + Text(more)
			return words
		}
	}
	return append(words, Text(more))
}

func (b *builder) word(words []Inline, n ast.Node) []Inline {
	switch n := n.(type) {
	case *ast.Text:
		value := string(n.Segment.Value(b.source))
		if !n.IsRaw() {
			value = resolve(value)
		}
		words = say(words, value)
		if n.HardLineBreak() {
			return append(words, Newline{})
		}
		if n.SoftLineBreak() {
			words = say(words, " ")
		}
		return words
	case *ast.String:
		return say(words, string(n.Value))
	case *ast.CodeSpan:
		return append(words, Verbatim(b.verbatim(n)))
	case *ast.Emphasis:
		if n.Level >= 2 {
			return append(words, Strong{b.words(n)})
		}
		return append(words, Emphasis{b.words(n)})
	case *referenceNode:
		b.doc.References = append(b.doc.References, n.reference)
		return append(words, n.reference)
	case *ast.Link:
		return append(words, b.link(n, n.Destination, false))
	case *ast.Image:
		return append(words, b.link(n, n.Destination, true))
	case *ast.AutoLink:
		return append(words, b.autoLink(n))
	case *extast.FootnoteLink:
		return append(words, NoteRef(n.Index))
	}
	return words
}

func (b *builder) verbatim(n ast.Node) string {
	var out strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			out.WriteString(strings.ReplaceAll(string(t.Segment.Value(b.source)), "\n", " "))
		}
	}
	return out.String()
}

// link notes a link or picture. The library keeps where it begins; its destination
// is looked for from there.
func (b *builder) link(n ast.Node, destination []byte, image bool) Link {
	l := Link{To: resolve(string(destination)), Image: image, Words: b.words(n), Offset: max(0, n.Pos()), Length: 1}
	if at := bytes.Index(b.source[min(l.Offset, len(b.source)):], append([]byte("]("), destination...)); at >= 0 && len(destination) > 0 {
		l.Offset, l.Length = l.Offset+at+2, len(destination)
	}
	b.doc.Links = append(b.doc.Links, l)
	return l
}

func (b *builder) autoLink(n *ast.AutoLink) Link {
	label := string(n.Label(b.source))
	l := Link{To: string(n.URL(b.source)), Words: []Inline{Text(label)}, Offset: max(0, n.Pos()), Length: 1}
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(l.To, "mailto:") {
		l.To = "mailto:" + l.To
	}
	if at := strings.Index(string(b.source[min(l.Offset, len(b.source)):]), label); at >= 0 {
		l.Offset, l.Length = l.Offset+at, len(label)
	}
	b.doc.Links = append(b.doc.Links, l)
	return l
}

// resolve puts the characters that backslashes and entities stand for.
func resolve(s string) string {
	if !strings.ContainsAny(s, `\&`) {
		return s
	}
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\' && i+1 < len(s) && util.IsPunct(s[i+1]):
			i++
			out.WriteByte(s[i])
		case s[i] == '&':
			end := strings.IndexByte(s[i:min(len(s), i+40)], ';')
			if end < 0 {
				out.WriteByte('&')
				continue
			}
			out.WriteString(entity(s[i : i+end+1]))
			i += end
		default:
			out.WriteByte(s[i])
		}
	}
	return out.String()
}

// entity is the character that an entity stands for; the entity itself where that
// could not be seen.
func entity(written string) string {
	resolved := string(util.ResolveEntityNames(util.ResolveNumericReferences([]byte(written))))
	for _, c := range resolved {
		if unicode.Is(unicode.Cc, c) || unicode.Is(unicode.Cf, c) && c != '\u00ad' {
			return written
		}
	}
	return resolved
}
