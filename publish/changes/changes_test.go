package changes

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"plansheaf/design/change"
	"plansheaf/design/finding"
	"plansheaf/design/golden"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// What a hostile plan says stays words in every form.
func TestHostileWordsStayWords(t *testing.T) {
	evil := "</td><script>alert(1)</script> @everyone [x](http://evil.example) #12 **b** `c` <!-- \x1b[31m \u202e"
	r := Report{Comparison: &change.Comparison{
		Old: change.Side{Title: evil, Revision: "A"}, New: change.Side{Title: evil, Revision: evil},
		Changes: []change.Change{
			{Kind: change.OfPart, What: change.Changed, ID: "plate", Title: evil, Lines: []change.Field{{What: evil, Old: evil, New: evil}}},
			{Kind: change.OfHazard, What: change.Added, ID: "edge", Title: evil},
		},
		Worse: []string{evil}, First: []change.Look{{Rank: 1, Why: evil, Say: evil}},
		Found: []change.Finding{{Rule: "x", Severity: finding.Error, Message: evil}},
	}}
	page, err := r.HTML(nil)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(page, []byte("<script>alert")) || bytes.Contains(page, []byte("</td><script")) {
		t.Error("the page holds the plan's script")
	}
	text := string(r.Text())
	if strings.ContainsAny(text, "\x1b\u202e") {
		t.Error("the text holds controls")
	}
	mark := string(r.Markdown())
	for _, bad := range []string{"<script", "@everyone", "[x]", "http://", "\x1b", "<!--", " #12", "**b**", "`c`"} {
		if strings.Contains(mark, bad) {
			t.Errorf("the Markdown holds %q", bad)
		}
	}
	notes := string(r.Notes())
	if !strings.Contains(notes, "revision: '") {
		t.Errorf("the draft quotes no revision: %s", notes)
	}
}

// Markdown stays short enough for a comment, however much changed.
func TestMarkdownIsBounded(t *testing.T) {
	c := &change.Comparison{}
	for range 3000 {
		c.Changes = append(c.Changes, change.Change{Kind: change.OfJoint, What: change.Changed, ID: "frame.joint", Lines: []change.Field{{What: "screw", Old: strings.Repeat("x", 2000), New: strings.Repeat("y", 2000)}}})
		c.Worse = append(c.Worse, strings.Repeat("worse ", 500))
		c.Found = append(c.Found, change.Finding{Message: strings.Repeat("z", 5000)})
	}
	text := Report{Comparison: c}.Markdown()
	if len(text) > 65_000 {
		t.Errorf("it is %d bytes long", len(text))
	}
	if !bytes.Contains(text, []byte("and 2960 more")) {
		t.Error("it does not say that it shows some only")
	}
}

// The JSON of a report keeps its schema.
func TestJSONKeepsItsSchema(t *testing.T) {
	schema, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("changes.json", doc); err != nil {
		t.Fatal(err)
	}
	compiled, err := compiler.Compile("changes.json")
	if err != nil {
		t.Fatal(err)
	}
	margin := 0.5
	full := Report{
		Comparison: &change.Comparison{
			Changes: []change.Change{{Kind: change.OfPart, What: change.Changed, ID: "a", Lines: []change.Field{{What: "length", Old: "1 mm", New: "2 mm"}}, NewAt: finding.OnLine("a.yaml", 1, 2, 3)}},
			Effects: change.Effects{Margins: []change.Margin{{Of: "c", That: "x > 1", New: change.Holding{There: true, Holds: true, Margin: &margin}}}, Gained: []string{"saw"}},
			Found:   []change.Finding{{Rule: "r", Severity: finding.Warning, Message: "m"}},
			First:   []change.Look{{Rank: 1, Why: "w", Say: "s"}},
		},
		Midway: &change.Halfway{Steps: []change.Ahead{{Step: "a.b", Do: []change.Task{{Do: change.Open, Say: "x", On: change.Subject{Name: "a.j", Joint: true, Items: []change.Item{{Part: "p", Title: "P", Count: 2}}}, Lines: []change.Field{{What: "at", New: "1 mm"}}}}}}},
	}
	for _, r := range []Report{{Comparison: &change.Comparison{}}, full} {
		text, err := r.JSON()
		if err != nil {
			t.Fatal(err)
		}
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := compiled.Validate(value); err != nil {
			t.Errorf("%v in\n%s", err, text)
		}
	}
	var keys map[string]any
	text, _ := full.JSON()
	if err := json.Unmarshal(text, &keys); err != nil || keys["midway"] == nil {
		t.Errorf("no midway: %v", err)
	}
}

