package binder

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"

	"plansheaf/design/formula"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// plate is a drawing-like picture of the given paper.
func plate(name, title string, width, height float64) *picture.Picture {
	p := &picture.Picture{Name: name, Title: title, Description: "a plate with four holes", Width: width, Height: height}
	p.Add(picture.Path{Curves: picture.Rectangle(picture.Point{X: width * .15, Y: height * .2}, width*.7, height*.5), Line: picture.Visible, Fill: picture.Shade1})
	for _, x := range []float64{.25, .75} {
		for _, y := range []float64{.3, .6} {
			at := picture.Point{X: width * x, Y: height * y}
			p.Add(picture.Path{Curves: picture.Circle(at, min(width, height)*.04), Line: picture.Visible},
				picture.Path{Curves: picture.Polyline(picture.Point{X: at.X - width*.06, Y: at.Y}, picture.Point{X: at.X + width*.06, Y: at.Y}), Line: picture.Centre})
		}
	}
	p.Add(picture.Text{At: picture.Point{X: width / 2, Y: height * .88}, Words: "4× ⌀9 ⌴ " + title, Height: min(3.5, height*.06), Anchor: picture.Middle})
	return p
}

// sheetPicture is a drawing with a frame as on its own sheet.
func sheetPicture(name, title string, width, height float64) *picture.Picture {
	p := plate(name, title, width, height)
	p.Add(picture.Path{Curves: picture.Rectangle(picture.Point{X: 20, Y: 10}, width-30, height-20), Line: picture.Frame})
	return p
}

// photograph is an encoded test image.
func photograph(kind string, width, height int) []byte {
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetNRGBA(x, y, color.NRGBA{uint8(255 * x / width), uint8(255 * y / height), 120, uint8(255 - 128*x/width)})
		}
	}
	var out bytes.Buffer
	var err error
	if kind == "jpeg" {
		err = jpeg.Encode(&out, img, nil)
	} else {
		err = png.Encode(&out, img)
	}
	if err != nil {
		panic(err)
	}
	return out.Bytes()
}

func text(words string) []page.Inline { return []page.Inline{page.Text(words)} }

func row(cells ...string) page.Row {
	r := page.Row{}
	for _, c := range cells {
		r.Cells = append(r.Cells, page.Cell{Words: text(c)})
	}
	return r
}

func link(id, words string) page.Link {
	return page.Link{To: page.Target{Page: id}, Words: text(words)}
}

