package binder

import (
	"math"
	"strings"
	"testing"

	"plansheaf/publish/picture"
)

// wiring is a diagram with what diagrams use.
const wiring = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 160" width="400" height="160" fill="none" stroke="#1d2733" stroke-width="1.6" font-size="13">
<title>Wiring</title><defs><linearGradient id="unused"/></defs>
<rect x="1" y="1" width="398" height="158" fill="#fff" stroke="#9aa4ae"/>
<g transform="translate(20 20)"><rect width="90" height="50" rx="6" fill="rgb(244, 223, 208)"/><text x="45" y="30" text-anchor="middle" fill="#000" stroke="none">Socket ⌀4</text></g>
<path d="M110 45H200v30q0 10 10 10t10 10l20-5a20 20 0 0 1 40 0c10 0 10 20 20 20s10-20 20-20z" stroke="#b3261e" stroke-dasharray="7 4"/>
<polyline points="20,140 60,120 100,140"/><polygon points="120,140 140,110 160,140" fill="teal" fill-opacity="0.4"/>
<circle cx="350" cy="40" r="20"/><ellipse cx="350" cy="120" rx="30" ry="15"/><line x1="200" y1="140" x2="300" y2="140"/>
</svg>`

func TestReadVector(t *testing.T) {
	v, err := readVector([]byte(wiring))
	if err != nil {
		t.Fatal(err)
	}
	// CSS: 96 pixels an inch.
	if want := 400 * 25.4 / 96; math.Abs(v.width-want) > 1e-9 || math.Abs(v.height-want*0.4) > 1e-9 {
		t.Errorf("%.3f by %.3f mm", v.width, v.height)
	}
	if len(v.shapes) != 9 {
		t.Errorf("%d shapes, want 9", len(v.shapes))
	}
	words := v.shapes[2]
	if words.words != "Socket ⌀4" || words.anchor != "middle" || math.Abs(words.at.X-65*25.4/96) > 1e-9 {
		t.Errorf("%+v", words)
	}
	if math.Abs(words.size-13*72.0/96) > 1e-9 {
		t.Errorf("letters of %v points, want 9.75", words.size)
	}
	// 40 % of teal (0, 128, 128) on white.
	if c := v.shapes[5].fill; *c != (colour{153, 204, 204}) {
		t.Errorf("teal at 40 %% is %v", *c)
	}
}

func TestReadVectorRefusesWhatItCannotPrint(t *testing.T) {
	for _, test := range []struct{ name, inside, want string }{
		{"unknown element", `<image href="x.png"/>`, "<image>"},
		{"style sheet", `<style>rect{fill:red}</style>`, "<style>"},
		{"turned", `<g transform="rotate(30)"/>`, "rotate"},
		{"gradient", `<rect width="3" height="3" fill="url(#g)"/>`, "url"},
		{"clip", `<g clip-path="url(#c)"/>`, "clip-path"},
		{"path", `<path d="M0 0 L nonsense"/>`, "path data"},
		{"path without start", `<path d="L 1 1"/>`, "path data"},
		{"out of reach", `<rect x="1e200" width="3" height="3" fill="red"/><path d="M0 0H1e300"/>`, "path data"},
		{"not closed", `<g>`, "well-formed"},
		{"deep", strings.Repeat("<g>", 60) + strings.Repeat("</g>", 60), "nested"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := readVector([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10">` + test.inside + `</svg>`))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got %v, want %q", err, test.want)
			}
		})
	}
	for _, data := range []string{"", "<html/>", "<svg/>", `<svg width="nan" height="1"/>`, "\xff\xfe"} {
		if _, err := readVector([]byte(data)); err == nil {
			t.Errorf("%q was read", data)
		}
	}
}

// TestArcByEnds: the four arcs between two points of SVG 1.1, figure arcs02: radii
// 100 and 50 through (125, 75) and (225, 25); their centres are (125, 25) and
// (225, 75).
func TestArcByEnds(t *testing.T) {
	for _, test := range []struct {
		flags          string
		centreX, sweep float64 // degrees
	}{{"0 0", 125, -90}, {"0 1", 225, 90}, {"1 0", 225, -270}, {"1 1", 125, 270}} {
		outlines, err := readPath("M125 75A100 50 0 " + test.flags + " 225 25")
		if err != nil {
			t.Fatal(err)
		}
		arc := outlines[0].curves[0].(picture.Arc)
		from, to := arc.Ends()
		if math.Abs(arc.Centre.X-test.centreX) > 1e-6 || math.Abs(arc.Sweep*180/math.Pi-test.sweep) > 1e-6 {
			t.Errorf("flags %s: centre %v, sweep %.1f°", test.flags, arc.Centre, arc.Sweep*180/math.Pi)
		}
		if from.Distance(picture.Point{X: 125, Y: 75}) > 1e-6 || to.Distance(picture.Point{X: 225, Y: 25}) > 1e-6 {
			t.Errorf("flags %s: from %v to %v", test.flags, from, to)
		}
	}
}

// FuzzReadVector looks for SVG that ends in a panic or in a shape that is no
// number.
func FuzzReadVector(f *testing.F) {
	f.Add([]byte(wiring))
	f.Add([]byte(`<svg width="1" height="1"><path d="M0 0a1 1 0 01.5.5zm1-1-1-1"/></svg>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := readVector(data)
		if err != nil {
			return
		}
		for _, s := range v.shapes {
			for _, o := range s.outlines {
				if box := picture.CurveBounds(o.curves); !finite(box.Min.X, box.Min.Y, box.Max.X, box.Max.Y) {
					t.Errorf("shape at %v", box)
				}
			}
		}
	})
}
