package reckon

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sync"

	"plansheaf/design/formula"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// Section properties are asked of a bar's section (post.section.inertia_y, and of its
// stock, slot_30x30.section.area), of a cut through the middle of any part that is
// made (head_plate.section_x.area, the plane at right angles to x), and of a cut
// through the middle of a hole (head_plate.screw.section_x.modulus_y). Axes are the
// part's own; inertia_y is the second moment of area about the axis through the
// section's centre along y.

// sectionCuts are the words that a cut is named by.
var sectionCuts = map[string]solid.Axis{"section_x": solid.AxisX, "section_y": solid.AxisY, "section_z": solid.AxisZ}

// isSection reports whether a word stands for a section: "section" or one of the cuts.
func isSection(word string) bool {
	_, cut := sectionCuts[word]
	return cut || word == "section"
}

// sectionProperty is a property of a part's section; found is false where head is no
// section.
func (r *Reckoning) sectionProperty(source *plan.Part, head, rest string) (v quantity.Value, err error, found bool) {
	id := source.ID.Text
	word, through := head, ""
	if !isSection(word) || r.HoleOf(source, head) != nil {
		i := strings.LastIndex(rest, ".")
		if i < 0 {
			return v, nil, false
		}
		through, word, rest = head, rest[:i], rest[i+1:]
		if number, cut, dotted := strings.Cut(word, "."); dotted { // rods.1.section_x
			through, word = head+"."+number, cut
		}
		if !isSection(word) {
			return v, nil, false
		}
	}
	p := r.Part(id)
	if p == nil {
		return v, r.unshaped(id), true
	}
	axis, cut := sectionCuts[word]
	switch {
	case p.Faulty:
		return v, errNoted, true
	case !cut && through == "":
		v, err = r.barProperty(p, id, rest)
	case !cut:
		return v, fmt.Errorf("a cut through a hole says which way it runs: %s.%s.section_x", id, through), true
	default:
		v, err = r.cutProperty(p, axis, through, word, rest)
	}
	return v, err, true
}

// barProperty is a property of the section that a part is cut from.
func (r *Reckoning) barProperty(p *Part, id, name string) (quantity.Value, error) {
	lies := p.Part.Lies
	for b := p; b.Base != nil; b = b.Base {
		lies = b.Base.Part.Lies
	}
	if p.Stock == nil || p.Stock.Section == nil {
		return quantity.Value{}, fmt.Errorf("%q is no length of bar; a cut across it is %s.section_x, section_y or section_z", id, id)
	}
	return r.stockSection(p.Stock, axis(lies, solid.AxisX), id, name)
}

// stockSection is a property of a bar's section by the bar's axes. That of a threaded
// bar is the circle of its root.
func (r *Reckoning) stockSection(stock *plan.Stock, lies solid.Axis, id, name string) (quantity.Value, error) {
	s := &shaper{r: r, ok: true}
	section := s.section(stock.Section)
	if thread := stock.Section.Thread; thread.Given() {
		if t, ok := r.Thread(thread); ok {
			section = solid.Round{D: t.Root}
		}
	}
	if !s.ok {
		return quantity.Value{}, errNoted
	}
	m, err := solid.SectionMoments(section)
	if err != nil {
		return quantity.Value{}, err
	}
	return r.momentProperty(m, lies, id+".section", name)
}

// cutProperty is a property of a cut through a part, in its middle or through a hole.
func (r *Reckoning) cutProperty(p *Part, across solid.Axis, through, word, name string) (quantity.Value, error) {
	id := p.Part.ID.Text
	if p.Part.Made.Text == plan.Bought {
		// Its shape is what it takes up, not what it is made of.
		return quantity.Value{}, fmt.Errorf("%q is bought: its inside is not described, so no section can be cut", id)
	}
	body := p.body()
	if body == nil {
		return quantity.Value{}, fmt.Errorf("%q has no shape to cut across", id)
	}
	where := body.Box().Centre()
	if through != "" {
		f, found := body.Feature(through)
		if !found {
			f, found = body.Feature(through + ".1")
		}
		if !found {
			return quantity.Value{}, &formula.UnknownNameError{Name: id + "." + through + "." + word, Nearest: r.nearestProperty(p.Part, through)}
		}
		where = f.At
	}
	at := where.Dot(across.Vec())
	m, err := r.shapes.cut(body, across, at)
	if err != nil {
		return quantity.Value{}, fmt.Errorf("%q: %w", id, err)
	}
	if through != "" {
		id += "." + through
	}
	return r.momentProperty(m, across, id+"."+word, name)
}

