package picture

import (
	"encoding/binary"
	"errors"
	"math"
)

// errForm is of bytes that MarshalCBOR does not write.
var errForm = errors.New("not a picture as it is kept")

// UnmarshalCBOR reads what MarshalCBOR wrote. Nothing of the data is held on to.
func (p *Picture) UnmarshalCBOR(data []byte) error {
	if len(data) < headSize || data[0] != bytesHead || binary.BigEndian.Uint64(data[1:]) != uint64(len(data)-headSize) {
		return errForm
	}
	r := unpacker{rest: data[headSize:]}
	*p = Picture{
		Name: r.text(), Title: r.text(), Description: r.text(),
		Width: r.float(), Height: r.float(), Group: r.float(), Marks: r.marks(0),
	}
	if r.bad || len(r.rest) > 0 {
		return errForm
	}
	return nil
}

// An unpacker reads what a packer wrote; bad tells that it was something else.
type unpacker struct {
	rest  []byte
	names []string
	last  Point
	bad   bool
}

func (r *unpacker) fail() {
	r.bad = true
	r.rest = nil
}

func (r *unpacker) byte() byte {
	if len(r.rest) == 0 {
		r.fail()
		return 0
	}
	b := r.rest[0]
	r.rest = r.rest[1:]
	return b
}

func (r *unpacker) float() float64 {
	if len(r.rest) < 8 {
		r.fail()
		return 0
	}
	v := math.Float64frombits(binary.LittleEndian.Uint64(r.rest))
	r.rest = r.rest[8:]
	return v
}

func (r *unpacker) point() Point { return Point{r.float(), r.float()} }

func (r *unpacker) unsigned() uint64 {
	n, size := binary.Uvarint(r.rest)
	if size <= 0 {
		r.fail()
		return 0
	}
	r.rest = r.rest[size:]
	return n
}

func (r *unpacker) number() int {
	n, size := binary.Varint(r.rest)
	if size <= 0 {
		r.fail()
		return 0
	}
	r.rest = r.rest[size:]
	return int(n)
}

func (r *unpacker) text() string {
	n := r.unsigned()
	if n > uint64(len(r.rest)) {
		r.fail()
		return ""
	}
	s := string(r.rest[:n])
	r.rest = r.rest[n:]
	return s
}

func (r *unpacker) name() string {
	switch n := r.unsigned(); {
	case n == 0:
		s := r.text()
		r.names = append(r.names, s)
		return s
	case n <= uint64(len(r.names)):
		return r.names[n-1]
	}
	r.fail()
	return ""
}

// length is that of a list whose items take a byte each at least.
func (r *unpacker) length() (n int, isNil bool) {
	long := r.unsigned()
	if long == 0 {
		return 0, true
	}
	if long-1 > uint64(len(r.rest)) {
		r.fail()
		return 0, true
	}
	return int(long - 1), false
}

func (r *unpacker) marks(depth int) []Mark {
	n, isNil := r.length()
	if isNil {
		return nil
	}
	if depth > deepest {
		r.fail()
		return nil
	}
	marks := make([]Mark, n)
	for i := range marks {
		switch r.byte() {
		case noMark:
		case pathMark:
			marks[i] = Path{Curves: r.curves(), Line: LineType(r.number()), Ink: Colour(r.name()), Fill: Colour(r.name()), Class: r.name()}
		case textMark:
			marks[i] = r.words()
		case groupMark:
			marks[i] = Group{ID: r.text(), Class: r.name(), Title: r.text(), Shift: r.point(), Marks: r.marks(depth + 1)}
		case clipMark:
			marks[i] = Clip{Outline: r.curves(), Marks: r.marks(depth + 1)}
		default:
			r.fail()
		}
		if r.bad {
			return nil
		}
	}
	return marks
}

func (r *unpacker) words() Text {
	return Text{
		At: r.point(), Words: r.text(), Height: r.float(), Anchor: Anchor(r.number()), Rise: Rise(r.number()),
		Turn: r.float(), Face: Face(r.number()), Ink: Colour(r.name()), Halo: r.byte() != 0, Class: r.name(),
	}
}

func (r *unpacker) curves() []Curve {
	n, isNil := r.length()
	if isNil {
		return nil
	}
	curves := make([]Curve, n)
	for i := range curves {
		switch kind := r.byte(); kind & curveKind {
		case noCurve:
		case lineCurve:
			curves[i] = r.line(kind)
		case arcCurve:
			curves[i] = r.arc(kind)
		case bezierCurve:
			b := Bezier{A: r.first(kind), C1: r.point(), C2: r.point(), B: r.point()}
			r.last, curves[i] = b.B, b
		}
		if r.bad {
			return nil
		}
	}
	return curves
}

func (r *unpacker) first(kind byte) Point {
	if kind&fromLast != 0 {
		return r.last
	}
	return r.point()
}

func (r *unpacker) line(kind byte) Line {
	a := r.first(kind)
	b := a
	if kind&sameX == 0 {
		b.X = r.float()
	}
	if kind&sameY == 0 {
		b.Y = r.float()
	}
	r.last = b
	return Line{a, b}
}

func (r *unpacker) arc(kind byte) Arc {
	a := Arc{Centre: r.first(kind), RX: r.float()}
	a.RY = a.RX
	if kind&isRound == 0 {
		a.RY = r.float()
	}
	if kind&isLevel == 0 {
		a.Tilt = r.float()
	}
	a.Start, a.Sweep = r.float(), r.float()
	r.last = a.Centre
	return a
}
