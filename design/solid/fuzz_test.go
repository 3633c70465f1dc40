package solid

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzShape reads a bar or a group and its holes from bytes, numbers of any
// kind included. Whatever comes, Build must answer with a sound solid or with
// faults.
func FuzzShape(f *testing.F) {
	f.Add([]byte{6, 2, 30, 0, 4, 15, 15, 7, 25, 0})
	f.Add([]byte{2, 0, 30, 1, 5, 40, 15, 8, 0, 1, 3, 40, 15, 8, 0, 1})
	f.Add([]byte{9, 1, 20, 2, 2, 8, 8, 5, 10, 2, 0, 5, 5, 5, 0, 3})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 60 {
			return
		}
		next := func() byte {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return b
		}
		// Mostly half millimetres; now and then eight bytes as they are.
		number := func() float64 {
			b := next()
			if b == 255 && len(data) >= 8 {
				v := math.Float64frombits(binary.LittleEndian.Uint64(data))
				data = data[8:]
				return v
			}
			return float64(int8(b)) / 2
		}
		shape := Shape{Base: fuzzBase(next, number)}
		for len(data) > 0 && len(shape.Holes) < 6 {
			h := Hole{Name: string(rune('a' + len(shape.Holes))), Face: sideDirections[next()%6].name, At: []Vec2{{number(), number()}}, D: number()}
			switch b := next(); b % 8 {
			case 0:
				h.ThroughAll = true
			case 1:
				h.Depth = number()
			case 2:
				h.Depth, h.Tip = number(), number()
			case 3:
				h.Counterbore = &Counterbore{number(), number()}
			case 4:
				h.Countersink = &Countersink{number(), number()}
			case 5:
				h.Kind, h.Long, h.Along = Obround, number(), Axis(b>>3%3)
				if b>>5&1 == 1 {
					h.Countersink = &Countersink{number(), 90 * degree}
				}
			}
			shape.Holes = append(shape.Holes, h)
		}
		s, err := Build(shape)
		if err != nil {
			if _, ok := err.(Faults); !ok {
				t.Fatalf("%T is no fault: %v", err, err)
			}
			return
		}
		if err := s.Check(); err != nil {
			t.Fatalf("%v: %+v", err, shape)
		}
		if at, open := openAt(s.Mesh(s.Box().Size().Len() / 200)); open {
			t.Fatalf("mesh is open at %v: %+v", at, shape)
		}
	})
}

func fuzzBase(next func() byte, number func() float64) Base {
	length := number()
	bar := func(s Section) Base { return Bar{Section: s, Length: length, Lies: Axis(next() % 4)} }
	switch next() % 10 {
	case 0:
		return bar(Round{number()})
	case 1:
		return bar(Rectangle{number(), number(), number()})
	case 2:
		return bar(Tube{number(), number()})
	case 3:
		return bar(BoxTube{number(), number(), number(), number()})
	case 4:
		return bar(Angle{number(), number(), number(), number()})
	case 5:
		return bar(Channel{number(), number(), number(), number()})
	case 6:
		return bar(slotted30)
	case 7:
		return bar(Slotted{number(), number(), number(), number(), number(), number(), number(), number(), number()})
	case 8:
		return Group{{Shape: Block{Vec{number(), number(), number()}}}, {Shape: Rod{D: number(), L: number()}, At: Vec{number(), number(), number()}, Along: Axis(next() % 3)}}
	}
	return Group{
		{Shape: Lathed{{D: number(), L: number()}, {D: number(), To: number(), L: number()}}, Along: Axis(next() % 3)},
		{Shape: Taper{number(), number(), number()}, At: Vec{number(), number(), number()}, Cut: next()%2 == 0},
		{Shape: Pipe{number(), number(), number()}, At: Vec{number(), number(), number()}},
	}
}
