package compose

import (
	"path"
	"strings"

	"plansheaf/publish/page"
)

// changes is the plan's history, newest first.
func (c *composer) changes() *page.Page {
	pg := &page.Page{ID: "changes", Title: c.say("Changes"), Kind: page.Changes, Summary: c.say("What each revision changed.")}
	if c.Old != nil {
		pg.Blocks = c.halfway(*c.Old)
	}
	if c.Since != nil {
		pg.Blocks = append(pg.Blocks, c.since(c.Since)...)
	}
	entries := c.plan.History
	newestFirst := len(entries) > 1 && entries[0].Date.Text > entries[len(entries)-1].Date.Text
	for i := range entries {
		e := entries[i]
		if !newestFirst {
			e = entries[len(entries)-1-i]
		}
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "revision-" + strings.ToLower(e.Revision.Text), Words: c.said("Revision %s, %s", e.Revision.Text, e.Date.Text)})
		pg.Blocks = append(pg.Blocks, c.text(e.Says)...)
	}
	return pg
}

// open lists what the author lets stand: waived findings with their reasons.
func (c *composer) open() *page.Page {
	pg := &page.Page{ID: "open", Title: c.say("Open questions"), Kind: page.Open, Summary: c.say("What the checks found and the designer lets stand, and why.")}
	t := page.Table{ID: "waived", Columns: []page.Column{{Head: c.said("Found")}, {Head: c.said("Stands because")}, {Head: c.said("Until revision")}}}
	for _, f := range c.Findings {
		if f.Waived != nil {
			t.Rows = append(t.Rows, page.Row{Cells: cells(page.Words(capital(f.Message)), page.Words(f.Waived.Because), page.Words(f.Waived.Until))})
		}
	}
	if len(t.Rows) == 0 {
		pg.Blocks = []page.Block{c.paragraph("Nothing: the checks found nothing that was let stand.")}
		return pg
	}
	pg.Blocks = []page.Block{t}
	return pg
}

// downloads lists the files that the plan ships.
func (c *composer) downloads() *page.Page {
	return &page.Page{ID: "downloads", Title: c.say("Downloads"), Kind: page.Downloads, Summary: c.say("The binder, the lists as data, and the plan's own files."), Blocks: c.drawingFiles()}
}

// license says under which terms the plan may be used.
func (c *composer) license() *page.Page {
	pg := &page.Page{ID: "license", Title: c.say("Licence"), Kind: page.License, Summary: c.say("The terms under which you may build, change and pass on this plan.")}
	facts := page.Facts{Facts: []page.Fact{{Label: c.say("Licence"), Words: page.Words(c.plan.License.Text)}}}
	for _, p := range c.plan.Parts {
		for _, f := range p.Files {
			if f.License.Given() {
				facts.Facts = append(facts.Facts, page.Fact{Label: f.File.Text, Words: page.Words(f.License.Text)})
			}
		}
	}
	pg.Blocks = []page.Block{
		facts,
		c.paragraph("The identifier is that of the SPDX licence list. The plan comes as it is, without warranty; you answer for what you build."),
	}
	for _, t := range c.Terms {
		pg.Blocks = append(pg.Blocks, page.Paragraph{Words: c.told("In full: %s|a licence", []page.Inline{page.Link{To: page.Target{File: t.Path}, Words: page.Words(t.ID)}})})
	}
	return pg
}

// fileTitle is a shipped file's name for people.
func (c *composer) fileTitle(p string) string { return path.Base(p) }

// fileUse says what a shipped file is for, from what names it.
func (c *composer) fileUse(p string) string {
	for _, part := range c.plan.Parts {
		for _, f := range part.Files {
			if f.File.Text == p {
				return c.partTitle(part)
			}
		}
	}
	for _, k := range c.plan.Calcs {
		for _, t := range k.Tables {
			if t.File.Text == p {
				return c.say("Table of %s", k.Title.Value)
			}
		}
	}
	return ""
}
