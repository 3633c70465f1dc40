package notation

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/publish/notation/specimen"
	"plansheaf/publish/picture"
)

// TestSheet draws every kind of node at full width and broken for a narrow column.
func TestSheet(t *testing.T) {
	const em = 3.4
	for name, width := range map[string]float64{"wide": 46, "narrow": 18} {
		p := &picture.Picture{Name: name, Title: name, Width: width*em + 6}
		y := 4.0
		for _, text := range specimen.Kinds {
			for _, line := range Lines(Equation(Name("result"), set(text)), width, 0) {
				b := Layout(line, em)
				y += b.Up
				p.Add(b.Moved(picture.Point{X: 3, Y: y})...)
				y += b.Down + 1.8
			}
			y += 2.4
		}
		p.Height = y
		svg, err := picture.SVG(p)
		if err != nil {
			t.Fatal(err)
		}
		golden.Compare(t, "testdata/"+name+".svg", svg)
	}
}

func TestMathML(t *testing.T) {
	var b strings.Builder
	for _, text := range specimen.Kinds {
		n := Equation(Name("result"), set(text))
		fmt.Fprintf(&b, "%s\n%s\n%s\n%s\n\n", text, Words(n), MathML([]*Node{n}, true), MathML(Segments(Linear(n), 12)[:1], false))
	}
	fmt.Fprintf(&b, "broken\n%s\n", MathML(Lines(set(specimen.Kinds[5]), 18, 0), true))
	golden.Compare(t, "testdata/formulas.mathml", []byte(b.String()))
}

func TestName(t *testing.T) {
	rows := []struct{ name, want string }{
		{name: "force", want: "force"},
		{name: "lead_angle", want: "lead angle"},
		{name: "lead_screw.lead", want: "lead_(lead screw)"},
		{name: "alpha", want: "α"},
		{name: "mu_0", want: "μ_0"},
		{name: "eta_motor", want: "η_motor"},
		{name: "d2", want: "d_2"},
		{name: "d_root", want: "d_root"},
		{name: "F_a_max", want: "F_(a max)"},
		{name: "force_max", want: "force_max"},
		{name: "pull_2", want: "pull_2"},
		{name: "rods.1", want: "rods_1"},
		{name: "plate.rods.1", want: "rods_(plate 1)"},
		{name: "post.material.yield", want: "yield_(post material)"},
		{name: "motor.d_shaft", want: "d_(shaft, motor)"},
		{name: "tiles_an_hour", want: "tiles an hour"},
		{name: "b/a", want: "b/a"},
		{name: "Delta_T", want: "Δ_T"},
	}
	for _, row := range rows {
		if got := Words(Name(row.name)); got != row.want {
			t.Errorf("%s is %q, want %q", row.name, got, row.want)
		}
	}
}

// TestRandomFormulas holds for any formula: what is set keeps within the box that it
// tells, letters stand on nothing, broken lines keep to their width and lose nothing,
// and the MathML is well formed.
func TestRandomFormulas(t *testing.T) {
	const narrow = 18
	over := 0
	for seed := range uint64(400) {
		text := specimen.Random(seed, 4)
		n := set(text)
		untouched(t, text, Layout(n, 10))
		lines := Lines(n, narrow, 0)
		var all []string
		for _, line := range lines {
			box := Layout(line, 1)
			untouched(t, text, Layout(line, 10))
			if box.Width > narrow+1e-9 {
				over++ // brackets in brackets in brackets
			}
			if box.Width > narrow+2 {
				t.Errorf("%s: a line is %.1f ems wide, not %d: %s", text, box.Width, narrow, Words(line))
			}
			all = append(all, letters(line))
		}
		if got, want := strings.Join(all, ""), letters(n); got != want {
			t.Errorf("%s broken shows %q, want %q", text, got, want)
		}
		wellFormed(t, MathML(lines, true))
		var cut []string
		for _, piece := range Segments(Linear(n), 12) {
			wellFormed(t, MathML([]*Node{piece}, false))
			cut = append(cut, Words(piece))
			if w := Width(piece); w > 15 {
				t.Errorf("%s: the piece %s is %.1f ems wide", text, Words(piece), w)
			}
		}
		if got, want := bareLetters(strings.Join(cut, "")), bareLetters(Words(n)); got != want {
			t.Errorf("%s cut is %q, want %q", text, got, want)
		}
		var pieces strings.Builder
		for _, p := range Pieces(n) {
			pieces.WriteString(p.Text)
		}
		if got, want := bareLetters(pieces.String()), bareLetters(Words(n)); got != want {
			t.Errorf("%s on a line of text is %q, want %q", text, got, want)
		}
	}
	if over > 15 {
		t.Errorf("%d lines are wider than their place", over)
	}
}

// letters are all signs and letters of a node in order, brackets of both ends.
func letters(n *Node) string {
	var b strings.Builder
	b.WriteString(n.Text)
	for _, inner := range n.Args {
		b.WriteString(letters(inner))
	}
	for _, inner := range []*Node{n.Sub, n.Sup} {
		if inner != nil {
			b.WriteString(letters(inner))
		}
	}
	return strings.ReplaceAll(b.String(), " ", "")
}

// bareLetters are words without blanks and what only plain words need.
func bareLetters(text string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", "^", "", "_", "", "(", "", ")", "").Replace(text)
}

func wellFormed(t *testing.T, markup string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(markup))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatalf("%v in %s", err, markup)
		}
	}
}

// untouched checks that ink of letters and rules lies within the box and that no two
// touch.
func untouched(t *testing.T, text string, b Box) {
	t.Helper()
	var boxes []picture.Box
	var said []string
	for _, m := range b.Marks {
		switch m := m.(type) {
		case picture.Text:
			size := picture.FontSize(m.Height)
			x, box := m.At.X, picture.Nothing
			for _, r := range m.Words {
				if reach, found := ink(m.Face, r); found && reach.right > reach.left {
					box = box.Join(picture.Box{Min: picture.Point{X: x + reach.left*size, Y: m.At.Y - reach.up*size}, Max: picture.Point{X: x + reach.right*size, Y: m.At.Y + reach.down*size}})
				}
				x += picture.TextWidth(string(r), m.Height, m.Face)
			}
			boxes, said = append(boxes, box), append(said, m.Words)
		case picture.Path:
			if isBar(m) && picture.CurveBounds(m.Curves).Width() > 4 {
				boxes, said = append(boxes, picture.CurveBounds(m.Curves)), append(said, "a bar")
			}
		}
	}
	const slack = 0.35 // of slanted letters and of rounding, at 10 mm an em
	for i, one := range boxes {
		if one.Min.Y < -b.Up-1e-6 || one.Max.Y > b.Down+1e-6 || one.Min.X < -slack-0.5 || one.Max.X > b.Width+slack {
			t.Errorf("%s: %s lies outside of its box", text, said[i])
		}
		for j := range i {
			other := boxes[j]
			x, y := math.Min(one.Max.X, other.Max.X)-math.Max(one.Min.X, other.Min.X), math.Min(one.Max.Y, other.Max.Y)-math.Max(one.Min.Y, other.Min.Y)
			if x > slack && y > slack {
				t.Errorf("%s: %s (%d) lies on %s (%d), %.2f by %.2f", text, said[i], i, said[j], j, x, y)
			}
		}
	}
}

// isBar reports whether a path is a straight rule: four corners, little height.
func isBar(p picture.Path) bool {
	return len(p.Curves) == 4 && picture.CurveBounds(p.Curves).Height() < 1
}
