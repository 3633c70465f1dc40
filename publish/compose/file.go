package compose

import (
	"path"

	"plansheaf/publish/page"
)

// A File is made from a part's shape for another program than a browser.
type File struct {
	Path    string // within the publication
	About   string // what it is, after its name
	Only    page.Only
	Cutting bool // for a machine that cuts sheet
	Data    []byte
}

// fileItem links a file and says what it is.
func fileItem(f File, about ...page.Inline) page.Item {
	link := page.Link{To: page.Target{File: f.Path}, Words: page.Words(path.Base(f.Path))}
	return page.Item{Only: f.Only, Blocks: []page.Block{page.Paragraph{Words: append([]page.Inline{link}, about...)}}}
}

// contours lists the files that machines cut sheets from, since all of them are
// wanted at once.
func (c *composer) contours() []page.Block {
	var list page.List
	for _, p := range c.plan.Parts {
		for _, f := range c.Pictures.Files[p.ID.Text] {
			if f.Cutting && c.taken(p) {
				list.Items = append(list.Items, fileItem(f, page.Text(", for "), c.partLink(p)))
			}
		}
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []page.Block{
		page.Heading{Level: 2, ID: contoursAnchor, Words: page.Words("Contours for cutting machines")},
		paragraph("DXF at true size in millimetres: closed contours on the layers outline, holes and holes-tap-drill-size, on the line that the part ends at. " +
			"Allow for the kerf. Only what goes through is in them: counterbores, countersinks, pockets and threads are on the drawings."),
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
	words := []page.Inline{page.Text("Each drawing is also there as DXF for CAD programs: on the page of its part, see "),
		page.Link{To: page.Target{Page: "drawings"}, Words: page.Words("Drawings")}}
	if len(c.contours()) > 0 {
		words = append(words, page.Text(". The contours of sheet parts for cutting machines are listed under "),
			page.Link{To: page.Target{Page: "cutting", Anchor: contoursAnchor}, Words: page.Words("Cutting")})
	}
	return []page.Block{page.Paragraph{Words: append(words, page.Text("."))}}
}
