package prose

import (
	"fmt"
	"strings"
	"testing"
)

// show writes a tree on one line a block.
func show(blocks []Block) string {
	var out []string
	for _, b := range blocks {
		out = append(out, showBlock(b))
	}
	return strings.Join(out, "\n")
}

func showBlock(b Block) string {
	switch b := b.(type) {
	case Heading:
		return fmt.Sprintf("h%d(%s)", b.Level, showWords(b.Words))
	case Paragraph:
		return "p(" + showWords(b.Words) + ")"
	case List:
		var items []string
		for _, item := range b.Items {
			mark := ""
			if item.Task {
				mark = map[bool]string{true: "[x] ", false: "[ ] "}[item.Done]
			}
			items = append(items, mark+show(item.Blocks))
		}
		return fmt.Sprintf("list%d%v(%s)", b.Start, b.Ordered, strings.Join(items, "; "))
	case Quote:
		return "quote(" + show(b.Blocks) + ")"
	case Code:
		return fmt.Sprintf("code(%s %q)", b.Language, b.Text)
	case Break:
		return "break"
	case Table:
		var rows []string
		var head []string
		for _, c := range b.Columns {
			head = append(head, fmt.Sprintf("%s:%d", showWords(c.Head), c.Align))
		}
		rows = append(rows, strings.Join(head, "|"))
		for _, row := range b.Rows {
			var cells []string
			for _, words := range row {
				cells = append(cells, showWords(words))
			}
			rows = append(rows, strings.Join(cells, "|"))
		}
		return "table(" + strings.Join(rows, "; ") + ")"
	case Notes:
		var notes []string
		for _, n := range b.Notes {
			notes = append(notes, fmt.Sprintf("%d %s", n.Number, show(n.Blocks)))
		}
		return "notes(" + strings.Join(notes, "; ") + ")"
	}
	return fmt.Sprintf("%T", b)
}

func showWords(words []Inline) string {
	var out strings.Builder
	for _, w := range words {
		switch w := w.(type) {
		case Text:
			out.WriteString(string(w))
		case Verbatim:
			out.WriteString("`" + string(w) + "`")
		case Strong:
			out.WriteString("**" + showWords(w.Words) + "**")
		case Emphasis:
			out.WriteString("*" + showWords(w.Words) + "*")
		case Reference:
			out.WriteString(fmt.Sprintf("<%s %v>", w.Name, w.Picture))
		case Link:
			out.WriteString(fmt.Sprintf("<%s %v %s>", w.To, w.Image, showWords(w.Words)))
		case NoteRef:
			out.WriteString(fmt.Sprintf("^%d", w))
		case Newline:
			out.WriteString("/")
		}
	}
	return out.String()
}

func TestParse(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{name: "paragraphs", text: "One\ntwo.\n\nThree  \nfour.", want: "p(One two.)\np(Three/four.)"},
		{name: "heading", text: "## The {head_plate}\n\nText", want: "h2(The <head_plate false>)\np(Text)"},
		{name: "stress", text: "*a* **b** `c {d}`", want: "p(*a* **b** `c {d}`)"},
		{name: "reference", text: "Bolt {frame.head_plate}, see {picture head_plate}.", want: "p(Bolt <frame.head_plate false>, see <head_plate true>.)"},
		{name: "reference within stress and link", text: "**{a}** [{b}](files/x.pdf)", want: "p(**<a false>** <files/x.pdf false <b false>>)"},
		{name: "picture", text: "![The {a}](files/x.png)", want: "p(<files/x.png true The <a false>>)"},
		{name: "escaped brace", text: `\{a}`, want: "p({a})"},
		{name: "HTML stays text", text: "<b onclick=x>{a}</b>\n\n<script>\nalert(1)\n</script>", want: "p(<b onclick=x><a false></b>)\np(<script> alert(1) </script>)"},
		{name: "entities", text: `&deg; &#8960; \&deg; &amp;deg; &nothing; &#x202e;`, want: "p(° ⌀ &deg; &deg; &nothing; &#x202e;)"},
		{name: "lists", text: "- a\n- b\n\n3. c\n4. d", want: "list0false(p(a); p(b))\nlist3true(p(c); p(d))"},
		{name: "tasks", text: "- [ ] a\n- [x] b", want: "list0false([ ] p(a); [x] p(b))"},
		{name: "table", text: "| a | b |\n|---|--:|\n| {c} | d |", want: "table(a:0|b:1; <c false>|d)"},
		{name: "footnote", text: "A[^1].\n\n[^1]: Note {b}.", want: "p(A^1.)\nnotes(1 p(Note <b false>.))"},
		{name: "code", text: "```sh\nrm {a}\n```\n\n    b {c}", want: "code(sh \"rm {a}\\n\")\ncode( \"b {c}\\n\")"},
		{name: "quote and break", text: "> a\n\n---", want: "quote(p(a))\nbreak"},
		{name: "address", text: "<https://example.org/a> <a@example.org>", want: "p(<https://example.org/a false https://example.org/a> <mailto:a@example.org false a@example.org>)"},
		{name: "dashes stay", text: "use --draft...", want: "p(use --draft...)"},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc, faults := Parse(test.text)
			if len(faults) > 0 {
				t.Errorf("faults: %v", faults)
			}
			if got := show(doc.Blocks); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}