// sample is a document with every kind of block: the bench tile press.
func sample() *page.Document {
	motor := page.Only{{Choice: "drive", Options: []string{"motor"}}}
	crank := page.Only{{Choice: "drive", Options: []string{"crank"}}}
	doc := &page.Document{
		Title:    "Bench tile press",
		Summary:  "Presses clay tiles up to 150 mm square with a screw turned by hand or by a geared motor. Fits a bench 600 mm deep.",
		Revision: "C", Date: "2026-05-02", Authors: []string{"The kiln yard workshop"}, License: "CERN-OHL-S-2.0",
		Language: "en", System: "metric", Sheet: "A4", Machine: "Press",
		Choices: []page.Choice{
			{ID: "drive", Title: "How the screw is turned", Default: "motor", Options: []page.Option{{ID: "crank", Title: "Hand crank"}, {ID: "motor", Title: "Geared motor and belt"}}},
			{ID: "tile", Title: "Tile size", Default: "150", Options: []page.Option{{ID: "100", Title: "100 mm"}, {ID: "150", Title: "150 mm"}}},
		},
	}
	doc.Pages = append(doc.Pages,
		&page.Page{ID: "index", Title: "Bench tile press", Kind: page.Front, Summary: "What it is, what it costs and what it asks of you.", Blocks: frontBlocks()},
		&page.Page{ID: "safety", Title: "Safety", Kind: page.Safety, Blocks: safetyBlocks()},
		&page.Page{ID: "notes", Title: "Clay and moisture", Kind: page.Prose, Summary: "How wet the clay may be.", Blocks: proseBlocks()},
		&page.Page{ID: "parts", Title: "Parts list", Kind: page.PartsList, Blocks: []page.Block{partsTable(64)}},
	)
	for i, name := range []string{"Head plate", "Post", "Guide rod", "Platen", "Screw nut housing", "Motor bracket", "Foot", "Belt cover"} {
		id := fmt.Sprintf("parts/p%d", i)
		p := &page.Page{ID: id, Title: name, Kind: page.Part, Parent: "parts", Summary: "Cut, drilled and deburred.", Blocks: partBlocks(name)}
		if i == 5 {
			p.Only = motor
		}
		if i%3 == 0 {
			p.Sheets = []page.Sheet{{Picture: sheetPicture("drawings/"+id, name, 420, 297), Size: "A3 landscape", Scale: "1:2"}}
		} else if i%3 == 1 {
			p.Sheets = []page.Sheet{{Picture: sheetPicture("drawings/"+id, name, 210, 297), Size: "A4 portrait", Scale: "1:1"}}
		}
		doc.Pages = append(doc.Pages, p)
	}
	doc.Pages = append(doc.Pages,
		&page.Page{ID: "assemblies", Title: "Assemblies", Kind: page.Assemblies, Blocks: []page.Block{page.Cards{Cards: []page.Card{
			{Target: page.Target{Page: "assemblies/frame"}, Title: "Frame", Note: text("Posts, feet and head plate"), Picture: plate("c1", "Frame", 90, 60)},
			{Target: page.Target{Page: "assemblies/drive"}, Title: "Drive with its long and winding name", Note: text("Motor, belt, pulleys"), Picture: plate("c2", "Drive", 60, 90)},
			{Target: page.Target{Page: "assemblies/hand"}, Title: "Hand crank", Only: crank},
		}}}},
		&page.Page{ID: "assemblies/frame", Title: "Frame", Kind: page.Assembly, Parent: "assemblies", Summary: "Two hours, two people for step 3.", Blocks: stepBlocks(7)},
		&page.Page{ID: "assemblies/drive", Title: "Drive", Kind: page.Assembly, Parent: "assemblies", Only: motor, Blocks: stepBlocks(3)},
		&page.Page{ID: "assemblies/hand", Title: "Hand crank", Kind: page.Assembly, Parent: "assemblies", Only: crank, Blocks: stepBlocks(2)},
		&page.Page{ID: "calculations", Title: "Calculations", Kind: page.Calculations, Blocks: []page.Block{page.Paragraph{Words: text("Each result is worked from the plan's own values.")}}},
		&page.Page{ID: "calculations/force", Title: "Pressing force", Kind: page.Calculation, Parent: "calculations", Blocks: calcBlocks()},
		&page.Page{ID: "calculations/buckling", Title: "Buckling of the screw", Kind: page.Calculation, Parent: "calculations", Blocks: calcBlocks()},
		&page.Page{ID: "changes", Title: "Changes", Kind: page.Changes, Blocks: []page.Block{page.List{Items: []page.Item{{Blocks: []page.Block{page.Paragraph{Words: text("C: guide rods 12 mm instead of 10 mm.")}}}}}}},
		&page.Page{ID: "license", Title: "Licence", Kind: page.License, Blocks: []page.Block{page.Paragraph{Words: text("CERN-OHL-S-2.0. Keep this notice with every copy.")}}},
	)
	return doc
}

func frontBlocks() []page.Block {
	return []page.Block{
		page.Figure{Picture: plate("front", "The press", 160, 120), Caption: text("The press with its motor drive.")},
		page.Facts{Facts: []page.Fact{
			{Label: "Pressing force", Words: []page.Inline{page.Measure{First: "4.2 kN", Second: "940 lbf"}}},
			{Label: "Mass", Words: []page.Inline{page.Measure{First: "31.4 kg", Second: "69 lb"}}},
			{Label: "Cost", Words: text("386 EUR")},
			{Label: "Time to build", Words: text("about 18 h")},
			{Label: "Tools", Words: text("Drill press, hacksaw, M6 and M8 taps")},
		}},
		page.Paragraph{Words: []page.Inline{page.Text("Read "), link("safety", "Safety"), page.Text(" first, then choose the "), page.Strong{Words: text("drive")}, page.Text(". The drive here is "),
			page.Varies{Variants: []page.Variant{{When: page.Only{{Choice: "drive", Options: []string{"motor"}}}, Words: text("a geared motor")}, {Words: text("a hand crank")}}},
			page.Text(". Clay data: "), page.Link{To: page.Target{URL: "https://example.org/clay?q=a b"}, Words: text("a table of clays")}, page.Text("; the knob to print is "),
			page.Link{To: page.Target{File: "files/crank_knob.stl"}, Words: text("this file")}, page.Text(".")}},
	}
}

