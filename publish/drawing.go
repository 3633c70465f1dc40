package publish

import (
	"errors"
	"fmt"
	"runtime"
	"strings"

	"golang.org/x/sync/errgroup"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/publish/compose"
	"plansheaf/publish/dxf"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/sheet"
)

// NotDrawable finds drawings that could not be made as the plan asks.
var NotDrawable = finding.Rule{
	Name: "not-drawable", Severity: finding.Error,
	Reason: "A part without its drawing cannot be made, and one drawn otherwise than asked may be made wrong.",
	Remedy: "change the sheet, scale, view or dimension that the drawing asks for",
}

// NotDimensioned finds features that a drawing leaves without place or size.
var NotDimensioned = finding.Rule{
	Name: "not-dimensioned", Severity: finding.Warning,
	Reason: "Whoever makes the part must measure the drawing or guess.",
	Remedy: "add the dimension to the part's drawing",
}

// DimensionedTwice finds features whose place or size a drawing gives twice.
var DimensionedTwice = finding.Rule{
	Name: "dimensioned-twice", Severity: finding.Warning,
	Reason: "Two dimensions for one thing have two tolerances, and after a change two values (ISO 129-1).",
	Remedy: "take one of the dimensions out",
}

// A shape is one form of a part: parts whose sizes follow a choice have several.
type shape struct {
	part *reckon.Part
	only page.Only // when the part has this form
	mark string    // tells the forms of one part apart; empty where there is one
	say  string    // the same for people
	// request is for the sheet of a made part; nil for parts that need none.
	request *sheet.Request

	sheets   []page.Sheet
	thumb    *picture.Picture
	files    []compose.File
	problems []finding.Finding
	err      error
}

// shapes lists every form of every part with a shape, over all combinations of
// choices that take the part.
func shapes(w *check.Work) []*shape {
	var list []*shape
	for _, p := range w.Plan.Parts {
		id := p.ID.Text
		from := len(list)
		for _, s := range taking(w, id) {
			part := s.Reckoning.Part(id)
			if part == nil || part.Solid == nil || known(list[from:], part.Solid) {
				continue
			}
			only, _ := compose.Only(w, func(s *check.Situation) bool { return s.Reckoning.Part(id).Solid == part.Solid })
			list = append(list, &shape{part: part, only: only})
		}
		if len(list)-from > 1 {
			for _, one := range list[from:] {
				one.mark, one.say = named(w.Plan, one.only)
			}
		}
	}
	return list
}

// taking are the combinations that take a part; the plan's own where none does, as
// for what an altered part is made from.
func taking(w *check.Work, id string) []*check.Situation {
	var list []*check.Situation
	for _, s := range w.Combinations() {
		if s.Bill.Line(id) != nil {
			list = append(list, s)
		}
	}
	if list == nil {
		list = []*check.Situation{w.Default()}
	}
	return list
}

func known(list []*shape, body *solid.Solid) bool {
	for _, one := range list {
		if one.part.Solid == body {
			return true
		}
	}
	return false
}

// named is a condition as part of a file's name and in words.
func named(p *plan.Plan, only page.Only) (mark, say string) {
	var marks, says []string
	for _, cond := range only {
		choice := p.Choice(cond.Choice)
		for _, o := range choice.Options {
			for _, option := range cond.Options {
				if o.ID.Text == option {
					marks, says = append(marks, option), append(says, o.Title.Value)
				}
			}
		}
	}
	return "." + strings.Join(marks, "."), strings.Join(says, ", ")
}

// requested are the forms of all parts, those of made parts with what their sheet
// shows.
func requested(w *check.Work, draft bool) []*shape {
	plain := compose.Plain(w)
	list := shapes(w)
	for _, one := range list {
		if Made(one.part) {
			one.request = request(w.Default().Reckoning, one, plain, draft)
		}
	}
	return list
}

// drawParts draws the sheets of every made part and a small picture of every part
// with a shape, several at a time.
func drawParts(w *check.Work, list []*shape, out *compose.Pictures) ([]finding.Finding, error) {
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for _, one := range list {
		group.Go(func() error {
			one.draw(w.Plan, w.Kept)
			return nil
		})
	}
	group.Wait()
	var problems []finding.Finding
	for _, one := range list {
		if one.err != nil {
			return nil, one.err
		}
		id := one.part.Part.ID.Text
		out.Sheets[id] = append(out.Sheets[id], one.sheets...)
		out.Files[id] = append(out.Files[id], one.files...)
		if out.Thumbs[id] == nil {
			out.Thumbs[id] = one.thumb
		}
		problems = append(problems, one.problems...)
	}
	return problems, nil
}

// Made reports whether a part is made by the builder and so needs a drawing.
func Made(p *reckon.Part) bool { return !bill.Bought(p) }

