package solid

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"plansheaf/design/memo"
)

// A Packed is a solid in a result that is kept (package memo): it writes itself as one
// CBOR byte string and reads itself from that, all numbers exact, so that a body is had
// again for a small part of the work of building it. A solid may be nil.
type Packed struct{ Solid *Solid }

// MarshalCBOR writes the solid.
func (s Packed) MarshalCBOR() ([]byte, error) {
	p := &packing{writes: true}
	p.solid(&s.Solid)
	if p.err != nil {
		return nil, p.err
	}
	const byteString = 2<<5 | 27 // with a length of eight bytes, RFC 8949 section 3
	return append(binary.BigEndian.AppendUint64([]byte{byteString}, uint64(len(p.bytes))), p.bytes...), nil
}

// UnmarshalCBOR reads what MarshalCBOR wrote.
func (s *Packed) UnmarshalCBOR(data []byte) error {
	const head = 9
	if len(data) < head || uint64(len(data)-head) != binary.BigEndian.Uint64(data[1:]) {
		return errPacked
	}
	p := &packing{bytes: data[head:]}
	p.solid(&s.Solid)
	if p.err == nil && len(p.bytes) > 0 {
		p.err = errPacked
	}
	return p.err
}

var errPacked = errors.New("not a packed solid")

// A packing writes values or reads them: what is written and what is read are told once,
// by the same methods.
type packing struct {
	writes  bool
	bytes   []byte // written so far, or still to be read
	err     error
	texts   shares[string]
	threads shares[Thread]
	holes   shares[Hole]
	names   map[string]*string
}

// shares are values that several pointers lead to: each is written where it is met first.
type shares[T any] struct {
	at   map[*T]int
	list []*T
}

func (p *packing) fail() {
	if p.err == nil {
		p.err = errPacked
	}
	p.bytes = nil
}

// block is room for so many numbers: to be written, or what is read of them.
func (p *packing) block(numbers int) []byte {
	size, at := 8*numbers, len(p.bytes)
	if p.writes {
		p.bytes = append(p.bytes, zeros[:size]...)
		return p.bytes[at:]
	}
	if at < size {
		p.fail()
		return zeros[:size]
	}
	block := p.bytes[:size]
	p.bytes = p.bytes[size:]
	return block
}

var zeros [8 * mostTogether]byte

// mostTogether is how many numbers are packed at once, at most.
const mostTogether = 12

// float is the number i of a block.
func (p *packing) float(block []byte, i int, x *float64) {
	if at := block[8*i : 8*i+8]; p.writes {
		binary.LittleEndian.PutUint64(at, math.Float64bits(*x))
	} else {
		*x = math.Float64frombits(binary.LittleEndian.Uint64(at))
	}
}

func (p *packing) floats(list ...*float64) {
	block := p.block(len(list))
	for i, x := range list {
		p.float(block, i, x)
	}
}

func (p *packing) vecs(list ...*Vec) {
	block := p.block(3 * len(list))
	for i, v := range list {
		p.float(block, 3*i, &v.X)
		p.float(block, 3*i+1, &v.Y)
		p.float(block, 3*i+2, &v.Z)
	}
}

func (p *packing) box(b *Box)     { p.vecs(&b.Min, &b.Max) }
func (p *packing) frame(f *Frame) { p.vecs(&f.O, &f.X, &f.Y, &f.Z) }

// ints are mostly small, of either sign.
func (p *packing) ints(list ...*int) {
	for _, n := range list {
		if p.writes {
			p.bytes = binary.AppendVarint(p.bytes, int64(*n))
			continue
		}
		x, size := binary.Varint(p.bytes)
		if size <= 0 {
			p.fail()
			return
		}
		*n, p.bytes = int(x), p.bytes[size:]
	}
}

func (p *packing) flags(list ...*bool) {
	for _, b := range list {
		n := 0
		if *b {
			n = 1
		}
		p.ints(&n)
		*b = n == 1
	}
}

// count is how many there are of what takes a byte each at least; -1 for none at all.
func (p *packing) count(n int) int {
	p.ints(&n)
	if !p.writes && n > len(p.bytes) {
		p.fail()
		return 0
	}
	return n
}

// list is a list, nil and empty ones apart.
func list[T any](p *packing, l *[]T, item func(*T)) {
	n := -1
	if *l != nil {
		n = len(*l)
	}
	n = p.count(n)
	if !p.writes && n >= 0 {
		*l = make([]T, n)
	}
	for i := range *l {
		item(&(*l)[i])
	}
}

// share is a pointer; pointers that were one are one again.
func share[T any](p *packing, s *shares[T], x **T, content func(*T)) {
	n := -1
	if p.writes && *x != nil {
		known := false
		if n, known = s.at[*x]; !known {
			n = len(s.list)
			if s.at == nil {
				s.at = map[*T]int{}
			}
			s.at[*x], s.list = n, append(s.list, *x)
			p.ints(&n)
			content(*x)
			return
		}
	}
	p.ints(&n)
	switch {
	case p.writes || n < 0:
	case n < len(s.list):
		*x = s.list[n]
	case n == len(s.list):
		*x = new(T)
		s.list = append(s.list, *x)
		content(*x)
	default:
		p.fail()
	}
}

// text is a name, of which there are few and many the same.
func (p *packing) text(t *string) {
	at := t
	if p.writes {
		if known := p.names[*t]; known != nil {
			at = known
		} else {
			if p.names == nil {
				p.names = map[string]*string{}
			}
			p.names[*t] = t
		}
	}
	share(p, &p.texts, &at, func(t *string) {
		n := p.count(len(*t))
		if p.writes {
			p.bytes = append(p.bytes, *t...)
			return
		}
		if n >= 0 && n <= len(p.bytes) {
			*t, p.bytes = string(p.bytes[:n]), p.bytes[n:]
		}
	})
	if at != nil {
		*t = *at
	}
}

