package calc_test

import (
	"fmt"
	"testing"

	"plansheaf/design/calc"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// many is a plan of n calculations: each has four inputs of its own with a spread, leans
// on another one's result, and through it on its inputs, has six results and two
// requirements, of which one is in question.
func many(tb testing.TB, n int) *plan.Plan {
	files := trial.Files{}
	for i := range n {
		turning := "8 N*m ± 4 %"
		if i%5 > 0 {
			turning = fmt.Sprintf("screw_%d.torque / 4", i-1)
		}
		files[fmt.Sprintf("calcs/screw_%d.yaml", i)] = fmt.Sprintf(`title: Screw %[1]d
given:
  turning:  {is: %[2]s}
  diameter: {is: 14 mm ± 0.2 mm}
  lead:     {is: 3 mm}
  friction: {is: 0.15 ± 0.03}
  collar:   {is: 0.05 ± 0.01}
  ring:     {is: 30 mm ± 1 mm}
find:
  angle:    atan(lead / (pi * diameter))
  rubs:     atan(friction / cos(15 deg))
  arm:      diameter / 2 * tan(angle + rubs) + collar * ring / 2
  force:    turning / arm
  efficiency: lead / (2 * pi * arm)
  torque:   force * arm * (1 + efficiency)
require:
  - {that: efficiency < 0.9}
  - {that: force > 0.97 * turning / (1.95 mm)}
`, i, turning)
	}
	return trial.Reckoning(tb, files).Plan
}

// runAll works a plan out for its own case, calculations with spread.
func runAll(p *plan.Plan) []*calc.Report {
	r := reckon.New(p, reckon.Default(p), nil)
	r.All()
	var reports []*calc.Report
	for _, c := range p.Calcs {
		reports = append(reports, calc.Run(r, c, quantity.Metric))
	}
	return reports
}

func BenchmarkCalculations(b *testing.B) {
	for _, n := range []int{250, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := many(b, n)
			b.ReportAllocs()
			for b.Loop() {
				runAll(p)
			}
		})
	}
}