// draw makes the pictures of one form of a part, or takes them over from a store.
func (s *shape) draw(p *plan.Plan, kept *memo.Store) {
	id := s.part.Part.ID.Text
	name, title := "parts/"+id+s.mark, bill.Title(s.part)
	thumb, err := memo.Do(kept, "a small picture of a part", func() (*picture.Picture, error) {
		return sheet.Thumbnail(name, title, s.part.Solid)
	}, name, title, s.part.Solid)
	if err != nil {
		s.err = fmt.Errorf("picture of part %q: %w", id, err)
		return
	}
	s.thumb = thumb
	if s.request == nil {
		return
	}
	made, err := memo.Do(kept, "a drawing of a part", func() (*drawn, error) { return drawSheet(s.request) }, s.request)
	if errors.Is(err, sheet.ErrNoSolid) {
		return
	}
	if err != nil {
		s.err = fmt.Errorf("drawing of part %q: %w", id, err)
		return
	}
	own := drawingOf(p, id)
	s.judge(own, made)
	s.add(made.Sheet, made.Size, made.Scale)
	if own != nil && own.Template {
		s.template(own, kept)
	}
	s.contours(own, kept)
}

// A leaf is a sheet of paper, as a picture and as a file for CAD programs.
type leaf struct {
	Picture *picture.Picture
	DXF     []byte
}

// A drawn is what is made of a sheet's request.
type drawn struct {
	Sheet       leaf
	Size, Scale string
	Faults      []sheet.Fault
	Omissions   []sheet.Omission
}

func drawSheet(r *sheet.Request) (*drawn, error) {
	result, err := sheet.Draw(*r)
	if err != nil {
		return nil, err
	}
	data, err := dxf.Picture(result.Picture)
	return &drawn{
		Sheet: leaf{result.Picture, data}, Size: result.Size, Scale: result.Scale,
		Faults: result.Faults, Omissions: sheet.Audit(result.Facts, result.Ties, result.Dimensions),
	}, err
}

// add gives the part a sheet.
func (s *shape) add(one leaf, size, scale string) {
	s.sheets = append(s.sheets, page.Sheet{Picture: one.Picture, Size: size, Scale: scale, Only: s.only})
	s.files = append(s.files, compose.File{Path: one.Picture.Name + ".dxf", Scale: scale, Only: s.only, Data: one.DXF})
}

// judge reports what a drawing could not do as asked, leaves open or says twice.
func (s *shape) judge(own *plan.Drawing, made *drawn) {
	for _, f := range made.Faults {
		s.problem(own, NotDrawable, f.Message, f.Remedy)
		if at, known := asked(own, f); known {
			s.problems[len(s.problems)-1].At = at
		}
	}
	for _, o := range made.Omissions {
		rule := NotDimensioned
		if o.Doubled {
			rule = DimensionedTwice
		}
		s.problem(own, rule, o.String(), "")
		last := &s.problems[len(s.problems)-1]
		if o.Given && own != nil && o.Index < len(own.Dimensions) {
			last.At = own.Dimensions[o.Index].At
		} else if at, known := featureAt(s.part.Part, o.Feature); known {
			last.At = at
			if own != nil {
				last.Also = append(last.Also, finding.Related{At: own.At, Say: "its drawing"})
			}
		}
	}
}

// featureAt is where a part's text makes a feature: a hole, one of a pattern of holes,
// or a named shape.
func featureAt(p *plan.Part, feature string) (finding.Span, bool) {
	pattern, _, _ := strings.Cut(feature, ".")
	for _, h := range p.Holes {
		if h.ID.Text == pattern {
			return h.ID.At, true
		}
	}
	for _, one := range p.Shape {
		if one.Name.Given() && one.Name.Text == pattern {
			return one.Name.At, true
		}
	}
	return finding.Span{}, false
}

// asked is the place in the author's own drawing that a fault is about.
func asked(own *plan.Drawing, f sheet.Fault) (finding.Span, bool) {
	switch {
	case own == nil:
	case f.Item == "dimensions" && f.Index >= 0 && f.Index < len(own.Dimensions):
		return own.Dimensions[f.Index].At, true
	case f.Item == "views" && f.Index >= 0 && f.Index < len(own.Views):
		return own.Views[f.Index].At, true
	case f.Item == "sheet" && own.Sheet.Given():
		return own.Sheet.At, true
	case f.Item == "scale" && own.Scale.Given():
		return own.Scale.At, true
	}
	return finding.Span{}, false
}

func (s *shape) problem(own *plan.Drawing, rule finding.Rule, message, remedy string) {
	at := s.part.Part.ID.At
	if own != nil {
		at = own.At
	}
	s.problems = append(s.problems, rule.Stamp(finding.Finding{
		At: at, Subject: s.part.Part.ID.Text, Remedy: remedy,
		Message: fmt.Sprintf("drawing of %s: %s", bill.Title(s.part), message),
	}))
}

// template adds the drill template at true size.
func (s *shape) template(own *plan.Drawing, kept *memo.Store) {
	made, err := memo.Do(kept, "a drill template", func() (template, error) { return drawTemplate(s.request) }, s.request)
	if err != nil {
		s.err = fmt.Errorf("drill template of part %q: %w", s.part.Part.ID.Text, err)
		return
	}
	if made.Fault != "" {
		s.problem(own, NotDrawable, "drill template: "+made.Fault, "")
		return
	}
	for _, one := range made.Tiles {
		s.add(one, templateSize(s.request), "1:1")
	}
}

