package stackup_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/chain"
	"plansheaf/design/golden"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/inspect/overlap"
	"plansheaf/publish/picture"
	"plansheaf/publish/stackup"
	"plansheaf/publish/wording"
)

// report is a chain of one link for each contributor.
func report(list ...chain.Contributor) *chain.Report {
	r := &chain.Report{Calc: &plan.Calc{ID: plan.Word{Text: "gap"}}, Known: true}
	at := 0.0
	for i := range list {
		list[i].Link, list[i].Number = i, i+1
		step := list[i].Sense * list[i].Size
		r.Links = append(r.Links, chain.Link{Start: at, Step: step})
		at += step
	}
	r.Measured = at
	r.Gap = chain.Sum(at, list)
	r.Contributors = list
	return r
}

func length(title string, size, sense, lower, upper float64) chain.Contributor {
	return chain.Contributor{Kind: chain.Length, Title: title, From: "left", To: "end of slot", Size: size, Sense: sense, Lower: lower, Upper: upper, Says: "ISO 2768-m"}
}

// sound fails where marks leave a picture, or words lie on words or lines.
func sound(t *testing.T, pics []*picture.Picture) {
	t.Helper()
	for _, pic := range pics {
		if err := picture.Check(pic); err != nil {
			t.Error(err)
		}
		for _, fault := range overlap.Faults(pic) {
			t.Errorf("%s: %s", pic.Name, fault)
		}
		b := picture.Bounds(pic.Marks)
		if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > pic.Width || b.Max.Y > pic.Height {
			t.Errorf("%s reaches to %v..%v of %g × %g mm", pic.Name, b.Min, b.Max, pic.Width, pic.Height)
		}
	}
}

// The sketch of a chain with a size of every kind.
func TestSketch(t *testing.T) {
	r := report(
		length("Channel with a name that is rather long for its place", 44.45, 1, -0.0762, 0.0762),
		chain.Contributor{Kind: chain.Shift, Title: "Channel", From: "floor of seat", Lower: -0.0145, Upper: 0.0145, Sense: 1, Says: "12 mm h6 in 12 mm H7"},
		length("Block", 19.05, -1, -0.0254, 0.0254),
		chain.Contributor{Kind: chain.Diameter, Title: "Pin", From: "body", Size: 12, Sense: -0.5, Lower: 0.016, Upper: 0.034, Says: "12 mm F7"},
		length("Block", 19.2, -1, 0, 0.05),
		chain.Contributor{Kind: chain.Extra, From: "shim", Size: -0.1, Sense: 1, Lower: -0.02, Upper: 0.02, Says: "pasted in"},
	)
	for _, c := range []struct {
		name, language string
		system         quantity.System
	}{{"metric", "en", quantity.Metric}, {"inch", "de", quantity.Inch}} {
		t.Run(c.name, func(t *testing.T) {
			words, _ := wording.For(c.language)
			pics := stackup.Draw(r, "chains/gap", "Gap", c.system, words)
			if len(pics) != 1 {
				t.Fatalf("%d pictures, want one", len(pics))
			}
			sound(t, pics)
			svg, err := picture.SVG(pics[0])
			if err != nil {
				t.Fatal(err)
			}
			golden.Compare(t, "testdata/"+c.name+".svg", svg)
		})
	}
}

// Every arrow begins where the one before it ended, the last ends at one side of the
// gap, the first begins at the other; the ways that they point are those of the sizes.
func TestTheLoopCloses(t *testing.T) {
	words, _ := wording.For("en")
	for _, n := range []int{1, 2, 13, 14, 40} {
		var list []chain.Contributor
		for i := range n {
			list = append(list, length(fmt.Sprint("Part ", i), 5+float64(i*i%17), math.Copysign(1, float64(i%3)-0.5), -0.1, 0.1))
		}
		pics := stackup.Draw(report(list...), "chains/gap", "Gap", quantity.Metric, words)
		sound(t, pics)
		if want := (n + 12) / 13; len(pics) != want {
			t.Errorf("%d sizes on %d pictures, want %d", n, len(pics), want)
		}
		var starts, ends []float64
		for _, pic := range pics {
			for _, m := range pic.Marks {
				p, ok := m.(picture.Path)
				if !ok || p.Line != picture.Visible {
					continue
				}
				line := p.Curves[0].(picture.Line)
				starts, ends = append(starts, line.A.X), append(ends, line.B.X+math.Copysign(1.25, line.B.X-line.A.X))
			}
		}
		if len(starts) != n {
			t.Fatalf("%d arrows for %d sizes", len(starts), n)
		}
		for i := range n {
			if (ends[i] > starts[i]) != (numbered(list, i+1).Sense > 0) {
				t.Errorf("arrow %d of %d points the wrong way", i+1, n)
			}
			if i > 0 && math.Abs(starts[i]-ends[i-1]) > 1e-9 {
				t.Errorf("arrow %d of %d begins at %g, the one before ends at %g", i+1, n, starts[i], ends[i-1])
			}
		}
	}
}

// numbered is the contributor with a number.
func numbered(list []chain.Contributor, number int) chain.Contributor {
	for _, c := range list {
		if c.Number == number {
			return c
		}
	}
	return chain.Contributor{}
}

// Sizes read as on a drawing.
func TestSize(t *testing.T) {
	cases := []struct {
		c      chain.Contributor
		system quantity.System
		want   string
	}{
		{length("", 400, 1, -0.8, 0.8), quantity.Metric, "400 ± 0.8"},
		{length("", 9, -1, -0.12, 0), quantity.Metric, "9 0/−0.12"},
		{length("", 25.4, 1, -0.254, 0.254), quantity.Inch, "1 ± 0.01"},
		{length("", 7, 1, 0, 0), quantity.Metric, "7"},
		{chain.Contributor{Kind: chain.Diameter, Size: 12, Sense: 0.5, Lower: 0.016, Upper: 0.034}, quantity.Metric, "½ ⌀12 +0.034/+0.016"},
		{chain.Contributor{Kind: chain.Diameter, Size: 12, Sense: 1, Lower: -0.011}, quantity.Metric, "⌀12 0/−0.011"},
		{chain.Contributor{Kind: chain.Shift, Sense: 1, Lower: -0.0145, Upper: 0.0145}, quantity.Metric, "± 0.0145"},
	}
	for _, c := range cases {
		if got := stackup.Size(c.c, c.system); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Places at features are named in the words of a language.
func TestFeature(t *testing.T) {
	german, _ := wording.For("de")
	for _, c := range [][2]string{{chain.FloorOf, "Grund von seat"}, {chain.WallOf, "Wand von seat"}, {chain.EndOf, "Ende von seat"}, {"%s", "seat"}} {
		if got := stackup.Feature(strings.Replace(c[0], "%s", "seat", 1), german); got != c[1] {
			t.Errorf("%q, want %q", got, c[1])
		}
	}
}

// A chain that does not close has no picture.
func TestOpenChain(t *testing.T) {
	r := report(length("Part", 1, 1, -0.1, 0.1))
	r.Known = false
	words, _ := wording.For("en")
	if pics := stackup.Draw(r, "chains/gap", "Gap", quantity.Metric, words); pics != nil {
		t.Errorf("%d pictures", len(pics))
	}
}
