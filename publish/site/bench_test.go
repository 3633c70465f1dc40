package site

import (
	"fmt"
	"testing"

	"plansheaf/publish/page"
)

// large is a document of that many parts, each with a page, a row and a drawing,
// and a fifth as many steps.
func large(parts int) *page.Document {
	doc := sample()
	list := page.Table{ID: "all", Columns: sampleParts().Blocks[0].(page.Table).Columns}
	for i := range parts {
		id := fmt.Sprintf("parts/part_%d", i)
		drawing := plate()
		drawing.Name = fmt.Sprintf("drawings/part_%d", i)
		part := samplePart()
		part.ID, part.Title, part.Sheets = id, fmt.Sprintf("Part %d", i), []page.Sheet{{Picture: drawing, Size: "A4 landscape", Scale: "1:2"}}
		doc.Pages = append(doc.Pages, part)
		list.Rows = append(list.Rows, page.Row{Cells: []page.Cell{
			{Words: []page.Inline{page.Link{To: page.Target{Page: id}, Words: page.Words(part.Title)}}},
			{Words: page.Words("2")}, {Words: page.Words("sheet")}, {Words: page.Words("0.79 kg")}, {Words: page.Words("Aluminium EN AW-6082")},
			{Words: []page.Inline{mm("260 × 120 × 10 mm", "10.24 × 4.72 × 0.39 in")}},
		}})
	}
	build := &page.Page{ID: "build/all", Title: "All", Kind: page.Assembly, Parent: "build"}
	for i := range parts / 5 {
		build.Blocks = append(build.Blocks, sampleStep(i, fmt.Sprintf("all-%d", i), "Fit it", nil))
	}
	doc.Pages = append(doc.Pages, build, &page.Page{ID: "all", Title: "All parts", Kind: page.PartsList, Blocks: []page.Block{list}})
	return doc
}

func BenchmarkRender(b *testing.B) {
	for _, parts := range []int{125, 500} {
		b.Run(fmt.Sprintf("parts=%d", parts), func(b *testing.B) {
			doc := large(parts)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Render(doc, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