// cutKey is a plane through a body.
type cutKey struct {
	body   *solid.Solid
	across solid.Axis
	at     float64
}

// cut is a body cut across, worked out once however many of its numbers are asked.
type cut struct {
	once    sync.Once
	moments solid.AreaMoments
	err     error
}

func (s *Shapes) cut(body *solid.Solid, across solid.Axis, at float64) (solid.AreaMoments, error) {
	key := cutKey{body, across, at}
	s.mu.Lock()
	c := s.cuts[key]
	if c == nil {
		c = &cut{}
		s.cuts[key] = c
	}
	s.mu.Unlock()
	c.once.Do(func() {
		c.moments, c.err = memo.Do(s.Kept, "cut", func() (solid.AreaMoments, error) { return body.CutMoments(across, at) }, body, across, at)
	})
	return c.moments, c.err
}

// momentProperty picks a property of an area by its name.
func (r *Reckoning) momentProperty(m solid.AreaMoments, across solid.Axis, of, name string) (quantity.Value, error) {
	axes := map[solid.Axis][2]string{solid.AxisX: {"y", "z"}, solid.AxisY: {"x", "z"}, solid.AxisZ: {"x", "y"}}[across]
	first := math.Max(m.High.Y-m.Centre.Y, m.Centre.Y-m.Low.Y)
	second := math.Max(m.High.X-m.Centre.X, m.Centre.X-m.Low.X)
	values := map[string]struct {
		mm  float64
		dim quantity.Dimension
	}{
		"area":               {m.Area, quantity.Area},
		"centre_" + axes[0]:  {m.Centre.X, quantity.Length},
		"centre_" + axes[1]:  {m.Centre.Y, quantity.Length},
		"inertia_" + axes[0]: {m.About1, quantity.AreaMoment},
		"inertia_" + axes[1]: {m.About2, quantity.AreaMoment},
		"modulus_" + axes[0]: {m.About1 / first, quantity.Volume},
		"modulus_" + axes[1]: {m.About2 / second, quantity.Volume},
		"radius_" + axes[0]:  {math.Sqrt(m.About1 / m.Area), quantity.Length},
		"radius_" + axes[1]:  {math.Sqrt(m.About2 / m.Area), quantity.Length},
		"least_inertia":      {m.Least(), quantity.AreaMoment},
		"least_radius":       {math.Sqrt(m.Least() / m.Area), quantity.Length},
		"polar":              {m.About1 + m.About2, quantity.AreaMoment},
	}
	v, found := values[name]
	if !found {
		var names []string
		for n := range values {
			names = append(names, n)
		}
		sort.Strings(names)
		near := r.nearestTo(name, names)
		if near == "" {
			near = "area"
		}
		return quantity.Value{}, &formula.UnknownNameError{Name: of + "." + name, Nearest: of + "." + near}
	}
	power := map[quantity.Dimension]float64{quantity.Length: 1e3, quantity.Area: 1e6, quantity.Volume: 1e9, quantity.AreaMoment: 1e12}[v.dim]
	unit := map[quantity.Dimension]string{quantity.Length: "mm", quantity.Area: "mm^2", quantity.Volume: "mm^3", quantity.AreaMoment: "mm^4"}[v.dim]
	return quantity.Value{SI: v.mm / power, Dim: v.dim, Unit: unit}, nil
}
