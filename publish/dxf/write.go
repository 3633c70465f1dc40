package dxf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A point is a place in the file, in millimetres, y up.
type point struct{ x, y float64 }

// A writer holds the lines of a file's sections: pairs of a group code and a value.
// It keeps the first number that no file can hold.
type writer struct {
	out  bytes.Buffer
	next handle
	err  error
}

// A handle names an object of the file; 0 names none.
type handle uint64

// take is a new handle.
func (w *writer) take() handle {
	w.next++
	return w.next
}

func (w *writer) text(code int, value string) {
	fmt.Fprintf(&w.out, "%3d\n%s\n", code, value)
}

func (w *writer) integer(code, value int) { w.text(code, strconv.Itoa(value)) }

func (w *writer) handle(code int, h handle) {
	w.text(code, strings.ToUpper(strconv.FormatUint(uint64(h), 16)))
}

func (w *writer) number(code int, value float64) {
	if w.err == nil && !(math.Abs(value) <= farthest) {
		w.err = fmt.Errorf("number %v is out of reach", value)
	}
	w.text(code, decimal(value))
}

// point writes a place in the plane with its height 0.
func (w *writer) point(code int, p point) {
	w.number(code, p.x)
	w.number(code+10, p.y)
	w.number(code+20, 0)
}

// farthest is the largest number that is written, for lengths a hundred metres in
// micrometres.
const farthest = 1e8

// decimal prints a number with up to ten decimals and always a decimal point, as
// readers that tell numbers from counts expect.
func decimal(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 10, 64), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}
