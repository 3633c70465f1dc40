package binder

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"plansheaf/publish/inspect"
	"plansheaf/publish/page"
)

// said is the words on a leaf, one line each run.
func said(l leaf) string {
	var b strings.Builder
	for _, m := range l.marks {
		if words, ok := m.(textMark); ok {
			b.WriteString(words.words + " ")
		}
	}
	return b.String()
}

// laid is a document of one page laid out.
func laid(t *testing.T, kind page.Kind, blocks ...page.Block) []leaf {
	t.Helper()
	_, b, err := layOut(&page.Document{Title: "Press", Pages: []*page.Page{{ID: "p", Title: "Page", Kind: kind, Blocks: blocks}}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return b.leaves
}

// stepOf is a step with a caution, a picture and as many paragraphs as asked for,
// numbered.
func stepOf(number string, paragraphs int) page.Step {
	s := page.Step{
		Number: text(number), Title: "Title" + number, Anchor: "s" + number,
		Cautions: []page.CautionBox{{Signal: page.Warning, Title: text("Caution" + number), Blocks: []page.Block{page.Paragraph{Words: text("It falls.")}}}},
		Figure:   &page.Figure{Picture: plate("step", "Step", 110, 75), Caption: text("Figure" + number)},
	}
	for i := range paragraphs {
		s.Text = append(s.Text, page.Paragraph{Words: text(fmt.Sprintf("Text%s-%d ", number, i) + longProse)})
	}
	return s
}

// A step that has room on a leaf is on one, whatever blank that leaves.
func TestStepsAreNotTorn(t *testing.T) {
	for paragraphs := 1; paragraphs < 6; paragraphs++ {
		var blocks []page.Block
		for i := range 6 {
			blocks = append(blocks, stepOf(fmt.Sprintf("1.%d", i+1), paragraphs))
		}
		for i, l := range laid(t, page.Assembly, blocks...) {
			words := said(l)
			for n := range 6 {
				step := fmt.Sprintf("1.%d", n+1)
				parts := []string{"Title" + step, "Caution" + step, "Figure" + step}
				for k := range paragraphs {
					parts = append(parts, fmt.Sprintf("Text%s-%d", step, k))
				}
				found := 0
				for _, p := range parts {
					if strings.Contains(words, p) {
						found++
					}
				}
				if found != 0 && found != len(parts) {
					t.Errorf("%d paragraphs: leaf %d has %d of the %d pieces of step %s", paragraphs, i+1, found, len(parts), step)
				}
			}
		}
	}
}

// A step longer than a leaf says on each leaf which it is and what it warns of, with
// its picture beside the beginning of its text; a table in it has its own head too.
func TestLongStepRepeatsItsCautions(t *testing.T) {
	step := stepOf("2.1", 14)
	rows := partsTable(60)
	rows.Columns[0].Head = text("Headword")
	step.Text = append(step.Text, rows)
	leaves := laid(t, page.Assembly, page.Paragraph{Words: text("Before.")}, step, page.Paragraph{Words: text("Behind.")})
	on := 0
	for i, l := range leaves {
		words := said(l)
		if !strings.Contains(words, "Text2.1-") && !strings.Contains(words, "Part number") {
			continue
		}
		on++
		if !strings.Contains(words, "Title2.1") || !strings.Contains(words, "Caution2.1") || !strings.Contains(words, "WARNING") {
			t.Errorf("leaf %d of %d does not say which step goes on and what it warns of", i+1, len(leaves))
		}
		if strings.Contains(words, "Part number") && strings.Count(words, "Headword") != 1 {
			t.Errorf("leaf %d of %d has not one head of the table", i+1, len(leaves))
		}
		if strings.Contains(words, "Figure2.1") != strings.Contains(words, "Text2.1-0") {
			t.Errorf("leaf %d of %d: picture and text begin apart", i+1, len(leaves))
		}
		if l.used > paperFor("A4").room()+tolerance {
			t.Errorf("leaf %d of %d is filled to %.1f mm", i+1, len(leaves), l.used)
		}
	}
	if on < 3 {
		t.Errorf("the step is on %d leaves only", on)
	}
}

// A step that is set several times to find its size is bookmarked once.
func TestStepIsBookmarkedOnce(t *testing.T) {
	step := stepOf("1.1", 3)
	step.Text = append([]page.Block{page.Heading{Level: 2, ID: "inside", Words: text("Inside")}}, step.Text...)
	_, b, err := layOut(&page.Document{Title: "Press", Pages: []*page.Page{{ID: "p", Title: "Page", Kind: page.Assembly, Blocks: []page.Block{step}}}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, m := range b.bookmarks {
		seen[m.title]++
	}
	if seen["Inside"] != 1 || seen["1.1 Title1.1"] != 1 {
		t.Errorf("bookmarks %v", b.bookmarks)
	}
}

// What the cover shows is not shown again on the overview.
func TestOverviewDoesNotRepeatTheCover(t *testing.T) {
	machine := plate("machine", "Machine", 120, 90)
	doc := &page.Document{Title: "Press", Summary: "Presses tiles.", Pages: []*page.Page{{
		ID: "index", Title: "Press", Summary: "Presses tiles.", Kind: page.Front,
		Blocks: []page.Block{page.Figure{Picture: machine, Caption: text("Put together")}, page.Paragraph{Words: text("Promises.")}},
	}}}
	_, b, err := layOut(doc, Options{})
	if err != nil {
		t.Fatal(err)
	}
	pictures := 0
	for i, l := range b.leaves {
		for _, m := range l.marks {
			if p, ok := m.(pictureMark); ok && p.picture == machine {
				pictures++
			}
		}
		if words := said(l); i > 0 && (strings.Contains(words, "Presses tiles.") || strings.Contains(words, "Put together")) {
			t.Errorf("leaf %d repeats the cover: %s", i+1, words)
		}
	}
	if pictures != 1 {
		t.Errorf("the machine is pictured %d times", pictures)
	}
	if len(b.entries) != 1 || b.entries[0].title != "Overview" {
		t.Errorf("contents %v", b.entries)
	}
}

// A long list of few narrow columns stands in two halves beside each other, every
// row once and in order.
func TestLongListsStandInTwo(t *testing.T) {
	list := page.Table{ID: "items", Columns: []page.Column{{Head: text("Item"), Align: page.Right}, {Head: text("Part")}, {Head: text("Count")}}}
	for i := range 31 {
		list.Rows = append(list.Rows, row(fmt.Sprint(i+1), fmt.Sprintf("Post-%02d", i+1), "2"))
	}
	var left, right []string
	for _, l := range laid(t, page.PartsList, list) {
		for _, m := range l.marks {
			if words, ok := m.(textMark); ok && strings.HasPrefix(words.words, "Post-") {
				if words.x < 105 {
					left = append(left, words.words)
				} else {
					right = append(right, words.words)
				}
			}
		}
	}
	if len(left) != 16 || len(right) != 15 {
		t.Fatalf("%d rows left, %d right", len(left), len(right))
	}
	for i, got := range append(left, right...) {
		if want := fmt.Sprintf("Post-%02d", i+1); got != want {
			t.Errorf("row %d is %s", i+1, got)
		}
	}
}

// Each embedded font is a subset that says so: six capitals, each subset with its
// own, and the font's PostScript name (ISO 32000-1, 9.6.4).
func TestFontsAreTaggedAsSubsets(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(inspect.Run(t, "pdffonts", sampleFile(t))), "\n")[2:]
	tags := map[string]bool{}
	for _, l := range lines {
		name := strings.Fields(l)[0]
		if !regexp.MustCompile(`^[A-Z]{6}\+DejaVuSans(Mono)?(-Bold|-Oblique|-BoldOblique)?$`).MatchString(name) {
			t.Errorf("font %q is not named as a subset", name)
		}
		if tag, _, _ := strings.Cut(name, "+"); tags[tag] {
			t.Errorf("two subsets have the tag %s", tag)
		} else {
			tags[tag] = true
		}
		if !strings.Contains(l, " yes yes yes ") {
			t.Errorf("font %q is not embedded as a subset with its characters: %s", name, l)
		}
	}
	if len(lines) < 4 {
		t.Errorf("only %d fonts", len(lines))
	}
}
