package prose

import (
	"bytes"
	"regexp"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// kindReference is the kind of a referenceNode in the Markdown library's tree.
var kindReference = ast.NewNodeKind("Reference")

type referenceNode struct {
	ast.BaseInline
	reference Reference
}

func (n *referenceNode) Kind() ast.NodeKind { return kindReference }

func (n *referenceNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

// braces parses {name} and {picture name}.
type braces struct{}

func (braces) Trigger() []byte { return []byte{'{'} }

var content = regexp.MustCompile(`^(picture +)?([a-z][a-z0-9_]*(?:\.[a-z0-9_]+)*)$`)

// faultsKey keeps the faults of braces in the parser's context, by offset.
var faultsKey = parser.NewContextKey()

func (braces) Parse(_ ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, segment := block.PeekLine()
	faults, _ := pc.Get(faultsKey).(map[int]Fault)
	end := bytes.IndexByte(line, '}')
	if end < 0 {
		faults[segment.Start] = Fault{
			Offset: segment.Start, Length: 1, Message: "the brace that opens here is not closed on its line",
			Remedy: `close it, or write \{ for a brace that is meant as such`,
		}
		return nil
	}
	m := content.FindSubmatchIndex(line[1:end])
	if m == nil {
		faults[segment.Start] = Fault{
			Offset: segment.Start, Length: end + 1, Message: "what stands in these braces cannot be a name",
			Remedy: `write a name such as {head_plate} or {press_force.force}, or \{ for a brace that is meant as such`,
		}
		return nil
	}
	name := line[1+m[4] : 1+m[5]]
	n := &referenceNode{reference: Reference{
		Name: string(name), Picture: m[2] >= 0, Offset: segment.Start + 1 + m[4], Length: len(name),
	}}
	block.Advance(end + 1)
	return n
}