// TestPositions checks that the offsets of names and links cover what they name.
func TestPositions(t *testing.T) {
	text := "# {one}\n\n> - é **{two.x}** [l]( <files/a b.pdf> ) ![p](files/p.png)\n\n| {three} | b |\n|---|---|\n| c | {picture  four} |\n\nx[^1] <https://example.org> [r][d]\n\n[^1]: {five}\n\n[d]: files/d.pdf\n"
	doc, faults := Parse(text)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	var names, links []string
	for _, r := range doc.References {
		names = append(names, text[r.Offset:r.Offset+r.Length])
	}
	for _, l := range doc.Links {
		links = append(links, text[l.Offset:l.Offset+l.Length])
	}
	if got, want := strings.Join(names, " "), "one two.x three four five"; got != want {
		t.Errorf("names %q, want %q", got, want)
	}
	if got, want := strings.Join(links, " "), "[ files/p.png https://example.org ["; got != want {
		t.Errorf("links %q, want %q", got, want)
	}
}

func TestFaults(t *testing.T) {
	for _, test := range []struct {
		name, text, covers, says string
	}{
		{name: "open brace", text: "a {b\nc}", covers: "{", says: "not closed"},
		{name: "no name", text: "a {b c} d", covers: "{b c}", says: "cannot be a name"},
		{name: "wide table", text: "x\n" + strings.Repeat("|a", 70) + "\ny", covers: strings.Repeat("|a", 70), says: "bars"},
		{name: "deep quotes", text: "x\n" + strings.Repeat(">", 100), covers: strings.Repeat(">", 100), says: "nested"},
		{name: "deep lists", text: strings.Repeat("- ", 100) + "a", covers: strings.Repeat("- ", 100) + "a", says: "nested"},
		{name: "many marks", text: strings.Repeat("*a_ ", 10000), covers: strings.Repeat("*a_ ", 10000), says: "marks"},
		{name: "long", text: strings.Repeat("a", MaxBytes+1), covers: "", says: "bytes long"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, faults := Parse(test.text)
			if len(faults) != 1 {
				t.Fatalf("got %v, want one fault", faults)
			}
			f := faults[0]
			if got := test.text[f.Offset : f.Offset+f.Length]; got != test.covers {
				t.Errorf("covers %.80q, want %.80q", got, test.covers)
			}
			if !strings.Contains(f.Message, test.says) || f.Remedy == "" {
				t.Errorf("says %q, remedy %q", f.Message, f.Remedy)
			}
		})
	}
}

// TestBracesInCode makes sure that braces in code are no faults.
func TestBracesInCode(t *testing.T) {
	_, faults := Parse("`{a b}`\n\n    {\n\n```\n{ x\n```\n")
	if len(faults) > 0 {
		t.Error(faults)
	}
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"# {a}\n\n- [ ] **b** {picture c.d}\n", "| a | b |\n|--|--|\n| {c} | \\| |\n", "x[^1]\n\n[^1]: {y}", "[a](javascript:x) ![b](<c d>) <e@f>", "{", "{a b}", "\\{a} &amp; &#0;", "> > - 1. a\n\tb",
		"[a]: b\n[a] [a][] [x][a]", "```{a}\n{b}\n", "é{ö}\u2028{a}", "\x00{a}\xff",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		doc, faults := Parse(text)
		for _, r := range doc.References {
			if text[r.Offset:r.Offset+r.Length] != r.Name {
				t.Errorf("reference %q covers %q", r.Name, text[r.Offset:r.Offset+r.Length])
			}
		}
		for _, l := range doc.Links {
			_ = text[l.Offset : l.Offset+l.Length]
		}
		for _, fault := range faults {
			_ = text[fault.Offset : fault.Offset+fault.Length]
		}
		if len(faults) == 1 && strings.HasPrefix(faults[0].Message, "the text cannot be taken apart") {
			t.Error(faults[0].Message)
		}
	})
}

// BenchmarkWorst parses what costs most within the limits.
func BenchmarkWorst(b *testing.B) {
	for _, test := range []struct{ name, text string }{
		{name: "stress", text: strings.Repeat("*a_ ", MaxMarks/2)},
		{name: "links", text: strings.Repeat("[a](", MaxMarks)},
		{name: "braces", text: strings.Repeat("{a ", MaxMarks)},
		{name: "tables", text: strings.Repeat("|a", MaxPipes) + "\n" + strings.Repeat("|-", MaxPipes) + "\n" + strings.Repeat("|\n", 200)},
	} {
		b.Run(test.name, func(b *testing.B) {
			for b.Loop() {
				Parse(test.text)
			}
		})
	}
}
