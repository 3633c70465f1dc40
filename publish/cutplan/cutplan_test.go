package cutplan_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/quantity"
	"plansheaf/design/trial"
	"plansheaf/publish/cutplan"
	"plansheaf/publish/picture"
)

// drawn is the only picture of a machine's one cut plan; nil for none.
func drawn(t *testing.T, stock, part string, count int) *picture.Picture {
	t.Helper()
	switch d := drawing(t, stock, part, count); len(d.Pictures) {
	case 0:
		return nil
	case 1:
		return d.Pictures[0]
	default:
		t.Fatalf("%d pictures", len(d.Pictures))
		return nil
	}
}

func drawing(t *testing.T, stock, part string, count int) cutplan.Drawing {
	t.Helper()
	r := trial.Reckoning(t, trial.Files{
		"stock.yaml":          "raw: {title: Raw stock, material: steel_s235, " + stock + "}\n",
		"parts/all.yaml":      "it: {title: A piece with a rather long name, stock: raw, " + part + "}\n",
		"assemblies/rig.yaml": fmt.Sprintf("title: Rig\nholds: {it: {part: it, at: [0 mm, 0 mm, 0 mm], count: %d, step: [0 mm, 0 mm, 0 mm]}}\n", count),
	})
	return cutplan.Draw(&bill.Of(r).Cuts[0], quantity.Metric, cutplan.English)
}

// inside checks that all marks lie within the picture.
func inside(t *testing.T, pic *picture.Picture) {
	t.Helper()
	if err := picture.Check(pic); err != nil {
		t.Error(err)
	}
	for _, m := range pic.Marks {
		b := picture.Bounds([]picture.Mark{m})
		if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > pic.Width || b.Max.Y > pic.Height {
			t.Errorf("%+v reaches to %v..%v of %g × %g mm", m, b.Min, b.Max, pic.Width, pic.Height)
		}
	}
}

func TestPictures(t *testing.T) {
	cases := []struct {
		name, stock, part string
		count             int
		pieces            int      // outlines of pieces drawn
		words             []string // some of the words drawn
	}{
		{name: "bars", stock: "section: {round: {d: 10 mm}}, kerf: 3 mm, trim: 5 mm, sold: [{length: 1000 mm, price: 1 EUR}]", part: "made: cut, length: 300 mm", count: 7, pieces: 4, words: []string{"2 ×", "1 ×", "300 mm", "left over"}},
		{name: "five figures of bars alike", stock: "section: {round: {d: 10 mm}}, sold: [{length: 100 mm, price: 1 EUR}]", part: "made: cut, length: 90 mm", count: 19999, pieces: 1, words: []string{"19999 ×"}},
		{name: "wide sheet", stock: "sheet: 12 mm, kerf: 3 mm, sold: [{size: [1220 mm, 610 mm], price: 1 EUR}]", part: "made: sheet, outline: {rectangle: [400 mm, 200 mm]}", count: 4, pieces: 4, words: []string{"200 × 400 mm", "it", "1: 1220 × 610 mm"}},
		{name: "tall sheet", stock: "sheet: 12 mm, sold: [{size: [100 mm, 9000 mm], price: 1 EUR}]", part: "made: sheet, outline: {rectangle: [90 mm, 2000 mm]}", count: 4, pieces: 4},
		{name: "mitred bars", stock: "section: {rectangle: {size: [20 mm, 40 mm]}}, kerf: 3 mm, trim: 5 mm, sold: [{length: 1000 mm, price: 1 EUR}]", part: "made: cut, length: 300 mm, mitre: {start: 45 deg, end: 30 deg, long: bottom}", count: 3, pieces: 3, words: []string{"1 ×", "300 mm", "left over"}},
		{name: "crumbs", stock: "sheet: 1 mm, sold: [{size: [1000 mm, 1000 mm], price: 1 EUR}]", part: "made: sheet, outline: {rectangle: [5 mm, 5 mm]}", count: 40, pieces: 40},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			pic := drawn(t, c.stock, c.part, c.count)
			inside(t, pic)
			pieces := 0
			var words []string
			for _, m := range pic.Marks {
				switch m := m.(type) {
				case picture.Path:
					if m.Fill == picture.Paper && m.Line == picture.Visible {
						pieces++
					}
				case picture.Text:
					words = append(words, m.Words)
				}
			}
			if pieces != c.pieces {
				t.Errorf("%d pieces drawn, want %d", pieces, c.pieces)
			}
			for _, w := range c.words {
				if !strings.Contains(strings.Join(words, "|"), w) {
					t.Errorf("words %q, want %q among them", words, w)
				}
			}
		})
	}
}

