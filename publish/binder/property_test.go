package binder

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// A generator makes random documents of any shape that the model allows.
type generator struct {
	*rand.Rand
	anchors int
}

var vocabulary = []string{"plate", "a", "M8×25", "⌀5.5", "counter-clockwise", "and/or", "Ελληνικά", "Кириллица", "café", "3/8 in",
	"Donaudampfschifffahrtsgesellschaftskapitänskajüte", "⌴", "⟂", "\u00ad", "x\u00a0y", "12 345 mm", "ℝ", "e\u0301", "—", "to", "of", "the", "tighten", "screw"}

func (g *generator) words(most int) []page.Inline {
	var out []page.Inline
	for range 1 + g.IntN(most) {
		word := vocabulary[g.IntN(len(vocabulary))] + " "
		switch g.IntN(12) {
		case 0:
			out = append(out, page.Strong{Words: text(word)})
		case 1:
			out = append(out, page.Emphasis{Words: []page.Inline{page.Strong{Words: text(word)}}})
		case 2:
			out = append(out, page.Verbatim(word))
		case 3:
			out = append(out, page.Measure{First: "12.5 mm", Second: "1/2 in"})
		case 4:
			out = append(out, page.Link{To: page.Target{Page: fmt.Sprintf("p%d", g.IntN(6))}, Words: text(word)})
		case 5:
			out = append(out, page.Link{To: page.Target{URL: "https://example.org/" + strings.Repeat("long/", g.IntN(20))}, Words: text(word)})
		case 6:
			out = append(out, page.Newline{})
		default:
			out = append(out, page.Text(word))
		}
	}
	return out
}

func (g *generator) rows(columns, most int) []page.Row {
	var rows []page.Row
	for range g.IntN(most) {
		r := page.Row{Section: g.IntN(8) == 0}
		for range columns {
			length := 4
			if g.IntN(150) == 0 {
				length = 900 // a cell taller than a leaf
			}
			r.Cells = append(r.Cells, page.Cell{Words: g.words(length)})
		}
		if g.IntN(4) == 0 {
			r.Tick = "t"
		}
		rows = append(rows, r)
	}
	return rows
}

func (g *generator) table() page.Table {
	t := page.Table{Caption: g.words(8)}
	for range 1 + g.IntN(9) {
		t.Columns = append(t.Columns, page.Column{Head: g.words(3), Align: page.Align(g.IntN(3))})
	}
	if g.IntN(10) == 0 {
		for range 30 {
			t.Columns = append(t.Columns, page.Column{Head: g.words(2)})
		}
	}
	t.Rows, t.Foot = g.rows(len(t.Columns), 16), g.rows(len(t.Columns), 3)
	return t
}

func (g *generator) picture() *picture.Picture {
	return plate("p", "Random", 5+400*g.Float64(), 5+400*g.Float64())
}

func (g *generator) facts() []page.Fact {
	var facts []page.Fact
	for range 1 + g.IntN(6) {
		facts = append(facts, page.Fact{Label: "Label", Words: g.words(1 + 40*g.IntN(3))})
	}
	return facts
}

func (g *generator) items(depth int) []page.Item {
	var items []page.Item
	for range 1 + g.IntN(4) {
		items = append(items, page.Item{Blocks: g.blocks(2, depth+1), Tick: strings.Repeat("t", g.IntN(2))})
	}
	return items
}

func (g *generator) caution(depth int) page.CautionBox {
	signals := []page.Signal{page.Danger, page.Warning, page.Caution, page.Notice, "odd"}
	return page.CautionBox{Signal: signals[g.IntN(len(signals))], Title: g.words(8), Blocks: g.blocks(3, depth+1), Sign: "W024"}
}

func (g *generator) block(depth int) page.Block {
	kind := g.IntN(14)
	if depth > 1 {
		kind = g.IntN(4)
	}
	switch kind {
	case 0:
		g.anchors++
		return page.Heading{Level: 2 + g.IntN(4), ID: fmt.Sprintf("h%d", g.anchors), Words: g.words(6)}
	case 1, 2:
		return page.Paragraph{Words: g.words(150)}
	case 3:
		return page.Code{Text: strings.Repeat("x = 1 / 3\n", g.IntN(60))}
	case 4:
		return page.List{Ordered: g.IntN(2) == 0, Items: g.items(depth)}
	case 5:
		return page.Quote{Blocks: g.blocks(3, depth+1)}
	case 6:
		return g.table()
	case 7:
		return page.Figure{Picture: g.picture(), Caption: g.words(30), Small: g.IntN(2) == 0}
	case 8:
		return g.caution(depth)
	case 9:
		return page.Facts{Facts: g.facts()}
	case 10:
		bag := g.table()
		s := page.Step{Number: text("2.4"), Title: plain(g.words(9), nil), Bag: &bag, Text: g.blocks(3, depth+1), Facts: g.facts(), Measures: g.items(depth), Tick: "s"}
		if g.IntN(2) == 0 {
			s.Figure = &page.Figure{Picture: g.picture(), Caption: g.words(5)}
			s.Cautions = []page.CautionBox{g.caution(depth)}
		}
		return s
	case 11:
		is := notation.Beside(notation.Name(plain(g.words(40), nil)), plain(g.words(40), nil))
		return page.Equation{Name: notation.Name("force"), About: g.words(9), Is: is, Worked: []page.Worked{{Is: is}}, Result: g.words(3), Facts: g.facts()}
	case 12:
		var cards []page.Card
		for range g.IntN(7) {
			cards = append(cards, page.Card{Title: plain(g.words(5), nil), Note: g.words(20), Picture: g.picture(), Target: page.Target{Page: "p1"}})
		}
		return page.Cards{Cards: cards}
	}
	return page.Footnotes{Notes: []page.Footnote{{Number: 1, Blocks: g.blocks(1, depth+1)}}}
}

