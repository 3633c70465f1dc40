package compose

import (
	"path"

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

// elsewhere says where the files are that the downloads page does not list.
func (c *composer) elsewhere() []page.Block {
	if len(c.Pictures.Sheets) == 0 {
		return nil
	}
	words := c.told("Each drawing is also there as DXF for CAD programs: on the page of its part, see %s.", c.to("drawings", "Drawings"))
	if len(c.contours()) > 0 {
		there := []page.Inline{page.Link{To: page.Target{Page: "cutting", Anchor: contoursAnchor}, Words: c.said("Cutting|to size")}}
		words = append(append(words, page.Text(" ")), c.told("The contours of sheet parts for cutting machines are listed under %s.", there)...)
	}
	return []page.Block{page.Paragraph{Words: words}}
}