// A template is a drill template, or why there is none.
type template struct {
	Tiles []leaf
	Fault string
}

func drawTemplate(r *sheet.Request) (made template, err error) {
	tiles, fault := sheet.Template(*r)
	if fault != nil {
		return template{Fault: fault.Error()}, nil
	}
	for _, tile := range tiles {
		data, err := dxf.Picture(tile)
		if err != nil {
			return made, err
		}
		made.Tiles = append(made.Tiles, leaf{tile, data})
	}
	return made, nil
}

func templateSize(req *sheet.Request) string {
	if req.Family == sheet.US {
		return "letter portrait"
	}
	return "A4 portrait"
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
func request(r *reckon.Reckoning, s *shape, plain func(plan.Text) string, draft bool) *sheet.Request {
	p, part := r.Plan, s.part
	req := &sheet.Request{
		Name: "drawings/" + part.Part.ID.Text + s.mark, Title: bill.Title(part), Subtitle: s.say, Number: part.Part.ID.Text,
		Revision: p.Revision.Text, Date: p.Date.Text, Owner: p.Title.Value, License: p.License.Text, Language: p.Language.Text,
		Material: part.Material.Title, Finish: part.Part.Finish.Value, Tolerances: p.Tolerances.Standard.Text,
		Approved: p.Approved.Value, Solid: part.Solid, Draft: draft, Called: called(r, part.Part),
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
	req.Sides = r.Sides(part)
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
		req.History = append(req.History, sheet.Revision{Index: e.Revision.Text, Date: e.Date.Text, Words: plain(e.Says)})
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

// called adds to the callouts what the solid does not know: fits and tolerances that
// stand with a diameter, and the screws that clearance holes are for.
func called(r *reckon.Reckoning, p *plan.Part) map[string]sheet.HoleWord {
	words := map[string]sheet.HoleWord{}
	add := func(name, screw string, across plan.Quantity) {
		word := sheet.HoleWord{For: screw}
		if f, ok := across.Pick(r.Case.Options); ok {
			if v, literal := literalOf(f); literal && v.Fit != "" {
				word.Fit = v.Fit
			} else if literal {
				word.Tolerance = spread(r, v)
			}
		}
		if word != (sheet.HoleWord{}) {
			words[name] = word
		}
	}
	for _, h := range p.Holes {
		screw := ""
		if h.Kind.Text == plan.For {
			screw = h.Thread.Text
		}
		add(h.ID.Text, screw, h.Diameter)
	}
	for _, s := range p.Shape {
		within := ""
		if s.Name.Given() {
			within = s.Name.Text + "."
		} else if len(p.Shape) > 1 {
			continue // several faces go by one name
		}
		add(within+"body", "", s.D)
		add(within+"bore", "", s.Bore)
		for i, turn := range s.Steps {
			add(fmt.Sprintf("%sstep.%d", within, i+1), "", turn.D)
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
	req.Sheet, req.Scale, req.OnlyGiven = d.Sheet.Text, d.Scale.Text, d.OnlyThese
	for _, v := range d.Views {
		one := sheet.ViewRequest{Kind: v.Kind.Text, Letter: v.Letter.Text, Half: v.Half, Around: v.Around.Text, Scale: v.Scale.Text}
		for _, w := range v.Through {
			one.Through = append(one.Through, w.Text)
		}
		req.Views = append(req.Views, one)
	}
	for _, dim := range d.Dimensions {
		one := sheet.DimensionRequest{From: dim.From.Text, To: dim.To.Text, Along: dim.Along.Text, Diameter: dim.Diameter.Text, Radius: dim.Radius.Text,
			Chamfer: dim.Chamfer.Text, Depth: dim.Depth.Text, Fit: dim.Fit.Text, Reference: dim.Reference}
		for _, side := range dim.Angle {
			one.Angle = append(one.Angle, side.Text)
		}
		one.Tolerance = tolerance(r, dim.Tolerance)
		req.Dimensions = append(req.Dimensions, one)
	}
	for _, note := range d.Notes {
		req.Notes = append(req.Notes, plain(note))
	}
}

// tolerance is a dimension's own tolerance as it stands behind the value.
func tolerance(r *reckon.Reckoning, q plan.Quantity) string {
	v, ok := r.Quantity(q)
	if !q.Given() || !ok {
		return ""
	}
	return spread(r, v)
}

// spread is a value's tolerance without the unit, which it shares with the value:
// "± 0.05"; empty where it has none.
func spread(r *reckon.Reckoning, v quantity.Value) string {
	words := quantity.SpreadText(v, check.System(r.Plan))
	if bare, angle := strings.CutSuffix(words, " deg"); angle {
		return bare + "°"
	}
	unit := " mm"
	if check.System(r.Plan) == quantity.Inch {
		unit = " in"
	}
	return strings.TrimSuffix(words, unit)
}
