package view

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// CutFace is the name, in [Line].Faces, of faces that a section's plane makes.
// No feature of a plan can bear it.
const CutFace = "section/cut"

// stepFace is the name of faces along the line of sight where a section changes
// from one plane to the next. Their edges are not drawn (ISO 128-3).
const stepFace = "section/step"

// Step is one plane of a section: it takes away what is nearer to the eye than
// At, from From on to the right.
type Step struct {
	// From is where the plane begins, mm along the view's Right; the first step's
	// counts as everything to the left.
	From float64
	// At is where the plane stands, mm along the view's Toward; +Inf cuts nothing
	// there, as on the whole side of a half section.
	At float64
}

// Cut says how a section is made.
type Cut struct {
	// Steps are the planes from left to right: one for a full section, two with
	// one at +Inf for a half section, several for a stepped one.
	Steps []Step
	// Whole tells which bodies stay whole though a plane runs through them:
	// fasteners, shafts, ribs (ISO 128-3). nil cuts all.
	Whole func(body int) bool
}

// FullSection is the cut along one plane, which stands at mm along the view's
// Toward.
func FullSection(at float64) Cut { return Cut{Steps: []Step{{At: at}}} }

// Region is material that a section's plane runs through, to be hatched.
type Region struct {
	Body int
	Tag  string
	// Outline holds closed runs, each following itself from end to start; inside
	// is where an odd number of runs goes round (picture.Path fills it so).
	Outline []picture.Curve
	// Pattern tells the hatchings of neighbours apart: bodies whose regions come
	// near each other have different ones, counted from 0.
	Pattern int
}

// Hatching returns the angle (radians) and the distance of the lines that a region
// is hatched with, distance being that of the first pattern: neighbours lean the
// other way, and further ones have their lines further apart (ISO 128-3).
func (r Region) Hatching(distance float64) (angle, apart float64) {
	angle = math.Pi / 4
	if r.Pattern%2 == 1 {
		angle = -angle
	}
	return angle, distance * (1 + 0.5*float64(r.Pattern/2))
}

// errSteps is what a cut gives that has no planes or not from left to right.
var errSteps = errors.New("view: a section needs planes at finite places, from left to right")

// Section draws bodies as [Project] does, without what lies before the cut's
// planes, and returns the regions of material in those planes, body by body. It
// returns an error besides those of Project for a cut without planes, and where a
// body could not be cut.
func Section(bodies []Body, dir Direction, cut Cut, opt Options) (*Drawing, []Region, error) {
	if err := check(bodies, dir); err != nil {
		return nil, nil, err
	}
	if err := cut.check(); err != nil {
		return nil, nil, err
	}
	if !(opt.Chord > 0) {
		opt.Chord = DefaultChord
	}
	box := solid.EmptyBox()
	for _, b := range bodies {
		box = box.Join(b.Solid.Box().Under(b.At.Then(dir.placement())))
	}
	tools, err := cut.tools(box)
	if err != nil {
		return nil, nil, err
	}
	rest := slices.Clone(bodies)
	isCut := make([]bool, len(bodies))
	for i, b := range bodies {
		if cut.Whole != nil && cut.Whole(i) {
			continue
		}
		isCut[i] = true
		rest[i].features = b.whole()
		for _, tool := range tools {
			cutOff, err := solid.Subtract(rest[i].Solid, tool.Placed(b.At.Then(dir.placement()).Inverse()))
			if err != nil {
				return nil, nil, fmt.Errorf("view: cut through body %d %q: %w", i, b.Tag, err)
			}
			rest[i].Solid = cutOff
		}
	}
	var regions []Region
	for i, b := range bodies {
		if !isCut[i] {
			continue
		}
		view, left := b.At.Then(dir.placement()), leftOf(bodies, rest, isCut, i)
		for f := range left.Faces {
			if left.Faces[f].Name == CutFace {
				regions = append(regions, Region{Body: i, Tag: b.Tag, Outline: outline(left, f, view, opt.Chord)})
			}
		}
	}
	tellApart(regions)
	d, err := Project(rest, dir, opt)
	return d, regions, err
}

// leftOf returns what is hatched of a body that is cut: not what another takes up
// that runs into it. A screw that stays whole covers the thread that it sits in, and
// one that is cut too does as well: the external thread covers the internal one
// (ISO 6410-1). Of others that run into each other the first is hatched all over.
func leftOf(bodies, rest []Body, isCut []bool, i int) *solid.Solid {
	left := rest[i].Solid
	box := left.Box().Under(bodies[i].At).Grow(-hair)
	for k, b := range bodies {
		if k == i || !box.Meets(rest[k].Solid.Box().Under(b.At)) {
			continue
		}
		before := !isCut[k] || external(b.Solid)
		if isCut[k] && external(bodies[i].Solid) == before {
			before = k < i
		}
		if !before {
			continue
		}
		// Where the two cannot be told apart all of it is hatched.
		if less, err := solid.Subtract(left, rest[k].Solid.Placed(b.At.Then(bodies[i].At.Inverse()))); err == nil {
			left = less
		}
	}
	return left
}

// external tells whether a thread is cut on the outside of a body.
func external(s *solid.Solid) bool {
	return slices.ContainsFunc(s.Faces, func(f solid.Face) bool { return f.Thread != nil && !f.Inward })
}

func (c Cut) check() error {
	if len(c.Steps) == 0 {
		return errSteps
	}
	for i, s := range c.Steps {
		if math.IsNaN(s.At) || math.IsInf(s.At, -1) || math.Abs(s.At) > furthest && !math.IsInf(s.At, 1) ||
			i > 0 && !(math.Abs(s.From) < furthest && (i == 1 || s.From > c.Steps[i-1].From+hair)) {
			return errSteps
		}
	}
	return nil
}

