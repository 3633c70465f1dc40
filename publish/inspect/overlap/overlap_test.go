package overlap

import (
	"strings"
	"testing"

	"plansheaf/publish/picture"
)

// TestFaultsAreSeen makes sure that the audit is not blind.
func TestFaultsAreSeen(t *testing.T) {
	text := picture.Text{At: point{X: 100, Y: 100}, Words: "120", Height: 2.5}
	line := func(x1, y1, x2, y2 float64) picture.Path {
		return picture.Path{Curves: []picture.Curve{picture.Line{A: point{X: x1, Y: y1}, B: point{X: x2, Y: y2}}}, Line: picture.Thin}
	}
	frame := picture.Group{ID: "frame", Class: "border", Marks: []picture.Mark{
		picture.Path{Curves: picture.Rectangle(point{X: 20, Y: 10}, 180, 277), Line: picture.Frame},
		picture.Text{At: point{X: 100, Y: 8}, Words: "2", Height: 2.5}}}
	for _, test := range []struct {
		name  string
		marks []picture.Mark
		says  string
	}{
		{name: "clear", marks: []picture.Mark{frame, text, line(90, 101, 120, 101)}},
		{name: "text on text", marks: []picture.Mark{frame, text, picture.Text{At: point{X: 102, Y: 101}, Words: "80", Height: 2.5}}, says: `"120" lies on "80"`},
		{name: "line through text", marks: []picture.Mark{frame, text, line(90, 99, 120, 99)}, says: "on the line"},
		{name: "arc through text", marks: []picture.Mark{frame, text, picture.Path{Curves: picture.Circle(point{X: 101, Y: 109}, 10), Line: picture.Thin}}, says: "on the line"},
		{name: "text outside of the frame", marks: []picture.Mark{frame, picture.Text{At: point{X: 198, Y: 50}, Words: "300", Height: 2.5}}, says: "leaves the frame"},
		{name: "line outside of the frame", marks: []picture.Mark{frame, line(15, 50, 40, 50)}, says: "leaves the frame"},
		{name: "shifted group", marks: []picture.Mark{frame, text, picture.Group{Shift: point{X: 50}, Marks: []picture.Mark{line(45, 99, 60, 99)}}}, says: "on the line"},
		{name: "text in an inset", marks: []picture.Mark{frame, text, picture.Clip{Outline: picture.Circle(point{X: 101, Y: 99}, 20)}}, says: "on the inset"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := strings.Join(Faults(&picture.Picture{Width: 210, Height: 297, Marks: test.marks}), "\n")
			if (got == "") != (test.says == "") || !strings.Contains(got, test.says) {
				t.Errorf("faults %q, want %q", got, test.says)
			}
		})
	}
}