func (p *packing) solid(at **Solid) {
	there := *at != nil
	if p.flags(&there); !there || p.err != nil {
		return
	}
	if !p.writes {
		*at = &Solid{}
	}
	s := *at
	key := memo.Key{}
	if p.writes {
		key = s.MemoKey()
		p.bytes = append(p.bytes, key[:]...)
	} else if len(p.bytes) >= len(key) {
		key, p.bytes = memo.Key(p.bytes[:len(key)]), p.bytes[len(key):]
		s.keyed.Do(func() { s.key = key })
	} else {
		p.fail()
	}
	p.box(&s.box)
	list(p, &s.Vertices, func(v *Vec) { p.vecs(v) })
	list(p, &s.Edges, p.edge)
	list(p, &s.Faces, p.face)
	list(p, &s.features, p.feature)
}

func (p *packing) edge(e *Edge) {
	p.curve(&e.Curve)
	p.floats(&e.T0, &e.T1)
	p.ints(&e.Start, &e.End, &e.Faces[0], &e.Faces[1])
}

func (p *packing) face(f *Face) {
	p.surface(&f.Surface)
	p.flags(&f.Inward)
	list(p, &f.Loops, func(l *Loop) {
		list(p, (*[]Use)(l), func(u *Use) {
			p.ints(&u.Edge)
			p.flags(&u.Reversed)
		})
	})
	p.text(&f.Name)
	p.thread(&f.Thread)
	p.ints(&f.Patch)
	p.box(&f.box)
	list(p, &f.trim, func(t *piece) {
		p.ints(&t.edge)
		p.floats(&t.t0, &t.t1, &t.s0, &t.s1, &t.h0, &t.h1, &t.hLow, &t.hHigh)
	})
}

func (p *packing) feature(f *Feature) {
	p.text(&f.Name)
	p.ints((*int)(&f.Kind))
	p.vecs(&f.At, &f.Dir, &f.Along)
	p.box(&f.Box)
	p.floats(&f.D, &f.Depth)
	p.flags(&f.Through)
	share(p, &p.holes, &f.Hole, p.hole)
	p.text(&f.Pattern)
	p.text(&f.Face)
	p.thread(&f.Thread)
	list(p, &f.Faces, func(i *int) { p.ints(i) })
}

func (p *packing) hole(h *Hole) {
	p.text(&h.Name)
	p.text(&h.Face)
	list(p, &h.At, func(v *Vec2) { p.floats(&v.X, &v.Y) })
	p.flags(&h.Pattern, &h.ThroughAll)
	p.ints((*int)(&h.Kind), (*int)(&h.Along))
	p.floats(&h.D, &h.Long, &h.Depth, &h.Tip)
	p.thread(&h.Thread)
	share(p, &shares[Counterbore]{}, &h.Counterbore, func(c *Counterbore) { p.floats(&c.D, &c.Depth) })
	share(p, &shares[Countersink]{}, &h.Countersink, func(c *Countersink) { p.floats(&c.D, &c.Angle) })
}

func (p *packing) thread(t **Thread) {
	share(p, &p.threads, t, func(t *Thread) {
		p.text(&t.Designation)
		p.floats(&t.Major, &t.Minor, &t.Pitch, &t.Length)
		p.flags(&t.LeftHand)
	})
}

// The kinds of surface and of curve, as they are written.
const (
	packedPlane = iota
	packedCylinder
	packedCone
	packedLine
	packedCircle
	packedEllipse
	packedMeet
)

func (p *packing) surface(s *Surface) {
	var kind int
	var frame Frame
	var size float64
	switch s := (*s).(type) {
	case Plane:
		kind, frame = packedPlane, s.Frame
	case Cylinder:
		kind, frame, size = packedCylinder, s.Frame, s.R
	case Cone:
		kind, frame, size = packedCone, s.Frame, s.Slope
	default:
		if p.writes {
			p.err = fmt.Errorf("a %T cannot be packed", s)
		}
	}
	p.ints(&kind)
	p.frame(&frame)
	p.floats(&size)
	if p.writes {
		return
	}
	switch kind {
	case packedPlane:
		*s = Plane{frame}
	case packedCylinder:
		*s = Cylinder{frame, size}
	case packedCone:
		*s = Cone{frame, size}
	default:
		p.fail()
	}
}

func (p *packing) curve(c *Curve) {
	var kind int
	switch c := (*c).(type) {
	case Line:
		kind = packedLine
	case Circle:
		kind = packedCircle
	case Ellipse:
		kind = packedEllipse
	case Meet:
		kind = packedMeet
	default:
		if p.writes {
			p.err = fmt.Errorf("a %T cannot be packed", c)
		}
	}
	switch p.ints(&kind); kind {
	case packedLine:
		pack(p, c, func(l *Line) { p.vecs(&l.O, &l.D) })
	case packedCircle:
		pack(p, c, func(c *Circle) { p.frame(&c.Frame); p.floats(&c.R) })
	case packedEllipse:
		pack(p, c, func(e *Ellipse) { p.frame(&e.Frame); p.floats(&e.A, &e.B) })
	case packedMeet:
		pack(p, c, func(m *Meet) {
			p.surface(&m.Base)
			p.surface(&m.Other)
			p.flags(&m.Upper, &m.Round)
			p.floats(&m.From, &m.To)
		})
	default:
		p.fail()
	}
}

// pack is a curve of one kind.
func pack[T Curve](p *packing, c *Curve, content func(*T)) {
	var one T
	if p.writes {
		one = (*c).(T)
	}
	if content(&one); !p.writes {
		*c = one
	}
}
