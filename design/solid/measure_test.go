package solid

import (
	"math"
	"testing"
)

// TestMeasure checks volume, area, centre and inertia by closed forms (any
// handbook of mechanics), with the bodies away from the origin and aslant.
func TestMeasure(t *testing.T) {
	ring, err := Pipe{20, 12, 30}.make()
	made(t, ring, err)
	wedge, err := Extruded{PolygonOutline([]Vec2{{0, 0}, {30, 0}, {0, 20}}), 10}.make()
	made(t, wedge, err)
	diag := func(x, y, z float64) [3][3]float64 { return [3][3]float64{{x, 0, 0}, {0, y, 0}, {0, 0, z}} }
	v := func(r, l float64) float64 { return math.Pi * r * r * l }
	cylinder := func(r, l float64) [3][3]float64 {
		m := v(r, l)
		return diag(m*(3*r*r+l*l)/12, m*(3*r*r+l*l)/12, m*r*r/2)
	}
	hollow := cylinder(10, 30)
	for i, row := range cylinder(6, 30) {
		hollow[i][i] -= row[i]
	}
	coneMass := math.Pi * 100 * 30 / 3
	halfMass := v(10, 40) / 2
	tests := []struct {
		name         string
		s            *Solid
		volume, area float64
		centre       Vec
		inertia      [3][3]float64
		inertiaKnown bool
	}{
		{"box", block(t, 0, 0, 0, 10, 20, 30), 6000, 2200, Vec{5, 10, 15}, diag(6000*(400+900)/12.0, 6000*(100+900)/12.0, 6000*(100+400)/12.0), true},
		{"cylinder", rod(t, Vec{}, Vec{Z: 1}, 20, 40), v(10, 40), 2*math.Pi*100 + 2*math.Pi*10*40, Vec{0, 0, 20}, cylinder(10, 40), true},
		{"tube", ring, v(10, 30) - v(6, 30), 2*math.Pi*(100-36) + 2*math.Pi*16*30, Vec{10, 10, 15}, hollow, true},
		{"cone", cone(t, Vec{}, Vec{Z: 1}, 20, 0, 30), coneMass, math.Pi*100 + math.Pi*10*math.Hypot(10, 30), Vec{0, 0, 7.5},
			diag(coneMass*3*(4*100+900)/80, coneMass*3*(4*100+900)/80, coneMass*3*100/10), true},
		{"frustum", cone(t, Vec{}, Vec{Z: 1}, 20, 10, 30), math.Pi * 30 * (100 + 50 + 25) / 3, math.Pi*(100+25) + math.Pi*15*math.Hypot(5, 30),
			Vec{0, 0, 30 * (100 + 2*50 + 3*25) / (4 * (100 + 50 + 25.0))}, diag(0, 0, math.Pi*30*(1e5-3125)/(10*5)), false},
		{"wedge", wedge, 3000, 600 + 10*(50+math.Hypot(30, 20)), Vec{10, 20 / 3.0, 5},
			[3][3]float64{{3000 * (400/18.0 + 100/12.0), 3000 * 600 / 36.0, 0}, {3000 * 600 / 36.0, 3000 * (900/18.0 + 100/12.0), 0}, {0, 0, 3000 * (400 + 900) / 18.0}}, true},
		{"half cylinder", cutFrom(t, rod(t, Vec{}, Vec{Z: 1}, 20, 40), block(t, -20, -20, -1, 40, 20, 50)), halfMass, math.Pi*100 + math.Pi*10*40 + 20*40,
			Vec{0, 40 / (3 * math.Pi), 20}, diag(0, 0, 0), false},
		{"equal cylinders in common", mustCombine(t, rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100), rod(t, Vec{X: -50}, Vec{X: 1}, 30, 100), intersection),
			16 * 15 * 15 * 15 / 3.0, 16 * 15 * 15, Vec{}, diag(0, 0, 0), false}, // Archimedes
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, p := range []Placement{Stay, Moved(Vec{1000, -2000, 500}), Turned(Vec{1, 2, 3}, 0.7).Then(Moved(Vec{-30, 40, 50}))} {
				m := tt.s.Placed(p).Measure()
				if !near(m.Volume, tt.volume, 1e-9, 0) || !near(m.Area, tt.area, 1e-9, 0) {
					t.Errorf("volume %.12g area %.12g, want %.12g %.12g", m.Volume, m.Area, tt.volume, tt.area)
				}
				if d := m.Centre.Dist(p.Point(tt.centre)); d > 1e-7 {
					t.Errorf("centre %v, want %v", m.Centre, p.Point(tt.centre))
				}
				if !tt.inertiaKnown {
					continue
				}
				want := turnedTensor(tt.inertia, p)
				for i := range want {
					for j := range want {
						if !near(m.Inertia[i][j], want[i][j], 1e-9, tt.inertia[0][0]) {
							t.Errorf("inertia %d %d is %.12g, want %.12g", i, j, m.Inertia[i][j], want[i][j])
						}
					}
				}
			}
		})
	}
}

