package reckon

import (
	"errors"
	"fmt"
	"sync"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// Shapes keeps solids that were built, so that equal parts in several cases are
// built once; it also counts the work of all formulas of those cases, and knows which
// tables rise. It is safe for several goroutines.
type Shapes struct {
	// Kept keeps what is worked out from one run to the next; nil for none.
	Kept     *memo.Store
	own      *memo.Store // what one case leaves to another where nothing else is kept
	work     *formula.Work
	mu       sync.Mutex
	built    map[memo.Key]*built
	shared   map[string]*shared
	meshes   map[string]*meshFile
	cuts     map[cutKey]*cut
	halves   map[halvesKey][2]*solid.Solid
	surfaces map[lying]surface
	falls    map[*plan.Table]int // the row at which a table that was looked through does not rise; 0 for none
	tables   map[*plan.Table]memo.Key
	moving   *mover // what may change with where motions stand
}

// A built is one shape's solid, or its faults, once it was asked for.
type built struct {
	kept  *memo.Store
	key   memo.Key
	shape solid.Shape
	once  sync.Once
	solid *solid.Solid
	err   error
	sized sync.Once
	size  size
	fails error // as err, where its size was asked for
}

// A size is what of a solid can be told without its faces.
type size struct {
	Measures solid.Measures
	Box      solid.Box
}

// body is the shape's solid.
func (b *built) body() (*solid.Solid, error) {
	b.once.Do(func() {
		b.solid, b.err = keptSolid(b.kept, "solid", func() (*solid.Solid, error) { return solid.Build(b.shape) }, b.key)
	})
	return b.solid, b.err
}

// mostKept is how many faces a solid that is kept may have; those of more come from
// meshes, and would fill the store.
const mostKept = 5000

// errLarge is of a solid that is not kept.
var errLarge = errors.New("too large to keep")

// keptSolid is what build gives, taken over from an earlier run where that is known.
func keptSolid(kept *memo.Store, what string, build func() (*solid.Solid, error), given ...any) (*solid.Solid, error) {
	packed, err := memo.Do(kept, what, func() (solid.Packed, error) {
		body, err := build()
		if err == nil && body != nil && len(body.Faces) > mostKept {
			err = errLarge
		}
		return solid.Packed{Solid: body}, err
	}, given...)
	if err == errLarge {
		err = nil
	}
	return packed.Solid, err
}

// measure is what the shape measures, for which its solid need not be had where that is
// known from an earlier run.
func (b *built) measure() (size, error) {
	b.sized.Do(func() {
		b.size, b.fails = memo.Do(b.kept, "size of a shape", func() (size, error) {
			body, err := b.body()
			if err != nil {
				return size{}, err
			}
			return size{Measures: body.Measure(), Box: body.Box()}, nil
		}, b.key)
	})
	return b.size, b.fails
}

// NewShapes returns an empty store.
func NewShapes() *Shapes {
	return &Shapes{own: memo.New(), work: formula.NewWork(maxSteps), built: map[memo.Key]*built{}, shared: map[string]*shared{}, meshes: map[string]*meshFile{}, cuts: map[cutKey]*cut{}, halves: map[halvesKey][2]*solid.Solid{}, falls: map[*plan.Table]int{}, surfaces: map[lying]surface{}, tables: map[*plan.Table]memo.Key{}}
}

// Kept keeps what follows from a plan's values, from one run to the next or at least
// from one case to another.
func (r *Reckoning) Kept() *memo.Store { return r.shapes.store() }

// store keeps results at least for the other cases.
func (s *Shapes) store() *memo.Store {
	if s.Kept != nil {
		return s.Kept
	}
	return s.own
}

// maxSteps bounds what the formulas of a plan repeat in all cases together: some
// thousand equations solved, each with a dozen inputs taken to the ends of their
// spreads.
const maxSteps = 20_000_000

// of is the shape's place among those that were built; equal shapes have one.
func (s *Shapes) of(shape solid.Shape) *built {
	key, err := memo.KeyOf("shape", shape)
	if err != nil {
		return &built{shape: shape}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	b := s.built[key]
	if b == nil {
		b = &built{kept: s.Kept, key: key, shape: shape}
		s.built[key] = b
	}
	return b
}

// build returns the solid of a shape and its measures.
func (s *Shapes) build(shape solid.Shape) (*solid.Solid, solid.Measures, error) {
	b := s.of(shape)
	body, err := b.body()
	if err != nil {
		return nil, solid.Measures{}, err
	}
	size, err := b.measure()
	return body, size.Measures, err
}

// A shared is a solid that is made by other means than a shape.
type shared struct {
	once  sync.Once
	solid *solid.Solid
}

// Shared returns the solid that build makes for a key, built once for all cases and
// positions that share their solids; nil where build gives none. The same key must
// mean the same shape, in whatever run of whatever plan.
func (r *Reckoning) Shared(key string, build func() *solid.Solid) *solid.Solid {
	s := r.shapes
	s.mu.Lock()
	b := s.shared[key]
	if b == nil {
		b = &shared{}
		s.shared[key] = b
	}
	s.mu.Unlock()
	b.once.Do(func() {
		b.solid, _ = keptSolid(s.Kept, "shared solid", func() (*solid.Solid, error) { return build(), nil }, key)
	})
	return b.solid
}

// A shaper turns a part's formulas into the numbers of a solid; ok falls to false
// at the first that cannot be worked out, which is then among the findings.
type shaper struct {
	r  *Reckoning
	ok bool
}

// mm is a length that must be given.
func (s *shaper) mm(q plan.Quantity) float64 {
	v, ok := s.r.Length(q)
	s.ok = s.ok && ok
	return v
}

// mmOr is a length, or fallback where none is given.
func (s *shaper) mmOr(q plan.Quantity, fallback float64) float64 {
	if !q.Given() {
		return fallback
	}
	return s.mm(q)
}

func (s *shaper) angle(q plan.Quantity) float64 {
	v, ok := s.r.QuantityIn(q, quantity.Angle)
	s.ok = s.ok && ok
	return v.SI
}

func (s *shaper) whole(q plan.Quantity) int {
	n, ok := s.r.Whole(q)
	s.ok = s.ok && ok
	return n
}

// pair is two lengths; reading has made sure that there are two.
func (s *shaper) pair(of []plan.Quantity) solid.Vec2 {
	if len(of) < 2 {
		s.ok = false
		return solid.Vec2{}
	}
	return solid.Vec2{X: s.mm(of[0]), Y: s.mm(of[1])}
}

func (s *shaper) triple(of []plan.Quantity) solid.Vec {
	if len(of) < 3 {
		s.ok = false
		return solid.Vec{}
	}
	return solid.Vec{X: s.mm(of[0]), Y: s.mm(of[1]), Z: s.mm(of[2])}
}

func axis(w plan.Word, otherwise solid.Axis) solid.Axis {
	switch w.Text {
	case "x":
		return solid.AxisX
	case "y":
		return solid.AxisY
	case "z":
		return solid.AxisZ
	}
	return otherwise
}

// base is the part's body before holes; nil when the plan gives none, or one that
// cannot be worked out.
func (s *shaper) base(p *plan.Part, stock *plan.Stock) solid.Base {
	bar := stock != nil && stock.Section != nil && len(p.Shape) == 0
	if !bar {
		s.noMitre(p)
	}
	switch {
	case len(p.Shape) > 0:
		return s.group(p.Shape)
	case stock == nil:
		return nil
	case stock.Section != nil && p.Length.Given():
		bar := solid.Bar{Section: s.section(stock.Section), Length: s.mm(p.Length), Lies: axis(p.Lies, solid.AxisX)}
		if p.Mitre != nil {
			bar.Start, bar.End = s.mitre(p.Mitre, 0), s.mitre(p.Mitre, 1)
		}
		if stock.Section.Kind.Text == "thread" {
			bar.Thread = s.thread(stock.Section.Thread, 0)
		}
		return bar
	case stock.Thick.Given() && p.Outline != nil:
		return solid.Sheet{Outline: s.outline(p.Outline), Thickness: s.mm(stock.Thick)}
	}
	return nil
}

func (s *shaper) section(sec *plan.Section) solid.Section {
	size := func() (w, h float64) {
		p := s.pair(sec.Size)
		return p.X, p.Y
	}
	corner := s.mmOr(sec.Corner, 0)
	switch sec.Kind.Text {
	case "round":
		return solid.Round{D: s.mm(sec.D)}
	case "square":
		side := s.mm(sec.Side)
		return solid.Rectangle{W: side, H: side, Corner: corner}
	case "rectangle":
		w, h := size()
		return solid.Rectangle{W: w, H: h, Corner: corner}
	case "tube":
		return solid.Tube{D: s.mm(sec.D), Wall: s.mm(sec.Wall)}
	case "box":
		w, h := size()
		return solid.BoxTube{W: w, H: h, Wall: s.mm(sec.Wall), Corner: corner}
	case "angle":
		w, h := size()
		return solid.Angle{W: w, H: h, Wall: s.mm(sec.Wall), Corner: s.mmOr(sec.Inner, 0)}
	case "channel":
		w, h := size()
		return solid.Channel{W: w, H: h, Wall: s.mm(sec.Wall), Corner: s.mmOr(sec.Inner, 0)}
	case "slotted":
		w, h := size()
		return solid.Slotted{
			W: w, H: h, Slot: s.mm(sec.Slot), Lip: s.mm(sec.Lip), Depth: s.mm(sec.Depth),
			Pocket: s.mm(sec.Pocket), Core: s.mmOr(sec.Core, 0), Corner: corner,
		}
	case "thread":
		if t := s.thread(sec.Thread, 0); t != nil {
			return solid.Round{D: t.Major}
		}
	case "outline":
		return solid.Profile{Outline: s.outline(sec.Outline)}
	}
	s.ok = false
	return nil
}

func (s *shaper) outline(o *plan.Outline) solid.Outline {
	if o == nil {
		s.ok = false
		return nil
	}
	var out solid.Outline
	switch o.Kind.Text {
	case "rectangle":
		size := s.pair(o.Size)
		out = solid.RectangleOutline(size.X, size.Y)
	case "circle":
		out = solid.CircleOutline(s.mm(o.D))
	case "polygon":
		var points []solid.Vec2
		for _, p := range o.Points {
			points = append(points, s.pair(p.Of))
		}
		out = solid.PolygonOutline(points)
	case "path":
		out = s.path(o.Path)
	default:
		s.ok = false
	}
	if !s.ok {
		return nil
	}
	var err error
	switch {
	case o.Corners.Round.Given():
		out, err = out.Rounded(s.mm(o.Corners.Round))
	case o.Corners.Chamfer.Given():
		out, err = out.Chamfered(s.mm(o.Corners.Chamfer))
	}
	if err != nil {
		s.fault(o.Corners.At, err)
	}
	return out
}

func (s *shaper) path(segments []plan.Segment) solid.Outline {
	var out solid.Outline
	var at, start solid.Vec2
	for i, seg := range segments {
		end := s.pair(seg.End.Of)
		switch {
		case i == 0:
			start = end
		case seg.Kind.Text == "arc":
			span, ok := solid.ArcOfRadius(at, end, s.mm(seg.Radius), seg.Turn.Text == "right", seg.Large)
			if s.ok && !ok {
				s.fault(seg.At, fmt.Errorf("no arc of this radius joins the points before and after it"))
			}
			out = append(out, span)
		default:
			out = append(out, solid.Span{From: at, To: end})
		}
		at = end
	}
	if len(out) > 0 && at != start {
		out = append(out, solid.Span{From: at, To: start})
	}
	return out
}

// fault reports a shape that cannot be.
func (s *shaper) fault(at finding.Span, err error) {
	s.ok = false
	s.r.note(BadShape, finding.Finding{At: at, Message: err.Error()})
}

func (s *shaper) group(shapes []plan.Solid) solid.Base {
	var group solid.Group
	for _, m := range shapes {
		member := solid.Member{Along: axis(m.Axis, solid.AxisZ), Cut: m.Cut, Name: m.Name.Text}
		if m.Place.Given() {
			member.At = s.triple(m.Place.Of)
		}
		member.Shape = s.primitive(m)
		if m.Cut && m.Thread.Given() {
			s.fault(m.Thread.At, fmt.Errorf("a thread that is cut away is a hole with tap: %s", m.Thread.Text))
		}
		group = append(group, member)
	}
	return group
}

func (s *shaper) primitive(m plan.Solid) solid.Primitive {
	switch m.Kind.Text {
	case "box":
		return solid.Block{Size: s.triple(m.Size)}
	case "cylinder":
		d, t := s.across(m.D, m.Thread)
		return solid.Rod{D: d, L: s.mm(m.L), Thread: t}
	case "tube":
		return solid.Pipe{D: s.mm(m.D), Bore: s.mm(m.Bore), L: s.mm(m.L)}
	case "cone":
		return solid.Taper{D: s.mm(m.D), To: s.mm(m.To), L: s.mm(m.L)}
	case "prism":
		return solid.Extruded{Outline: s.outline(m.Outline), L: s.mm(m.L)}
	case "turned":
		var steps solid.Lathed
		for _, t := range m.Steps {
			d, thread := s.across(t.D, t.Thread)
			steps = append(steps, solid.TurnedStep{D: d, L: s.mm(t.L), Thread: thread})
		}
		return steps
	case "mesh":
		return s.mesh(m)
	}
	s.ok = false
	return nil
}

// across is the diameter of a round piece, and its thread where it says one.
func (s *shaper) across(d plan.Quantity, thread plan.Word) (float64, *solid.Thread) {
	if !thread.Given() {
		return s.mm(d), nil
	}
	t := s.thread(thread, 0)
	if t == nil {
		return 0, nil // which is among the findings
	}
	return t.Major, t
}