func safetyBlocks() []page.Block {
	return []page.Block{
		page.CautionBox{Signal: page.Danger, Sign: "W012", Title: text("Mains voltage"), Blocks: []page.Block{page.Paragraph{Words: text("The motor's terminal box holds mains voltage. A licensed electrician connects it.")}}},
		page.CautionBox{Signal: page.Warning, Sign: "W024", Title: text("Crushing of hands"), Blocks: []page.Block{page.Paragraph{Words: text("The platen closes with more than 4 kN. Load tiles with the pusher, never with fingers.")}, page.List{Items: []page.Item{{Blocks: []page.Block{page.Paragraph{Words: text("Stop the motor before reaching in.")}}}, {Blocks: []page.Block{page.Paragraph{Words: text("Keep the guard shut.")}}}}}}},
		page.CautionBox{Signal: page.Caution, Title: text("Sharp edges"), Blocks: []page.Block{page.Paragraph{Words: text("Deburr all sheet.")}}},
		page.CautionBox{Signal: page.Notice, Title: text("Grease the screw"), Blocks: []page.Block{page.Paragraph{Words: text("Every 50 tiles.")}}},
	}
}

const longProse = "Clay that holds a thumb print without cracking presses well; wetter clay sticks to the platen and drier clay splits at the corners. Weigh a ball of it, dry it overnight at 105 °C, weigh it again: the loss should be between 18 % and 22 %. Übermaß, çava, Ελληνικά, Кириллица, ⌀ ± ° × µ Ω and the signs ⌴ ⌵ ⟂ ☐ ☑ print as they are written. "

func proseBlocks() []page.Block {
	var blocks []page.Block
	blocks = append(blocks, page.Heading{Level: 2, ID: "water", Words: text("Water")})
	for range 5 {
		blocks = append(blocks, page.Paragraph{Words: append(text(longProse+longProse), page.NoteRef(1))})
	}
	blocks = append(blocks,
		page.Heading{Level: 3, ID: "tests", Words: text("Tests at the bench")},
		page.List{Ordered: true, Items: []page.Item{
			{Blocks: []page.Block{page.Paragraph{Words: text("Roll a sausage as thick as a finger.")}, page.List{Items: []page.Item{{Blocks: []page.Block{page.Paragraph{Words: text("It bends round two fingers.")}}}, {Tick: "t1", Blocks: []page.Block{page.Paragraph{Words: text("It does not crack.")}}}}}}},
			{Blocks: []page.Block{page.Paragraph{Words: text("Press one tile and measure its thickness at four corners; they agree within 0.5 mm.")}}},
		}},
		page.Quote{Blocks: []page.Block{page.Paragraph{Words: []page.Inline{page.Emphasis{Words: text("Dry clay makes a proud potter and a cracked tile.")}}}}},
		page.Code{Text: "moisture = (wet - dry) / wet\n\twet  212 g\n\tdry  170 g\n" + "a_very_long_line_" + "0123456789012345678901234567890123456789012345678901234567890123456789012345678901234567890123456789"},
		page.Break{},
		page.Figure{Image: &page.Image{Path: "files/clay.jpg", Alt: "Clay", Data: photograph("jpeg", 320, 200)}, Caption: text("Clay, ready.")},
		page.Figure{Image: &page.Image{Path: "files/wiring.svg", Alt: "Wiring", Data: []byte(wiring)}, Caption: text("Wiring of the press.")},
		page.Figure{Small: true, Image: &page.Image{Path: "files/ball.png", Alt: "Ball of clay", Data: photograph("png", 200, 200)}, Caption: text("A ball of clay.")},
		page.Paragraph{Words: text(longProse)},
		page.Footnotes{Notes: []page.Footnote{{Number: 1, Blocks: []page.Block{page.Paragraph{Words: text("Measured in our own yard, three batches.")}}}}},
	)
	return blocks
}

func partsTable(rows int) page.Table {
	t := page.Table{ID: "list", Caption: text("All parts of the machine"), Columns: []page.Column{
		{Head: text("Item"), Align: page.Right}, {Head: text("Name")}, {Head: text("Count"), Align: page.Right}, {Head: text("Material")}, {Head: text("Size")}, {Head: text("Mass"), Align: page.Right}, {Head: text("Cost"), Align: page.Right},
	}, Foot: []page.Row{row("", "Total", "212", "", "", "31.4 kg", "386.20 EUR")}}
	for i := range rows {
		if i%20 == 0 {
			t.Rows = append(t.Rows, page.Row{Section: true, Cells: []page.Cell{{Words: text(fmt.Sprintf("Group %d", i/20+1))}}})
		}
		r := row(fmt.Sprint(i+1), fmt.Sprintf("Part number%d, a bracket of the frame with slots", i), fmt.Sprint(i%9+1), "EN AW-6082 T6", "260 mm × 120 mm × 10 mm (10 1/4 in × 4 3/4 in × 3/8 in)", "0.82 kg", "12.40 EUR")
		r.ID = fmt.Sprintf("row%d", i)
		r.Tick = fmt.Sprintf("have%d", i)
		t.Rows = append(t.Rows, r)
	}
	return t
}

