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

// forPrograms says where files for other programs are, and lists those that machines
// cut from, since all of them are wanted at once.
func (c *composer) forPrograms() []page.Block {
	var drawn int
	var cutting page.List
	for _, p := range c.plan.Parts {
		if !c.taken(p) {
			continue
		}
		for _, f := range c.Pictures.Files[p.ID.Text] {
			drawn++
			if f.Cutting {
				cutting.Items = append(cutting.Items, fileItem(f, page.Text(", for "), c.partLink(p)))
			}
		}
	}
	if drawn == 0 {
		return nil
	}
	blocks := []page.Block{paragraph("Every drawing is there for CAD programs too, as DXF: on the page of its part, under Files.")}
	if len(cutting.Items) > 0 {
		blocks = append(blocks,
			page.Heading{Level: 2, ID: "cutting-files", Words: page.Words("To cut sheets from")},
			paragraph("DXF at true size in millimetres: closed contours on the layers outline, holes and holes-tap-drill-size, on the line that the part ends at. "+
				"Allow for the kerf. Only what goes through is in them: counterbores, countersinks, pockets and threads are on the drawings."),
			cutting)
	}
	return blocks
}
