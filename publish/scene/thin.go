package scene

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	// closest (mm on paper) is how near to each other two lines of one body that run
	// side by side are drawn: about a pixel where the picture is as wide as a phone.
	closest = 0.5
	// sideBySide is how much of a line must run beside another one to be taken for
	// it.
	sideBySide = 0.8
	// parallel is the sine of the angle below which two lines run side by side.
	parallel = 0.02
	// mostCompared bounds the straight lines of one body that are compared.
	mostCompared = 1500
)

// thinned leaves out the straight lines of a body that would run together with others
// of it: the flutes of a bar drawn small. Those farthest out, its outline, stay.
func thinned(lines []view.Line, scale float64) []view.Line {
	out := lines[:0:0]
	for from := 0; from < len(lines); {
		to := from + 1
		for to < len(lines) && lines[to].Body == lines[from].Body {
			to++
		}
		out = append(out, thinnedBody(lines[from:to], closest/scale)...)
		from = to
	}
	return out
}

// ruled is a straight line with its place among the lines of its body.
type ruled struct {
	picture.Line
	way picture.Point // unit vector
	out float64       // how far it passes the middle of the body
}

// thinnedBody does so for the lines of one body, gap mm apart at 1:1.
func thinnedBody(lines []view.Line, gap float64) []view.Line {
	var straight []ruled
	var index []int
	box := picture.Nothing
	for i, l := range lines {
		box = box.Join(picture.CurveBounds(l.Curves))
		if one, ok := l.Curves[0].(picture.Line); ok && len(l.Curves) == 1 && one.Length() > solid.Tolerance {
			straight, index = append(straight, ruled{Line: one, way: one.B.Minus(one.A).Times(1 / one.Length())}), append(index, i)
		}
	}
	if len(straight) < 2 || len(straight) > mostCompared {
		return lines
	}
	middle := box.Centre()
	order := make([]int, len(straight))
	for i := range straight {
		order[i] = i
		straight[i].out = math.Abs(straight[i].off(middle))
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(straight[b].out, straight[a].out) })
	dropped := make([]bool, len(lines))
	var kept []ruled
	for _, i := range order {
		one := straight[i]
		if slices.ContainsFunc(kept, func(k ruled) bool { return k.covers(one, gap) }) {
			dropped[index[i]] = true
			continue
		}
		kept = append(kept, one)
	}
	var out []view.Line
	for i, l := range lines {
		if !dropped[i] {
			out = append(out, l)
		}
	}
	return out
}

// off is how far a point lies beside the line.
func (r ruled) off(p picture.Point) float64 {
	d := p.Minus(r.A)
	return r.way.X*d.Y - r.way.Y*d.X
}

// covers reports whether another line runs beside this one, nearer than gap, for most
// of its length.
func (r ruled) covers(other ruled, gap float64) bool {
	if math.Abs(r.way.X*other.way.Y-r.way.Y*other.way.X) > parallel ||
		math.Abs(r.off(other.A)) >= gap || math.Abs(r.off(other.B)) >= gap {
		return false
	}
	along := func(p picture.Point) float64 { d := p.Minus(r.A); return r.way.X*d.X + r.way.Y*d.Y }
	a, b := along(other.A), along(other.B)
	common := math.Min(r.Length(), math.Max(a, b)) - math.Max(0, math.Min(a, b))
	return common >= sideBySide*other.Length()
}