func partBlocks(name string) []page.Block {
	return []page.Block{
		page.Figure{Small: true, Picture: plate("thumb", name, 80, 50)},
		page.Facts{Facts: []page.Fact{{Label: "Material", Words: text("EN AW-6082")}, {Label: "Made from", Words: text("Plate 10 mm")}, {Label: "Count", Words: text("2")}, {Label: "Mass", Words: []page.Inline{page.Measure{First: "0.82 kg", Second: "1.8 lb"}}}}},
		page.Heading{Level: 2, ID: "holes", Words: text("Holes of " + name)},
		page.Table{Columns: []page.Column{{Head: text("Hole")}, {Head: text("Kind")}, {Head: text("At")}}, Rows: []page.Row{row("rods_1", "bore 12 H7", "40 mm, 60 mm"), row("posts_1", "clearance M8, ⌀9", "15 mm, 15 mm")}},
	}
}

func stepBlocks(count int) []page.Block {
	blocks := []page.Block{page.Paragraph{Words: text("Lay everything out on a clean bench.")}}
	for i := range count {
		s := page.Step{ID: fmt.Sprintf("frame.s%d", i), Anchor: fmt.Sprintf("s%d", i), Number: text(fmt.Sprint(i + 1)), Title: fmt.Sprintf("Set post %d on its foot", i+1), Tick: fmt.Sprintf("step%d", i),
			Figure:   &page.Figure{Picture: plate("step", "Step", 110, 75), Caption: text("New parts in the accent colour.")},
			Bag:      &page.Table{Columns: []page.Column{{Head: text("Lay out")}, {Head: text("Count"), Align: page.Right}}, Rows: []page.Row{row("Post", "1"), row("Foot", "1"), row("ISO 4762 M8x25 - 8.8", "2"), row("Washer ISO 7089 - 8", "2")}},
			Screws:   &page.Table{Columns: []page.Column{{Head: text("Screw")}, {Head: text("Length")}, {Head: text("Washer")}, {Head: text("Count"), Align: page.Right}, {Head: text("Torque")}, {Head: text("Tool")}}, Rows: []page.Row{row("ISO 4762 M8", "25 mm", "ISO 7089", "2", "18 N m", "hex key 6 mm")}},
			Facts:    []page.Fact{{Label: "Time", Words: text("15 min")}, {Label: "Tools", Words: text("Square, hex key 6 mm")}},
			Text:     []page.Block{page.Paragraph{Words: []page.Inline{page.Text("Stand the post on the foot, see "), link("parts/p1", "Post"), page.Text(". Start both screws, square the post, then tighten.")}}},
			Measures: []page.Item{{Tick: "m1", Blocks: []page.Block{page.Paragraph{Words: text("Square within 0.2 mm over 300 mm.")}}}},
		}
		if i%3 == 2 {
			s.Cautions = []page.CautionBox{{Signal: page.Warning, Sign: "W024", Title: text("The head plate weighs 9 kg"), Blocks: []page.Block{page.Paragraph{Words: text("Two people lift it.")}}}}
		}
		blocks = append(blocks, s)
	}
	return blocks
}

// set is a formula as it is shown.
func set(text string) *notation.Node {
	e, failed := formula.Parse(text)
	if failed != nil {
		panic(failed)
	}
	return notation.Setting{Tongue: notation.English}.Of(e.Root())
}

func calcBlocks() []page.Block {
	return []page.Block{
		page.Paragraph{Words: text("The force that the screw gives at the torque of the drive.")},
		page.Equation{Name: notation.Name("force"), About: text("Force along the screw"), Is: set("2 * pi * efficiency * torque / lead"), Worked: []page.Worked{{Is: set("2 * pi * 0.36 * 9.3 N*m / (5 mm)")}}, Result: []page.Inline{page.Measure{First: "4.21 kN", Second: "946 lbf"}},
			Facts: []page.Fact{{Label: "Worst case", Words: text("± 0.4 kN")}}},
		page.Equation{Name: notation.Name("efficiency"), Is: set("tan(lead_angle) / tan(lead_angle + friction_angle)"), Result: text("0.36")},
	}
}