func mustCombine(t *testing.T, a, b *Solid, op operation) *Solid {
	t.Helper()
	s, err := combine(a, b, op)
	return made(t, s, err)
}

// turnedTensor returns R·I·Rᵀ.
func turnedTensor(in [3][3]float64, p Placement) (out [3][3]float64) {
	r := [3][3]float64{}
	for k, c := range p.Turn {
		r[0][k], r[1][k], r[2][k] = c.X, c.Y, c.Z
	}
	for i := range out {
		for j := range out {
			for k := range in {
				for l := range in {
					out[i][j] += r[i][k] * in[k][l] * r[j][l]
				}
			}
		}
	}
	return out
}

// TestBoxUnder checks exact boxes of turned round bodies by closed forms.
func TestBoxUnder(t *testing.T) {
	s := rod(t, Vec{}, Vec{Z: 1}, 20, 40)
	angle := 0.6
	b := s.BoxUnder(Turned(Vec{Y: 1}, angle))
	want := Vec{40*math.Sin(angle) + 20*math.Cos(angle), 20, 40*math.Cos(angle) + 20*math.Sin(angle)}
	if b.Size().Sub(want).Len() > 1e-12 {
		t.Errorf("cylinder turned by %g: %v, want %v", angle, b.Size(), want)
	}
	tip := cone(t, Vec{}, Vec{Z: 1}, 2, 0, 40).BoxUnder(Turned(Vec{X: 1}, math.Pi/2))
	if math.Abs(tip.Min.Y+40) > 1e-12 || math.Abs(tip.Size().X-2) > 1e-12 {
		t.Errorf("cone laid down: %v", tip)
	}
	if g, w := s.Placed(Turned(Vec{Y: 1}, angle)).Box(), b; g.Min.Dist(w.Min) > 1e-12 || g.Max.Dist(w.Max) > 1e-12 {
		t.Errorf("box of the placed solid %v, under the placement %v", g, w)
	}
}

func TestPlacement(t *testing.T) {
	p := Turned(Vec{X: 1}, math.Pi/2).Then(Turned(Vec{Z: 1}, -math.Pi/2)).Then(Moved(Vec{1, 2, 3}))
	if got := p.Point(Vec{X: 1, Y: 2, Z: 3}); got != (Vec{-2, 1, 5}) {
		t.Errorf("quarter turns are not exact: %v", got)
	}
	if got := p.Then(p.Inverse()).Point(Vec{4, 5, 6}); got.Dist(Vec{4, 5, 6}) > 1e-12 {
		t.Errorf("there and back: %v", got)
	}
	q := TurnedAt(Vec{5, 5, 0}, Vec{Z: 1}, math.Pi)
	if got := q.Point(Vec{5, 5, 9}); got.Dist(Vec{5, 5, 9}) > 1e-12 {
		t.Errorf("a point on the axis moved to %v", got)
	}
	s := block(t, 0, 0, 0, 10, 20, 30)
	at := Vec{100, 200, 300}
	if b := s.Placed(LowestAt(s, Turned(Vec{1, 1, 0}, 0.3), at)).Box(); b.Min.Dist(at) > 1e-9 {
		t.Errorf("lowest corner came to %v, want %v", b.Min, at)
	}
}

