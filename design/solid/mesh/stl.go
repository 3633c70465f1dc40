package mesh

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strconv"
	"strings"

	"plansheaf/design/solid"
)

// MaxBytes is how long a file may be.
const MaxBytes = 64 << 20

// MaxTriangles is how many triangles a file may have.
const MaxTriangles = 200_000

const (
	binaryHeader   = 80
	binaryTriangle = 50 // 12 numbers of 4 bytes and 2 bytes of attributes
)

// raw is what a file says, in its own unit.
type raw struct {
	header string
	points [][3]solid.Vec
	// grain is how far a coordinate may be off by the rounding with which it was
	// written.
	grain float64
	ascii bool
}

// read tells the two forms apart and reads the file. The length decides before
// the first word does: binary files whose header begins with "solid" are common.
func read(data []byte) (raw, *Fault) {
	if len(data) > MaxBytes {
		return raw{}, &Fault{Kind: TooLarge, Reason: fmt.Sprintf("the file is %d bytes long, more than %d", len(data), MaxBytes)}
	}
	if len(data) >= binaryHeader+4 {
		n := uint64(binary.LittleEndian.Uint32(data[binaryHeader:]))
		if uint64(len(data)) == binaryHeader+4+n*binaryTriangle {
			return readBinary(data, n)
		}
	}
	if word := bytes.TrimLeft(data, " \t\r\n"); len(word) >= 5 && strings.EqualFold(string(word[:5]), "solid") {
		return readASCII(data)
	}
	if len(data) < binaryHeader+4 {
		return raw{}, &Fault{Kind: Unreadable, Reason: fmt.Sprintf("is no STL file: %d bytes are too few for a binary one, and it does not begin with solid as an ASCII one does", len(data))}
	}
	n := uint64(binary.LittleEndian.Uint32(data[binaryHeader:]))
	return raw{}, &Fault{Kind: Unreadable, Reason: fmt.Sprintf("is no STL file, or was cut short: it is %d bytes long, a binary one of %d triangles has %d", len(data), n, binaryHeader+4+n*binaryTriangle)}
}

func readBinary(data []byte, n uint64) (raw, *Fault) {
	if n > MaxTriangles {
		return raw{}, tooMany(n)
	}
	r := raw{header: text(data[:binaryHeader]), points: make([][3]solid.Vec, n)}
	largest := 0.0
	number := func(at int) float64 {
		v := float64(math.Float32frombits(binary.LittleEndian.Uint32(data[at:])))
		largest = math.Max(largest, math.Abs(v))
		return v
	}
	for i := range r.points {
		for k := range 3 {
			at := binaryHeader + 4 + i*binaryTriangle + 12 + 12*k // past the normal
			p := solid.Vec{X: number(at), Y: number(at + 4), Z: number(at + 8)}
			if !finite(p) {
				return raw{}, &Fault{Kind: NotFinite, Count: 1, Reason: fmt.Sprintf("a corner of triangle %d is no finite number", i+1)}
			}
			r.points[i][k] = p
		}
	}
	r.grain = largest * (1.0 / (1 << 24)) // half the last place of a float32
	return r, nil
}

func tooMany(n uint64) *Fault {
	return &Fault{Kind: TooLarge, Reason: fmt.Sprintf("the mesh has %d triangles, more than %d", n, MaxTriangles)}
}

func finite(p solid.Vec) bool { d := p.X + p.Y + p.Z; return d-d == 0 }

// text is a header's printable part.
func text(b []byte) string {
	b, _, _ = bytes.Cut(b, []byte{0})
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return ' '
		}
		return r
	}, string(b)))
}

// A scanner walks through an ASCII file word by word.
type scanner struct {
	data []byte
	line int
}

// word is the next word, empty at the end.
func (s *scanner) word() string {
	i := 0
	for ; i < len(s.data) && s.data[i] <= ' '; i++ {
		if s.data[i] == '\n' {
			s.line++
		}
	}
	j := i
	for j < len(s.data) && s.data[j] > ' ' && j-i < 64 {
		j++
	}
	w := string(s.data[i:j])
	s.data = s.data[j:]
	return w
}

