package publish

import (
	"errors"
	"fmt"
	"runtime"

	"golang.org/x/sync/errgroup"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/publish/compose"
	"plansheaf/publish/cutplan"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
	"plansheaf/publish/sheet"
)

// NotDrawable finds drawings that could not be made as the plan asks.
var NotDrawable = finding.Rule{
	Name: "not-drawable", Severity: finding.Error,
	Reason: "A part without its drawing cannot be made, and one drawn otherwise than asked may be made wrong.",
	Remedy: "change the sheet, scale, view or dimension that the drawing asks for",
}

// A drawn part is a part's pictures and what went wrong with them.
type drawn struct {
	sheet    *page.Sheet
	thumb    *picture.Picture
	problems []finding.Finding
	err      error
}

// draw makes the drawing sheet of every made part and a small picture of every
// part with a shape, several at a time.
func draw(w *check.Work, draft bool) (compose.Pictures, []finding.Finding, error) {
	r := w.Default().Reckoning
	parts := make([]*reckon.Part, len(w.Plan.Parts))
	for i, p := range w.Plan.Parts {
		parts[i] = r.Part(p.ID.Text)
	}
	results := make([]drawn, len(parts))
	requests := make([]*sheet.Request, len(parts))
	plain := compose.Plain(w)
	for i, p := range parts {
		if p != nil && p.Solid != nil && Made(p) {
			requests[i] = request(r, p, plain, draft)
		}
	}
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, p := range parts {
		if p == nil || p.Solid == nil {
			continue
		}
		group.Go(func() error {
			results[i] = drawPart(w.Plan, p, requests[i])
			return nil
		})
	}
	group.Wait()
	out := compose.Pictures{Sheets: map[string][]page.Sheet{}, Thumbs: map[string]*picture.Picture{}, CutPlan: map[string]*picture.Picture{}}
	for i := range w.Default().Bill.Cuts {
		c := &w.Default().Bill.Cuts[i]
		if pic := cutplan.Draw(c, check.System(w.Plan)); pic != nil {
			out.CutPlan[c.Stock.ID.Text] = pic
		}
	}
	if err := assemblies(w, &out); err != nil {
		return out, nil, err
	}
	var problems []finding.Finding
	for i, d := range results {
		if d.err != nil {
			return out, nil, d.err
		}
		id := w.Plan.Parts[i].ID.Text
		if d.sheet != nil {
			out.Sheets[id] = []page.Sheet{*d.sheet}
		}
		if d.thumb != nil {
			out.Thumbs[id] = d.thumb
		}
		problems = append(problems, d.problems...)
	}
	return out, problems, nil
}

// assemblies draws each assembly put together, and at each of its steps: with the
// options of the first combination of choices that holds it.
func assemblies(w *check.Work, out *compose.Pictures) error {
	out.Whole, out.Steps = map[string]*picture.Picture{}, map[string]*picture.Picture{}
	for _, a := range w.Plan.Assemblies {
		for _, s := range w.Combinations() {
			if s.Reckoning.Tally().Assembled[a.ID.Text] == 0 {
				continue
			}
			if out.Whole[a.ID.Text] == nil {
				pic, err := scene.Whole(s.Layout, a)
				if err != nil {
					return err
				}
				if pic != nil {
					out.Whole[a.ID.Text] = pic
				}
			}
			if err := steps(a, s, out); err != nil {
				return err
			}
		}
	}
	return nil
}

// steps draws the steps of an assembly that have no picture yet: those of other
// options come with the combination that they belong to.
func steps(a *plan.Assembly, s *check.Situation, out *compose.Pictures) error {
	missing := false
	for _, st := range a.Steps {
		missing = missing || st.Only.Fits(s.Case.Options) && out.Steps[a.ID.Text+"."+st.ID.Text] == nil
	}
	if !missing {
		return nil
	}
	pics, err := scene.Steps(s.Layout, a, s.Case.Options)
	if err != nil {
		return err
	}
	for id, pic := range pics {
		if key := a.ID.Text + "." + id; out.Steps[key] == nil {
			out.Steps[key] = pic
		}
	}
	return nil
}

// Made reports whether a part is made by the builder and so needs a drawing.
func Made(p *reckon.Part) bool { return !bill.Bought(p) }

func drawPart(p *plan.Plan, part *reckon.Part, req *sheet.Request) drawn {
	var out drawn
	if req == nil {
		return out
	}
	result, err := sheet.Draw(*req)
	if errors.Is(err, sheet.ErrNoSolid) {
		return out
	}
	if err != nil {
		return drawn{err: fmt.Errorf("drawing of part %q: %w", part.Part.ID.Text, err)}
	}
	out.sheet = &page.Sheet{Picture: result.Picture, Size: result.Size, Scale: result.Scale}
	at := part.Part.ID.At
	if d := drawingOf(p, part.Part.ID.Text); d != nil {
		at = d.At
	}
	for _, f := range result.Faults {
		out.problems = append(out.problems, NotDrawable.Stamp(finding.Finding{
			At: at, Subject: part.Part.ID.Text, Message: fmt.Sprintf("drawing of %s: %s", bill.Title(part), f.Message), Remedy: f.Remedy,
		}))
	}
	return out
}