func TestRay(t *testing.T) {
	s := build(t, Bar{Section: Tube{30, 3}, Length: 100}, Hole{Name: "a", At: []Vec2{{50, 15}}, D: 8})
	tests := []struct {
		name        string
		origin, dir Vec
		at          []float64
		faces       []string
	}{
		{"across beside the hole", Vec{20.1, -5, 15}, Vec{Y: 1}, []float64{5, 8, 32, 35}, []string{"body", "bore", "bore", "body"}},
		{"down the hole", Vec{50, 15, 40}, Vec{Z: -1}, []float64{37, 40}, []string{"bore", "body"}},
		{"along in the wall", Vec{-10, 15, 1.5}, Vec{X: 2}, []float64{5, 55}, []string{"start", "end"}},
		{"along in the bore", Vec{-10, 15, 15}, Vec{X: 1}, nil, nil},
		{"away", Vec{20.1, -5, 15}, Vec{Y: -1}, nil, nil},
		{"from within the bore", Vec{20.1, 15, 15}, Vec{Y: 1}, []float64{12, 15}, []string{"bore", "body"}},
		{"through the hole's wall", Vec{40, 15, 28.5}, Vec{X: 1}, []float64{6, 14, 60}, []string{"holes.a", "holes.a", "end"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			hits := s.Ray(tt.origin, tt.dir)
			if len(hits) != len(tt.at) {
				t.Fatalf("%d hits, want %d: %+v", len(hits), len(tt.at), hits)
			}
			for i, h := range hits {
				if math.Abs(h.T-tt.at[i]) > 1e-9 || s.Faces[h.Face].Name != tt.faces[i] || h.Unsure {
					t.Errorf("hit %d: %+v on %s, want %g on %s", i, h, s.Faces[h.Face].Name, tt.at[i], tt.faces[i])
				}
			}
		})
	}
	for _, tt := range []struct {
		p    Vec
		want Place
	}{
		{Vec{20, 15, 1}, Inside}, {Vec{20, 15, 15}, Outside}, {Vec{20, 15, 0}, OnFace}, {Vec{0, 15, 1}, OnFace}, {Vec{50, 15, 29}, Outside}, {Vec{-1, 0, 0}, Outside},
	} {
		if got := s.Where(tt.p); got != tt.want {
			t.Errorf("%v is %d, want %d", tt.p, got, tt.want)
		}
	}
}

// TestMeshTolerance checks that corners lie on the surfaces and that triangles
// stray from them no further than asked.
func TestMeshTolerance(t *testing.T) {
	s := build(t, Bar{Section: Tube{30, 3}, Length: 100}, Hole{Name: "a", At: []Vec2{{50, 18}}, D: 8, ThroughAll: true})
	exact := s.Measure().Volume
	last := math.Inf(1)
	for _, tol := range []float64{1, 0.1, 0.01, 0.001} {
		m := s.Mesh(tol)
		for i, c := range m.Triangles {
			f := s.Faces[m.Faces[i]]
			mid := m.Vertices[c[0]].Add(m.Vertices[c[1]]).Add(m.Vertices[c[2]]).Mul(1.0 / 3)
			if off := math.Abs(f.Surface.Off(mid)); off > 1.5*tol {
				t.Errorf("tolerance %g: a triangle of %s is %g off", tol, f.Name, off)
			}
			for _, v := range c {
				if off := math.Abs(f.Surface.Off(m.Vertices[v])); off > 1e-5 {
					t.Errorf("tolerance %g: a corner of %s is %g off", tol, f.Name, off)
				}
			}
		}
		off := math.Abs(m.Volume() - exact)
		if off > last {
			t.Errorf("tolerance %g: volume off by %g, more than before (%g)", tol, off, last)
		}
		last = off
	}
	if last > 1e-4*exact {
		t.Errorf("finest mesh holds %g less than the solid", last)
	}
}
