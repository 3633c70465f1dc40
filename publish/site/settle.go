package site

import (
	"html/template"
	"strings"
	"text/template/parse"

	"plansheaf/publish/wording"
)

// settle puts the phrases that templates say without any values into their text, once for
// the document rather than for each of its pages.
func settle(templates *template.Template, tongue *wording.Table) {
	for _, t := range templates.Templates() {
		if t.Tree != nil {
			settleList(t.Tree.Root, tongue)
		}
	}
}

// quoted escapes text, between tags or within quotes, as package html/template does.
func quoted(text string) string { return escapes.Replace(text) }

var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;", "+", "&#43;", "\x00", "\uFFFD")

func settleList(list *parse.ListNode, tongue *wording.Table) {
	if list == nil {
		return
	}
	for i, node := range list.Nodes {
		var branch *parse.BranchNode
		switch node := node.(type) {
		case *parse.ActionNode:
			if phrase, plain := phraseOf(node.Pipe); plain {
				words := quoted(tongue.Say(wording.Phrase(phrase)))
				list.Nodes[i] = &parse.TextNode{NodeType: parse.NodeText, Pos: node.Pos, Text: []byte(words)}
			}
			continue
		case *parse.IfNode:
			branch = &node.BranchNode
		case *parse.RangeNode:
			branch = &node.BranchNode
		case *parse.WithNode:
			branch = &node.BranchNode
		default:
			continue
		}
		settleList(branch.List, tongue)
		settleList(branch.ElseList, tongue)
	}
}

// phraseOf is what {{say "phrase"}} says; false of every other pipe.
func phraseOf(pipe *parse.PipeNode) (string, bool) {
	if len(pipe.Decl) > 0 || len(pipe.Cmds) != 1 || len(pipe.Cmds[0].Args) != 2 {
		return "", false
	}
	name, named := pipe.Cmds[0].Args[0].(*parse.IdentifierNode)
	phrase, said := pipe.Cmds[0].Args[1].(*parse.StringNode)
	if !named || !said || name.Ident != "say" {
		return "", false
	}
	return phrase.Text, true
}
