package picture

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"sync"

	"plansheaf/design/memo"
)

// A picture is kept as one CBOR byte string (RFC 8949) of a form of its own, since it may
// hold a hundred thousand curves: numbers are written whole, what repeats what stands just
// before it not at all. Equal pictures give equal bytes, others give others.
//
// Lengths of lists are one more than they are, 0 for nil. Names that come again and again
// (classes, colours) are their place in the list of those seen so far, counted from 1, or 0
// and the name itself.

// bytesHead begins a CBOR byte string whose length follows in eight bytes.
const bytesHead = 0x5b

const headSize = 9

// What a mark begins with.
const (
	noMark = iota
	pathMark
	textMark
	groupMark
	clipMark
)

// What a curve begins with: its kind, and what is not written because it is known.
const (
	noCurve = iota
	lineCurve
	arcCurve
	bezierCurve
	curveKind = 3

	fromLast = 1 << 2 // the first point is the last that was written
	sameX    = 1 << 3 // line: the end's X is the start's
	sameY    = 1 << 4 // line: the end's Y is the start's
	isRound  = 1 << 3 // arc: RY is RX
	isLevel  = 1 << 4 // arc: Tilt is 0
)

// MarshalCBOR writes the picture, exactly. The error is of a kind of curve that is not
// known, or of groups nested too deep.
func (p Picture) MarshalCBOR() ([]byte, error) {
	w := packer{out: make([]byte, headSize, 4096)}
	w.picture(&p)
	if w.err != nil {
		return nil, fmt.Errorf("picture %q: %w", p.Name, w.err)
	}
	w.out[0] = bytesHead
	binary.BigEndian.PutUint64(w.out[1:], uint64(len(w.out)-headSize))
	return w.out, nil
}

// MemoKey is a hash of all that the picture holds.
func (p *Picture) MemoKey() memo.Key {
	room := hashed.Get().(*[]byte)
	defer hashed.Put(room)
	w := packer{out: (*room)[:0]}
	w.picture(p)
	*room = w.out
	if w.err != nil {
		key, _ := memo.KeyOf(*p) // no output takes such a picture: see Check
		return key
	}
	return sha256.Sum256(w.out)
}

// hashed is room for pictures that are being hashed.
var hashed = sync.Pool{New: func() any { return new([]byte) }}

// A packer writes; err is the first thing that it could not.
type packer struct {
	out   []byte
	names map[string]uint64
	last  Point // of the curve before
	err   error
}

func (w *packer) picture(p *Picture) {
	w.text(p.Name)
	w.text(p.Title)
	w.text(p.Description)
	w.float(p.Width)
	w.float(p.Height)
	w.float(p.Group)
	w.marks(p.Marks, 0)
}

func (w *packer) float(v float64) {
	w.out = binary.LittleEndian.AppendUint64(w.out, math.Float64bits(v))
}

func (w *packer) point(p Point) {
	w.float(p.X)
	w.float(p.Y)
}

func (w *packer) text(s string) {
	w.out = binary.AppendUvarint(w.out, uint64(len(s)))
	w.out = append(w.out, s...)
}

// name writes a text that may have been written before.
func (w *packer) name(s string) {
	n := w.names[s]
	w.out = binary.AppendUvarint(w.out, n)
	if n > 0 {
		return
	}
	if w.names == nil {
		w.names = map[string]uint64{}
	}
	w.names[s] = uint64(len(w.names) + 1)
	w.text(s)
}

func (w *packer) number(n int) { w.out = binary.AppendVarint(w.out, int64(n)) }

func (w *packer) length(n int, isNil bool) {
	if isNil {
		n = -1
	}
	w.out = binary.AppendUvarint(w.out, uint64(n+1))
}

var errDeep = errors.New("groups within each other too deep")

func (w *packer) marks(marks []Mark, depth int) {
	if depth > deepest {
		w.err = errDeep
		return
	}
	w.length(len(marks), marks == nil)
	for _, m := range marks {
		switch m := m.(type) {
		case nil:
			w.out = append(w.out, noMark)
		case Path:
			w.out = append(w.out, pathMark)
			w.curves(m.Curves)
			w.number(int(m.Line))
			w.name(string(m.Ink))
			w.name(string(m.Fill))
			w.name(m.Class)
		case Text:
			w.out = append(w.out, textMark)
			w.words(m)
		case Group:
			w.out = append(w.out, groupMark)
			w.text(m.ID)
			w.name(m.Class)
			w.text(m.Title)
			w.point(m.Shift)
			w.marks(m.Marks, depth+1)
		case Clip:
			w.out = append(w.out, clipMark)
			w.curves(m.Outline)
			w.marks(m.Marks, depth+1)
		default:
			w.err = fmt.Errorf("mark of unknown kind %T", m)
		}
	}
}

func (w *packer) words(t Text) {
	w.point(t.At)
	w.text(t.Words)
	w.float(t.Height)
	w.number(int(t.Anchor))
	w.number(int(t.Rise))
	w.float(t.Turn)
	w.number(int(t.Face))
	w.name(string(t.Ink))
	halo := byte(0)
	if t.Halo {
		halo = 1
	}
	w.out = append(w.out, halo)
	w.name(t.Class)
}

// same reports whether two numbers are the same bits.
func same(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// first begins a curve, and writes its first point where that is not the last one.
func (w *packer) first(kind byte, p Point) {
	if same(p.X, w.last.X) && same(p.Y, w.last.Y) {
		w.out = append(w.out, kind|fromLast)
		return
	}
	w.out = append(w.out, kind)
	w.point(p)
}

func (w *packer) curves(curves []Curve) {
	w.length(len(curves), curves == nil)
	for _, c := range curves {
		switch c := c.(type) {
		case nil:
			w.out = append(w.out, noCurve)
		case Line:
			w.line(c)
		case Arc:
			w.arc(c)
		case Bezier:
			w.first(bezierCurve, c.A)
			w.point(c.C1)
			w.point(c.C2)
			w.point(c.B)
			w.last = c.B
		default:
			w.err = fmt.Errorf("curve of unknown kind %T", c)
		}
	}
}

func (w *packer) line(l Line) {
	kind := byte(lineCurve)
	if same(l.A.X, l.B.X) {
		kind |= sameX
	}
	if same(l.A.Y, l.B.Y) {
		kind |= sameY
	}
	w.first(kind, l.A)
	if kind&sameX == 0 {
		w.float(l.B.X)
	}
	if kind&sameY == 0 {
		w.float(l.B.Y)
	}
	w.last = l.B
}

func (w *packer) arc(a Arc) {
	kind := byte(arcCurve)
	if same(a.RX, a.RY) {
		kind |= isRound
	}
	if same(a.Tilt, 0) {
		kind |= isLevel
	}
	w.first(kind, a.Centre)
	w.float(a.RX)
	if kind&isRound == 0 {
		w.float(a.RY)
	}
	if kind&isLevel == 0 {
		w.float(a.Tilt)
	}
	w.float(a.Start)
	w.float(a.Sweep)
	w.last = a.Centre
}
