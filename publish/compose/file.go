package compose

import (
	"path"

	"plansheaf/design/check"
	"plansheaf/publish/page"
)

// A File is made from a part's shape for another program than a browser.
type File struct {
	Path    string // within the publication
	Scale   string // of a drawing
	Only    page.Only
	Cutting bool // for a machine that cuts sheet
	Data    []byte
}

// aboutFile says what a file is, after its name.
func (c *composer) aboutFile(f File) []page.Inline {
	if f.Cutting {
		return c.said("contours to cut the sheet along (DXF, millimetres, true size)")
	}
	return c.said("drawing at %s for CAD programs (DXF, millimetres on paper)", f.Scale)
}

// fileLink leads to a file.
func fileLink(f File) []page.Inline {
	return []page.Inline{page.Link{To: page.Target{File: f.Path}, Words: page.Words(path.Base(f.Path))}}
}

// contours lists the files that machines cut sheets from, since all of them are
// wanted at once.
func (c *composer) contours() []page.Block {
	var list page.List
	for _, p := range c.plan.Parts {
		for _, f := range c.Pictures.Files[p.ID.Text] {
			if f.Cutting && c.taken(p) {
				list.Items = append(list.Items, page.Item{Only: f.Only, Blocks: []page.Block{page.Paragraph{Words: c.told("%s, for %s", fileLink(f), []page.Inline{c.partLink(p)})}}})
			}
		}
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []page.Block{
		page.Heading{Level: 2, ID: contoursAnchor, Words: c.said("Contours for cutting machines")},
		c.paragraph("DXF at true size in millimetres: closed contours on the layers outline, holes and holes-tap-drill-size, on the line that the part ends at. Allow for the kerf. Only what goes through is in them: counterbores, countersinks, pockets and threads are on the drawings."),
		list,
	}
}

// contoursAnchor is no name that a stock can have.
const contoursAnchor = "contours-to-cut"

// drawingFiles lists every drawing in the forms that it is there in, with the
// contours of sheet parts; nil where there are no drawings.
func (c *composer) drawingFiles() []page.Block {
	t := page.Table{ID: "drawing-files", Columns: []page.Column{
		c.head("Drawing"), c.head("For browsers (SVG)"), c.head("For CAD programs (DXF)"), c.head("To cut (DXF)"),
	}}
	for _, p := range c.plan.Parts {
		sheets := c.Pictures.Sheets[p.ID.Text]
		if len(sheets) == 0 || !c.taken(p) {
			continue
		}
		only, _ := c.only(func(s *check.Situation) bool { return s.Bill.Line(p.ID.Text) != nil })
		var shown, drawn, cut [][]page.Inline
		for _, s := range sheets {
			shown = append(shown, fileLink(File{Path: s.Picture.Name + ".svg"}))
		}
		for _, f := range c.Pictures.Files[p.ID.Text] {
			if f.Cutting {
				cut = append(cut, fileLink(f))
			} else {
				drawn = append(drawn, fileLink(f))
			}
		}
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells([]page.Inline{c.partLink(p)}, joined(shown), joined(drawn), joined(cut))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []page.Block{
		page.Heading{Level: 2, ID: "drawings", Words: c.said("Drawings")},
		c.paragraph("Drawings are in millimetres on paper, at the scale that they name; contours to cut are at true size, without the kerf."),
		t,
	}
}