// tools returns what the planes take away, in view coordinates, as prisms along
// the view's Up: one for each run of planes that cut. box holds all bodies.
func (c Cut) tools(box solid.Box) ([]*solid.Solid, error) {
	if box.Empty() {
		return nil, nil
	}
	box = box.Grow(1)
	var out []*solid.Solid
	for i := 0; i < len(c.Steps); {
		// The run's floor, from left to right; planes that pass before everything
		// take nothing away.
		var floor solid.Outline
		var points []solid.Vec2
		j := i
		for ; j < len(c.Steps) && c.Steps[j].At < box.Max.Z-hair; j++ {
			from, to := box.Min.X, box.Max.X
			if j > 0 {
				from = math.Max(from, c.Steps[j].From)
			}
			if j+1 < len(c.Steps) {
				to = math.Min(to, c.Steps[j+1].From)
			}
			z := math.Max(c.Steps[j].At, box.Min.Z)
			if to > from+hair {
				points = append(points, solid.Vec2{X: from, Y: z}, solid.Vec2{X: to, Y: z})
			}
		}
		i = max(j, i+1)
		if len(points) == 0 {
			continue
		}
		points = append(points, solid.Vec2{X: points[len(points)-1].X, Y: box.Max.Z}, solid.Vec2{X: points[0].X, Y: box.Max.Z})
		points = slices.CompactFunc(points, func(a, b solid.Vec2) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < hair })
		for k, p := range points {
			floor = append(floor, solid.Span{From: p, To: points[(k+1)%len(points)]})
		}
		tool, err := prismTool(floor, box)
		if err != nil {
			return nil, err
		}
		out = append(out, tool)
	}
	return out, nil
}

// prismTool returns the prism over an outline in the view's Right and Toward, as
// high as the box, its faces named.
func prismTool(outline solid.Outline, box solid.Box) (*solid.Solid, error) {
	built, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Extruded{Outline: outline, L: box.Size().Y}, Along: solid.AxisZ}}})
	if err != nil {
		return nil, fmt.Errorf("view: planes of a section: %w", err)
	}
	// The prism's x, y, z become right, toward, down.
	turn := solid.Placement{Turn: [3]solid.Vec{{X: 1}, {Z: 1}, {Y: -1}}}
	low := solid.Vec{X: math.Inf(1), Y: box.Min.Y, Z: math.Inf(1)}
	for _, s := range outline {
		low.X, low.Z = math.Min(low.X, s.From.X), math.Min(low.Z, s.From.Y)
	}
	tool := built.Placed(solid.LowestAt(built, turn, low))
	for i := range tool.Faces {
		f := &tool.Faces[i]
		f.Name = stepFace
		if n := f.Normal(tool.Edges[f.Loops[0][0].Edge].Point(0.5)); n.Z < -0.5 {
			f.Name = CutFace
		}
	}
	return tool, nil
}

// outline draws the loops of a plane face, run by run.
func outline(s *solid.Solid, face int, view solid.Placement, chord float64) []picture.Curve {
	var out []picture.Curve
	for _, l := range s.Faces[face].Loops {
		for _, u := range l {
			e := &s.Edges[u.Edge]
			k := newTrack(e.Curve.Placed(view), e.T0, e.T1)
			out = append(out, k.run(u.Reversed, chord)...)
		}
	}
	return out
}

// run draws a whole track from its start to its end, or back.
func (k *track) run(back bool, chord float64) []picture.Curve {
	p, q := k.at(k.t0), k.at(k.t1)
	if back {
		p, q = q, p
	}
	from, to := paper(p), paper(q)
	switch k.form {
	case straight:
		return []picture.Curve{picture.Line{A: from, B: to}}
	case oval:
		c, start, end := k.arc(k.t0, k.t1)
		c.Start, c.Sweep = start, end-start
		// Whole rings begin where they end, so a place just within tells which way
		// the arc runs.
		share := 1e-3
		if back {
			share = 1 - share
		}
		first := paper(k.at(k.t0 + (k.t1-k.t0)*share))
		if first.Distance(c.At(start+c.Sweep*1e-3)) > first.Distance(c.At(end-c.Sweep*1e-3)) {
			c.Start, c.Sweep = end, -c.Sweep
		}
		return []picture.Curve{c}
	}
	chain := k.chords(k.t0, k.t1, chord)
	if back {
		slices.Reverse(chain)
		for i, c := range chain {
			a, b := c.Ends()
			chain[i] = picture.Line{A: b, B: a}
		}
	}
	return chain
}

// nearRegions (mm) is how near the boxes of two regions come for their bodies to
// count as neighbours.
const nearRegions = 1.0

// tellApart gives each body the first pattern that no neighbour has.
func tellApart(regions []Region) {
	boxes := map[int]picture.Box{}
	var order []int
	for _, r := range regions {
		b, seen := boxes[r.Body]
		if !seen {
			b = picture.Nothing
			order = append(order, r.Body)
		}
		boxes[r.Body] = b.Join(picture.CurveBounds(r.Outline))
	}
	pattern := map[int]int{}
	for i, body := range order {
		taken := map[int]bool{}
		for _, other := range order[:i] {
			if boxes[body].Grow(nearRegions).Overlaps(boxes[other]) {
				taken[pattern[other]] = true
			}
		}
		for taken[pattern[body]] {
			pattern[body]++
		}
	}
	for i := range regions {
		regions[i].Pattern = pattern[regions[i].Body]
	}
	slices.SortStableFunc(regions, func(a, b Region) int { return cmp.Compare(a.Body, b.Body) })
}