// rest is the rest of the line.
func (s *scanner) rest() string {
	i := bytes.IndexByte(s.data, '\n')
	if i < 0 {
		i = len(s.data)
	}
	w := text(s.data[:i])
	s.data = s.data[i:]
	return w
}

// expect reads the words given.
func (s *scanner) expect(words ...string) *Fault {
	for _, want := range words {
		if got := s.word(); !strings.EqualFold(got, want) {
			return s.fault(got, want)
		}
	}
	return nil
}

func (s *scanner) fault(got, want string) *Fault {
	if got == "" {
		return &Fault{Kind: Unreadable, Reason: fmt.Sprintf("line %d: the file ends where %s is expected", s.line, want)}
	}
	return &Fault{Kind: Unreadable, Reason: fmt.Sprintf("line %d: %q stands where %s is expected", s.line, got, want)}
}

// point reads three numbers.
func (s *scanner) point(r *raw) (solid.Vec, *Fault) {
	var v [3]float64
	for i := range v {
		w := s.word()
		x, err := strconv.ParseFloat(w, 64)
		if err != nil && !math.IsInf(x, 0) {
			return solid.Vec{}, s.fault(w, "a number")
		}
		if math.IsInf(x, 0) || math.IsNaN(x) {
			return solid.Vec{}, &Fault{Kind: NotFinite, Count: 1, Reason: fmt.Sprintf("line %d: %s is no finite number", s.line, w)}
		}
		v[i] = x
		r.grain = math.Max(r.grain, rounding(w))
	}
	return solid.Vec{X: v[0], Y: v[1], Z: v[2]}, nil
}

// fullDigits is how many significant digits a number has when it was written as
// fully as the writer does: fewer are a number that came out even.
const fullDigits = 6

// rounding is half the last place of a number as written, 0 when it came out even.
func rounding(w string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(w), "e")
	digits, decimals, point := 0, 0, false
	for _, c := range mantissa {
		switch {
		case c == '.':
			point = true
		case c >= '0' && c <= '9':
			if c != '0' || digits > 0 {
				digits++
			}
			if point {
				decimals++
			}
		}
	}
	if digits < fullDigits || !point && exponent == "" {
		return 0
	}
	e, _ := strconv.Atoi(exponent)
	return 0.5 * math.Pow(10, float64(e-decimals))
}

// readASCII reads one or several bodies: solid NAME, facets, endsolid NAME.
func readASCII(data []byte) (raw, *Fault) {
	s := &scanner{data: data, line: 1}
	r := raw{ascii: true}
	for {
		w := s.word()
		if w == "" && len(r.header) > 0 {
			return r, nil
		}
		if !strings.EqualFold(w, "solid") {
			return raw{}, s.fault(w, "solid")
		}
		if name := s.rest(); r.header == "" {
			r.header = "solid " + name
		}
		if f := s.facets(&r); f != nil {
			return raw{}, f
		}
	}
}

// facets reads up to the end of a body.
func (s *scanner) facets(r *raw) *Fault {
	for {
		w := s.word()
		if strings.EqualFold(w, "endsolid") {
			s.rest()
			return nil
		}
		if !strings.EqualFold(w, "facet") {
			return s.fault(w, "facet or endsolid")
		}
		if len(r.points) == MaxTriangles {
			return tooMany(MaxTriangles + 1)
		}
		if f := s.expect("normal"); f != nil {
			return f
		}
		for range 3 { // the corners say which way it faces; nan stands here for needles
			if w := s.word(); w == "" {
				return s.fault(w, "a number")
			}
		}
		if f := s.expect("outer", "loop"); f != nil {
			return f
		}
		var corners [3]solid.Vec
		for k := range corners {
			if f := s.expect("vertex"); f != nil {
				return f
			}
			var f *Fault
			if corners[k], f = s.point(r); f != nil {
				return f
			}
		}
		if f := s.expect("endloop", "endfacet"); f != nil {
			return f
		}
		r.points = append(r.points, corners)
	}
}
