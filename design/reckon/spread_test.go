package reckon_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// Spreads of results against closed forms: each input is taken to its ends alone,
// and the effects are added as if all went wrong at once.
func TestSpreads(t *testing.T) {
	files := values(`side: {is: 10 mm ± 0.1 mm}
  square: {is: side * side}
  high: {is: 20 mm +0.3/-0.1 mm}
  sum: {is: side + high}
  gone: {is: side - side}
  inverse: {is: 1 mm^2 / side}
  far: {is: square + high * 1 mm}
  other: {is: 30 mm ± 0.3 mm}
  more: {is: 5 mm ± 0.2 mm}
  even: {is: 5 mm ± 0.01 mm}
  a: {is: 1 mm ± 0.01 mm}
  b: {is: 1 mm ± 0.01 mm}
  gap: {is: side + high + even + a + b - other - more - 1.5 mm}
  pinch: {is: "max(0 mm, -gap)"}`).With(trial.Files{
		"parts/all.yaml":  "post: {title: P, made: cut, stock: rod, length: side * 5, has: {grip: 5 N ± 1 N}}\nspindle: {title: S, made: cut, stock: threaded, length: 1 mm}\n",
		"calcs/one.yaml":  "title: One\ngiven: {f: {is: 0.30 ± 0.05, because: B}, n: {is: 100 N}}\nfind: {drag: f * n, both: drag + post.grip}\n",
		"calcs/look.yaml": "title: Look\ntables: {curve: files/curve.csv}\ngiven: {speed: {is: 150 rpm ± 10 rpm}}\nfind: {torque: curve.torque(speed), warm: \"curve.warm(150 rpm ± 10 rpm)\"}\n",
		"files/curve.csv": "speed [rpm],torque [N*m],warm [degC]\n100,2.0,20\n200,1.0,40\n300,0.5,50\n",
	})
	r := trial.Reckoning(t, files)
	cases := []struct {
		name              string
		want, minus, plus float64 // SI
		drivers           []string
	}{
		{name: "side", want: 0.010, minus: 0.0001, plus: 0.0001, drivers: []string{"side"}},
		{name: "square", want: 1e-4, minus: 1e-4 - 0.0099*0.0099, plus: 0.0101*0.0101 - 1e-4, drivers: []string{"side"}},
		{name: "sum", want: 0.030, minus: 0.0002, plus: 0.0004, drivers: []string{"high", "side"}},
		{name: "gone", want: 0, drivers: []string{"side"}},
		{name: "inverse", want: 1e-4, minus: 1e-4 - 1e-6/0.0101, plus: 1e-6/0.0099 - 1e-4, drivers: []string{"side"}},
		{name: "far", want: 1.2e-4, minus: 1e-4 - 0.0099*0.0099 + 1e-7, plus: 0.0101*0.0101 - 1e-4 + 3e-7, drivers: []string{"side", "high"}},
		// Nothing alone closes the gap of 0.5 mm, all together leave −0.23.
		{name: "pinch", want: 0, plus: 0.00023, drivers: []string{"side", "high", "other", "more", "even", "a", "b"}},
		{name: "post.length", want: 0.050, minus: 0.0005, plus: 0.0005, drivers: []string{"side"}},
		{name: "one.drag", want: 30, minus: 5, plus: 5, drivers: []string{"one.f"}},
		{name: "one.both", want: 35, minus: 6, plus: 6, drivers: []string{"one.f", "post.grip"}},
		{name: "look.torque", want: 1.5, minus: 0.1, plus: 0.1, drivers: []string{"look.speed"}},
		{name: "look.warm", want: 303.15, minus: 2, plus: 2, drivers: []string{"look.warm"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v, drivers, err := r.Drivers(c.name)
			if err != nil {
				t.Fatal(err)
			}
			for _, one := range []struct {
				what      string
				got, want float64
			}{{"value", v.SI, c.want}, {"below", v.Minus, c.minus}, {"above", v.Plus, c.plus}} {
				if math.Abs(one.got-one.want) > 1e-9*math.Max(1, math.Abs(c.want)) {
					t.Errorf("%s %.9g, want %.9g", one.what, one.got, one.want)
				}
			}
			var names []string
			for _, d := range drivers {
				names = append(names, d.Name)
			}
			if len(names) != len(c.drivers) {
				t.Fatalf("driven by %v, want %v", names, c.drivers)
			}
			for i := range names {
				if names[i] != c.drivers[i] {
					t.Errorf("driven by %v, want %v", names, c.drivers)
				}
			}
		})
	}
	trial.Clean(t, r.Findings())
}

// Spreads that would take hours to follow are not followed, and the plan is told so.
func TestHostileSpreadsEnd(t *testing.T) {
	const givens, finds = 300, 100
	var text, sum strings.Builder
	text.WriteString("title: Many\ngiven:\n")
	for i := range givens {
		fmt.Fprintf(&text, "  g%d: {is: 1 mm ± 0.1 mm}\n", i)
		if i > 0 {
			sum.WriteString(" + ")
		}
		fmt.Fprintf(&sum, "g%d", i)
	}
	text.WriteString("find:\n")
	for i := range finds {
		fmt.Fprintf(&text, "  f%d: %s\n", i, sum.String())
	}
	r := trial.Reckoning(t, trial.Files{"calcs/many.yaml": text.String()})
	for i := range finds {
		r.Show(fmt.Sprintf("many.f%d", i))
	}
	found := r.Findings()
	if len(found) == 0 {
		t.Fatal("no finding")
	}
	for _, f := range found {
		if f.Rule != "spread-not-followed" || !f.At.Known() {
			t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
		}
	}
}
