package site

import (
	"fmt"

	"plansheaf/design/formula"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// sample is a document that uses every kind of page, block and inline: a small
// extract of the bench tile press. Numbers are invented.
func sample() *page.Document {
	return &page.Document{
		Title:    "Bench tile press",
		Summary:  "Presses clay tiles up to 150 mm square with 4 kN, by hand or by motor.",
		Revision: "C", Date: "2026-05-02",
		Authors: []string{"M. Okafor-Lind"}, License: "CERN-OHL-S-2.0", Language: "en",
		System: "metric", Sheet: "A4", Machine: "Press",
		Choices: []page.Choice{
			{ID: "drive", Title: "How the screw is turned", Default: "motor", Options: []page.Option{
				{ID: "crank", Title: "Hand crank"}, {ID: "motor", Title: "Geared motor and belt"}}},
			{ID: "tile", Title: "Tile size", Default: "large", Options: []page.Option{
				{ID: "small", Title: "Small, 90 mm"}, {ID: "large", Title: "Large, 150 mm"}}},
		},
		Pages: samplePages(),
		Downloads: []page.Download{
			{Path: "files/crank_knob.stl", Title: "Crank knob", About: "Printed part, mesh in millimetres.", Bytes: 48_284},
			{Path: "binder.pdf", Title: "Binder", About: "The whole plan to print and clip in.", Bytes: 2_310_000},
		},
		Findings: page.Tally{Waived: 1},
		Metadata: []byte(`{"@context":"https://schema.org","@type":"HowTo","name":"Bench tile press \u003c/script\u003e"}`),
	}
}

func samplePages() []*page.Page {
	return []*page.Page{
		sampleFront(), sampleSafety(), sampleGuide(),
		{ID: "choices", Title: "Choices", Kind: page.Choices, Blocks: []page.Block{
			para("The press can be turned by hand or by a motor. Both share frame and platen."),
			page.Facts{Facts: []page.Fact{
				{Label: "Pressing force", Words: []page.Inline{byDrive("2.9 kN", "4.31 kN")}},
				{Label: "Cost", Words: []page.Inline{byDrive("301 EUR", "388 EUR")}},
			}},
		}},
		sampleParts(), samplePart(),
		{ID: "parts/crank_knob", Title: "Crank knob", Kind: page.Part, Parent: "parts", Only: crank(),
			Summary: "Printed, PETG", Blocks: []page.Block{para("Printed standing on its face.")}},
		sampleShopping(), sampleCutting(),
		{ID: "tools", Title: "Tools", Kind: page.Tools, Blocks: []page.Block{sampleTools()}},
		{ID: "drawings", Title: "Drawings", Kind: page.Drawings, Blocks: []page.Block{
			page.Cards{Cards: []page.Card{
				{Target: page.Target{Page: "parts/head_plate"}, Title: "Head plate", Note: page.Words("A4 landscape, 1:2"), Picture: plate()},
				{Target: page.Target{Page: "parts/crank_knob"}, Title: "Crank knob", Note: page.Words("A4 portrait, 1:1"), Only: crank()},
			}},
		}},
		{ID: "build", Title: "Order of work", Kind: page.Assemblies, Summary: "Two assemblies, six steps, about 2 h", Blocks: []page.Block{
			page.List{Ordered: true, Items: []page.Item{
				{Blocks: []page.Block{page.Paragraph{Words: []page.Inline{page.Link{To: page.Target{Page: "build/frame"}, Words: page.Words("Frame")}}}}},
				{Blocks: []page.Block{page.Paragraph{Words: []page.Inline{page.Link{To: page.Target{Page: "build/press"}, Words: page.Words("Press")}}}}},
			}},
		}},
		sampleFrame(), samplePress(), sampleCalcs(), sampleForce(), formulaPage(), sampleHazards(),
		{ID: "changes", Title: "Changes", Kind: page.Changes, Blocks: []page.Block{
			page.Heading{Level: 2, ID: "halfway", Words: page.Words("Half way through revision B")}, sampleHalfway(),
			page.Heading{Level: 2, ID: "rev-c", Words: page.Words("Revision C, 2026-05-02")},
			para("Guide rods 12 mm instead of 10: the platen no longer sways."),
		}},
		{ID: "open", Title: "Open questions", Kind: page.Open, Blocks: []page.Block{
			page.List{Items: []page.Item{{Blocks: []page.Block{para("The crank handle has no supplier: any handle that fits 8 mm.")}}}},
		}},
		{ID: "downloads", Title: "Downloads", Kind: page.Downloads, Blocks: []page.Block{
			page.Paragraph{Words: []page.Inline{page.Text("Everything in one: "),
				page.Link{To: page.Target{File: "binder.pdf"}, Words: page.Words("the binder")}, page.Text(".")}},
		}},
		{ID: "license", Title: "Licence", Kind: page.License, Blocks: []page.Block{page.Code{Text: "SPDX-License-Identifier: CERN-OHL-S-2.0\n"}}},
	}
}

func para(words string) page.Paragraph { return page.Paragraph{Words: page.Words(words)} }

func crank() page.Only { return page.Only{{Choice: "drive", Options: []string{"crank"}}} }
func motor() page.Only { return page.Only{{Choice: "drive", Options: []string{"motor"}}} }

// byDrive is text that differs between hand and motor.
func byDrive(hand, motorised string) page.Varies {
	return page.Varies{Variants: []page.Variant{
		{When: crank(), Words: page.Words(hand)}, {When: motor(), Words: page.Words(motorised)},
	}}
}

func mm(first, second string) page.Measure { return page.Measure{First: first, Second: second} }

// plate is a small drawing.
func plate() *picture.Picture {
	p := &picture.Picture{Name: "drawings/head_plate", Title: "Head plate",
		Description: "Plate 260 by 120 mm with a hole for the screw and two for the rods.", Width: 180, Height: 100}
	at := func(x, y float64) picture.Point { return picture.Point{X: x, Y: y} }
	p.Add(
		picture.Path{Curves: picture.RoundRectangle(at(20, 20), 130, 60, 4), Line: picture.Visible, Fill: picture.Shade1},
		picture.Path{Curves: picture.Circle(at(85, 50), 5.5), Line: picture.Visible, Fill: picture.Paper},
		picture.Path{Curves: picture.Circle(at(40, 50), 3), Line: picture.Visible, Fill: picture.Paper},
		picture.Path{Curves: picture.Circle(at(130, 50), 3), Line: picture.Accented, Fill: picture.Paper},
		picture.Path{Curves: picture.Polyline(at(20, 90), at(150, 90)), Line: picture.Thin},
		picture.Path{Curves: picture.Polyline(at(14, 50), at(156, 50)), Line: picture.Centre},
		picture.Text{At: at(85, 88), Words: "260", Height: 3.5, Anchor: picture.Middle},
		picture.Text{At: at(98, 44), Words: "⌀22 H7", Height: 3.5},
	)
	return p
}

// view is a picture of something being built, one a step.
func view(n int) *picture.Picture {
	p := &picture.Picture{Name: fmt.Sprintf("steps/view-%d", n), Title: fmt.Sprintf("Step %d", n),
		Description: "The frame seen from the front right, what is new in the accent colour.", Width: 120, Height: 90}
	for i := range n + 1 {
		x := 20 + 18*float64(i)
		line, fill := picture.Visible, picture.Shade2
		if i == n {
			line, fill = picture.Accented, picture.Tint
		}
		p.Add(picture.Path{Curves: picture.Rectangle(picture.Point{X: x, Y: 15}, 12, 60), Line: line, Fill: fill})
	}
	return p
}

func sampleFront() *page.Page {
	return &page.Page{ID: "index", Title: "Bench tile press", Kind: page.Front,
		Summary: "Presses clay tiles up to 150 mm square with 4 kN, by hand or by motor.",
		Blocks: []page.Block{
			page.Figure{Picture: view(4), Caption: page.Words("The press with its platen raised.")},
			page.Facts{Facts: []page.Fact{
				{Label: "Pressing force", Words: []page.Inline{page.Link{To: page.Target{Page: "calcs/press_force", Anchor: "force"}, Words: []page.Inline{byDrive("2.9 kN", "4.31 kN")}}}},
				{Label: "Mass", Words: []page.Inline{mm("38.4 kg", "84.7 lb")}},
				{Label: "Cost", Words: []page.Inline{byDrive("301 EUR", "388 EUR")}},
				{Label: "Time to build", Words: page.Words("about 9 h")},
				{Label: "Motor", Words: page.Words("24 V, 60 W"), Only: motor()},
			}},
			page.CautionBox{Signal: page.Danger, Sign: "W024", Title: page.Words("The platen crushes."),
				Blocks: []page.Block{page.Paragraph{Words: []page.Inline{page.Text("Keep hands clear of the platen. See "),
					page.Link{To: page.Target{Page: "hazards", Anchor: "crush_platen"}, Words: page.Words("the hazard register")}, page.Text(".")}}}},
			page.Heading{Level: 2, ID: "needs", Words: page.Words("What you need")},
			page.Paragraph{Words: []page.Inline{page.Text("A bench drill, hex keys and a square. All are in "),
				page.Link{To: page.Target{Page: "tools"}, Words: page.Words("the tools list")}, page.Text(".")}},
		}}
}

func sampleSafety() *page.Page {
	return &page.Page{ID: "safety", Title: "Safety", Kind: page.Safety, Blocks: []page.Block{
		para("This plan takes its builder to be able to drill and tap metal safely. Local codes and licensed trades come first."),
		page.CautionBox{Signal: page.Danger, Sign: "W024", Title: page.Words("Crushing"), Blocks: []page.Block{para("A hand between tile and platen is crushed.")}},
		page.CautionBox{Signal: page.Warning, Sign: "W025", Title: page.Words("Drawing in"), Only: motor(), Blocks: []page.Block{para("The belt draws fingers in. Fit the belt guard first.")}},
		page.CautionBox{Signal: page.Caution, Sign: "W022", Title: page.Words("Sharp edges"), Blocks: []page.Block{para("Break all sawn edges.")}},
		page.CautionBox{Signal: page.Notice, Sign: "M002", Blocks: []page.Block{para("Read every step before you begin it.")}},
		page.CautionBox{Signal: page.Notice, Blocks: []page.Block{para("Grease stains clay.")}},
		page.CautionBox{Signal: page.Warning, Blocks: []page.Block{para("Anything may happen here.")}, Only: crank()},
	}}
}

func sampleGuide() *page.Page {
	return &page.Page{ID: "pages/clay", Title: "Preparing the clay", Kind: page.Prose, Blocks: []page.Block{
		page.Heading{Level: 2, ID: "wedge", Words: []page.Inline{page.Text("Wedging "), page.Emphasis{Words: page.Words("by hand")}}},
		page.Paragraph{Words: []page.Inline{page.Text("Stiff clay"), page.NoteRef(1), page.Text(" needs "), page.Strong{Words: page.Words("more force")},
			page.Text(": "), page.Link{To: page.Target{Page: "calcs/press_force"}, Words: page.Words("see the calculation")}, page.Text(", "),
			page.Verbatim("press_force.force"), page.Text("."), page.Newline{}, page.Text("Ask at "),
			page.Link{To: page.Target{URL: "https://example.org/clay?a=1&b=2"}, Words: page.Words("a pottery")}, page.Text(" too"), page.NoteRef(1), page.Text(".")}},
		page.Heading{Level: 4, ID: "deep", Words: page.Words("A heading that jumps")},
		page.List{Items: []page.Item{
			{Blocks: []page.Block{para("Knock out air.")}, Tick: "clay.air"},
			{Blocks: []page.Block{para("Cut to size."), page.List{Ordered: true, Start: 3, Items: []page.Item{{Blocks: []page.Block{para("Third.")}}}}}},
			{Blocks: []page.Block{para("Turn the crank once.")}, Only: crank()},
		}},
		page.Quote{Blocks: []page.Block{para("Clay remembers.")}},
		page.Break{},
		page.Code{Text: "plan check .\n<b>not markup</b>", Language: "sh"},
		page.Figure{Image: &page.Image{Path: "files/clay photo.png", Alt: "A block of wedged clay", Width: 640, Height: 400}, Caption: page.Words("Wedged.")},
		page.Figure{Image: &page.Image{Path: "files/wiring.svg", Alt: "Wiring of the motor"}, Only: motor(), Small: true, Link: page.Target{Page: "safety"}},
		page.Footnotes{Notes: []page.Footnote{{Number: 1, Blocks: []page.Block{para("Stiff: a thumb leaves a mark 2 mm deep.")}}}},
	}}
}

func sampleParts() *page.Page {
	row := func(id, title, made, mass string, count page.Inline, only page.Only) page.Row {
		return page.Row{ID: id, Only: only, Cells: []page.Cell{
			{Words: []page.Inline{page.Link{To: page.Target{Page: "parts/" + id}, Words: page.Words(title)}}},
			{Words: []page.Inline{count}}, {Words: page.Words(made)}, {Words: page.Words(mass)},
			{Words: page.Words("Aluminium EN AW-6082, plate 10 mm")}, {Words: []page.Inline{mm("260 × 120 × 10 mm", "10.24 × 4.72 × 0.39 in")}}, {},
		}}
	}
	return &page.Page{ID: "parts", Title: "Parts", Kind: page.PartsList, Summary: "44 parts, 118 fasteners", Blocks: []page.Block{
		page.Table{ID: "list", Caption: page.Words("Parts list"), Sort: true, Columns: []page.Column{
			{Head: page.Words("Part")}, {Head: page.Words("Count"), Align: page.Right}, {Head: page.Words("Made")},
			{Head: page.Words("Mass"), Align: page.Right}, {Head: page.Words("Material")}, {Head: page.Words("Size"), Wide: true}, {Head: page.Words("Note")},
		}, Rows: []page.Row{
			{Section: true, Cells: []page.Cell{{Words: page.Words("Frame")}}},
			row("head_plate", "Head plate", "sheet", "0.79 kg", page.Text("2"), nil),
			{Section: true, Cells: []page.Cell{{Words: page.Words("Drive")}}},
			row("crank_knob", "Crank knob", "printed", "0.04 kg", page.Text("1"), crank()),
		}, Foot: []page.Row{{Cells: []page.Cell{{Words: page.Words("Whole machine")}, {Words: []page.Inline{byDrive("160", "162")}}}}}},
	}}
}

func samplePart() *page.Page {
	return &page.Page{ID: "parts/head_plate", Title: "Head plate", Kind: page.Part, Parent: "parts",
		Summary: "Sheet, aluminium plate 10 mm",
		Blocks: []page.Block{
			page.Facts{Facts: []page.Fact{{Label: "Count", Words: page.Words("2")}, {Label: "Mass", Words: []page.Inline{mm("0.79 kg", "1.74 lb")}}}},
			page.Heading{Level: 2, ID: "holes", Words: page.Words("Holes")},
			page.Table{Columns: []page.Column{{Head: page.Words("Hole")}, {Head: page.Words("X"), Align: page.Right}, {Head: page.Words("Y"), Align: page.Right}, {Head: page.Words("Size")}},
				Rows: []page.Row{
					{Cells: []page.Cell{{Words: page.Words("screw")}, {Words: []page.Inline{mm("130 mm", "5.118 in")}}, {Words: []page.Inline{mm("60 mm", "2.362 in")}}, {Words: page.Words("⌀22 H7")}}},
					{Cells: []page.Cell{{Words: page.Words("rods.1")}, {Words: []page.Inline{mm("40 mm", "1.575 in")}}, {Words: []page.Inline{mm("60 mm", "2.362 in")}}, {Words: page.Words("⌀12 H7")}}},
				}},
			page.Heading{Level: 2, ID: "used", Words: page.Words("Where it is used")},
			page.Paragraph{Words: []page.Inline{page.Link{To: page.Target{Page: "build/frame", Anchor: "step-head"}, Words: page.Words("Frame, step 2")}}},
		},
		Sheets: []page.Sheet{{Picture: plate(), Size: "A4 landscape", Scale: "1:2"}},
	}
}

func sampleShopping() *page.Page {
	return &page.Page{ID: "shopping", Title: "Shopping list", Kind: page.Shopping, Blocks: []page.Block{
		page.Heading{Level: 2, ID: "general", Words: page.Words("General hardware dealer")},
		page.Table{Columns: []page.Column{{Head: page.Words("Item")}, {Head: page.Words("Packs"), Align: page.Right}, {Head: page.Words("Price"), Align: page.Right}, {Head: page.Words("Left over"), Align: page.Right}},
			Rows: []page.Row{
				{Tick: "buy.cap_m8x25", Cells: []page.Cell{{Words: page.Words("Cap screw ISO 4762 M8×25 – 8.8")}, {Words: page.Words("2 × 25")}, {Words: page.Words("12.80 EUR")}, {Words: page.Words("6")}}},
				{Tick: "buy.motor", Only: motor(), Cells: []page.Cell{{Words: page.Words("Geared motor")}, {Words: page.Words("1")}, {Words: page.Words("28.00 EUR")}, {Words: page.Words("0")}}},
			},
			Foot: []page.Row{{Cells: []page.Cell{{Words: page.Words("Total")}, {}, {Words: []page.Inline{byDrive("12.80 EUR", "40.80 EUR")}}}}}},
	}}
}

func sampleCutting() *page.Page {
	cut := &picture.Picture{Name: "cutting/slot_30x30", Title: "Cut plan, slotted bar 30×30", Description: "Two posts and an offcut on one bar of 1000 mm.", Width: 180, Height: 20}
	cut.Add(picture.Path{Curves: picture.Rectangle(picture.Point{X: 5, Y: 5}, 79, 10), Line: picture.Visible, Fill: picture.Tint},
		picture.Path{Curves: picture.Rectangle(picture.Point{X: 85, Y: 5}, 79, 10), Line: picture.Visible, Fill: picture.Tint},
		picture.Path{Curves: picture.Rectangle(picture.Point{X: 165, Y: 5}, 10, 10), Line: picture.Thin, Fill: picture.Shade3})
	return &page.Page{ID: "cutting", Title: "Cutting", Kind: page.Cutting, Blocks: []page.Block{
		page.Figure{Picture: cut, Caption: []page.Inline{page.Text("One bar of "), mm("1000 mm", "39.37 in")}},
	}}
}

func sampleTools() page.Table {
	return page.Table{Columns: []page.Column{{Head: page.Words("Tool")}, {Head: page.Words("For")}},
		Rows: []page.Row{{Cells: []page.Cell{{Words: page.Words("Hex key 6 mm")}, {Words: page.Words("Cap screws M8")}}},
			{Cells: []page.Cell{{Words: page.Words("Drill 6.8 mm")}, {Words: page.Words("Tapped holes M8")}}}}}
}

func sampleStep(n int, id, title string, only page.Only) page.Step {
	return page.Step{
		ID: "frame." + id, Anchor: "step-" + id, Number: page.Words(fmt.Sprint(n)), Title: title, Tick: "step.frame." + id, Only: only,
		Cautions: []page.CautionBox{{Signal: page.Caution, Sign: "W022", Title: page.Words("Sawn edges cut."), Blocks: []page.Block{para("Break them first.")}}},
		Figure:   &page.Figure{Picture: view(n), Caption: page.Words("New parts in the accent colour.")},
		Bag: &page.Table{Caption: page.Words("Lay out"), Columns: []page.Column{{Head: page.Words("Part")}, {Head: page.Words("Count"), Align: page.Right}},
			Rows: []page.Row{{Tick: "bag.frame." + id, Cells: []page.Cell{{Words: page.Words("Upright post")}, {Words: page.Words("2")}}}}},
		Screws: &page.Table{Caption: page.Words("Screws"), Columns: []page.Column{{Head: page.Words("Screw")}, {Head: page.Words("Count"), Align: page.Right}, {Head: page.Words("Torque")}, {Head: page.Words("Tool")}},
			Rows: []page.Row{{Cells: []page.Cell{{Words: page.Words("M8×25 cap screw, 1 washer")}, {Words: page.Words("4")}, {Words: []page.Inline{mm("24 N·m", "17.7 lbf·ft")}}, {Words: page.Words("hex key 6 mm")}}}}},
		Facts: []page.Fact{{Label: "Time", Words: page.Words("15 min")}, {Label: "Tools", Words: page.Words("mallet")}},
		Text: []page.Block{para("Stand both posts on the base and start the screws by two turns."),
			page.Heading{Level: 2, ID: "check-" + id, Words: page.Words("If it wobbles")}, para("Loosen, press down, tighten.")},
		Measures: []page.Item{{Blocks: []page.Block{page.Paragraph{Words: []page.Inline{page.Text("Both diagonals alike within "), mm("0.5 mm", "0.02 in")}}}, Tick: "measure.frame." + id}},
	}
}

func sampleFrame() *page.Page {
	return &page.Page{ID: "build/frame", Title: "Frame", Kind: page.Assembly, Parent: "build", Summary: "Three steps, 45 min", Blocks: []page.Block{
		para("The frame carries everything."),
		page.Heading{Level: 2, ID: "steps", Words: page.Words("Steps")},
		sampleStep(1, "posts", "Stand the posts", nil),
		sampleStep(2, "head", "Lay the head plate on", nil),
		sampleStep(3, "crank", "Fit the crank", crank()),
	}}
}

func samplePress() *page.Page {
	step := sampleStep(4, "motor", "Bolt the motor on", motor())
	last := page.Step{ID: "press.run", Anchor: "step-run", Number: page.Words("5"), Title: "First run", Tick: "step.press.run", Text: []page.Block{para("Run the platen down without a tile.")}}
	return &page.Page{ID: "build/press", Title: "Press", Kind: page.Assembly, Parent: "build", Blocks: []page.Block{step, last}}
}

func sampleCalcs() *page.Page {
	return &page.Page{ID: "calcs", Title: "Calculations", Kind: page.Calculations, Blocks: []page.Block{para("Every claim of the front page is worked out here.")}}
}

// set is a formula as it is shown.
func set(text string) *notation.Node {
	e, failed := formula.Parse(text)
	if failed != nil {
		panic(failed)
	}
	return notation.Setting{Tongue: notation.English}.Of(e.Root())
}

func sampleForce() *page.Page {
	return &page.Page{ID: "calcs/press_force", Title: "Pressing force of the platen", Kind: page.Calculation, Parent: "calcs", Only: motor(), Blocks: []page.Block{
		page.Heading{Level: 2, ID: "force", Words: page.Words("Force")},
		page.Equation{ID: "result-force", Name: notation.Name("force"), About: page.Words("at the platen"), Is: set("2 * pi * torque * ratio * efficiency / lead_screw.lead"),
			Worked: []page.Worked{{Is: set("2 * pi * 1.2 N*m * 2 * 0.286 / (1 mm)")}}, Result: []page.Inline{mm("4.31 kN", "969 lbf"), page.Text(" ± 1 %")},
			Facts: []page.Fact{{Label: "Worst case", Words: page.Words("± 0.4 kN")}}},
		page.Equation{Name: notation.Name("lead"), Is: set("1 mm"), Result: page.Words("1 mm")},
		page.Equation{Name: notation.Name("critical_load"), Is: set("if(slenderness > limit, pi ^ 2 * lead_screw.material.modulus * section / slenderness ^ 2, section * lead_screw.material.yield * (1 - lead_screw.material.yield * slenderness ^ 2 / (4 * pi ^ 2 * lead_screw.material.modulus)))"), Result: page.Words("28.4 kN")},
		page.Table{Columns: []page.Column{{Head: page.Words("Must hold")}, {Head: page.Words("Values")}}, Rows: []page.Row{{Cells: []page.Cell{
			{Words: []page.Inline{page.Formula{Is: set("stripping <= 0.577 * post.material.yield / 2 and abs(length - belt.length) <= 0.3 mm")}}}, {Words: page.Words("yes")}}}}},
	}}
}

func sampleHazards() *page.Page {
	return &page.Page{ID: "hazards", Title: "Hazards", Kind: page.Hazards, Blocks: []page.Block{
		page.Table{Columns: []page.Column{{Head: page.Words("Hazard")}, {Head: page.Words("Before")}, {Head: page.Words("Measures"), Wide: true}, {Head: page.Words("After")}},
			Rows: []page.Row{{ID: "crush_platen", Cells: []page.Cell{{Words: page.Words("A hand between tile and platen is crushed.")}, {Words: page.Words("serious, likely")}, {Words: page.Words("Front guard; warning; emergency stop")}, {Words: page.Words("serious, remote")}}}}},
	}}
}