func (g *generator) blocks(most, depth int) []page.Block {
	var blocks []page.Block
	for range 1 + g.IntN(most) {
		blocks = append(blocks, g.block(depth))
	}
	return blocks
}

func (g *generator) document() *page.Document {
	kinds := []page.Kind{page.Front, page.Safety, page.Part, page.Part, page.Assembly, page.Prose, page.License}
	doc := &page.Document{Title: plain(g.words(6), nil), Summary: plain(g.words(30), nil), Revision: "A", Date: "2026-01-31",
		Sheet: []string{"A4", "letter"}[g.IntN(2)], Draft: g.IntN(2) == 0}
	for i := range 6 {
		p := &page.Page{ID: fmt.Sprintf("p%d", i), Title: plain(g.words(5), nil), Kind: kinds[g.IntN(len(kinds))], Blocks: g.blocks(6, 0)}
		if g.IntN(3) == 0 {
			p.Sheets = []page.Sheet{{Picture: sheetPicture("s", "Sheet", 420, 297), Size: "A3 landscape", Scale: "1:2"}}
		}
		doc.Pages = append(doc.Pages, p)
	}
	return doc
}

// seeds is how many random documents the properties are tried on.
const seeds = 12

func randomDocument(seed uint64) *page.Document {
	return (&generator{Rand: rand.New(rand.NewPCG(seed, 7))}).document()
}

// checkLeaves reports what stands outside its leaf, words outside the text frame,
// and characters that their face cannot print.
func checkLeaves(t *testing.T, c *composer, b *book, twoSided bool) {
	t.Helper()
	const slack = 0.01
	for i, l := range b.leaves {
		// A word may touch the margin by at most the padding of a cell.
		left := c.left(i, twoSided)
		right := left + c.paper.textWidth() + cellPad
		if !l.drawing && l.used > c.paper.room()+slack {
			t.Errorf("leaf %d: %.1f mm of text in %.1f mm", i+1, l.used, c.paper.room())
		}
		for _, m := range l.marks {
			box := m.box(c.fonts)
			if !finite(box.x, box.y, box.w, box.h) || box.x < -slack || box.y < -slack || box.x+box.w > l.width+slack || box.y+box.h > l.height+slack {
				t.Errorf("leaf %d (%.0f×%.0f): %T at %.2f", i+1, l.width, l.height, m, box)
			}
			if apart, is := m.(apartMark); is {
				m = apart.mark
			}
			switch m := m.(type) {
			case textMark:
				if !l.drawing && (box.x < left-slack || box.x+box.w > right+slack) {
					t.Errorf("leaf %d: %q reaches from %.1f to %.1f mm", i+1, m.words, box.x, box.x+box.w)
				}
				checkGlyphs(t, c, m)
			case sideMark:
				checkGlyphs(t, c, textMark(m))
			case pageMark, lateLine:
				t.Errorf("leaf %d: a page number was not written", i+1)
			}
		}
	}
}

func checkGlyphs(t *testing.T, c *composer, m textMark) {
	t.Helper()
	for _, r := range m.words {
		if !c.fonts.has(m.style.face, r) {
			t.Errorf("face %d cannot print %U in %q", m.style.face, r, m.words)
		}
	}
}

func TestNothingStandsOutsideItsLeaf(t *testing.T) {
	for seed := range uint64(seeds) {
		c, b, err := layOut(randomDocument(seed), Options{TwoSided: seed%2 == 0})
		if err != nil {
			t.Fatal(err)
		}
		t.Run(fmt.Sprint(seed), func(t *testing.T) { checkLeaves(t, c, b, seed%2 == 0) })
	}
}

// A composition is a random document in atoms, chapter by chapter.
type composition struct {
	*composer
	chapters [][]atom
}

// compositions are the random documents that several properties are tried on.
var compositions = sync.OnceValue(func() []composition {
	var all []composition
	for seed := range uint64(seeds) {
		fonts, err := openFonts()
		if err != nil {
			panic(err)
		}
		c := composition{composer: newComposer(randomDocument(seed), Options{}, fonts, newDarkroom(nil), pageDigits)}
		c.survey()
		for _, chapter := range chapters(c.order) {
			var atoms []atom
			for i, p := range chapter.pages {
				c.page = p.ID
				atoms = append(atoms, c.pageAtoms(p, i == 0, nil)...)
			}
			c.chapters = append(c.chapters, atoms)
		}
		all = append(all, c)
	}
	return all
})