// box is one with its lowest corner at the origin, mm.
func box(t *testing.T, x, y, z float64) *solid.Solid {
	t.Helper()
	s, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Block{Size: solid.Vec{X: x, Y: y, Z: z}}}}})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestOverlay(t *testing.T) {
	p, err := Overlay("parts/block", "Block", box(t, 40, 20, 10), box(t, 50, 20, 10))
	if err != nil {
		t.Fatal(err)
	}
	svg, err := picture.SVG(p)
	if err != nil {
		t.Fatal(err)
	}
	golden.Compare(t, "testdata/block.svg", svg)
	if _, err := Overlay("parts/block", "Block", box(t, 40, 20, 10), box(t, 40, 20, 10)); !errors.Is(err, errAlike) {
		t.Errorf("two equal boxes give the error %v, want %v", err, errAlike)
	}
}

// Lines are the same where they lie on each other, however they are cut up.
func TestCompared(t *testing.T) {
	line := func(a, b float64) picture.Curve {
		return picture.Line{A: picture.Point{X: a, Y: 5}, B: picture.Point{X: b, Y: 5}}
	}
	arc := func(start, sweep float64) picture.Curve {
		return picture.Arc{Centre: picture.Point{X: 1, Y: 2}, RX: 10, RY: 10, Start: start, Sweep: sweep}
	}
	cases := []struct {
		name              string
		old, new          []picture.Curve
		went, came, stays float64 // lengths
	}{
		{name: "the same in other pieces", old: []picture.Curve{line(0, 10)}, new: []picture.Curve{line(6, 10), line(6, 0)}, stays: 10},
		{name: "longer", old: []picture.Curve{line(0, 10)}, new: []picture.Curve{line(0, 14)}, came: 4, stays: 10},
		{name: "a gap in the middle", old: []picture.Curve{line(0, 10)}, new: []picture.Curve{line(0, 3), line(7, 10)}, went: 4, stays: 6},
		{name: "moved along", old: []picture.Curve{line(0, 10)}, new: []picture.Curve{line(8, 18)}, went: 8, came: 8, stays: 2},
		{name: "half a circle less", old: []picture.Curve{arc(0, 2*math.Pi)}, new: []picture.Curve{arc(1, math.Pi)}, went: 10 * math.Pi, stays: 10 * math.Pi},
		{name: "an arc the other way round", old: []picture.Curve{arc(1, 1)}, new: []picture.Curve{arc(2, -1)}, stays: 10},
		{name: "an arc over the start", old: []picture.Curve{arc(-0.5, 1)}, new: []picture.Curve{arc(0, 0.5)}, went: 5, stays: 5},
		{name: "nothing before", new: []picture.Curve{line(0, 3)}, came: 3},
	}
	total := func(list []picture.Curve) (mm float64) {
		for _, c := range list {
			mm += c.Length()
		}
		return mm
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			went, came, stays := compared(c.old, c.new)
			for _, one := range []struct {
				what      string
				got, want float64
			}{{"went", total(went), c.went}, {"came", total(came), c.came}, {"stays", total(stays), c.stays}} {
				if math.Abs(one.got-one.want) > 1e-6 {
					t.Errorf("%s: %g mm, want %g", one.what, one.got, one.want)
				}
			}
		})
	}
}
