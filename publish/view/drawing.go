package view

import (
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// Body is a solid that stands somewhere.
type Body struct {
	Solid *solid.Solid
	At    solid.Placement
	// Tag is the caller's own name of it; lines bear it.
	Tag string
	// features are those of the whole solid where a section has cut it.
	features []solid.Feature
}

// Options chooses what of a view is worked out. The zero value draws visible
// and hidden edges, silhouettes and threads.
type Options struct {
	// VisibleOnly leaves hidden lines out, and most of the work with them:
	// for pictures of assemblies.
	VisibleOnly bool
	// Smallest leaves out edges that are drawn shorter than this, mm; 0 keeps
	// all. What they bound still hides what is behind it.
	Smallest float64
	// Smooth also gives the edges between faces that run on smoothly.
	Smooth bool
	// NoThreads leaves out the thread convention.
	NoThreads bool
	// Chord is how far, in mm, a chain of chords may lie off its curve; 0
	// means [DefaultChord].
	Chord float64
}

// DefaultChord (mm) is a tenth of the finest line's width, so that no chain of
// chords shows at true size.
const DefaultChord = 0.01

// Kind says what a line stands for.
type Kind int

// The kinds, in the order in which one hides another where they coincide.
const (
	Edge       Kind = iota // two faces meet at an angle
	Silhouette             // a round face turns away from the eye
	Limit                  // where the full thread ends (ISO 6410-1)
	Thread                 // narrow line of a thread's other diameter (ISO 6410-1)
	Smooth                 // two faces run on into each other
)

// String returns the kind in a word.
func (k Kind) String() string {
	return [...]string{"edge", "silhouette", "limit", "thread", "smooth"}[k]
}

// Line is one line of a drawing, seen or hidden all along.
type Line struct {
	// Curves is one picture.Line or picture.Arc, or a chain of chords where two
	// round surfaces meet. A whole circle is an Arc with a sweep of 2π.
	Curves  []picture.Curve
	Visible bool
	Kind    Kind
	Body    int    // index of the body
	Tag     string // of the body
	// Faces names the faces it belongs to, each name once, as the solid does:
	// top, holes.posts.1.
	Faces []string
}

// Length returns the length drawn, mm.
func (l Line) Length() float64 {
	sum := 0.0
	for _, c := range l.Curves {
		sum += c.Length()
	}
	return sum
}

// Drawing is a view.
type Drawing struct {
	Direction Direction
	Lines     []Line
}

// Bounds is the box around all lines; picture.Nothing for none.
func (d *Drawing) Bounds() picture.Box {
	box := picture.Nothing
	for _, l := range d.Lines {
		box = box.Join(picture.CurveBounds(l.Curves))
	}
	return box
}

// Length returns the summed length of the visible or of the hidden lines, mm.
func (d *Drawing) Length(visible bool) float64 {
	sum := 0.0
	for _, l := range d.Lines {
		if l.Visible == visible {
			sum += l.Length()
		}
	}
	return sum
}

// Curves returns the curves of visible or of hidden lines of the given kinds,
// in order.
func (d *Drawing) Curves(visible bool, kinds ...Kind) []picture.Curve {
	var out []picture.Curve
	for _, l := range d.Lines {
		for _, k := range kinds {
			if l.Kind == k && l.Visible == visible {
				out = append(out, l.Curves...)
			}
		}
	}
	return out
}

// Flat is where a point in space is drawn: x right, y down, at 1:1.
func (d Direction) Flat(p solid.Vec) picture.Point {
	return paper(solid.Vec{X: p.Dot(d.Right), Y: p.Dot(d.Up)})
}