func TestNoHeadingIsOrphaned(t *testing.T) {
	for seed, c := range compositions() {
		for _, atoms := range c.chapters {
			next := leafEnds(atoms, c.paper.room())
			for end := 0; end < len(atoms); end = next[end] {
				if end == 0 || atoms[end-1].stay != glued {
					continue
				}
				// Only a run that no leaf can hold may be torn.
				from, to := end-1, end
				for from > 0 && atoms[from-1].stay == glued {
					from--
				}
				for to < len(atoms)-1 && atoms[to].stay == glued {
					to++
				}
				high := size(atoms[from:to+1]) + 2*framePad*float64(len(atoms[from].frames)+len(atoms[to].frames))
				if head := repeatedHead(atoms, from); head != nil {
					high += head.height
				}
				if high < c.paper.room() {
					t.Errorf("seed %d: a run of %.0f mm that belongs together is torn", seed, high)
				}
			}
		}
	}
}

func TestNoRunOfBlankLeaves(t *testing.T) {
	for seed, c := range compositions() {
		for _, atoms := range c.chapters {
			leaves := paginate(atoms, c.paper.room())
			for i := range leaves {
				if leaves[i].used <= 0 {
					t.Errorf("seed %d: leaf %d of its chapter is blank", seed, i+1)
				}
				if i+2 < len(leaves) && leaves[i].used < c.paper.room()*0.25 && leaves[i+1].used < c.paper.room()*0.25 {
					t.Errorf("seed %d: leaves %d and %d of their chapter are nearly blank", seed, i+1, i+2)
				}
			}
		}
	}
}

func TestRowsAreNotSplit(t *testing.T) {
	fonts, err := openFonts()
	if err != nil {
		t.Fatal(err)
	}
	c := newComposer(&page.Document{}, Options{}, fonts, newDarkroom(nil), pageDigits)
	table := partsTable(150)
	for i := range table.Rows {
		table.Rows[i].Section = false
	}
	atoms := c.table(table, column{0, c.paper.textWidth(), bodySize, 0})
	// Caption, head, one atom a row, the total.
	if want := 2 + len(table.Rows) + 1; len(atoms) != want {
		t.Errorf("%d atoms for %d rows, want %d", len(atoms), len(table.Rows), want)
	}
	leaves := paginate(atoms, c.paper.room())
	for i, l := range leaves {
		heads := 0
		for _, m := range l.marks {
			if words, ok := m.(textMark); ok && words.words == "Material" {
				heads++
			}
		}
		if heads != 1 {
			t.Errorf("leaf %d of %d has %d heads", i+1, len(leaves), heads)
		}
	}
	if len(leaves) < 5 {
		t.Errorf("only %d leaves", len(leaves))
	}
}

// TestTallRowIsCutBetweenLines: what is taller than a leaf loses no line.
func TestTallRowIsCutBetweenLines(t *testing.T) {
	doc := &page.Document{Title: "Tall", Pages: []*page.Page{{ID: "p", Title: "Tall", Kind: page.Prose, Blocks: []page.Block{
		page.Table{Columns: []page.Column{{Head: text("Head")}, {Head: text("Other")}}, Rows: []page.Row{row(strings.Repeat("word ", 3000), "end")}}}}}}
	_, b, err := layOut(doc, Options{})
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, l := range b.leaves {
		for _, m := range l.marks {
			if words, ok := m.(textMark); ok {
				count += strings.Count(words.words, "word")
			}
		}
	}
	if count != 3000 {
		t.Errorf("%d of 3000 words are printed", count)
	}
}

func TestRandomDocumentsRenderAlike(t *testing.T) {
	for seed := range uint64(1) {
		first, _, err := Render(randomDocument(seed), Options{})
		if err != nil {
			t.Fatal(err)
		}
		again, _, err := Render(randomDocument(seed), Options{})
		if err != nil || !bytes.Equal(first, again) {
			t.Errorf("seed %d: other bytes (%v)", seed, err)
		}
	}
}

func TestSectionsWithoutRowsAreLeftOut(t *testing.T) {
	only := page.Only{{Choice: "drive", Options: []string{"crank"}}}
	section := func(name string) page.Row { r := row(name); r.Section = true; return r }
	other := row("handle")
	other.Only = only
	c := newComposer(sample(), Options{}, nil, nil, pageDigits)
	for _, test := range []struct {
		name string
		rows []page.Row
		want string
	}{
		{"all rows of another choice", []page.Row{section("Crank"), other, section("Frame"), row("post")}, "Frame post"},
		{"last section", []page.Row{row("first"), section("Frame"), row("post"), section("Crank"), other, other}, "first Frame post"},
		{"some rows are left", []page.Row{section("Drive"), other, row("belt")}, "Drive belt"},
		{"section above a section", []page.Row{section("All"), section("Frame"), row("post")}, "All Frame post"},
		{"no section", []page.Row{other, row("post")}, "post"},
	} {
		var names []string
		for _, r := range c.rowsFor(test.rows) {
			names = append(names, plain(r.Cells[0].Words, nil))
		}
		if got := strings.Join(names, " "); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}