// drawingOf is the author's own drawing of a part, nil for none.
func drawingOf(p *plan.Plan, part string) *plan.Drawing {
	for _, d := range p.Drawings {
		if d.Of.Text == part {
			return d
		}
	}
	return nil
}

// request fills a sheet's request from the plan.
func request(r *reckon.Reckoning, part *reckon.Part, plain func(plan.Text) string, draft bool) *sheet.Request {
	p := r.Plan
	req := &sheet.Request{
		Name: "drawings/" + part.Part.ID.Text, Title: bill.Title(part), Number: part.Part.ID.Text,
		Revision: p.Revision.Text, Date: p.Date.Text, Owner: p.Title.Value, License: p.License.Text, Language: p.Language.Text,
		Material: part.Material.Title, Finish: part.Part.Finish.Value, Tolerances: p.Tolerances.Standard.Text,
		Solid: part.Solid, Draft: draft, Called: called(part.Part),
	}
	if len(p.Authors) > 0 {
		req.Author = p.Authors[0].Value
	}
	system := check.System(p)
	if part.Weighed {
		req.Mass = quantity.Text(quantity.Value{SI: part.Mass, Dim: quantity.Mass}, system)
	}
	if system == quantity.Inch {
		req.System = sheet.Inch
	}
	if p.Projection.Text == "first" {
		req.Projection = sheet.FirstAngle
	}
	if p.Sheet.Text == "letter" {
		req.Family = sheet.US
	}
	if part.Stock != nil {
		req.Stock = part.Stock.Title.Value
		switch {
		case part.Stock.Section == nil:
			req.Body = sheet.Plate
		case part.Part.Made.Text == plan.Cut:
			req.Body, req.Along = sheet.Bar, along(part.Part.Lies.Text)
		}
		// What is turned or machined from a bar has no section of its own left.
	}
	for _, e := range p.History {
		req.History = append(req.History, sheet.Revision{Index: e.Revision.Text, Date: e.Date.Text})
	}
	for _, note := range part.Part.Notes {
		req.Notes = append(req.Notes, plain(note))
	}
	if d := drawingOf(p, part.Part.ID.Text); d != nil {
		authored(r, req, d, plain)
	}
	return req
}

func along(lies string) solid.Axis {
	switch lies {
	case "y":
		return solid.AxisY
	case "z":
		return solid.AxisZ
	}
	return solid.AxisX
}

// called adds to the callouts what the solid does not know: fits, and the screws
// that clearance holes are for.
func called(p *plan.Part) map[string]sheet.HoleWord {
	words := map[string]sheet.HoleWord{}
	for _, h := range p.Holes {
		var word sheet.HoleWord
		if h.Kind.Text == plan.For {
			word.For = h.Thread.Text
		}
		for _, f := range h.Diameter.All() {
			if v, literal := literalOf(f); literal {
				word.Fit = v.Fit
			}
		}
		if word != (sheet.HoleWord{}) {
			words[h.ID.Text] = word
		}
	}
	return words
}

func literalOf(f plan.Formula) (quantity.Value, bool) {
	if !f.Given() {
		return quantity.Value{}, false
	}
	v, err := f.Expr.Eval(nil)
	return v.Value, err == nil
}

// authored adds what the author's own drawing asks for.
func authored(r *reckon.Reckoning, req *sheet.Request, d *plan.Drawing, plain func(plan.Text) string) {
	if d.Title.Given() {
		req.Title = d.Title.Value
	}
	req.Sheet, req.Scale = d.Sheet.Text, d.Scale.Text
	for _, v := range d.Views {
		req.Views = append(req.Views, sheet.ViewRequest{Kind: v.Kind.Text, Letter: v.Letter.Text, Through: v.Through.Text, Around: v.Around.Text, Scale: v.Scale.Text})
	}
	for _, dim := range d.Dimensions {
		one := sheet.DimensionRequest{From: dim.From.Text, To: dim.To.Text, Along: dim.Along.Text, Diameter: dim.Diameter.Text, Radius: dim.Radius.Text, Fit: dim.Fit.Text}
		if f, ok := dim.Tolerance.Pick(r.Case.Options); ok && f.Given() {
			one.Tolerance = f.Expr.Source()
		}
		req.Dimensions = append(req.Dimensions, one)
	}
	for _, note := range d.Notes {
		req.Notes = append(req.Notes, plain(note))
	}
}
