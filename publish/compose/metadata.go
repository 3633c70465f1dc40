package compose

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/publish/wording"
)

// The types below are the front page's metadata in the vocabulary of schema.org, whose
// HowTo is a work that tells how something is made: JSON-LD (W3C) under the plan's own
// choices. Keys that begin with @ are JSON-LD's.

type howTo struct {
	Context     string    `json:"@context"`
	Type        string    `json:"@type"`
	Name        string    `json:"name"`
	Description string    `json:"description,omitempty"`
	Version     string    `json:"version,omitempty"`
	Date        string    `json:"dateModified,omitempty"`
	Language    string    `json:"inLanguage"`
	Status      string    `json:"creativeWorkStatus"`
	License     any       `json:"license,omitempty"`
	Authors     []named   `json:"author,omitempty"`
	Image       string    `json:"image,omitempty"`
	About       *named    `json:"about,omitempty"`
	TotalTime   string    `json:"totalTime,omitempty"` // ISO 8601
	Cost        *amount   `json:"estimatedCost,omitempty"`
	Tools       []named   `json:"tool,omitempty"`
	Supplies    []supply  `json:"supply,omitempty"`
	Sections    []section `json:"step,omitempty"`
}

type named struct {
	Type string `json:"@type"`
	Name string `json:"name"`
}

type amount struct {
	Type     string  `json:"@type"`
	Currency string  `json:"currency,omitempty"`
	Value    float64 `json:"value,omitempty"`
	Least    float64 `json:"minValue,omitempty"` // where some prices are not known
}

type supply struct {
	named
	Quantity int `json:"requiredQuantity"`
}

type section struct {
	named
	Position int     `json:"position"`
	URL      string  `json:"url"`
	Steps    []aStep `json:"itemListElement,omitempty"`
}

type aStep struct {
	named
	Position int `json:"position"`
}

// metadata is the front page's metadata: JSON in which nothing can end or open an
// element of HTML.
func (c *composer) metadata() ([]byte, error) {
	s := c.Work.Default()
	out := howTo{
		Context: "https://schema.org", Type: "HowTo", Name: c.plan.Title.Value, Description: c.plain(c.plan.Summary),
		Version: c.plan.Revision.Text, Date: c.plan.Date.Text, Language: c.plan.Language.Text, Status: "Published",
		License: termsOf(c.plan.License.Text),
	}
	if out.Language == "" {
		out.Language = wording.English
	}
	if c.Draft {
		out.Status = "Draft"
	}
	for _, a := range c.plan.Authors {
		out.Authors = append(out.Authors, named{"Person", a.Value})
	}
	if pic := c.Pictures.Whole[c.plan.Machine.Text]; pic != nil {
		out.Image = pic.Name + ".svg"
	}
	if machine := c.plan.Assembly(c.plan.Machine.Text); machine != nil && machine.Title.Given() {
		out.About = &named{"Product", machine.Title.Value}
	}
	if minutes := int(s.Bill.WorkMinute + 0.5); minutes > 0 {
		out.TotalTime = fmt.Sprintf("PT%dH%dM", minutes/60, minutes%60)
	}
	if cost := s.Bill.Cost.Amount(); cost > 0 {
		out.Cost = &amount{Type: "MonetaryAmount", Currency: c.plan.Currency.Text, Value: cost}
		if len(s.Bill.Unpriced) > 0 {
			out.Cost.Value, out.Cost.Least = 0, cost
		}
	}
	for _, tool := range s.Sequence().Tools() {
		name := c.say(wording.Phrase(tool.Kind))
		if tool.Size != "" {
			name += " " + tool.Size
		}
		out.Tools = append(out.Tools, named{"HowToTool", name})
	}
	for _, p := range s.Bill.Purchases {
		out.Supplies = append(out.Supplies, supply{named{"HowToSupply", p.Title}, p.Need})
	}
	for _, a := range c.order {
		if takes(s, a) {
			out.Sections = append(out.Sections, c.sectionOf(a, len(out.Sections)+1))
		}
	}
	// Marshal escapes <, > and & so that the text stays within its element.
	return json.Marshal(out)
}

func (c *composer) sectionOf(a *plan.Assembly, position int) section {
	out := section{named: named{"HowToSection", a.Title.Value}, Position: position, URL: assemblyTarget(a).Page + ".html"}
	for _, st := range a.Steps {
		if st.Only.Fits(c.Work.Default().Case.Options) {
			out.Steps = append(out.Steps, aStep{named{"HowToStep", st.Title.Value}, len(out.Steps) + 1})
		}
	}
	return out
}

// oneLicense is an SPDX licence identifier that stands alone.
var oneLicense = regexp.MustCompile(`^[0-9A-Za-z.-]+$`)

// termsOf is a licence as schema.org has it: the address that SPDX gives each licence
// of its list, or the expression by name.
func termsOf(license string) any {
	switch {
	case license == "":
		return nil
	case oneLicense.MatchString(license) && !strings.HasPrefix(license, "LicenseRef-"):
		return "https://spdx.org/licenses/" + license + ".html"
	}
	return named{"CreativeWork", license}
}
