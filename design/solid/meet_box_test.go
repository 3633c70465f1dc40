package solid

import (
	"math"
	"testing"
)

// TestMeetBoxBesideItsEnd: the curve between a bore and a rod that crosses it a
// little off the middle is highest close to where its parameter begins.
func TestMeetBoxBesideItsEnd(t *testing.T) {
	s, err := Build(Shape{Base: Group{
		{Shape: Pipe{D: 26, Bore: 6, L: 20}, Along: AxisZ},
		{Shape: Rod{D: 9, L: 20}, At: Vec{X: 3, Y: 13.25 - 4.5, Z: 3.5}, Along: AxisX},
	}})
	if err != nil {
		t.Fatal(err)
	}
	// Over y = 13.1 the rod's top lies within the bore.
	hits := s.Ray(Vec{13, 13.1, 30}, Vec{Z: -1})
	want := 30 - 8 - math.Sqrt(4.5*4.5-0.15*0.15)
	if len(hits) == 0 || math.Abs(hits[0].T-want) > 1e-9 {
		t.Errorf("a ray from above meets the solid at %v, want first at %.9f", hits, want)
	}
}