// Mitred pieces are drawn with their ends as they lie: neighbours' ends run parallel, as
// far apart as the saw's cut is wide.
func TestMitredPieces(t *testing.T) {
	pic := drawn(t, "section: {rectangle: {size: [20 mm, 40 mm]}}, kerf: 30 mm, sold: [{length: 1000 mm, price: 1 EUR}]",
		"made: cut, length: 300 mm, mitre: {start: 45 deg, end: 45 deg, long: bottom}", 3)
	inside(t, pic)
	var pieces [][]picture.Point
	for _, m := range pic.Marks {
		path, is := m.(picture.Path)
		if !is || path.Fill != picture.Paper || path.Line != picture.Visible {
			continue
		}
		var corners []picture.Point
		for _, c := range path.Curves {
			from, _ := c.Ends()
			corners = append(corners, from)
		}
		pieces = append(pieces, corners)
	}
	if len(pieces) != 3 || len(pieces[0]) != 4 {
		t.Fatalf("pieces %v", pieces)
	}
	scale := 157.0 / 1000 // mm of paper
	want := 30 * math.Sqrt2 * scale
	for i := range pieces[1:] {
		lower, upper := pieces[i+1][0].X-pieces[i][3].X, pieces[i+1][1].X-pieces[i][2].X
		if math.Abs(lower-want) > 1e-6 || math.Abs(upper-want) > 1e-6 {
			t.Errorf("pieces %d and %d are %g apart below, %g above, want %g", i, i+1, lower, upper, want)
		}
		if slant := pieces[i][2].X - pieces[i][3].X; math.Abs(math.Abs(slant)-40*scale) > 1e-6 {
			t.Errorf("piece %d ends on a slant of %g, want %g", i, slant, 40*scale)
		}
	}
}

// Stock cut to length, or not said how it is sold, or too short for its pieces has
// no picture.
func TestNothingToDraw(t *testing.T) {
	for _, sold := range []string{"", ", sold: [{cut: yes, price: 14 EUR/m}]", ", sold: [{length: 10 mm, price: 1 EUR}]"} {
		if drawn(t, "section: {round: {d: 10 mm}}"+sold, "made: cut, length: 300 mm", 2) != nil {
			t.Errorf("a picture for stock%s", sold)
		}
	}
}

// Whatever is cut differently is shown, on as many pictures as that takes, each with
// what it holds; of far too many it is told how many are left out.
func TestEveryLayoutIsShownOrCounted(t *testing.T) {
	for _, count := range []int{5, 61, 130, 300} {
		var parts strings.Builder
		var holds strings.Builder
		for i := range count {
			fmt.Fprintf(&parts, "p%d: {title: Piece %d, stock: raw, made: cut, length: %d.5 mm}\n", i, i, 600+i)
			fmt.Fprintf(&holds, "  p%d: {part: p%d, at: [0 mm, 0 mm, 0 mm]}\n", i, i)
		}
		r := trial.Reckoning(t, trial.Files{
			"stock.yaml":          "raw: {title: Raw stock, material: steel_s235, section: {round: {d: 10 mm}}, sold: [{length: 1000 mm, price: 1 EUR}]}\n",
			"parts/all.yaml":      parts.String(),
			"assemblies/rig.yaml": "title: Rig\nholds:\n" + holds.String(),
		})
		d := cutplan.Draw(&bill.Of(r).Cuts[0], quantity.Metric, cutplan.English)
		shown, names := 0, map[string]bool{}
		for _, pic := range d.Pictures {
			inside(t, pic)
			if pic.Height > 152 || names[pic.Name] {
				t.Errorf("%d bars: picture %q is %.0f mm high, or not the only one of its name", count, pic.Name, pic.Height)
			}
			names[pic.Name] = true
			for _, m := range pic.Marks {
				if text, ok := m.(picture.Text); ok && text.Words == "1 ×" {
					shown++
				}
			}
		}
		if shown+d.More != count || count <= 240 && d.More > 0 || count > 240 && d.More != count-240 {
			t.Errorf("%d bars: %d shown, %d more", count, shown, d.More)
		}
	}
}

func TestSamePlanSamePicture(t *testing.T) {
	var first []byte
	for range 3 {
		svg, err := picture.SVG(drawn(t, "sheet: 12 mm, sold: [{size: [1220 mm, 610 mm], price: 1 EUR}]", "made: sheet, outline: {rectangle: [300 mm, 200 mm]}", 9))
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(svg, first) {
			t.Error("two pictures of one plan differ")
		}
		first = svg
	}
}
