package changes

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// A sign says on paper what became of a thing.
type sign string

const (
	newly  sign = "+" // there was none
	gone   sign = "−" // there is none any more
	moved  sign = "→" // it stands elsewhere
	other  sign = "≠" // it has another shape, or another one stands in its place
	inside sign = "⊃" // a sub-assembly in which something changed
)

// A difference is one thing of an assembly that looks otherwise.
type difference struct {
	sign     sign
	words    string // what it is and what became of it, without its number
	any      string // the words where many like it went other ways; "" for none
	own      bool   // the assembly's own doing: not that of a sub-assembly in it
	old, new []layout.Piece
	count    int
	// ways are from where what moved stood to where it stands, in the assembly's axes.
	ways [][2]solid.Vec
}

// mostWays is in how many directions pieces of one part may have moved equally far and
// still be told one direction at a time.
const mostWays = 2

// together makes one of equal differences, in the order of the first of each. Pieces of
// one part that moved equally far, but in many directions, are one: arrows tell them apart.
func together(all []*difference) []*difference {
	directions := map[string]map[string]bool{}
	for _, d := range all {
		if d.any != "" {
			if directions[d.any] == nil {
				directions[d.any] = map[string]bool{}
			}
			directions[d.any][d.words] = true
		}
	}
	known := map[string]*difference{}
	var out []*difference
	for _, d := range all {
		if len(directions[d.any]) > mostWays {
			d.words = d.any
		}
		key := string(d.sign) + d.words
		one := known[key]
		if one == nil {
			known[key] = d
			out = append(out, d)
			continue
		}
		one.old, one.new, one.ways = append(one.old, d.old...), append(one.new, d.new...), append(one.ways, d.ways...)
		one.count += d.count
		one.own = one.own || d.own
	}
	return out
}

// piece is what became of a piece that does not stay.
func (c *contrast) piece(p pair) *difference {
	d := &difference{own: true, count: 1}
	switch {
	case p.old == nil:
		d.sign, d.words, d.new = newly, title(p.new)+": new", []layout.Piece{*p.new}
		return d
	case p.new == nil:
		d.sign, d.words, d.old = gone, title(p.old)+": gone", []layout.Piece{*p.old}
		return d
	}
	d.old, d.new = []layout.Piece{*p.old}, []layout.Piece{*p.new}
	shift := p.old.At.Inverse().Then(p.new.At)
	at := middle(d.old)
	switch {
	case p.old.Part.Part.ID.Text != c.parts.of(p.new.Part.Part.ID.Text), title(p.old) != title(p.new) && !c.same(p.old.Solid, p.new.Solid):
		d.sign, d.words = other, title(p.new)+": in place of "+title(p.old)
	case !c.same(p.old.Solid, p.new.Solid):
		d.sign, d.words = other, title(p.new)+": another shape or size"
	default:
		d.sign, d.words = moved, title(p.new)+": "+c.shift(shift, at)
		if far := shift.Point(at).Sub(at).Len(); far > still && sameTurn(shift, solid.Stay) {
			d.any = fmt.Sprintf("%s: moved by %s, each the way that its arrow shows", title(p.new), c.length(far))
		}
		d.ways = [][2]solid.Vec{{at, shift.Point(at)}}
	}
	return d
}

func title(p *layout.Piece) string { return bill.Title(p.Part) }

// length is a length in mm as the new plan prints it.
func (c *contrast) length(mm float64) string {
	return quantity.Text(quantity.MM(math.Round(mm/still)*still), c.system)
}

// middle is that of the box around pieces, in the assembly's axes.
func middle(pieces []layout.Piece) solid.Vec {
	box := solid.EmptyBox()
	for _, p := range pieces {
		for _, corner := range p.Solid.Box().Corners() {
			box = box.Add(p.At.Point(corner))
		}
	}
	return box.Min.Add(box.Max).Mul(0.5)
}

// shift says in words how something stands otherwise whose middle was at a point.
func (c *contrast) shift(by solid.Placement, at solid.Vec) string {
	way := by.Point(at).Sub(at)
	var words []string
	for _, one := range []struct {
		along      float64
		more, less string
	}{
		{way.X, "to the right", "to the left"}, {way.Y, "to the back", "to the front"}, {way.Z, "up", "down"},
	} {
		if math.Abs(one.along) <= still {
			continue
		}
		to := one.more
		if one.along < 0 {
			to = one.less
		}
		words = append(words, c.length(math.Abs(one.along))+" "+to)
	}
	cos := (by.Turn[0].X + by.Turn[1].Y + by.Turn[2].Z - 1) / 2
	turned := ""
	if angle := math.Acos(min(1, max(-1, cos))) * 180 / math.Pi; angle > 1e-3 {
		turned = fmt.Sprintf("turned by %s°", strconv.FormatFloat(math.Round(angle*100)/100, 'f', -1, 64))
	}
	switch {
	case len(words) == 0:
		return cmp.Or(turned, "moved")
	case turned != "":
		return turned + " and moved by " + strings.Join(words, ", ")
	}
	return "moved by " + strings.Join(words, ", ")
}
